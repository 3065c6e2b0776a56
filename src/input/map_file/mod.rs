//! Map files: a CSV of the user's, one row a point.
//!
//! Generous in reading: any order of columns and rows, commas, semicolons or tabs, decimal commas,
//! any line ending, per cent or fraction, every unit of the table. Strict in meaning: what is
//! ambiguous is a fault that names its line, and all faults of a file come in one run. What a set of
//! points has to satisfy as a surface is checked by [`crate::map`]; its answers are put into the
//! file's lines here. Whether figures can be meant at all is asked in `sense`.
//!
//! Lines that begin with `#` and hold `=` are settings: `reference_temperature`,
//! `reference_pressure`, `origin`; `machine = axial` where it is no radial wheel; `inlet_temperature` and `inlet_pressure` where speed and flow are
//! as measured; `displacement` where a supercharger's delivered flow stands for its volumetric
//! efficiency; `surge = 0.060 kg/s, 1.52`, one line a point, for a surge line of its own.

mod column;
mod columns;
mod compressor;
mod rows;
mod sense;
mod settings;
mod sheet;
mod supercharger;
mod turbine;
mod words;

use std::sync::Arc;

use super::fault::{Note, Place};
use crate::map::sense::Wheel;
use crate::map::{CompressorMap, SuperchargerMap, TurbineMap};
use crate::quantity::Words;
use column::{Column, Content};
use columns::position;
use settings::Settings;
use sheet::Sheet;

/// A fault count beyond which a file is not worth listing further.
const MOST_FAULTS: usize = 25;

/// What a map file holds.
#[derive(Debug, Clone)]
pub enum MapContent {
    /// A compressor's map, ready to use.
    Compressor(Arc<CompressorMap>),
    /// A positive-displacement supercharger's map, ready to use.
    Supercharger(Arc<SuperchargerMap>),
    /// A turbine's map, ready to use.
    Turbine(Arc<TurbineMap>),
}

/// A map file as understood.
#[derive(Debug, Clone)]
pub struct MapFile {
    /// The file's name as reported.
    pub file: Arc<str>,
    /// What the map is: measured, digitised, invented; absent where the file does not say.
    pub origin: Option<String>,
    /// What it holds.
    pub content: MapContent,
    /// How many rows were read.
    pub rows: usize,
    /// The wheel that a compressor's or turbine's figures imply; absent of an axial machine.
    pub wheel: Option<Wheel>,
    /// What was done to the rows or left aside.
    pub remarks: Vec<Note>,
}

impl MapContent {
    /// What kind of map it is, in words.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Compressor(_) => "compressor map",
            Self::Supercharger(_) => "supercharger map",
            Self::Turbine(..) => "turbine map",
        }
    }
}

/// Reads a map from a file's bytes; `file` is the name to report. Every fault of the file, in line
/// order, where it is no map.
pub fn read(file: &str, bytes: &[u8]) -> Result<MapFile, Vec<Note>> {
    let text = super::text::decode(file, bytes).map_err(|fault| vec![fault])?;
    let sheet = sheet::cut(file, &text).map_err(|fault| vec![fault])?;
    let mut reading = Reading {
        file: file.into(),
        faults: Vec::new(),
        remarks: Vec::new(),
        spoilt: Vec::new(),
        headless: false,
        is_state_sound: true,
        wheel: None,
    };
    let content = reading.content(&sheet);
    reading.faults.sort_by(|a, b| a.place.cmp(&b.place));
    reading.remarks.sort_by(|a, b| a.place.cmp(&b.place));
    match content {
        Some((content, settings)) if reading.faults.is_empty() => Ok(MapFile {
            file: reading.file,
            origin: settings.origin,
            content,
            rows: sheet.rows.len(),
            wheel: reading.wheel,
            remarks: reading.remarks,
        }),
        _ => Err(shortened(reading.faults)),
    }
}

fn shortened(mut faults: Vec<Note>) -> Vec<Note> {
    let more = faults.len().saturating_sub(MOST_FAULTS);
    if more > 0 {
        faults.truncate(MOST_FAULTS);
        let place = faults[MOST_FAULTS - 1].place.clone();
        faults.push(Note::new(
            place,
            "",
            format!("and {more} more faults after these"),
        ));
    }
    faults
}

/// One file being read.
struct Reading {
    file: Arc<str>,
    faults: Vec<Note>,
    remarks: Vec<Note>,
    /// Columns that are there but could not be understood.
    spoilt: Vec<Content>,
    /// Whether there is no heading at all.
    headless: bool,
    /// Whether the states and volumes in the `#` lines can be, so that figures can be held to them.
    is_state_sound: bool,
    /// What the map implies of its wheel.
    wheel: Option<Wheel>,
}

impl Reading {
    fn fault(&mut self, line: usize, key: &str, text: impl Into<Words>) {
        let place = Place::Line(Arc::clone(&self.file), line);
        self.faults.push(Note::new(place, key, text));
    }

    fn remark(&mut self, line: usize, key: &str, text: impl Into<Words>) {
        let place = Place::Line(Arc::clone(&self.file), line);
        self.remarks.push(Note::new(place, key, text));
    }

    fn content(&mut self, sheet: &Sheet<'_>) -> Option<(MapContent, Settings)> {
        let settings = settings::read(
            &self.file,
            &sheet.settings,
            sheet.decimal_comma,
            &mut self.faults,
            &mut self.remarks,
        );
        if settings.origin.is_none() && !settings.faulty.contains(&"origin") {
            self.remark(
                1,
                "origin",
                "is not said: write # origin = measured, digitised or invented",
            );
        }
        let columns = self.columns(sheet);
        self.doubt_settings(&settings, kind(&columns));
        let content = match kind(&columns) {
            Content::ExpansionRatio => self.turbine(sheet, &columns, &settings),
            Content::VolumetricEfficiency => self.supercharger(sheet, &columns, &settings),
            _ => self.compressor(sheet, &columns, &settings),
        };
        Some((content?, settings))
    }
}

/// The content that tells the kind of map.
fn kind(columns: &[Column]) -> Content {
    let has = |content| position(columns, content).is_some();
    if has(Content::ExpansionRatio) {
        Content::ExpansionRatio
    } else if has(Content::VolumetricEfficiency) || has(Content::DeliveredFlow) {
        Content::VolumetricEfficiency
    } else {
        Content::PressureRatio
    }
}

/// A number of the file, with its decimal mark.
fn number(text: &str, decimal_comma: bool) -> Result<f64, String> {
    if decimal_comma && text.contains(',') {
        if text.contains('.') {
            return Err(format!(
                "{text} holds a point and a comma: remove the thousands' separator"
            ));
        }
        return number(&text.replacen(',', ".", 1), false);
    }
    // "80.000" beside decimal commas may be eighty thousand.
    if decimal_comma && text.contains('.') {
        return Err(format!(
            "{text} has a point where the file has decimal commas: write one of them throughout"
        ));
    }
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => crate::quantity::number(text).map_err(|fault| fault.to_string()),
    }
}

#[cfg(test)]
mod tests;
