//! A rated pressure drop, wherever a part has one.

use super::reader::Reader;
use super::want::Want;
use crate::air_path::RatedDrop;
use crate::quantity::{Kind, amount, words};

const DROP: Want = Want::of(Kind::PressureDifference, "\"1.5 kPa\"")
    .at_least(0.0)
    .at_most(1e6);
const FLOW: Want = Want::of(Kind::MassFlow, "\"0.25 kg/s\"")
    .above(0.0)
    .at_most(100.0);
const PRESSURE: Want = Want::of(Kind::AbsolutePressure, "\"250 kPa\"")
    .at_least(1e4)
    .at_most(3e6);
const TEMPERATURE: Want = Want::of(Kind::Temperature, "\"160 degC\"")
    .at_least(200.0)
    .at_most(1500.0);

/// Whether a part means anything without its drop.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    /// It is all that the part is.
    Needed,
    /// None is taken where none is written, which is said.
    Optional,
}

/// Reads `pressure_drop`, `at_flow`, `at_pressure`, `at_temperature`. A drop of 0 is none, whatever
/// the flow.
pub(super) fn read(reader: &Reader<'_>, need: Need) -> Option<RatedDrop> {
    let drop = reader.value("pressure_drop", DROP);
    let flow = reader.value("at_flow", FLOW);
    let pressure = reader.value("at_pressure", PRESSURE);
    let temperature = reader.value("at_temperature", TEMPERATURE);
    if !reader.has("pressure_drop") {
        let rated = ["at_flow", "at_pressure", "at_temperature"]
            .into_iter()
            .any(|key| reader.has(key));
        if rated || need == Need::Needed {
            reader.is_missing("pressure_drop", DROP.missing("pressure_drop"));
            return None;
        }
        reader.default("pressure_drop", "none is taken");
        return Some(RatedDrop::NONE);
    }
    let none = drop.is_some_and(|drop| drop <= 0.0);
    if !reader.has("at_flow") && !none {
        reader.is_missing("at_flow", FLOW.missing("at_flow"));
    }
    let wrong = (reader.has("at_flow") && flow.is_none())
        || (reader.has("at_pressure") && pressure.is_none())
        || (reader.has("at_temperature") && temperature.is_none());
    if wrong {
        return None;
    }
    if none {
        return Some(RatedDrop::NONE);
    }
    let rated = RatedDrop::rated(
        drop?,
        flow?,
        pressure
            .unwrap_or_else(|| reader.assume("at_pressure", PRESSURE, RatedDrop::RATING_PRESSURE)),
        temperature.unwrap_or_else(|| {
            reader.assume("at_temperature", TEMPERATURE, RatedDrop::RATING_TEMPERATURE)
        }),
    );
    if !rated.coefficient.is_finite() {
        reader.fault(
            "at_flow",
            "is so small that the drop has no finite size at other flows",
        );
        return None;
    }
    let rated_at = "the drop is taken as rated at ";
    let usual_pressure = amount(RatedDrop::RATING_PRESSURE, Kind::AbsolutePressure, "kPa", 3);
    let usual_temperature = amount(RatedDrop::RATING_TEMPERATURE, Kind::Temperature, "degC", 0);
    match (pressure, temperature) {
        (None, None) => reader.default(
            "at_pressure",
            words![rated_at, usual_pressure, " and ", usual_temperature],
        ),
        (None, Some(_)) => reader.default("at_pressure", words![rated_at, usual_pressure]),
        (Some(_), None) => {
            reader.default("at_temperature", words![rated_at, usual_temperature]);
        }
        (Some(_), Some(_)) => {}
    }
    Some(rated)
}
