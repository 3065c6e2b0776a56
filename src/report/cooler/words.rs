//! Numbers with their unit, as this report's sentences need them.

use crate::quantity::{Kind, UnitSystem, label, shown};

/// What a depth means where the core's shape is not known.
pub(in crate::report) const ASSUMED: &str = "core shape not known; UA and charge pressure drop grow with \
depth.";

/// "42.0 % more", "1.2 kW less".
pub(in crate::report) fn more(value: f64, kind: Kind, system: UnitSystem) -> String {
    let word = if value < 0.0 { "less" } else { "more" };
    format!("{} {word}", figure(value.abs(), kind, system))
}

/// A value with its unit: "60.0 °C", "5.9 %", "4.9 K" for a difference of temperatures.
pub(in crate::report) fn figure(si: f64, kind: Kind, system: UnitSystem) -> String {
    let unit = match kind {
        Kind::TemperatureDifference if system == UnitSystem::Si => "K",
        Kind::TemperatureDifference => "°F",
        other => label(other, system),
    };
    let unit = unit.trim_end_matches(" difference");
    format!("{} {unit}", shown(si, kind, system))
        .trim_end()
        .to_owned()
}

/// "3200 rpm".
pub(in crate::report) fn rpm(value: f64, system: UnitSystem) -> String {
    figure(value, Kind::RotationalSpeed, system)
}

/// "41 s", "0.6 s", "12 min".
pub(in crate::report) fn time(seconds: f64) -> String {
    if seconds < 10.0 {
        format!("{seconds:.1} s")
    } else if seconds < 300.0 {
        format!("{seconds:.0} s")
    } else {
        format!("{:.1} min", seconds / 60.0)
    }
}

/// A cooler at the start of a sentence: "The cooler", "Cooler 2".
pub(in crate::report) fn named(cooler: &str) -> String {
    match cooler.strip_prefix("cooler ") {
        Some(number) => format!("Cooler {number}"),
        None => format!("The {cooler}"),
    }
}

/// A cooler within a sentence: "the cooler", "cooler 2".
pub(in crate::report) fn inside(cooler: &str) -> String {
    if cooler.ends_with(char::is_numeric) {
        cooler.to_owned()
    } else {
        format!("the {cooler}")
    }
}

/// What takes the heat.
pub(in crate::report) fn sink(sink: &str) -> &'static str {
    if sink == "water" {
        "water"
    } else {
        "cooling air"
    }
}
