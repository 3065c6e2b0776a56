//! Whole lines of a compressor's map that their neighbours contradict: a speed written wrongly above
//! all rows of a line, or the flows of a line in another unit.
//!
//! At equal place head goes with the square of speed and flow with speed; from line to line the
//! factors of both move by a tenth.

use super::sequence::{Sequence, sequences};
use super::{Entry, Shape};
use crate::map::error::Column;

/// Head over speed squared may differ by this factor from both neighbouring lines.
const HEAD: f64 = 1.7;
/// Flow over speed, at both ends of the line.
const FLOW: f64 = 1.8;
/// Heads below this (over cp T) are lost in the reading of the ratio.
const LEAST_HEAD: f64 = 0.01;

/// A speed line that does not go with its neighbours.
#[derive(Debug, Clone, PartialEq)]
pub struct OddLine {
    /// Speed of the line, rpm.
    pub speed: f64,
    /// Its rows.
    pub rows: Vec<usize>,
    /// Speed or flow.
    pub column: Column,
    /// What the column's values of the line would have to be multiplied by.
    pub fitting_factor: f64,
}

/// The odd lines of a compressor (flow, values: head, efficiency); three lines at least are needed.
pub fn odd_lines(entries: &[Entry]) -> Vec<OddLine> {
    let lines = sequences(entries, Shape::Compressor);
    if lines.len() < 3 || lines.iter().any(|line| line.rows.len() < 2) {
        return Vec::new();
    }
    let of = |at: usize| {
        let beside = match at {
            0 => [1, 2],
            _ if at == lines.len() - 1 => [at - 2, at - 1],
            _ => [at - 1, at + 1],
        };
        let near = beside.map(|at| &lines[at]);
        odd(&lines[at], near)
    };
    let mut found: Vec<(f64, OddLine)> = (0..lines.len()).filter_map(of).collect();
    // A bad line makes its neighbour look bad too; the worst is named.
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().take(1).map(|(_, line)| line).collect()
}

fn odd(line: &Sequence, near: [&Sequence; 2]) -> Option<(f64, OddLine)> {
    let named = |column: Column, fitting_factor: f64| OddLine {
        speed: line.speed,
        rows: line.rows.iter().map(|row| row.row).collect(),
        column,
        fitting_factor,
    };
    if head(line) > LEAST_HEAD {
        let own = head(line) / line.speed.powi(2);
        let factors = near.map(|other| own * other.speed.powi(2) / head(other));
        if let Some(factor) = same_side(factors, HEAD) {
            // Too much head for its speed: the speed is too low.
            return Some((
                factor.max(1.0 / factor),
                named(Column::Speed, factor.sqrt()),
            ));
        }
    }
    let ends = |pick: fn(f64, f64) -> f64| {
        let of = |line: &Sequence| flow(line, pick).map(|flow| flow / line.speed);
        let own = of(line)?;
        let factors = [own / of(near[0])?, own / of(near[1])?];
        same_side(factors, FLOW)
    };
    let (low, high) = (ends(f64::min)?, ends(f64::max)?);
    let factor = (low * high).sqrt();
    let same = (low > 1.0) == (high > 1.0);
    same.then(|| (factor.max(1.0 / factor), named(Column::Flow, 1.0 / factor)))
}

/// The nearer to 1 of two factors that both lie beyond a limit on the same side.
fn same_side([a, b]: [f64; 2], limit: f64) -> Option<f64> {
    if a > limit && b > limit {
        Some(a.min(b))
    } else if a < 1.0 / limit && b < 1.0 / limit {
        Some(a.max(b))
    } else {
        None
    }
}

/// The second highest head where there are enough rows, so that one bad row does not tell the line's.
fn head(line: &Sequence) -> f64 {
    let mut heads: Vec<f64> = line.rows.iter().map(|row| row.values[0]).collect();
    heads.sort_by(f64::total_cmp);
    let back = if heads.len() > 2 { 2 } else { 1 };
    heads
        .get(heads.len().saturating_sub(back))
        .copied()
        .unwrap_or_default()
}

fn flow(line: &Sequence, pick: fn(f64, f64) -> f64) -> Option<f64> {
    line.rows.iter().map(|row| row.along).reduce(pick)
}
