//! Lookups in a map must not allocate: the solver makes thousands of them for one point.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used)]

mod support;

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

use airpath::map::{CompressorMap, CorrectedFlow, CorrectedSpeed};
use support::recipe;

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

#[test]
fn no_lookup_allocates_inside_or_outside_the_data() {
    let map = CompressorMap::new(recipe::REFERENCE, &recipe::demo()).unwrap();
    let before = COUNT.with(Cell::get);
    // That the counter counts at all.
    drop(std::hint::black_box(vec![0_u8; 16]));
    assert_eq!(COUNT.with(Cell::get), before + 1);
    let mut sum = 0.0;
    for speed in [0.0, 20e3, 40e3, 77e3, 130e3, 150e3].map(CorrectedSpeed) {
        for flow in [0.01, 0.1, 0.2, 0.3, 0.5].map(CorrectedFlow) {
            for ratio in [0.8, 1.0, 1.4, 2.2, 6.0] {
                let points = [
                    map.at_speed_and_flow(speed, flow),
                    map.at_speed_and_ratio(speed, ratio),
                    map.at_flow_and_ratio(flow, ratio),
                    map.at_speed_and_place(speed, ratio - 1.0),
                ];
                sum += points
                    .map(|point| map.margins(&point).choke)
                    .iter()
                    .sum::<f64>();
            }
        }
    }
    assert_eq!(COUNT.with(Cell::get), before + 1);
    assert!(sum.is_finite());
}
