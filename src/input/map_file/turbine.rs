//! The map of a turbine from its columns.

use super::column::{Column, Content, position};
use super::reading::Reading;
use super::rows::Values;
use super::sense::Table;
use super::settings::Settings;
use super::sheet::Sheet;
use crate::map::sense::wheel::nozzle_area;
use crate::map::sense::{Shape, Wheel, range};
use crate::map::{Reference, TurbineMap, TurbineRow};

/// Speed of a turbine map that has one line for all speeds, rpm; any would do.
const ONE_LINE: f64 = 1000.0;

impl Reading {
    pub(super) fn turbine(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> Option<TurbineMap> {
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
        self.doubt_turbine(sheet, columns, &values, reference, settings);
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
        Some(map)
    }

    /// Whether the figures can be a turbine's.
    fn doubt_turbine(
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
        let is_sound = self.doubt_ratios(&table, range::LARGEST_EXPANSION_RATIO);
        self.doubt_best(&table, Content::Efficiency, &range::BEST_TURBINE_EFFICIENCY);
        let entries = table.turbine_entries(ONE_LINE);
        if !is_sound || !self.is_state_sound {
            // What follows from a wrong state or ratio would be wrong too.
        } else if position(columns, Content::CorrectedSpeed).is_none() {
            if let Some(area) = nozzle_area(reference, &entries) {
                self.doubt_nozzle(&table, area, settings.is_axial);
            }
        } else if let Some(wheel) = Wheel::of_turbine(reference, &entries) {
            self.doubt_wheel(&table, wheel, Shape::Turbine, settings.is_axial);
        }
        self.doubt_rows(&table, &entries, Shape::Turbine);
    }
}
