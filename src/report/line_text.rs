//! The operating line for reading: the answer first, then one row a speed.

use super::events_text::events_text;
use super::fields::cell::{head, or_dash};
use super::fields::line::LineReport;
use super::fields::named::Named;
use super::fields::point::Point;
use super::fields::power::power_items;
use super::fields::rows::columns;
use super::line_answer::answer_text;
use super::table::{one_line, width, within};
use super::wrap::WIDTH;
use crate::matching::{EngineState, StageState, StationPlace, TurbineState};
use crate::quantity::{Kind, UnitSystem, shown};

/// Takes a column's number from a match.
type Value = Box<dyn Fn(&Point) -> Option<f64>>;

/// A number of a line's table.
struct Column {
    /// The word by which it is asked for; several columns may answer to one.
    name: &'static str,
    heading: String,
    kind: Kind,
    value: Value,
}

/// Columns that are shown unasked, the least important last: what does not fit is left out.
const UNASKED: [&str; 11] = [
    "rpm", "boost", "power", "torque", "air", "ratio", "charge", "drive", "exhaust", "gate", "belt",
];

/// Which columns of a line's table to show.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum ColumnChoice {
    /// As many of the usual ones as fit.
    #[default]
    Usual,
    /// All, in as many tables as it takes.
    All,
    /// Those of these names.
    Named(Vec<String>),
}

/// A line as text in the reader's units, with tables at most so wide (80 columns at least).
pub fn line_text(
    line: &LineReport,
    choice: &ColumnChoice,
    screen: usize,
    system: UnitSystem,
) -> String {
    let mut out = format!("{}\n\n{}", one_line(&line.title), answer_text(line, system));
    let columns = columns(line);
    if !columns.is_empty() {
        out.push('\n');
        out.push_str(&table(line, columns, choice, screen.max(WIDTH), system));
    }
    for none in line.unsolved() {
        let error = none.error.in_units(system);
        out.push_str(&format!("no match at {:.0} rpm: {error}\n", none.rpm));
    }
    let events = events_text(line, system);
    if !events.is_empty() {
        out.push('\n');
        out.push_str(&events);
    }
    out
}

/// The names of all columns that a line can have, each once.
pub fn column_names(line: &LineReport) -> Vec<&'static str> {
    let mut names = Vec::new();
    for column in columns(line) {
        if !names.contains(&column.name) {
            names.push(column.name);
        }
    }
    names
}

fn table(
    line: &LineReport,
    columns: Vec<Column>,
    choice: &ColumnChoice,
    screen: usize,
    system: UnitSystem,
) -> String {
    let kept = match choice {
        ColumnChoice::Usual => usual(line, columns, screen, system),
        ColumnChoice::All => columns,
        ColumnChoice::Named(names) => {
            let asked = |column: &Column| names.iter().any(|name| name == column.name);
            let is_shown = |column: &Column| column.name == "rpm" || asked(column);
            columns.into_iter().filter(is_shown).collect()
        }
    };
    let heads: Vec<String> = kept.iter().map(|column| narrow(column, system)).collect();
    within(&heads, &cells(line, &kept, system), (1, 0), screen)
}

/// As many of the usual columns as fit, in the order of the air.
fn usual(
    line: &LineReport,
    mut columns: Vec<Column>,
    screen: usize,
    system: UnitSystem,
) -> Vec<Column> {
    let rank = |column: &Column| UNASKED.iter().position(|name| *name == column.name);
    columns.retain(|column| rank(column).is_some());
    loop {
        let heads: Vec<String> = columns
            .iter()
            .map(|column| narrow(column, system))
            .collect();
        let rows = cells(line, &columns, system);
        let least = columns.iter().filter_map(rank).max();
        if width(&heads, &rows) <= screen || columns.len() < 3 {
            return columns;
        }
        columns.retain(|column| rank(column) != least);
    }
}

fn cells(line: &LineReport, columns: &[Column], system: UnitSystem) -> Vec<Vec<String>> {
    let rows = line.points.iter().map(|row| match row {
        Ok(point) => columns
            .iter()
            .map(|column| or_dash((column.value)(point), column.kind, system))
            .collect(),
        Err(none) => {
            let rpm = shown(none.rpm, Kind::RotationalSpeed, system);
            let mut cells = vec![rpm, "no match".to_owned()];
            cells.resize(columns.len(), String::new());
            cells
        }
    });
    rows.collect()
}

/// All columns that a line has, in the order of the air; none without a match.
fn columns(line: &LineReport) -> Vec<Column> {
    let Some(first) = line.matches().next() else {
        return Vec::new();
    };
    let mut columns = vec![
        column("rpm", "engine", Kind::RotationalSpeed, |p| {
            Some(p.found.rpm)
        }),
        column("air", "air", Kind::MassFlow, |p| {
            Some(p.found.air_mass_flow)
        }),
        column("boost", "boost", Kind::BoostPressure, |p| Some(p.boost())),
    ];
    columns.extend(stage_columns(first));
    columns.extend(outlet_columns(first));
    columns.push(temperature("charge", "mani-\nfold", StationPlace::Manifold));
    columns.extend(exhaust_columns(first));
    columns.extend(crank_columns(first));
    columns.extend(power_columns(line, first));
    columns
}

fn stage_columns(first: &Point) -> Vec<Column> {
    columns! { STAGE of Named<StageState>: split_share, bypass_share; }
    let stages = first.stages();
    let mut columns = Vec::new();
    for (i, stage) in stages.iter().enumerate() {
        let name = format!("{}\nratio", short(&stage.name));
        columns.push(column("ratio", &name, Kind::Number, move |p| {
            Some(p.found.stages.get(i)?.pressure_ratio)
        }));
    }
    let [split, bypass] = STAGE;
    if stages.len() > 1 {
        let name = format!("{}\n{}", short(&stages[0].name), split.short);
        columns.push(column("split", &name, split.kind(), |p| {
            p.found.stages.first()?.split_share
        }));
    }
    if stages
        .iter()
        .any(|stage| stage.state.bypass_share.is_some())
    {
        columns.push(column("bypass", bypass.short, bypass.kind(), |p| {
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
            columns.push(column("outlet", &name, Kind::Temperature, move |p| {
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
        columns.push(column("drive", "drive\npres-\nsure", kind, move |p| {
            Some(p.at(inlet)?.pressure)
        }));
        columns.push(temperature("exhaust", "before\ntur-\nbine", inlet));
    }
    if first.at(StationPlace::Exhaust).is_some() {
        columns.push(temperature("exhaust", "exhaust", StationPlace::Exhaust));
    }
    let gates = |p: &Point| {
        let mut turbines = p.found.turbines.iter();
        turbines.find_map(|turbine| turbine.wastegate_share)
    };
    if gates(first).is_some() {
        columns.push(column("gate", "waste-\ngate", GATE[0].kind(), gates));
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
        columns.push(column("belt", "belt\nfrom\ncrank", Kind::Power, move |p| {
            Some(belts(p).iter().sum())
        }));
    }
    if first.found.engine.brake_power.is_some() {
        let names = ["power", "torque", "bsfc"];
        columns.extend(names.into_iter().zip(ENGINE).map(|(name, row)| {
            column(name, row.short, row.kind(), |p| row.number(&p.found.engine))
        }));
    }
    columns
}

/// Where the power goes, without what takes nothing at any speed.
fn power_columns(line: &LineReport, first: &Point) -> Vec<Column> {
    let items = power_items(&first.found.engine);
    let mut columns = Vec::new();
    for (at, item) in items.iter().enumerate() {
        let power = |p: &Point| power_items(&p.found.engine).get(at).map(|item| item.power);
        if !line
            .matches()
            .filter_map(power)
            .any(|power| power.abs() > 0.0)
        {
            continue;
        }
        let heading = item
            .name
            .replacen("supercharger ", "super-\ncharger\n", 1)
            .replacen("gross ", "gross\n", 1);
        columns.push(column("balance", &heading, Kind::Power, move |p| {
            Some(power_items(&p.found.engine).get(at)?.power)
        }));
    }
    columns.extend((!items.is_empty()).then(|| {
        column("bmep", "brake", Kind::MeanEffectivePressure, |p| {
            let engine = &p.found.engine;
            Some(engine.brake_power? / engine.swept_flow)
        })
    }));
    columns
}

fn temperature(name: &'static str, heading: &str, place: StationPlace) -> Column {
    column(name, heading, Kind::Temperature, move |p| {
        Some(p.at(place)?.temperature)
    })
}

fn column(
    name: &'static str,
    heading: &str,
    kind: Kind,
    value: impl Fn(&Point) -> Option<f64> + 'static,
) -> Column {
    Column {
        name,
        heading: heading.to_owned(),
        kind,
        value: Box::new(value),
    }
}

/// A stage's name broken for a narrow heading.
fn short(name: &str) -> String {
    name.replacen("turbo compressor", "turbo", 1)
        .replacen("compressor", "turbo", 1)
        .replacen("supercharger", "super-\ncharger", 1)
}

/// A heading with a unit short enough for a narrow column.
fn narrow(column: &Column, system: UnitSystem) -> String {
    head(&column.heading, column.kind, system)
        .replacen(" absolute]", "\nabs]", 1)
        .replacen(" gauge]", "\ngauge]", 1)
        .replacen(" mean effective]", "\nmean\neffective]", 1)
}
