//! Text with values in it: the values stay values until a reader's units are known.
//!
//! Whoever says something about a build writes [`words!`](macro@crate::quantity::words) with [`Amount`]s,
//! [`Example`]s and [`UnitChoice`]s between the words; whoever prints it says in which units.

use std::fmt;

use serde::{Serialize, Serializer};

use super::kind::Kind;
use super::number_and_unit::split;
use super::show::{UnitSystem, in_reader_units, usual_units};
use super::spelling::unit_named;
use super::unit::Unit;

/// Text with values in it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Words {
    pieces: Vec<Piece>,
}

#[derive(Debug, Clone, PartialEq)]
enum Piece {
    Text(String),
    Amount(Amount),
    Example(Example),
    Units(UnitChoice),
}

/// A value in SI (rpm for rotational speed), and how the writer of the text would show it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// SI (rpm for rotational speed).
    pub si: f64,
    /// What it measures.
    pub kind: Kind,
    /// The unit for a reader who did not ask for another.
    pub unit: &'static Unit,
    /// How many of its digits are shown.
    pub digits: Digits,
}

/// How many digits of a value are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Digits {
    /// As the reader wrote it; where it must be converted, what it comes to stands behind it.
    AsWritten,
    /// All that it has; four where it must be converted.
    All,
    /// So many decimals; four digits where it must be converted.
    Decimals(usize),
    /// As a lower end of what is permitted: rounded up, so that the figure shown is permitted.
    LowEnd,
    /// As an upper end of what is permitted: rounded down.
    HighEnd,
}

/// A value as a build would hold it, in the metric units in which the code gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Example {
    /// What it measures.
    pub kind: Kind,
    /// As written, with its quotes: `"4.5 L"`.
    pub text: &'static str,
}

/// The units in which a kind can be written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UnitChoice {
    /// `kPa, bar or psi`.
    All(Kind),
    /// The first of them, or the one that fits an example better.
    First(Kind, Option<&'static Unit>),
    /// ` (or bar, psi)`: all but that first one; nothing where there is none.
    Others(Kind, Option<&'static Unit>),
}

impl Words {
    /// With something behind it.
    #[must_use]
    pub fn and(mut self, more: impl Into<Self>) -> Self {
        self.pieces.extend(more.into().pieces);
        self
    }

    /// Without an ending, where it has it.
    #[must_use]
    pub fn without_ending(mut self, ending: &str) -> Self {
        if let Some(Piece::Text(last)) = self.pieces.last_mut()
            && let Some(kept) = last.strip_suffix(ending)
        {
            *last = kept.to_owned();
        }
        self
    }

    /// In the reader's units.
    pub fn in_units(&self, system: UnitSystem) -> String {
        let words = self.pieces.iter().map(|piece| match piece {
            Piece::Text(text) => text.clone(),
            Piece::Amount(amount) => amount.in_units(system),
            Piece::Example(example) => example.in_units(system),
            Piece::Units(choice) => choice.in_units(system),
        });
        words.collect()
    }
}

/// In metric units.
impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_units(UnitSystem::Si))
    }
}

/// In metric units, as JSON and CSV are.
impl Serialize for Words {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

impl From<String> for Words {
    fn from(text: String) -> Self {
        Self {
            pieces: vec![Piece::Text(text)],
        }
    }
}

impl From<&String> for Words {
    fn from(text: &String) -> Self {
        text.clone().into()
    }
}

impl From<Amount> for Words {
    fn from(amount: Amount) -> Self {
        Self {
            pieces: vec![Piece::Amount(amount)],
        }
    }
}

impl From<Example> for Words {
    fn from(example: Example) -> Self {
        Self {
            pieces: vec![Piece::Example(example)],
        }
    }
}

impl From<UnitChoice> for Words {
    fn from(choice: UnitChoice) -> Self {
        Self {
            pieces: vec![Piece::Units(choice)],
        }
    }
}

/// Words and values, one behind the other.
macro_rules! words {
    ($($piece:expr),+ $(,)?) => {
        $crate::quantity::Words::default()$(.and($piece))+
    };
}
pub(crate) use words;

/// A value with so many decimals in a unit of the table; a reader of US units gets it in those.
pub fn amount(si: f64, kind: Kind, unit: &str, decimals: usize) -> Words {
    match unit_named(unit) {
        Some((unit, _)) => Words::from(Amount {
            si,
            kind,
            unit,
            digits: Digits::Decimals(decimals),
        }),
        None => Words::from(format!("{si:.decimals$}")),
    }
}

/// The same with as many decimals as it has.
pub fn exact_amount(si: f64, kind: Kind, unit: &str) -> Words {
    match unit_named(unit) {
        Some((unit, _)) => Words::from(Amount {
            si,
            kind,
            unit,
            digits: Digits::All,
        }),
        None => Words::from(format!("{si}")),
    }
}

/// A value as a build would hold it: `"4.5 L"` with its quotes.
pub const fn example(kind: Kind, text: &'static str) -> Example {
    Example { kind, text }
}

impl Amount {
    /// With its unit, in the reader's units.
    pub fn in_units(&self, system: UnitSystem) -> String {
        let unit = in_reader_units(self.unit, system);
        let value = match self.kind {
            Kind::TemperatureDifference => unit.difference_from_si(self.si),
            _ => unit.from_si(self.si),
        };
        let number = match self.digits {
            Digits::Decimals(decimals) if unit == self.unit => format!("{value:.decimals$}"),
            Digits::AsWritten | Digits::All if unit == self.unit => {
                format!("{}", significant(value, 10))
            }
            Digits::AsWritten => {
                let own = self.in_units(UnitSystem::Si);
                let as_all = Self {
                    digits: Digits::All,
                    ..*self
                };
                return format!("{own} ({})", as_all.in_units(system));
            }
            Digits::All | Digits::Decimals(_) => format!("{}", significant(value, 4)),
            Digits::LowEnd => format!("{}", inward(value, f64::ceil)),
            Digits::HighEnd => format!("{}", inward(value, f64::floor)),
        };
        match unit.name() {
            "-" => number,
            name => format!("{number} {name}"),
        }
    }
}

/// Rounded to so many digits: ten hide the rounding of a unit's factor.
fn significant(value: f64, digits: usize) -> f64 {
    let rounded = format!("{value:.*e}", digits - 1).parse();
    rounded.unwrap_or(value)
}

/// A round figure as it is, any other to four digits towards the permitted side.
fn inward(value: f64, round: fn(f64) -> f64) -> f64 {
    let plain = significant(value, 10);
    let nearest = significant(plain, 4);
    let is_round = (nearest - significant(plain, 7)).abs() <= 0.0;
    if is_round || nearest.abs() <= 0.0 {
        return nearest;
    }
    let step = 10_f64.powf(nearest.abs().log10().floor() - 3.0);
    significant(round(plain / step) * step, 4)
}

impl Example {
    /// With its quotes, in the reader's units.
    pub fn in_units(&self, system: UnitSystem) -> String {
        let converted = || {
            let written = self.text.strip_prefix('"')?.strip_suffix('"')?;
            let is_difference = self.kind == Kind::TemperatureDifference;
            converted(written, is_difference, system)
        };
        match converted() {
            Some(text) => format!("\"{text}\""),
            None => self.text.to_owned(),
        }
    }

    /// The unit in which it is given, where it has one.
    pub fn unit(&self) -> Option<&'static Unit> {
        let (_, unit) = self.text.trim_matches('"').split_once(' ')?;
        Some(unit_named(unit)?.0)
    }
}

/// A value as written, no difference of temperatures, in the reader's units, to three digits; `None`
/// where it is in them already or no value with a unit.
pub fn rewritten(text: &str, system: UnitSystem) -> Option<String> {
    converted(text, false, system)
}

fn converted(text: &str, is_difference: bool, system: UnitSystem) -> Option<String> {
    let (number, unit) = split(text);
    let number: f64 = number.parse().ok()?;
    let (own, _) = unit_named(unit).filter(|_| !unit.is_empty())?;
    let other = in_reader_units(own, system);
    if other == own {
        return None;
    }
    let value = if is_difference {
        other.difference_from_si(own.difference_to_si(number))
    } else {
        other.from_si(own.to_si(number))
    };
    Some(format!("{} {}", significant(value, 3), other.name()))
}

impl UnitChoice {
    fn in_units(self, system: UnitSystem) -> String {
        let first = |kind, fitting: Option<&'static Unit>| {
            let fitting = fitting.map(|unit| in_reader_units(unit, system).name());
            fitting.or(usual_units(kind, system).first().copied())
        };
        match self {
            Self::All(kind) => listed(&usual_units(kind, system)),
            Self::First(kind, fitting) => first(kind, fitting).unwrap_or_default().to_owned(),
            Self::Others(kind, fitting) => {
                let first = first(kind, fitting);
                let mut others = usual_units(kind, system);
                others.retain(|unit| Some(*unit) != first);
                if others.is_empty() {
                    return String::new();
                }
                format!(" (or {})", others.join(", "))
            }
        }
    }
}

fn listed(units: &[&str]) -> String {
    match units {
        [] => "no unit".to_owned(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn both(words: &Words) -> [String; 2] {
        [UnitSystem::Si, UnitSystem::Us].map(|system| words.in_units(system))
    }

    fn of(si: f64, kind: Kind, unit: &str, digits: Digits) -> [String; 2] {
        let unit = unit_named(unit).unwrap().0;
        both(&Words::from(Amount {
            si,
            kind,
            unit,
            digits,
        }))
    }

    #[test]
    fn a_value_is_shown_in_the_units_of_its_reader() {
        let words = words![
            "rated at ",
            amount(101_325.0, Kind::AbsolutePressure, "kPa", 3),
            " and ",
            amount(293.15, Kind::Temperature, "degC", 0),
        ];
        assert_eq!(
            both(&words),
            [
                "rated at 101.325 kPa and 20 degC",
                "rated at 14.7 psi and 68 degF"
            ]
        );
        let difference = of(5.0, Kind::TemperatureDifference, "K", Digits::All);
        assert_eq!(difference, ["5 K", "9 degF"]);
        let written = of(90_000.0, Kind::Length, "m", Digits::AsWritten);
        assert_eq!(written, ["90000 m", "90000 m (295300 ft)"]);
    }

    #[test]
    fn the_end_of_a_range_is_rounded_to_the_side_that_is_permitted() {
        // 1 L is 61.0237 in³, 5 m are 16.4042 ft.
        let low = of(1e-3, Kind::Volume, "L", Digits::LowEnd);
        assert_eq!(low, ["1 L", "61.03 in3"]);
        let high = of(5.0, Kind::Length, "m", Digits::HighEnd);
        assert_eq!(high, ["5 m", "16.4 ft"]);
        let below = of(-0.05, Kind::Length, "mm", Digits::LowEnd);
        assert_eq!(below, ["-50 mm", "-1.968 in"]);
        assert_eq!(of(0.0, Kind::Length, "m", Digits::LowEnd)[1], "0 ft");
    }

    #[test]
    fn an_example_is_written_as_the_reader_would_write_it() {
        let of = |kind, text| both(&Words::from(example(kind, text)));
        assert_eq!(of(Kind::Volume, "\"4.5 L\""), ["\"4.5 L\"", "\"275 in3\""]);
        assert_eq!(
            of(Kind::Length, "\"1600 m\""),
            ["\"1600 m\"", "\"5250 ft\""]
        );
        assert_eq!(of(Kind::RotationalSpeed, "2400"), ["2400", "2400"]);
        assert_eq!(of(Kind::Share, "0.72"), ["0.72", "0.72"]);
    }

    #[test]
    fn units_to_choose_from_begin_with_those_of_the_reader() {
        let all = both(&UnitChoice::All(Kind::AbsolutePressure).into());
        assert_eq!(all[0], "kPa, bar, psi or inHg");
        assert_eq!(all[1], "psi, inHg, kPa or bar");
        let fitting = unit_named("m").map(|(unit, _)| unit);
        let first = both(&UnitChoice::First(Kind::Length, fitting).into());
        assert_eq!(first, ["m", "ft"]);
    }
}
