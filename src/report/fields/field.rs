//! One row of the table: a number or text of a result with all that any writer needs of it.

use serde_json::Value;

use super::shape::Shape;
use crate::quantity::Kind;

/// A value that is not a finite number was about to be shown.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error(
    "{0} is not a finite number; nothing was written. This is a fault of airpath, not of the build"
)]
pub struct NotFinite(pub String);

/// One row. Text, CSV, JSON, the published schema and `explain` all read it.
pub struct Field<T: 'static> {
    /// Its key in JSON; the column in CSV is the path of such keys.
    pub key: &'static str,
    /// Its name in text.
    pub label: &'static str,
    /// Its name at the head of a narrow column, broken at '\n'.
    pub short: &'static str,
    /// What it is, in one sentence.
    pub about: &'static str,
    /// Whether every result has it.
    pub always: bool,
    /// How it is taken from the plain data.
    pub get: Get<T>,
}

impl<T> Field<T> {
    /// A column that text alone has.
    pub const fn in_text(label: &'static str, about: &'static str, get: Get<T>) -> Self {
        Self {
            key: "",
            label,
            short: label,
            about,
            always: true,
            get,
        }
    }
}

/// How a row is taken from its subject. SI; `None` is left out.
pub enum Get<T: 'static> {
    /// A number of a kind.
    Number(Kind, fn(&T) -> Option<f64>),
    /// The lowest and the highest of a kind.
    Range(Kind, fn(&T) -> Option<[f64; 2]>),
    /// A count.
    Count(fn(&T) -> Option<usize>),
    /// Yes or no.
    Flag(fn(&T) -> Option<bool>),
    /// A word or a text for people.
    Text(fn(&T) -> Option<String>),
    /// A list of texts.
    Texts(fn(&T) -> Option<Vec<String>>),
    /// An object or a list of objects with rows of their own.
    Inner(&'static dyn Inner<T>),
    /// The rows of another subject, in the place of this row.
    Flat(&'static dyn Inner<T>),
}

/// What has rows: plain data as solved, or with the few words that only this edge knows.
pub trait Rows: Sized + 'static {
    /// Its rows, in the order of the JSON.
    const ROWS: &'static [Field<Self>];
}

/// The rows of these keys. Run by the compiler: a key that no row has does not compile.
pub const fn pick<T, const N: usize>(
    rows: &'static [Field<T>],
    keys: [&str; N],
) -> [&'static Field<T>; N] {
    let mut picked = [&rows[0]; N];
    let mut i = 0;
    while i < N {
        let mut at = 0;
        // Past the last row the index is refused, and with it the build.
        while !same(rows[at].key, keys[i]) {
            at += 1;
        }
        picked[i] = &rows[at];
        i += 1;
    }
    picked
}

const fn same(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    let mut i = 0;
    while i < a.len() && i < b.len() && a[i] == b[i] {
        i += 1;
    }
    i == a.len() && i == b.len()
}

/// A subject, or a list of subjects, within another.
pub trait Inner<T> {
    /// Its value; nothing where there is none.
    fn value(&self, of: &T) -> Result<Option<Value>, NotFinite>;
    /// The forms of one of its objects.
    fn forms(&self) -> Vec<Vec<Shape>>;
    /// Whether it is a list.
    fn is_list(&self) -> bool;
}
