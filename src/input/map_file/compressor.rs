//! The map of a compressor from its columns.

use super::column::{Column, Content, position};
use super::reading::Reading;
use super::rows::Values;
use super::sense::Table;
use super::settings::Settings;
use super::sheet::Sheet;
use super::{rows, words};
use crate::map::sense::{Entry, Shape, Wheel, range};
use crate::map::{CompressorMap, CompressorRow, MapError, Reference, SurgeLine};

impl Reading {
    pub(super) fn compressor(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> Option<CompressorMap> {
        let (speed, flow) = self.speed_and_flow(sheet, columns, settings);
        let ratio = self.needed(sheet, columns, Content::PressureRatio, "pressure_ratio [-]");
        let efficiency = self.needed(sheet, columns, Content::Efficiency, "efficiency [-]");
        let reference = self.reference(sheet, settings);
        let values = self.values(sheet, columns, reference, settings);
        let (speed, flow, ratio, efficiency) = (speed?, flow?, ratio?, efficiency?);
        let reference = reference?;
        self.doubt_compressor(sheet, columns, &values, reference, settings);
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
        self.doubt_surge(&map, &surge);
        let map = self.with_surge_line(map, &surge)?;
        let map = map.with_origin(settings.origin.clone());
        Some(map)
    }

    /// Whether the figures can be a compressor's.
    fn doubt_compressor(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        values: &[Values],
        reference: Reference,
        settings: &Settings,
    ) {
        let table = Table {
            sheet,
            columns,
            values,
            reference: Some(reference),
        };
        let largest = if settings.is_axial {
            range::LARGEST_AXIAL_RATIO
        } else {
            range::LARGEST_RADIAL_RATIO
        };
        let is_sound = self.doubt_ratios(&table, largest) && self.is_state_sound;
        self.doubt_best(&table, Content::Efficiency, &range::BEST_EFFICIENCY);
        let by_ratio = table.compressor_entries();
        if let Some(wheel) = Wheel::of_compressor(reference, &by_ratio).filter(|_| is_sound) {
            self.doubt_wheel(&table, wheel, Shape::Compressor, settings.is_axial);
        }
        let by_head: Vec<Entry> = by_ratio.iter().map(|entry| entry.with_head()).collect();
        self.doubt_rows(&table, &by_head, Shape::Compressor);
        if self.faults.is_empty() {
            self.doubt_lines(&table, &by_head);
        }
    }

    pub(super) fn with_surge_line(
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
                    let text = match error {
                        MapError::TooFewPoints { needed, .. } => format!(
                            "a surge line needs at least {needed} points, one # surge line each"
                        ),
                        _ => text,
                    };
                    self.fault(line, "surge", text);
                }
                None
            }
        }
    }

    /// The columns of speed and flow: corrected, or as measured with the inlet state that turns
    /// them into corrected ones.
    pub(super) fn speed_and_flow(
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
            let text = "speed or flow is not marked as corrected: name the column corrected_speed or \
                        corrected_flow if it is; if it is as measured, write the inlet state above the \
                        heading, # inlet_temperature = 300 K and # inlet_pressure = 98 kPa";
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
}
