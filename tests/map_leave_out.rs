//! Left-out readings of an open compressor map, against the lines interpolated without them.
//!
//! The map and its licence stand in tests/reference/maps/axial_pr3_compressor.csv; the same measure with
//! SciPy's interpolators is made by tests/reference/map_leave_out.py.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used)]

use airpath::map::{CompressorMap, CompressorRow, CorrectedSpeed, Reference};

const MAP: &str = include_str!("reference/maps/axial_pr3_compressor.csv");
const SCIPY: &str = include_str!("reference/map_leave_out_scipy.csv");
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
