//! The map of a turbine: corrected flow and efficiency over corrected speed and expansion ratio.
//!
//! Below its first ratio a line goes on as an isentropic nozzle (flow 0 at ratio 1), joined with its
//! slope; past its last the flow levels out, and stays as it is where the line is choked. Below the
//! slowest line the efficiency falls to 0 with speed along a parabola, joined with its slope, as work
//! over a blade that does not move is none.

use super::compressor::sane;
use super::corrected::{CorrectedFlow, CorrectedSpeed, Reference};
use super::error::{Column, MapError, Remark};
use super::ratio_lines::{Blend, EFFICIENCY_OVERSHOOT, Profile, RatioLines, RatioRow};
use super::region::Region;
use super::supercharger::{efficiency, faded, faded_share, levelled};
use crate::numeric::dual::Dual;

/// Ratio of heat capacities of combustion products in the nozzle form below a line's first ratio.
const GAMMA: f64 = 1.33;

/// One row of a turbine map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurbineRow {
    /// Corrected speed, rpm.
    pub speed: f64,
    /// Expansion ratio, inlet over outlet pressure; above 1.
    pub expansion_ratio: f64,
    /// Corrected flow, kg/s.
    pub flow: f64,
    /// Efficiency, above 0 and at most 1.
    pub efficiency: f64,
}

/// What a turbine map says of one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurbinePoint {
    /// Corrected flow; 0 at expansion ratio 1.
    pub flow: CorrectedFlow,
    /// Efficiency, 0 at rest and at most 1.
    pub efficiency: f64,
    /// Where the point lies; of two edges crossed, the farther.
    pub region: Region,
    /// The nearer of two edges crossed; `Inside` otherwise.
    pub also: Region,
}

/// A turbine map.
#[derive(Debug, Clone, PartialEq)]
pub struct TurbineMap {
    reference: Reference,
    sheet: RatioLines,
    remarks: Vec<Remark>,
}

impl TurbineMap {
    /// Reads rows in any order; every fault is reported by row index.
    pub fn new(reference: Reference, rows: &[TurbineRow]) -> Result<Self, Vec<MapError>> {
        let entry = |row: &TurbineRow| RatioRow {
            speed: row.speed,
            ratio: row.expansion_ratio,
            main: row.flow,
            efficiency: row.efficiency,
        };
        let entries: Vec<RatioRow> = rows.iter().map(entry).collect();
        let checks = |e: &RatioRow| {
            [
                (Column::Speed, e.speed, 0.0, f64::MAX),
                (Column::ExpansionRatio, e.ratio, 1.0, 100.0),
                (Column::Flow, e.main, 0.0, f64::MAX),
                (Column::Efficiency, e.efficiency, 0.0, 1.0),
            ]
        };
        let mut remarks = Vec::new();
        let errors = reference.fault().into_iter().collect();
        // Flow hardly varies with speed at equal ratio: a row is carried as it stands.
        let carry = |e: RatioRow, speed: f64| RatioRow { speed, ..e };
        let sheet = RatioLines::new(&entries, checks, &mut remarks, errors, carry)?;
        Ok(Self {
            reference,
            sheet,
            remarks,
        })
    }

    /// The state that flow and speed are corrected to.
    pub fn reference(&self) -> Reference {
        self.reference
    }

    /// What was done to the rows.
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// The lines, slowest first.
    pub fn lines(&self) -> &[Profile] {
        self.sheet.profiles()
    }

    /// The point at a speed and an expansion ratio.
    pub fn at_speed_and_ratio(&self, speed: CorrectedSpeed, expansion_ratio: f64) -> TurbinePoint {
        let speed = sane(speed.0);
        let ratio = sane(expansion_ratio).min(1e3);
        let speeds = self.sheet.speeds();
        let flow = match self.sheet.blend(speed, 0.0, |line| flow(line, ratio)) {
            Blend::Between(flow) => flow,
            Blend::Below(flow, slope) => flow + faded(slope, speed, speeds.0),
            Blend::Above(flow, slope) => flow + faded(slope, speed, speeds.1),
        };
        let blend = self
            .sheet
            .blend(speed, EFFICIENCY_OVERSHOOT, |line| efficiency(line, ratio));
        let efficiency = match blend {
            Blend::Below(value, slope) => towards_rest(value, slope, speed / speeds.0, speeds.0),
            // One line alone, its efficiency held above.
            Blend::Between(value) if speed < speeds.0 => {
                towards_rest(value, 0.0, speed / speeds.0, speeds.0)
            }
            other => faded_share(other, speed, speeds),
        };
        let (region, also) = self.sheet.region(speed, ratio);
        TurbinePoint {
            flow: CorrectedFlow(flow.max(0.0)),
            efficiency,
            region,
            also,
        }
    }
}

/// Efficiency at a share `x` of the slowest line's speed: a parabola through 0, joined with `slope`.
fn towards_rest(value: f64, slope: f64, x: f64, slowest: f64) -> f64 {
    // Relative slope; between 0 and 1 the parabola neither dips below 0 nor rises above its end.
    let relative = (slope * slowest / value.max(1e-4)).clamp(0.0, 1.0);
    (value * (x * (2.0 - relative) - x * x * (1.0 - relative))).clamp(0.0, 1.0)
}

/// Flow of a line; see the module's text.
fn flow(line: &Profile, ratio: f64) -> Dual {
    let (at, beyond) = line.main(ratio);
    if beyond >= 0.0 {
        let on = levelled(at, beyond, line);
        // A line that falls at its end is held there: a choked flow does not fall.
        return if beyond > 0.0 && at.slope < 0.0 {
            Dual::constant(at.value)
        } else {
            on
        };
    }
    let (first, _) = line.range();
    if ratio <= 1.0 {
        return Dual::constant(0.0);
    }
    let (here, end) = (nozzle(ratio), nozzle(first));
    // The line's effective area goes on with its relative slope, levelling out towards ratio 1.
    let relative = at.slope / at.value - end.slope / end.value;
    let room = 1.0 - beyond / (0.25 * (first - 1.0));
    let area = Dual::new(relative * beyond / room, relative / (room * room)).exp();
    here * area * (at.value / end.value)
}

/// Flow through an isentropic nozzle but for a constant factor, and its slope by expansion ratio.
///
/// Shapiro, *Compressible Fluid Flow* (1953), chapter 4; from memory. Choked above the critical ratio.
fn nozzle(ratio: f64) -> Dual {
    let critical = f64::midpoint(GAMMA, 1.0).powf(GAMMA / (GAMMA - 1.0));
    let p = 1.0 / ratio.min(critical);
    let (a, b) = (2.0 / GAMMA, (GAMMA + 1.0) / GAMMA);
    let value = (p.powf(a) - p.powf(b)).sqrt();
    if ratio >= critical {
        return Dual::constant(value);
    }
    let by_p = 0.5 * (a * p.powf(a - 1.0) - b * p.powf(b - 1.0)) / value;
    Dual::new(value, -by_p * p * p)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const REFERENCE: Reference = Reference {
        temperature: 288.15,
        pressure: 101_325.0,
    };

    fn rows() -> Vec<TurbineRow> {
        let mut rows = Vec::new();
        for speed in [40e3, 60e3, 80e3] {
            for expansion_ratio in [1.3, 1.6, 2.0, 2.6] {
                rows.push(TurbineRow {
                    speed,
                    expansion_ratio,
                    flow: nozzle(expansion_ratio).value * (1.0 - speed * 1e-6),
                    efficiency: 0.5 + speed * 2e-6 - 0.02 * expansion_ratio,
                });
            }
        }
        rows
    }

    #[test]
    fn every_row_is_on_the_map() {
        let map = TurbineMap::new(REFERENCE, &rows()).unwrap();
        for row in rows() {
            let point = map.at_speed_and_ratio(CorrectedSpeed(row.speed), row.expansion_ratio);
            assert_relative_eq!(point.flow.0, row.flow, max_relative = 1e-12);
            assert_relative_eq!(point.efficiency, row.efficiency, max_relative = 1e-12);
            assert_eq!(point.region, Region::Inside);
        }
    }

    /// A turbine that is one nozzle for exhaust (γ 1.33) stays it below its first row: ψ² ∝ x^(2/γ) − x^((γ+1)/γ)
    /// with x one over the ratio (Shapiro 1953, chapter 4), written out here. The slope at the first row
    /// comes from the curve through the rows, for which 0.2 % is left; a γ of 1.4 would be off by 0.5 % at 1.05.
    #[test]
    fn below_its_first_ratio_a_nozzle_stays_a_nozzle() {
        let psi = |ratio: f64| (ratio.powf(-2.0 / 1.33) - ratio.powf(-2.33 / 1.33)).sqrt();
        let row = |expansion_ratio| TurbineRow {
            speed: 60e3,
            expansion_ratio,
            flow: psi(expansion_ratio),
            efficiency: 0.7,
        };
        let rows = [1.3, 1.32, 1.35, 1.4, 1.5, 1.7].map(row);
        let map = TurbineMap::new(REFERENCE, &rows).unwrap();
        for ratio in [1.05, 1.1, 1.2] {
            let found = map.at_speed_and_ratio(CorrectedSpeed(60e3), ratio).flow.0;
            assert_relative_eq!(found, psi(ratio), max_relative = 2e-3);
        }
    }

    #[test]
    fn flow_falls_to_nothing_at_ratio_one_and_keeps_level_past_choking() {
        let map = TurbineMap::new(REFERENCE, &rows()).unwrap();
        let at = |ratio| map.at_speed_and_ratio(CorrectedSpeed(60e3), ratio);
        assert!(at(1.0).flow.0.abs() < 1e-15 && at(0.9).flow.0.abs() < 1e-15);
        let flows = [1.0, 1.05, 1.2, 1.3, 1.8, 2.6].map(|ratio| at(ratio).flow.0);
        assert!(
            flows
                .windows(2)
                .all(|w| w[0] < w[1] || w[1] > 0.99 * flows[5]),
            "{flows:?}"
        );
        assert_relative_eq!(at(5.0).flow.0, at(2.6).flow.0, max_relative = 1e-12);
        assert!(matches!(at(1.2).region, Region::LowRatio(_)));
        assert!(matches!(at(5.0).region, Region::HighRatio(_)));
    }

    #[test]
    fn a_wheel_at_rest_has_no_efficiency_and_the_parabola_joins_with_its_slope() {
        let map = TurbineMap::new(REFERENCE, &rows()).unwrap();
        let at = |speed| {
            map.at_speed_and_ratio(CorrectedSpeed(speed), 1.6)
                .efficiency
        };
        assert!(at(0.0).abs() < 1e-15);
        let (below, here, above) = (at(40e3 - 1.0), at(40e3), at(40e3 + 1.0));
        // A second difference of 1 rpm: curvature leaves less than 1e-8.
        assert!(((above - here) - (here - below)).abs() < 1e-8);
    }
}
