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
mod number;
mod reading;
mod rows;
mod sense;
mod settings;
mod sheet;
mod supercharger;
mod turbine;
mod words;

use std::sync::Arc;

use super::fault::Note;
use crate::map::sense::Wheel;
use crate::map::{CompressorMap, SuperchargerMap, TurbineMap};
use column::{Column, Content, position};
use reading::Reading;
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
    let mut reading = Reading::new(file);
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

impl Reading {
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
                "is missing: write # origin = measured, digitised or invented",
            );
        }
        let columns = self.columns(sheet);
        self.doubt_settings(&settings, kind(&columns));
        let content = match kind(&columns) {
            Content::ExpansionRatio => {
                MapContent::Turbine(Arc::new(self.turbine(sheet, &columns, &settings)?))
            }
            Content::VolumetricEfficiency => {
                MapContent::Supercharger(Arc::new(self.supercharger(sheet, &columns, &settings)?))
            }
            _ => MapContent::Compressor(Arc::new(self.compressor(sheet, &columns, &settings)?)),
        };
        Some((content, settings))
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

#[cfg(test)]
mod tests;
