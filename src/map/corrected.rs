//! Corrected flow and speed: what a map is drawn in, to and from what the machine does.
//!
//! Corrected to a reference state (T_ref, p_ref), with R and gamma left out as the trade does:
//! m_c = m √(T1/T_ref) / (p1/p_ref), N_c = N / √(T1/T_ref)  (SAE J1826, turbocharger gas-stand
//! code; form from memory).

use super::error::MapError;

/// The inlet state that a map's corrected values are corrected to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Total temperature, K.
    pub temperature: f64,
    /// Total pressure, Pa.
    pub pressure: f64,
}

impl Reference {
    /// The fault of a reference state that is not positive, if it has one.
    pub(super) fn fault(self) -> Option<MapError> {
        let Self {
            temperature,
            pressure,
        } = self;
        let positive = |value: f64| value.is_finite() && value > 0.0;
        let possible = positive(temperature) && positive(pressure);
        (!possible).then_some(MapError::Reference {
            temperature,
            pressure,
        })
    }
}

/// Corrected mass flow, kg/s at the map's reference state.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct CorrectedFlow(pub f64);

/// Corrected speed, rpm at the map's reference temperature.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct CorrectedSpeed(pub f64);

impl CorrectedFlow {
    /// From the actual flow, kg/s, at an inlet of `pressure`, Pa, and `temperature`, K.
    pub fn from_actual(flow: f64, pressure: f64, temperature: f64, reference: Reference) -> Self {
        let theta = temperature / reference.temperature;
        let delta = pressure / reference.pressure;
        Self(flow * theta.sqrt() / delta)
    }

    /// The actual flow, kg/s, at an inlet of `pressure`, Pa, and `temperature`, K.
    pub fn to_actual(self, pressure: f64, temperature: f64, reference: Reference) -> f64 {
        let theta = temperature / reference.temperature;
        let delta = pressure / reference.pressure;
        self.0 * delta / theta.sqrt()
    }
}

impl CorrectedSpeed {
    /// From the actual speed, rpm, at an inlet `temperature`, K.
    pub fn from_actual(speed: f64, temperature: f64, reference: Reference) -> Self {
        Self(speed / (temperature / reference.temperature).sqrt())
    }

    /// The actual speed, rpm, at an inlet `temperature`, K.
    pub fn to_actual(self, temperature: f64, reference: Reference) -> f64 {
        self.0 * (temperature / reference.temperature).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::{CorrectedFlow, CorrectedSpeed, Reference};
    use approx::assert_relative_eq;

    const REFERENCE: Reference = Reference {
        temperature: 298.0,
        pressure: 100e3,
    };

    #[test]
    fn correction_agrees_with_an_example_worked_by_hand() {
        // T1 = 335.25 K: 335.25/298 = 1.125, root 1.0606602; p1 = 80 kPa: 0.8.
        // 0.240 kg/s x 1.0606602 / 0.8 = 0.31819805 kg/s; 106066.02 rpm / 1.0606602 = 100000 rpm.
        let flow = CorrectedFlow::from_actual(0.240, 80e3, 335.25, REFERENCE);
        let speed = CorrectedSpeed::from_actual(106_066.02, 335.25, REFERENCE);
        // Half of the last digit that the hand calculation carried.
        assert_relative_eq!(flow.0, 0.31819805, max_relative = 2e-8);
        assert_relative_eq!(speed.0, 100_000.0, max_relative = 5e-8);
    }

    #[test]
    fn correcting_and_taking_it_back_returns_the_actual_values() {
        let flow = CorrectedFlow::from_actual(0.2, 91e3, 310.0, REFERENCE);
        let speed = CorrectedSpeed::from_actual(88_000.0, 310.0, REFERENCE);
        assert_relative_eq!(
            flow.to_actual(91e3, 310.0, REFERENCE),
            0.2,
            max_relative = 1e-15
        );
        assert_relative_eq!(
            speed.to_actual(310.0, REFERENCE),
            88_000.0,
            max_relative = 1e-15
        );
    }

    #[test]
    fn another_reference_state_leaves_the_physical_flow_alone() {
        let other = Reference {
            temperature: 288.15,
            pressure: 101_325.0,
        };
        let here = CorrectedFlow::from_actual(0.2, 91e3, 310.0, REFERENCE);
        // The same machine state written on the other sheet, corrected from one sheet to the other.
        let moved = CorrectedFlow::from_actual(
            here.to_actual(REFERENCE.pressure, REFERENCE.temperature, REFERENCE),
            REFERENCE.pressure,
            REFERENCE.temperature,
            other,
        );
        assert_relative_eq!(
            moved.to_actual(91e3, 310.0, other),
            0.2,
            max_relative = 1e-14
        );
    }
}
