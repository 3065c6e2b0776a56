//! The flow of a sink that no one gives: where what drives it meets the drop of the core.

use crate::numeric::root;

/// Rows of a fan: volume flow, m³/s, rising; pressure rise, Pa, falling. Straight between the rows
/// and beyond them, and level below the first.
#[derive(Debug, Clone, PartialEq)]
pub struct FanCurve {
    rows: Vec<(f64, f64)>,
}

/// Why rows are no fan. Rows count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FanError {
    /// One row is a point, and no curve.
    TooFew,
    /// A number is not finite or negative.
    NoNumber(usize),
    /// Flow has to rise and pressure to fall from row to row.
    NotFalling(usize),
}

impl FanCurve {
    /// From (volume flow in m³/s, pressure rise in Pa), flow rising and pressure falling strictly.
    pub fn new(rows: Vec<(f64, f64)>) -> Result<Self, FanError> {
        if rows.len() < 2 {
            return Err(FanError::TooFew);
        }
        for (i, &(flow, rise)) in rows.iter().enumerate() {
            if !(flow.is_finite() && rise.is_finite() && flow >= 0.0 && rise >= 0.0) {
                return Err(FanError::NoNumber(i));
            }
            if i > 0 && !(flow > rows[i - 1].0 && rise < rows[i - 1].1) {
                return Err(FanError::NotFalling(i));
            }
        }
        Ok(Self { rows })
    }

    /// Pressure rise in Pa at a volume flow in m³/s.
    pub fn rise(&self, flow: f64) -> f64 {
        if flow <= self.rows[0].0 {
            return self.rows[0].1;
        }
        let above = self.rows.partition_point(|row| row.0 <= flow);
        let above = above.min(self.rows.len() - 1);
        let ((v0, p0), (v1, p1)) = (self.rows[above - 1], self.rows[above]);
        p0 + (p1 - p0) * (flow - v0) / (v1 - v0)
    }
}

/// The mass flow in kg/s at which what drives it, falling or level with the flow, meets a drop that
/// rises from nothing; both in Pa. `guess` sets the scale. 0 where nothing drives.
pub(super) fn flow_against_drop(
    guess: f64,
    driven: impl Fn(f64) -> f64,
    drop: impl Fn(f64) -> f64,
) -> f64 {
    let left = |m: f64| driven(m) - drop(m);
    if left(0.0) <= 0.0 {
        return 0.0;
    }
    let mut high = guess;
    while left(high) > 0.0 {
        high *= 2.0;
        if high > 1e6 {
            return high;
        }
    }
    let found = root::between(0.0, high, left, 0.0, 4.0 * f64::EPSILON * high);
    found.place().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn fan() -> FanCurve {
        FanCurve::new(vec![(0.1, 300.0), (0.5, 200.0), (0.8, 50.0)]).unwrap()
    }

    #[test]
    fn a_fan_is_straight_between_its_rows_and_goes_on_beyond_them() {
        for (flow, rise) in [(0.0, 300.0), (0.3, 250.0), (0.8, 50.0), (0.9, 0.0)] {
            assert_relative_eq!(fan().rise(flow), rise, epsilon = 1e-9);
        }
    }

    #[test]
    fn rows_that_are_no_fan_are_refused() {
        let of = |rows: &[(f64, f64)]| FanCurve::new(rows.to_vec()).unwrap_err();
        assert_eq!(of(&[(0.0, 300.0)]), FanError::TooFew);
        assert_eq!(of(&[(0.0, 300.0), (0.1, 300.0)]), FanError::NotFalling(1));
        assert_eq!(of(&[(0.0, 300.0), (0.0, 200.0)]), FanError::NotFalling(1));
        assert_eq!(of(&[(0.0, f64::NAN), (0.1, 1.0)]), FanError::NoNumber(0));
    }

    /// By hand: 200 − 500 (V − 0.5) = 400 V² has V = 0.6061.
    #[test]
    fn flow_stands_where_the_fan_meets_the_drop() {
        let flow = flow_against_drop(1.0, |v| fan().rise(v), |v| 400.0 * v * v);
        assert_relative_eq!(flow, 0.60611, epsilon = 1e-5);
        assert_relative_eq!(fan().rise(flow), 400.0 * flow * flow, max_relative = 1e-12);
        assert!(flow_against_drop(1.0, |_| 0.0, |v| v).abs() < f64::EPSILON);
    }
}
