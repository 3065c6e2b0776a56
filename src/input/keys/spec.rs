//! What a key's number is: a kind of quantity and the range that the equations bear.

use crate::quantity::{
    Amount, Digits, Dimension, Example, Kind, Quantity, QuantityError, UnitChoice, UnitSystem,
    Words, exact_amount, parse, shared_unit, split_spread, spread, unit_named, words,
};

use crate::input::document::{Node, Value};

/// A kind of quantity, the range in which it makes sense (SI; rpm for speeds), and how to write it.
#[derive(Debug, Clone, Copy)]
pub(in crate::input) struct Spec {
    kind: Kind,
    low: Bound,
    high: Bound,
    whole: bool,
    bare: bool,
    example: Example,
}

/// A value read, with what may be off about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Measured {
    /// SI (rpm for rotational speed).
    pub value: f64,
    /// One standard uncertainty, in the same unit.
    pub uncertainty: Option<f64>,
}

impl Measured {
    /// The same in another measure, of which one is so many of this.
    pub(in crate::input) fn scaled(self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            uncertainty: self.uncertainty.map(|uncertainty| uncertainty * factor),
        }
    }
}

/// One end of a range.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Bound {
    Open,
    Included(f64),
    Excluded(f64),
}

/// A millimetre, m.
pub(super) const MM: f64 = 1e-3;
/// A litre, m³.
pub(super) const LITRE: f64 = 1e-3;
/// A kilopascal, Pa.
pub(super) const KPA: f64 = 1e3;
/// A bar, Pa.
pub(super) const BAR: f64 = 1e5;
/// 0 °C, K.
pub(super) const ZERO_CELSIUS: f64 = 273.15;

/// An engine speed: a plain number in rpm, or text with its unit.
pub(in crate::input) const ENGINE_SPEED: Spec = engine_speed();

/// Any value of a kind. `example` is a whole value as it would be written.
pub(in crate::input) const fn of(kind: Kind, example: &'static str) -> Spec {
    Spec {
        kind,
        low: Bound::Open,
        high: Bound::Open,
        whole: false,
        bare: matches!(kind, Kind::Number | Kind::Share),
        example: Example {
            kind,
            text: example,
        },
    }
}

/// A plain number.
pub(super) const fn number(example: &'static str) -> Spec {
    of(Kind::Number, example)
}

/// A share or efficiency above 0 and up to 1: a number or text in per cent.
pub(super) const fn efficiency(example: &'static str) -> Spec {
    of(Kind::Share, example).above(0.0).at_most(1.0)
}

/// A share from 0 to 1: a number or text in per cent.
pub(super) const fn share(example: &'static str) -> Spec {
    of(Kind::Share, example).at_least(0.0).at_most(1.0)
}

/// An engine speed: a plain number in rpm, or text with its unit.
pub(super) const fn engine_speed() -> Spec {
    let mut spec = of(Kind::RotationalSpeed, "2400")
        .above(0.0)
        .at_most(30_000.0);
    spec.bare = true;
    spec
}

impl Spec {
    pub(in crate::input) const fn above(mut self, low: f64) -> Self {
        self.low = Bound::Excluded(low);
        self
    }

    pub(in crate::input) const fn at_least(mut self, low: f64) -> Self {
        self.low = Bound::Included(low);
        self
    }

    pub(in crate::input) const fn at_most(mut self, high: f64) -> Self {
        self.high = Bound::Included(high);
        self
    }

    pub(in crate::input) const fn below(mut self, high: f64) -> Self {
        self.high = Bound::Excluded(high);
        self
    }

    pub(in crate::input) const fn whole(mut self) -> Self {
        self.whole = true;
        self
    }

    /// What is missing where the key is not there.
    pub(in crate::input) fn missing(&self, key: &str) -> Words {
        let wanted = self.kind.name();
        words![
            format!("is missing; expected {wanted}, e.g. {key} = "),
            self.example,
        ]
    }

    /// How to write a value.
    pub(in crate::input) const fn example(&self) -> Example {
        self.example
    }

    /// Its low and its high end, SI, each with whether it is in the range; none where it is open.
    pub(super) fn ends(&self) -> [Option<(f64, bool)>; 2] {
        [self.low, self.high].map(|bound| match bound {
            Bound::Open => None,
            Bound::Included(at) => Some((at, true)),
            Bound::Excluded(at) => Some((at, false)),
        })
    }

    /// Whether a plain number is taken.
    pub(super) const fn takes_bare(&self) -> bool {
        self.bare
    }

    /// Whether only whole numbers are taken.
    pub(super) const fn is_count(&self) -> bool {
        self.whole
    }

    /// A value in SI in the unit of the example, in the reader's units.
    pub(super) fn in_example_unit(&self, si: f64, system: UnitSystem) -> String {
        match self.example.unit() {
            Some(unit) => exact_amount(si, self.kind, unit.name()).in_units(system),
            None => format!("{si}"),
        }
    }

    /// What it measures.
    pub(in crate::input) const fn kind(&self) -> Kind {
        self.kind
    }

    /// Whether it is a count or a speed of the line: chosen, not measured.
    pub(in crate::input) const fn is_exact(&self) -> bool {
        self.whole || (self.bare && matches!(self.kind, Kind::RotationalSpeed))
    }

    /// The value of a node in SI with its uncertainty, or what is wrong with it. `site` is the site's
    /// absolute pressure in Pa, where known, for what is said as gauge or absolute.
    pub(in crate::input) fn read(&self, node: &Node, site: Option<f64>) -> Result<Measured, Words> {
        self.read_with_dimension(node, site)
            .map(|(measured, _)| measured)
    }

    /// The same of a value that takes no uncertainty, because it stands in a row with others.
    pub(in crate::input) fn read_exact(
        &self,
        node: &Node,
        site: Option<f64>,
    ) -> Result<f64, Words> {
        let measured = self.read(node, site)?;
        match measured.uncertainty {
            None => Ok(measured.value),
            Some(_) => Err("takes no +-: the rows were measured together".into()),
        }
    }

    /// The same, with the dimension of the unit that was used.
    pub(in crate::input) fn read_with_dimension(
        &self,
        node: &Node,
        site: Option<f64>,
    ) -> Result<(Measured, Dimension), Words> {
        let mut apart = None;
        let quantity = match &node.value {
            Value::Number(text, value) => self.bare_number(text, *value)?,
            Value::Text(text) => match split_spread(text) {
                None => self.text(text)?,
                Some((value, behind)) => {
                    apart = Some(behind);
                    self.text_before(value, behind)?
                }
            },
            other => {
                return Err(words![
                    format!("is {}; expected {}, e.g. ", other.name(), self.kind.name()),
                    self.example,
                ]);
            }
        };
        let value = quantity.pressure(self.kind, site)?;
        self.check(value, &quantity)?;
        let uncertainty = match apart {
            None => None,
            Some(behind) => Some(self.uncertainty(behind, value, &quantity)?),
        };
        let measured = Measured { value, uncertainty };
        Ok((measured, quantity.unit.dimension))
    }

    /// The value ahead of "+-": it may have its unit behind the uncertainty.
    fn text_before(&self, value: &str, behind: &str) -> Result<Quantity, Words> {
        match shared_unit(value, behind) {
            Some(unit) => self.text(&format!("{value} {unit}")),
            None => self.text(value),
        }
    }

    /// One standard uncertainty; the value has to make sense that far to both sides.
    fn uncertainty(&self, behind: &str, value: f64, written: &Quantity) -> Result<f64, Words> {
        if self.is_exact() {
            let what = if self.whole { "a count" } else { "a speed" };
            return Err(format!("takes no +-: {what} is chosen, not measured").into());
        }
        let uncertainty = spread(behind, written, self.kind)?;
        for (side, at) in [
            ("above", value + uncertainty),
            ("below", value - uncertainty),
        ] {
            if !self.permits(at) {
                return Err(words![
                    format!(
                        "+- {behind} does not fit: one standard uncertainty {side} the value is "
                    ),
                    self.show(at, written, Digits::AsWritten),
                    "; it must be ",
                    self.range(written),
                ]);
            }
        }
        Ok(uncertainty)
    }

    /// Whether a value lies in the range.
    pub(in crate::input) fn permits(&self, value: f64) -> bool {
        let low = match self.low {
            Bound::Open => true,
            Bound::Included(low) => value >= low,
            Bound::Excluded(low) => value > low,
        };
        let high = match self.high {
            Bound::Open => true,
            Bound::Included(high) => value <= high,
            Bound::Excluded(high) => value < high,
        };
        low && high && value.is_finite()
    }

    /// A value moved from one that the range permits, held at the range's end; at a thousandth of
    /// the way from an end that is not in it.
    pub(in crate::input) fn held(&self, from: f64, to: f64) -> f64 {
        let end = |bound: Bound| match bound {
            Bound::Open => None,
            Bound::Included(end) => Some(end),
            Bound::Excluded(end) => Some(end + 1e-3 * (from - end)),
        };
        let to = end(self.low).map_or(to, |low| to.max(low));
        end(self.high).map_or(to, |high| to.min(high))
    }

    fn bare_number(&self, text: &str, value: f64) -> Result<Quantity, Words> {
        if !value.is_finite() {
            let text = text.to_owned();
            return Err(QuantityError::NotFinite { text }.into());
        }
        let unit = match self.kind {
            _ if !self.bare => None,
            Kind::RotationalSpeed => unit_named("rpm"),
            _ => unit_named("-"),
        };
        let (unit, reading) = unit.ok_or_else(|| self.no_unit(text))?;
        Ok(Quantity {
            value,
            reading,
            unit,
        })
    }

    fn text(&self, text: &str) -> Result<Quantity, Words> {
        match parse(text, self.kind) {
            Err(QuantityError::NoUnit { number, .. }) if self.bare => {
                Ok(parse(&format!("{number} rpm"), self.kind)?)
            }
            Err(QuantityError::NoUnit { number, .. }) => Err(self.no_unit(&number)),
            other => Ok(other?),
        }
    }

    /// A bare number, with how to write it in the unit that fits the key.
    fn no_unit(&self, text: &str) -> Words {
        let number = text.replace('_', "");
        let (wanted, fitting) = (self.kind.name(), self.example.unit());
        words![
            format!("{number} has no unit; expected {wanted}, e.g. \"{number} "),
            UnitChoice::First(self.kind, fitting),
            "\"",
            UnitChoice::Others(self.kind, fitting),
        ]
    }

    fn check(&self, value: f64, written: &Quantity) -> Result<(), Words> {
        if self.whole && value.fract() != 0.0 {
            return Err(format!("{value} is not a whole number").into());
        }
        if self.permits(value) {
            return Ok(());
        }
        Err(self.out_of_range(value, written))
    }

    fn out_of_range(&self, value: f64, written: &Quantity) -> Words {
        words![
            self.show(value, written, Digits::AsWritten),
            " is out of range: it must be ",
            self.range(written),
            self.hint(value),
        ]
    }

    /// The range in words.
    fn range(&self, written: &Quantity) -> Words {
        let low = |si: f64| self.show(si, written, Digits::LowEnd);
        let high = |si: f64| self.show(si, written, Digits::HighEnd);
        match (self.low, self.high) {
            (Bound::Included(from), Bound::Included(to)) => {
                words!["between ", low(from), " and ", high(to)]
            }
            (Bound::Excluded(from), Bound::Included(to)) => {
                words!["above ", low(from), " and at most ", high(to)]
            }
            (Bound::Included(from), Bound::Excluded(to)) => {
                words!["at least ", low(from), " and below ", high(to)]
            }
            (Bound::Excluded(from), Bound::Excluded(to)) => {
                words!["above ", low(from), " and below ", high(to)]
            }
            (Bound::Included(from), Bound::Open) => words!["at least ", low(from)],
            (Bound::Excluded(from), Bound::Open) => words!["above ", low(from)],
            (_, Bound::Included(to)) => words!["at most ", high(to)],
            (_, Bound::Excluded(to)) => words!["below ", high(to)],
            (Bound::Open, Bound::Open) => "a finite number".into(),
        }
    }

    /// A share written in per cent without saying so is asked about, never assumed.
    fn hint(&self, value: f64) -> String {
        let per_cent = value / 100.0;
        let high = match self.high {
            Bound::Included(high) | Bound::Excluded(high) => high,
            Bound::Open => return String::new(),
        };
        // Just above 1 it is a slip of the digits, hardly a share of one or two per cent.
        if self.kind == Kind::Share && value > high && per_cent > 0.03 && per_cent <= high {
            return format!("; did you mean {per_cent} (or \"{value} %\")?");
        }
        String::new()
    }

    /// In the unit of what was written, unless the reader has other units.
    const fn show(&self, si: f64, written: &Quantity, digits: Digits) -> Amount {
        Amount {
            si,
            kind: self.kind,
            unit: written.unit,
            digits,
        }
    }
}
