//! The map of a turbine from its columns.

use std::sync::Arc;

use super::column::{Column, Content};
use super::columns::position;
use super::settings::Settings;
use super::sheet::Sheet;
use super::{MapContent, Reading};
use crate::map::{TurbineMap, TurbineRow};

/// Speed of a turbine map that has one line for all speeds, rpm; any would do.
const ONE_LINE: f64 = 1000.0;

impl Reading {
    pub(super) fn turbine(
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
}
