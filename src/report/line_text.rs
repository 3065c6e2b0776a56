//! The operating line for reading: one row a speed.

use super::costs_text::power_line_text;
use super::events::events_text;
use super::point_text::{boost, heading, or_dash};
use super::table::{Sheet, fits, one_line};
use super::view::{LineView, PointView, RowView};
use super::words;
use crate::quantity::{Kind, UnitSystem, shown};

/// A column: its heading and the number it takes from a match.
type Column = (String, Kind, Box<dyn Fn(&PointView) -> Option<f64>>);

/// A line as text in the reader's units.
pub fn line_text(line: &LineView, system: UnitSystem) -> String {
    let mut out = format!("{}\n\n", one_line(&line.title));
    let first = line.points.iter().find_map(|row| match row {
        RowView::Point(point) => Some(point),
        RowView::Error { .. } => None,
    });
    if let Some(first) = first {
        out.push_str(&table(line, columns(first), system));
    }
    for row in &line.points {
        if let RowView::Error { rpm, error } = row {
            let error = error.in_units(system);
            out.push_str(&format!("no match at {rpm:.0} rpm: {error}\n"));
        }
    }
    out.push_str(&power_line_text(line, system));
    let no_hand_over = if line.hand_over.is_empty() {
        words::no_hand_over(&works(line))
    } else {
        None
    };
    let events = events_text(line, system);
    if no_hand_over.is_some() || !events.is_empty() {
        out.push('\n');
        out.extend(no_hand_over);
        out.push_str(&events);
    }
    out
}

/// The speeds with a match, rpm, and whether a belt-driven stage compresses there; empty where no
/// turbine could take over.
fn works(line: &LineView) -> Vec<(f64, bool)> {
    let at = |row: &RowView| {
        let RowView::Point(point) = row else {
            return None;
        };
        let stage = |drive: &str| point.stages.iter().find(|stage| stage.drive == drive);
        stage("turbine")?;
        Some((point.rpm, stage("belt")?.pressure_ratio > 1.0 + WORKS))
    };
    line.points.iter().filter_map(at).collect()
}

/// Above 1 by this a supercharger compresses, as the line counts its hand-overs.
const WORKS: f64 = 1e-9;

/// One table, or two below each other where one is too wide: the intake's columns, the rest.
fn table(line: &LineView, mut columns: Vec<Column>, system: UnitSystem) -> String {
    let whole = sheet(line, &columns, system);
    if fits(&whole) {
        return whole;
    }
    let intake = columns.iter().position(|(name, ..)| name == MANIFOLD);
    let mut rest = columns.split_off(intake.map_or(1, |at| at + 1));
    rest.insert(0, speed());
    let (intake, rest) = (sheet(line, &columns, system), sheet(line, &rest, system));
    format!("{intake}\n{rest}")
}

fn sheet(line: &LineView, columns: &[Column], system: UnitSystem) -> String {
    let headings: Vec<_> = columns
        .iter()
        .map(|(name, kind, _)| narrow(name, *kind, system))
        .collect();
    let mut sheet = Sheet::new(&headings);
    for row in &line.points {
        sheet.row(cells(row, columns, system));
    }
    sheet.text(0)
}

/// Heading of the last column of the intake.
const MANIFOLD: &str = "mani-\nfold";

fn speed() -> Column {
    column("engine", Kind::RotationalSpeed, |p| Some(p.rpm))
}

fn cells(row: &RowView, columns: &[Column], system: UnitSystem) -> Vec<String> {
    match row {
        RowView::Point(point) => columns
            .iter()
            .map(|(_, kind, value)| or_dash(value(point), *kind, system))
            .collect(),
        RowView::Error { rpm, .. } => {
            let mut cells = vec![
                shown(*rpm, Kind::RotationalSpeed, system),
                "no match".to_owned(),
            ];
            cells.resize(columns.len(), String::new());
            cells
        }
    }
}

/// The columns that a layout has.
fn columns(first: &PointView) -> Vec<Column> {
    let mut columns: Vec<Column> = vec![
        speed(),
        column("air", Kind::MassFlow, |p| Some(p.air_mass_flow_kg_s)),
        column("boost", Kind::BoostPressure, |p| Some(boost(p))),
    ];
    for (i, stage) in first.stages.iter().enumerate() {
        let name = short(&stage.name);
        columns.push(column(&format!("{name}\nratio"), Kind::Number, move |p| {
            p.stages.get(i).map(|stage| stage.pressure_ratio)
        }));
    }
    if first.stages.len() > 1 {
        let name = short(&first.stages[0].name);
        columns.push(column(&format!("{name}\nsplit"), Kind::Share, |p| {
            p.stages.first()?.split_share
        }));
    }
    if first
        .stages
        .iter()
        .any(|stage| stage.bypass_share.is_some())
    {
        columns.push(column("by-\npassed", Kind::Share, |p| {
            p.stages.iter().find_map(|stage| stage.bypass_share)
        }));
    }
    for (i, station) in first.stations.iter().enumerate() {
        let name = station.name.as_str();
        if name.ends_with("outlet") && !name.starts_with("turbine") && !name.starts_with("cooler") {
            let name = short(name.trim_end_matches(" outlet"));
            columns.push(column(
                &format!("after\n{name}"),
                Kind::Temperature,
                move |p| p.stations.get(i).map(|station| station.temperature_k),
            ));
        }
    }
    columns.push(column(MANIFOLD, Kind::Temperature, |p| {
        Some(p.station("manifold")?.temperature_k)
    }));
    if first.station("turbine inlet").is_some() {
        columns.push(column("drive\npres-\nsure", Kind::AbsolutePressure, |p| {
            Some(p.station("turbine inlet")?.pressure_pa)
        }));
        columns.push(column("before\ntur-\nbine", Kind::Temperature, |p| {
            Some(p.station("turbine inlet")?.temperature_k)
        }));
    }
    if first.station("exhaust").is_some() {
        columns.push(column("exhaust", Kind::Temperature, |p| {
            Some(p.station("exhaust")?.temperature_k)
        }));
    }
    if first
        .turbines
        .iter()
        .any(|turbine| turbine.wastegate_share.is_some())
    {
        columns.push(column("waste-\ngate", Kind::Share, |p| {
            p.turbines
                .iter()
                .find_map(|turbine| turbine.wastegate_share)
        }));
    }
    if first
        .stages
        .iter()
        .any(|stage| stage.crank_power_w.is_some())
    {
        columns.push(column("belt\nfrom\ncrank", Kind::Power, |p| {
            Some(
                p.stages
                    .iter()
                    .filter_map(|stage| stage.crank_power_w)
                    .sum(),
            )
        }));
    }
    if first.engine.brake_power_w.is_some() {
        columns.push(column("brake\npower", Kind::Power, |p| {
            p.engine.brake_power_w
        }));
        columns.push(column("torque", Kind::Torque, |p| p.engine.torque_n_m));
        columns.push(column(
            "fuel\nper\nwork",
            Kind::SpecificFuelConsumption,
            |p| p.engine.bsfc_g_kwh.map(|value| value / 3.6e9),
        ));
    }
    columns
}

fn column(name: &str, kind: Kind, value: impl Fn(&PointView) -> Option<f64> + 'static) -> Column {
    (name.to_owned(), kind, Box::new(value))
}

/// A stage's name broken for a narrow heading.
fn short(name: &str) -> String {
    name.replacen("turbo compressor", "turbo", 1)
        .replacen("compressor", "turbo", 1)
        .replacen("supercharger", "super-\ncharger", 1)
}

/// A heading with a unit short enough for a narrow column.
fn narrow(name: &str, kind: Kind, system: UnitSystem) -> String {
    heading(name, kind, system)
        .replacen(" absolute]", "\nabs]", 1)
        .replacen(" gauge]", "\ngauge]", 1)
}
