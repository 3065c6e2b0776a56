//! "0.88 +- 0.03", "24 degC +- 3 K", "4.5 L ± 2 %": how far a value may lie from the truth, as one
//! standard uncertainty (JCGM 100:2008, 2.3.1).

use thiserror::Error;

use super::fault::QuantityError;
use super::kind::Kind;
use super::number_and_unit::split;
use super::parse::{Quantity, parse};
use super::unit::Dimension;
use super::words::{Words, words};

/// What stands between a value and its uncertainty.
const MARKS: [&str; 4] = ["+/-", "+-", "±", "+−"];

/// What is wrong with an uncertainty. Its text says what would be right.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SpreadError {
    /// Nothing follows the mark.
    #[error("nothing follows +-: write the uncertainty after it, e.g. \"{value} +- 2 %\"")]
    Empty {
        /// The value as written.
        value: String,
    },
    /// What follows the mark cannot be read.
    #[error("after +-: {0}")]
    Unreadable(QuantityError),
    /// Below or at 0.
    #[error("{text:?} after +- must be above 0; leave +- out if the value is exact")]
    NotPositive {
        /// The uncertainty as written.
        text: String,
    },
    /// Per cent of a temperature counts from a zero that nobody said.
    #[error(
        "per cent of a temperature depends on the scale's zero: write the uncertainty in K, degC or degF, \
         e.g. \"+- 3 K\""
    )]
    PerCentOfTemperature,
    /// Per cent of a value in per cent.
    #[error(
        "{text:?} after a value in per cent is ambiguous: {points} of the whole, or {relative} of the \
         value; write both as plain numbers: \"{value} +- {points}\" or \"{value} +- {of_value}\""
    )]
    TwoReadings {
        /// The uncertainty as written.
        text: String,
        /// The value as a plain number.
        value: f64,
        /// Read as points, a plain number.
        points: f64,
        /// Read as a part of the value, in its own words.
        relative: String,
        /// The same as a plain number.
        of_value: f64,
    },
    /// A mass behind a volume.
    #[error(
        "{found} after +- does not fit the value, which is {wanted}: use the same kind of unit for both"
    )]
    OtherMeasure {
        /// What the uncertainty measures.
        found: &'static str,
        /// What the value measures.
        wanted: &'static str,
    },
}

impl From<SpreadError> for Words {
    fn from(fault: SpreadError) -> Self {
        match fault {
            SpreadError::Unreadable(fault) => words!["after +-: ", fault],
            other => other.to_string().into(),
        }
    }
}

/// The value and the uncertainty of a text that has both.
pub fn split_spread(text: &str) -> Option<(&str, &str)> {
    let places = MARKS
        .iter()
        .filter_map(|mark| text.find(mark).map(|at| (at, mark.len())));
    let (at, length) = places.min()?;
    Some((text[..at].trim(), text[at + length..].trim()))
}

/// The unit of an uncertainty where it has to serve the value too, which has none; per cent does
/// not.
pub fn shared_unit<'s>(value: &str, spread: &'s str) -> Option<&'s str> {
    let unit = split(spread).1;
    let serves = split(value).1.is_empty() && !unit.is_empty() && unit != "%";
    serves.then_some(unit)
}

/// Reads the uncertainty of a value of a kind, SI (rpm for rotational speed): a difference in the
/// value's measure, in the value's own unit where it has none, or per cent of the value as written.
pub fn spread(text: &str, of: &Quantity, kind: Kind) -> Result<f64, SpreadError> {
    let (number, unit) = split(text);
    if number.is_empty() && unit.is_empty() {
        return Err(SpreadError::Empty {
            value: of.as_written(),
        });
    }
    let found = if unit == "%" {
        per_cent(text, of, kind)?
    } else {
        difference(text, number, unit, of, kind)?
    };
    if found > 0.0 {
        Ok(found)
    } else {
        let text = text.to_owned();
        Err(SpreadError::NotPositive { text })
    }
}

fn per_cent(text: &str, of: &Quantity, kind: Kind) -> Result<f64, SpreadError> {
    let share = parse(text, Kind::Share)
        .map_err(SpreadError::Unreadable)?
        .value;
    if kind == Kind::Temperature {
        return Err(SpreadError::PerCentOfTemperature);
    }
    let of_value = share * of.value.abs();
    if of.unit.name() == "%" {
        return Err(SpreadError::TwoReadings {
            text: text.to_owned(),
            value: rounded(of.value),
            points: rounded(share),
            relative: text.to_owned(),
            of_value: rounded(of_value),
        });
    }
    Ok(of_value)
}

/// Six digits: what a person would write.
fn rounded(value: f64) -> f64 {
    format!("{value:.5e}").parse().unwrap_or(value)
}

fn difference(
    text: &str,
    number: &str,
    unit: &str,
    of: &Quantity,
    kind: Kind,
) -> Result<f64, SpreadError> {
    let kind = match kind {
        Kind::Temperature => Kind::TemperatureDifference,
        Kind::AbsolutePressure | Kind::BoostPressure => Kind::PressureDifference,
        other => other,
    };
    let bare = unit.is_empty() && of.unit.name() != "-";
    let read = if bare {
        parse(&format!("{number} {}", of.unit.name()), kind)
    } else {
        parse(text, kind)
    };
    let quantity = read.map_err(SpreadError::Unreadable)?;
    let (found, wanted) = (quantity.unit.dimension, of.unit.dimension);
    if found != wanted {
        return Err(SpreadError::OtherMeasure {
            found: Dimension::name(found),
            wanted: Dimension::name(wanted),
        });
    }
    quantity
        .pressure(kind, None)
        .map_err(SpreadError::Unreadable)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn read(text: &str, kind: Kind) -> Result<f64, SpreadError> {
        let (value, apart) = split_spread(text).unwrap();
        spread(apart, &parse(value, kind).unwrap(), kind)
    }

    #[test]
    fn every_mark_parts_a_value_from_its_uncertainty() {
        for text in [
            "4.5 L +- 0.1 L",
            "4.5 L+-0.1 L",
            "4.5 L ± 0.1 L",
            "4.5 L +/- 0.1 L",
        ] {
            assert_eq!(split_spread(text), Some(("4.5 L", "0.1 L")), "{text}");
            assert_relative_eq!(read(text, Kind::Volume).unwrap(), 1e-4);
        }
        assert_eq!(split_spread("4.5 L"), None);
        assert_eq!(split_spread("-1e-3 m"), None);
    }

    #[test]
    fn the_unit_of_an_uncertainty_serves_a_value_without_one() {
        assert_eq!(shared_unit("7.7", "0.1 cm2"), Some("cm2"));
        assert_eq!(shared_unit("7.7 cm2", "0.1 cm2"), None);
        assert_eq!(shared_unit("0.88", "3 %"), None);
        assert_eq!(shared_unit("0.88", "0.03"), None);
    }

    #[test]
    fn the_uncertainty_of_a_temperature_is_a_difference() {
        for text in [
            "24 degC +- 3 K",
            "24 degC +- 3 degC",
            "24 degC +- 5.4 degF",
            "24 degC +- 3",
        ] {
            assert_relative_eq!(
                read(text, Kind::Temperature).unwrap(),
                3.0,
                max_relative = 1e-12
            );
        }
        assert_eq!(
            read("24 degC +- 3 %", Kind::Temperature),
            Err(SpreadError::PerCentOfTemperature)
        );
    }

    #[test]
    fn the_uncertainty_of_a_pressure_is_a_difference() {
        let one_psi = 6_894.757_293_168_361;
        for text in ["38 psi +- 1 psi", "38 psig +- 1 psi", "38 psi +- 1"] {
            assert_relative_eq!(read(text, Kind::BoostPressure).unwrap(), one_psi);
        }
        let said = read("38 psi +- 1 psig", Kind::BoostPressure).unwrap_err();
        assert!(said.to_string().contains("gauge does not fit"), "{said}");
    }

    #[test]
    fn per_cent_is_of_the_value_and_refused_where_it_means_two_things() {
        assert_relative_eq!(read("0.88 +- 3 %", Kind::Share).unwrap(), 0.0264);
        assert_relative_eq!(
            read("-15 K +- 10 %", Kind::TemperatureDifference).unwrap(),
            1.5
        );
        assert_relative_eq!(read("85 % +- 3", Kind::Share).unwrap(), 0.03);
        let said = read("85 % +- 3 %", Kind::Share).unwrap_err().to_string();
        assert!(
            said.contains("\"0.85 +- 0.03\" or \"0.85 +- 0.0255\""),
            "{said}"
        );
    }

    #[test]
    fn what_is_no_uncertainty_is_refused() {
        let refused = |text, kind| read(text, kind).unwrap_err().to_string();
        assert!(refused("0.88 +-", Kind::Share).contains("nothing follows"));
        assert!(refused("0.88 +- -0.03", Kind::Share).contains("above 0"));
        assert!(refused("0.88 +- 0", Kind::Share).contains("above 0"));
        assert!(refused("0.88 +- x", Kind::Share).contains("does not begin with a number"));
        assert!(refused("0.88 +- nan", Kind::Share).contains("not a finite number"));
        assert!(refused("4.5 L +- 0.1 kg", Kind::Volume).contains("kg measures a mass"));
        assert!(refused("150 mm3 +- 2 mg", Kind::FuelPerStroke).contains("the same kind of unit"));
        assert!(refused("4.5 L +- 0.1 L +- 2", Kind::Volume).contains("is not known"));
    }
}
