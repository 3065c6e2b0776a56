//! Rows of text into rows of SI numbers, each with its line.

use std::collections::HashSet;

use super::column::{Column, Content};
use super::number::number;
use super::settings::Settings;
use super::sheet::{Row, Sheet};
use crate::gas::HumidAir;
use crate::input::fault::{Note, Place};
use crate::map::Reference;
use crate::quantity::{Dimension, Kind, Unit, parse};

/// A row's values in the order of the columns, SI (rpm for speed), and its line.
pub(super) struct Values {
    pub(super) line: usize,
    pub(super) values: Vec<f64>,
}

/// Reads all rows. Every bad cell is a fault of its line; those of `doubted` (line, place in the row)
/// have theirs already.
pub(super) fn read(
    file: &str,
    sheet: &Sheet<'_>,
    columns: &[Column],
    scales: &[Scale],
    doubted: &HashSet<(usize, usize)>,
    faults: &mut Vec<Note>,
) -> Vec<Values> {
    let mut rows = Vec::with_capacity(sheet.rows.len());
    for row in &sheet.rows {
        let place = || Place::Line(file.into(), row.line);
        let expected = sheet.heading.cells.len();
        if let Some(text) = wrong_count(row, expected) {
            let both = text.starts_with(COMMA_BOTH);
            faults.push(Note::new(place(), "", text));
            // The comma's double role spoils every row alike.
            if both {
                return rows;
            }
            continue;
        }
        let mut values = Vec::with_capacity(columns.len());
        for (column, scale) in columns.iter().zip(scales) {
            if doubted.contains(&(row.line, column.at)) {
                continue;
            }
            let name = sheet.heading.cells[column.at];
            match cell(row.cells[column.at], *scale, sheet.decimal_comma) {
                Ok(value) => values.push(value),
                Err(text) => faults.push(Note::new(place(), name, text)),
            }
        }
        if values.len() == columns.len() {
            rows.push(Values {
                line: row.line,
                values,
            });
        }
    }
    rows
}

/// Whether a row has a cell for every column.
pub(super) fn is_whole(row: &Row<'_>, expected: usize) -> bool {
    wrong_count(row, expected).is_none()
}

const COMMA_BOTH: &str = "the comma is both decimal and separator";

fn wrong_count(row: &Row<'_>, expected: usize) -> Option<String> {
    // Separators at the end of a row are a spreadsheet's.
    let filled = row
        .cells
        .iter()
        .rposition(|cell| !cell.is_empty())
        .map_or(0, |at| at + 1);
    if row.cells.len() >= expected && filled <= expected {
        return None;
    }
    let whole = row
        .cells
        .iter()
        .all(|cell| cell.bytes().all(|byte| byte.is_ascii_digit()));
    if filled > expected && whole {
        return Some(format!(
            "{COMMA_BOTH}: {filled} values under {expected} headings; save the file with semicolons \
             between the columns, or with decimal points"
        ));
    }
    Some(format!("{filled} values under {expected} headings"))
}

/// How a cell's number becomes SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    unit: Option<&'static Unit>,
    factor: f64,
    content: Content,
}

impl Scale {
    /// The scale of a column. `percent` is what the column's values look like where its heading
    /// does not say.
    pub(super) fn new(column: &Column, reference: Option<Reference>, percent: bool) -> Self {
        let corrected_volume = column.content == Content::CorrectedFlow
            && column
                .unit
                .is_some_and(|unit| unit.dimension == Dimension::VolumeFlow);
        let factor = match reference {
            Some(state) if corrected_volume => HumidAir::dry()
                .gas()
                .density(state.pressure, state.temperature),
            _ if percent && column.unit.is_none() => 0.01,
            _ => 1.0,
        };
        Self {
            unit: column.unit,
            factor,
            content: column.content,
        }
    }

    fn apply(self, value: f64) -> f64 {
        self.unit.map_or(value, |unit| unit.to_si(value)) * self.factor
    }
}

fn cell(text: &str, scale: Scale, decimal_comma: bool) -> Result<f64, String> {
    if text.is_empty() {
        return Err("has no value".to_owned());
    }
    // "66 %" under a heading without unit, or under [%], is the same number of per cent.
    let bare = text.strip_suffix('%').map(str::trim_end);
    let per_cent = bare.is_some() && scale.unit.is_none_or(|unit| unit.name() == "-");
    let read = number(bare.unwrap_or(text), decimal_comma)?;
    let value = if per_cent {
        read / 100.0
    } else {
        scale.apply(read)
    };
    sense(scale.content, value).map_or(Ok(value), |must| Err(format!("{text} {must}")))
}

/// What a value of this content has to be, where it is not.
fn sense(content: Content, value: f64) -> Option<&'static str> {
    let (good, must) = match content {
        Content::Efficiency => (
            value > 0.0 && value <= 1.0,
            "is out of range: an efficiency must be above 0 and at most 1 (100 %)",
        ),
        Content::VolumetricEfficiency => (
            value > 0.0 && value <= 1.2,
            "is out of range: a volumetric efficiency must be above 0 and at most 1.2 (120 %)",
        ),
        Content::ExpansionRatio => (
            value > 1.0,
            "is out of range: an expansion ratio must be above 1 (inlet over outlet pressure, both \
             absolute)",
        ),
        Content::Power => (
            value >= 0.0,
            "is out of range: a shaft power must be at least 0",
        ),
        _ => (value > 0.0, "is out of range: it must be above 0"),
    };
    (!good || !value.is_finite()).then_some(must)
}

/// Whether a column of shares without unit looks like per cent: every value above 1.5, none above
/// 120.
pub(super) fn looks_like_percent(sheet: &Sheet<'_>, column: &Column) -> bool {
    let mut any = false;
    for row in &sheet.rows {
        let value = row
            .cells
            .get(column.at)
            .map(|cell| number(cell, sheet.decimal_comma));
        match value {
            Some(Ok(value)) if value > 1.5 && value <= 120.0 => any = true,
            Some(Ok(_)) => return false,
            _ => {}
        }
    }
    any
}

/// The upper middle of some values.
pub(super) fn upper_middle(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied()
}

/// Turns measured speed and flow into corrected ones: m √(T/T_ref)/(p/p_ref), N/√(T/T_ref).
pub(super) fn correct(
    rows: &mut [Values],
    columns: &[Column],
    settings: &Settings,
    reference: Reference,
) {
    let (Some(pressure), Some(temperature)) = (settings.inlet_pressure, settings.inlet_temperature)
    else {
        return;
    };
    let theta = temperature / reference.temperature;
    for (at, column) in columns.iter().enumerate() {
        let factor = match column.content {
            Content::ActualSpeed => 1.0 / theta.sqrt(),
            Content::ActualFlow => theta.sqrt() / (pressure / reference.pressure),
            _ => continue,
        };
        for row in rows.iter_mut() {
            row.values[at] *= factor;
        }
    }
}

/// The points of an explicit surge line: corrected flow in kg/s and pressure ratio.
pub(super) fn surge_points(
    file: &str,
    settings: &Settings,
    reference: Reference,
    faults: &mut Vec<Note>,
) -> Vec<(usize, f64, f64)> {
    let density = HumidAir::dry()
        .gas()
        .density(reference.pressure, reference.temperature);
    let mut points = Vec::new();
    for (line, flow, ratio) in &settings.surge {
        let read = parse(flow, Kind::FuelFlow).map(|quantity| match quantity.unit.dimension {
            Dimension::VolumeFlow => quantity.value * density,
            _ => quantity.value,
        });
        match read {
            Ok(flow) if flow > 0.0 && *ratio > 1.0 => points.push((*line, flow, *ratio)),
            _ => {
                let text =
                    "is written FLOW unit, PRESSURE RATIO, for example # surge = 0.060 kg/s, 1.52";
                faults.push(Note::new(Place::Line(file.into(), *line), "surge", text));
            }
        }
    }
    points
}
