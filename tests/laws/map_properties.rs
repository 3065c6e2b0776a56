//! What must hold for any compressor map, shown on random ones.

use crate::recipe;
use airpath::map::{CompressorMap, CompressorRow, CorrectedFlow, CorrectedSpeed, MapPoint};
use proptest::prelude::*;

/// Shape of a random line: end ratio share, turn-over, upright points, point count, efficiency.
#[derive(Debug, Clone)]
struct Shape {
    points: usize,
    upright: usize,
    turn: f64,
    fall: f64,
    surge: f64,
    choke: f64,
    best: f64,
}

fn shape() -> impl Strategy<Value = Shape> {
    (
        3..10_usize,
        0..3_usize,
        -0.3..0.5_f64,
        0.2..0.9_f64,
        0.9..1.1_f64,
        0.9..1.1_f64,
        0.5..0.85_f64,
    )
        .prop_map(|(points, upright, turn, fall, surge, choke, best)| Shape {
            points,
            upright,
            turn,
            fall,
            surge,
            choke,
            best,
        })
}

/// Rows of a line: head a parabola of flow, an upright piece at the end.
fn line(speed: f64, shape: &Shape) -> Vec<CompressorRow> {
    let unit = speed / 1e5;
    let (surge, choke) = (0.09 * shape.surge * unit, 0.20 * shape.choke * unit);
    let row = |share: f64, lower: f64| {
        let head = 0.22
            * unit
            * unit
            * (1.0 + shape.turn * share - (shape.turn.max(0.0) + shape.fall) * share * share)
            * lower;
        CompressorRow {
            speed,
            flow: surge + share * (choke - surge),
            pressure_ratio: (1.0 + head).powf(3.5),
            efficiency: shape.best * (1.0 - 0.3 * (share - 0.4).powi(2)) * lower,
        }
    };
    let last = (shape.points - 1) as f64;
    let mut rows: Vec<_> = (0..shape.points)
        .map(|i| row(i as f64 / last, 1.0))
        .collect();
    rows.extend((0..shape.upright).map(|i| row(1.0, 0.8 - 0.2 * i as f64)));
    rows
}

/// Shapes as they are found together on one machine: the same number of points, slowly changing.
fn family() -> impl Strategy<Value = Vec<(Shape, f64)>> {
    let drift = (
        -0.02..0.02_f64,
        -0.02..0.02_f64,
        -0.02..0.02_f64,
        -0.02..0.02_f64,
    );
    (shape(), prop::collection::vec((drift, 1.1..1.4_f64), 1..7)).prop_map(|(first, steps)| {
        let mut shape = first;
        let step = |((turn, fall, surge, choke), step): ((f64, f64, f64, f64), f64)| {
            shape.turn += turn;
            shape.fall += fall;
            shape.surge += surge;
            shape.choke += choke;
            (shape.clone(), step)
        };
        steps.into_iter().map(step).collect()
    })
}

/// A map and the rows it came from; shown by the rows.
struct Case {
    map: CompressorMap,
    rows: Vec<CompressorRow>,
}

impl std::fmt::Debug for Case {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.rows.iter().try_for_each(|r| {
            writeln!(
                f,
                "({:?}, {:?}, {:?}, {:?}),",
                r.speed, r.flow, r.pressure_ratio, r.efficiency
            )
        })
    }
}

/// A random map of one to six lines, each of its own shape; lines that cross are drawn again.
fn any_map() -> impl Strategy<Value = Case> {
    let lines = prop::collection::vec((shape(), 1.08..1.5_f64), 1..7);
    lines.prop_filter_map("lines cross or come down to ratio 1", |lines| case(&lines))
}

/// A random map whose lines are of one family.
fn kindred_map() -> impl Strategy<Value = Case> {
    family().prop_filter_map("lines cross or come down to ratio 1", |lines| case(&lines))
}

fn case(lines: &[(Shape, f64)]) -> Option<Case> {
    let mut speed = 50e3;
    let mut rows = Vec::new();
    for (shape, step) in lines {
        rows.extend(line(speed, shape));
        speed *= step;
    }
    // Close to ratio 1 an upright end of a few ten-thousandths would hold half the efficiency: no
    // machine's, and nothing that a ratio in f64 could tell apart to 1e-9.
    if rows.iter().any(|row| row.pressure_ratio < 1.02) {
        return None;
    }
    CompressorMap::new(recipe::REFERENCE, &rows)
        .ok()
        .map(|map| Case { map, rows })
}

fn finite(point: &MapPoint) -> bool {
    let other = point.other_flow.map_or(0.0, |flow| flow.0);
    [
        point.speed.0,
        point.flow.0,
        point.pressure_ratio,
        point.efficiency,
        point.work,
        point.place,
        point.region.distance(),
        point.also.distance(),
        other,
    ]
    .iter()
    .all(|value| value.is_finite())
}

fn close(a: f64, b: f64, tolerance: f64) -> bool {
    (a - b).abs() <= tolerance * a.abs().max(b.abs())
}

/// Whether the slope of `f` jumps at `x` by more than 1 % of `size`.
///
/// The second difference over the step is the jump and what curvature adds; the latter vanishes
/// with the step, so that either is small or shrinks with it.
fn has_kink(f: impl Fn(f64) -> f64, x: f64, step: f64, size: f64) -> bool {
    let jump = |step: f64| ((f(x + step) - f(x)) - (f(x) - f(x - step))).abs() / step / size;
    jump(step) > 1e-2 && jump(0.1 * step) > 0.3 * jump(step)
}

proptest! {
    // No file of failed cases: a case that fails is shown by its rows.
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_lookup_passes_through_every_row(Case { map, rows } in kindred_map()) {
        for row in &rows {
            let speed = CorrectedSpeed(row.speed);
            let flow = CorrectedFlow(row.flow);
            let by_ratio = map.at_speed_and_ratio(speed, row.pressure_ratio);
            let by_both = map.at_flow_and_ratio(flow, row.pressure_ratio);
            let own_flow = close(by_ratio.flow.0, row.flow, 1e-9);
            let other_flow = by_ratio.other_flow.is_some_and(|other| close(other.0, row.flow, 1e-9));
            // Where a line turns over the row may be the second flow of its ratio.
            prop_assert!(own_flow || other_flow, "{row:?} {by_ratio:?}");
            prop_assert!(close(by_both.speed.0, row.speed, 1e-9), "{row:?} {by_both:?}");
            prop_assert!(close(by_both.efficiency, row.efficiency, 1e-8), "{row:?} {by_both:?}");
            prop_assert!(by_both.region.is_inside(), "{row:?} {by_both:?}");
        }
    }

    #[test]
    fn between_lines_of_one_family_flow_never_falls_along_the_line_and_nothing_overshoots(
        Case { map, .. } in kindred_map(), share in 0.0..1.0_f64
    ) {
        for pair in map.lines().windows(2) {
            let (slow, fast) = (pair[0].speed(), pair[1].speed());
            let speed = slow + share * (fast - slow);
            let mut last = 0.0;
            for i in 0..=100 {
                let place = f64::from(i) / 100.0;
                let at = |speed| map.at_speed_and_place(CorrectedSpeed(speed), place);
                let (here, a, b) = (at(speed), at(slow), at(fast));
                prop_assert!(here.flow.0 >= last * (1.0 - 1e-14), "fall {} place {place}: {here:?}", last / here.flow.0 - 1.0);
                last = here.flow.0;
                // Rounding apart, no overshoot of flow or ratio, half a point of efficiency.
                for (x, low, high, over) in [
                    (here.flow.0, a.flow.0.min(b.flow.0), a.flow.0.max(b.flow.0), 1e-12),
                    (here.pressure_ratio, a.pressure_ratio.min(b.pressure_ratio),
                        a.pressure_ratio.max(b.pressure_ratio), 1e-12),
                    (here.efficiency, a.efficiency.min(b.efficiency),
                        a.efficiency.max(b.efficiency), 0.005),
                ] {
                    prop_assert!(x >= low - over && x <= high + over, "{place} {low} {x} {high}");
                }
            }
        }
    }

    #[test]
    fn values_and_slopes_go_on_across_lines_and_edges(
        Case { map, .. } in kindred_map(), share in -0.2..1.2_f64
    ) {
        let slowest = map.lines()[0].speed();
        for line in map.lines() {
            let at = |speed| map.at_speed_and_place(CorrectedSpeed(speed), share);
            let step = 1e-6 * line.speed();
            let here = at(line.speed());
            let sizes = [here.flow.0, here.pressure_ratio, here.work].map(|v| v / line.speed());
            let kinks = [
                has_kink(|n| at(n).flow.0, line.speed(), step, sizes[0]),
                has_kink(|n| at(n).pressure_ratio, line.speed(), step, sizes[1]),
                has_kink(|n| at(n).work, line.speed(), step, sizes[2]),
            ];
            prop_assert_eq!(kinks, [false; 3], "{} rpm", line.speed());
        }
        let speed = CorrectedSpeed(slowest * (0.7 + share.abs()));
        for place in [0.0, 1.0] {
            let at = |place| map.at_speed_and_place(speed, place);
            let here = at(place);
            let kinks = [
                has_kink(|p| at(p).flow.0, place, 1e-6, here.flow.0),
                has_kink(|p| at(p).pressure_ratio, place, 1e-6, here.pressure_ratio),
                has_kink(|p| at(p).work, place, 1e-6, here.work),
            ];
            prop_assert_eq!(kinks, [false; 3], "place {}", place);
        }
    }

    #[test]
    fn the_lookups_agree_with_each_other(
        Case { map, .. } in kindred_map(), speed in 0.4..1.3_f64, place in -0.3..1.3_f64
    ) {
        let (slowest, fastest) = map.speeds();
        let speed = CorrectedSpeed(slowest.0 + (speed - 0.4) / 0.9 * (1.2 * fastest.0 - slowest.0));
        let point = map.at_speed_and_place(speed, place);
        let by_flow = map.at_speed_and_flow(speed, point.flow);
        // On an upright piece the flow alone gives its upper end; within the last digits of the flow
        // there (1e-15, whose root is the error of a place that flow stops rising at) all are one.
        let choke = map.at_speed_and_place(speed, 1.0).flow.0;
        let upright = close(point.flow.0, choke, 1e-13);
        prop_assert!(close(by_flow.flow.0, point.flow.0, 1e-12), "{point:?} {by_flow:?}");
        prop_assert!(upright || close(by_flow.pressure_ratio, point.pressure_ratio, 1e-9), "{point:?} {by_flow:?} choke {choke}");
        let by_ratio = map.at_speed_and_ratio(speed, point.pressure_ratio);
        prop_assert!(close(by_ratio.pressure_ratio, point.pressure_ratio, 1e-9), "{point:?} {by_ratio:?}");
        prop_assert!(by_ratio.flow.0 >= point.flow.0 * (1.0 - 1e-6), "{point:?} {by_ratio:?}");
        let by_both = map.at_flow_and_ratio(point.flow, point.pressure_ratio);
        prop_assert!(close(by_both.flow.0, point.flow.0, 1e-9), "{point:?} {by_both:?}");
        prop_assert!(close(by_both.pressure_ratio, point.pressure_ratio, 1e-9), "{point:?} {by_both:?}");
        if point.region.is_inside() {
            prop_assert!(close(by_both.speed.0, speed.0, 1e-9), "{point:?} {by_both:?}");
        }
    }

    #[test]
    fn no_input_gives_anything_but_numbers(
        Case { map, .. } in any_map(),
        a in prop::num::f64::ANY,
        b in prop::num::f64::ANY,
        near in (0.0..3e5_f64, 0.0..1.0_f64, 0.2..8.0_f64, -20.0..20.0_f64),
    ) {
        let (speed, flow, ratio, place) = near;
        for (speed, flow, ratio, place) in
            [(speed, flow, ratio, place), (a, b, b, b), (a, b, a, a), (speed, b, b, b), (a, flow, ratio, place)]
        {
            let points = [
                map.at_speed_and_place(CorrectedSpeed(speed), place),
                map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(flow)),
                map.at_speed_and_ratio(CorrectedSpeed(speed), ratio),
                map.at_flow_and_ratio(CorrectedFlow(flow), ratio),
            ];
            for point in points {
                prop_assert!(finite(&point), "{speed} {flow} {ratio} {place}: {point:?}");
                let margins = map.margins(&point);
                let same_ratio = margins.surge_at_same_ratio.unwrap_or(0.0);
                prop_assert!(same_ratio.is_finite() && margins.surge_at_same_speed.is_finite());
                prop_assert!(margins.choke.is_finite());
            }
        }
    }
}

/// Largest error of ratio and efficiency of a map of the recipe over its middle, at given flow.
fn recipe_error(lines: u32, points: u32) -> (f64, f64) {
    let between =
        |from: f64, to: f64, i: u32, n: u32| from + (to - from) * f64::from(i) / f64::from(n);
    let speeds: Vec<f64> = (0..=lines)
        .map(|i| between(60e3, 110e3, i, lines))
        .collect();
    // The choke end is left out: there the recipe's efficiency has an endless slope.
    let shares: Vec<f64> = (0..=points).map(|i| between(0.0, 0.8, i, points)).collect();
    let map =
        CompressorMap::new(recipe::REFERENCE, &recipe::rows(0.078, &speeds, &shares)).unwrap();
    let (mut ratio, mut efficiency) = (0.0_f64, 0.0_f64);
    for i in 0..=40 {
        for j in 0..=40 {
            // Away from the outermost lines, where slopes are one-sided.
            let speed = between(78e3, 92e3, i, 40);
            let row = recipe::row(0.078, speed, between(0.1, 0.7, j, 40));
            let point = map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(row.flow));
            ratio = ratio.max((point.pressure_ratio - row.pressure_ratio).abs());
            efficiency = efficiency.max((point.efficiency - row.efficiency).abs());
        }
    }
    (ratio, efficiency)
}

#[test]
fn the_error_falls_with_more_points_at_second_order_or_better() {
    let errors: Vec<_> = [5, 10, 20, 40].map(|n| recipe_error(n, n)).to_vec();
    println!("{errors:?}");
    for pair in errors.windows(2) {
        println!(
            "orders {:.2} {:.2}",
            (pair[0].0 / pair[1].0).log2(),
            (pair[0].1 / pair[1].1).log2()
        );
    }
    let order = |of: fn(&(f64, f64)) -> f64| (of(&errors[0]) / of(&errors[3])).log2() / 3.0;
    assert!(order(|e| e.0) > 1.8 && order(|e| e.1) > 1.8, "{errors:?}");
}

#[test]
fn the_demo_map_is_read_and_serves_its_own_rows() {
    let rows = recipe::demo();
    let map = CompressorMap::new(recipe::REFERENCE, &rows).unwrap();
    assert!(map.remarks().is_empty());
    for row in &rows {
        let point = map.at_flow_and_ratio(CorrectedFlow(row.flow), row.pressure_ratio);
        assert!(close(point.speed.0, row.speed, 1e-9), "{row:?} {point:?}");
        assert!(
            close(point.efficiency, row.efficiency, 1e-9),
            "{row:?} {point:?}"
        );
    }
}
