//! Time of each lookup in the demo map, over points spread inside and around the data.

// A bench may stop at the first surprise.
#![allow(clippy::unwrap_used, missing_docs)]

#[path = "../support/recipe.rs"]
mod recipe;

use std::hint::black_box;

use airpath::map::{CompressorMap, CorrectedFlow, CorrectedSpeed, MapPoint};
use criterion::{Criterion, criterion_group, criterion_main};

/// Points at every combination of speed and place.
fn points(map: &CompressorMap, speeds: (f64, f64), places: (f64, f64)) -> Vec<MapPoint> {
    let mut points = Vec::new();
    for i in 0..32 {
        for j in 0..32 {
            let between = |(from, to): (f64, f64), k: i32| from + (to - from) * f64::from(k) / 31.0;
            points.push(
                map.at_speed_and_place(CorrectedSpeed(between(speeds, i)), between(places, j)),
            );
        }
    }
    points
}

fn lookups(criterion: &mut Criterion) {
    let map = CompressorMap::new(recipe::REFERENCE, &recipe::demo()).unwrap();
    let sets = [
        ("inside", points(&map, (42e3, 129e3), (0.02, 0.98))),
        ("around", points(&map, (15e3, 150e3), (-0.3, 1.3))),
    ];
    for (name, points) in &sets {
        let mut group = criterion.benchmark_group(*name);
        group.throughput(criterion::Throughput::Elements(points.len() as u64));
        let mut run = |lookup: &str, work: &dyn Fn(&MapPoint) -> MapPoint| {
            group.bench_function(lookup, |bencher| {
                bencher.iter(|| {
                    points
                        .iter()
                        .map(|p| work(black_box(p)).flow.0)
                        .sum::<f64>()
                });
            });
        };
        run("speed and place", &|p| {
            map.at_speed_and_place(p.speed, p.place)
        });
        run("speed and flow", &|p| {
            map.at_speed_and_flow(p.speed, p.flow)
        });
        run("speed and ratio", &|p| {
            map.at_speed_and_ratio(p.speed, p.pressure_ratio)
        });
        run("flow and ratio", &|p| {
            map.at_flow_and_ratio(CorrectedFlow(p.flow.0), p.pressure_ratio)
        });
    }
}

criterion_group!(benches, lookups);
criterion_main!(benches);
