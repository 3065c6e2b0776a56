//! The root of a function between two ends of opposite sign.
//!
//! Steps by the `roots` crate's Brent method; the ends are checked before and the residual after,
//! because that method takes a jump for a root and lets NaN through.

use roots::{Convergency, find_root_brent};

/// A bracket and what was found in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bracketed {
    /// The function is within the tolerance here.
    Root(f64),
    /// The function changes its sign here by a jump.
    Jump(f64),
    /// Both ends have the same sign, or one has no value: f(low), f(high).
    NoSign(f64, f64),
}

impl Bracketed {
    /// The place, be it a root or a jump.
    pub fn place(self) -> Option<f64> {
        match self {
            Self::Root(x) | Self::Jump(x) => Some(x),
            Self::NoSign(..) => None,
        }
    }
}

/// Stops on a small residual or a bracket closed to rounding; never on the number of steps alone
/// before bisection would have closed it.
struct Closed {
    residual: f64,
    width: f64,
}

impl Convergency<f64> for Closed {
    fn is_root_found(&mut self, y: f64) -> bool {
        y.abs() <= self.residual || !y.is_finite()
    }
    fn is_converged(&mut self, x1: f64, x2: f64) -> bool {
        (x1 - x2).abs() <= self.width
    }
    fn is_iteration_limit_reached(&mut self, iteration: usize) -> bool {
        iteration >= 200
    }
}

/// Where f changes its sign between `low` and `high`. `residual`: absolute value of f that counts
/// as a root; `width`: absolute width at which the bracket counts as closed.
pub fn between(
    low: f64,
    high: f64,
    mut f: impl FnMut(f64) -> f64,
    residual: f64,
    width: f64,
) -> Bracketed {
    let (at_low, at_high) = (f(low), f(high));
    if at_low.abs() <= residual {
        return Bracketed::Root(low);
    }
    if at_high.abs() <= residual {
        return Bracketed::Root(high);
    }
    let opposite = (at_low < 0.0 && at_high > 0.0) || (at_low > 0.0 && at_high < 0.0);
    if !opposite {
        return Bracketed::NoSign(at_low, at_high);
    }
    let found = find_root_brent(low, high, &mut f, &mut Closed { residual, width });
    let x = match found {
        Ok(x) if x.is_finite() => x,
        _ => bisect(low, high, at_low, &mut f, width),
    };
    if f(x).abs() <= residual {
        Bracketed::Root(x)
    } else {
        settle(x, low, high, at_low, &mut f, residual, width)
    }
}

/// Halves the bracket until it is closed; where f has no value counts as the side of `high`.
fn bisect(
    mut low: f64,
    mut high: f64,
    at_low: f64,
    f: &mut impl FnMut(f64) -> f64,
    width: f64,
) -> f64 {
    for _ in 0..200 {
        if (high - low).abs() <= width {
            break;
        }
        let middle = 0.5 * (low + high);
        if f(middle) * at_low > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Decides between a root that was not yet reached and a jump.
fn settle(
    x: f64,
    low: f64,
    high: f64,
    at_low: f64,
    f: &mut impl FnMut(f64) -> f64,
    residual: f64,
    width: f64,
) -> Bracketed {
    let value = f(x);
    let near = bisect(low, high, at_low, f, width);
    if f(near).abs() <= residual {
        Bracketed::Root(near)
    } else if value.is_finite() && value.abs() < f(near).abs() {
        Bracketed::Jump(x)
    } else {
        Bracketed::Jump(near)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_root_is_found_to_the_residual() {
        let found = between(0.0, 2.0, |x| x * x - 2.0, 1e-13, 1e-15);
        let Bracketed::Root(x) = found else {
            panic!("{found:?}")
        };
        assert_relative_eq!(x, 2.0_f64.sqrt(), max_relative = 1e-12);
    }

    #[test]
    fn a_jump_is_not_taken_for_a_root() {
        let found = between(0.0, 3.0, |x| if x < 1.3 { -1.0 } else { 1.0 }, 1e-9, 1e-12);
        let Bracketed::Jump(x) = found else {
            panic!("{found:?}")
        };
        assert_relative_eq!(x, 1.3, epsilon = 1e-9);
    }

    #[test]
    fn ends_of_one_sign_or_without_value_are_said() {
        assert_eq!(
            between(0.0, 1.0, |x| x + 1.0, 1e-9, 1e-12),
            Bracketed::NoSign(1.0, 2.0)
        );
        assert!(matches!(
            between(0.0, 1.0, |_| f64::NAN, 1e-9, 1e-12),
            Bracketed::NoSign(..)
        ));
    }
}
