//! `[fuel]`: what burns, and how much of it.

use super::document::Value;
use super::keys::fuel::{self as key, KINDS};
use super::keys::row::Key;
use super::reader::Reader;
use super::synonyms;
use crate::engine::{Evaporation, Fuel, FuelKind, Fuelling, Injectors, Volatility};
use crate::numeric::Schedule;
use crate::quantity::{Dimension, Kind, Words, exact_amount, example, words};

const AMOUNTS: [&str; 4] = ["air_fuel_ratio", "lambda", "per_stroke", "flow"];

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
    let kind = reader.word(&key::KIND, &KINDS);
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
    let or_own = |key: &'static Key, own: Option<f64>| {
        if reader.has(key.name) {
            return reader.value(key);
        }
        own.map(|own| reader.assume(key, own))
    };
    let or = |key: &'static Key, own: Option<f64>| {
        if !named && !reader.has(key.name) {
            let text = words![key.missing(), "; or name a fuel: kind = \"diesel\""];
            reader.is_missing(key.name, text);
        }
        or_own(key, own)
    };
    let heat = or(
        &key::LOWER_HEATING_VALUE,
        usual.map(|own| own.lower_heating_value),
    );
    let hydrogen = or(
        &key::HYDROGEN_CARBON_RATIO,
        usual.map(|own| own.hydrogen_carbon_ratio),
    );
    let oxygen = or(
        &key::OXYGEN_CARBON_RATIO,
        usual.map(|own| own.oxygen_carbon_ratio),
    );
    let density = or_own(&key::DENSITY, usual.map(|own| own.density));
    Written {
        heat,
        hydrogen,
        oxygen,
        density,
    }
}

/// What evaporates before the valves; none by default, so that nothing is cooled unasked.
fn evaporation(reader: &Reader<'_>, kind: Option<FuelKind>) -> Option<Evaporation> {
    let key = key::EVAPORATED_BEFORE_MANIFOLD.name;
    let share = reader.value(&key::EVAPORATED_BEFORE_MANIFOLD);
    let latent_heat = reader.value(&key::LATENT_HEAT);
    if !reader.has(key) {
        return None;
    }
    let Some(kind) = kind else {
        if !reader.has("kind") {
            let text =
                "needs a fuel by name (kind): its vapour pressure limits how much can evaporate";
            reader.fault(key, text);
        }
        return None;
    };
    let Some(usual) = kind.volatility() else {
        reader.fault(
            key,
            "has no effect here: diesel is injected into the cylinder",
        );
        return None;
    };
    let share = share?;
    if !reader.has("latent_heat") && share > 0.0 {
        let value = exact_amount(usual.latent_heat, Kind::SpecificEnergy, "MJ/kg");
        reader.default_from("latent_heat", value, "the fuel's own");
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
    let count = reader.value(&key::INJECTORS);
    let flow = injector_flow(reader, density);
    let pressure_ratio = injector_pressure(reader);
    let (has_count, has_flow) = (reader.has("injectors"), reader.has("injector_flow"));
    if !has_count && !has_flow {
        return None;
    }
    let drops = [
        &key::INJECTOR_RATED_PRESSURE_DROP,
        &key::INJECTOR_PRESSURE_DROP,
    ];
    if drops.iter().all(|key| !reader.has(key.name)) {
        reader.default(
            drops[1].name,
            "the pressure at which the injectors were rated",
        );
    }
    Some(Injectors {
        count: count?,
        static_flow: flow?,
        pressure_ratio,
    })
}

/// Flow of one injector, kg/s; a volume needs the fuel's density.
fn injector_flow(reader: &Reader<'_>, density: Option<f64>) -> Option<f64> {
    let key = &key::INJECTOR_FLOW;
    let node = reader.node(key.name)?;
    let spec = key.spec()?;
    let flow = match spec.read_with_dimension(node, None) {
        Ok((flow, Dimension::MassFlow)) => flow,
        Ok((flow, _)) => {
            // A kind that is not known has its own fault.
            if density.is_none() && (!reader.has("kind") || reader.has("density")) {
                reader.fault(key.name, density_wanted("\"745 kg/m3\""));
            }
            flow.scaled(density?)
        }
        Err(text) => {
            reader.fault(key.name, text);
            return None;
        }
    };
    let mut values = [flow];
    reader.take(key, spec, node, &mut values)?;
    Some(values[0].value)
}

/// Pressure across an injector as it runs over that at which it was rated.
fn injector_pressure(reader: &Reader<'_>) -> f64 {
    let keys = [
        &key::INJECTOR_RATED_PRESSURE_DROP,
        &key::INJECTOR_PRESSURE_DROP,
    ];
    let values = (reader.value(keys[0]), reader.value(keys[1]));
    match keys.map(|key| reader.has(key.name)) {
        [true, false] => reader.fault(
            keys[0].name,
            format!("must be given together with {}", keys[1].name),
        ),
        [false, true] => reader.fault(
            keys[1].name,
            format!("must be given together with {}", keys[0].name),
        ),
        _ => {}
    }
    match values {
        (Some(rated), Some(actual)) => actual / rated,
        _ => 1.0,
    }
}

fn burned(reader: &Reader<'_>, density: Option<f64>, cylinders_known: bool) -> Option<Fuelling> {
    let written: Vec<&'static str> = AMOUNTS.into_iter().filter(|key| reader.has(key)).collect();
    let floor = reader.schedule(&key::SMALLEST_AIR_FUEL_RATIO);
    // Every amount written is read, so that all its faults are said.
    let air_fuel_ratio = reader.schedule(&key::AIR_FUEL_RATIO);
    let lambda = reader.schedule(&key::LAMBDA);
    let per_stroke = amount(reader, &key::PER_STROKE, density);
    let flow = amount(reader, &key::FLOW, density);
    if reader.has("per_stroke") && !cylinders_known {
        reader.fault("per_stroke", "is per cylinder: set engine.cylinders");
    }
    match written.as_slice() {
        [] => {
            let example = |key: &Key| {
                let example = key.spec().map(|spec| spec.example());
                example.map_or_else(Words::default, |example| {
                    words![format!("{} = ", key.name), example]
                })
            };
            let text = words![
                "is missing: how much fuel is burned is one of ",
                example(&key::AIR_FUEL_RATIO),
                ", ",
                example(&key::LAMBDA),
                ", ",
                example(&key::PER_STROKE),
                ", ",
                example(&key::FLOW),
            ];
            reader.is_missing_one_of(&AMOUNTS, text);
            None
        }
        ["air_fuel_ratio", ..] => air_fuel_ratio.map(Fuelling::AirFuelRatio),
        ["lambda", ..] => lambda.map(Fuelling::Lambda),
        ["per_stroke", ..] => per_stroke.map(|mass| Fuelling::PerStroke {
            mass,
            smallest_air_fuel_ratio: floor,
        }),
        _ => flow.map(Fuelling::Flow),
    }
}

fn density_wanted(text: &'static str) -> Words {
    words![
        "is a volume: set the fuel's density, e.g. density = ",
        example(Kind::Density, text),
    ]
}

/// A mass, or a volume that the fuel's density turns into one.
fn amount(reader: &Reader<'_>, key: &'static Key, density: Option<f64>) -> Option<Schedule> {
    let (node, spec) = (reader.node(key.name)?, key.spec()?);
    reader.schedule_by(node, key, spec, |value| {
        let (measured, dimension) = spec.read_with_dimension(value, None)?;
        if matches!(dimension, Dimension::Mass | Dimension::MassFlow) {
            return Ok(measured);
        }
        let density = density.ok_or_else(|| density_wanted("\"835 kg/m3\""))?;
        Ok(measured.scaled(density))
    })
}
