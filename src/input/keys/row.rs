//! A row of the key table, and how one is written down.

use super::spec::Spec;
use crate::input::sense::Scene;
use crate::quantity::{Kind, Words, exact_amount, words};

/// Source of a default that follows from what the key means.
pub const CONVENTION: &str = "what its absence means";
/// Source of a rule of thumb.
pub(in crate::input) const COMMON_PRACTICE: &str = "common practice";

/// One key of a build.
#[derive(Debug)]
pub(in crate::input) struct Key {
    /// Its name within its section.
    pub name: &'static str,
    /// How it is written.
    pub form: Form,
    /// One sentence about it.
    pub doc: &'static str,
    /// What holds where it is not written.
    pub without: Without,
    /// What its number may be besides, of water: a volume flow.
    pub of_water: Option<Spec>,
    /// A name that it had before; still read.
    pub once: Option<&'static str>,
    /// What is built.
    pub built: Built,
}

/// How a key is written.
#[derive(Debug, Clone, Copy)]
pub(in crate::input) enum Form {
    /// One value.
    Quantity(Spec),
    /// One value, or rows of engine speed and value.
    Table(Spec),
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Free text.
    Text,
    /// A map file.
    File,
    /// A section of its own.
    Section,
    /// Sections under `[[…]]` each.
    Sections,
    /// 1 or 0, or rows of engine speed and 1 or 0.
    Switch,
    /// Rows of volume flow and pressure rise.
    FanCurve,
}

/// What holds where a key is not written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) enum Without {
    /// It has to be there; what could stand in its place, or when.
    Needed(&'static str),
    /// Nothing follows from its absence.
    Open,
    /// What is taken or follows, in words.
    Holds(&'static str),
    /// A value in SI (rpm for speeds), its source, and what it means.
    Value {
        si: f64,
        source: &'static str,
        meaning: &'static str,
    },
}

/// From a low to a high end, both in it, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::input) struct Range {
    pub low: f64,
    pub high: f64,
}

/// What a key can be and usually is.
///
/// Usual ranges take in what is built, from a model engine of 2 cm³ to a ship's cylinder of 50 L
/// (common practice); what lies outside can still be right, so it is a remark.
#[derive(Debug)]
pub(in crate::input) struct Built {
    /// Outside it a fault.
    pub can: Range,
    /// Outside it a remark.
    pub usual: Range,
    /// The slip to ask about.
    pub slip: Slip,
    /// Ranges that hang on other keys.
    pub beside: &'static [Beside],
}

/// A slip to ask about where the value does not tell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum Slip {
    /// Another unit or a moved decimal point: the value itself tells.
    OfSize,
    /// A ratio that may stand upside down, with what is over what.
    Inverted(&'static str),
    /// Another meaning of the key, in words.
    Words(&'static str),
}

/// What a key can be and usually is beside others, and for what.
#[derive(Debug, Clone)]
pub(in crate::input) struct Bounds {
    pub can: Range,
    pub usual: Range,
    /// For what: "a cylinder of 1.125 L"; empty for any engine.
    pub of: String,
}

/// Bounds of a key beside others; none where they are not known.
pub(in crate::input) type Beside = fn(&Scene<'_>) -> Option<Bounds>;

/// The keys that stand under one heading.
#[derive(Debug)]
pub(in crate::input) struct Section {
    /// Its dotted path without numbers, a part by its word; empty for the file itself.
    pub path: &'static str,
    /// How it is opened in a file.
    pub heading: &'static str,
    /// One sentence about it.
    pub doc: &'static str,
    /// Its keys.
    pub keys: &'static [&'static Key],
}

impl Range {
    /// Everything.
    pub const ANY: Self = Self {
        low: f64::NEG_INFINITY,
        high: f64::INFINITY,
    };

    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Whether a value is in it, give or take the rounding of its unit.
    pub fn holds(self, value: f64) -> bool {
        const ROUNDING: f64 = 1e-9;
        let slack = ROUNDING * value.abs();
        value >= self.low - slack && value <= self.high + slack
    }
}

/// A row: a key's name, how it is written, and one sentence about it.
pub(in crate::input) const fn key(name: &'static str, form: Form, doc: &'static str) -> Key {
    Key {
        name,
        form,
        doc,
        without: Without::Open,
        of_water: None,
        once: None,
        built: Built {
            can: Range::ANY,
            usual: Range::ANY,
            slip: Slip::OfSize,
            beside: &[],
        },
    }
}

pub(in crate::input) const fn quantity(spec: Spec) -> Form {
    Form::Quantity(spec)
}

pub(in crate::input) const fn table(spec: Spec) -> Form {
    Form::Table(spec)
}

pub(super) const fn choice(words: &'static [&'static str]) -> Form {
    Form::Choice(words)
}

/// The words of pairs of a word and what it means.
pub(super) const fn words<T: Copy, const N: usize>(
    pairs: &[(&'static str, T); N],
) -> [&'static str; N] {
    let mut words = [""; N];
    let mut at = 0;
    while at < N {
        words[at] = pairs[at].0;
        at += 1;
    }
    words
}

impl Key {
    /// It has to be written; `or` says what could stand in its place, or when it is needed.
    pub(super) const fn needed(mut self, or: &'static str) -> Self {
        self.without = Without::Needed(or);
        self
    }

    /// What is taken or follows without it.
    pub(super) const fn without(mut self, words: &'static str) -> Self {
        self.without = Without::Holds(words);
        self
    }

    /// The value that is taken without it, SI.
    pub(super) const fn default(
        mut self,
        si: f64,
        source: &'static str,
        meaning: &'static str,
    ) -> Self {
        self.without = Without::Value {
            si,
            source,
            meaning,
        };
        self
    }

    pub(super) const fn of_water(mut self, spec: Spec) -> Self {
        self.of_water = Some(spec);
        self
    }

    pub(super) const fn once(mut self, name: &'static str) -> Self {
        self.once = Some(name);
        self
    }

    pub(super) const fn usual(mut self, low: f64, high: f64) -> Self {
        self.built.usual = Range::new(low, high);
        self
    }

    pub(super) const fn can(mut self, low: f64, high: f64) -> Self {
        self.built.can = Range::new(low, high);
        self
    }

    pub(super) const fn slip(mut self, words: &'static str) -> Self {
        self.built.slip = Slip::Words(words);
        self
    }

    pub(super) const fn inverted(mut self, words: &'static str) -> Self {
        self.built.slip = Slip::Inverted(words);
        self
    }

    pub(super) const fn beside(mut self, beside: &'static [Beside]) -> Self {
        self.built.beside = beside;
        self
    }

    /// The value that its row takes without it, with what that means: "0 (dry air)".
    pub fn shown_default(&self) -> Option<Words> {
        let Without::Value { si, meaning, .. } = self.without else {
            return None;
        };
        let spec = self.spec()?;
        let value = match spec.kind() {
            Kind::Number | Kind::Share => Words::from(format!("{si}")),
            kind => exact_amount(
                si,
                kind,
                spec.example().unit().map_or("", |unit| unit.name()),
            ),
        };
        Some(match meaning {
            "" => value,
            meaning => words![value, format!(" ({meaning})")],
        })
    }

    /// What is said where it must be there and is not.
    pub fn missing(&self) -> Words {
        self.spec()
            .map_or_else(|| "is missing".into(), |spec| spec.missing(self.name))
    }

    /// What its number measures and may be; none of a word, a file or a section.
    pub fn spec(&self) -> Option<Spec> {
        match self.form {
            Form::Quantity(spec) | Form::Table(spec) => Some(spec),
            _ => None,
        }
    }
}

impl Section {
    /// Its key of a name.
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().copied().find(|key| key.name == name)
    }

    /// The dotted path of one of its keys.
    pub fn path_of(&self, key: &Key) -> String {
        match self.path {
            "" => key.name.to_owned(),
            path => format!("{path}.{}", key.name),
        }
    }
}

/// Writes down a section: its path, its heading, what it is, and its rows.
macro_rules! section {
    ($section:ident: $path:literal, $heading:literal, $doc:literal; $([$($more:ident $(. $field:ident)?),+];)? $($key:ident = $row:expr;)*) => {
        $(pub(in crate::input) static $key: Key = $row;)*
        #[doc = concat!("Section `", $heading, "`.")]
        pub(in crate::input) static $section: Section = Section {
            path: $path,
            heading: $heading,
            doc: $doc,
            keys: &[$($(&$more $(. $field)?,)+)? $(&$key),*],
        };
    };
}
pub(super) use section;
