//! The map of a positive-displacement supercharger from its columns.

use super::column::{Column, Content, position};
use super::reading::Reading;
use super::rows::Values;
use super::sense::Table;
use super::settings::Settings;
use super::sheet::Sheet;
use crate::map::sense::{Entry, Shape, range};
use crate::map::{self, SuperchargerMap, SuperchargerRow};

impl Reading {
    pub(super) fn supercharger(
        &mut self,
        sheet: &Sheet<'_>,
        columns: &[Column],
        settings: &Settings,
    ) -> Option<SuperchargerMap> {
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
            let text = "is missing: add an efficiency [-] or a power [kW] column";
            self.fault(sheet.heading.line, "efficiency", text);
        }
        let inlet = self.inlet_of_power(sheet, settings, efficiency.is_none());
        if !self.faults.is_empty() {
            return None;
        }
        let row = |row: &Values| {
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
        };
        let rows: Vec<SuperchargerRow> = values.iter().filter_map(row).collect();
        let table = Table {
            sheet,
            columns,
            values: &values,
            reference: None,
        };
        self.doubt_supercharger(&table, &rows, settings);
        if !self.faults.is_empty() {
            return None;
        }
        let lines: Vec<usize> = values.iter().map(|row| row.line).collect();
        let map = self.surface(sheet, SuperchargerMap::new(&rows), &lines)?;
        self.surface_remarks(map.remarks(), &lines);
        Some(map)
    }

    /// Whether the figures can be a displacement supercharger's.
    fn doubt_supercharger(
        &mut self,
        table: &Table<'_>,
        rows: &[SuperchargerRow],
        settings: &Settings,
    ) {
        self.doubt_ratios(table, range::LARGEST_DISPLACEMENT_RATIO);
        self.doubt_rotors(table, settings.displacement);
        let best = [
            (Content::VolumetricEfficiency, range::BEST_FILLING),
            (Content::Efficiency, range::BEST_EFFICIENCY),
        ];
        for (content, range) in &best {
            self.doubt_best(table, *content, range);
        }
        let filling = rows.iter().map(|row| row.volumetric_efficiency);
        self.doubt_derived(table, Content::DeliveredFlow, filling, &range::BEST_FILLING);
        let efficiency = rows.iter().map(|row| row.efficiency);
        self.doubt_derived(table, Content::Power, efficiency, &range::BEST_EFFICIENCY);
        let entry = |(at, row): (usize, &SuperchargerRow)| Entry {
            row: at,
            speed: row.speed,
            along: row.pressure_ratio,
            values: [row.volumetric_efficiency, row.efficiency],
        };
        let entries: Vec<Entry> = rows.iter().enumerate().map(entry).collect();
        self.doubt_rows(table, &entries, Shape::Displacement);
    }

    /// The inlet state, K and Pa, that turns a power into an efficiency.
    pub(super) fn inlet_of_power(
        &mut self,
        sheet: &Sheet<'_>,
        settings: &Settings,
        wanted: bool,
    ) -> Option<(f64, f64)> {
        let inlet = settings.inlet_temperature.zip(settings.inlet_pressure);
        if wanted && (inlet.is_none() || settings.displacement.is_none()) {
            let text = "needs the swept volume and the inlet state to give an efficiency: write # \
                        displacement = 2.1 L, # inlet_temperature = 20 degC, # inlet_pressure = 101.325 kPa";
            self.fault(sheet.heading.line, "power", text);
        }
        inlet
    }
}
