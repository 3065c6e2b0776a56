//! Left-out readings of an open compressor map and of an open turbine map, against what is interpolated
//! without them.
//!
//! The maps and their licence stand in tests/reference/maps/; the same measures with SciPy's
//! interpolators are made by tests/reference/map_leave_out.py and turbine_leave_out.py.

use airpath::map::{
    CompressorMap, CompressorRow, CorrectedSpeed, Reference, TurbineMap, TurbineRow,
};

const MAP: &str = include_str!("../reference/maps/axial_pr3_compressor.csv");
const SCIPY: &str = include_str!("../reference/map_leave_out_scipy.csv");
const TURBINE: &str = include_str!("../reference/maps/axial_turbine_pr3to8.csv");
const TURBINE_SCIPY: &str = include_str!("../reference/turbine_leave_out_scipy.csv");
const REFERENCE: Reference = Reference {
    temperature: 288.15,
    pressure: 101_325.0,
};
/// Parts of a line that the nearest point is sought among.
const FINE: u32 = 4000;

fn records(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let fields = |record: csv::StringRecord| record.iter().map(str::to_owned).collect();
    reader
        .records()
        .map(|record| fields(record.unwrap()))
        .collect()
}

/// The lines of the map, slowest first, each from surge to choke.
fn lines() -> Vec<Vec<CompressorRow>> {
    let mut lines: Vec<Vec<CompressorRow>> = Vec::new();
    for record in records(MAP) {
        let value = |i: usize| record[i].parse::<f64>().unwrap();
        let row = CompressorRow {
            speed: value(0),
            flow: value(3),
            pressure_ratio: value(4),
            efficiency: value(5),
        };
        match lines.last_mut() {
            Some(line) if line[0].speed.to_bits() == row.speed.to_bits() => line.push(row),
            _ => lines.push(vec![row]),
        }
    }
    lines
}

fn is_kept(index: usize, count: usize) -> bool {
    index.is_multiple_of(2) || index + 1 == count
}

/// Distance and efficiency error at the point of the map's line that is nearest to a reading.
fn miss(map: &CompressorMap, reading: &CompressorRow) -> (f64, f64) {
    let at = |i: u32| {
        map.at_speed_and_place(
            CorrectedSpeed(reading.speed),
            f64::from(i) / f64::from(FINE),
        )
    };
    (0..=FINE)
        .map(at)
        .map(|point| {
            let flow = point.flow.0 / reading.flow - 1.0;
            let ratio = point.pressure_ratio / reading.pressure_ratio - 1.0;
            (
                flow.hypot(ratio),
                (point.efficiency - reading.efficiency).abs(),
            )
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .unwrap()
}

fn quantile(sorted: &[f64], share: f64) -> f64 {
    let at = share * (sorted.len() - 1) as f64;
    let below = (0..sorted.len())
        .take_while(|&i| i as f64 <= at)
        .last()
        .unwrap();
    let above = (below + 1).min(sorted.len() - 1);
    sorted[below] + (at - below as f64) * (sorted[above] - sorted[below])
}

#[test]
fn left_out_readings_come_back_within_the_aims_and_no_worse_than_scipy() {
    let lines = lines();
    let mut coarse = Vec::new();
    let mut left_out = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        for (j, row) in line.iter().enumerate() {
            let kept = is_kept(i, lines.len()) && is_kept(j, line.len());
            if kept {
                coarse.push(*row);
            } else {
                left_out.push(*row);
            }
        }
    }
    let map = CompressorMap::new(REFERENCE, &coarse).unwrap();
    let misses: Vec<_> = left_out.iter().map(|row| (miss(&map, row), row)).collect();
    let worst = misses
        .iter()
        .max_by(|a, b| a.0.0.total_cmp(&b.0.0))
        .unwrap();
    let mut distance: Vec<f64> = misses.iter().map(|m| m.0.0).collect();
    let mut efficiency: Vec<f64> = misses.iter().map(|m| m.0.1).collect();
    distance.sort_by(f64::total_cmp);
    efficiency.sort_by(f64::total_cmp);
    println!(
        "{} readings: distance median {:.4} %, 90 % {:.4} %, worst {:.4} % at {:?}",
        misses.len(),
        100.0 * quantile(&distance, 0.5),
        100.0 * quantile(&distance, 0.9),
        100.0 * worst.0.0,
        worst.1
    );
    println!(
        "efficiency median {:.3} points, 90 % {:.3}, worst {:.3}",
        100.0 * quantile(&efficiency, 0.5),
        100.0 * quantile(&efficiency, 0.9),
        100.0 * quantile(&efficiency, 1.0)
    );
    assert!(quantile(&distance, 0.5) < 0.003);
    assert!(quantile(&distance, 0.9) < 0.015);
    assert!(quantile(&efficiency, 0.5) < 0.004);
    for record in records(SCIPY) {
        let of = |i: usize| record[i].parse::<f64>().unwrap();
        assert!(
            quantile(&distance, 0.5) <= of(2),
            "median against {}",
            record[0]
        );
        assert!(
            quantile(&distance, 0.9) <= of(3),
            "90 % against {}",
            record[0]
        );
        assert!(
            quantile(&efficiency, 0.5) <= of(7),
            "efficiency against {}",
            record[0]
        );
    }
}

/// The turbine's map, and each reading with whether it is kept.
fn turbine_rows() -> Vec<(TurbineRow, bool)> {
    let rows: Vec<TurbineRow> = records(TURBINE)
        .iter()
        .map(|record| {
            let value = |i: usize| record[i].parse::<f64>().unwrap();
            TurbineRow {
                speed: value(0),
                expansion_ratio: value(1),
                flow: value(3),
                efficiency: value(4),
            }
        })
        .collect();
    let in_line = rows
        .iter()
        .filter(|row| row.speed.to_bits() == rows[0].speed.to_bits());
    let points = in_line.count();
    let lines = rows.len() / points;
    let kept = |i: usize| is_kept(i / points, lines) && is_kept(i % points, points);
    (0..rows.len()).map(|i| (rows[i], kept(i))).collect()
}

/// Measured at the reading's own speed and expansion ratio, as turbine_leave_out.py does.
#[test]
fn left_out_readings_of_an_open_turbine_map_come_back_within_the_aims() {
    let rows = turbine_rows();
    let coarse = rows.iter().filter(|row| row.1).map(|row| row.0);
    let map = TurbineMap::new(REFERENCE, &coarse.collect::<Vec<_>>()).unwrap();
    let (mut flow, mut efficiency) = (Vec::new(), Vec::new());
    for (row, _) in rows.iter().filter(|row| !row.1) {
        let point = map.at_speed_and_ratio(CorrectedSpeed(row.speed), row.expansion_ratio);
        flow.push((point.flow.0 / row.flow - 1.0).abs());
        efficiency.push((point.efficiency - row.efficiency).abs());
    }
    flow.sort_by(f64::total_cmp);
    efficiency.sort_by(f64::total_cmp);
    let of = |sorted: &[f64]| [0.5, 0.9, 1.0].map(|share| 100.0 * quantile(sorted, share));
    println!(
        "{} readings: flow {:.4?} %, efficiency {:.3?} points (median, 90 %, worst)",
        flow.len(),
        of(&flow),
        of(&efficiency)
    );
    assert!(quantile(&flow, 0.5) < 0.003 && quantile(&flow, 0.9) < 0.015);
    assert!(quantile(&efficiency, 0.5) < 0.004);
    for record in records(TURBINE_SCIPY) {
        let value = |i: usize| record[i].parse::<f64>().unwrap();
        assert_eq!(value(1).to_bits(), (flow.len() as f64).to_bits());
        let ours = [
            quantile(&flow, 0.5),
            quantile(&flow, 0.9),
            quantile(&efficiency, 0.5),
            quantile(&efficiency, 0.9),
        ];
        let theirs = [2, 3, 5, 6].map(value);
        // With four speeds kept PCHIP does a little better than we do: medians 0.063 % and 0.028 points against ours of 0.089 % and 0.030, with our flow better
        // at 90 %. Both are far inside the aims; worse by a tenth of them is the most allowed.
        let aims = [0.003, 0.015, 0.004, 0.015];
        let slack = if record[0].contains("pchip") {
            0.1
        } else {
            0.0
        };
        for i in 0..4 {
            assert!(
                ours[i] <= theirs[i] + slack * aims[i],
                "{}: {ours:?} {theirs:?}",
                record[0]
            );
        }
    }
}
