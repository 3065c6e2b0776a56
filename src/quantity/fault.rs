//! What is wrong with a value as written, in words that say what would be right.

use std::fmt;

use super::kind::Kind;
use super::words::{UnitChoice, Words, words};

/// What is wrong with a value. Its words say what would be right.
#[derive(Debug, Clone, PartialEq)]
pub enum QuantityError {
    /// There is no number at the start.
    NoNumber {
        /// What was written.
        text: String,
        /// The kind that is wanted.
        wanted: Kind,
    },
    /// nan, inf or a number too large to hold.
    NotFinite {
        /// What was written.
        text: String,
    },
    /// A comma within the number.
    Comma {
        /// What was written.
        text: String,
        /// With a decimal point, where the comma can be one.
        point: Option<String>,
        /// Without the comma, where it can group thousands.
        plain: Option<String>,
    },
    /// A fraction, as inches are often read.
    Fraction {
        /// What was written.
        text: String,
        /// As a decimal.
        decimal: String,
    },
    /// A number without unit.
    NoUnit {
        /// The number.
        number: String,
        /// The kind that is wanted.
        wanted: Kind,
    },
    /// A unit that is not known.
    UnknownUnit {
        /// What was written.
        unit: String,
        /// The nearest of the right ones.
        nearest: Option<&'static str>,
        /// The kind that is wanted.
        wanted: Kind,
    },
    /// A unit of another kind.
    OtherKind {
        /// The unit written.
        unit: &'static str,
        /// What it measures.
        found: &'static str,
        /// The kind that is wanted.
        wanted: Kind,
    },
    /// A volume flow where a mass flow is wanted.
    VolumeFlow {
        /// What was written.
        text: String,
        /// kg/s if it were standard air.
        standard: f64,
        /// lb/min if it were standard air.
        pounds: f64,
    },
    /// Colder than anything can be.
    BelowZeroKelvin {
        /// What was written.
        text: String,
    },
    /// Gauge or absolute said where a difference is wanted.
    ReferenceForDifference {
        /// "gauge" or "absolute".
        said: &'static str,
        /// How it could look.
        example: String,
    },
    /// A difference said where a pressure is wanted.
    DifferenceForPressure {
        /// The kind that is wanted.
        wanted: Kind,
        /// How it could look.
        example: String,
    },
    /// A gauge pressure where nothing is there to count from.
    GaugeOfSite,
}

impl QuantityError {
    /// What is wrong and what would be right, with the reader's units still open.
    pub fn words(&self) -> Words {
        match self {
            Self::NoNumber { text, wanted } => words![
                format!(
                    "{text:?} does not begin with a number; expected {}, e.g. \"",
                    wanted.name()
                ),
                example_number(*wanted),
                "\"",
            ],
            Self::NotFinite { text } => format!("{text:?} is not a finite number").into(),
            Self::Comma { text, point, plain } => {
                let write = match (point, plain) {
                    (Some(point), Some(plain)) => format!(
                        "{point:?} if it is a decimal, {plain:?} if it groups thousands"
                    ),
                    (Some(one), None) | (None, Some(one)) => format!("{one:?}"),
                    (None, None) => "it with a decimal point".to_owned(),
                };
                format!("{text:?} has a comma in its number: write {write}").into()
            }
            Self::Fraction { text, decimal } => {
                format!("{text:?} is a fraction: write it as a decimal, {decimal:?}").into()
            }
            Self::NoUnit { number, wanted } => words![
                format!(
                    "{number} has no unit; expected {}, e.g. \"{number} ",
                    wanted.name()
                ),
                UnitChoice::First(*wanted, None),
                "\"",
                UnitChoice::Others(*wanted, None),
            ],
            Self::UnknownUnit {
                unit,
                nearest,
                wanted,
            } => words![
                format!(
                    "unit {unit:?} is not known{}; expected {}, in ",
                    did_you_mean(*nearest),
                    wanted.name()
                ),
                UnitChoice::All(*wanted),
            ],
            Self::OtherKind {
                unit,
                found,
                wanted,
            } => words![
                format!("{unit} measures {found}; expected {}, in ", wanted.name()),
                UnitChoice::All(*wanted),
            ],
            Self::VolumeFlow {
                text,
                standard,
                pounds,
            } => format!(
                "{text:?} is a volume flow; expected a mass flow. It can be read in two ways: \
                 as \"standard\" air (101.325 kPa, 60 degF, dry) it is {standard:.4} kg/s \
                 ({pounds:.2} lb/min); as measured it is this volume times the density of the air at \
                 the meter. Write the one you mean in kg/s or lb/min"
            )
            .into(),
            _ => self.of_reference().into(),
        }
    }

    /// Words for what a value counts from.
    fn of_reference(&self) -> String {
        match self {
            Self::BelowZeroKelvin { text } => {
                format!("{text:?} is below absolute zero (0 K, -273.15 degC, -459.67 degF)")
            }
            Self::ReferenceForDifference { said, example } => format!(
                "{said} does not fit a difference of two pressures: write it without, \
                 e.g. \"{example}\""
            ),
            Self::DifferenceForPressure { wanted, example } => format!(
                "a difference is given; expected {}: write \"{example}\"",
                wanted.name()
            ),
            _ => "gauge pressure does not work here, since gauges read from this pressure: write it absolute"
                .to_owned(),
        }
    }
}

/// A number as it could stand there, with its unit.
fn example_number(wanted: Kind) -> Words {
    match wanted {
        Kind::Number => "1.5".into(),
        _ => words!["38 ", UnitChoice::First(wanted, None)],
    }
}

fn did_you_mean(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |name| format!(" (did you mean {name}?)"))
}

/// In metric units.
impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.words().fmt(f)
    }
}

impl std::error::Error for QuantityError {}

impl From<QuantityError> for Words {
    fn from(fault: QuantityError) -> Self {
        fault.words()
    }
}
