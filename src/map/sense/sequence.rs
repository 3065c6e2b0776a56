//! The rows of each speed line in their running order, and a row that breaks the order of the file.
//!
//! Rows may stand in any order. In most files they stand in order of flow, and then a single row that
//! breaks it tells of a slip even where the line lies so flat that the row would be on the curve.

use super::tolerance::factor;
use super::{Entry, Shape};
use crate::map::{grouping, head};

/// Steps back within this factor are scatter, not disorder.
const SCATTER: f64 = 1.1;
/// A row out of order by less than this factor is none.
const LEAST_FACTOR: f64 = 1.3;
/// A line is carried on past its end by no more than this factor.
const LARGEST_STEP: f64 = 1.5;
/// How much smoother the file's order has to be (as a share of the largest values) than the order of
/// flow for a slip, and how much rougher for a row that was merely moved.
const CLEAR: f64 = 0.03;

/// One speed line.
#[derive(Debug, Clone)]
pub(super) struct Sequence {
    /// Speed, rpm.
    pub(super) speed: f64,
    /// Its rows by what runs along, lowest first. Where the file has them in order, in that order.
    pub(super) rows: Vec<Entry>,
}

/// A row that stands where its own figure does not belong.
#[derive(Debug, Clone, Copy)]
pub(super) struct OutOfOrder {
    pub(super) entry: Entry,
    /// What would fit its place in the file.
    pub(super) fitting: f64,
    pub(super) factor: f64,
    pub(super) is_certain: bool,
}

/// The lines by rising speed, in the file's order where that runs one way.
pub(super) fn sequences(entries: &[Entry], shape: Shape) -> Vec<Sequence> {
    let speeds: Vec<(usize, f64)> = entries
        .iter()
        .map(|entry| entry.speed)
        .enumerate()
        .collect();
    let groups = grouping::by_speed(&speeds, shape.rows_per_line());
    let line = |group: grouping::Group| {
        let mut rows: Vec<Entry> = group.rows.iter().map(|&at| entries[at]).collect();
        rows.sort_by_key(|entry| entry.row);
        if !runs_one_way(&rows) {
            rows.sort_by(|a, b| a.along.total_cmp(&b.along));
        } else if rows.first().map(|row| row.along) > rows.last().map(|row| row.along) {
            rows.reverse();
        }
        Sequence {
            speed: group.speed,
            rows,
        }
    };
    groups.into_iter().map(line).collect()
}

/// Rows that break the order of the file, where the file as a whole has one.
pub(super) fn out_of_order(entries: &[Entry], shape: Shape) -> Vec<OutOfOrder> {
    let speeds: Vec<(usize, f64)> = entries
        .iter()
        .map(|entry| entry.speed)
        .enumerate()
        .collect();
    let groups = grouping::by_speed(&speeds, shape.rows_per_line());
    let mut found = Vec::new();
    let lines = groups.len();
    for group in groups {
        let mut rows: Vec<Entry> = group.rows.iter().map(|&at| entries[at]).collect();
        rows.sort_by_key(|entry| entry.row);
        if runs_one_way(&rows) {
            continue;
        }
        match culprit(&rows, shape) {
            Disorder::None => return Vec::new(),
            other => found.push(other),
        }
    }
    if found.len() * 2 > lines.max(2) {
        return Vec::new();
    }
    let one = |disorder| match disorder {
        Disorder::Slip(one) => Some(one),
        Disorder::Moved | Disorder::None => None,
    };
    found.into_iter().filter_map(one).collect()
}

/// Whether what runs along never steps back, against the way of most steps, by more than scatter.
fn runs_one_way(rows: &[Entry]) -> bool {
    first_break(rows).is_none()
}

/// The first row from which what runs along steps back.
fn first_break(rows: &[Entry]) -> Option<usize> {
    let steps = || rows.windows(2).map(|pair| pair[1].along / pair[0].along);
    let rising = steps().filter(|step| *step > 1.0).count();
    let falling = steps().filter(|step| *step < 1.0).count();
    steps().position(|step| {
        if rising >= falling {
            step <= 1.0 / SCATTER
        } else {
            step >= SCATTER
        }
    })
}

/// What a line that does not run one way is in.
enum Disorder {
    /// No order at all.
    None,
    /// In order but for a row that was moved, or that is hardly out of place.
    Moved,
    /// In order but for a row whose own figure is off.
    Slip(OutOfOrder),
}

/// Looks for the row without which the others run one way: the one farthest from its place.
fn culprit(rows: &[Entry], shape: Shape) -> Disorder {
    // One of the two rows beside the first step back.
    let first = first_break(rows).unwrap_or_default();
    let candidates = [first, first + 1].into_iter().filter_map(|at| {
        let mut rest = rows.to_vec();
        let entry = rest.remove(at);
        if !runs_one_way(&rest) {
            return None;
        }
        let fitting = expected(&rest, at)?;
        let factor = factor(entry.along, fitting);
        Some((entry, fitting, factor, rest))
    });
    // The right one to take out is far from its place and leaves no leap among the others.
    let score = |one: &(Entry, f64, f64, Vec<Entry>)| one.2 / largest_step(&one.3);
    let farthest = candidates.max_by(|a, b| score(a).total_cmp(&score(b)));
    let Some((entry, fitting, factor, rest)) = farthest else {
        return Disorder::None;
    };
    if factor < LEAST_FACTOR {
        return Disorder::Moved;
    }
    // A row that was moved fits its neighbours by flow, one with a slip those in the file.
    let mut by_flow = rest.clone();
    by_flow.push(entry);
    by_flow.sort_by(|a, b| a.along.total_cmp(&b.along));
    let gain = roughness(&by_flow, shape) - roughness(rows, shape);
    if gain < -2.0 * CLEAR {
        return Disorder::Moved;
    }
    Disorder::Slip(OutOfOrder {
        entry,
        fitting,
        factor,
        is_certain: gain > CLEAR,
    })
}

/// What would fit a place among the other rows: between its neighbours, or carried on past the end.
fn expected(rest: &[Entry], at: usize) -> Option<f64> {
    let along = |at: usize| rest.get(at).map(|row| row.along);
    if let (Some(before), Some(after)) = (at.checked_sub(1).and_then(along), along(at)) {
        return Some((before * after).sqrt());
    }
    let (near, far) = if at == 0 {
        (along(0)?, along(1)?)
    } else {
        (along(at - 1)?, along(at.checked_sub(2)?)?)
    };
    let step = (near / far).clamp(1.0 / LARGEST_STEP, LARGEST_STEP);
    Some(near * step)
}

fn largest_step(rows: &[Entry]) -> f64 {
    let steps = rows.windows(2);
    steps
        .map(|pair| factor(pair[1].along, pair[0].along))
        .fold(1.0, f64::max)
}

/// How much the two values go up and down along a row of rows, as a share of the largest. Head counts
/// by its pressure ratio: that is what scatters by a share of itself.
fn roughness(rows: &[Entry], shape: Shape) -> f64 {
    let value = |row: &Entry, column: usize| match (shape, column) {
        (Shape::Compressor, 0) => head::to_ratio(row.values[0]),
        _ => row.values[column],
    };
    let of = |column: usize| {
        let values = || rows.iter().map(|row| value(row, column));
        let largest = values().fold(f64::MIN_POSITIVE, f64::max);
        let pairs = rows.windows(2);
        let steps = pairs.map(|pair| (value(&pair[1], column) - value(&pair[0], column)).abs());
        steps.sum::<f64>() / largest
    };
    of(0) + of(1)
}
