//! Islands, speed lines and edges of a map, as points to draw.

use crate::recipe;
use airpath::map::{CompressorMap, CompressorRow, CorrectedFlow, Island, efficiency_islands};

fn demo() -> CompressorMap {
    CompressorMap::new(recipe::REFERENCE, &recipe::demo()).unwrap()
}

fn efficiency(map: &CompressorMap, (flow, ratio): (f64, f64)) -> f64 {
    map.at_flow_and_ratio(CorrectedFlow(flow), ratio).efficiency
}

#[test]
fn every_point_of_an_island_line_has_the_level() {
    let map = demo();
    let islands = efficiency_islands(&map, &[0.60, 0.70, 0.74, 0.77]);
    assert_eq!(islands.len(), 4);
    for Island { level, lines, .. } in &islands {
        assert!(!lines.is_empty(), "{level}");
        for point in lines.iter().flatten() {
            // Straight between grid points: the second difference of a cell, an eighth of it. At the
            // upright end of the invented map the slope has no bound, so that more is left.
            let miss = (efficiency(&map, *point) - level).abs();
            assert!(miss < 0.003, "{level} {point:?} {miss}");
        }
    }
}

#[test]
fn open_island_lines_end_on_an_edge_of_the_map() {
    let map = demo();
    let (slowest, fastest) = map.speeds();
    let mut open = 0;
    for island in efficiency_islands(&map, &[0.60, 0.70, 0.74]) {
        for line in island.lines {
            let (first, last) = (line[0], line[line.len() - 1]);
            if (first.0 - last.0).abs() < 1e-12 && (first.1 - last.1).abs() < 1e-12 {
                continue;
            }
            open += 1;
            for end in [first, last] {
                let point = map.at_flow_and_ratio(CorrectedFlow(end.0), end.1);
                let nearest = [
                    point.place.abs(),
                    (point.place - 1.0).abs(),
                    (point.speed.0 / slowest.0 - 1.0).abs(),
                    (point.speed.0 / fastest.0 - 1.0).abs(),
                ]
                .into_iter()
                .fold(f64::MAX, f64::min);
                // One step of the grid at most.
                assert!(nearest < 1.0 / 120.0 + 1e-9, "{point:?}");
            }
        }
    }
    assert!(open > 0);
}

#[test]
fn rings_are_closed_and_stay_within_the_map() {
    let map = demo();
    for island in efficiency_islands(&map, &[0.5, 0.65, 0.76]) {
        for ring in &island.rings {
            let (first, last) = (ring[0], ring[ring.len() - 1]);
            assert!((first.0 - last.0).abs() + (first.1 - last.1).abs() < 1e-9);
            for &(flow, ratio) in ring {
                let point = map.at_flow_and_ratio(CorrectedFlow(flow), ratio);
                assert!(point.region.distance() < 1e-6, "{point:?}");
            }
        }
    }
}

#[test]
fn a_level_above_the_best_has_no_rings_and_a_level_below_all_has_the_whole_map() {
    let map = demo();
    let islands = efficiency_islands(&map, &[0.99, 0.10, f64::NAN]);
    assert_eq!(islands.len(), 2);
    assert!(islands[0].rings.is_empty() && islands[0].lines.is_empty());
    assert_eq!(islands[1].rings.len(), 1);
    assert!(islands[1].lines.is_empty());
}

#[test]
fn a_map_of_equal_efficiency_has_no_contours_and_no_nan() {
    let flat: Vec<_> = recipe::demo()
        .into_iter()
        .map(|row| CompressorRow {
            efficiency: 0.7,
            ..row
        })
        .collect();
    let map = CompressorMap::new(recipe::REFERENCE, &flat).unwrap();
    for island in efficiency_islands(&map, &[0.69, 0.70, 0.71]) {
        let mut points = island.rings.iter().chain(&island.lines).flatten();
        assert!(points.all(|(flow, ratio)| flow.is_finite() && ratio.is_finite()));
    }
}

#[test]
fn speed_lines_and_edges_pass_through_the_rows() {
    let map = demo();
    let rows = recipe::demo();
    let lines = map.speed_lines();
    let near = |points: &[(f64, f64)], row: &CompressorRow| {
        points
            .iter()
            .any(|p| (p.0 - row.flow).abs() < 1e-9 && (p.1 - row.pressure_ratio).abs() < 1e-9)
    };
    for (line, rows) in lines.iter().zip(rows.chunks(recipe::PLACES.len())) {
        assert!(
            rows.iter().all(|row| near(&line.points, row)),
            "{:?}",
            line.speed
        );
        assert!(near(&map.surge_edge(), &rows[0]));
        assert!(near(&map.choke_edge(), &rows[rows.len() - 1]));
    }
}
