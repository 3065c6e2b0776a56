//! "38 psi", "4.5 L", "12 %": text into a value, or into what is wrong with it.

use std::borrow::Cow;

use super::fault::QuantityError;
use super::kind::Kind;
use super::number_and_unit::split;
use super::spelling::{nearest_unit, unit_named};
use super::unit::{Dimension, PressureReading, Unit};

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
                    wanted: kind,
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
    let text = &*half_width(text.trim());
    let (number_text, unit_text) = split(text);
    refuse_comma(text, number_text, unit_text)?;
    refuse_fraction(text)?;
    let value = finite(text, number_text, kind)?;
    let plain = kind.dimensions() == [Dimension::Plain];
    if unit_text.is_empty() && !plain {
        return Err(QuantityError::NoUnit {
            number: number_text.to_owned(),
            wanted: kind,
        });
    }
    let (unit, reading) = if unit_text.is_empty() {
        unit_named("-").ok_or_else(|| unknown(unit_text, kind))?
    } else {
        unit_named(unit_text)
            .or_else(|| standard_flow(unit_text, kind))
            .ok_or_else(|| unknown(unit_text, kind))?
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
        wanted: kind,
    })
}

/// A flow in "standard" cubic feet is a mass flow that nobody can tell without its standard: where
/// one is wanted, it is refused with the readings of any other volume flow.
fn standard_flow(unit: &str, kind: Kind) -> Option<(&'static Unit, PressureReading)> {
    let standard = matches!(
        unit.to_lowercase().as_str(),
        "scfm" | "sft3/min" | "std cfm"
    );
    if standard && kind == Kind::MassFlow {
        return unit_named("ft3/min");
    }
    None
}

/// Full-width letters and digits, as some keyboards write them, as plain ones.
fn half_width(text: &str) -> Cow<'_, str> {
    let full = |letter: char| ('\u{ff01}'..='\u{ff5e}').contains(&letter);
    if !text.contains(full) {
        return text.into();
    }
    let plain = |letter: char| {
        let code = u32::from(letter).wrapping_sub(0xfee0);
        char::from_u32(code)
            .filter(|_| full(letter))
            .unwrap_or(letter)
    };
    text.chars().map(plain).collect()
}

fn refuse_comma(text: &str, number: &str, unit: &str) -> Result<(), QuantityError> {
    if !number.contains(',') {
        return Ok(());
    }
    let with = |number: String| format!("{number} {unit}").trim().to_owned();
    let groups: Vec<&str> = number.split(',').collect();
    let behind_point = |text: &str| text.split('.').next().unwrap_or_default().len();
    // "1,600" can be both; "4,5" groups nothing, "1,234,567" and "1,234.5" are no decimals.
    let can_group = groups[1..].iter().all(|group| behind_point(group) == 3);
    let point = match (number.rfind(','), number.find('.')) {
        (Some(comma), Some(point)) if point < comma => {
            Some(number.replace('.', "").replace(',', "."))
        }
        (_, None) if groups.len() == 2 => Some(number.replace(',', ".")),
        _ => None,
    };
    Err(QuantityError::Comma {
        text: text.to_owned(),
        point: point.map(with),
        plain: can_group.then(|| with(number.replace(',', ""))),
    })
}

/// "2 1/2 in", "3/8 in": one division of whole numbers, behind a whole number or alone.
fn refuse_fraction(text: &str) -> Result<(), QuantityError> {
    let Some((before, after)) = text.split_once('/') else {
        return Ok(());
    };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let end = after
        .find(|letter: char| !letter.is_ascii_digit())
        .unwrap_or(after.len());
    let (whole, over) = before.rsplit_once([' ', '-']).unwrap_or(("0", before));
    let (under, unit) = (&after[..end], after[end..].trim());
    if !(digits(whole.trim()) && digits(over) && digits(under)) {
        return Ok(());
    }
    let read = |text: &str| text.trim().parse::<f64>().unwrap_or(f64::NAN);
    let value = read(whole) + read(over) / read(under);
    if !value.is_finite() {
        return Ok(());
    }
    Err(QuantityError::Fraction {
        text: text.to_owned(),
        decimal: format!("{} {unit}", rounded(value)).trim().to_owned(),
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
    Err(QuantityError::NoNumber {
        text: text.to_owned(),
        wanted: kind,
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
        wanted: kind,
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
            "4.2 has no unit; expected a volume, e.g. \"4.2 L\" (or cc, in3)"
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
            "kg measures a mass; expected a volume, in L, cc or in3"
        );
    }

    #[test]
    fn a_misspelt_unit_gets_the_nearest_right_one() {
        assert_eq!(
            said("38 kpsi", Kind::BoostPressure),
            "unit \"kpsi\" is not known (did you mean psi?); expected a pressure above the site's, in kPa, bar, psi or inHg"
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
    fn a_comma_that_can_mean_one_thing_only_is_answered_with_it() {
        for (text, right) in [
            ("4,5 L", "write \"4.5 L\""),
            ("1,234,567 mm3", "write \"1234567 mm3\""),
            ("1,234.5 cc", "write \"1234.5 cc\""),
            ("1.234,5 cc", "write \"1234.5 cc\""),
        ] {
            assert!(said(text, Kind::Volume).ends_with(right), "{text}");
        }
    }

    #[test]
    fn a_fraction_is_answered_with_its_decimal() {
        for (text, right) in [
            ("2 1/2 in", "\"2.5 in\""),
            ("2-1/2 in", "\"2.5 in\""),
            ("3/8\"", "\"0.375 \\\"\""),
        ] {
            assert!(
                said(text, Kind::Length).ends_with(right),
                "{}",
                said(text, Kind::Length)
            );
        }
        assert!(parse("2 1/min", Kind::RotationalSpeed).is_ok());
        assert!(parse("1 / 0 in", Kind::Length).is_err());
    }

    #[test]
    fn full_width_digits_and_blanks_of_other_widths_are_read() {
        for text in [
            "３８ psi",
            "38\u{3000}psi",
            "38\u{a0}psi",
            "３８ｐｓｉ",
            "38\u{200b} psi",
        ] {
            let value = parse(text, Kind::PressureDifference).map(|quantity| quantity.value);
            assert_relative_eq!(value.unwrap(), 262000.7771404, max_relative = 1e-12);
        }
    }

    #[test]
    fn standard_feet_are_refused_like_other_volume_flows_and_only_for_a_mass_flow() {
        assert!(said("410 scfm", Kind::MassFlow).contains("0.2366 kg/s"));
        assert!(said("410 scfm", Kind::VolumeFlow).contains("not known"));
    }

    #[test]
    fn a_fault_names_the_units_of_its_reader_first() {
        let fault = parse("4.2", Kind::Volume).unwrap_err().words();
        assert_eq!(
            fault.in_units(crate::quantity::UnitSystem::Us),
            "4.2 has no unit; expected a volume, e.g. \"4.2 in3\" (or L, cc)"
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
            "gauge does not fit a difference of two pressures: write it without, e.g. \"1.5 psi\""
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
