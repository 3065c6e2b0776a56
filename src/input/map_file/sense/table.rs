//! A map's rows as the checks look at them: in SI, and as the file has them.

use crate::input::map_file::column::{self, Column, Content};
use crate::input::map_file::rows::Values;
use crate::input::map_file::sheet::Sheet;
use crate::map::Reference;
use crate::map::sense::Entry;

/// What the checks of one map look at.
#[derive(Clone, Copy)]
pub(in crate::input::map_file) struct Table<'t> {
    pub sheet: &'t Sheet<'t>,
    pub columns: &'t [Column],
    pub values: &'t [Values],
    pub reference: Option<Reference>,
}

impl Table<'_> {
    /// Where one of some contents stands among the columns, the first that is there.
    pub fn position(&self, contents: &[Content]) -> Option<usize> {
        let found = |content: &Content| column::position(self.columns, *content);
        contents.iter().find_map(found)
    }

    /// The rows of a compressor: flow, and over it pressure ratio and efficiency.
    pub fn compressor_entries(&self) -> Vec<Entry> {
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
    pub fn turbine_entries(&self, speed: f64) -> Vec<Entry> {
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
    pub fn heading(&self, at: usize) -> &str {
        self.sheet.heading.cells[self.columns[at].at]
    }

    /// The name in a heading, without its unit.
    pub fn name(&self, at: usize) -> &str {
        column::name_and_unit(self.heading(at)).0
    }

    /// The line of a row in the file.
    pub fn line(&self, row: usize) -> usize {
        self.values
            .get(row)
            .map_or(self.sheet.heading.line, |row| row.line)
    }

    /// What a row holds in a column, as written.
    pub fn written(&self, row: usize, at: usize) -> &str {
        let line = self.line(row);
        let found = self.sheet.rows.iter().find(|row| row.line == line);
        let cell = found.and_then(|row| row.cells.get(self.columns[at].at));
        cell.copied().unwrap_or_default()
    }

    /// The lines of the file between which all rows stand, in words.
    pub fn all_lines(&self) -> String {
        let lines = || self.values.iter().map(|row| row.line);
        match (lines().min(), lines().max()) {
            (Some(first), Some(last)) if first < last => format!("lines {first} to {last}"),
            (Some(first), _) => format!("line {first}"),
            _ => "no line".to_owned(),
        }
    }

    /// The smallest and the largest figure of a column as written, in words.
    pub fn written_range(&self, at: usize) -> String {
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
