//! What is wrong with a value as written, in words that say what would be right.

use thiserror::Error;

/// What is wrong with a value. Its text says what would be right.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum QuantityError {
    /// There is no number at the start.
    #[error("{text:?} does not begin with a number; {wanted} is wanted, for example \"{example}\"")]
    NoNumber {
        /// What was written.
        text: String,
        /// The kind that is wanted.
        wanted: &'static str,
        /// How it could look.
        example: String,
    },
    /// nan, inf or a number too large to hold.
    #[error("{text:?} is not a finite number")]
    NotFinite {
        /// What was written.
        text: String,
    },
    /// A comma within the number.
    #[error(
        "{text:?} has a comma in its number: write {point:?} if it is a decimal, {plain:?} if it groups thousands"
    )]
    Comma {
        /// What was written.
        text: String,
        /// With a decimal point.
        point: String,
        /// Without the comma.
        plain: String,
    },
    /// A number without unit.
    #[error("{number} has no unit; {wanted} is wanted, write for example \"{number} {}\"{}", units[0], others(units))]
    NoUnit {
        /// The number.
        number: String,
        /// The kind that is wanted.
        wanted: &'static str,
        /// Units to choose from.
        units: &'static [&'static str],
    },
    /// A unit that is not known.
    #[error("unit {unit:?} is not known{}; {wanted} is wanted, in {}", did_you_mean(*nearest), listed(units))]
    UnknownUnit {
        /// What was written.
        unit: String,
        /// The nearest of the right ones.
        nearest: Option<&'static str>,
        /// The kind that is wanted.
        wanted: &'static str,
        /// Units to choose from.
        units: &'static [&'static str],
    },
    /// A unit of another kind.
    #[error(
        "{unit} measures {found}, but {wanted} is wanted, in {}",
        listed(units)
    )]
    OtherKind {
        /// The unit written.
        unit: &'static str,
        /// What it measures.
        found: &'static str,
        /// The kind that is wanted.
        wanted: &'static str,
        /// Units to choose from.
        units: &'static [&'static str],
    },
    /// A volume flow where a mass flow is wanted.
    #[error(
        "{text:?} is a volume flow, but a mass flow is wanted, and it can be read in two ways: as \
         \"standard\" air (101.325 kPa, 60 degF, dry) it is {standard:.4} kg/s ({pounds:.2} lb/min); \
         as measured it is this volume times the density of the air at the meter. Write the one you \
         mean in kg/s or lb/min"
    )]
    VolumeFlow {
        /// What was written.
        text: String,
        /// kg/s if it were standard air.
        standard: f64,
        /// lb/min if it were standard air.
        pounds: f64,
    },
    /// Colder than anything can be.
    #[error("{text:?} is below absolute zero (0 K, -273.15 degC, -459.67 degF)")]
    BelowZeroKelvin {
        /// What was written.
        text: String,
    },
    /// Gauge or absolute said where a difference is wanted.
    #[error(
        "{said} is said, but this is a difference of two pressures: write it without, for example \"{example}\""
    )]
    ReferenceForDifference {
        /// "gauge" or "absolute".
        said: &'static str,
        /// How it could look.
        example: String,
    },
    /// A difference said where a pressure is wanted.
    #[error("a difference is said, but {wanted} is wanted: write \"{example}\"")]
    DifferenceForPressure {
        /// The kind that is wanted.
        wanted: &'static str,
        /// How it could look.
        example: String,
    },
    /// A gauge pressure where nothing is there to count from.
    #[error(
        "gauge pressure is said, but this is the pressure that gauges count from: write it absolute"
    )]
    GaugeOfSite,
}

fn did_you_mean(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |name| format!(", did you mean {name}?"))
}

fn listed(units: &[&str]) -> String {
    match units {
        [] => "no unit".to_owned(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

fn others(units: &[&str]) -> String {
    if units.len() < 2 {
        return String::new();
    }
    format!(" (or {})", units[1..].join(", "))
}
