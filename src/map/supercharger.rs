//! The map of a positive-displacement supercharger: volumetric and adiabatic efficiency over speed
//! and pressure ratio.
//!
//! What leaks back past the rotors depends on the pressure ratio and hardly on speed, so that the
//! slip speed N (1 - volumetric efficiency) is what is interpolated; below the slowest line it is
//! held, and the volumetric efficiency falls to 0 at the speed that just holds the ratio.

use super::across::share_changed;
use super::compressor::sane;
use super::error::{Column, MapError, Remark};
use super::ratio_lines::{Blend, EFFICIENCY_OVERSHOOT, Profile, RatioLines, RatioRow};
use super::region::Region;
use crate::numeric::dual::Dual;

/// The highest volumetric efficiency that is taken for one: tuned inlets pass a little above 1.
const MOST_VOLUMETRIC: f64 = 1.2;
/// Share of a line's range of ratio over which a slope levels out beyond its ends.
const LEVEL: f64 = 0.25;
/// Share of the end line's speed over which a slope dies away.
const FADE: f64 = 0.1;

/// One row of a supercharger map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SuperchargerRow {
    /// Speed of the shaft that the displacement counts by, rpm: actual or corrected, as the sheet.
    pub speed: f64,
    /// Pressure ratio, 1 or more.
    pub pressure_ratio: f64,
    /// Volumetric efficiency: delivered over swept volume, above 0 and at most 1.2.
    pub volumetric_efficiency: f64,
    /// Adiabatic efficiency, above 0 and at most 1.
    pub efficiency: f64,
}

/// What a supercharger map says of one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SuperchargerPoint {
    /// Volumetric efficiency, 0 to 1.2; 0 where the speed cannot hold the ratio.
    pub volumetric_efficiency: f64,
    /// Adiabatic efficiency, above 0 and at most 1.
    pub efficiency: f64,
    /// Where the point lies; of two edges crossed, the farther.
    pub region: Region,
    /// The nearer of two edges crossed; `Inside` otherwise.
    pub also: Region,
}

/// A supercharger map.
#[derive(Debug, Clone, PartialEq)]
pub struct SuperchargerMap {
    sheet: RatioLines,
    remarks: Vec<Remark>,
}

impl SuperchargerMap {
    /// Reads rows in any order; every fault is reported by row index.
    pub fn new(rows: &[SuperchargerRow]) -> Result<Self, Vec<MapError>> {
        let entry = |row: &SuperchargerRow| RatioRow {
            speed: row.speed,
            ratio: row.pressure_ratio,
            main: row.speed * (1.0 - row.volumetric_efficiency),
            efficiency: row.efficiency,
        };
        let entries: Vec<RatioRow> = rows.iter().map(entry).collect();
        let checks = |e: &RatioRow| {
            // Undone from slip, so rounding is allowed for at the upper bound.
            let volumetric = 1.0 - e.main / e.speed;
            [
                (Column::Speed, e.speed, 0.0, f64::MAX),
                (Column::PressureRatio, e.ratio, 1.0 - 1e-12, 100.0),
                (
                    Column::VolumetricEfficiency,
                    volumetric,
                    1e-12,
                    MOST_VOLUMETRIC + 1e-12,
                ),
                (Column::Efficiency, e.efficiency, 0.0, 1.0),
            ]
        };
        let mut remarks = Vec::new();
        // Slip does not vary with speed, so a row of scattered speed is carried as it stands.
        let carry = |e: RatioRow, speed: f64| RatioRow { speed, ..e };
        let sheet = RatioLines::new(&entries, checks, &mut remarks, Vec::new(), carry)?;
        Ok(Self { sheet, remarks })
    }

    /// What was done to the rows.
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// The lines, slowest first.
    pub fn lines(&self) -> &[Profile] {
        self.sheet.profiles()
    }

    /// The point at a speed, rpm, and a pressure ratio.
    pub fn at_speed_and_ratio(&self, speed: f64, pressure_ratio: f64) -> SuperchargerPoint {
        let speed = sane(speed).max(1e-6 * self.sheet.speeds().0);
        let ratio = sane(pressure_ratio).clamp(1e-3, 1e3);
        let slip = match self.sheet.blend(speed, 0.0, |line| slip(line, ratio)) {
            Blend::Between(slip) => slip,
            // Held below; the slope at the slowest line dies away at once.
            Blend::Below(slip, slope) => slip + faded(slope, speed, self.sheet.speeds().0),
            Blend::Above(slip, slope) => slip + faded(slope, speed, self.sheet.speeds().1),
        };
        let blend = self
            .sheet
            .blend(speed, EFFICIENCY_OVERSHOOT, |line| efficiency(line, ratio));
        let (region, also) = self.sheet.region(speed, ratio);
        SuperchargerPoint {
            volumetric_efficiency: (1.0 - slip / speed).clamp(0.0, MOST_VOLUMETRIC),
            efficiency: faded_share(blend, speed, self.sheet.speeds()),
            region,
            also,
        }
    }
}

/// What a slope at an end line adds at a speed beyond it.
pub(super) fn faded(slope: f64, speed: f64, end: f64) -> f64 {
    let away = speed - end;
    slope * away / (1.0 + away.abs() / (FADE * end))
}

/// An efficiency across speed, its slope beyond the end lines dying away.
pub(super) fn faded_share(blend: Blend, speed: f64, (lowest, highest): (f64, f64)) -> f64 {
    let beyond = |value: f64, slope: f64, end: f64| {
        let change = Dual::constant(faded(slope, speed, end));
        share_changed(Dual::constant(value.clamp(1e-4, 1.0)), change)
            .0
            .value
    };
    let value = match blend {
        Blend::Between(value) => value,
        Blend::Below(value, slope) => beyond(value, slope, lowest),
        Blend::Above(value, slope) => beyond(value, slope, highest),
    };
    value.clamp(1e-4, 1.0)
}

/// Slip speed of a line; beyond its ends its slope levels out.
fn slip(line: &Profile, ratio: f64) -> Dual {
    let (at, beyond) = line.main(ratio);
    levelled(at, beyond, line)
}

/// Efficiency of a line; beyond its ends its slope levels out within 0..1.
pub(super) fn efficiency(line: &Profile, ratio: f64) -> Dual {
    let (at, beyond) = line.efficiency(ratio);
    if beyond.abs() > 0.0 {
        let change = levelled(at, beyond, line) - at;
        return share_changed(Dual::constant(at.value.clamp(1e-4, 1.0)), change).0;
    }
    at
}

/// Value and slope carried beyond an end by `beyond`, levelling out.
pub(super) fn levelled(at: Dual, beyond: f64, line: &Profile) -> Dual {
    let (first, last) = line.range();
    let room = 1.0 + beyond.abs() / (LEVEL * (last - first));
    Dual::new(
        at.value + at.slope * beyond / room,
        at.slope / (room * room),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn rows() -> Vec<SuperchargerRow> {
        let mut rows = Vec::new();
        for speed in [4000.0, 6000.0, 9000.0, 12_000.0] {
            for pressure_ratio in [1.2, 1.4, 1.7, 2.0] {
                rows.push(SuperchargerRow {
                    speed,
                    pressure_ratio,
                    volumetric_efficiency: 1.0 - 1100.0 * f64::sqrt(pressure_ratio - 1.0) / speed,
                    efficiency: 0.66 - 0.1 * (pressure_ratio - 1.4) - speed * 4e-6,
                });
            }
        }
        rows
    }

    #[test]
    fn every_row_is_on_the_map() {
        let map = SuperchargerMap::new(&rows()).unwrap();
        for row in rows() {
            let point = map.at_speed_and_ratio(row.speed, row.pressure_ratio);
            let exact = row.volumetric_efficiency;
            assert_relative_eq!(point.volumetric_efficiency, exact, max_relative = 1e-12);
            assert_relative_eq!(point.efficiency, row.efficiency, max_relative = 1e-12);
            assert_eq!(point.region, Region::Inside);
        }
    }

    #[test]
    fn slip_that_does_not_vary_with_speed_is_carried_exactly() {
        let map = SuperchargerMap::new(&rows()).unwrap();
        for speed in [2000.0, 5000.0, 10_000.0, 14_000.0] {
            let exact = 1.0 - 1100.0 * 0.4_f64.sqrt() / speed;
            let point = map.at_speed_and_ratio(speed, 1.4);
            assert_relative_eq!(point.volumetric_efficiency, exact, max_relative = 1e-12);
        }
    }

    #[test]
    fn a_speed_that_cannot_hold_the_ratio_delivers_nothing_and_is_flagged() {
        let map = SuperchargerMap::new(&rows()).unwrap();
        let point = map.at_speed_and_ratio(500.0, 1.7);
        assert!(point.volumetric_efficiency.abs() < 1e-12);
        assert_eq!(point.region, Region::UnderSpeed(0.875));
        let high = map.at_speed_and_ratio(6000.0, 2.5);
        assert_eq!(high.region, Region::HighRatio(0.25));
        assert!(high.efficiency > 0.0 && high.efficiency < 1.0);
    }

    #[test]
    fn rows_that_contradict_are_named_and_percent_is_refused() {
        let mut table = rows();
        table.push(SuperchargerRow {
            efficiency: 0.5,
            ..table[3]
        });
        let errors = SuperchargerMap::new(&table).unwrap_err();
        assert_eq!(
            errors,
            [MapError::Contradiction {
                first: 3,
                second: 16
            }]
        );
        table[16].efficiency = 61.0;
        assert!(matches!(
            SuperchargerMap::new(&table).unwrap_err()[..],
            [MapError::OutOfRange {
                row: 16,
                column: Column::Efficiency,
                ..
            }]
        ));
    }
}
