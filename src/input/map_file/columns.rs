//! The columns of a map file: which there are, which are missing, and their values in SI.

use std::collections::HashSet;

use super::column::{self, Column, Content, Heading, position};
use super::reading::Reading;
use super::rows::{self, Scale, Values};
use super::settings::Settings;
use super::sheet::Sheet;
use super::words;
use crate::map::{MapError, Reference, Remark};

impl Reading {
    pub(super) fn columns(&mut self, sheet: &Sheet<'_>) -> Vec<Column> {
        let line = sheet.heading.line;
        let mut columns: Vec<Column> = Vec::new();
        for (at, cell) in sheet.heading.cells.iter().enumerate() {
            match column::read(at, cell) {
                Heading::Column(column) => {
                    if columns.iter().any(|other| other.content == column.content) {
                        self.fault(line, cell, "appears twice in the heading");
                    }
                    columns.push(column);
                }
                Heading::Unused(name) if name.is_empty() => {}
                Heading::Unused(name) if name.parse::<f64>().is_ok() => {
                    let text = "there is no heading: the first line must name the columns with units, e.g. \
                                corrected_speed [rpm], corrected_flow [kg/s], pressure_ratio [-], \
                                efficiency [-]";
                    self.fault(line, "", text);
                    self.headless = true;
                    return Vec::new();
                }
                Heading::Unused(name) => self.remark(line, &name, "is not used"),
                Heading::Fault(text, meant) => {
                    self.spoilt.extend(meant);
                    self.fault(line, "", text);
                }
            }
        }
        columns
    }

    pub(super) fn needed(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        content: Content,
        name: &str,
    ) -> Option<usize> {
        let found = position(columns, content);
        if found.is_none() {
            self.missing(sheet, &[content], name);
        }
        found
    }

    /// A column that is there but wrong is not reported as missing too.
    pub(super) fn missing(&mut self, sheet: &Sheet<'_>, contents: &[Content], name: &str) {
        let spoilt = contents.iter().any(|content| self.spoilt.contains(content));
        if !spoilt && !self.headless {
            self.fault(sheet.heading.line, "", format!("column {name} is missing"));
        }
    }

    pub(super) fn values(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        reference: Option<Reference>,
        settings: &Settings,
    ) -> Vec<Values> {
        let mut scales = Vec::with_capacity(columns.len());
        let mut doubted = HashSet::new();
        for column in columns {
            let share = matches!(
                column.content,
                Content::Efficiency | Content::VolumetricEfficiency
            );
            if share {
                doubted.extend(self.doubt_shares(sheet, column));
            }
            let percent = share && column.unit.is_none() && rows::looks_like_percent(sheet, column);
            if percent {
                let name = sheet.heading.cells[column.at];
                self.remark(
                    sheet.heading.line,
                    name,
                    "has no unit and is read as per cent",
                );
            }
            scales.push(Scale::new(column, reference, percent));
        }
        if sheet.rows.is_empty() {
            self.fault(
                sheet.heading.line,
                "",
                "there are no rows below the heading",
            );
        }
        let mut values = rows::read(
            &self.file,
            sheet,
            columns,
            &scales,
            &doubted,
            &mut self.faults,
        );
        if let Some(reference) = reference {
            rows::correct(&mut values, columns, settings, reference);
        }
        values
    }

    pub(super) fn reference(
        &mut self,
        sheet: &Sheet<'_>,
        settings: &Settings,
    ) -> Option<Reference> {
        let both = [
            (
                "reference_temperature",
                settings.reference_temperature,
                "298.15 K",
            ),
            ("reference_pressure", settings.reference_pressure, "100 kPa"),
        ];
        for (key, value, example) in both {
            if value.is_none() && !settings.faulty.contains(&key) {
                let text = format!(
                    "is missing: a map cannot be used without the state it is corrected to (printed on the \
                     map sheet; common pairs are 298.15 K with 100 kPa and 288.15 K with 101.325 kPa); \
                     write above the heading # {key} = {example}"
                );
                self.fault(sheet.heading.line, key, text);
            }
        }
        Some(Reference {
            temperature: settings.reference_temperature?,
            pressure: settings.reference_pressure?,
        })
    }

    /// A surface, or its faults put into the file's lines.
    pub(super) fn surface<T>(
        &mut self,
        sheet: &Sheet<'_>,
        surface: Result<T, Vec<MapError>>,
        lines: &[usize],
    ) -> Option<T> {
        let report = |errors: Vec<MapError>| {
            for error in &errors {
                let (line, text) = words::fault(error, lines);
                self.fault(line.max(sheet.heading.line), "", text);
            }
        };
        surface.map_err(report).ok()
    }

    pub(super) fn surface_remarks(&mut self, remarks: &[Remark], lines: &[usize]) {
        for remark in remarks {
            let (line, text) = words::remark(remark, lines);
            self.remark(line, "", text);
        }
    }
}
