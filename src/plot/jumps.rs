//! Where lines jump: at a fold the matches of two neighbouring speeds lie on different branches, and
//! nothing lies between them. A line ends there, a thin dashed connector leads to where it goes on,
//! and the word "jump" stands beside it.

/// Two neighbouring speeds between which a line jumps, in units of the level axis' SI; for a map the
/// engine speeds, rpm.
pub type Jump = (f64, f64);

/// Whether one of the jumps lies between two neighbouring places.
pub(crate) fn between(jumps: &[Jump], from: f64, to: f64) -> bool {
    let [low, high] = if from <= to { [from, to] } else { [to, from] };
    let touching = 1e-9 * high.abs().max(low.abs());
    jumps.iter().any(|&(a, b)| {
        let (start, end) = (a.min(b).max(low), a.max(b).min(high));
        end - start > touching
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jump_lies_between_its_own_two_speeds_and_no_others() {
        let jumps = [(2310.0, 2311.0)];
        assert!(between(&jumps, 2310.0, 2311.0) && between(&jumps, 2311.0, 2310.0));
        assert!(!between(&jumps, 2300.0, 2310.0) && !between(&jumps, 2311.0, 2400.0));
        assert!(!between(&[], 2310.0, 2311.0));
        // Where a row of the line is left out, its neighbours stand for it.
        assert!(between(&jumps, 2300.0, 2400.0) && between(&jumps, 2310.0, 2400.0));
    }
}
