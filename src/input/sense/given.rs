//! A number as it was written, and how to say another one in the same unit.

use super::super::document::{Node, Value};
use super::super::fault::Place;
use super::super::keys::spec::{ENGINE_SPEED, Spec};
use crate::quantity::{
    Dimension, Kind, PressureReading, Quantity, Unit, parse, shared_unit, split_spread, unit_named,
};

/// A number, or a table of them over engine speed, as it was written or taken by default: before any
/// study moved it.
#[derive(Debug, Clone)]
pub(in crate::input) struct Given {
    /// The dotted key, in the words of `--set`.
    pub key: String,
    /// What the key asks for.
    pub spec: Spec,
    /// Where and how it was written; removed where it is a default.
    pub node: Node,
    /// SI (rpm for speeds); one a row.
    pub values: Vec<f64>,
    /// Whether nobody wrote it.
    pub is_default: bool,
}

/// Numbers that read well; others are said in another unit.
const READABLE: std::ops::Range<f64> = 0.2..10_000.0;

impl Given {
    pub fn place(&self) -> &Place {
        &self.node.place
    }

    /// The largest of its values.
    pub fn largest(&self) -> f64 {
        self.values
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// The speed of a row in rpm; none where one value serves all speeds.
    pub fn speed(&self, row: usize) -> Option<f64> {
        let Value::List(rows) = &self.node.value else {
            return None;
        };
        let Value::List(pair) = &rows.get(row)?.value else {
            return None;
        };
        let speed = ENGINE_SPEED.at_least(0.0);
        Some(speed.read(pair.first()?, None).ok()?.value)
    }

    /// The value at a speed, or at every speed.
    pub fn at(&self, rpm: Option<f64>) -> Option<f64> {
        let rows: Option<Vec<(f64, f64)>> = (0..self.values.len())
            .map(|row| Some((self.speed(row)?, self.values[row])))
            .collect();
        match (rpm, rows) {
            (Some(rpm), Some(rows)) => {
                let schedule = crate::numeric::Schedule::new(rows).ok()?;
                Some(schedule.at(rpm))
            }
            _ => self.values.first().copied(),
        }
    }

    /// What was written for a row, without its uncertainty.
    fn quantity(&self, row: usize) -> Option<Quantity> {
        let node = match &self.node.value {
            Value::List(rows) => match &rows.get(row)?.value {
                Value::List(pair) => pair.last()?,
                _ => return None,
            },
            _ => &self.node,
        };
        match &node.value {
            Value::Text(text) => {
                let value = match split_spread(text) {
                    None => text.clone(),
                    Some((value, spread)) => match shared_unit(value, spread) {
                        Some(unit) => format!("{value} {unit}"),
                        None => value.to_owned(),
                    },
                };
                parse(&value, self.spec.kind()).ok()
            }
            Value::Number(_, value) => {
                let name = match self.spec.kind() {
                    Kind::RotationalSpeed => "rpm",
                    _ => "-",
                };
                let (unit, reading) = unit_named(name)?;
                Some(Quantity {
                    value: *value,
                    reading,
                    unit,
                })
            }
            _ => None,
        }
    }

    /// The value of a row in the unit that it was written in.
    pub fn written(&self, row: usize) -> String {
        match self.measure(row) {
            Some(measure) => {
                let unit = measure.written.unit;
                with_unit(measure.in_unit(measure.value, unit), unit)
            }
            None => self
                .values
                .get(row)
                .copied()
                .map_or_else(String::new, digits),
        }
    }

    /// A value in SI in the unit of a row, or in one in which it is readable.
    pub fn show(&self, row: usize, si: f64) -> String {
        let [_, shown] = self.show_both(row, si, si);
        shown
    }

    /// Both ends of a range in one unit: the row's, or one in which the high end is readable.
    pub fn show_both(&self, row: usize, low: f64, high: f64) -> [String; 2] {
        let Some(measure) = self.measure(row) else {
            return [digits(low), digits(high)];
        };
        let readable = |unit: &Unit| {
            let number = measure.in_unit(high, unit).abs();
            number <= 0.0 || READABLE.contains(&number)
        };
        let own = measure.written.unit;
        let unit = if readable(own) {
            own
        } else {
            let mut others: Vec<&Unit> = measure.units().collect();
            // A reader of inches wants inches.
            others.sort_by_key(|unit| is_us(unit) != is_us(own));
            others
                .into_iter()
                .find(|unit| readable(unit))
                .unwrap_or(own)
        };
        [low, high].map(|si| with_unit(measure.in_unit(si, unit), unit))
    }

    fn measure(&self, row: usize) -> Option<Measure> {
        Some(Measure {
            written: self.quantity(row)?,
            value: *self.values.get(row)?,
            kind: self.spec.kind(),
        })
    }

    /// Whether a row's pressure says neither gauge nor absolute.
    pub fn says_nothing_of_its_zero(&self, row: usize) -> bool {
        let quantity = self.quantity(row);
        quantity.is_some_and(|quantity| quantity.reading == PressureReading::Unsaid)
    }

    /// The same number in other units, as values in SI with the text that one would write: in units of
    /// the same kind, metric or of inches and pounds, and in those of the other.
    pub fn in_other_units(&self, row: usize) -> (Vec<Shown>, Vec<Shown>) {
        let Some(measure) = self.measure(row) else {
            return (Vec::new(), Vec::new());
        };
        let own = measure.written.unit;
        let number = measure.in_unit(measure.value, own);
        let with = |unit: &Unit| (measure.si_of(number, unit), with_unit(number, unit));
        let others = measure.units().filter(|unit| unit.name() != own.name());
        let (alike, foreign): (Vec<&Unit>, Vec<&Unit>) =
            others.partition(|unit| is_us(unit) == is_us(own));
        let all = |units: Vec<&Unit>| units.into_iter().map(with).collect();
        (all(alike), all(foreign))
    }
}

/// Whether a unit is one of inches and pounds.
fn is_us(unit: &Unit) -> bool {
    const WORDS: [&str; 11] = [
        "in", "inHg", "inH", "ft", "lb", "lbf", "psi", "hp", "mph", "degF", "Btu",
    ];
    let mut words = unit
        .name()
        .split(|letter: char| !letter.is_ascii_alphabetic());
    words.any(|word| WORDS.contains(&word))
}

/// A value in SI, and how it would be written.
type Shown = (f64, String);

/// What ties a value to the text it was written as: a volume of fuel weighs by its density, a gauge
/// pressure stands on the site's.
struct Measure {
    written: Quantity,
    value: f64,
    kind: Kind,
}

impl Measure {
    fn is_shifted(&self) -> bool {
        matches!(
            self.written.unit.dimension,
            Dimension::Pressure | Dimension::Temperature
        )
    }

    fn in_unit(&self, si: f64, unit: &Unit) -> f64 {
        if self.kind == Kind::TemperatureDifference {
            return unit.difference_from_si(si);
        }
        if self.is_shifted() {
            return unit.from_si(si - (self.value - self.written.value));
        }
        unit.from_si(si / self.scale())
    }

    fn si_of(&self, number: f64, unit: &Unit) -> f64 {
        if self.kind == Kind::TemperatureDifference {
            return unit.difference_to_si(number);
        }
        if self.is_shifted() {
            return unit.to_si(number) + (self.value - self.written.value);
        }
        unit.to_si(number) * self.scale()
    }

    fn scale(&self) -> f64 {
        let scale = self.value / self.written.value;
        if scale.is_finite() && scale > 0.0 {
            scale
        } else {
            1.0
        }
    }

    /// The usual units of the same dimension, the commonest first.
    fn units(&self) -> impl Iterator<Item = &'static Unit> {
        let dimension = self.written.unit.dimension;
        let named = self.kind.usual_units().iter();
        named
            .filter_map(|name| Some(unit_named(name)?.0))
            .filter(move |unit| unit.dimension == dimension)
    }
}

fn with_unit(number: f64, unit: &Unit) -> String {
    match unit.name() {
        "-" => digits(number),
        name => format!("{} {name}", digits(number)),
    }
}

/// Four digits at most, as one would write them.
pub(super) fn digits(number: f64) -> String {
    let rounded = format!("{number:.3e}").parse::<f64>().unwrap_or(number);
    let size = rounded.abs();
    if size > 0.0 && !(1e-4..1e7).contains(&size) {
        return format!("{rounded:e}");
    }
    format!("{rounded}")
}
