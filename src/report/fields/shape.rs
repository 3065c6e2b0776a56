//! The rows without their getters: what a result can have, for the schema and for `explain`.

use crate::quantity::Kind;

/// One row.
#[derive(Debug, Clone)]
pub struct Shape {
    /// Its key in JSON.
    pub key: &'static str,
    /// Its name in text.
    pub label: &'static str,
    /// Its name at the head of a narrow column.
    pub short: &'static str,
    /// What it is, in one sentence.
    pub about: &'static str,
    /// Whether every result has it.
    pub always: bool,
    /// Its type.
    pub form: Form,
}

/// The type of a row.
#[derive(Debug, Clone)]
pub enum Form {
    /// A number.
    Number(Kind),
    /// Two numbers, the lower first.
    Range(Kind),
    /// A whole number from 0.
    Count,
    /// True or false.
    Flag,
    /// A text.
    Text,
    /// A list of texts.
    Texts,
    /// An object of one of these forms.
    Object(Vec<Vec<Shape>>),
    /// A list of such objects.
    List(Vec<Vec<Shape>>),
}

impl Form {
    /// The forms of the objects within.
    pub fn inner(&self) -> &[Vec<Shape>] {
        match self {
            Self::Object(forms) | Self::List(forms) => forms,
            _ => &[],
        }
    }

    /// The kind of its numbers.
    pub const fn kind(&self) -> Option<Kind> {
        match self {
            Self::Number(kind) | Self::Range(kind) => Some(*kind),
            _ => None,
        }
    }
}
