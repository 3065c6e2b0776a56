//! How long matches take: `cargo bench`.

// A bench of an invented build that has no match is to stop.
#![allow(clippy::unwrap_used)]

#[path = "../support/installations.rs"]
mod installations;
#[path = "../support/recipe.rs"]
mod recipe;

use airpath::air_path::{Arrangement, Side};
use airpath::matching::{Match, Solver};
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;

fn one_match(c: &mut Criterion, name: &str) {
    let installation = installations::installation(name);
    let mut solver = Solver::new(&installation).unwrap();
    let mut out = Match::default();
    for rpm in [1500.0, 2300.0, 2900.0] {
        c.bench_function(&format!("{name}, {rpm} rpm, cold"), |b| {
            b.iter(|| solver.solve(black_box(rpm), &mut out).unwrap());
        });
        let near = solver.solve(rpm - 20.0, &mut out).unwrap();
        c.bench_function(&format!("{name}, {rpm} rpm, from 20 rpm below"), |b| {
            b.iter(|| solver.solve_near(black_box(rpm), &near, &mut out).unwrap());
        });
    }
}

fn a_line(c: &mut Criterion, name: &str) {
    let installation = installations::installation(name);
    let mut out = Match::default();
    c.bench_function(&format!("{name}, line of 100 points from rest"), |b| {
        b.iter(|| {
            let mut solver = Solver::new(&installation).unwrap();
            for k in 0..100 {
                let rpm = 1200.0 + 2000.0 * f64::from(k) / 99.0;
                solver.solve(black_box(rpm), &mut out).unwrap();
            }
        });
    });
}

fn matching(c: &mut Criterion) {
    let given = installations::installation("given stages");
    let mut solver = Solver::new(&given).unwrap();
    let mut out = Match::default();
    c.bench_function("given stages, 2000 rpm", |b| {
        b.iter(|| solver.solve(black_box(2000.0), &mut out).unwrap());
    });
    for name in ["truck", "truck with map"] {
        one_match(c, name);
        a_line(c, name);
    }
    for name in ["rated cooler", "core"] {
        one_match(c, name);
    }
    let crossflow = Arrangement::CrossflowUnmixed;
    for units in [0.5, 2.0, 5.0] {
        c.bench_function(&format!("effectiveness of crossflow, NTU {units}"), |b| {
            b.iter(|| crossflow.effectiveness(black_box(units), black_box(0.6), Side::Charge));
        });
    }
}

criterion_group!(benches, matching);
criterion_main!(benches);
