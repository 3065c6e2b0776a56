//! One stride along a branch, in steps over which the state changes little.

use crate::matching::{Match, MatchError, Neighbour, Solver};

/// Largest distance of two neighbouring states ([`Solver::distance`]): twice what the stride alone
/// makes of the flow. A larger one is stepped through in smaller strides.
const NEAR: f64 = 0.04;
/// Smallest stride, rpm. A state that is still far across it has jumped.
pub(super) const SMALLEST_STRIDE: f64 = 0.25;

/// One step along a branch.
pub(super) struct Stride<'m> {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Where the match stands.
    pub place: Neighbour,
    /// The match.
    pub found: &'m Match,
    /// Whether the state jumped here.
    pub jumped: bool,
}

/// Goes from a state (speed in rpm, place) to another speed by strides over which it changes little,
/// and tells `each` of every one. Fails where there is no match within [`SMALLEST_STRIDE`].
pub(super) fn advance(
    solver: &mut Solver,
    (mut rpm, mut place): (f64, Neighbour),
    to: f64,
    mut each: impl FnMut(&Solver, Stride),
) -> Result<(), MatchError> {
    let mut found = Match::default();
    let mut stride = to - rpm;
    loop {
        let next = if stride.abs() >= (to - rpm).abs() {
            to
        } else {
            rpm + stride
        };
        let is_smallest = stride.abs() <= SMALLEST_STRIDE;
        let followed = solver.follow(next, &place, &mut found);
        let followed = followed.filter(|there| solver.distance(there, &place) <= NEAR);
        let there = match followed {
            Some(there) => Ok(there),
            None => solver.reach(next, &place, &mut found),
        };
        let is_near = (there.as_ref()).is_ok_and(|there| solver.distance(there, &place) <= NEAR);
        match there {
            Ok(there) if is_near || is_smallest => {
                let jumped = !is_near;
                place = there;
                rpm = next;
                let found = &found;
                each(
                    solver,
                    Stride {
                        rpm,
                        place,
                        found,
                        jumped,
                    },
                );
            }
            Err(fault) if is_smallest => return Err(fault),
            _ => {
                stride *= 0.5;
                continue;
            }
        }
        if rpm.total_cmp(&to).is_eq() {
            return Ok(());
        }
        stride = (2.0 * stride).clamp(-(to - rpm).abs(), (to - rpm).abs());
    }
}
