//! What takes the heat of a charge cooler: air or water, its temperature and its flow.

use crate::air_path::{
    FanCurve, FanError, Fluid, RatedDrop, Sink, SinkFlow, SinkFluid, WaterCircuit,
};
use crate::input::document::{Node, Value};
use crate::input::keys::cooler::{self as key, FAN_FLOW, FAN_RISE, SINKS, WATER_FLOW};
use crate::input::keys::spec::Measured;
use crate::input::reader::Reader;
use crate::numeric::Schedule;
use crate::quantity::{Dimension, Kind, Words, amount, example, words};

/// Where ice melts, K.
const MELTING: f64 = 273.15;
const OF_WATER: [&str; 4] = [
    "tank_volume",
    "ice_mass",
    "radiator_conductance",
    "circuit_pressure",
];

/// Something is wrong, and has been noted.
struct Noted;

/// Air or water; `None` where the word is not known.
pub(super) fn fluid(reader: &Reader<'_>) -> Option<SinkFluid> {
    if !reader.has("sink") {
        return Some(SinkFluid::Air);
    }
    reader.word(&key::SINK, &SINKS)
}

/// The side that takes the heat.
pub(super) fn read(
    reader: &Reader<'_>,
    fluid: Option<SinkFluid>,
    site_temperature: f64,
) -> Option<Sink> {
    let circuit = circuit(reader, fluid);
    let temperature = temperature(
        reader,
        fluid,
        site_temperature,
        circuit.as_ref().ok().and_then(Option::as_ref),
    );
    let drop = sink_drop(reader, fluid, temperature);
    let flow = flow(reader, fluid, temperature);
    let pressure = reader.context().site_pressure.get();
    let circuit = circuit.ok()?;
    if let (SinkFlow::Given(flow), Some(circuit)) = (flow.as_ref()?, &circuit) {
        radiator_fits(reader, flow, circuit)?;
    }
    Some(Sink {
        fluid: fluid?,
        temperature: temperature?,
        pressure: pressure.unwrap_or(RatedDrop::RATING_PRESSURE),
        flow: flow?,
        flow_factor: 1.0,
        pressure_drop: drop.ok()?,
        circuit,
    })
}

/// The water's circuit, where anything is said of it.
fn circuit(reader: &Reader<'_>, fluid: Option<SinkFluid>) -> Result<Option<WaterCircuit>, Noted> {
    let tank = reader.value(&key::TANK_VOLUME);
    let ice = reader.value(&key::ICE_MASS);
    let radiator = reader.value(&key::RADIATOR_CONDUCTANCE);
    let pressure = reader.value(&key::CIRCUIT_PRESSURE);
    let written: Vec<_> = (OF_WATER.into_iter().zip([tank, ice, radiator, pressure]))
        .filter(|(key, _)| reader.has(key))
        .collect();
    if written.is_empty() {
        return Ok(None);
    }
    if fluid == Some(SinkFluid::Air) || written.iter().any(|(_, value)| value.is_none()) {
        return Err(Noted);
    }
    if radiator.is_some() && !reader.has("sink_flow") {
        let text = words![
            WATER_FLOW.missing("sink_flow"),
            ", with radiator_conductance"
        ];
        reader.is_missing("sink_flow", text);
        return Err(Noted);
    }
    let site = reader.context().site_pressure.get();
    Ok(Some(WaterCircuit {
        tank_volume: tank.unwrap_or(0.0),
        ice_mass: ice.unwrap_or(0.0),
        radiator_conductance: radiator.unwrap_or(0.0),
        pressure: pressure.or(site).unwrap_or(RatedDrop::RATING_PRESSURE),
    }))
}

fn temperature(
    reader: &Reader<'_>,
    fluid: Option<SinkFluid>,
    site_temperature: f64,
    circuit: Option<&WaterCircuit>,
) -> Option<f64> {
    let rise = reader.value(&key::SINK_TEMPERATURE_RISE);
    let given = reader.value(&key::SINK_TEMPERATURE);
    let has_rise = reader.has("sink_temperature_rise");
    if has_rise {
        return rise.map(|rise| site_temperature + rise);
    }
    if reader.has("sink_temperature") {
        return given;
    }
    if circuit.is_some_and(|it| it.ice_mass > 0.0) {
        let said = words![amount(MELTING, Kind::Temperature, "degC", 0), " (ice)",];
        reader.default("sink_temperature", said);
        return Some(MELTING);
    }
    if fluid == Some(SinkFluid::Water) && !reader.has("radiator_conductance") {
        reader.has_to_have(&key::SINK_TEMPERATURE);
        return None;
    }
    let said = words![
        "the site's ",
        amount(site_temperature, Kind::Temperature, "degC", 1),
    ];
    reader.default("sink_temperature", said);
    Some(reader.assume(&key::SINK_TEMPERATURE, site_temperature))
}

/// The sink's own drop, rated with the air of a rated drop or with water as it enters.
fn sink_drop(
    reader: &Reader<'_>,
    fluid: Option<SinkFluid>,
    temperature: Option<f64>,
) -> Result<Option<RatedDrop>, Noted> {
    let drop = reader.value(&key::SINK_PRESSURE_DROP);
    let flow = reader.value(&key::SINK_DROP_FLOW);
    if !reader.has("sink_pressure_drop") && !reader.has("sink_drop_flow") {
        return Ok(None);
    }
    let (drop, flow) = drop.zip(flow).ok_or(Noted)?;
    let rated = match fluid.ok_or(Noted)? {
        SinkFluid::Air => RatedDrop::rated(
            drop,
            flow,
            RatedDrop::RATING_PRESSURE,
            RatedDrop::RATING_TEMPERATURE,
        ),
        SinkFluid::Water => RatedDrop {
            coefficient: drop * Fluid::water(temperature.ok_or(Noted)?).density / (flow * flow),
            at_flow: Some(flow),
        },
    };
    Ok(Some(rated))
}

/// Given, from the vehicle's speed, or from a fan.
fn flow(
    reader: &Reader<'_>,
    fluid: Option<SinkFluid>,
    temperature: Option<f64>,
) -> Option<SinkFlow> {
    let speed = reader.schedule(&key::VEHICLE_SPEED);
    let coefficient = coefficient(reader);
    let fan = fan(reader);
    if fluid == Some(SinkFluid::Water) && !reader.has("sink_flow") {
        return Some(SinkFlow::Unknown);
    }
    if reader.has("sink_flow") {
        return given(reader, fluid?, temperature).map(SinkFlow::Given);
    }
    let driven = if reader.has("vehicle_speed") {
        Some(SinkFlow::Ram {
            speed: speed?,
            pressure_coefficient: coefficient?,
        })
    } else if reader.has("fan") {
        Some(SinkFlow::Fan(fan?))
    } else {
        None
    };
    let Some(driven) = driven else {
        return Some(SinkFlow::Unknown);
    };
    if !reader.has("core") && !reader.has("sink_pressure_drop") {
        let text = words![
            key::SINK_PRESSURE_DROP.missing(),
            "; the flow follows from it",
        ];
        reader.is_missing("sink_pressure_drop", text);
        return None;
    }
    Some(driven)
}

fn coefficient(reader: &Reader<'_>) -> Option<f64> {
    if !reader.has("vehicle_speed") {
        return None;
    }
    reader.value_or_default(&key::DUCT_PRESSURE_COEFFICIENT)
}

/// A given flow; that of water also as a volume, with its density where it enters.
fn given(reader: &Reader<'_>, fluid: SinkFluid, temperature: Option<f64>) -> Option<Schedule> {
    if fluid == SinkFluid::Air {
        return reader.schedule(&key::SINK_FLOW);
    }
    let density = Fluid::water(temperature?).density;
    let node = reader.node("sink_flow")?;
    reader.schedule_by(node, &key::SINK_FLOW, WATER_FLOW, |value| {
        water(value, density)
    })
}

/// A flow of water, kg/s, from a mass or a volume flow; its density in kg/m³.
pub(super) fn water(value: &Node, density: f64) -> Result<Measured, Words> {
    let (flow, dimension) = WATER_FLOW.read_with_dimension(value, None)?;
    Ok(match dimension {
        Dimension::VolumeFlow => flow.scaled(density),
        _ => flow,
    })
}

/// `fan = [[flow, pressure rise], …]`.
fn fan(reader: &Reader<'_>) -> Option<FanCurve> {
    let node = reader.node("fan")?;
    let (flow, rise) = (Kind::VolumeFlow, Kind::PressureDifference);
    let form = words![
        "a fan is written [[",
        example(flow, "\"0.2 m3/s\""),
        ", ",
        example(rise, "\"250 Pa\""),
        "], [",
        example(flow, "\"0.6 m3/s\""),
        ", ",
        example(rise, "\"40 Pa\""),
        "]], flow rising and pressure rise falling",
    ];
    let Value::List(list) = &node.value else {
        reader.fault("fan", form);
        return None;
    };
    let mut rows = Vec::with_capacity(list.len());
    for (i, row) in list.iter().enumerate() {
        let note = |text: Words| {
            let text = words![format!("row {}: ", i + 1), text];
            reader.context().fault(&row.place, &reader.key("fan"), text);
        };
        let Value::List(pair) = &row.value else {
            note(form.clone());
            return None;
        };
        let [flow, rise] = pair.as_slice() else {
            note(form.clone());
            return None;
        };
        let flow = FAN_FLOW.read_exact(flow, None).map_err(note).ok();
        let rise = FAN_RISE.read_exact(rise, None).map_err(note).ok();
        rows.extend(flow.zip(rise));
    }
    if rows.len() < list.len() {
        return None;
    }
    let count = rows.len();
    match FanCurve::new(rows) {
        Ok(fan) => Some(fan),
        Err(FanError::TooFew) => {
            reader.fault("fan", words![format!("has {count} rows; "), form]);
            None
        }
        Err(error @ (FanError::NoNumber(row) | FanError::NotFalling(row))) => {
            let place = &list[row].place;
            let text = match error {
                FanError::NotFalling(_) => format!(
                    "row {}: flow must rise and pressure rise must fall from row to row",
                    row + 1
                ),
                _ => format!("row {} holds a value below 0 or not finite", row + 1),
            };
            reader.context().fault(place, &reader.key("fan"), text);
            None
        }
    }
}

/// A radiator gives away at most what the water brings.
fn radiator_fits(reader: &Reader<'_>, flow: &Schedule, circuit: &WaterCircuit) -> Option<()> {
    let capacity = Fluid::water(300.0).heat_capacity;
    let least = (flow.rows().iter()).fold(f64::INFINITY, |least, row| least.min(row.1)) * capacity;
    if circuit.radiator_conductance < least {
        return Some(());
    }
    reader.fault(
        "radiator_conductance",
        format!(
            "is more than the water flow can carry, {least:.0} W/K: raise sink_flow, or set a smaller figure"
        ),
    );
    None
}
