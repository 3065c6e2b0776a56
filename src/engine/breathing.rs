//! What the engine swallows.
//!
//! Swept flow = displacement × rev/s ÷ (strokes/2); air mass flow (moist) = volumetric efficiency
//! × manifold density × swept flow. The volumetric efficiency is known at exhaust pressure =
//! manifold pressure; elsewhere residual gas of another pressure takes or leaves room (ideal cycle,
//! Heywood 1988, eq. 6.2): VE = VE0 (1 − (p_exhaust/p_manifold − 1)/(γ (r − 1))). The formula knows
//! no valve overlap. A two-stroke's figure is its delivery ratio and takes no correction.

use super::Engine;
use super::kinds::Strokes;

/// γ of the residual gas in the correction.
const RESIDUAL_GAMMA: f64 = 1.35;

impl Engine {
    /// Working cycles per second at an engine speed in rpm.
    pub fn cycles_per_second(&self, rpm: f64) -> f64 {
        match self.strokes {
            Strokes::Two => rpm / 60.0,
            Strokes::Four => rpm / 120.0,
        }
    }

    /// Swept flow, m³/s, at an engine speed in rpm.
    pub fn swept_flow(&self, rpm: f64) -> f64 {
        self.displacement * self.cycles_per_second(rpm)
    }

    /// Volumetric efficiency at an engine speed in rpm and a ratio of exhaust pressure to manifold
    /// pressure; without a known exhaust pressure as given. May fall to 0 or below where the
    /// exhaust leaves no room.
    pub fn volumetric_efficiency_at(&self, rpm: f64, exhaust_pressure_ratio: Option<f64>) -> f64 {
        let given = self.volumetric_efficiency.at(rpm);
        match (exhaust_pressure_ratio, self.compression_ratio, self.strokes) {
            (Some(ratio), Some(r), Strokes::Four) => {
                let correction = |ratio: f64| 1.0 - (ratio - 1.0) / (RESIDUAL_GAMMA * (r - 1.0));
                given / correction(self.measured_at_exhaust_pressure_ratio) * correction(ratio)
            }
            _ => given,
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::super::{Friction, SpeedRange};
    use super::*;
    use crate::numeric::Schedule;
    use approx::assert_relative_eq;

    pub(crate) fn engine(displacement: f64, strokes: Strokes, ve: f64) -> Engine {
        Engine {
            kind: None,
            displacement,
            cylinders: Some(4),
            bore: None,
            stroke: None,
            strokes,
            compression_ratio: Some(15.0),
            volumetric_efficiency: Schedule::constant(ve),
            measured_at_exhaust_pressure_ratio: 1.0,
            speeds: SpeedRange {
                from: 1000.0,
                to: 2000.0,
                step: 500.0,
            },
            combustion: None,
            friction: Friction::CHEN_FLYNN,
            head: None,
        }
    }

    /// By hand: 5.6 L two-stroke at 1900 rpm sweeps 5.6e-3 × 1900/60 = 0.177333 m³/s; with a
    /// delivery ratio of 1.30 and 1.10 kg/m³ that is 0.253587 kg/s. Counted as a four-stroke it
    /// would be half.
    #[test]
    fn a_two_stroke_sweeps_every_revolution() {
        let engine = engine(5.6e-3, Strokes::Two, 1.30);
        assert_relative_eq!(engine.swept_flow(1900.0), 0.177_333, max_relative = 3e-6);
        let flow =
            engine.volumetric_efficiency_at(1900.0, Some(0.8)) * 1.10 * engine.swept_flow(1900.0);
        assert_relative_eq!(flow, 0.253_587, max_relative = 3e-6);
    }

    /// By hand: 373 in³ at 2600 rpm, four-stroke: 6.112375e-3 × 2600/120 = 0.132435 m³/s.
    #[test]
    fn a_four_stroke_sweeps_every_other_revolution() {
        let engine = engine(6.112_375e-3, Strokes::Four, 0.9);
        assert_relative_eq!(engine.swept_flow(2600.0), 0.132_435, max_relative = 4e-6);
    }

    #[test]
    fn back_pressure_takes_room_and_a_lower_one_gives_it() {
        let engine = engine(4e-3, Strokes::Four, 0.9);
        // 1 − 0.5/(1.35 × 14) by hand.
        assert_relative_eq!(
            engine.volumetric_efficiency_at(2000.0, Some(1.5)),
            0.9 * 0.973_545,
            max_relative = 1e-6
        );
        assert!(engine.volumetric_efficiency_at(2000.0, Some(0.7)) > 0.9);
        assert_relative_eq!(engine.volumetric_efficiency_at(2000.0, None), 0.9);
    }

    #[test]
    fn a_figure_measured_under_back_pressure_is_met_again_there() {
        let engine = Engine {
            measured_at_exhaust_pressure_ratio: 1.3,
            ..engine(4e-3, Strokes::Four, 0.85)
        };
        assert_relative_eq!(
            engine.volumetric_efficiency_at(2000.0, Some(1.3)),
            0.85,
            max_relative = 1e-12
        );
    }
}
