//! `[fuel]`: what burns, and how much of it.

use super::reader::Reader;
use super::want::Want;
use crate::engine::{Burned, Fuel, FuelKind};
use crate::numeric::Schedule;
use crate::quantity::{Dimension, Kind};

const KINDS: [(&str, FuelKind); 5] = [
    ("diesel", FuelKind::Diesel),
    ("petrol", FuelKind::Petrol),
    ("ethanol", FuelKind::Ethanol),
    ("methanol", FuelKind::Methanol),
    ("e85", FuelKind::E85),
];
const AMOUNTS: [&str; 4] = ["air_fuel_ratio", "lambda", "per_stroke", "flow"];

const HEATING_VALUE: Want = Want::of(Kind::SpecificEnergy, "\"42.8 MJ/kg\"")
    .at_least(1e6)
    .at_most(130e6);
const HYDROGEN: Want = Want::number("1.8").at_least(0.0).at_most(8.0);
const OXYGEN: Want = Want::number("0").at_least(0.0).at_most(4.0);
const DENSITY: Want = Want::of(Kind::Density, "\"835 kg/m3\"")
    .at_least(100.0)
    .at_most(2000.0);
const AIR_FUEL_RATIO: Want = Want::number("21").at_least(1.0).at_most(200.0);
const LAMBDA: Want = Want::number("1.4").at_least(0.3).at_most(20.0);
const PER_STROKE: Want = Want::of(Kind::FuelPerStroke, "\"120 mg\"").above(0.0);
const FLOW: Want = Want::of(Kind::FuelFlow, "\"40 kg/h\"").above(0.0);

/// Reads the fuel; a build without the section has none.
pub(super) fn read(root: &Reader<'_>, cylinders_known: bool) -> Option<Fuel> {
    let reader = root.section("fuel")?;
    let fuel = read_section(&reader, cylinders_known);
    reader.finish();
    fuel
}

fn read_section(reader: &Reader<'_>, cylinders_known: bool) -> Option<Fuel> {
    let kind = reader.word("kind", &KINDS);
    let usual = kind.map(FuelKind::properties);
    let named = reader.has("kind");
    let or = |key, want: Want, own: Option<f64>| {
        let written = reader.value(key, want);
        if !named && !reader.has(key) {
            let text = format!("{}; or name a kind: kind = \"diesel\"", want.missing(key));
            reader.is_missing(key, text);
        }
        if reader.has(key) {
            return written;
        }
        own.map(|own| reader.assume(key, want, own))
    };
    let heat = or(
        "lower_heating_value",
        HEATING_VALUE,
        usual.map(|own| own.lower_heating_value),
    );
    let hydrogen = or(
        "hydrogen_carbon_ratio",
        HYDROGEN,
        usual.map(|own| own.hydrogen_carbon_ratio),
    );
    let oxygen = or(
        "oxygen_carbon_ratio",
        OXYGEN,
        usual.map(|own| own.oxygen_carbon_ratio),
    );
    let density = if reader.has("density") {
        reader.value("density", DENSITY)
    } else {
        usual.map(|own| reader.assume("density", DENSITY, own.density))
    };
    let burned = burned(reader, density, cylinders_known);
    Some(Fuel {
        kind,
        lower_heating_value: heat?,
        hydrogen_carbon_ratio: hydrogen?,
        oxygen_carbon_ratio: oxygen?,
        density,
        burned: burned?,
    })
}

fn burned(reader: &Reader<'_>, density: Option<f64>, cylinders_known: bool) -> Option<Burned> {
    let written: Vec<&'static str> = AMOUNTS.into_iter().filter(|key| reader.has(key)).collect();
    for (at, later) in written.iter().enumerate() {
        for earlier in &written[..at] {
            reader.not_both(earlier, later);
        }
    }
    let floor = reader.schedule("smallest_air_fuel_ratio", AIR_FUEL_RATIO);
    if reader.has("smallest_air_fuel_ratio") && !written.is_empty() && !reader.has("per_stroke") {
        reader.fault(
            "smallest_air_fuel_ratio",
            "is a smoke limiter and means something beside per_stroke only",
        );
    }
    // Every amount written is read, so that all its faults are said.
    let air_fuel_ratio = reader.schedule("air_fuel_ratio", AIR_FUEL_RATIO);
    let lambda = reader.schedule("lambda", LAMBDA);
    let per_stroke = amount(reader, "per_stroke", PER_STROKE, density);
    let flow = amount(reader, "flow", FLOW, density);
    if reader.has("per_stroke") && !cylinders_known {
        reader.fault("per_stroke", "counts per cylinder: give engine.cylinders");
    }
    match written.as_slice() {
        [] => {
            let text = "is missing: how much is burned is one of air_fuel_ratio = 21, lambda = 1.4, \
                        per_stroke = \"120 mg\", flow = \"40 kg/h\"";
            reader.is_missing("air_fuel_ratio", text.to_owned());
            None
        }
        ["air_fuel_ratio", ..] => air_fuel_ratio.map(Burned::AirFuelRatio),
        ["lambda", ..] => lambda.map(Burned::Lambda),
        ["per_stroke", ..] => per_stroke.map(|mass| Burned::PerStroke {
            mass,
            smallest_air_fuel_ratio: floor,
        }),
        _ => flow.map(Burned::Flow),
    }
}

/// A mass, or a volume that the fuel's density turns into one.
fn amount(
    reader: &Reader<'_>,
    key: &'static str,
    want: Want,
    density: Option<f64>,
) -> Option<Schedule> {
    let node = reader.node(key)?;
    reader.schedule_by(node, key, want, |value| {
        let (measured, dimension) = want.read_with_dimension(value, None)?;
        if matches!(dimension, Dimension::Mass | Dimension::MassFlow) {
            return Ok(measured);
        }
        let density = density.ok_or_else(|| {
            "is a volume: give the fuel's density, for example density = \"835 kg/m3\"".to_owned()
        })?;
        Ok(measured.scaled(density))
    })
}
