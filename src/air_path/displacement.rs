//! What a positive-displacement supercharger delivers and what it takes.
//!
//! V is the volume swept per revolution, n the shaft's speed in rev/s, ρ1 the density at the
//! rotors' inlet. Delivered flow: ρ1 V (n − slip). Slip speed: sign(p2 − p1) × slip_speed ×
//! √(|p2 − p1|/6894.76 Pa × 1.2 kg/m³/ρ1): the gaps pass air like an orifice, and the slip test
//! gives the shaft speed that just holds 1 psi against a shut outlet (common practice).
//!
//! Work per revolution by the ideal indicator diagram with internal volume ratio vi:
//! W = γ/(γ−1) p1 V (vi^(γ−1) − 1) + (p2 − p1 vi^γ) V/vi (for vi = 1 the Roots diagram,
//! (p2 − p1) V; Eastop and McConkey, rotary positive-displacement compressors).

use std::sync::Arc;

use super::belt::BeltDrive;
use crate::map::SuperchargerMap;

/// Pressure difference of the slip test, Pa (1 psi).
const SLIP_TEST_PRESSURE: f64 = 6_894.76;
/// Density of the air in the slip test, kg/m³.
const SLIP_TEST_DENSITY: f64 = 1.2;

/// A positive-displacement machine.
#[derive(Debug, Clone)]
pub struct Displacement {
    /// Volume swept per revolution of the shaft that the belt turns, m³.
    pub displacement: f64,
    /// The belt that turns it.
    pub belt: BeltDrive,
    /// What passes back through the gaps.
    pub filling: Filling,
    /// Internal volume ratio: 1 for Roots, above 1 for a screw.
    pub internal_volume_ratio: f64,
    /// Work by the ideal indicator diagram over the power given to the air, over 0 to 1.
    pub indicated_efficiency: f64,
    /// Power to the air over shaft power without the no-load part, over 0 to 1.
    pub mechanical_efficiency: f64,
    /// What turning it takes at pressure ratio 1.
    pub no_load: Option<NoLoad>,
}

/// How much of the swept volume arrives.
#[derive(Debug, Clone)]
pub enum Filling {
    /// From the one-figure slip test: the shaft speed, rpm, that just holds 1 psi against a shut
    /// outlet.
    SlipSpeed(f64),
    /// From a map of volumetric efficiency.
    Map(Arc<SuperchargerMap>),
}

/// Shaft power at pressure ratio 1, which grows with the square of the speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoLoad {
    /// Shaft power, W.
    pub power: f64,
    /// Shaft speed at which it was measured, rpm.
    pub at_speed: f64,
}

impl Displacement {
    /// Mass flow in kg/s that the rotors deliver at a shaft speed in rev/s, from an inlet pressure
    /// in Pa and density in kg/m³ to an outlet pressure in Pa. At or below 0 it cannot hold the
    /// pressure at this speed.
    pub fn delivered(&self, n: f64, p1: f64, density_1: f64, p2: f64) -> f64 {
        let swept = density_1 * self.displacement * n;
        match &self.filling {
            Filling::SlipSpeed(rpm) => {
                let slip = slip_speed(*rpm / 60.0, p1, density_1, p2);
                density_1 * self.displacement * (n - slip)
            }
            Filling::Map(map) => {
                swept
                    * map
                        .at_speed_and_ratio(60.0 * n, p2 / p1)
                        .volumetric_efficiency
            }
        }
    }

    /// Power in W that the rotors give to the air, by the indicator diagram or by the map's
    /// efficiency; at least 0: an expanding machine gives nothing back to the belt.
    ///
    /// `isentropic_power` in W (delivered flow times isentropic rise) is used with a map only.
    pub fn power_to_air(&self, n: f64, p1: f64, p2: f64, gamma: f64, isentropic_power: f64) -> f64 {
        if let Filling::Map(map) = &self.filling {
            let efficiency = map.at_speed_and_ratio(60.0 * n, p2 / p1).efficiency;
            return if efficiency > 0.0 {
                (isentropic_power / efficiency).max(0.0)
            } else {
                0.0
            };
        }
        (self.work_per_revolution(p1, p2, gamma) * n / self.indicated_efficiency).max(0.0)
    }

    /// Work in J per revolution by the ideal indicator diagram; negative where it expands.
    pub fn work_per_revolution(&self, p1: f64, p2: f64, gamma: f64) -> f64 {
        let (v, vi) = (self.displacement, self.internal_volume_ratio);
        let internal = gamma / (gamma - 1.0) * p1 * v * (vi.powf(gamma - 1.0) - 1.0);
        internal + (p2 - p1 * vi.powf(gamma)) * v / vi
    }

    /// Shaft power in W for a power to the air in W at a shaft speed in rev/s.
    pub fn shaft_power(&self, power_to_air: f64, n: f64) -> f64 {
        let no_load = self.no_load.map_or(0.0, |no_load| {
            no_load.power * (60.0 * n / no_load.at_speed).powi(2)
        });
        power_to_air / self.mechanical_efficiency + no_load
    }

    /// The outlet pressure in Pa against which the rotors deliver a mass flow in kg/s: the inverse
    /// of [`Displacement::delivered`]. At least `lowest` Pa.
    ///
    /// A machine without slip holds any pressure at exactly one flow; it is answered as one with
    /// hardly any, which is near enough to start a solution from.
    pub fn held_pressure(
        &self,
        n: f64,
        p1: f64,
        density_1: f64,
        mass_flow: f64,
        lowest: f64,
    ) -> f64 {
        match &self.filling {
            Filling::SlipSpeed(rpm) => {
                let slip = n - mass_flow / (density_1 * self.displacement);
                let ratio = slip / (rpm.max(HARDLY_ANY_SLIP) / 60.0);
                let difference = difference_at(ratio * (density_1 / SLIP_TEST_DENSITY).sqrt());
                (p1 + difference).max(lowest)
            }
            Filling::Map(_) => self.held_by_map(n, p1, density_1, mass_flow, lowest),
        }
    }

    /// Halves the range of pressure ratios: delivered flow falls with the ratio.
    fn held_by_map(&self, n: f64, p1: f64, density_1: f64, mass_flow: f64, lowest: f64) -> f64 {
        let (mut low, mut high) = (lowest.max(0.05 * p1), 10.0 * p1);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.delivered(n, p1, density_1, middle) > mass_flow {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }
}

/// Slip that stands for none where a flow has to give a pressure, rpm.
const HARDLY_ANY_SLIP: f64 = 0.05;

/// Pressure difference far below which slip falls with the difference instead of its root, Pa: the
/// root has no slope at 0, just where a bypass opens, and no solver would meet it there to 1e-9.
/// At the test's 1 psi nothing changes, at 1 kPa 5e-6 of the slip.
const LAMINAR: f64 = 0.01;

/// Slip speed in the unit of the test's speed.
fn slip_speed(test_speed: f64, p1: f64, density_1: f64, p2: f64) -> f64 {
    let difference = p2 - p1;
    let smooth = ((SLIP_TEST_PRESSURE + LAMINAR) / (difference.abs() + LAMINAR)).sqrt();
    let share = difference / SLIP_TEST_PRESSURE * smooth;
    share * test_speed * (SLIP_TEST_DENSITY / density_1).sqrt()
}

/// The pressure difference in Pa at which the slip in air of the test's density is `share` of the
/// test's: the inverse of [`slip_speed`].
fn difference_at(share: f64) -> f64 {
    let q = (share * SLIP_TEST_PRESSURE).powi(2) / (SLIP_TEST_PRESSURE + LAMINAR);
    share.signum() * 0.5 * (q + (q * (q + 4.0 * LAMINAR)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn machine(displacement: f64, internal_volume_ratio: f64, slip: f64) -> Displacement {
        Displacement {
            displacement,
            belt: BeltDrive {
                ratio: 2.0,
                efficiency: 0.97,
            },
            filling: Filling::SlipSpeed(slip),
            internal_volume_ratio,
            indicated_efficiency: 1.0,
            mechanical_efficiency: 1.0,
            no_load: None,
        }
    }

    /// Isentropic flow work per revolution for constant γ, γ/(γ−1) p1 V (PR^((γ−1)/γ) − 1).
    fn isentropic_work(p1: f64, v: f64, ratio: f64, gamma: f64) -> f64 {
        gamma / (gamma - 1.0) * p1 * v * (ratio.powf((gamma - 1.0) / gamma) - 1.0)
    }

    /// Rajput, A Textbook of Internal Combustion Engines, ex. 20.35 (companion: 1.5195 and
    /// 1.34803 kJ per revolution): 0.03 m³ from 1.013 bar by a ratio of 1.5, without internal
    /// compression and with it to half of the rise. Printed digits.
    #[test]
    fn work_of_a_roots_and_of_a_half_internal_machine_is_the_textbooks() {
        let (p1, p2, gamma) = (101_300.0, 151_950.0, 1.4);
        assert_relative_eq!(
            machine(0.03, 1.0, 0.0).work_per_revolution(p1, p2, gamma),
            1519.5,
            max_relative = 1e-12
        );
        let vi = f64::powf(1.25, 1.0 / gamma);
        let work = machine(0.03, vi, 0.0).work_per_revolution(p1, p2, gamma);
        assert_relative_eq!(work, 1348.03, max_relative = 4e-6);
    }

    /// Somasundaram, Thermal Engineering, ex. 9.14 (companion: 5.0 and 4.547 kW; efficiencies 0.86
    /// and 0.945): 0.05 m³ at 120 rev/min from 1 to 1.5 bar, internal rise 35 %.
    #[test]
    fn power_of_a_partly_internal_machine_is_the_textbooks() {
        let (p1, p2, gamma, v) = (1e5, 1.5e5, 1.4, 0.05);
        let roots = machine(v, 1.0, 0.0).power_to_air(2.0, p1, p2, gamma, 0.0);
        assert_relative_eq!(roots, 5000.0, max_relative = 1e-12);
        let vi = f64::powf(1.175, 1.0 / gamma);
        let internal = machine(v, vi, 0.0).power_to_air(2.0, p1, p2, gamma, 0.0);
        assert_relative_eq!(internal, 4547.0, epsilon = 0.5);
        let ideal = 2.0 * isentropic_work(p1, v, 1.5, gamma);
        assert_relative_eq!(ideal / roots, 0.86, epsilon = 0.005);
        assert_relative_eq!(ideal / internal, 0.945, epsilon = 0.0006);
    }

    /// Eastop and McConkey: (γ/(γ−1))(PR^((γ−1)/γ) − 1)/(PR − 1); Singh, Applied Thermodynamics,
    /// ex. 16.15: 76.65 % at a ratio of 2 and 50 kW for 0.5 m³/s from 1 bar; Rajput ex. 20.36:
    /// 85.98 % at 1.5.
    #[test]
    fn efficiency_of_an_ideal_roots_machine_is_the_textbooks() {
        for (ratio, printed) in [(2.0, 0.7665), (1.5, 0.8598)] {
            let work = machine(0.08, 1.0, 0.0).work_per_revolution(1e5, ratio * 1e5, 1.4);
            let efficiency = isentropic_work(1e5, 0.08, ratio, 1.4) / work;
            assert_relative_eq!(efficiency, printed, epsilon = 0.00006);
        }
        let power = machine(0.5, 1.0, 0.0).power_to_air(1.0, 1e5, 2e5, 1.4, 0.0);
        assert_relative_eq!(power, 50_000.0, max_relative = 1e-12);
    }

    #[test]
    fn a_screw_whose_internal_ratio_fits_does_the_isentropic_work() {
        let (ratio, gamma) = (1.8_f64, 1.4);
        let screw = machine(0.002, ratio.powf(1.0 / gamma), 0.0);
        assert_relative_eq!(
            screw.work_per_revolution(1e5, ratio * 1e5, gamma),
            isentropic_work(1e5, 0.002, ratio, gamma),
            max_relative = 1e-12
        );
    }

    #[test]
    fn the_slip_test_holds_one_psi_and_delivers_nothing() {
        let roots = machine(0.002, 1.0, 170.0);
        let delivered = roots.delivered(170.0 / 60.0, 1e5, 1.2, 1e5 + SLIP_TEST_PRESSURE);
        assert_relative_eq!(delivered, 0.0, epsilon = 1e-15);
    }

    #[test]
    fn the_held_pressure_is_the_inverse_of_the_delivered_flow() {
        let roots = machine(0.002, 1.0, 170.0);
        for p2 in [70e3, 100e3, 160e3, 250e3] {
            let flow = roots.delivered(40.0, 100e3, 1.15, p2);
            let back = roots.held_pressure(40.0, 100e3, 1.15, flow, 0.0);
            assert_relative_eq!(back, p2, max_relative = 1e-9);
        }
    }

    /// By hand: 12 kW to the air over 0.95, and 0.8 kW measured at 6000 rpm, four times that at 12,000:
    /// 12.6316 + 3.2 kW. Digits as carried.
    #[test]
    fn the_shaft_takes_friction_and_no_load_on_top() {
        let turned = Displacement {
            mechanical_efficiency: 0.95,
            no_load: Some(NoLoad {
                power: 800.0,
                at_speed: 6000.0,
            }),
            ..machine(0.002, 1.0, 170.0)
        };
        assert_relative_eq!(turned.shaft_power(12e3, 200.0), 15_831.6, epsilon = 0.05);
    }

    /// By definition of the indicated efficiency: the 5 kW that the ideal Roots diagram of the textbook above
    /// takes, over 0.85, are 5.88235 kW to the air. Digits as carried.
    #[test]
    fn the_air_gets_more_than_the_ideal_diagram_takes() {
        let real = Displacement {
            indicated_efficiency: 0.85,
            ..machine(0.05, 1.0, 0.0)
        };
        let power = real.power_to_air(2.0, 1e5, 1.5e5, 1.4, 0.0);
        assert_relative_eq!(power, 5_882.35, epsilon = 0.005);
    }

    /// By hand: in air of 1.8 kg/m³ against 4 psi the slip of the test is doubled by the pressure and
    /// shrunk by √(1.2/1.8): 170 → 277.61 rpm of 3000, so 2 L pass 1.8 × 2e-3 × 45.373 rev/s = 0.163343 kg/s.
    /// A half of the last digit; the laminar end at 0.01 Pa is far below it.
    #[test]
    fn slip_grows_with_the_root_of_the_difference_and_shrinks_with_that_of_density() {
        let p2 = 1e5 + 4.0 * 6_894.757;
        let flow = machine(0.002, 1.0, 170.0).delivered(50.0, 1e5, 1.8, p2);
        assert_relative_eq!(flow, 0.163_343, epsilon = 1e-6);
    }

    #[test]
    fn an_expanding_machine_gives_nothing_back() {
        let power = machine(0.002, 1.0, 170.0).power_to_air(40.0, 100e3, 80e3, 1.4, 0.0);
        assert!(power.abs() < f64::EPSILON);
    }
}
