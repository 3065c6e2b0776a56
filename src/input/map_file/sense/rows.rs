//! Single rows that cannot be, and columns whose best or largest figure cannot.

use super::figures::{digits, listed};
use super::table::Table;
use crate::input::map_file::column::Content;
use crate::input::map_file::reading::Reading;
use crate::input::map_file::rows::upper_middle;
use crate::map::sense::range::{Range, Standing};
use crate::map::sense::{self, Doubt, Entry, Shape};
use crate::map::{Column, head};

/// Where the file keeps what a check names.
pub(super) fn contents(shape: Shape, column: Column) -> &'static [Content] {
    match (shape, column) {
        (Shape::Displacement, Column::Speed) => &[Content::ActualSpeed, Content::CorrectedSpeed],
        (_, Column::Speed) => &[Content::CorrectedSpeed, Content::ActualSpeed],
        (_, Column::Flow) => &[Content::CorrectedFlow, Content::ActualFlow],
        (_, Column::PressureRatio) => &[Content::PressureRatio],
        (_, Column::ExpansionRatio) => &[Content::ExpansionRatio],
        (_, Column::Efficiency) => &[Content::Efficiency, Content::Power],
        (_, Column::VolumetricEfficiency) => {
            &[Content::VolumetricEfficiency, Content::DeliveredFlow]
        }
    }
}

impl Reading {
    /// Pressure and expansion ratios beyond what a stage can do. Whether the column as a whole stands.
    pub(in crate::input::map_file) fn doubt_ratios(
        &mut self,
        table: &Table<'_>,
        largest: f64,
    ) -> bool {
        let Some(at) = table.position(&[Content::PressureRatio, Content::ExpansionRatio]) else {
            return false;
        };
        let heading = table.heading(at).to_owned();
        let rows: Vec<usize> = (0..table.values.len())
            .filter(|&row| table.values[row].values[at] > largest)
            .collect();
        if rows.len() > 1 && rows.len() * 2 > table.values.len() {
            let text = format!(
                "{} ({}): no stage reaches a ratio above {largest}; a ratio is outlet over inlet \
                 pressure (of a turbine inlet over outlet), both absolute: are these pressures?",
                table.written_range(at),
                table.all_lines(),
            );
            self.fault(table.sheet.heading.line, &heading, text);
            return false;
        }
        for row in rows {
            let text = format!(
                "{} cannot be right: no stage reaches a ratio above {largest}; a misplaced decimal point, \
                 or a pressure?",
                table.written(row, at)
            );
            self.fault(table.line(row), &heading, text);
        }
        true
    }

    /// The best figure of a column of shares, which every row stays below.
    pub(in crate::input::map_file) fn doubt_best(
        &mut self,
        table: &Table<'_>,
        content: Content,
        range: &Range,
    ) {
        let Some(at) = table.position(&[content]) else {
            return;
        };
        let best = table.values.iter().map(|row| row.values[at]);
        let Some(best) = best.max_by(f64::total_cmp) else {
            return;
        };
        let standing = range.standing(best);
        if standing == Standing::Usual {
            return;
        }
        let (low, high) = range.usual;
        let text = format!(
            "the best of the map is {} %; usual is {} to {} %",
            digits(100.0 * best),
            digits(100.0 * low),
            digits(100.0 * high)
        );
        let heading = table.heading(at).to_owned();
        if standing == Standing::Impossible {
            let text = format!("{text}: a misplaced decimal point in the whole column?");
            self.fault(table.sheet.heading.line, &heading, text);
        } else {
            self.remark(table.sheet.heading.line, &heading, text);
        }
    }

    /// A column from which a share is worked out: `shares`, of all rows. Where a column of the share
    /// itself stands in the file, this one is not read.
    pub(in crate::input::map_file) fn doubt_derived(
        &mut self,
        table: &Table<'_>,
        content: Content,
        shares: impl Iterator<Item = f64>,
        range: &Range,
    ) {
        let (what, read) = match content {
            Content::DeliveredFlow => ("volumetric efficiencies", Content::VolumetricEfficiency),
            _ => ("efficiencies", Content::Efficiency),
        };
        let Some(at) = table.position(&[content]) else {
            return;
        };
        let Some(middle) = upper_middle(shares).filter(|_| table.position(&[read]).is_none())
        else {
            return;
        };
        let standing = range.standing(middle);
        if standing == Standing::Usual {
            return;
        }
        // More flow is more of the share, more power is less of it.
        let share = |factor: f64| match content {
            Content::DeliveredFlow => middle * factor,
            _ => middle / factor,
        };
        let meant = table
            .fitting_units(at, |factor| {
                (range.standing(share(factor)) == Standing::Usual).then_some(0.0)
            })
            .map_or_else(
                || "check its unit and the displacement".to_owned(),
                |unit| format!("they look like {unit}; check the displacement too"),
            );
        let text = format!(
            "{} under [{}] ({}) give {what} of about {} %: {meant}",
            table.written_range(at),
            table.unit_name(at),
            table.all_lines(),
            digits(100.0 * middle)
        );
        let (line, heading) = (table.sheet.heading.line, table.heading(at).to_owned());
        if standing == Standing::Impossible {
            self.fault(line, &heading, text);
        } else {
            self.remark(line, &heading, text);
        }
    }

    /// Rows that their neighbours contradict. `entries` in the order of the table's rows.
    pub(in crate::input::map_file) fn doubt_rows(
        &mut self,
        table: &Table<'_>,
        entries: &[Entry],
        shape: Shape,
    ) {
        for doubt in sense::doubts(entries, shape) {
            let Some(at) = table.position(contents(shape, doubt.column)) else {
                continue;
            };
            let text = row_text(table, &doubt, at, shape);
            let heading = table.heading(at).to_owned();
            let line = table.line(doubt.row);
            if doubt.is_certain {
                self.fault(line, &heading, text);
            } else {
                self.remark(line, &heading, text);
            }
        }
    }

    /// Lines of a compressor's map that go with none of the others.
    pub(in crate::input::map_file) fn doubt_lines(&mut self, table: &Table<'_>, entries: &[Entry]) {
        for odd in sense::odd_lines(entries) {
            let Some(at) = table.position(contents(Shape::Compressor, odd.column)) else {
                continue;
            };
            let lines: Vec<usize> = odd.rows.iter().map(|&row| table.line(row)).collect();
            let first = lines.iter().copied().min().unwrap_or_default();
            let heading = table.heading(at).to_owned();
            let what = match odd.column {
                Column::Speed => format!(
                    "{} does not fit the pressure ratios of {}: going by the other speed lines it should be \
                     about {} rpm",
                    table.written(odd.rows[0], at),
                    listed(lines),
                    digits(odd.speed * odd.fitting_factor)
                ),
                _ => format!(
                    "the flows of {} do not fit the other speed lines, which suggest about {} times as \
                     much: another unit?",
                    listed(lines),
                    digits(odd.fitting_factor)
                ),
            };
            self.fault(first, &heading, what);
        }
    }
}

fn row_text(table: &Table<'_>, doubt: &Doubt, at: usize, shape: Shape) -> String {
    let written = table.written(doubt.row, at);
    let content = table.columns[at].content;
    if doubt.column == Column::Speed {
        return format!(
            "{written} occurs only here, the rows around it have {} rpm: a typing error?",
            digits(doubt.fitting)
        );
    }
    let times = digits(doubt.factor);
    // A figure that was worked out from another column has no value to name.
    if matches!(content, Content::DeliveredFlow | Content::Power) {
        return format!(
            "{written} differs from its neighbours by a factor of {times}: a misplaced decimal point?"
        );
    }
    let fitting = match (shape, doubt.column) {
        (Shape::Compressor, Column::PressureRatio) => head::to_ratio(doubt.fitting),
        _ => doubt.fitting,
    };
    let fitting = digits(
        table.columns[at]
            .unit
            .map_or(fitting, |unit| unit.from_si(fitting / table.density_of(at))),
    );
    if doubt.is_certain {
        format!("{written} does not fit the rows around it (about {fitting}): a typing error?")
    } else {
        format!("{written} stands out from the rows around it (about {fitting}): is it intended?")
    }
}
