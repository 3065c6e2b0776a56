//! cp, h and s° from one set of nine coefficients, and the joint of two sets.

use super::species::Coefficients;

/// Lowest temperature of the data, K.
pub const LOWEST_TEMPERATURE: f64 = 200.0;
/// Highest temperature of the data, K.
pub const HIGHEST_TEMPERATURE: f64 = 6000.0;
/// Where the two ranges meet, K.
pub(super) const JOINT: f64 = 1000.0;

/// cp, h and s° in the unit of the coefficients (per kelvin, times one for h): over R for the
/// species table, J/(kg K) and J/kg for a mixture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ThermalValues {
    /// Heat capacity at constant pressure.
    pub cp: f64,
    /// Enthalpy.
    pub h: f64,
    /// Entropy at the reference pressure.
    pub s: f64,
}

/// NASA/TP-2002-211556, equations 1 to 3, at a temperature in K.
#[inline]
pub(super) fn evaluate(c: &Coefficients, t: f64) -> ThermalValues {
    let [a1, a2, a3, a4, a5, a6, a7, b1, b2] = *c;
    let inverse = 1.0 / t;
    let ln_t = t.ln();
    let cp = (a1 * inverse + a2) * inverse + a3 + t * (a4 + t * (a5 + t * (a6 + t * a7)));
    let h = -a1 * inverse
        + a2 * ln_t
        + b1
        + t * (a3 + t * (a4 / 2.0 + t * (a5 / 3.0 + t * (a6 / 4.0 + t * a7 / 5.0))));
    let s = -(a1 * inverse / 2.0 + a2) * inverse
        + a3 * ln_t
        + b2
        + t * (a4 + t * (a5 / 2.0 + t * (a6 / 3.0 + t * a7 / 4.0)));
    ThermalValues { cp, h, s }
}

/// Two ranges joined at 1000 K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Joined {
    lower: Coefficients,
    upper: Coefficients,
}

impl Joined {
    /// Joins two ranges: the constants of the upper one are shifted so that h and s° meet exactly,
    /// and those of both so that h is 0 at `zero` kelvin (within the lower range).
    pub fn new(mut lower: Coefficients, mut upper: Coefficients, zero: f64) -> Self {
        lower[7] -= evaluate(&lower, zero).h;
        let below = evaluate(&lower, JOINT);
        let above = evaluate(&upper, JOINT);
        upper[7] += below.h - above.h;
        upper[8] += below.s - above.s;
        Self { lower, upper }
    }

    /// Whether two temperatures in K lie on one side of the joint.
    pub fn is_one_range(a: f64, b: f64) -> bool {
        (a < JOINT) == (b < JOINT)
    }

    /// Values at a temperature in K, not checked for its range.
    #[inline]
    pub fn at(&self, t: f64) -> ThermalValues {
        evaluate(if t < JOINT { &self.lower } else { &self.upper }, t)
    }
}
