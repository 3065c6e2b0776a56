//! Newton's method for a small system of equations, with Broyden's updates between Jacobians.
//!
//! The Jacobian comes from forward differences; between two of them the inverse is updated by one
//! rank (Broyden 1965, "good" update; Dennis and Schnabel 1983, alg. A8.3.1). Steps are limited per
//! unknown and halved while the largest residual does not fall. Nothing is allocated.

/// Most unknowns a system may have.
pub const MAX_UNKNOWNS: usize = 12;

type Vector = [f64; MAX_UNKNOWNS];
type Matrix = [[f64; MAX_UNKNOWNS]; MAX_UNKNOWNS];

/// Relative step of the forward difference: near the square root of the rounding of an f64, where
/// its two errors balance.
const DIFFERENCE: f64 = 1e-7;

/// When to stop and how far to step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NewtonSettings {
    /// Largest absolute residual that counts as solved.
    pub tolerance: f64,
    /// Most evaluations of the residuals, but for a last Jacobian.
    pub evaluations: usize,
    /// Largest absolute change of any unknown in one step.
    pub largest_step: f64,
}

/// How a solution ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NewtonOutcome {
    /// Whether every residual is within the tolerance.
    pub solved: bool,
    /// Largest absolute residual at the last accepted point; infinite where none was evaluated.
    pub largest_residual: f64,
    /// Evaluations of the residuals.
    pub evaluations: usize,
    /// Whether the last evaluation was that of the point returned.
    pub ended_there: bool,
}

/// An inverse Jacobian kept from one solution to start the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InverseJacobian {
    /// Unknowns; 0 where nothing is known.
    size: usize,
    rows: Matrix,
}

impl InverseJacobian {
    /// Nothing known yet.
    pub const UNKNOWN: Self = Self {
        size: 0,
        rows: [[0.0; MAX_UNKNOWNS]; MAX_UNKNOWNS],
    };

    /// The inverse of unknowns each of which moves its own residual alone, by these changes of an
    /// unknown for a change of its residual.
    pub fn diagonal(changes: &[f64]) -> Self {
        let mut inverse = Self::UNKNOWN;
        if changes.len() <= MAX_UNKNOWNS {
            inverse.size = changes.len();
            for (i, change) in changes.iter().enumerate() {
                inverse.rows[i][i] = *change;
            }
        }
        inverse
    }

    /// The change of an unknown for a change of one residual, all other residuals held. `None`
    /// where nothing is known or the place lies outside.
    pub fn change(&self, unknown: usize, residual: usize) -> Option<f64> {
        (unknown < self.size && residual < self.size).then(|| self.rows[unknown][residual])
    }
}

/// What became of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    /// Taken; the inverse is updated.
    Taken,
    /// Taken, and a new Jacobian is due.
    Slow,
    /// Not taken.
    Refused,
}

/// The residuals with a count of their evaluations.
struct Counted<F> {
    f: F,
    used: usize,
}

impl<F: FnMut(&[f64], &mut [f64]) -> bool> Counted<F> {
    fn at(&mut self, x: &[f64], r: &mut Vector) -> bool {
        self.used += 1;
        let n = x.len();
        (self.f)(x, &mut r[..n]) && r[..n].iter().all(|value| value.is_finite())
    }
}

/// Solves f(x) = 0 from the given x, which ends on the best point found.
///
/// `f` writes as many residuals as there are unknowns and returns false where it has none to give;
/// such a point counts as no progress. Unknowns should be scaled to about 1. `inverse` may hold the
/// inverse Jacobian of a neighbouring solution and keeps the last one.
pub fn solve(
    x: &mut [f64],
    f: impl FnMut(&[f64], &mut [f64]) -> bool,
    settings: NewtonSettings,
    inverse: &mut InverseJacobian,
) -> NewtonOutcome {
    let n = x.len();
    let mut f = Counted { f, used: 0 };
    let mut r: Vector = [0.0; MAX_UNKNOWNS];
    if n > MAX_UNKNOWNS || !f.at(x, &mut r) {
        inverse.size = 0;
        return NewtonOutcome {
            solved: false,
            largest_residual: f64::INFINITY,
            evaluations: f.used,
            ended_there: false,
        };
    }
    let mut fresh = false;
    let mut ended_there = true;
    while largest(&r[..n]) > settings.tolerance && f.used < settings.evaluations {
        if inverse.size != n {
            ended_there = false;
            inverse.size = 0;
            if !differences(x, &r, &mut f, inverse) {
                break;
            }
            fresh = true;
        }
        let taken = step(x, &mut r, inverse, &settings, fresh, &mut f);
        ended_there = taken != Step::Refused;
        if taken != Step::Taken {
            inverse.size = 0;
            if fresh && taken == Step::Refused {
                break;
            }
        }
        fresh = false;
    }
    let largest_residual = largest(&r[..n]);
    NewtonOutcome {
        solved: largest_residual <= settings.tolerance,
        largest_residual,
        evaluations: f.used,
        ended_there,
    }
}

/// One damped step, and the update of the inverse that it pays for.
fn step<F: FnMut(&[f64], &mut [f64]) -> bool>(
    x: &mut [f64],
    r: &mut Vector,
    inverse: &mut InverseJacobian,
    settings: &NewtonSettings,
    fresh: bool,
    f: &mut Counted<F>,
) -> Step {
    let n = x.len();
    let mut full: Vector = [0.0; MAX_UNKNOWNS];
    for i in 0..n {
        full[i] = -dot(&inverse.rows[i], r, n);
    }
    let longest = largest(&full[..n]);
    if !longest.is_finite() {
        return Step::Refused;
    }
    let mut share = (settings.largest_step / longest).min(1.0);
    let before = largest(&r[..n]);
    // With an old inverse a poor step is better answered by a new Jacobian than by halving.
    let halvings = if fresh { 12 } else { 2 };
    for _ in 0..halvings {
        let mut trial: Vector = [0.0; MAX_UNKNOWNS];
        let mut change: Vector = [0.0; MAX_UNKNOWNS];
        for i in 0..n {
            change[i] = share * full[i];
            trial[i] = x[i] + change[i];
        }
        let mut at_trial: Vector = [0.0; MAX_UNKNOWNS];
        if f.at(&trial[..n], &mut at_trial) && largest(&at_trial[..n]) < before {
            let whole = share > 0.99;
            let slow = whole && is_slow(before, largest(&at_trial[..n]), settings.tolerance, n);
            let updated = broyden(inverse, &change, r, &at_trial, n);
            x.copy_from_slice(&trial[..n]);
            *r = at_trial;
            return if updated && !slow {
                Step::Taken
            } else {
                Step::Slow
            };
        }
        share *= 0.4;
    }
    Step::Refused
}

/// Whether a step from one largest residual to another asks for a new Jacobian: at its pace, twice
/// the evaluations that this costs would not reach the tolerance. (Updates hasten the pace.)
fn is_slow(before: f64, after: f64, tolerance: f64, n: usize) -> bool {
    (after / tolerance).ln() > 2.0 * n as f64 * (before / after).ln()
}

/// The inverse after a step `change` that moved the residuals from `before` to `after`: the good
/// Broyden update by Sherman and Morrison. False where it would be singular.
fn broyden(
    inverse: &mut InverseJacobian,
    change: &Vector,
    before: &Vector,
    after: &Vector,
    n: usize,
) -> bool {
    let rows = &mut inverse.rows;
    let mut moved: Vector = [0.0; MAX_UNKNOWNS];
    for i in 0..n {
        moved[i] = after[i] - before[i];
    }
    let mut predicted: Vector = [0.0; MAX_UNKNOWNS];
    let mut row: Vector = [0.0; MAX_UNKNOWNS];
    for i in 0..n {
        predicted[i] = dot(&rows[i], &moved, n);
        for j in 0..n {
            row[j] += change[i] * rows[i][j];
        }
    }
    let denominator = dot(change, &predicted, n);
    if denominator.abs() <= 1e-12 * dot(change, change, n) {
        return false;
    }
    for i in 0..n {
        let factor = (change[i] - predicted[i]) / denominator;
        for j in 0..n {
            rows[i][j] += factor * row[j];
        }
    }
    true
}

/// The inverse of the Jacobian at x, by forward differences (backward where f has no value ahead).
/// False where there is none.
fn differences<F: FnMut(&[f64], &mut [f64]) -> bool>(
    x: &[f64],
    r: &Vector,
    f: &mut Counted<F>,
    inverse: &mut InverseJacobian,
) -> bool {
    let n = x.len();
    let mut jacobian: Matrix = [[0.0; MAX_UNKNOWNS]; MAX_UNKNOWNS];
    for j in 0..n {
        let mut moved: Vector = [0.0; MAX_UNKNOWNS];
        moved[..n].copy_from_slice(x);
        let mut at_moved: Vector = [0.0; MAX_UNKNOWNS];
        let width = DIFFERENCE * x[j].abs().max(1.0);
        moved[j] = x[j] + width;
        if !f.at(&moved[..n], &mut at_moved) {
            moved[j] = x[j] - width;
            if !f.at(&moved[..n], &mut at_moved) {
                return false;
            }
        }
        let width = moved[j] - x[j];
        for i in 0..n {
            jacobian[i][j] = (at_moved[i] - r[i]) / width;
        }
    }
    match invert(jacobian, n) {
        Some(rows) => {
            *inverse = InverseJacobian { size: n, rows };
            true
        }
        None => false,
    }
}

/// Gauss–Jordan with partial pivoting. `None` for a singular matrix.
fn invert(mut a: Matrix, n: usize) -> Option<Matrix> {
    let mut inverse: Matrix = [[0.0; MAX_UNKNOWNS]; MAX_UNKNOWNS];
    for (i, row) in inverse.iter_mut().enumerate().take(n) {
        row[i] = 1.0;
    }
    for column in 0..n {
        let pivot =
            (column..n).max_by(|&i, &j| a[i][column].abs().total_cmp(&a[j][column].abs()))?;
        a.swap(column, pivot);
        inverse.swap(column, pivot);
        let scale = 1.0 / a[column][column];
        if !scale.is_finite() {
            return None;
        }
        for j in 0..n {
            a[column][j] *= scale;
            inverse[column][j] *= scale;
        }
        for i in (0..n).filter(|&i| i != column) {
            let factor = a[i][column];
            if factor.abs() > 0.0 {
                for j in 0..n {
                    a[i][j] -= factor * a[column][j];
                    inverse[i][j] -= factor * inverse[column][j];
                }
            }
        }
    }
    Some(inverse)
}

fn dot(a: &Vector, b: &Vector, n: usize) -> f64 {
    a[..n].iter().zip(&b[..n]).map(|(a, b)| a * b).sum()
}

fn largest(values: &[f64]) -> f64 {
    values
        .iter()
        .fold(0.0, |largest, value| largest.max(value.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const SETTINGS: NewtonSettings = NewtonSettings {
        tolerance: 1e-12,
        evaluations: 200,
        largest_step: 2.0,
    };

    /// The two curves cross at (1, 1), by inspection.
    fn curves(x: &[f64], r: &mut [f64]) -> bool {
        r[0] = x[0] * x[0] + x[1] - 2.0;
        r[1] = x[0] - x[1] * x[1];
        true
    }

    #[test]
    fn a_system_of_two_curves_is_solved_to_the_tolerance() {
        let mut x = [1.7, 0.4];
        let outcome = solve(&mut x, curves, SETTINGS, &mut { InverseJacobian::UNKNOWN });
        assert!(outcome.solved, "{outcome:?}");
        assert_relative_eq!(x[0], 1.0, epsilon = 1e-11);
        assert_relative_eq!(x[1], 1.0, epsilon = 1e-11);
    }

    #[test]
    fn a_kept_jacobian_saves_evaluations() {
        let mut kept = InverseJacobian::UNKNOWN;
        solve(&mut [1.2, 0.9], curves, SETTINGS, &mut kept);
        let with = solve(&mut [1.001, 0.999], curves, SETTINGS, &mut kept);
        let without = solve(&mut [1.001, 0.999], curves, SETTINGS, &mut {
            InverseJacobian::UNKNOWN
        });
        assert!(with.solved && with.evaluations < without.evaluations);
    }

    #[test]
    fn a_point_without_value_is_stepped_around() {
        let mut x = [4.0];
        let root = |x: &[f64], r: &mut [f64]| {
            r[0] = x[0].ln();
            x[0] > 0.0
        };
        let settings = NewtonSettings {
            largest_step: 100.0,
            ..SETTINGS
        };
        let outcome = solve(&mut x, root, settings, &mut { InverseJacobian::UNKNOWN });
        assert!(outcome.solved, "{outcome:?}");
        assert_relative_eq!(x[0], 1.0, epsilon = 1e-11);
    }

    #[test]
    fn no_root_ends_in_the_best_point_and_says_so() {
        let mut x = [3.0];
        let parabola = |x: &[f64], r: &mut [f64]| {
            r[0] = x[0] * x[0] + 1.0;
            true
        };
        let outcome = solve(&mut x, parabola, SETTINGS, &mut {
            InverseJacobian::UNKNOWN
        });
        assert!(!outcome.solved && outcome.largest_residual >= 1.0);
    }
}
