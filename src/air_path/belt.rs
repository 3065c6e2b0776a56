//! The belt of a supercharger: its ratio, its speed, its tensions, and how hard it pulls on the shaft.
//!
//! Effective pull F = P/v. A ribbed belt slips where T1/T2 = exp(μ' β) above the centrifugal part
//! m v² (Euler and Eytelwein), with the friction μ' in its grooves and the smaller angle of wrap β; a
//! toothed belt does not slip, and its slack side is kept at an eighth of the tight one (trade
//! practice). So T1 = F q/(q − 1) + m v², T2 = F/(q − 1) + m v² with q that ratio (Shigley, chapter
//! 17, from memory). The shaft feels both strands' vector sum, less the centrifugal part, which stays
//! in the belt. Steady load: no shock, no misalignment, no idler. An estimate.

use std::f64::consts::PI;

/// The way from the crank to the supercharger's shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeltDrive {
    /// Speed of the supercharger's shaft over engine speed.
    pub ratio: f64,
    /// Power at the shaft over power taken from the crank, over 0 to 1.
    pub efficiency: f64,
}

/// What grips the pulleys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BeltKind {
    /// Teeth, with the ratio of tight to slack tension that is kept.
    Toothed {
        /// Above the centrifugal part.
        tension_ratio: f64,
    },
    /// Ribs, by friction on the angle of wrap.
    Ribbed {
        /// Friction in the grooves, as it acts along the belt.
        friction: f64,
    },
}

/// A belt and its pulleys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeltPath {
    /// What grips the pulleys.
    pub kind: BeltKind,
    /// Effective diameter of the supercharger's pulley, m.
    pub pulley_diameter: f64,
    /// Turns of the driven shaft per turn of that pulley.
    pub gear_ratio: f64,
    /// Angle of wrap on the supercharger's pulley, rad.
    pub wrap_angle: f64,
    /// The smaller of the angles of wrap on both pulleys, rad.
    pub smallest_wrap: f64,
    /// Mass per length, kg/m; 0 where it is left out.
    pub mass_per_length: f64,
}

/// What a belt bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeltLoad {
    /// Speed of the belt, m/s.
    pub speed: f64,
    /// Effective pull, N.
    pub effective_pull: f64,
    /// Tension of the tight side, N.
    pub tight: f64,
    /// Smallest tension of the slack side that carries the pull, N.
    pub slack: f64,
    /// Pull on the supercharger's shaft, N.
    pub shaft_pull: f64,
}

/// Angle of wrap in rad on a pulley of diameter d beside one of diameter `other`, their centres
/// `distance` apart, m all (open belt; Shigley, eq. 17-1). `None` where the pulleys would overlap.
pub fn wrap_angle(d: f64, other: f64, distance: f64) -> Option<f64> {
    let sine = (other - d) / (2.0 * distance);
    (sine.abs() < 1.0 && distance > 0.5 * (d + other)).then(|| PI - 2.0 * sine.asin())
}

impl BeltPath {
    /// What it bears with a power in W at a speed of the driven shaft in rpm. `None` at rest.
    pub fn load(&self, power: f64, shaft_rpm: f64) -> Option<BeltLoad> {
        let speed = PI * self.pulley_diameter * shaft_rpm / self.gear_ratio / 60.0;
        if !(speed > 0.0 && power.is_finite()) {
            return None;
        }
        let ratio = match self.kind {
            BeltKind::Toothed { tension_ratio } => tension_ratio,
            BeltKind::Ribbed { friction } => (friction * self.smallest_wrap).exp(),
        };
        let pull = power / speed;
        let (tight, slack) = (pull * ratio / (ratio - 1.0), pull / (ratio - 1.0));
        let centrifugal = self.mass_per_length * speed * speed;
        let sum = tight * tight + slack * slack - 2.0 * tight * slack * self.wrap_angle.cos();
        Some(BeltLoad {
            speed,
            effective_pull: pull,
            tight: tight + centrifugal,
            slack: slack + centrifugal,
            shaft_pull: sum.max(0.0).sqrt(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const INCH: f64 = 0.0254;
    const POUND: f64 = 4.448_221_615;
    /// lbf in rad/s per rpm: power in W of 1 lbf in at 1 rpm.
    const POUND_INCH_RPM: f64 = POUND * INCH * PI / 30.0;

    /// Shigley's Mechanical Engineering Design, example 17-1 (numbers from memory, recomputed): a 6
    /// in pulley at 1750 rpm drives an 18 in one 8 ft away with 742.8 lbf in; belt of 0.393 lbf/ft.
    /// Wrap 3.0165 rad, effective pull 247.6 lbf, centrifugal part 25.6 lbf; with the friction that
    /// the book finds to be needed, 0.328: 420 and 172.4 lbf.
    #[test]
    fn tensions_of_a_textbook() {
        let wrap = wrap_angle(6.0 * INCH, 18.0 * INCH, 96.0 * INCH).unwrap();
        assert_relative_eq!(wrap, 3.0165, max_relative = 2e-5);
        let belt = BeltPath {
            kind: BeltKind::Ribbed { friction: 0.328 },
            pulley_diameter: 6.0 * INCH,
            gear_ratio: 1.0,
            wrap_angle: wrap,
            smallest_wrap: wrap,
            mass_per_length: 0.393 * 0.453_592_37 / 0.3048,
        };
        let load = belt.load(742.8 * 1750.0 * POUND_INCH_RPM, 1750.0).unwrap();
        assert_relative_eq!(load.effective_pull / POUND, 247.6, max_relative = 2e-4);
        // Half a unit of 25.6, of 0.328 as it acts on 247.6, and of 0.1.
        assert_relative_eq!(load.tight / POUND, 420.0, max_relative = 1e-3);
        assert_relative_eq!(load.slack / POUND, 172.4, max_relative = 2e-3);
    }

    /// Trade practice for timing belts (from memory): tight side 143,050 hp/(in rpm) lbf, slack side
    /// 17,881: eight to one.
    #[test]
    fn a_toothed_belt_keeps_an_eighth_on_its_slack_side() {
        let belt = BeltPath {
            kind: BeltKind::Toothed { tension_ratio: 8.0 },
            pulley_diameter: 4.0 * INCH,
            gear_ratio: 1.0,
            wrap_angle: PI,
            smallest_wrap: PI,
            mass_per_length: 0.0,
        };
        let load = belt.load(10.0 * 745.699_872, 2000.0).unwrap();
        let tight = 143_050.0 * 10.0 / (4.0 * 2000.0);
        let slack = 17_881.0 * 10.0 / (4.0 * 2000.0);
        // The trade's two differ by 125,169, 0.7 % below the pull of 126,051 by definition.
        assert_relative_eq!(load.tight / POUND, tight, max_relative = 8e-3);
        assert_relative_eq!(load.slack / POUND, slack, max_relative = 8e-3);
        // Half a turn: both strands pull the same way.
        assert_relative_eq!(
            load.shaft_pull,
            load.tight + load.slack,
            max_relative = 1e-12
        );
    }

    #[test]
    fn gears_between_pulley_and_shaft_slow_the_belt() {
        let belt = BeltPath {
            kind: BeltKind::Toothed { tension_ratio: 8.0 },
            pulley_diameter: 0.1,
            gear_ratio: 5.0,
            wrap_angle: PI,
            smallest_wrap: PI,
            mass_per_length: 0.0,
        };
        let load = belt.load(10e3, 30_000.0).unwrap();
        assert_relative_eq!(load.speed, PI * 0.1 * 100.0, max_relative = 1e-12);
        assert_eq!(belt.load(10e3, 0.0), None);
    }

    #[test]
    fn pulleys_that_overlap_have_no_wrap() {
        assert_eq!(wrap_angle(0.1, 0.2, 0.1), None);
    }
}
