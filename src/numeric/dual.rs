//! A number that carries its derivative (forward-mode differentiation with one variable).
//!
//! Source: the dual-number arithmetic of any text on automatic differentiation, e.g. Griewank and
//! Walther, *Evaluating Derivatives* (2008), chapter 3; from memory.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A value and its derivative with respect to the one variable under study.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dual {
    /// The value itself.
    pub value: f64,
    /// Its derivative.
    pub slope: f64,
}

impl Dual {
    /// A value with a known derivative.
    pub const fn new(value: f64, slope: f64) -> Self {
        Self { value, slope }
    }

    /// A value that does not vary.
    pub const fn constant(value: f64) -> Self {
        Self { value, slope: 0.0 }
    }

    /// The exponential function.
    #[must_use]
    pub fn exp(self) -> Self {
        let value = self.value.exp();
        Self::new(value, self.slope * value)
    }

    /// √(x² + `ease`²): the magnitude, without its kink at zero. `ease` must be above 0.
    #[must_use]
    pub fn soft_magnitude(self, ease: f64) -> Self {
        let magnitude = (self.value * self.value + ease * ease).sqrt();
        Self::new(magnitude, self.slope * self.value / magnitude)
    }
}

impl Add for Dual {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.value + other.value, self.slope + other.slope)
    }
}

impl Sub for Dual {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.value - other.value, self.slope - other.slope)
    }
}

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.value, -self.slope)
    }
}

impl Mul<f64> for Dual {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.value * factor, self.slope * factor)
    }
}

impl Mul for Dual {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let slope = self.slope * other.value + self.value * other.slope;
        Self::new(self.value * other.value, slope)
    }
}

impl Div for Dual {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        Self::new(value, (self.slope - value * other.slope) / other.value)
    }
}

#[cfg(test)]
mod tests {
    use super::Dual;

    #[test]
    fn sums_and_multiples_carry_their_slopes() {
        let x = Dual::new(3.0, 1.0);
        let y = (x * 2.0 - Dual::constant(1.0)) + (-x);
        assert_eq!(y, Dual::new(2.0, 1.0));
    }

    #[test]
    fn products_quotients_and_magnitudes_follow_the_rules_of_the_textbook() {
        let x = Dual::new(3.0, 1.0);
        assert_eq!(x * x, Dual::new(9.0, 6.0));
        let reciprocal = Dual::constant(1.0) / x;
        assert!((reciprocal.slope + 1.0 / 9.0).abs() < 1e-16);
        let magnitude = Dual::new(-3.0, 2.0).soft_magnitude(4.0);
        assert_eq!(magnitude, Dual::new(5.0, -1.2));
    }
}
