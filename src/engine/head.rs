//! What holds the head down: preload from torque, and how far the gas is from lifting it.
//!
//! Torque and preload F of a stud with 60° threads (Shigley, eq. 8-26, from memory):
//! T = F d_m/2 (tan λ + μ sec 30°)/(1 − μ tan λ sec 30°) + F μ d_c/2, mean diameter
//! d_m = d − 0.6495 P, lead angle tan λ = P/(π d_m), mean diameter of the nut's face
//! d_c = 1.25 d. The joint opens where the gas force P reaches F/(1 − C) (eq. 8-30), with the share C
//! of it that the studs take; C = 0 is the cautious case. Gasket, heat and bending are left out.

use std::f64::consts::PI;

use super::spread::Spread;
use super::typical::STUD_FRICTION;

/// Mean diameter of the nut's face over the stud's diameter.
const NUT_FACE: f64 = 1.25;
/// d − d_m over the pitch, 60° threads (ISO 724).
const THREAD_DEPTH: f64 = 0.6495;
/// 1/cos 30°.
const SECANT_30: f64 = 1.154_700_538;

/// The head and what holds it down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Head {
    /// Studs per cylinder; a stud between two cylinders counts half for each.
    pub studs_per_cylinder: Option<f64>,
    /// What pulls one stud.
    pub preload: Option<Preload>,
    /// Diameter that the gasket seals, m.
    pub sealed_bore: Option<f64>,
    /// Share of the gas force that the studs take on top of their preload, 0 to below 1.
    pub stud_load_share: f64,
}

/// What pulls one stud.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Preload {
    /// As given (measured by stretch), N.
    Given(f64),
    /// From the torque on its nut.
    Torque(Tightening),
}

/// A nut tightened by torque.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tightening {
    /// Torque, N m.
    pub torque: f64,
    /// Nominal diameter of the stud, m.
    pub diameter: f64,
    /// Pitch of its thread, m.
    pub pitch: f64,
    /// Friction in the thread and under the nut: smallest and largest.
    pub friction: (f64, f64),
}

impl Tightening {
    /// A torque in N m on a stud of a diameter and pitch in m, with the usual friction.
    pub const fn usual(torque: f64, diameter: f64, pitch: f64) -> Self {
        Self {
            torque,
            diameter,
            pitch,
            friction: STUD_FRICTION,
        }
    }

    /// Preload in N at one friction.
    pub fn preload_at(&self, friction: f64) -> f64 {
        let d = self.diameter;
        let d_m = d - THREAD_DEPTH * self.pitch;
        let tan_lead = self.pitch / (PI * d_m);
        let thread =
            0.5 * d_m * (tan_lead + friction * SECANT_30) / (1.0 - friction * tan_lead * SECANT_30);
        self.torque / (thread + 0.5 * NUT_FACE * d * friction)
    }
}

impl Preload {
    /// Pull of one stud, N.
    pub fn force(&self) -> Spread {
        match self {
            Self::Given(force) => Spread {
                low: *force,
                high: *force,
            },
            Self::Torque(nut) => Spread {
                low: nut.preload_at(nut.friction.1),
                high: nut.preload_at(nut.friction.0),
            },
        }
    }
}

impl Head {
    /// Clamp at one cylinder, N.
    pub fn clamp(&self) -> Option<Spread> {
        let (count, force) = (self.studs_per_cylinder?, self.preload?.force());
        Some(Spread {
            low: count * force.low,
            high: count * force.high,
        })
    }
}

/// Factor against opening: the gas force over which the joint opens, by the gas force. N both; `c`
/// is the share of it that the studs take.
pub fn separation_factor(clamp: f64, gas: f64, c: f64) -> f64 {
    clamp / (gas * (1.0 - c))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const INCH: f64 = 0.0254;
    const POUND: f64 = 4.448_221_615;

    /// Shigley's Mechanical Engineering Design, example 8-3 (numbers from memory, recomputed): 3/4
    /// in-16 UNF, preload 25 kip, friction 0.15: 3551 lbf in. The book takes the thread's mean
    /// diameter as 0.709 in.
    #[test]
    fn torque_and_preload_of_a_textbook() {
        let nut = Tightening::usual(3551.0 * POUND * INCH, 0.75 * INCH, INCH / 16.0);
        assert_relative_eq!(nut.preload_at(0.15) / POUND, 25e3, max_relative = 1e-3);
        // K = T/(F d) = 0.2 of the same example's first answer, 3750 lbf in, is the coarser rule.
        let k = nut.torque / (25e3 * POUND * nut.diameter);
        assert_relative_eq!(k, 0.189, max_relative = 3e-3);
    }

    /// The same book, example 8-4 (from memory, recomputed): 14.4 kip in each of six bolts, 36 kip
    /// to hold, C = 0.368: 3.80.
    #[test]
    fn the_factor_against_separation_of_a_textbook() {
        let factor = separation_factor(6.0 * 14.4e3, 36e3, 0.368);
        assert_relative_eq!(factor, 3.80, max_relative = 1e-3);
    }

    #[test]
    fn unknown_friction_spreads_the_preload_by_more_than_half() {
        let pull = Preload::Torque(Tightening::usual(120.0, 12e-3, 1.75e-3)).force();
        assert!(pull.low < pull.high);
        let ratio = pull.high / pull.low;
        assert!((1.35..1.6).contains(&ratio), "{ratio}");
        let head = Head {
            studs_per_cylinder: Some(4.0),
            preload: Some(Preload::Given(75e3)),
            sealed_bore: None,
            stud_load_share: 0.0,
        };
        let clamp = head.clamp().unwrap();
        assert_relative_eq!(clamp.low, 300e3);
        assert_relative_eq!(clamp.high, 300e3);
    }
}
