//! Turning points of the excess between steps of the march.

use super::shaft::Shaft;
use super::step::{MarchStep, step_at};

/// Most looks for a turning point.
const TURNS: usize = 10;

/// Puts in the turning point near the last but one step, if the excess comes to zero or beyond it
/// there.
pub(super) fn add_turning_point(shaft: &mut Shaft, steps: &mut Vec<MarchStep>) {
    if let [.., a, b, c] = *steps.as_slice()
        && let Some(turned) = turning_point(shaft, &a, &b, &c)
    {
        let after = if turned.at < b.at { 2 } else { 1 };
        steps.insert(steps.len() - after, turned);
    }
}

/// A step of the other sign between three whose excess has one sign and is smallest at the middle
/// one: down the parabola through them, and where that leads nowhere by the larger half.
fn turning_point(
    shaft: &mut Shaft,
    a: &MarchStep,
    b: &MarchStep,
    c: &MarchStep,
) -> Option<MarchStep> {
    let one_sign = a.excess * b.excess > 0.0 && b.excess * c.excess > 0.0;
    let dips = b.excess.abs() < a.excess.abs() && b.excess.abs() < c.excess.abs();
    if !(one_sign && dips) {
        return None;
    }
    let (mut low, mut best, mut high) = (*a, *b, *c);
    let enough = 1e-3 * (c.at - a.at);
    for _ in 0..TURNS {
        let (left, right) = (low.at - best.at, high.at - best.at);
        if right - left < enough {
            return None;
        }
        let halved = if -left > right {
            0.5 * left
        } else {
            0.5 * right
        };
        let (e0, e1) = (low.excess - best.excess, high.excess - best.excess);
        let bottom = 2.0 * (right * e0 - left * e1);
        let dip = (right * right * e0 - left * left * e1) / bottom;
        let usable = dip > 0.9 * left && dip < 0.9 * right && dip.abs() > 0.1 * enough;
        let at = best.at + if usable { dip } else { halved };
        let step = step_at(shaft, at, &best.trial).ok()?;
        if step.excess * b.excess <= 0.0 {
            return Some(step);
        }
        let (nearer, farther) = if step.excess.abs() < best.excess.abs() {
            (step, best)
        } else {
            (best, step)
        };
        if farther.at < nearer.at {
            low = farther;
        } else {
            high = farther;
        }
        best = nearer;
    }
    None
}
