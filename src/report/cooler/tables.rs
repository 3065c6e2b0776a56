//! The cooler's two tables: its points down the page, and the line.

use super::words::rpm;
use crate::matching::MatchError;
use crate::quantity::UnitSystem;
use crate::report::fields::cooler_report::CoolerReport;
use crate::report::fields::field::Field;
use crate::report::fields::rows::columns;
use crate::report::table::{Sheet, within};
use crate::report::words::match_error;
use crate::report::wrap::WIDTH;
use crate::study::cooler::{CoolerPoint, EngineSide};

columns! {
    ENTRIES of CoolerPoint: effectiveness, flow_limit, heat_effectiveness, ntu, least_ntu,
        conductance_w_k, least_conductance_w_k, heat_w, inlet_temperature_k, outlet_temperature_k,
        sink_inlet_temperature_k, sink_outlet_temperature_k, sink_mass_flow_kg_s, approach_k,
        pressure_drop_pa, sink_pressure_drop_pa, inlet_density_kg_m3, outlet_density_kg_m3,
        density_gain, density_gain_without_drop;
}

columns! { ENGINE_ENTRIES of EngineSide: charge_temperature_k, manifold_pressure_pa; }

/// The hardest point, and the hottest beside it where that is another.
pub(super) fn points(report: &CoolerReport, system: UnitSystem) -> String {
    let (hardest, hottest) = (&report.assessment.hardest, &report.assessment.hottest);
    let speed = |point: &CoolerPoint| rpm(point.rpm, system);
    let (heads, points) = if (hardest.rpm - hottest.rpm).abs() < 1e-9 {
        let head = format!("{}\nmost heat, hottest charge", speed(hardest));
        (vec![String::new(), head], vec![hardest])
    } else {
        let heads = vec![
            String::new(),
            format!("{}\nmost heat", speed(hardest)),
            format!("{}\nhottest charge", speed(hottest)),
        ];
        (heads, vec![hardest, hottest])
    };
    let engines: Vec<&EngineSide> = points.iter().map(|point| &point.engine).collect();
    let mut sheet = Sheet::new(&heads);
    add_lines(&mut sheet, &ENTRIES, &points, system);
    add_lines(&mut sheet, &ENGINE_ENTRIES, &engines, system);
    sheet.text(1)
}

/// A line for each row that one of the subjects has.
fn add_lines<T>(sheet: &mut Sheet, rows: &[&Field<T>], of: &[&T], system: UnitSystem) {
    let exists = |row: &&&Field<T>| of.iter().any(|one| row.number(one).is_some());
    for row in rows.iter().filter(exists) {
        let mut cells = vec![row.title(system)];
        cells.extend(of.iter().map(|one| row.cell(one, system)));
        sheet.row(cells);
    }
}

columns! {
    COLUMNS of CoolerPoint: rpm, effectiveness, ntu, heat_w, inlet_temperature_k,
        outlet_temperature_k, sink_inlet_temperature_k, pressure_drop_pa, density_gain, air_gain,
        brake_power_gain_w;
}

columns! { ENGINE_COLUMNS of EngineSide: charge_temperature_k, air_mass_flow_kg_s; }

/// A column of the line's table.
enum Column {
    Point(&'static Field<CoolerPoint>),
    Engine(&'static Field<EngineSide>),
}

impl Column {
    fn head(&self, system: UnitSystem) -> String {
        let head = match self {
            Self::Point(row) => row.head(system),
            Self::Engine(row) => row.head(system),
        };
        head.replacen(" difference]", "]", 1)
    }

    fn exists(&self, point: &CoolerPoint) -> bool {
        match self {
            Self::Point(row) => row.number(point).is_some(),
            Self::Engine(row) => row.number(&point.engine).is_some(),
        }
    }

    fn cell(&self, point: &CoolerPoint, system: UnitSystem) -> String {
        match self {
            Self::Point(row) => row.cell(point, system),
            Self::Engine(row) => row.cell(&point.engine, system),
        }
    }
}

/// Whether the charge reaches the manifold at another temperature than it leaves the cooler, K.
fn is_apart(point: &CoolerPoint) -> bool {
    const SEEN: f64 = 0.05;
    (point.state.outlet_temperature - point.engine.charge_temperature).abs() > SEEN
}

/// The speeds of the line.
pub(super) fn line(report: &CoolerReport, system: UnitSystem) -> String {
    let rows = &report.assessment.points;
    let [charge, air] = ENGINE_COLUMNS;
    let mut columns: Vec<Column> = COLUMNS.map(Column::Point).into();
    columns.insert(9, Column::Engine(air));
    if rows.iter().flatten().any(is_apart) {
        columns.insert(6, Column::Engine(charge));
    }
    columns.retain(|column| rows.iter().flatten().any(|point| column.exists(point)));
    let heads: Vec<String> = columns.iter().map(|column| column.head(system)).collect();
    let cells = |point: &CoolerPoint| {
        let cells = columns.iter().map(|column| column.cell(point, system));
        cells.collect()
    };
    let cells: Vec<Vec<String>> = rows.iter().flatten().map(cells).collect();
    let table = within(&heads, &cells, (1, 0), WIDTH);
    let error = |(at, fault): &(f64, MatchError)| {
        let fault = match_error(fault).in_units(system);
        format!("no match at {}: {fault}\n", rpm(*at, system))
    };
    let errors = rows.iter().filter_map(|row| row.as_ref().err()).map(error);
    format!("{table}{}", errors.collect::<String>())
}
