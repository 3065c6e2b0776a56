//! Numbers with their unit, as a sentence needs them, and the units of findings.

use crate::finding::Measure;
use crate::quantity::{Kind, UnitSystem, label, shown, shown_roughly};

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

/// A value to three figures with its unit, for what a model knows to several per cent only.
pub(super) fn roughly(si: f64, kind: Kind, system: UnitSystem) -> String {
    let value = shown_roughly(si, kind, system);
    format!("{value} {}", label(kind, system))
}

/// A share in per cent: "2.4 %".
pub(super) fn percent(share: f64) -> String {
    with_unit(share, Kind::Share, UnitSystem::Si)
}

/// A plain number with two decimals, enough for a pulley or a pressure ratio.
pub(super) fn plain(value: f64) -> String {
    format!("{value:.2}")
}

/// The SI unit of a finding's value and limit; "1" for a plain number.
pub const fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::AbsolutePressure => "Pa",
        Measure::Temperature => "K",
        Measure::Speed => "rpm",
        Measure::SurfaceSpeed => "m/s",
        Measure::Force => "N",
        Measure::Power => "W",
        Measure::Ratio | Measure::Share => "1",
    }
}

/// The kind of quantity of a finding's value and limit, for the reader's units.
pub const fn kind(measure: Measure) -> Kind {
    match measure {
        Measure::AbsolutePressure => Kind::AbsolutePressure,
        Measure::Temperature => Kind::Temperature,
        Measure::Speed => Kind::RotationalSpeed,
        Measure::SurfaceSpeed => Kind::SurfaceSpeed,
        Measure::Force => Kind::SmallForce,
        Measure::Power => Kind::Power,
        Measure::Ratio => Kind::Number,
        Measure::Share => Kind::Share,
    }
}
