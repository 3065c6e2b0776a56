//! Map files: a CSV of the user's, one row a point.
//!
//! Generous in reading: any order of columns and rows, commas, semicolons or tabs, decimal commas,
//! any line ending, per cent or fraction, every unit of the table. Strict in meaning: what is
//! ambiguous is a fault that names its line, and all faults of a file come in one run. What a set of
//! points has to satisfy as a surface is checked by [`crate::map`]; its answers are put into the
//! file's lines here.
//!
//! Lines that begin with `#` and hold `=` are settings: `reference_temperature`,
//! `reference_pressure`, `origin`; `inlet_temperature` and `inlet_pressure` where speed and flow are
//! as measured; `displacement` where a supercharger's delivered flow stands for its volumetric
//! efficiency; `surge = 0.060 kg/s, 1.52`, one line a point, for a surge line of its own.

mod column;
mod rows;
mod settings;
mod sheet;
mod words;

use std::sync::Arc;

use super::fault::{Note, Place};
use crate::map::{
    self, CompressorMap, CompressorRow, MapError, Reference, Remark, SuperchargerMap,
    SuperchargerRow, SurgeLine, TurbineMap, TurbineRow,
};
use column::{Column, Content, Heading};
use rows::{Scale, Values};
use settings::Settings;
use sheet::Sheet;

/// Speed of a turbine map that has one line for all speeds, rpm; any would do.
const ONE_LINE: f64 = 1000.0;
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
}

impl Reading {
    fn fault(&mut self, line: usize, key: &str, text: impl Into<String>) {
        let place = Place::Line(Arc::clone(&self.file), line);
        self.faults.push(Note::new(place, key, text));
    }

    fn remark(&mut self, line: usize, key: &str, text: impl Into<String>) {
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
        let content = match kind(&columns) {
            Content::ExpansionRatio => self.turbine(sheet, &columns, &settings),
            Content::VolumetricEfficiency => self.supercharger(sheet, &columns, &settings),
            _ => self.compressor(sheet, &columns, &settings),
        };
        Some((content?, settings))
    }

    fn columns(&mut self, sheet: &Sheet<'_>) -> Vec<Column> {
        let line = sheet.heading.line;
        let mut columns: Vec<Column> = Vec::new();
        for (at, cell) in sheet.heading.cells.iter().enumerate() {
            match column::read(at, cell) {
                Heading::Column(column) => {
                    if columns.iter().any(|other| other.content == column.content) {
                        self.fault(line, cell, "stands twice in the heading");
                    }
                    columns.push(column);
                }
                Heading::Unused(name) if name.is_empty() => {}
                Heading::Unused(name) if name.parse::<f64>().is_ok() => {
                    let text = "there is no heading: the first line has to name the columns with \
                                units, for example corrected_speed [rpm], corrected_flow [kg/s], \
                                pressure_ratio [-], efficiency [-]";
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

    fn compressor(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> Option<MapContent> {
        let (speed, flow) = self.speed_and_flow(sheet, columns, settings);
        let ratio = self.needed(sheet, columns, Content::PressureRatio, "pressure_ratio [-]");
        let efficiency = self.needed(sheet, columns, Content::Efficiency, "efficiency [-]");
        let reference = self.reference(sheet, settings);
        let values = self.values(sheet, columns, reference, settings);
        let (speed, flow, ratio, efficiency) = (speed?, flow?, ratio?, efficiency?);
        let reference = reference?;
        let surge = rows::surge_points(&self.file, settings, reference, &mut self.faults);
        if !self.faults.is_empty() {
            return None;
        }
        let rows: Vec<CompressorRow> = values
            .iter()
            .map(|row| CompressorRow {
                speed: row.values[speed],
                flow: row.values[flow],
                pressure_ratio: row.values[ratio],
                efficiency: row.values[efficiency],
            })
            .collect();
        let lines: Vec<usize> = values.iter().map(|row| row.line).collect();
        let map = self.surface(sheet, CompressorMap::new(reference, &rows), &lines)?;
        self.surface_remarks(map.remarks(), &lines);
        let map = self.with_surge_line(map, &surge)?;
        let map = map.with_origin(settings.origin.clone());
        Some(MapContent::Compressor(Arc::new(map)))
    }

    fn with_surge_line(
        &mut self,
        map: CompressorMap,
        surge: &[(usize, f64, f64)],
    ) -> Option<CompressorMap> {
        if surge.is_empty() {
            return Some(map);
        }
        let points: Vec<(f64, f64)> = surge.iter().map(|point| (point.1, point.2)).collect();
        let lines: Vec<usize> = surge.iter().map(|point| point.0).collect();
        match SurgeLine::new(&points) {
            Ok(line) => Some(map.with_surge_line(line)),
            Err(errors) => {
                for error in &errors {
                    let (line, text) = words::fault(error, &lines);
                    self.fault(line, "surge", text);
                }
                None
            }
        }
    }

    fn turbine(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> Option<MapContent> {
        let speed = position(columns, Content::CorrectedSpeed);
        let flow = self.needed(
            sheet,
            columns,
            Content::CorrectedFlow,
            "corrected_flow [kg/s]",
        );
        let ratio = position(columns, Content::ExpansionRatio);
        let efficiency = self.needed(sheet, columns, Content::Efficiency, "efficiency [-]");
        let reference = self.reference(sheet, settings);
        let values = self.values(sheet, columns, reference, settings);
        let (flow, ratio, efficiency) = (flow?, ratio?, efficiency?);
        let reference = reference?;
        if !self.faults.is_empty() {
            return None;
        }
        let rows: Vec<TurbineRow> = values
            .iter()
            .map(|row| TurbineRow {
                speed: speed.map_or(ONE_LINE, |at| row.values[at]),
                expansion_ratio: row.values[ratio],
                flow: row.values[flow],
                efficiency: row.values[efficiency],
            })
            .collect();
        let lines: Vec<usize> = values.iter().map(|row| row.line).collect();
        let map = self.surface(sheet, TurbineMap::new(reference, &rows), &lines)?;
        self.surface_remarks(map.remarks(), &lines);
        Some(MapContent::Turbine(Arc::new(map)))
    }

    /// A surface, or its faults put into the file's lines.
    fn surface<T>(
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

    fn surface_remarks(&mut self, remarks: &[Remark], lines: &[usize]) {
        for remark in remarks {
            let (line, text) = words::remark(remark, lines);
            self.remark(line, "", text);
        }
    }

    fn supercharger(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> Option<MapContent> {
        let speed = self.needed(sheet, columns, Content::ActualSpeed, "speed [rpm]");
        let ratio = self.needed(sheet, columns, Content::PressureRatio, "pressure_ratio [-]");
        let filling = position(columns, Content::VolumetricEfficiency);
        let delivered = position(columns, Content::DeliveredFlow);
        if filling.is_none() && settings.displacement.is_none() {
            let text =
                "is missing: a delivered flow needs the swept volume, write # displacement = 2.1 L";
            self.fault(sheet.heading.line, "displacement", text);
        }
        let efficiency = position(columns, Content::Efficiency);
        let power = position(columns, Content::Power);
        let values = self.values(sheet, columns, None, settings);
        let (speed, ratio) = (speed?, ratio?);
        if efficiency.is_none() && power.is_none() {
            let text = "is missing: an efficiency [-] or a power [kW] column tells the work";
            self.fault(sheet.heading.line, "efficiency", text);
        }
        let inlet = self.inlet_of_power(sheet, settings, efficiency.is_none());
        if !self.faults.is_empty() {
            return None;
        }
        let rows: Vec<SuperchargerRow> = values
            .iter()
            .filter_map(|row| {
                let swept = settings.displacement.unwrap_or(1.0) * row.values[speed] / 60.0;
                let filling = filling.map(|at| row.values[at]);
                let filling = filling.or_else(|| delivered.map(|at| row.values[at] / swept))?;
                let efficiency = efficiency.map(|at| row.values[at]).or_else(|| {
                    let (temperature, pressure) = inlet?;
                    let flow = pressure / (map::head::GAS_CONSTANT * temperature) * swept * filling;
                    let head = map::head::from_ratio(row.values[ratio]);
                    Some(flow * map::head::scale(temperature) * head / row.values[power?])
                })?;
                Some(SuperchargerRow {
                    speed: row.values[speed],
                    pressure_ratio: row.values[ratio],
                    volumetric_efficiency: filling,
                    efficiency,
                })
            })
            .collect();
        let lines: Vec<usize> = values.iter().map(|row| row.line).collect();
        let map = self.surface(sheet, SuperchargerMap::new(&rows), &lines)?;
        self.surface_remarks(map.remarks(), &lines);
        Some(MapContent::Supercharger(Arc::new(map)))
    }

    /// The inlet state, K and Pa, that turns a power into an efficiency.
    fn inlet_of_power(
        &mut self,
        sheet: &Sheet<'_>,
        settings: &Settings,
        wanted: bool,
    ) -> Option<(f64, f64)> {
        let inlet = settings.inlet_temperature.zip(settings.inlet_pressure);
        if wanted && (inlet.is_none() || settings.displacement.is_none()) {
            let text = "becomes an efficiency with the swept volume and the inlet state: write \
                        # displacement = 2.1 L, # inlet_temperature = 20 degC, # inlet_pressure = \
                        101.325 kPa";
            self.fault(sheet.heading.line, "power", text);
        }
        inlet
    }

    /// The columns of speed and flow: corrected, or as measured with the inlet state that turns
    /// them into corrected ones.
    fn speed_and_flow(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> (Option<usize>, Option<usize>) {
        let speed = position(columns, Content::CorrectedSpeed);
        let flow = position(columns, Content::CorrectedFlow);
        let actual_speed = position(columns, Content::ActualSpeed);
        let actual_flow = position(columns, Content::ActualFlow);
        let measured = (speed.is_none() && actual_speed.is_some())
            || (flow.is_none() && actual_flow.is_some());
        let known = settings.inlet_pressure.is_some() && settings.inlet_temperature.is_some();
        if measured && !known {
            let text = "speed or flow is not called corrected: name the column corrected_speed or \
                        corrected_flow if it is; if it is as measured, write the inlet's state \
                        above, # inlet_temperature = 300 K and # inlet_pressure = 98 kPa";
            self.fault(sheet.heading.line, "", text);
        }
        let speed = speed.or(actual_speed);
        let flow = flow.or(actual_flow);
        let (corrected, measured) = (Content::CorrectedSpeed, Content::ActualSpeed);
        if speed.is_none() {
            self.missing(sheet, &[corrected, measured], "corrected_speed [rpm]");
        }
        let (corrected, measured) = (Content::CorrectedFlow, Content::ActualFlow);
        if flow.is_none() {
            self.missing(sheet, &[corrected, measured], "corrected_flow [kg/s]");
        }
        (speed, flow)
    }

    fn needed(
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
    fn missing(&mut self, sheet: &Sheet<'_>, contents: &[Content], name: &str) {
        let spoilt = contents.iter().any(|content| self.spoilt.contains(content));
        if !spoilt && !self.headless {
            self.fault(sheet.heading.line, "", format!("column {name} is missing"));
        }
    }

    fn reference(&mut self, sheet: &Sheet<'_>, settings: &Settings) -> Option<Reference> {
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
                    "is missing: a map means nothing without the state it is corrected to; it stands \
                     on the map's sheet, usual pairs are 298.15 K with 100 kPa and 288.15 K with \
                     101.325 kPa; write above the heading # {key} = {example}"
                );
                self.fault(sheet.heading.line, key, text);
            }
        }
        Some(Reference {
            temperature: settings.reference_temperature?,
            pressure: settings.reference_pressure?,
        })
    }

    fn values(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        reference: Option<Reference>,
        settings: &Settings,
    ) -> Vec<Values> {
        let mut scales = Vec::with_capacity(columns.len());
        for column in columns {
            let share = matches!(
                column.content,
                Content::Efficiency | Content::VolumetricEfficiency
            );
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
        let mut values = rows::read(&self.file, sheet, columns, &scales, &mut self.faults);
        if let Some(reference) = reference {
            rows::correct(&mut values, columns, settings, reference);
        }
        values
    }
}

fn position(columns: &[Column], content: Content) -> Option<usize> {
    columns.iter().position(|column| column.content == content)
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
