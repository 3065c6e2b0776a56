//! Warm and prescribed matches must not allocate: lines and sweeps make thousands of them.

use crate::{counting, installations};
use airpath::matching::{Match, Solver};
use counting::asked_so_far;

/// What a solve asks of the allocator once its buffers are there.
fn asked(name: &str, warm: bool) -> u64 {
    let installation = installations::installation(name);
    let mut solver = Solver::new(&installation).unwrap();
    let mut out = Match::default();
    let mut near = solver.solve(1490.0, &mut out).unwrap();
    near = solver.solve_near(1500.0, &near, &mut out).unwrap();
    let before = asked_so_far();
    for rpm in [1510.0, 1520.0, 1535.0] {
        near = if warm {
            solver.solve_near(rpm, &near, &mut out).unwrap()
        } else {
            solver.solve(rpm, &mut out).unwrap()
        };
    }
    asked_so_far() - before
}

#[test]
fn neither_a_warm_nor_a_prescribed_match_allocates() {
    let before = asked_so_far();
    drop(std::hint::black_box(vec![0_u8; 16]));
    assert_eq!(asked_so_far(), before + 1, "the counter counts");
    for name in [
        "truck",
        "truck with map",
        "two turbos",
        "centrifugal",
        "rated cooler",
        "core",
    ] {
        assert_eq!(asked(name, true), 0, "{name}");
    }
    assert_eq!(asked("given stages", false), 0);
    assert_eq!(asked("breathing alone", false), 0);
}
