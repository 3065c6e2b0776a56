//! Warm and prescribed matches must not allocate: lines and sweeps make thousands of them.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used)]

#[path = "support/installations.rs"]
mod installations;
#[path = "support/recipe.rs"]
mod recipe;

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

use airpath::matching::{Match, Solver};

/// The system's allocator, counting what the thread that asks has asked for.
struct Counting;

thread_local! {
    static COUNT: Cell<u64> = const { Cell::new(0) };
}

// SAFETY: every call is handed on unchanged to the system's allocator.
#[allow(unsafe_code)]
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        COUNT.with(|count| count.set(count.get() + 1));
        unsafe { System.alloc(layout) }
    }
    unsafe fn dealloc(&self, memory: *mut u8, layout: Layout) {
        unsafe { System.dealloc(memory, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

/// What a solve asks of the allocator once its buffers are there.
fn asked(name: &str, warm: bool) -> u64 {
    let installation = installations::installation(name);
    let mut solver = Solver::new(&installation).unwrap();
    let mut out = Match::default();
    let mut near = solver.solve(1490.0, &mut out).unwrap();
    near = solver.solve_near(1500.0, &near, &mut out).unwrap();
    let before = COUNT.with(Cell::get);
    for rpm in [1510.0, 1520.0, 1535.0] {
        near = if warm {
            solver.solve_near(rpm, &near, &mut out).unwrap()
        } else {
            solver.solve(rpm, &mut out).unwrap()
        };
    }
    COUNT.with(Cell::get) - before
}

#[test]
fn neither_a_warm_nor_a_prescribed_match_allocates() {
    let before = COUNT.with(Cell::get);
    drop(std::hint::black_box(vec![0_u8; 16]));
    assert_eq!(COUNT.with(Cell::get), before + 1, "the counter counts");
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
