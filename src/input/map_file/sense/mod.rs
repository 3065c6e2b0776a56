//! Whether what a map file says can be meant: every fault of sense in words, with its line and column.
//!
//! [`crate::map::sense`] knows what can be; here its answers meet the units and lines of the file, and
//! the likely slip is named: the unit under which the same figures would make sense.

mod rows;
mod setting;
mod share;
mod surge;
mod unit;
mod wheel;

use super::column::{self, Column, Content};
use super::rows::Values;
use super::sheet::Sheet;
use crate::map::Reference;
use crate::map::sense::Entry;

/// What the checks of one map look at.
#[derive(Clone, Copy)]
pub(super) struct Table<'t> {
    pub(super) sheet: &'t Sheet<'t>,
    pub(super) columns: &'t [Column],
    pub(super) values: &'t [Values],
    pub(super) reference: Option<Reference>,
}

impl Table<'_> {
    /// Where one of some contents stands among the columns, the first that is there.
    fn position(&self, contents: &[Content]) -> Option<usize> {
        let found = |content: &Content| super::columns::position(self.columns, *content);
        contents.iter().find_map(found)
    }

    /// The rows of a compressor: flow, and over it pressure ratio and efficiency.
    pub(super) fn compressor_entries(&self) -> Vec<Entry> {
        use Content as C;
        self.entries(
            &[C::CorrectedSpeed, C::ActualSpeed],
            &[C::CorrectedFlow, C::ActualFlow],
            [&[C::PressureRatio], &[C::Efficiency]],
            None,
        )
    }

    /// The rows of a turbine: expansion ratio, and over it flow and efficiency; at `speed` where the
    /// map has none.
    pub(super) fn turbine_entries(&self, speed: f64) -> Vec<Entry> {
        use Content as C;
        self.entries(
            &[C::CorrectedSpeed],
            &[C::ExpansionRatio],
            [&[C::CorrectedFlow], &[C::Efficiency]],
            Some(speed),
        )
    }

    fn entries(
        &self,
        speed: &[Content],
        along: &[Content],
        values: [&[Content]; 2],
        one_speed: Option<f64>,
    ) -> Vec<Entry> {
        let speed = self.position(speed);
        let places = [along, values[0], values[1]].map(|contents| self.position(contents));
        let [Some(along), Some(first), Some(second)] = places else {
            return Vec::new();
        };
        let entry = |(row, values): (usize, &Values)| {
            let of = |at: usize| values.values[at];
            Some(Entry {
                row,
                speed: speed.map(of).or(one_speed)?,
                along: of(along),
                values: [of(first), of(second)],
            })
        };
        self.values.iter().enumerate().filter_map(entry).collect()
    }

    /// The heading of a column as written.
    fn heading(&self, at: usize) -> &str {
        self.sheet.heading.cells[self.columns[at].at]
    }

    /// The name in a heading, without its unit.
    fn name(&self, at: usize) -> &str {
        column::name_and_unit(self.heading(at)).0
    }

    /// The line of a row in the file.
    fn line(&self, row: usize) -> usize {
        self.values
            .get(row)
            .map_or(self.sheet.heading.line, |row| row.line)
    }

    /// What a row holds in a column, as written.
    fn written(&self, row: usize, at: usize) -> &str {
        let line = self.line(row);
        let found = self.sheet.rows.iter().find(|row| row.line == line);
        let cell = found.and_then(|row| row.cells.get(self.columns[at].at));
        cell.copied().unwrap_or_default()
    }

    /// The lines of the file between which all rows stand, in words.
    fn all_lines(&self) -> String {
        let lines = || self.values.iter().map(|row| row.line);
        match (lines().min(), lines().max()) {
            (Some(first), Some(last)) if first < last => format!("lines {first} to {last}"),
            (Some(first), _) => format!("line {first}"),
            _ => "no line".to_owned(),
        }
    }

    /// The smallest and the largest figure of a column as written, in words.
    fn written_range(&self, at: usize) -> String {
        let by_value = |a: &usize, b: &usize| {
            let value = |row: usize| self.values[row].values[at];
            value(*a).total_cmp(&value(*b))
        };
        let rows = || 0..self.values.len();
        let low = rows().min_by(by_value).unwrap_or_default();
        let high = rows().max_by(by_value).unwrap_or_default();
        let (low, high) = (self.written(low, at), self.written(high, at));
        if low == high {
            low.to_owned()
        } else {
            format!("{low} to {high}")
        }
    }
}

/// A number with three significant digits, without an exponent.
fn digits(value: f64) -> String {
    if value <= 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let (mut scale, mut decimals) = (1.0, 0);
    while value / scale >= 1000.0 {
        scale *= 10.0;
    }
    while value * 10_f64.powi(decimals) < 100.0 && decimals < 12 {
        decimals += 1;
    }
    let rounded = (value / scale * 10_f64.powi(decimals)).round() / 10_f64.powi(decimals) * scale;
    let text = format!("{rounded:.*}", decimals.unsigned_abs() as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Numbers of lines: "line 7", "lines 7, 9, 12, …".
fn listed(mut lines: Vec<usize>) -> String {
    lines.sort_unstable();
    let shown: Vec<String> = lines.iter().take(6).map(usize::to_string).collect();
    let more = if lines.len() > 6 { ", …" } else { "" };
    let word = if lines.len() == 1 { "line" } else { "lines" };
    format!("{word} {}{more}", shown.join(", "))
}

#[cfg(test)]
mod tests {
    use super::digits;

    #[test]
    fn three_digits_are_shown_without_an_exponent() {
        for (value, text) in [
            (85_812.0, "85800"),
            (999.6, "1000"),
            (0.079_68, "0.0797"),
            (2.0, "2"),
            (71.0, "71"),
            (1234.0, "1230"),
            (0.0, "0"),
            (f64::NAN, "0"),
        ] {
            assert_eq!(digits(value), text);
        }
    }
}
