//! A rated pressure drop, wherever a part has one.

use super::keys::air_path::DropKeys;
use super::reader::Reader;
use crate::air_path::RatedDrop;
use crate::quantity::{Kind, amount, words};

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
pub(super) fn read(reader: &Reader<'_>, keys: &'static DropKeys, need: Need) -> Option<RatedDrop> {
    let drop = reader.value(&keys.pressure_drop);
    let flow = reader.value(&keys.at_flow);
    let pressure = reader.value(&keys.at_pressure);
    let temperature = reader.value(&keys.at_temperature);
    if !reader.has("pressure_drop") {
        let rated = ["at_flow", "at_pressure", "at_temperature"]
            .into_iter()
            .any(|key| reader.has(key));
        if rated || need == Need::Needed {
            reader.has_to_have(&keys.pressure_drop);
            return None;
        }
        reader.default("pressure_drop", "none");
        return Some(RatedDrop::NONE);
    }
    let none = drop.is_some_and(|drop| drop <= 0.0);
    if !reader.has("at_flow") && !none {
        reader.has_to_have(&keys.at_flow);
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
        pressure.unwrap_or_else(|| reader.assume(&keys.at_pressure, RatedDrop::RATING_PRESSURE)),
        temperature
            .unwrap_or_else(|| reader.assume(&keys.at_temperature, RatedDrop::RATING_TEMPERATURE)),
    );
    if !rated.coefficient.is_finite() {
        reader.fault(
            "at_flow",
            "is so small that the drop has no finite size at other flows",
        );
        return None;
    }
    let pressure_taken = amount(RatedDrop::RATING_PRESSURE, Kind::AbsolutePressure, "kPa", 3);
    let temperature_taken = amount(RatedDrop::RATING_TEMPERATURE, Kind::Temperature, "degC", 0);
    match (pressure, temperature) {
        (None, None) => {
            reader.default(
                "at_pressure",
                words![pressure_taken, " and ", temperature_taken],
            );
        }
        (None, Some(_)) => reader.default("at_pressure", pressure_taken),
        (Some(_), None) => reader.default("at_temperature", temperature_taken),
        (Some(_), Some(_)) => {}
    }
    Some(rated)
}
