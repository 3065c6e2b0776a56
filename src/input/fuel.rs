//! `[fuel]`: what burns, and how much of it.

use super::document::Value;
use super::reader::Reader;
use super::synonyms;
use super::want::Want;
use crate::engine::{Burned, Evaporation, Fuel, FuelKind, Injectors, Volatility};
use crate::numeric::Schedule;
use crate::quantity::{Dimension, Kind, Words, exact_amount, example, words};

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

const INJECTORS: Want = Want::number("4").at_least(1.0).at_most(128.0).whole();
const INJECTOR_FLOW: Want = Want::of(Kind::FuelFlow, "\"0.55 L/min\"").above(0.0);
const INJECTOR_DROP: Want = Want::of(Kind::PressureDifference, "\"300 kPa\"")
    .above(0.0)
    .at_most(5e8);
const INJECTOR_DROPS: [&str; 2] = ["injector_rated_pressure_drop", "injector_pressure_drop"];
const LATENT_HEAT: Want = Want::of(Kind::SpecificEnergy, "\"0.92 MJ/kg\"")
    .above(0.0)
    .at_most(3e6);

/// The fuel's kind, where it is written and known; says nothing.
pub(super) fn kind(root: &Reader<'_>) -> Option<FuelKind> {
    let Value::Table(table) = &root.node("fuel")?.value else {
        return None;
    };
    let Value::Text(word) = &table.get("kind")?.value else {
        return None;
    };
    synonyms::choice(word, &KINDS)
}

/// Reads the fuel; a build without the section has none.
pub(super) fn read(root: &Reader<'_>, cylinders_known: bool) -> Option<Fuel> {
    let reader = root.section("fuel")?;
    let fuel = read_section(&reader, cylinders_known);
    reader.finish();
    fuel
}

fn read_section(reader: &Reader<'_>, cylinders_known: bool) -> Option<Fuel> {
    let kind = reader.word("kind", &KINDS);
    let Written {
        heat,
        hydrogen,
        oxygen,
        density,
    } = properties(reader, kind);
    let burned = burned(reader, density, cylinders_known);
    let evaporation = evaporation(reader, kind);
    let injectors = injectors(reader, density);
    Some(Fuel {
        kind,
        lower_heating_value: heat?,
        hydrogen_carbon_ratio: hydrogen?,
        oxygen_carbon_ratio: oxygen?,
        density,
        burned: burned?,
        evaporation,
        injectors,
    })
}

/// Properties as written, else those of the kind.
struct Written {
    heat: Option<f64>,
    hydrogen: Option<f64>,
    oxygen: Option<f64>,
    density: Option<f64>,
}

fn properties(reader: &Reader<'_>, kind: Option<FuelKind>) -> Written {
    let usual = kind.map(FuelKind::properties);
    let named = reader.has("kind");
    let or = |key, want: Want, own: Option<f64>| {
        let written = reader.value(key, want);
        if !named && !reader.has(key) {
            let text = words![want.missing(key), "; or name a kind: kind = \"diesel\""];
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
    Written {
        heat,
        hydrogen,
        oxygen,
        density,
    }
}

/// What evaporates ahead of the valves; none by default, so that nothing is cooled unasked.
fn evaporation(reader: &Reader<'_>, kind: Option<FuelKind>) -> Option<Evaporation> {
    let key = "evaporated_before_manifold";
    let share = reader.value(key, Want::share("0.3"));
    let latent_heat = reader.value("latent_heat", LATENT_HEAT);
    if !reader.has(key) {
        reader.set_aside(&["latent_heat"], "it belongs to evaporated_before_manifold");
        return None;
    }
    let Some(kind) = kind else {
        if !reader.has("kind") {
            let text =
                "needs a fuel by name (kind): its vapour pressure says how much can evaporate";
            reader.fault(key, text);
        }
        return None;
    };
    let Some(usual) = kind.volatility() else {
        reader.fault(
            key,
            "means nothing here: diesel goes straight into the cylinder",
        );
        return None;
    };
    let share = share?;
    if !reader.has("latent_heat") && share > 0.0 {
        let value = exact_amount(usual.latent_heat, Kind::SpecificEnergy, "MJ/kg");
        reader.usual("latent_heat", value, "the fuel's own");
    }
    Some(Evaporation {
        share,
        volatility: Volatility {
            latent_heat: latent_heat.unwrap_or(usual.latent_heat),
            ..usual
        },
    })
    .filter(|evaporation| evaporation.share > 0.0)
}

fn injectors(reader: &Reader<'_>, density: Option<f64>) -> Option<Injectors> {
    let count = reader.value("injectors", INJECTORS);
    let flow = injector_flow(reader, density);
    let pressure_ratio = injector_pressure(reader);
    let (has_count, has_flow) = (reader.has("injectors"), reader.has("injector_flow"));
    if !has_count && !has_flow {
        let why = "injectors and injector_flow are not given";
        reader.set_aside(&INJECTOR_DROPS, why);
        return None;
    }
    if !has_count {
        reader.is_missing("injectors", INJECTORS.missing("injectors"));
    }
    if !has_flow {
        reader.is_missing("injector_flow", INJECTOR_FLOW.missing("injector_flow"));
    }
    if INJECTOR_DROPS.iter().all(|key| !reader.has(key)) {
        let said = "the injectors are taken to run at the pressure at which they were rated";
        reader.default(INJECTOR_DROPS[1], said);
    }
    Some(Injectors {
        count: count?,
        static_flow: flow?,
        pressure_ratio,
    })
}

/// Flow of one injector, kg/s; a volume wants the fuel's density.
fn injector_flow(reader: &Reader<'_>, density: Option<f64>) -> Option<f64> {
    let key = "injector_flow";
    let node = reader.node(key)?;
    let flow = match INJECTOR_FLOW.read_with_dimension(node, None) {
        Ok((flow, Dimension::MassFlow)) => flow,
        Ok((flow, _)) => {
            // A kind that is not known has its own fault.
            if density.is_none() && (!reader.has("kind") || reader.has("density")) {
                reader.fault(key, density_wanted("\"745 kg/m3\""));
            }
            flow.scaled(density?)
        }
        Err(text) => {
            reader.fault(key, text);
            return None;
        }
    };
    let mut values = [flow];
    reader.take(key, node, INJECTOR_FLOW, &mut values)?;
    Some(values[0].value)
}

/// Pressure across an injector as it runs over that at which it was rated.
fn injector_pressure(reader: &Reader<'_>) -> f64 {
    let [rated, actual] = INJECTOR_DROPS;
    let values = (
        reader.value(rated, INJECTOR_DROP),
        reader.value(actual, INJECTOR_DROP),
    );
    if reader.has(rated) != reader.has(actual) {
        let text =
            "wants its fellow beside it: the pressure across an injector as rated and as it runs";
        reader.fault(if reader.has(rated) { rated } else { actual }, text);
    }
    match values {
        (Some(rated), Some(actual)) => actual / rated,
        _ => 1.0,
    }
}

fn burned(reader: &Reader<'_>, density: Option<f64>, cylinders_known: bool) -> Option<Burned> {
    let written: Vec<&'static str> = AMOUNTS.into_iter().filter(|key| reader.has(key)).collect();
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
            let text = words![
                "is missing: how much is burned is one of air_fuel_ratio = ",
                AIR_FUEL_RATIO.example(),
                ", lambda = ",
                LAMBDA.example(),
                ", per_stroke = ",
                PER_STROKE.example(),
                ", flow = ",
                FLOW.example(),
            ];
            reader.is_missing_one_of(&AMOUNTS, text);
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

fn density_wanted(text: &'static str) -> Words {
    words![
        "is a volume: give the fuel's density, for example density = ",
        example(Kind::Density, text),
    ]
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
        let density = density.ok_or_else(|| density_wanted("\"835 kg/m3\""))?;
        Ok(measured.scaled(density))
    })
}
