//! Cylinder pressure, friction and what is left at the crank.

use super::Engine;
use super::friction::Friction;
use super::kinds::EngineKind;
use super::typical::{COMPRESSION_EXPONENTS, TypicalEngine};

/// Power at the crank and what it is made of: brake = gross indicated + pumping − friction − drives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrankPower {
    /// Work of the compression and expansion strokes, W.
    pub gross_indicated: f64,
    /// Work of the gas exchange, W, positive when it helps the crank.
    pub pumping: f64,
    /// Friction, W.
    pub friction: f64,
    /// What drives the superchargers, W.
    pub drives: f64,
    /// Brake power, W.
    pub brake: f64,
    /// Brake torque, N m.
    pub torque: f64,
}

impl Engine {
    /// The typical values of its kind; a diesel where the kind is not known.
    pub fn typical(&self) -> &'static TypicalEngine {
        self.kind.unwrap_or(EngineKind::Diesel).typical()
    }

    /// Whether a spark lights the charge.
    pub fn is_spark_ignition(&self) -> bool {
        self.kind == Some(EngineKind::SparkIgnition)
    }

    /// Mean effective pressure in Pa of a power in W at an engine speed in rpm: the power over the
    /// swept flow (Heywood 1988, eq. 2.19).
    pub fn mean_effective_pressure(&self, power: f64, rpm: f64) -> f64 {
        power / self.swept_flow(rpm)
    }

    /// Peak cylinder pressure in Pa: compression by a polytrope from the absolute manifold pressure
    /// in Pa, times the pressure-rise ratio. `None` where the build does not give both ratios.
    pub fn peak_cylinder_pressure(&self, manifold_pressure: f64, rpm: f64) -> Option<f64> {
        let rise = self
            .combustion
            .as_ref()?
            .pressure_rise_ratio
            .as_ref()?
            .at(rpm);
        self.compression_pressure(manifold_pressure)
            .map(|pressure| pressure * rise)
    }

    /// Cylinder pressure at the end of compression, Pa.
    fn compression_pressure(&self, manifold_pressure: f64) -> Option<f64> {
        Some(manifold_pressure * self.compression_ratio?.powf(COMPRESSION_EXPONENTS[1]))
    }

    /// Mean piston speed in m/s at an engine speed in rpm; `None` where the stroke is unknown.
    pub fn mean_piston_speed(&self, rpm: f64) -> Option<f64> {
        Some(2.0 * self.stroke? * rpm / 60.0)
    }

    /// Friction mean effective pressure, Pa: constant + share × peak + linear × u + quadratic × u²
    /// (Chen and Flynn, SAE 650733, from memory). `None` where it hangs on an unknown piston speed.
    pub fn friction_pressure(&self, manifold_pressure: f64, rpm: f64) -> Option<f64> {
        let Friction {
            constant,
            peak_pressure_share,
            linear,
            quadratic,
        } = self.friction;
        let by_speed = match self.mean_piston_speed(rpm) {
            Some(u) => linear * u + quadratic * u * u,
            None if linear.abs() + quadratic.abs() > 0.0 => return None,
            None => 0.0,
        };
        let peak = self
            .peak_cylinder_pressure(manifold_pressure, rpm)
            .or_else(|| {
                self.compression_pressure(manifold_pressure)
                    .map(|p| p * self.typical().pressure_rise_ratio)
            });
        Some(constant + peak_pressure_share * peak.unwrap_or(0.0) + by_speed)
    }

    /// Power at the crank from the gross indicated and pumping power and what drives the
    /// superchargers, W. `None` where the friction is unknown.
    pub fn crank_power(
        &self,
        gross_indicated: f64,
        pumping: f64,
        drives: f64,
        manifold_pressure: f64,
        rpm: f64,
    ) -> Option<CrankPower> {
        let friction = self.friction_pressure(manifold_pressure, rpm)? * self.swept_flow(rpm);
        let brake = gross_indicated + pumping - friction - drives;
        let torque = brake / (2.0 * std::f64::consts::PI * rpm / 60.0);
        Some(CrankPower {
            gross_indicated,
            pumping,
            friction,
            drives,
            brake,
            torque,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::breathing::tests::engine;
    use super::super::{Combustion, Strokes};
    use super::*;
    use crate::numeric::Schedule;
    use approx::assert_relative_eq;

    #[test]
    fn chen_and_flynn_by_hand() {
        let mut engine = engine(4.5e-3, Strokes::Four, 0.9);
        engine.stroke = Some(0.118);
        engine.combustion = Some(Combustion {
            gross_indicated_efficiency: Schedule::constant(0.43),
            heat_loss_share: Schedule::constant(0.19),
            pressure_rise_ratio: Some(Schedule::constant(1.45)),
        });
        // u = 2 × 0.118 × 2400/60 = 9.44 m/s; p_max = 200 kPa × 15^1.35 × 1.45 = 11.224 MPa.
        let peak = engine.peak_cylinder_pressure(200e3, 2400.0).unwrap();
        assert_relative_eq!(peak, 11.224e6, max_relative = 1e-4);
        let expected = 13_700.0 + 0.005 * peak + 16_200.0 * 9.44;
        assert_relative_eq!(
            engine.friction_pressure(200e3, 2400.0).unwrap(),
            expected,
            max_relative = 1e-12
        );
    }

    /// By hand: u = 2 × 0.1 × 3000/60 = 10 m/s; 40 kPa + 9 kPa × 10 + 0.09 kPa × 100 = 139 kPa, no share of the
    /// peak; over 4.5 L × 25 cycles/s 15.6375 kW. With 8 kW lost in the gas exchange and 12 kW to the
    /// superchargers 120 kW indicated leave 84.3625 kW.
    #[test]
    fn the_crank_keeps_what_friction_gas_exchange_and_superchargers_leave() {
        let mut engine = engine(4.5e-3, Strokes::Four, 0.9);
        engine.stroke = Some(0.1);
        engine.friction = Friction {
            constant: 40e3,
            peak_pressure_share: 0.0,
            linear: 9e3,
            quadratic: 90.0,
        };
        let crank = engine
            .crank_power(120e3, -8e3, 12e3, 100e3, 3000.0)
            .unwrap();
        assert_relative_eq!(crank.friction, 15_637.5, max_relative = 1e-12);
        assert_relative_eq!(crank.brake, 84_362.5, max_relative = 1e-12);
    }

    /// By definition: 100 kW at 3000 rpm are 318.31 N m.
    #[test]
    fn torque_is_power_over_angular_speed() {
        let mut engine = engine(4.5e-3, Strokes::Four, 0.9);
        engine.friction = Friction {
            constant: 0.0,
            peak_pressure_share: 0.0,
            linear: 0.0,
            quadratic: 0.0,
        };
        let crank = engine.crank_power(110e3, 0.0, 10e3, 100e3, 3000.0).unwrap();
        assert_relative_eq!(crank.torque, 318.31, max_relative = 1e-5);
    }

    #[test]
    fn without_a_stroke_friction_by_piston_speed_is_unknown_and_no_power_is_made_up() {
        let engine = engine(4.5e-3, Strokes::Four, 0.9);
        assert_eq!(engine.stroke, None);
        assert_eq!(engine.friction_pressure(200e3, 2400.0), None);
        assert_eq!(engine.crank_power(110e3, 0.0, 0.0, 100e3, 3000.0), None);
    }
}
