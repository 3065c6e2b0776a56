//! How near a charge is to knocking, as one plain figure.
//!
//! The equivalent compression ratio: that of an unblown engine (101.325 kPa, 40 °C in the manifold)
//! whose charge would take as long to light by itself at the end of compression. Both ends by the
//! same polytrope; delay ∝ p^−1.7 exp(3800 K/T) (Douaud and Eyzat, SAE 780080, from memory). The
//! fuel's octane number falls out of the comparison. A grade, no prediction: spark timing,
//! mixture, chamber, plugs and hot spots decide.

use super::typical::COMPRESSION_EXPONENTS;
use crate::numeric::bracketed::first_not_below;

/// Manifold of the unblown engine, Pa and K.
const UNBLOWN: (f64, f64) = (101_325.0, 313.15);
/// Power of the pressure in the delay.
const PRESSURE_POWER: f64 = 1.7;
/// Temperature of the delay, K.
const ACTIVATION: f64 = 3800.0;
/// Largest ln of an equivalent ratio that is looked for.
const LARGEST_LN_RATIO: f64 = 7.0;

/// The equivalent compression ratio of a compression ratio with a manifold at an absolute pressure
/// in Pa and a temperature in K. `None` where it leaves every range.
pub fn equivalent_compression_ratio(ratio: f64, pressure: f64, temperature: f64) -> Option<f64> {
    let wanted = readiness(ratio.ln(), pressure, temperature);
    let short = |x: f64| (readiness(x, UNBLOWN.0, UNBLOWN.1) - wanted, 0.0);
    if !wanted.is_finite() || short(0.0).0 >= 0.0 || short(LARGEST_LN_RATIO).0 < 0.0 {
        return None;
    }
    Some(first_not_below(short, (0.0, LARGEST_LN_RATIO), ratio.ln(), 0.0).exp())
}

/// −ln of the delay at the end of compression, less a constant: rises with the ratio.
fn readiness(ln_ratio: f64, pressure: f64, temperature: f64) -> f64 {
    let [_, n, _] = COMPRESSION_EXPONENTS;
    let ln_pressure = pressure.ln() + n * ln_ratio;
    let t = temperature * ((n - 1.0) * ln_ratio).exp();
    PRESSURE_POWER * ln_pressure - ACTIVATION / t
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn an_unblown_engine_is_its_own_measure() {
        let same = equivalent_compression_ratio(10.5, UNBLOWN.0, UNBLOWN.1).unwrap();
        assert_relative_eq!(same, 10.5, max_relative = 1e-12);
    }

    #[test]
    fn boost_and_heat_raise_it_and_a_cooler_lowers_it() {
        let at = |p, t| equivalent_compression_ratio(8.8, p, t).unwrap();
        assert!(at(215e3, 330.0) > at(180e3, 330.0));
        assert!(at(215e3, 360.0) > at(215e3, 330.0));
        // The square root of the pressure ratio, a shop's rule, gives 8.8 √2.12 = 12.8.
        assert_relative_eq!(at(215e3, 313.15), 12.8, max_relative = 0.10);
    }

    /// The printed form of the delay, τ = p^−1.7 exp(3800 K/T) but for a factor (Douaud and Eyzat, SAE
    /// 780080, from memory), written out with p r^1.35 and T r^0.35 at the end of compression: the blown
    /// engine's charge and that of the unblown one with the ratio found take equally long, to the root's
    /// last digits.
    #[test]
    fn both_charges_take_equally_long_to_light() {
        let delay = |ratio: f64, p: f64, t: f64| {
            let (end_p, end_t) = (p * ratio.powf(1.35), t * ratio.powf(0.35));
            end_p.powf(-1.7) * (3800.0 / end_t).exp()
        };
        for (p, t) in [(180e3, 313.15), (250e3, 313.15), (250e3, 360.0)] {
            let found = equivalent_compression_ratio(8.8, p, t).unwrap();
            let (blown, unblown) = (delay(8.8, p, t), delay(found, 101_325.0, 313.15));
            assert_relative_eq!(blown, unblown, max_relative = 1e-9);
        }
    }

    #[test]
    fn what_is_no_number_gives_none() {
        assert_eq!(equivalent_compression_ratio(8.8, f64::NAN, 330.0), None);
        assert_eq!(equivalent_compression_ratio(8.8, 1e9, 900.0), None);
    }
}
