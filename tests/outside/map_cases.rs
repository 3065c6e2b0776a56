//! Faults that people have met with maps, each fixed as a kind. All rows here are invented.

use airpath::map::{
    CompressorMap, CompressorRow, CorrectedFlow, CorrectedSpeed, MapError, Reference, Region,
    Remark,
};
use approx::assert_abs_diff_eq;

const REFERENCE: Reference = Reference {
    temperature: 298.15,
    pressure: 100e3,
};

fn rows(table: &[(f64, f64, f64, f64)]) -> Vec<CompressorRow> {
    table
        .iter()
        .map(|&(speed, flow, pressure_ratio, efficiency)| CompressorRow {
            speed,
            flow,
            pressure_ratio,
            efficiency,
        })
        .collect()
}

fn map(table: &[(f64, f64, f64, f64)]) -> CompressorMap {
    CompressorMap::new(REFERENCE, &rows(table)).unwrap()
}

const BASE: &[(f64, f64, f64, f64)] = &[
    (80e3, 0.060, 1.52, 0.66),
    (80e3, 0.085, 1.50, 0.71),
    (80e3, 0.110, 1.44, 0.73),
    (80e3, 0.135, 1.33, 0.69),
    (80e3, 0.155, 1.18, 0.58),
    (100e3, 0.085, 1.93, 0.67),
    (100e3, 0.115, 1.90, 0.73),
    (100e3, 0.145, 1.80, 0.76),
    (100e3, 0.170, 1.65, 0.73),
    (100e3, 0.185, 1.52, 0.68),
    (100e3, 0.198, 1.38, 0.60),
    (120e3, 0.120, 2.52, 0.66),
    (120e3, 0.155, 2.47, 0.73),
    (120e3, 0.190, 2.33, 0.76),
    (120e3, 0.220, 2.08, 0.72),
    (120e3, 0.240, 1.70, 0.60),
];

/// Lines of 3, 6 and 4 points.
const UNEQUAL: &[(f64, f64, f64, f64)] = &[
    (80e3, 0.060, 1.52, 0.66),
    (80e3, 0.110, 1.44, 0.73),
    (80e3, 0.155, 1.18, 0.58),
    (100e3, 0.085, 1.93, 0.67),
    (100e3, 0.115, 1.90, 0.73),
    (100e3, 0.145, 1.80, 0.76),
    (100e3, 0.170, 1.65, 0.73),
    (100e3, 0.185, 1.52, 0.68),
    (100e3, 0.198, 1.38, 0.60),
    (120e3, 0.120, 2.52, 0.66),
    (120e3, 0.190, 2.33, 0.76),
    (120e3, 0.220, 2.08, 0.72),
    (120e3, 0.240, 1.70, 0.60),
];

const UPRIGHT: &[(f64, f64, f64, f64)] = &[
    (90e3, 0.085, 1.72, 0.66),
    (90e3, 0.120, 1.66, 0.74),
    (90e3, 0.150, 1.50, 0.71),
    (90e3, 0.163, 1.30, 0.62),
    (90e3, 0.163, 1.15, 0.50),
    (110e3, 0.120, 2.20, 0.66),
    (110e3, 0.160, 2.12, 0.74),
    (110e3, 0.190, 1.92, 0.73),
    (110e3, 0.205, 1.60, 0.64),
    (110e3, 0.205, 1.40, 0.57),
    (110e3, 0.205, 1.20, 0.49),
];

#[test]
fn lines_of_unequal_length_keep_their_points() {
    let map = map(UNEQUAL);
    let counts: Vec<usize> = map.lines().iter().map(|line| line.points().len()).collect();
    assert_eq!(counts, [3, 6, 4]);
    for &(speed, flow, ratio, efficiency) in UNEQUAL {
        let by_flow = map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(flow));
        let by_ratio = map.at_speed_and_ratio(CorrectedSpeed(speed), ratio);
        let by_both = map.at_flow_and_ratio(CorrectedFlow(flow), ratio);
        for point in [by_flow, by_ratio, by_both] {
            assert_abs_diff_eq!(point.speed.0, speed, epsilon = 1e-9 * speed);
            assert_abs_diff_eq!(point.flow.0, flow, epsilon = 1e-9);
            assert_abs_diff_eq!(point.pressure_ratio, ratio, epsilon = 1e-9);
            assert_abs_diff_eq!(point.efficiency, efficiency, epsilon = 1e-9);
            assert_eq!(point.region, Region::Inside, "{point:?}");
        }
    }
}

#[test]
fn each_line_keeps_its_own_surge_and_choke_flow() {
    let map = map(UNEQUAL);
    for (speed, surge, choke) in [
        (80e3, 0.060, 0.155),
        (100e3, 0.085, 0.198),
        (120e3, 0.120, 0.240),
    ] {
        let at = |place| map.at_speed_and_place(CorrectedSpeed(speed), place).flow.0;
        assert_abs_diff_eq!(at(0.0), surge, epsilon = 1e-12);
        assert_abs_diff_eq!(at(1.0), choke, epsilon = 1e-12);
    }
}

#[test]
fn below_the_lowest_line_the_nearest_line_is_carried_by_similarity() {
    let map = map(BASE);
    let speed = CorrectedSpeed(60e3);
    let point = map.at_speed_and_flow(speed, CorrectedFlow(0.0825));
    // Isentropic rise x 0.75²: 1.44^(2/7) - 1 = 0.10985, x 0.5625, + 1, ^3.5 = 1.2334.
    assert_abs_diff_eq!(point.pressure_ratio, 1.2334, epsilon = 5e-5);
    assert_abs_diff_eq!(point.efficiency, 0.73, epsilon = 1e-9);
    assert_abs_diff_eq!(
        map.at_speed_and_place(speed, 0.0).flow.0,
        0.045,
        epsilon = 1e-12
    );
    assert_abs_diff_eq!(
        map.at_speed_and_place(speed, 1.0).flow.0,
        0.11625,
        epsilon = 1e-12
    );
    assert!(matches!(point.region, Region::UnderSpeed(far) if (far - 0.25).abs() < 1e-12));
}

#[test]
fn towards_zero_speed_the_ratio_goes_to_one_and_the_flow_to_zero() {
    let map = map(BASE);
    let rest = map.at_speed_and_place(CorrectedSpeed(0.0), 0.4);
    assert_abs_diff_eq!(rest.pressure_ratio, 1.0);
    assert_abs_diff_eq!(rest.flow.0, 0.0);
    assert_abs_diff_eq!(rest.work, 0.0);
    let slow = map.at_speed_and_place(CorrectedSpeed(80.0), 0.4);
    assert!(slow.pressure_ratio - 1.0 < 1e-5 && slow.flow.0 < 2e-4);
}

#[test]
fn air_pushed_through_a_machine_that_hardly_turns_loses_pressure() {
    let map = map(BASE);
    let mut last = 1.0;
    for speed in [20e3, 10e3, 2e3, 0.0] {
        let point = map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(0.08));
        assert!(
            point.pressure_ratio < last && point.pressure_ratio > 0.5,
            "{point:?}"
        );
        assert!(point.work >= 0.0);
        last = point.pressure_ratio;
    }
}

#[test]
fn an_upright_choke_end_is_read_by_its_ratio() {
    let map = map(UPRIGHT);
    let speed = CorrectedSpeed(110e3);
    for (ratio, efficiency) in [(1.60, 0.64), (1.40, 0.57), (1.20, 0.49)] {
        let point = map.at_speed_and_ratio(speed, ratio);
        assert_abs_diff_eq!(point.flow.0, 0.205, epsilon = 1e-12);
        assert_abs_diff_eq!(point.efficiency, efficiency, epsilon = 1e-9);
    }
    assert_abs_diff_eq!(
        map.at_speed_and_ratio(speed, 1.50).flow.0,
        0.205,
        epsilon = 1e-12
    );
    // By flow the highest ratio of the upright end is the answer.
    let knee = map.at_speed_and_flow(speed, CorrectedFlow(0.205));
    assert_abs_diff_eq!(knee.pressure_ratio, 1.60, epsilon = 1e-9);
}

#[test]
fn margins_and_flags_hold_on_an_upright_choke_end() {
    let map = map(UPRIGHT);
    let speed = CorrectedSpeed(110e3);
    let inside = map.at_speed_and_flow(speed, CorrectedFlow(0.190));
    assert_abs_diff_eq!(map.margins(&inside).choke, 0.0732, epsilon = 5e-5);
    let beyond = map.at_speed_and_flow(speed, CorrectedFlow(0.210));
    assert!(beyond.pressure_ratio.is_finite() && beyond.pressure_ratio < 1.20);
    assert!(matches!(beyond.region, Region::BeyondChoke(far) if (far - 0.0244).abs() < 5e-5));
}

#[test]
fn the_two_surge_margins_are_named_by_what_is_held() {
    let map = map(BASE);
    let at_ratio = map.at_speed_and_ratio(CorrectedSpeed(100e3), 1.52);
    assert_abs_diff_eq!(at_ratio.flow.0, 0.185, epsilon = 1e-9);
    let margins = map.margins(&at_ratio);
    // (0.185 - 0.085)/0.185; the surge line passes (1.52, 0.060): (0.185 - 0.060)/0.185.
    assert_abs_diff_eq!(margins.surge_at_same_speed, 0.5405, epsilon = 5e-5);
    assert_abs_diff_eq!(margins.surge_at_same_ratio.unwrap(), 0.6757, epsilon = 5e-5);
}

/// By similarity the slowest line's surge, 0.060 kg/s at 1.52, is 0.045 kg/s at three quarters of its speed,
/// with 0.75² of its head: 1.52^(2/7) - 1 = 0.12708, x 0.5625, + 1, ^3.5 = 1.2734. Digits by hand: 5e-5 of
/// the ratio are 5e-6 kg/s.
#[test]
fn below_the_lowest_line_the_surge_line_goes_with_the_root_of_head() {
    let surge = map(BASE).surge_flow_at_ratio(1.2734).unwrap();
    assert_abs_diff_eq!(surge, 0.045, epsilon = 1e-5);
}

#[test]
fn above_the_last_point_of_the_surge_line_there_is_no_margin_at_the_same_ratio() {
    let map = map(BASE);
    let above = map.at_flow_and_ratio(CorrectedFlow(0.16), 2.8);
    assert!(matches!(above.region, Region::OverSpeed(_)));
    assert_eq!(map.margins(&above).surge_at_same_ratio, None);
}

#[test]
fn every_point_beyond_the_data_says_its_side_and_distance() {
    let map = map(BASE);
    let region = |speed, flow| {
        map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(flow))
            .region
    };
    assert_eq!(region(100e3, 0.145), Region::Inside);
    let near = |a: f64, b: f64| (a - b).abs() < 5e-5;
    assert!(matches!(region(100e3, 0.070), Region::BeyondSurge(far) if near(far, 0.1765)));
    assert!(matches!(region(100e3, 0.205), Region::BeyondChoke(far) if near(far, 0.0354)));
    assert!(matches!(region(130e3, 0.200), Region::OverSpeed(far) if near(far, 0.0833)));
    assert!(matches!(region(70e3, 0.100), Region::UnderSpeed(far) if near(far, 0.125)));
}

#[test]
fn shuffled_rows_with_one_repeat_give_the_same_map() {
    let base = map(BASE);
    let mut table: Vec<_> = BASE.iter().rev().copied().collect();
    table.swap(2, 9);
    table.push(BASE[4]);
    let shuffled = map(&table);
    assert_eq!(
        shuffled.remarks(),
        [Remark::RepeatDropped {
            kept: 11,
            dropped: 16
        }]
    );
    let at = |map: &CompressorMap| {
        map.at_speed_and_flow(CorrectedSpeed(93e3), CorrectedFlow(0.12))
            .pressure_ratio
    };
    assert_abs_diff_eq!(at(&base), at(&shuffled), epsilon = 1e-15);
}

#[test]
fn rows_that_contradict_each_other_are_both_named() {
    let mut table = BASE.to_vec();
    table.insert(8, (100e3, 0.145, 1.80, 0.69));
    let errors = CompressorMap::new(REFERENCE, &rows(&table)).unwrap_err();
    assert_eq!(
        errors,
        [MapError::Contradiction {
            first: 7,
            second: 8
        }]
    );
}

#[test]
fn every_fault_of_the_rows_comes_in_one_run() {
    let table = [
        (80e3, 0.060, 1.52, 66.0),
        (80e3, -0.085, 1.50, 0.71),
        (0.0, 0.110, 1.44, 0.73),
        (80e3, 0.135, 0.98, 0.69),
        (80e3, f64::NAN, 1.18, 0.58),
    ];
    let errors = CompressorMap::new(REFERENCE, &rows(&table)).unwrap_err();
    assert_eq!(errors.len(), 5, "{errors:?}");
    assert!(matches!(errors[4], MapError::NotFinite { row: 4, .. }));
}

#[test]
fn a_line_with_two_points_is_refused() {
    let table = [&BASE[..5], &BASE[5..7]].concat();
    let errors = CompressorMap::new(REFERENCE, &rows(&table)).unwrap_err();
    assert_eq!(
        errors,
        [MapError::TooFewPoints {
            speed: 100e3,
            rows: vec![5, 6],
            needed: 3
        }]
    );
}

#[test]
fn lines_that_cross_are_refused_with_the_place() {
    let mut table = BASE.to_vec();
    // The fastest line dives below the middle one before its choke.
    table[15] = (120e3, 0.190, 1.20, 0.60);
    table[14] = (120e3, 0.180, 1.90, 0.60);
    table[13] = (120e3, 0.170, 2.20, 0.76);
    let errors = CompressorMap::new(REFERENCE, &rows(&table)).unwrap_err();
    let found = matches!(errors[..],
        [MapError::LinesCross { flow, .. }] if flow > 0.17 && flow < 0.198);
    assert!(found, "{errors:?}");
}

#[test]
fn one_line_alone_is_a_map_by_similarity() {
    let map = map(&BASE[5..11]);
    for speed in [50e3, 100e3, 125e3] {
        let k: f64 = speed / 100e3;
        let point = map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(0.145 * k));
        let head = |ratio: f64| ratio.powf(2.0 / 7.0) - 1.0;
        assert_abs_diff_eq!(
            head(point.pressure_ratio),
            head(1.80) * k * k,
            epsilon = 1e-12
        );
        assert_abs_diff_eq!(point.efficiency, 0.76, epsilon = 1e-12);
    }
}

#[test]
fn a_line_that_turns_over_gives_the_choke_side_and_names_the_other_flow() {
    let map = map(&[
        (90e3, 0.08, 1.60, 0.66),
        (90e3, 0.11, 1.66, 0.72),
        (90e3, 0.14, 1.60, 0.73),
        (90e3, 0.17, 1.35, 0.60),
    ]);
    let point = map.at_speed_and_ratio(CorrectedSpeed(90e3), 1.63);
    assert!(point.flow.0 > 0.11 && point.flow.0 < 0.14);
    let other = point.other_flow.unwrap();
    assert!(other.0 > 0.08 && other.0 < 0.11);
    let there = map.at_speed_and_flow(CorrectedSpeed(90e3), other);
    assert_abs_diff_eq!(there.pressure_ratio, 1.63, epsilon = 1e-9);
    // Above its peak the line has no answer: the peak stands, flagged with the share that is missing.
    let above = map.at_speed_and_ratio(CorrectedSpeed(90e3), 1.70);
    assert_abs_diff_eq!(above.pressure_ratio, 1.66, epsilon = 1e-9);
    assert!(matches!(above.region, Region::BeyondSurge(far) if (far - 0.04 / 1.70).abs() < 1e-9));
}

#[test]
fn scattered_speeds_are_one_line_at_their_median() {
    let mut table = BASE.to_vec();
    for (row, scatter) in table[5..11]
        .iter_mut()
        .zip([1.002, 0.998, 1.0, 1.0, 1.001, 0.999])
    {
        let head = (row.2.powf(2.0 / 7.0) - 1.0) * scatter * scatter;
        *row = (
            row.0 * scatter,
            row.1 * scatter,
            (1.0 + head).powf(3.5),
            row.3,
        );
    }
    let scattered = map(&table);
    let said = scattered.remarks();
    assert!(
        matches!(said, [Remark::SpeedsGrouped { rows, .. }] if rows.len() == 6),
        "{said:?}"
    );
    // Rows were made by similarity from the line at 100,000, so carrying them gives it back.
    let point = scattered.at_speed_and_flow(CorrectedSpeed(100e3), CorrectedFlow(0.145));
    assert_abs_diff_eq!(point.pressure_ratio, 1.80, epsilon = 1e-9);
}
