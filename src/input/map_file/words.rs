//! What the map's surface found wrong with rows, in the words and lines of the file.

use crate::map::{Column, MapError, Remark};

/// The line at which to report a fault, and its text. `lines` are the rows' lines in the file.
pub(super) fn fault(error: &MapError, lines: &[usize]) -> (usize, String) {
    let line = |row: usize| lines.get(row).copied().unwrap_or(1);
    match error {
        MapError::NoRows => (1, "the map has no rows".to_owned()),
        MapError::Reference {
            temperature,
            pressure,
        } => (
            1,
            format!("the reference state must be positive: {temperature} K, {pressure} Pa"),
        ),
        MapError::NotFinite { row, column } => (
            line(*row),
            format!("{} is not a finite number", name(*column)),
        ),
        MapError::OutOfRange {
            row,
            column,
            value,
            above,
            at_most,
        } => (
            line(*row),
            format!(
                "{} {value} must be above {above} and at most {at_most}",
                name(*column)
            ),
        ),
        MapError::TooFewPoints {
            speed,
            rows,
            needed,
        } => (
            rows.first().map_or(1, |row| line(*row)),
            format!(
                "the line at {} rpm has {} ({}); a line needs at least {needed} points",
                round(*speed),
                points(rows.len()),
                listed(rows, lines)
            ),
        ),
        MapError::Contradiction { first, second } => (
            line(*second),
            format!(
                "lines {} and {} give the same point with different values: remove the wrong one",
                line(*first),
                line(*second)
            ),
        ),
        MapError::UprightLine { speed, rows } => (
            rows.first().map_or(1, |row| line(*row)),
            format!(
                "the line at {} rpm has the same flow in every row ({})",
                round(*speed),
                listed(rows, lines)
            ),
        ),
        MapError::LinesCross {
            slower,
            faster,
            flow,
            pressure_ratio,
            rows,
        } => (
            rows.first().map_or(1, |row| line(*row)),
            format!(
                "the speed lines at {} and {} rpm cross near {flow:.4} kg/s and a pressure ratio of \
                 {pressure_ratio:.3} ({}): a faster line must lie above a slower one",
                round(*slower),
                round(*faster),
                listed(rows, lines)
            ),
        ),
    }
}

/// The line at which to say a remark, and its text.
pub(super) fn remark(remark: &Remark, lines: &[usize]) -> (usize, String) {
    let line = |row: usize| lines.get(row).copied().unwrap_or(1);
    match remark {
        Remark::RepeatDropped { kept, dropped } => (
            line(*dropped),
            format!("repeats line {} and is dropped", line(*kept)),
        ),
        Remark::SpeedsGrouped {
            speed,
            lowest,
            highest,
            rows,
        } => (
            rows.iter().map(|row| line(*row)).min().unwrap_or(1),
            format!(
                "{} rows between {} and {} rpm are read as one line at {} rpm, scaled by similarity",
                rows.len(),
                round(*lowest),
                round(*highest),
                round(*speed)
            ),
        ),
        Remark::FlowsEvened {
            speed,
            rows,
            largest_change,
        } => (
            rows.iter().map(|row| line(*row)).min().unwrap_or(1),
            format!(
                "at the choke end of the line at {} rpm the flow of {} rows is smoothed by up to \
                 {largest_change:.5} kg/s",
                round(*speed),
                rows.len()
            ),
        ),
    }
}

fn name(column: Column) -> &'static str {
    match column {
        Column::Speed => "speed",
        Column::Flow => "flow",
        Column::PressureRatio => "pressure_ratio",
        Column::ExpansionRatio => "expansion_ratio",
        Column::Efficiency => "efficiency",
        Column::VolumetricEfficiency => "volumetric_efficiency",
    }
}

fn listed(rows: &[usize], lines: &[usize]) -> String {
    let mut named: Vec<usize> = rows
        .iter()
        .filter_map(|row| lines.get(*row))
        .copied()
        .collect();
    named.sort_unstable();
    let shown: Vec<String> = named.iter().take(4).map(usize::to_string).collect();
    let more = if named.len() > 4 { ", …" } else { "" };
    let word = if named.len() == 1 { "line" } else { "lines" };
    format!("{word} {}{more}", shown.join(", "))
}

fn points(count: usize) -> String {
    if count == 1 {
        "one point".to_owned()
    } else {
        format!("{count} points")
    }
}

fn round(speed: f64) -> String {
    format!("{speed:.0}")
}
