//! A row in text: its head, and its value in the reader's units.

use super::field::{Field, Get};
use crate::quantity::{Kind, UnitSystem, header, label, shown};

impl<T> Field<T> {
    /// The number that it has, SI.
    pub fn number(&self, of: &T) -> Option<f64> {
        match self.get {
            Get::Number(_, get) => get(of),
            Get::Count(get) => get(of).map(|count| count as f64),
            _ => None,
        }
    }

    /// The kind of its numbers; a plain number where it has none.
    pub const fn kind(&self) -> Kind {
        match self.get {
            Get::Number(kind, _) | Get::Range(kind, _) => kind,
            _ => Kind::Number,
        }
    }

    /// Its value without the unit, or a dash where it does not exist.
    pub fn cell(&self, of: &T, system: UnitSystem) -> String {
        match self.get {
            Get::Text(get) => get(of).unwrap_or_default(),
            _ => or_dash(self.number(of), self.kind(), system),
        }
    }

    /// Its value with the unit, where it exists.
    pub fn with_unit(&self, of: &T, system: UnitSystem) -> Option<String> {
        let number = self.number(of)?;
        Some(with_unit(number, self.kind(), system))
    }

    /// Its name with its unit: "density in [kg/m³]".
    pub fn title(&self, system: UnitSystem) -> String {
        header(self.label, self.kind(), system).replace(" difference]", "]")
    }

    /// Its short name over its unit, for a narrow column.
    pub fn head(&self, system: UnitSystem) -> String {
        head(self.short, self.kind(), system)
    }
}

/// A name over its unit.
pub fn head(name: &str, kind: Kind, system: UnitSystem) -> String {
    match label(kind, system) {
        "" => name.to_owned(),
        unit => format!("{name}\n[{unit}]"),
    }
}

/// A value without its unit, or a dash where it does not exist.
pub fn or_dash(value: Option<f64>, kind: Kind, system: UnitSystem) -> String {
    value.map_or_else(|| "–".to_owned(), |value| shown(value, kind, system))
}

/// A value with its unit.
pub fn with_unit(si: f64, kind: Kind, system: UnitSystem) -> String {
    format!("{} {}", shown(si, kind, system), label(kind, system))
        .trim_end()
        .to_owned()
}
