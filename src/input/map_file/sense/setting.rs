//! The `#` lines: states and volumes that can be.

use super::figures::digits;
use crate::input::map_file::column::Content;
use crate::input::map_file::reading::Reading;
use crate::input::map_file::settings::{Settings, Written};
use crate::map::sense::range::{self, Range, Standing};
use crate::quantity::{Kind, PressureReading, unit_named};

/// What a setting is checked for.
struct Check {
    what: &'static str,
    kind: Kind,
    range: Range,
    /// Another usual range.
    also: Option<(f64, f64)>,
    /// The usual, in words.
    usual: &'static str,
    /// Units to try the figure in, the likeliest first.
    units: &'static [&'static str],
}

const TEMPERATURES: &[&str] = &["K", "degC", "degF"];
const PRESSURES: &[&str] = &["kPa", "mbar", "bar", "psi", "inHg", "mmHg", "Pa"];
const VOLUMES: &[&str] = &["L", "cc", "in3", "ft3", "m3"];

fn check(key: &str, map: Content) -> Option<Check> {
    let turbine = map == Content::ExpansionRatio;
    let temperature = |what, range, also, usual| Check {
        what,
        kind: Kind::Temperature,
        range,
        also,
        usual,
        units: TEMPERATURES,
    };
    let pressure = |what, range, usual| Check {
        what,
        kind: Kind::AbsolutePressure,
        range,
        also: None,
        usual,
        units: PRESSURES,
    };
    let check = match key {
        "reference_temperature" if turbine => temperature(
            "a map's reference temperature",
            range::TURBINE_REFERENCE_TEMPERATURE,
            Some(range::HOT_GAS),
            "273 to 303 K, or that of the hot gas",
        ),
        "reference_temperature" => temperature(
            "a map's reference temperature",
            range::REFERENCE_TEMPERATURE,
            None,
            "273 to 303 K",
        ),
        "reference_pressure" => pressure(
            "a map's reference pressure",
            if turbine {
                range::TURBINE_REFERENCE_PRESSURE
            } else {
                range::REFERENCE_PRESSURE
            },
            "96 to 101.325 kPa",
        ),
        // Nothing of a turbine's map is read with them.
        "inlet_temperature" | "inlet_pressure" if turbine => return None,
        "inlet_temperature" => temperature(
            "an inlet's temperature",
            range::INLET_TEMPERATURE,
            None,
            "270 to 400 K",
        ),
        "inlet_pressure" => pressure(
            "an inlet's pressure",
            range::INLET_PRESSURE,
            "70 to 300 kPa",
        ),
        "displacement" => Check {
            what: "a supercharger's swept volume per revolution",
            kind: Kind::Volume,
            range: range::DISPLACEMENT,
            also: None,
            usual: "0.1 to 15 L",
            units: VOLUMES,
        },
        _ => return None,
    };
    Some(check)
}

impl Reading {
    /// States and volumes that cannot be are faults; those that are hardly meant, remarks.
    pub(in crate::input::map_file) fn doubt_settings(&mut self, settings: &Settings, map: Content) {
        for written in &settings.written {
            let Some(check) = check(written.key, map) else {
                continue;
            };
            let also = |(low, high): &(f64, f64)| written.value >= *low && written.value <= *high;
            if check.also.as_ref().is_some_and(also) {
                continue;
            }
            let standing = check.range.standing(written.value);
            if standing == Standing::Usual {
                continue;
            }
            let meant = meant(written, &check);
            let (text, what, usual) = (&written.text, check.what, check.usual);
            if standing == Standing::Impossible {
                let text = format!("{text} cannot be {what} (usual: {usual}){meant}");
                self.fault(written.line, written.key, text);
                self.is_state_sound = false;
            } else {
                let text = format!("{text} is unusual for {what} (usual: {usual}){meant}");
                self.remark(written.line, written.key, text);
            }
        }
    }
}

/// The figure in the unit in which it would be usual.
fn meant(written: &Written, check: &Check) -> String {
    let unit = match check.kind {
        // A gauge pressure was refused before.
        Kind::AbsolutePressure if written.reading != PressureReading::Unsaid => {
            return String::new();
        }
        _ => written.unit,
    };
    let figure = unit.from_si(written.value);
    let fits = |name: &&&str| {
        let other = unit_named(name).map(|(other, _)| other);
        other.is_some_and(|other| {
            other.name() != unit.name()
                && check.range.standing(other.to_si(figure)) == Standing::Usual
        })
    };
    match check.units.iter().find(fits) {
        Some(name) => format!(": did you mean {} {name}?", figure_text(figure)),
        None => String::new(),
    }
}

/// The figure as it was written, without the dust of two conversions.
fn figure_text(figure: f64) -> String {
    let rounded = (figure * 1e6).round() / 1e6;
    if rounded > 0.0 {
        rounded.to_string()
    } else {
        digits(figure)
    }
}
