//! "38 psi", "4.5 L", "12 %": text into a value, or into what is wrong with it.

use super::fault::QuantityError;
use super::kind::Kind;
use super::unit::{Dimension, PressureReading, Unit, nearest_unit, unit_named};

/// Density of dry air at the trade's usual standard of 101.325 kPa and 60 °F, kg/m³
/// (ideal gas, 287.05287 J/(kg K)): only used to show what a "standard" cubic foot would weigh.
const STANDARD_FLOW_DENSITY: f64 = 101_325.0 / (287.052_87 * 288.705_555_555_555_6);

/// A value with a unit, understood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The value in SI (rotational speed in rpm). Of a pressure: as written, see `reading`.
    pub value: f64,
    /// What the text itself said about a pressure.
    pub reading: PressureReading,
    /// The unit it was written in.
    pub unit: &'static Unit,
}

impl Quantity {
    /// The pressure in Pa that a key of this kind means, with the site's absolute pressure in Pa
    /// where it is known: absolute, above the site, or a difference, as the kind says.
    pub fn pressure(&self, kind: Kind, site: Option<f64>) -> Result<f64, QuantityError> {
        use PressureReading as R;
        let site = || site.ok_or(QuantityError::GaugeOfSite);
        match (kind, self.reading) {
            (Kind::PressureDifference, R::Gauge) => Err(self.reference_for_difference("gauge")),
            (Kind::PressureDifference, R::Absolute) => {
                Err(self.reference_for_difference("absolute"))
            }
            (Kind::AbsolutePressure | Kind::BoostPressure, R::Difference) => {
                Err(QuantityError::DifferenceForPressure {
                    wanted: kind.name(),
                    example: self.as_written(),
                })
            }
            (Kind::AbsolutePressure, R::Gauge) => Ok(self.value + site()?),
            (Kind::BoostPressure, R::Absolute) => Ok(self.value - site()?),
            _ => Ok(self.value),
        }
    }

    fn reference_for_difference(&self, said: &'static str) -> QuantityError {
        QuantityError::ReferenceForDifference {
            said,
            example: self.as_written(),
        }
    }

    /// The value in the unit it was written in, without what it said about its reference.
    pub(super) fn as_written(&self) -> String {
        let value = self.unit.from_si(self.value);
        format!("{} {}", rounded(value), self.unit.name())
    }
}

/// Reads a value of a kind. A pressure keeps what the text said about gauge and absolute; see
/// [`Quantity::pressure`].
pub fn parse(text: &str, kind: Kind) -> Result<Quantity, QuantityError> {
    let text = text.trim();
    let (number_text, unit_text) = split(text);
    refuse_comma(text, number_text, unit_text)?;
    let value = finite(text, number_text, kind)?;
    let plain = kind.dimensions() == [Dimension::Plain];
    if unit_text.is_empty() && !plain {
        return Err(QuantityError::NoUnit {
            number: number_text.to_owned(),
            wanted: kind.name(),
            units: kind.usual_units(),
        });
    }
    let (unit, reading) = if unit_text.is_empty() {
        unit_named("-").ok_or_else(|| unknown(unit_text, kind))?
    } else {
        unit_named(unit_text).ok_or_else(|| unknown(unit_text, kind))?
    };
    right_kind(text, value, unit, kind)?;
    let value = match kind {
        Kind::TemperatureDifference => unit.difference_to_si(value),
        _ => unit.to_si(value),
    };
    // A value at the edge of what fits can pass it by its unit.
    if !value.is_finite() {
        return Err(not_finite(text));
    }
    if kind == Kind::Temperature && value < 0.0 {
        return Err(QuantityError::BelowZeroKelvin {
            text: text.to_owned(),
        });
    }
    Ok(Quantity {
        value,
        reading,
        unit,
    })
}

/// Reads a plain finite number: no unit, a decimal point, no thousands' separator.
pub fn number(text: &str) -> Result<f64, QuantityError> {
    parse(text, Kind::Number).map(|quantity| quantity.value)
}

/// Reads a share: "0.85" or "85 %".
pub fn share(text: &str) -> Result<f64, QuantityError> {
    parse(text, Kind::Share).map(|quantity| quantity.value)
}

fn right_kind(
    text: &str,
    value: f64,
    unit: &'static Unit,
    kind: Kind,
) -> Result<(), QuantityError> {
    if kind.dimensions().contains(&unit.dimension) {
        return Ok(());
    }
    if unit.dimension == Dimension::VolumeFlow && kind == Kind::MassFlow {
        let standard = unit.to_si(value) * STANDARD_FLOW_DENSITY;
        return Err(QuantityError::VolumeFlow {
            text: text.to_owned(),
            standard,
            pounds: standard / 0.453_592_37 * 60.0,
        });
    }
    Err(QuantityError::OtherKind {
        unit: unit.name(),
        found: unit.dimension.name(),
        wanted: kind.name(),
        units: kind.usual_units(),
    })
}

/// The number at the start, and what follows it. Underscores between digits belong to the number,
/// as in TOML; so does a comma, to be refused with the right words.
pub(super) fn split(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let mut end = sign_length(text);
    while end < bytes.len()
        && (bytes[end].is_ascii_digit() || matches!(bytes[end], b'.' | b',' | b'_'))
    {
        end += 1;
    }
    // An exponent, but not the e of a unit: at least one digit has to follow.
    if end < bytes.len() && matches!(bytes[end], b'e' | b'E') {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let digits = bytes[end + 1 + sign..]
            .iter()
            .take_while(|byte| byte.is_ascii_digit())
            .count();
        if digits > 0 {
            end += 1 + sign + digits;
        }
    }
    (&text[..end], text[end..].trim())
}

fn sign_length(text: &str) -> usize {
    match text.chars().next() {
        Some(sign @ ('+' | '-' | '−' | '–')) => sign.len_utf8(),
        _ => 0,
    }
}

fn refuse_comma(text: &str, number: &str, unit: &str) -> Result<(), QuantityError> {
    if !number.contains(',') {
        return Ok(());
    }
    let with = |number: String| format!("{number} {unit}").trim().to_owned();
    Err(QuantityError::Comma {
        text: text.to_owned(),
        point: with(number.replacen(',', ".", 1)),
        plain: with(number.replace(',', "")),
    })
}

fn finite(text: &str, number: &str, kind: Kind) -> Result<f64, QuantityError> {
    let cleaned = number.replace('_', "").replace(['−', '–'], "-");
    if let Ok(value) = cleaned.parse::<f64>() {
        if value.is_finite() {
            return Ok(value);
        }
        return Err(not_finite(text));
    }
    let word = text.trim_start_matches(['+', '-']).to_lowercase();
    if word.starts_with("nan")
        || word == "inf"
        || word.starts_with("inf ")
        || word.starts_with("infinity")
    {
        return Err(not_finite(text));
    }
    let example = match kind.usual_units() {
        [] => "1.5".to_owned(),
        [unit, ..] => format!("38 {unit}"),
    };
    Err(QuantityError::NoNumber {
        text: text.to_owned(),
        wanted: kind.name(),
        example,
    })
}

fn not_finite(text: &str) -> QuantityError {
    QuantityError::NotFinite {
        text: text.to_owned(),
    }
}

fn unknown(unit: &str, kind: Kind) -> QuantityError {
    QuantityError::UnknownUnit {
        unit: unit.to_owned(),
        nearest: nearest_unit(unit, kind.dimensions()),
        wanted: kind.name(),
        units: kind.usual_units(),
    }
}

/// A value as a person would write it: up to six digits, no trailing zeros.
fn rounded(value: f64) -> String {
    let digits = format!("{value:.5e}").parse::<f64>().unwrap_or(value);
    format!("{digits}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::units_of;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn said(text: &str, kind: Kind) -> String {
        parse(text, kind).unwrap_err().to_string()
    }

    #[test]
    fn a_value_is_read_with_and_without_a_space() {
        for text in [
            "38 psi",
            "38psi",
            " 38  psi ",
            "3.8e1 psi",
            "+38.0PSI",
            "38 lbf/in²",
        ] {
            let value = parse(text, Kind::PressureDifference).unwrap().value;
            assert_relative_eq!(value, 262000.7771404, max_relative = 1e-12);
        }
        assert_relative_eq!(
            parse("140_000 rpm", Kind::RotationalSpeed).unwrap().value,
            140000.0
        );
        assert_relative_eq!(parse("−10 °C", Kind::Temperature).unwrap().value, 263.15);
        assert_relative_eq!(parse("2 ch", Kind::Power).unwrap().value, 1470.9975);
    }

    #[test]
    fn every_unit_is_read_with_every_spelling_and_back() {
        for kind in Kind::ALL {
            for unit in kind.dimensions().iter().flat_map(|d| units_of(*d)) {
                for spelling in unit.spellings {
                    for gap in ["", " "] {
                        // A spelling that begins with a digit ("1/min") needs its space.
                        if gap.is_empty() && spelling.starts_with(|c: char| c.is_ascii_digit()) {
                            continue;
                        }
                        let text = format!("37.5{gap}{spelling}");
                        let value = parse(&text, kind)
                            .unwrap_or_else(|e| panic!("{text}: {e}"))
                            .value;
                        let back = if kind == Kind::TemperatureDifference {
                            unit.difference_from_si(value)
                        } else {
                            unit.from_si(value)
                        };
                        assert_relative_eq!(back, 37.5, max_relative = 1e-14);
                    }
                }
            }
        }
    }

    #[test]
    fn a_number_without_unit_is_told_how_to_be_written() {
        assert_eq!(
            said("4.2", Kind::Volume),
            "4.2 has no unit; a volume is wanted, write for example \"4.2 L\" (or cc, in3)"
        );
    }

    #[test]
    fn what_is_not_finite_is_refused() {
        for text in [
            "nan kPa",
            "NaN",
            "inf kPa",
            "-inf kPa",
            "1e999 kPa",
            "1e308 MPa",
            "infinity",
        ] {
            assert!(
                said(text, Kind::AbsolutePressure).contains("is not a finite number"),
                "{text}"
            );
        }
    }

    #[test]
    fn a_unit_of_another_kind_is_named_with_the_right_ones() {
        assert_eq!(
            said("4.2 kg", Kind::Volume),
            "kg measures a mass, but a volume is wanted, in L, cc or in3"
        );
    }

    #[test]
    fn a_misspelt_unit_gets_the_nearest_right_one() {
        assert_eq!(
            said("38 kpsi", Kind::BoostPressure),
            "unit \"kpsi\" is not known, did you mean psi?; a pressure above the site's is wanted, in kPa, bar, psi or inHg"
        );
        assert!(said("38 mPa", Kind::AbsolutePressure).contains("did you mean MPa?"));
    }

    #[test]
    fn a_volume_flow_for_a_mass_flow_is_refused_with_both_readings() {
        let text = said("410 cfm", Kind::MassFlow);
        assert!(text.contains("0.2366 kg/s"), "{text}");
        assert!(
            text.contains("\"standard\" air") && text.contains("as measured"),
            "{text}"
        );
        assert_relative_eq!(
            parse("410 ft3/min", Kind::VolumeFlow).unwrap().value,
            0.19350,
            max_relative = 1e-4
        );
    }

    #[test]
    fn a_comma_in_a_number_is_asked_about() {
        assert_eq!(
            said("1,600 m", Kind::Length),
            "\"1,600 m\" has a comma in its number: write \"1.600 m\" if it is a decimal, \"1600 m\" if it groups thousands"
        );
    }

    #[test]
    fn a_temperature_below_absolute_zero_is_refused_and_zero_degrees_is_a_temperature() {
        assert!(said("-300 degC", Kind::Temperature).contains("below absolute zero"));
        assert!(said("-1 K", Kind::Temperature).contains("below absolute zero"));
        assert_relative_eq!(parse("0 degC", Kind::Temperature).unwrap().value, 273.15);
        assert_relative_eq!(
            parse("77 degF", Kind::Temperature).unwrap().value,
            298.15,
            max_relative = 1e-15
        );
    }

    #[test]
    fn a_temperature_difference_carries_no_32() {
        assert_relative_eq!(
            parse("198 degF", Kind::TemperatureDifference)
                .unwrap()
                .value,
            110.0
        );
        assert_relative_eq!(
            parse("-15 degC", Kind::TemperatureDifference)
                .unwrap()
                .value,
            -15.0
        );
    }

    #[test]
    fn gauge_and_absolute_are_converted_with_the_site_and_refused_for_a_difference() {
        let site = Some(84_000.0);
        let gauge = parse("181 kPag", Kind::AbsolutePressure).unwrap();
        assert_relative_eq!(
            gauge.pressure(Kind::AbsolutePressure, site).unwrap(),
            265_000.0
        );
        let absolute = parse("265 kPa absolute", Kind::BoostPressure).unwrap();
        assert_relative_eq!(
            absolute.pressure(Kind::BoostPressure, site).unwrap(),
            181_000.0
        );
        let plain = parse("181 kPa", Kind::BoostPressure).unwrap();
        assert_relative_eq!(
            plain.pressure(Kind::BoostPressure, site).unwrap(),
            181_000.0
        );
        assert_eq!(
            parse("1.5 psig", Kind::PressureDifference)
                .unwrap()
                .pressure(Kind::PressureDifference, site)
                .unwrap_err()
                .to_string(),
            "gauge is said, but this is a difference of two pressures: write it without, for example \"1.5 psi\""
        );
        assert!(
            parse("3 psid", Kind::BoostPressure)
                .unwrap()
                .pressure(Kind::BoostPressure, site)
                .is_err()
        );
        assert_eq!(
            gauge.pressure(Kind::AbsolutePressure, None),
            Err(QuantityError::GaugeOfSite)
        );
    }

    #[test]
    fn shares_are_numbers_or_per_cent() {
        assert_relative_eq!(share("85 %").unwrap(), 0.85);
        assert_relative_eq!(share("85%").unwrap(), 0.85);
        assert_relative_eq!(share("0.85").unwrap(), 0.85);
        assert!(share("85 kPa").is_err());
        assert!(number("").is_err() && number("1.2.3").is_err() && number("0x10").is_err());
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "\\PC{0,24}") {
            for kind in Kind::ALL {
                if let Ok(quantity) = parse(&text, kind) {
                    prop_assert!(quantity.value.is_finite());
                }
            }
        }

        #[test]
        fn near_misses_of_units_never_panic(text in "-?[0-9.,_e+]{0,8} ?[a-zA-Z/%°²³·()]{0,8}") {
            for kind in Kind::ALL {
                if let Err(fault) = parse(&text, kind) {
                    prop_assert!(!fault.to_string().is_empty());
                }
            }
        }
    }
}
