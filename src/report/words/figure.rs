//! Numbers with their unit, as a sentence needs them.

use crate::quantity::{Kind, UnitSystem, label, shown};

/// A value with its unit: "275.0 kPa absolute", "12.0 %", "1.850".
pub(in crate::report) fn with_unit(si: f64, kind: Kind, system: UnitSystem) -> String {
    match (label(kind, system), kind) {
        ("", _) => shown(si, kind, system),
        // The sentence around it says that it is a difference.
        (_, Kind::TemperatureDifference) => {
            let unit = match system {
                UnitSystem::Si => "K",
                UnitSystem::Us => "°F",
            };
            format!("{} {unit}", shown(si, kind, system))
        }
        (unit, _) => format!("{} {unit}", shown(si, kind, system)),
    }
}

/// A share in per cent: "2.4 %".
pub(super) fn percent(share: f64) -> String {
    with_unit(share, Kind::Share, UnitSystem::Si)
}

/// A plain number with two decimals, enough for a pulley or a pressure ratio.
pub(super) fn plain(value: f64) -> String {
    format!("{value:.2}")
}
