//! Flow of a gas through an effective area: the isentropic nozzle.
//!
//! m √(R T)/(p A) = ψ(expansion ratio), ψ² = 2γ/(γ−1) (x^(2/γ) − x^((γ+1)/γ)) with x = p2/p1 not
//! below the critical ((2/(γ+1))^(γ/(γ−1))) (e.g. Shapiro 1953, ch. 4; any textbook of compressible
//! flow).

use super::FlowLaw;

/// Inlet over outlet pressure at which a nozzle chokes.
pub fn critical_ratio(gamma: f64) -> f64 {
    (0.5 * (gamma + 1.0)).powf(gamma / (gamma - 1.0))
}

/// ψ at an expansion ratio (inlet total over outlet pressure, at least 1).
pub fn flow_function(gamma: f64, expansion_ratio: f64, law: FlowLaw) -> f64 {
    flow_function_and_choking(gamma, expansion_ratio, law).0
}

/// ψ at an expansion ratio, and whether the flow is choked there.
pub fn flow_function_and_choking(gamma: f64, expansion_ratio: f64, law: FlowLaw) -> (f64, bool) {
    let ln_across_one = match law {
        FlowLaw::Nozzle => expansion_ratio.ln(),
        FlowLaw::TwoThroats => 0.5 * expansion_ratio.ln(),
    };
    let ln_critical = gamma / (gamma - 1.0) * (0.5 * (gamma + 1.0)).ln();
    let choked = ln_across_one >= ln_critical;
    let ln_ratio = ln_across_one.min(ln_critical);
    if ln_ratio.is_nan() || ln_ratio <= 0.0 {
        return (0.0, false);
    }
    let factor = 2.0 * gamma / (gamma - 1.0);
    // x^((γ+1)/γ) = x^(2/γ) × x^((γ−1)/γ); the difference keeps its digits near x = 1.
    let drop = -(-(gamma - 1.0) / gamma * ln_ratio).exp_m1();
    let psi = (factor * (-2.0 / gamma * ln_ratio).exp() * drop).sqrt();
    (psi, choked)
}

/// Largest ψ, of the choked nozzle.
pub fn choked_flow_function(gamma: f64) -> f64 {
    flow_function(gamma, critical_ratio(gamma), FlowLaw::Nozzle)
}

/// Inlet total pressure in Pa that pushes a flow through an area against an outlet pressure in Pa,
/// where `flow` = m √(R T)/A in Pa. p ψ(p/p2) rises with p, so that the answer is the only one.
pub fn inlet_pressure(gamma: f64, law: FlowLaw, flow: f64, outlet_pressure: f64) -> f64 {
    let choked = choked_flow_function(gamma);
    let limit = match law {
        FlowLaw::Nozzle => critical_ratio(gamma),
        FlowLaw::TwoThroats => critical_ratio(gamma).powi(2),
    };
    if flow >= choked * limit * outlet_pressure {
        return flow / choked;
    }
    // (p ψ)² is nearly straight in p from the outlet pressure on: the chord with a halved weight
    // on an end that stays (Illinois rule; Dowell and Jarratt 1971, from memory).
    let wanted = (flow / outlet_pressure).powi(2);
    let miss = |ratio: f64| (ratio * flow_function(gamma, ratio, law)).powi(2) - wanted;
    let (mut low, mut high) = ((1.0, -wanted), (limit, miss(limit)));
    let mut ratio = limit;
    for _ in 0..100 {
        let next = high.0 - high.1 * (high.0 - low.0) / (high.1 - low.1);
        let moved = (next - ratio).abs();
        ratio = next;
        if !ratio.is_finite() || moved <= 1e-14 * ratio {
            break;
        }
        let value = miss(ratio);
        if value < 0.0 {
            low = (ratio, value);
            high.1 *= 0.5;
        } else {
            high = (ratio, value);
            low.1 *= 0.5;
        }
    }
    ratio.clamp(1.0, limit) * outlet_pressure
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// γ 1.33, R 287, 9 cm², 950 K to 101 kPa: 0.16669, 0.21670, 0.28984 kg/s from 150, 186.91 and
    /// 250 kPa, critical ratio 1.85060; the formula evaluated independently. Printed digits, and
    /// for the middle one also those of its pressure (0.005 of 187 kPa).
    #[test]
    fn flow_stays_at_its_greatest_past_the_critical_ratio() {
        assert_relative_eq!(critical_ratio(1.33), 1.850_60, epsilon = 5e-6);
        let flow = |inlet: f64, outlet: f64| {
            inlet * 9e-4 / (287.0_f64 * 950.0).sqrt()
                * flow_function(1.33, inlet / outlet, FlowLaw::Nozzle)
        };
        assert_relative_eq!(flow(150e3, 101e3), 0.166_69, epsilon = 5e-6);
        assert_relative_eq!(flow(186.91e3, 101e3), 0.216_70, epsilon = 1.1e-5);
        assert_relative_eq!(flow(250e3, 101e3), 0.289_84, epsilon = 5e-6);
        assert_relative_eq!(flow(250e3, 80e3), 0.289_84, epsilon = 5e-6);
    }

    #[test]
    fn the_inlet_pressure_is_the_inverse_of_the_flow() {
        for law in [FlowLaw::Nozzle, FlowLaw::TwoThroats] {
            for ratio in [1.000_1, 1.2, 1.8, 2.5, 3.3, 5.0] {
                let flow = ratio * 1e5 * flow_function(1.33, ratio, law);
                let p = inlet_pressure(1.33, law, flow, 1e5);
                assert_relative_eq!(p, ratio * 1e5, max_relative = 1e-9);
            }
        }
    }

    #[test]
    fn two_throats_choke_at_the_square_of_the_critical_ratio() {
        let limit = critical_ratio(1.33).powi(2);
        let below = flow_function(1.33, 0.99 * limit, FlowLaw::TwoThroats);
        let at = flow_function(1.33, limit, FlowLaw::TwoThroats);
        assert!(below < at);
        assert_relative_eq!(at, choked_flow_function(1.33), max_relative = 1e-12);
    }
}
