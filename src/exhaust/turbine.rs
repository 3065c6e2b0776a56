//! The work of a turbine wheel.

use super::{GateOpening, Swallowing, Turbine, TurbineEfficiency};
use crate::gas::{Gas, GasError};

/// Blade speed over the speed of the isentropic drop at which a radial wheel works best (common
/// practice; Watson and Janota 1982 give 0.6 to 0.7).
const BEST_BLADE_SPEED_RATIO: f64 = 0.70;

/// What a wheel makes of one kilogram of exhaust.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expansion {
    /// Isentropic enthalpy drop to the outlet pressure, J/kg.
    pub isentropic_drop: f64,
    /// Efficiency on that drop, total to static.
    pub efficiency: f64,
    /// Work of the wheel, J/kg.
    pub work: f64,
}

/// Flow coefficient of an open wastegate valve (common practice for a poppet or flap valve lifted a
/// quarter of its diameter).
const GATE_FLOW_COEFFICIENT: f64 = 0.7;

impl Turbine {
    /// Largest share of the exhaust that the gate passes: as given, or from the valve's diameter
    /// as gate area over gate and turbine area. `None` without a gate, or without a known area to
    /// set the valve's against.
    pub fn largest_share(&self) -> Option<f64> {
        match (self.wastegate.as_ref()?.opening, &self.swallowing) {
            (GateOpening::LargestShare(share), _) => Some(share),
            (GateOpening::ValveDiameter(d), Swallowing::Area { effective_area, .. }) => {
                let area = GATE_FLOW_COEFFICIENT * std::f64::consts::PI * d * d / 4.0;
                Some(area / (area + effective_area))
            }
            (GateOpening::ValveDiameter(_), Swallowing::Map(_)) => None,
        }
    }

    /// The work of the wheel from an inlet temperature in K by an expansion ratio of at least 1.
    /// `shaft_speed` in rpm, where it is known, and `from_map` the efficiency of a turbine map.
    pub fn expand(
        &self,
        gas: &Gas,
        temperature: f64,
        expansion_ratio: f64,
        shaft_speed: Option<f64>,
        from_map: Option<f64>,
    ) -> Result<Expansion, GasError> {
        let (h3, s3) = gas.enthalpy_and_entropy(temperature)?;
        let ln_ratio = expansion_ratio.ln();
        let s4s = s3 - gas.gas_constant() * ln_ratio;
        // (γ−1)/γ of hot products is about 0.23, which is near enough to start from.
        let guess = temperature * (-0.23 * ln_ratio).exp();
        let (_, h4s) = gas.state_at_entropy(s4s, guess)?;
        let isentropic_drop = (h3 - h4s).max(0.0);
        let efficiency = match self.efficiency {
            TurbineEfficiency::Figure(efficiency) => efficiency,
            TurbineEfficiency::Map => from_map.unwrap_or(0.0),
            TurbineEfficiency::BladeSpeed {
                best,
                wheel_diameter,
            } => {
                best * blade_speed_factor(
                    wheel_diameter,
                    shaft_speed.unwrap_or(0.0),
                    isentropic_drop,
                )
            }
        };
        Ok(Expansion {
            isentropic_drop,
            efficiency,
            work: efficiency * isentropic_drop,
        })
    }
}

/// 2 s − s², s = σ/σ_best, σ = π D N/√(2 Δh_s); at least 0.
fn blade_speed_factor(diameter: f64, speed: f64, isentropic_drop: f64) -> f64 {
    if isentropic_drop <= 0.0 {
        return 0.0;
    }
    let blade_speed = std::f64::consts::PI * diameter * speed / 60.0;
    let s = blade_speed / (2.0 * isentropic_drop).sqrt() / BEST_BLADE_SPEED_RATIO;
    (s * (2.0 - s)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exhaust::{BoostAt, FlowLaw, Wastegate};
    use crate::gas::{FuelFormula, HumidAir};
    use crate::numeric::Schedule;
    use approx::assert_relative_eq;

    fn turbine(efficiency: TurbineEfficiency) -> Turbine {
        Turbine {
            swallowing: Swallowing::Area {
                effective_area: 8e-4,
                law: FlowLaw::Nozzle,
            },
            efficiency,
            mechanical_efficiency: 1.0,
            drives: 0,
            wastegate: None,
        }
    }

    /// Products of lean diesel (H/C 1.80, air–fuel ratio 22) from 950 K by 2.2 at 0.72: cp 1209.7
    /// J/(kg K), γ 1.3101, work 140.7 kJ/kg, outlet 832.1 K, 183.1 kW above 298.15 K in 0.30 kg/s
    /// at 850 K; with Cantera's polynomials, 0.3 % between the data sets.
    #[test]
    fn work_of_hot_products_takes_their_own_heat_capacity() {
        let diesel = FuelFormula {
            hydrogen_carbon_ratio: 1.80,
            oxygen_carbon_ratio: 0.0,
        };
        let gas = diesel.burn(&HumidAir::dry(), 22.0).unwrap().gas;
        assert_relative_eq!(gas.cp(950.0).unwrap(), 1209.7, max_relative = 0.003);
        assert_relative_eq!(gas.gamma(950.0).unwrap(), 1.3101, max_relative = 0.003);
        let wheel = turbine(TurbineEfficiency::Figure(0.72));
        let expansion = wheel.expand(&gas, 950.0, 2.2, None, None).unwrap();
        assert_relative_eq!(expansion.work, 140.7e3, max_relative = 0.003);
        let outlet = gas.enthalpy(950.0).unwrap() - expansion.work;
        assert_relative_eq!(
            gas.temperature_at_enthalpy(outlet, 800.0).unwrap(),
            832.1,
            epsilon = 0.5
        );
        assert_relative_eq!(
            0.30 * gas.enthalpy(850.0).unwrap(),
            183.1e3,
            max_relative = 0.003
        );
    }

    /// A valve of 30 mm lifted by a quarter of its diameter has a curtain π d h as large as its hole,
    /// 7.069 cm²; poppet valves at that lift flow 0.6 to 0.75 of it (Heywood 1988, fig. 6-21, from
    /// memory). Beside a turbine of 8 cm² that passes 34.6 to 39.9 % of the exhaust.
    #[test]
    fn an_open_gate_passes_its_part_of_both_areas() {
        let mut with_gate = turbine(TurbineEfficiency::Figure(0.7));
        with_gate.wastegate = Some(Wastegate {
            boost_limit: Schedule::constant(1e5),
            boost_at: BoostAt::Manifold,
            opening: GateOpening::ValveDiameter(0.030),
        });
        let share = with_gate.largest_share().unwrap();
        assert!((0.346..0.399).contains(&share), "{share}");
    }

    #[test]
    fn the_parabola_is_at_its_top_at_the_best_blade_speed() {
        let gas = HumidAir::dry().gas();
        let wheel = turbine(TurbineEfficiency::BladeSpeed {
            best: 0.7,
            wheel_diameter: 0.07,
        });
        let drop = wheel
            .expand(&gas, 900.0, 2.0, Some(0.0), None)
            .unwrap()
            .isentropic_drop;
        let best = 0.70 * (2.0 * drop).sqrt() / (std::f64::consts::PI * 0.07) * 60.0;
        let at = |speed: f64| {
            wheel
                .expand(&gas, 900.0, 2.0, Some(speed), None)
                .unwrap()
                .efficiency
        };
        assert_relative_eq!(at(best), 0.7, max_relative = 1e-12);
        assert_relative_eq!(at(0.5 * best), 0.75 * 0.7, max_relative = 1e-12);
        assert!(at(3.0 * best).abs() < f64::EPSILON);
    }
}
