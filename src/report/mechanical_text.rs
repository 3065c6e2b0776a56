//! Loads on cylinder, head and belt, and how the fuel is delivered, for reading: a line an item.

use super::fields::engine::estimated_peak;
use super::fields::field::{Field, Rows, pick};
use super::fields::named::Named;
use super::fields::point::Point;
use super::fields::rows::columns;
use crate::air_path::BeltLoad;
use crate::engine::CylinderState;
use crate::matching::{FuelState, StageState};
use crate::quantity::{Kind, UnitSystem, label, shown, shown_roughly};

/// Least width of the names.
const NAME_WIDTH: usize = 34;

/// The lists of one match; empty where nothing of it is known.
pub(super) fn mechanical_text(point: &Point, system: UnitSystem) -> String {
    let parts = [
        cylinder_items(point, system),
        belt_items(&point.stages(), system),
        fuel_items(point.found.fuel.as_ref(), system),
    ];
    let parts = parts.iter().filter(|items| !items.is_empty());
    parts
        .map(|items| list(items))
        .collect::<Vec<_>>()
        .join("\n")
}

/// An item of a list: name, value with its unit.
type Item = (String, String);

fn list(items: &[Item]) -> String {
    let longest = items.iter().map(|(name, _)| name.chars().count() + 1).max();
    let width = longest.unwrap_or(0).max(NAME_WIDTH);
    let line = |(name, value): &Item| format!("{name:<width$}{value}\n");
    items.iter().map(line).collect()
}

/// How a number is shown.
type Show = fn(f64, Kind, UnitSystem) -> String;

/// The lowest and the highest of one figure, under the name of the lowest: "8920 to 10200 kPa
/// absolute", or one figure where both ends are the same.
fn between<T>([low, high]: [&Field<T>; 2], of: &T, system: UnitSystem, show: Show) -> Option<Item> {
    let ends = low.number(of).zip(high.number(of))?;
    let (from, to) = (
        show(ends.0, low.kind(), system),
        show(ends.1, low.kind(), system),
    );
    let range = if from == to {
        to
    } else {
        format!("{from} to {to}")
    };
    let unit = label(low.kind(), system);
    Some((low.label.to_owned(), format!("{range} {unit}")))
}

type Pair = [&'static Field<CylinderState>; 2];

const COMPRESSION: [Pair; 2] = [
    pair([
        "compression_pressure_low_pa",
        "compression_pressure_high_pa",
    ]),
    pair([
        "compression_temperature_low_k",
        "compression_temperature_high_k",
    ]),
];

const HEAD: [Pair; 3] = [
    pair(["gas_force_low_n", "gas_force_high_n"]),
    pair(["clamp_force_low_n", "clamp_force_high_n"]),
    pair(["clamp_margin_low", "clamp_margin_high"]),
];

const fn pair(keys: [&str; 2]) -> Pair {
    pick(CylinderState::ROWS, keys)
}

fn cylinder_items(point: &Point, system: UnitSystem) -> Vec<Item> {
    columns! { REST of CylinderState: gas_force_from, equivalent_compression_ratio; }
    let engine = &point.found.engine;
    let Some(cylinder) = &engine.cylinder else {
        return Vec::new();
    };
    let pairs = |pairs: &[Pair]| -> Vec<Item> {
        let items = pairs.iter();
        items
            .filter_map(|pair| between(*pair, cylinder, system, shown_roughly))
            .collect()
    };
    let mut items = pairs(&COMPRESSION);
    let peak = estimated_peak(engine);
    if let (Some(one), Some(spread)) = (engine.peak_cylinder_pressure, peak) {
        let kind = Kind::AbsolutePressure;
        let [one, low, high] =
            [one, spread.low, spread.high].map(|value| shown_roughly(value, kind, system));
        let text = format!("{one} {} ({low} to {high})", label(kind, system));
        items.push(("peak cylinder pressure".to_owned(), text));
    }
    items.extend(pairs(&HEAD));
    let [from, equivalent] = REST;
    let basis = from.cell(cylinder, system);
    if !basis.is_empty() && peak.is_none() {
        items.push((format!("  {}", from.label), basis));
    }
    if let Some(ratio) = equivalent.number(cylinder) {
        items.push((equivalent.label.to_owned(), format!("{ratio:.1}")));
    }
    items
}

fn belt_items(stages: &[Named<StageState>], system: UnitSystem) -> Vec<Item> {
    columns! { TIPS of Named<StageState>: tip_speed_m_s; }
    columns! { BELT of BeltLoad: speed_m_s, shaft_pull_n; }
    columns! { TENSIONS of BeltLoad: slack_tension_n, tight_tension_n; }
    let mut items = Vec::new();
    for stage in stages {
        let mut add = |name: &str, value: String| {
            items.push((format!("{}, {name}", stage.name), value));
        };
        if let Some(speed) = TIPS[0].with_unit(stage, system) {
            add(TIPS[0].label, speed);
        }
        let Some(belt) = &stage.state.belt else {
            continue;
        };
        let [speed, pull] = BELT.map(|row| row.with_unit(belt, system).unwrap_or_default());
        add(BELT[0].label, speed);
        if let Some((name, tensions)) = between(TENSIONS, belt, system, shown) {
            add(&name, tensions);
        }
        add(BELT[1].label, pull);
    }
    items
}

fn fuel_items(fuel: Option<&FuelState>, system: UnitSystem) -> Vec<Item> {
    columns! {
        ROWS of FuelState: per_stroke_kg, per_stroke_m3, injector_duty, evaporated_share,
            charge_cooling_k;
    }
    let Some(fuel) = fuel else { return Vec::new() };
    let item = |row: &Field<FuelState>| Some((row.label.to_owned(), row.with_unit(fuel, system)?));
    ROWS.into_iter().filter_map(item).collect()
}
