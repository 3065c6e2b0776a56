//! The operating line for reading: one row a speed.

use super::events_text::events_text;
use super::fields::cell::{head, or_dash};

use super::fields::line::LineReport;
use super::fields::named::Named;
use super::fields::point::Point;
use super::fields::rows::columns;
use super::power_text::power_line_text;
use super::table::{Sheet, fits, one_line};
use super::words;
use crate::matching::{Drive, EngineState, StageState, StationPlace, TurbineState};
use crate::quantity::{Kind, UnitSystem, shown};

/// A column: its heading and the number it takes from a match.
type Column = (String, Kind, Box<dyn Fn(&Point) -> Option<f64>>);

/// A line as text in the reader's units.
pub fn line_text(line: &LineReport, system: UnitSystem) -> String {
    let mut out = format!("{}\n\n", one_line(&line.title));
    if let Some(first) = line.matches().next() {
        out.push_str(&table(line, columns(first), system));
    }
    for none in line.unsolved() {
        out.push_str(&format!(
            "no match at {:.0} rpm: {}\n",
            none.rpm,
            none.error.in_units(system)
        ));
    }
    out.push_str(&power_line_text(line.matches(), system));
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
fn works(line: &LineReport) -> Vec<(f64, bool)> {
    let at = |point: &Point| {
        let mut stages = point.found.stages.iter();
        let belt = stages.clone().find(|stage| stage.drive == Drive::Belt);
        stages.find(|stage| stage.drive == Drive::Turbine)?;
        Some((point.found.rpm, belt?.pressure_ratio > 1.0 + WORKS))
    };
    line.matches().filter_map(at).collect()
}

/// Above 1 by this a supercharger compresses, as the line counts its hand-overs.
const WORKS: f64 = 1e-9;

/// One table, or two below each other where one is too wide: the intake's columns, the rest.
fn table(line: &LineReport, mut columns: Vec<Column>, system: UnitSystem) -> String {
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

fn sheet(line: &LineReport, columns: &[Column], system: UnitSystem) -> String {
    let heads: Vec<_> = columns
        .iter()
        .map(|(name, kind, _)| narrow(name, *kind, system))
        .collect();
    let mut sheet = Sheet::new(&heads);
    for row in &line.points {
        sheet.row(match row {
            Ok(point) => columns
                .iter()
                .map(|(_, kind, value)| or_dash(value(point), *kind, system))
                .collect(),
            Err(none) => {
                let rpm = shown(none.rpm, Kind::RotationalSpeed, system);
                let mut cells = vec![rpm, "no match".to_owned()];
                cells.resize(columns.len(), String::new());
                cells
            }
        });
    }
    sheet.text(0)
}

/// Heading of the last column of the intake.
const MANIFOLD: &str = "mani-\nfold";

fn speed() -> Column {
    column("engine", Kind::RotationalSpeed, |p| Some(p.found.rpm))
}

/// The columns that a layout has.
fn columns(first: &Point) -> Vec<Column> {
    let mut columns = vec![
        speed(),
        column("air", Kind::MassFlow, |p| Some(p.found.air_mass_flow)),
        column("boost", Kind::BoostPressure, |p| Some(p.boost())),
    ];
    columns.extend(stage_columns(first));
    columns.extend(outlet_columns(first));
    columns.push(temperature(MANIFOLD, StationPlace::Manifold));
    columns.extend(exhaust_columns(first));
    columns.extend(crank_columns(first));
    columns
}

fn stage_columns(first: &Point) -> Vec<Column> {
    columns! { STAGE of Named<StageState>: split_share, bypass_share; }
    let stages = first.stages();
    let mut columns = Vec::new();
    for (i, stage) in stages.iter().enumerate() {
        let name = format!("{}\nratio", short(&stage.name));
        columns.push(column(&name, Kind::Number, move |p| {
            Some(p.found.stages.get(i)?.pressure_ratio)
        }));
    }
    let [split, bypass] = STAGE;
    if stages.len() > 1 {
        let name = format!("{}\n{}", short(&stages[0].name), split.short);
        columns.push(column(&name, split.kind(), |p| {
            p.found.stages.first()?.split_share
        }));
    }
    if stages
        .iter()
        .any(|stage| stage.state.bypass_share.is_some())
    {
        columns.push(column(bypass.short, bypass.kind(), |p| {
            p.found.stages.iter().find_map(|stage| stage.bypass_share)
        }));
    }
    columns
}

/// The temperature after each stage.
fn outlet_columns(first: &Point) -> Vec<Column> {
    let mut columns = Vec::new();
    for (i, station) in first.layout.stations.iter().enumerate() {
        let name = station.name.as_str();
        if name.ends_with("outlet") && !name.starts_with("turbine") && !name.starts_with("cooler") {
            let name = format!("after\n{}", short(name.trim_end_matches(" outlet")));
            columns.push(column(&name, Kind::Temperature, move |p| {
                Some(p.found.stations.get(i)?.temperature)
            }));
        }
    }
    columns
}

fn exhaust_columns(first: &Point) -> Vec<Column> {
    columns! { GATE of Named<TurbineState>: wastegate_share; }
    let inlet = StationPlace::TurbineInlet(0);
    let mut columns = Vec::new();
    if first.at(inlet).is_some() {
        let kind = Kind::AbsolutePressure;
        columns.push(column("drive\npres-\nsure", kind, move |p| {
            Some(p.at(inlet)?.pressure)
        }));
        columns.push(temperature("before\ntur-\nbine", inlet));
    }
    if first.at(StationPlace::Exhaust).is_some() {
        columns.push(temperature("exhaust", StationPlace::Exhaust));
    }
    let gates = |p: &Point| {
        let mut turbines = p.found.turbines.iter();
        turbines.find_map(|turbine| turbine.wastegate_share)
    };
    if gates(first).is_some() {
        columns.push(column("waste-\ngate", GATE[0].kind(), gates));
    }
    columns
}

fn crank_columns(first: &Point) -> Vec<Column> {
    columns! { ENGINE of EngineState: brake_power_w, torque_n_m, bsfc_g_kwh; }
    let mut columns = Vec::new();
    let belts = |p: &Point| -> Vec<f64> {
        let stages = p.found.stages.iter();
        stages.filter_map(|stage| stage.crank_power).collect()
    };
    if !belts(first).is_empty() {
        columns.push(column("belt\nfrom\ncrank", Kind::Power, move |p| {
            Some(belts(p).iter().sum())
        }));
    }
    if first.found.engine.brake_power.is_some() {
        columns.extend(
            ENGINE.map(|row| column(row.short, row.kind(), |p| row.number(&p.found.engine))),
        );
    }
    columns
}

fn temperature(name: &str, place: StationPlace) -> Column {
    column(name, Kind::Temperature, move |p| {
        Some(p.at(place)?.temperature)
    })
}

fn column(name: &str, kind: Kind, value: impl Fn(&Point) -> Option<f64> + 'static) -> Column {
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
    head(name, kind, system)
        .replacen(" absolute]", "\nabs]", 1)
        .replacen(" gauge]", "\ngauge]", 1)
}
