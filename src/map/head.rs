//! Pressure ratio and isentropic head, with the constant gas that similarity is counted in.
//!
//! Head is the isentropic enthalpy rise from the reference temperature,
//! h = cp T_ref (PR^((gamma-1)/gamma) - 1), and grows with speed squared at equal place on a line.
//! Inside a map the gas is constant (gamma 1.4, R 287.05 J/(kg K)): heat capacity that varies moves
//! the similarity by about 1e-5, while the state behind the stage is found with the real gas.

/// Ratio of heat capacities used for similarity.
pub const GAMMA: f64 = 1.4;
/// Gas constant of dry air used for similarity, J/(kg K).
pub const GAS_CONSTANT: f64 = 287.05;
/// gamma/(gamma - 1).
const EXPONENT: f64 = GAMMA / (GAMMA - 1.0);

/// cp T at the reference temperature (K), J/kg: the scale of head.
pub fn scale(reference_temperature: f64) -> f64 {
    EXPONENT * GAS_CONSTANT * reference_temperature
}

/// Head over its scale from pressure ratio.
///
/// Below 1 the mirror image is used (ln PR odd in head), so that any head has a pressure ratio.
pub fn from_ratio(pressure_ratio: f64) -> f64 {
    let log = pressure_ratio.ln() / EXPONENT;
    if log >= 0.0 {
        log.exp_m1()
    } else {
        -(-log).exp_m1()
    }
}

/// Pressure ratio from head over its scale; the inverse of [`from_ratio`].
pub fn to_ratio(head: f64) -> f64 {
    if head >= 0.0 {
        (1.0 + head).powf(EXPONENT)
    } else {
        (1.0 - head).powf(-EXPONENT)
    }
}

#[cfg(test)]
mod tests {
    use super::{from_ratio, scale, to_ratio};
    use approx::assert_relative_eq;

    #[test]
    fn head_and_ratio_are_inverses_on_both_sides_of_one() {
        for ratio in [0.05, 0.7, 1.0, 1.3, 4.0, 9.0] {
            assert_relative_eq!(to_ratio(from_ratio(ratio)), ratio, max_relative = 1e-14);
        }
    }

    /// T2s = T1 PR^((γ−1)/γ), Δh = cp (T2s − T1) with γ 1.4 and cp 1005 J/(kg K), the round figure of cold
    /// air (any textbook of gas turbines): from 288.15 K by 2 and by 4 to 351.26 and 428.19 K, 63.42 and
    /// 140.74 kJ/kg by hand. Half of the last digit in K; γ/(γ−1) R = 1004.7 lies 0.03 % below the round cp.
    #[test]
    fn head_is_the_isentropic_rise_of_cold_air() {
        for (ratio, outlet, rise) in [(2.0, 351.26, 63.42e3), (4.0, 428.19, 140.74e3)] {
            let head = from_ratio(ratio);
            assert_relative_eq!(288.15 * (1.0 + head), outlet, epsilon = 0.005);
            assert_relative_eq!(scale(288.15) * head, rise, max_relative = 4e-4);
            // 3.5 times the relative half digit of the outlet.
            assert_relative_eq!(to_ratio(outlet / 288.15 - 1.0), ratio, max_relative = 6e-5);
        }
    }

    #[test]
    fn the_mirror_image_joins_at_one_with_its_slope() {
        let step = 1e-6;
        let above = (to_ratio(step) - 1.0) / step;
        let below = (1.0 - to_ratio(-step)) / step;
        // Second order of the curve times the step.
        assert_relative_eq!(above, below, max_relative = 1e-5);
        assert_relative_eq!(above, 3.5, max_relative = 1e-5);
    }
}
