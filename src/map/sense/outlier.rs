//! Single rows that stand a factor away from their neighbours.
//!
//! The worst row is taken out and the others are looked at anew, so that a bad row does not make its
//! neighbours look bad. A value is held against the two rows beside it on its line ([`along`]); what
//! runs along a line against the rows beside it and against the neighbouring lines ([`ends`],
//! `sequence`); a turbine's flow also against the neighbouring lines at the same
//! expansion ratio ([`across`]); a speed that no other row has against the rows before and after it in
//! the file ([`lonely`]).

use super::sequence::{self, Sequence};
use super::tolerance::{Tolerance, factor};
use super::{Doubt, Entry, Shape};
use crate::map::error::Column;
use crate::map::head;

/// More rows than this are not looked for.
const MOST: usize = 12;
/// A speed that stands alone is a slip from this factor on; below, it may be a line of its own.
const LONELY: f64 = 1.15;
/// Speeds within this share are one line's.
const SAME: f64 = 0.02;
/// How far the last row of a line may lie beyond its neighbour and beyond the neighbouring lines.
const LAST_GAP: f64 = 1.6;
/// How far the first row may: some lines are measured almost to no flow.
const FIRST_GAP: f64 = 2.4;
/// From here on the first row cannot be meant.
const FIRST_IMPOSSIBLE: f64 = 3.0;
/// The gap that cannot be meant where there is no other line.
const ONLY_LINE_GAP: f64 = 4.0;
/// Pressure ratios within this factor are one and the same, whatever their heads.
const LEAST_RATIO: f64 = 1.1;
/// A value against the neighbouring lines at the same ratio, and against its own line.
const ACROSS: (f64, f64) = (1.6, 1.3);

/// The rows that their neighbours contradict, worst first, each by the column that stands out.
pub fn doubts(entries: &[Entry], shape: Shape) -> Vec<Doubt> {
    let mut rest = entries.to_vec();
    let mut found: Vec<Doubt> = Vec::new();
    while found.len() < MOST {
        let lonely = lonely(&rest, shape);
        let worst = if lonely.is_empty() {
            worst(&rest, shape)
        } else {
            lonely.into_iter().next()
        };
        let Some(doubt) = worst else { break };
        rest.retain(|entry| entry.row != doubt.row);
        found.push(doubt);
    }
    found
}

fn worst(entries: &[Entry], shape: Shape) -> Option<Doubt> {
    let columns = shape.columns();
    let moved = sequence::out_of_order(entries, shape);
    let order = moved.into_iter().map(|one| Doubt {
        row: one.entry.row,
        column: columns[0],
        fitting: one.fitting,
        factor: one.factor,
        is_certain: one.is_certain,
    });
    let lines = sequence::sequences(entries, shape);
    let mut all: Vec<Doubt> = order.collect();
    for (at, line) in lines.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|at| lines.get(at));
        let near: Vec<&Sequence> = before.into_iter().chain(lines.get(at + 1)).collect();
        all.extend(ends(line, &near, shape));
        for (column, tolerance) in Tolerance::of(shape).into_iter().enumerate() {
            all.extend(along(line, column, &tolerance, shape));
        }
        // At one ratio a turbine's flow hardly hangs on speed; its efficiency does.
        if shape == Shape::Turbine {
            all.extend(across(line, &near, 0, shape));
        }
    }
    // What is certain comes before what is odd, however far that is.
    all.into_iter().max_by(|a, b| {
        let by_factor = a.factor.total_cmp(&b.factor);
        a.is_certain.cmp(&b.is_certain).then(by_factor)
    })
}

/// A row whose speed no other has, between rows of a line.
fn lonely(entries: &[Entry], shape: Shape) -> Vec<Doubt> {
    let mut speeds: Vec<f64> = entries.iter().map(|entry| entry.speed).collect();
    speeds.sort_by(f64::total_cmp);
    let below = |speed: f64| speeds.partition_point(|other| *other < speed);
    let count = |speed: f64| below(speed * (1.0 + SAME)) - below(speed * (1.0 - SAME));
    let mut by_row: Vec<&Entry> = entries.iter().collect();
    by_row.sort_by_key(|entry| entry.row);
    let mut found = Vec::new();
    for (at, entry) in by_row.iter().enumerate() {
        if count(entry.speed) > 1 {
            continue;
        }
        let before = at.checked_sub(1).map(|at| by_row[at].speed);
        let after = by_row.get(at + 1).map(|entry| entry.speed);
        let full = |speed: &f64| count(*speed) + 1 >= shape.rows_per_line();
        // Of two lines beside it, the one with fewer rows misses one.
        let fitting = before.into_iter().chain(after).filter(full);
        let Some(fitting) = fitting.min_by_key(|speed| count(*speed)) else {
            continue;
        };
        let factor = factor(entry.speed, fitting);
        if factor > LONELY {
            found.push(Doubt {
                row: entry.row,
                column: Column::Speed,
                fitting,
                factor,
                is_certain: true,
            });
        }
    }
    // Where many rows have a speed of their own, the file is of another kind.
    if found.len() * 4 > entries.len() {
        found.clear();
    }
    found
}

/// A row at an end of its line that lies far beyond the next one and beyond the neighbouring lines.
fn ends(line: &Sequence, near: &[&Sequence], shape: Shape) -> Vec<Doubt> {
    let mut by_along = line.rows.clone();
    by_along.sort_by(|a, b| a.along.total_cmp(&b.along));
    let [first, second, .., before_last, last] = by_along.as_slice() else {
        return match by_along.as_slice() {
            [first, middle, last] => ends_of([first, middle, middle, last], line, near, shape),
            _ => Vec::new(),
        };
    };
    ends_of([first, second, before_last, last], line, near, shape)
}

fn ends_of(
    [first, second, before_last, last]: [&Entry; 4],
    line: &Sequence,
    near: &[&Sequence],
    shape: Shape,
) -> Vec<Doubt> {
    // A compressor's flow goes with speed; ratios are the same on all lines.
    let carried = |other: &Sequence, value: f64| match shape {
        Shape::Compressor => value * line.speed / other.speed,
        Shape::Displacement | Shape::Turbine => value,
    };
    let extreme = |pick: fn(f64, f64) -> f64| {
        let of_line = |other: &&Sequence| {
            let values = other.rows.iter().map(|row| row.along);
            values.reduce(pick).map(|value| carried(other, value))
        };
        near.iter().filter_map(of_line).reduce(pick)
    };
    let doubt = |entry: &Entry, fitting: f64, factor: f64, is_certain: bool| Doubt {
        row: entry.row,
        column: shape.columns()[0],
        fitting,
        factor,
        is_certain,
    };
    let mut found = Vec::new();
    let gap = last.along / before_last.along;
    let (beyond, fitting) = match extreme(f64::max) {
        Some(highest) => (gap.min(last.along / highest), highest),
        None => (gap * LAST_GAP / ONLY_LINE_GAP, before_last.along),
    };
    if beyond > LAST_GAP {
        found.push(doubt(last, fitting, last.along / fitting, true));
    }
    let gap = second.along / first.along;
    let (beyond, fitting) = match extreme(f64::min) {
        Some(lowest) => (gap.min(lowest / first.along), lowest),
        None => (gap * FIRST_GAP / ONLY_LINE_GAP, second.along),
    };
    if beyond > FIRST_GAP {
        let is_certain = beyond > FIRST_IMPOSSIBLE;
        found.push(doubt(first, fitting, fitting / first.along, is_certain));
    }
    found
}

/// Values that stand out between the two rows beside them.
fn along(line: &Sequence, column: usize, tolerance: &Tolerance, shape: Shape) -> Vec<Doubt> {
    let values: Vec<f64> = line.rows.iter().map(|row| row.values[column]).collect();
    let count = values.len();
    if count < 3 {
        return Vec::new();
    }
    let mut sorted = values.clone();
    sorted.sort_by(f64::total_cmp);
    // The second largest, so that a bad row does not raise the floor.
    let floor = tolerance.floor * sorted[count - 2];
    let mut found = Vec::new();
    for at in 0..count {
        let (beside, (up, down)) = match at {
            0 => ([1, 2], tolerance.first),
            _ if at == count - 1 => ([count - 3, count - 2], tolerance.last),
            _ => ([at - 1, at + 1], (tolerance.up, tolerance.down)),
        };
        let [a, b] = beside.map(|at| values[at]);
        let value = values[at].max(floor);
        let (low, high) = (a.min(b).max(floor), a.max(b).max(floor));
        // A line of few rows may begin where it already falls steeply.
        let falls = at == 0 && a > b;
        let up = if falls { up * high / low } else { up };
        // Near ratio 1 a per cent of the ratio is a large part of the head.
        let lost = shape == Shape::Compressor && column == 0 && {
            let ratios = [value, low, high].map(head::to_ratio);
            ratios[0] < LEAST_RATIO * ratios[2] && ratios[1] < LEAST_RATIO * ratios[0]
        };
        if !lost && (value > up * high || low > down * value) {
            let fitting = (low * high).sqrt();
            found.push(Doubt {
                row: line.rows[at].row,
                column: shape.columns()[1 + column],
                fitting,
                factor: if value > high {
                    value / high
                } else {
                    low / value
                },
                is_certain: true,
            });
        }
    }
    found
}

/// Values that differ from all neighbouring lines at the same ratio, and from their own line's run.
fn across(line: &Sequence, near: &[&Sequence], column: usize, shape: Shape) -> Vec<Doubt> {
    let of_entry = |(at, entry): (usize, &Entry)| {
        let value = entry.values[column];
        let there: Vec<f64> = near
            .iter()
            .filter_map(|other| interpolated(other, entry.along, column))
            .collect();
        let fitting = there
            .iter()
            .copied()
            .min_by(|a, b| factor(*a, value).total_cmp(&factor(*b, value)))?;
        let off = factor(value, fitting);
        let own = factor(value, carried_on(line, at, column)?);
        let doubt = Doubt {
            row: entry.row,
            column: shape.columns()[1 + column],
            fitting,
            factor: off.min(own),
            is_certain: true,
        };
        (off > ACROSS.0 && own > ACROSS.1).then_some(doubt)
    };
    line.rows.iter().enumerate().filter_map(of_entry).collect()
}

/// A line's value at a ratio within its range.
fn interpolated(line: &Sequence, along: f64, column: usize) -> Option<f64> {
    let pair = line
        .rows
        .windows(2)
        .find(|pair| pair[0].along <= along && along <= pair[1].along)?;
    let width = pair[1].along - pair[0].along;
    let share = if width > 0.0 {
        (along - pair[0].along) / width
    } else {
        0.0
    };
    Some(pair[0].values[column] + share * (pair[1].values[column] - pair[0].values[column]))
}

/// What the other rows of a line make of a place: between its neighbours, or carried on past the end.
fn carried_on(line: &Sequence, at: usize, column: usize) -> Option<f64> {
    let value = |at: usize| line.rows.get(at).map(|row| row.values[column]);
    match (at.checked_sub(1).and_then(value), value(at + 1)) {
        (Some(before), Some(after)) => Some((before * after).sqrt()),
        (None, Some(next)) => Some(value(at + 2).map_or(next, |far| next * next / far)),
        (Some(next), None) => {
            let far = at.checked_sub(2).and_then(value);
            Some(far.map_or(next, |far| next * next / far))
        }
        (None, None) => None,
    }
}
