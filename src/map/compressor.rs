//! A compressor map: rows in, any two of flow, ratio, speed and place give the rest.

use super::corrected::{CorrectedFlow, CorrectedSpeed, Reference};
use super::error::{Column, MapError, Remark};
use super::grouping::{self, Group};
use super::head;
use super::line::{Line, Point, common_knee};
use super::lookup::{FoundPlace, HeadFound};
use super::order;
use super::region::{EDGE, Region};
use super::surface::{Surface, SurfacePoint};
use super::surge_line::SurgeLine;

/// Points that a speed line needs.
pub const POINTS_PER_LINE: usize = 3;
/// No single stage comes near this pressure ratio; a row above it has its columns mixed up.
const LARGEST_RATIO: f64 = 100.0;

/// Places further out than this are taken as this.
const FARTHEST: f64 = 1e6;

/// One row of a compressor map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CompressorRow {
    /// Corrected speed, rpm.
    pub speed: f64,
    /// Corrected flow, kg/s.
    pub flow: f64,
    /// Pressure ratio, total to total; above 1.
    pub pressure_ratio: f64,
    /// Isentropic efficiency, above 0 and at most 1.
    pub efficiency: f64,
}

/// Everything a map says of one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MapPoint {
    /// Corrected speed.
    pub speed: CorrectedSpeed,
    /// Corrected flow.
    pub flow: CorrectedFlow,
    /// Pressure ratio.
    pub pressure_ratio: f64,
    /// Isentropic efficiency; 0 where the ratio is 1 or less (beyond the data): use `work` there.
    pub efficiency: f64,
    /// Enthalpy rise at the reference inlet temperature, J/kg: isentropic rise over efficiency.
    pub work: f64,
    /// Running coordinate: 0 at surge, 1 at choke, below and above beyond them.
    pub place: f64,
    /// Where the point lies; of two edges crossed, the farther.
    pub region: Region,
    /// The nearer of two edges crossed; `Inside` otherwise.
    pub also: Region,
    /// The second flow at this ratio, on the surge side of a line that turns over. Only a lookup by
    /// speed and ratio asks for it.
    pub other_flow: Option<CorrectedFlow>,
}

/// A compressor map as a smooth surface; see the folder's text.
#[derive(Debug, Clone, PartialEq)]
pub struct CompressorMap {
    reference: Reference,
    pub(super) surface: Surface,
    pub(super) surge_line: Option<SurgeLine>,
    remarks: Vec<Remark>,
    /// What its owner says that it is; carried along unread.
    origin: Option<String>,
    /// cp T_ref, J/kg.
    scale: f64,
}

impl CompressorMap {
    /// Reads rows in any order into speed lines.
    ///
    /// Every fault of the rows is reported, by row index. Exact repeats are dropped, scattered speeds
    /// grouped and scattered choke flows evened: see [`Self::remarks`].
    pub fn new(reference: Reference, rows: &[CompressorRow]) -> Result<Self, Vec<MapError>> {
        let mut errors = faults(reference, rows);
        if !errors.is_empty() {
            return Err(errors);
        }
        let mut remarks = Vec::new();
        let keyed: Vec<_> = rows
            .iter()
            .enumerate()
            .map(|(i, r)| (i, [r.speed, r.flow, r.pressure_ratio], [r.efficiency]))
            .collect();
        let kept = grouping::without_repeats(&keyed, &mut remarks, &mut errors);
        let speeds: Vec<_> = kept.iter().map(|&row| (row, rows[row].speed)).collect();
        let (mut line_speeds, mut runs) = (Vec::new(), Vec::new());
        for group in grouping::by_speed(&speeds, POINTS_PER_LINE) {
            match in_order(rows, &group, &mut remarks) {
                Ok(points) => {
                    line_speeds.push(group.speed);
                    runs.push(points);
                }
                Err(error) => errors.push(error),
            }
        }
        let knee = common_knee(&runs);
        let line = |(speed, points)| Line::new(speed, points, knee);
        let lines: Vec<Line> = line_speeds.into_iter().zip(runs).map(line).collect();
        if errors.is_empty() {
            errors.extend(super::crossing::find(&lines));
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let scale = head::scale(reference.temperature);
        Ok(Self {
            reference,
            surface: Surface::new(lines),
            surge_line: None,
            remarks,
            origin: None,
            scale,
        })
    }

    /// The state that flow and speed are corrected to.
    pub fn reference(&self) -> Reference {
        self.reference
    }

    /// The same map with what its owner says that it is: measured, digitised, invented.
    #[must_use]
    pub fn with_origin(mut self, origin: Option<String>) -> Self {
        self.origin = origin;
        self
    }

    /// What its owner says that it is, where that is said.
    pub fn origin(&self) -> Option<&str> {
        self.origin.as_deref()
    }

    /// The speed lines, slowest first.
    pub fn lines(&self) -> &[Line] {
        self.surface.lines()
    }

    /// Lowest and highest speed of the data.
    pub fn speeds(&self) -> (CorrectedSpeed, CorrectedSpeed) {
        let (lowest, highest) = self.surface.speeds();
        (CorrectedSpeed(lowest), CorrectedSpeed(highest))
    }

    /// What was done to the rows.
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// The point at a speed and a running coordinate (0 surge, 1 choke, any value).
    ///
    /// Flow rises with place, but for an upright choke end; everything is smooth in both.
    pub fn at_speed_and_place(&self, speed: CorrectedSpeed, place: f64) -> MapPoint {
        let place = if place.is_nan() {
            0.0
        } else {
            place.clamp(-FARTHEST, FARTHEST)
        };
        self.point(sane(speed.0), place, None)
    }

    /// The point at a speed and flow. On an upright choke end the highest ratio is the answer.
    pub fn at_speed_and_flow(&self, speed: CorrectedSpeed, flow: CorrectedFlow) -> MapPoint {
        let speed = self.surface.nonzero_speed(sane(speed.0));
        let landing = self.surface.place_at_flow(speed, self.passing(flow));
        self.landed(landing, None)
    }

    /// The point at a speed and pressure ratio, on the choke side of a line that turns over.
    ///
    /// Where the line does not reach the ratio, the point is the line's highest and its region is
    /// beyond surge, by the missing share of the ratio.
    pub fn at_speed_and_ratio(&self, speed: CorrectedSpeed, pressure_ratio: f64) -> MapPoint {
        let speed = self.surface.nonzero_speed(sane(speed.0));
        let wanted = sane_ratio(pressure_ratio);
        let head = head::from_ratio(wanted);
        match self.surface.place_at_head(speed, head) {
            HeadFound::At(landing) => {
                let other = self.surface.other_place(speed, head, landing.place);
                let other_flow = other.map(|at| CorrectedFlow(self.surface.flow(speed, at).value));
                self.landed(landing, other_flow)
            }
            HeadFound::Peak(place) => {
                let peak = self.point(speed, place, None);
                let missing = Region::BeyondSurge(1.0 - peak.pressure_ratio / wanted);
                let (region, also) = Region::sorted(peak.region, missing);
                MapPoint {
                    region,
                    also,
                    ..peak
                }
            }
        }
    }

    /// The point at a flow and pressure ratio.
    ///
    /// A ratio below what the machine at rest lets through gives the machine at rest.
    pub fn at_flow_and_ratio(&self, flow: CorrectedFlow, pressure_ratio: f64) -> MapPoint {
        let head = head::from_ratio(sane_ratio(pressure_ratio));
        let landing = self.surface.speed_and_place(self.passing(flow), head);
        self.landed(landing, None)
    }

    /// A flow that the searches may divide by.
    fn passing(&self, flow: CorrectedFlow) -> f64 {
        let smallest = self.lines()[0].points()[0].flow;
        sane(flow.0).max(1e-9 * smallest)
    }

    pub(super) fn point(
        &self,
        speed: f64,
        place: f64,
        other_flow: Option<CorrectedFlow>,
    ) -> MapPoint {
        self.described(speed, place, self.surface.at(speed, place), other_flow)
    }

    /// The point of a landing.
    fn landed(&self, landing: FoundPlace, other_flow: Option<CorrectedFlow>) -> MapPoint {
        let FoundPlace { speed, place, spot } = landing;
        match spot {
            Some(spot) => self.described(speed, place, spot, other_flow),
            None => self.point(speed, place, other_flow),
        }
    }

    fn described(
        &self,
        speed: f64,
        place: f64,
        spot: SurfacePoint,
        other_flow: Option<CorrectedFlow>,
    ) -> MapPoint {
        let along = if place < -EDGE {
            let surge = self.surface.flow(speed, 0.0).value;
            Region::BeyondSurge(1.0 - share(spot.flow, surge))
        } else if place > 1.0 + EDGE {
            let choke = self.surface.flow(speed, 1.0).value;
            Region::BeyondChoke(share(spot.flow, choke) - 1.0)
        } else {
            Region::Inside
        };
        let across = Region::of_speed(speed, self.surface.speeds());
        let (region, also) = Region::sorted(across, along);
        MapPoint {
            speed: CorrectedSpeed(speed),
            flow: CorrectedFlow(spot.flow),
            pressure_ratio: head::to_ratio(spot.head),
            efficiency: spot.efficiency,
            work: spot.work * self.scale,
            place,
            region,
            also,
            other_flow,
        }
    }
}

/// a/b, and 1 where both vanish (a machine at rest).
fn share(a: f64, b: f64) -> f64 {
    if b > 0.0 { a / b } else { 1.0 }
}

/// A finite number that is not negative; what is none counts as 0.
pub(super) fn sane(value: f64) -> f64 {
    if value.is_nan() {
        0.0
    } else {
        value.clamp(0.0, 1e12)
    }
}

/// A pressure ratio that has a head; what is none counts as 1.
fn sane_ratio(pressure_ratio: f64) -> f64 {
    if pressure_ratio.is_nan() {
        1.0
    } else {
        pressure_ratio.clamp(1e-3, 1e3)
    }
}

/// Faults that single rows have.
fn faults(reference: Reference, rows: &[CompressorRow]) -> Vec<MapError> {
    let mut errors: Vec<MapError> = reference.fault().into_iter().collect();
    if rows.is_empty() {
        errors.push(MapError::NoRows);
    }
    for (row, r) in rows.iter().enumerate() {
        let checks = [
            (Column::Speed, r.speed, 0.0, f64::MAX),
            (Column::Flow, r.flow, 0.0, f64::MAX),
            (Column::PressureRatio, r.pressure_ratio, 1.0, LARGEST_RATIO),
            (Column::Efficiency, r.efficiency, 0.0, 1.0),
        ];
        errors.extend(
            checks
                .into_iter()
                .filter_map(|check| MapError::of_value(row, check)),
        );
    }
    errors
}

/// One group of rows as points in running order, carried to its speed by similarity.
fn in_order(
    rows: &[CompressorRow],
    group: &Group,
    remarks: &mut Vec<Remark>,
) -> Result<Vec<Point>, MapError> {
    let speed = group.speed;
    if group.rows.len() < POINTS_PER_LINE {
        let rows = group.rows.clone();
        return Err(MapError::TooFewPoints {
            speed,
            rows,
            needed: POINTS_PER_LINE,
        });
    }
    let mut points: Vec<Point> = group
        .rows
        .iter()
        .map(|&row| carried(&rows[row], row, speed))
        .collect();
    let evened = order::run(speed, &mut points)?;
    remarks.extend(group.remark(points.iter().map(|p| p.row).collect()));
    remarks.extend(evened);
    Ok(points)
}

/// A row as a point at the speed of its line: flow with speed, head with its square.
fn carried(row: &CompressorRow, index: usize, speed: f64) -> Point {
    let ratio = speed / row.speed;
    let head = head::from_ratio(row.pressure_ratio);
    let is_own = (ratio - 1.0).abs() < f64::EPSILON;
    let carried_head = head * ratio * ratio;
    Point {
        flow: row.flow * ratio,
        pressure_ratio: if is_own {
            row.pressure_ratio
        } else {
            head::to_ratio(carried_head)
        },
        head: carried_head,
        efficiency: row.efficiency,
        row: index,
    }
}
