//! Per cent against fractions: a column of shares has to be one of them throughout.

use super::figures::{digits, listed};
use crate::input::map_file::column::{Column, Content, name_and_unit};
use crate::input::map_file::number::number;
use crate::input::map_file::reading::Reading;
use crate::input::map_file::rows;
use crate::input::map_file::sheet::Sheet;
use crate::quantity::Unit;

/// How the cells of a column of shares look.
#[derive(Default)]
struct Looks<'t> {
    /// Lines and cells of what looks like fractions.
    fractions: Vec<(usize, &'t str)>,
    /// Lines and cells of what looks like per cent.
    percents: Vec<(usize, &'t str)>,
}

impl Reading {
    /// A column of shares whose figures and unit contradict each other, and rows that are of the
    /// other kind than the rest. Returns the cells (line, place in the row) that have their fault.
    pub(in crate::input::map_file) fn doubt_shares(
        &mut self,
        sheet: &Sheet<'_>,
        column: &Column,
    ) -> Vec<(usize, usize)> {
        let looks = looks(sheet, column);
        let percent = match column.unit.map(Unit::name) {
            Some("%") => true,
            Some(_) => false,
            None => looks.percents.len() > looks.fractions.len(),
        };
        let (wrong, right) = if percent {
            (&looks.fractions, &looks.percents)
        } else {
            (&looks.percents, &looks.fractions)
        };
        if wrong.is_empty() {
            return Vec::new();
        }
        let heading = sheet.heading.cells[column.at];
        if right.is_empty() {
            let text = whole_column(heading, percent, wrong);
            self.fault(sheet.heading.line, heading, text);
        } else if column.unit.is_none() && wrong.len() == right.len() {
            let text = format!(
                "fractions ({}) and per cent ({}) are mixed: write one of them throughout",
                listed(looks.fractions.iter().map(|cell| cell.0).collect()),
                listed(looks.percents.iter().map(|cell| cell.0).collect()),
            );
            self.fault(sheet.heading.line, heading, text);
        } else {
            for (line, cell) in wrong {
                self.fault(*line, heading, one_row(cell, percent));
            }
        }
        wrong.iter().map(|cell| (cell.0, column.at)).collect()
    }
}

fn whole_column(heading: &str, percent: bool, cells: &[(usize, &str)]) -> String {
    let name = name_and_unit(heading).0;
    let figures = cells.iter().map(|cell| cell.1);
    let value = |text: &&str| number(text, text.contains(',')).unwrap_or_default();
    let by_value = |a: &&str, b: &&str| value(a).total_cmp(&value(b));
    let low = figures.clone().min_by(by_value).unwrap_or_default();
    let high = figures.max_by(by_value).unwrap_or_default();
    let lines = (
        cells.iter().map(|cell| cell.0).min().unwrap_or_default(),
        cells.iter().map(|cell| cell.0).max().unwrap_or_default(),
    );
    let range = if low == high {
        low.to_owned()
    } else {
        format!("{low} to {high}")
    };
    let (under, looks, write) = if percent {
        ("[%]", "fractions", "[-]")
    } else {
        ("[-]", "per cent", "[%]")
    };
    format!(
        "{range} under {under} (lines {} to {}) look like {looks}: write {name} {write}",
        lines.0, lines.1
    )
}

fn one_row(cell: &str, percent: bool) -> String {
    let value = number(cell, cell.contains(',')).unwrap_or_default();
    if percent {
        let meant = digits(value * 100.0);
        format!("{cell} among per cent: a fraction? write {meant}")
    } else if value >= 10.0 {
        let meant = digits(value / 100.0);
        format!("{cell} among fractions: per cent? write {meant}")
    } else {
        let meant = digits(value / 10.0);
        format!("{cell} cannot be a fraction: a misplaced decimal point? {meant}?")
    }
}

/// Sorts a column's cells. In between, at 1 to 1.5, neither is clear; the range of the column tells.
fn looks<'t>(sheet: &Sheet<'t>, column: &Column) -> Looks<'t> {
    let largest = match column.content {
        Content::VolumetricEfficiency => 1.2,
        _ => 1.0,
    };
    let mut looks = Looks::default();
    let expected = sheet.heading.cells.len();
    for row in sheet
        .rows
        .iter()
        .filter(|row| rows::is_whole(row, expected))
    {
        let Some(&cell) = row.cells.get(column.at) else {
            continue;
        };
        // "66 %" says it itself.
        let value = number(cell, sheet.decimal_comma);
        match value {
            Ok(value) if value > 0.0 && value <= largest => looks.fractions.push((row.line, cell)),
            Ok(value) if value > 1.5 && value <= 120.0 => looks.percents.push((row.line, cell)),
            _ => {}
        }
    }
    looks
}
