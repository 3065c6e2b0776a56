//! The build as it was written, for checks that hold keys to each other.

use super::super::document::{Node, Table, Value};
use super::super::fault::Place;
use super::super::part_words::PART_WORDS;
use super::given::Given;
use crate::gas::FuelFormula;

/// Everything that was written, options included, and the defaults that keys stand for: never a
/// value that a study moved. There is no other way to make one than from the written document.
pub(in crate::input) struct AsWritten<'a> {
    root: &'a Table,
    given: Vec<Given>,
    parts: Vec<PartOf<'a>>,
}

/// One part of the air path.
pub(in crate::input) struct PartOf<'a> {
    /// Its word with its number: `cooler.2`.
    pub path: String,
    /// Its word.
    pub word: &'static str,
    /// Where its word stands.
    pub place: Place,
    table: &'a Table,
}

/// Air per fuel, kg/kg, below which nothing that burns in an engine lies: its own oxygen would do.
const LEAST_AIR: f64 = 0.5;
/// Gas constant of air, J/(kg K), three digits: these are sizes, not answers.
const AIR: f64 = 287.0;

impl<'a> AsWritten<'a> {
    pub fn new(root: &'a Table, given: Vec<Given>) -> Self {
        Self {
            root,
            given,
            parts: parts(root),
        }
    }

    /// What was written for a key, of every part and turbine that has it. `key` has no numbers.
    pub fn written(&self, key: &str) -> Vec<Given> {
        let same = |given: &&Given| !given.is_default && without_numbers(&given.key) == key;
        self.given.iter().filter(same).cloned().collect()
    }

    /// Leaves a key out of what others are held to.
    pub fn forget(&mut self, key: &str) {
        self.given.retain(|given| given.key != key);
    }

    /// What was written or taken for a dotted key.
    pub fn given(&self, key: &str) -> Option<&Given> {
        self.given.iter().find(|given| given.key == key)
    }

    /// The value of a dotted key, SI; the first of a table.
    pub fn value(&self, key: &str) -> Option<f64> {
        self.given(key)?.values.first().copied()
    }

    /// The word written for a dotted key.
    pub fn word(&self, key: &str) -> Option<&'a str> {
        match &self.node(key)?.value {
            Value::Text(text) => Some(text.trim()),
            _ => None,
        }
    }

    /// Whether a dotted key was written.
    pub fn has(&self, key: &str) -> bool {
        self.node(key).is_some()
    }

    fn node(&self, key: &str) -> Option<&'a Node> {
        let part = self.parts.iter().find_map(|part| {
            let rest = key.strip_prefix(part.path.as_str())?.strip_prefix('.')?;
            let numbered = rest.starts_with(|letter: char| letter.is_ascii_digit());
            (!numbered).then_some((part.table, rest))
        });
        let (mut table, mut rest) = part.unwrap_or((self.root, key));
        while let Some((first, further)) = rest.split_once('.') {
            match &table.get(first)?.value {
                Value::Table(inner) => (table, rest) = (inner, further),
                _ => return None,
            }
        }
        table.get(rest).filter(|node| node.value != Value::Removed)
    }

    /// The parts in flow order.
    pub fn parts(&self) -> &[PartOf<'a>] {
        &self.parts
    }

    // ------------------------------------------------------------- what follows from several keys

    /// Swept volume of the engine, m³.
    pub fn displacement(&self) -> Option<f64> {
        let of = |key| self.value(key);
        of("engine.displacement").or_else(|| {
            let bore = of("engine.bore")?;
            let area = std::f64::consts::FRAC_PI_4 * bore * bore;
            Some(area * of("engine.stroke")? * of("engine.cylinders")?)
        })
    }

    /// Swept volume of a cylinder, m³.
    pub fn cylinder(&self) -> Option<f64> {
        Some(self.displacement()? / self.value("engine.cylinders")?)
    }

    /// Bore, m: as written, else of displacement, stroke and cylinders.
    pub fn bore(&self) -> Option<f64> {
        self.value("engine.bore").or_else(|| {
            let area = self.cylinder()? / self.value("engine.stroke")?;
            Some((area / std::f64::consts::FRAC_PI_4).sqrt())
        })
    }

    /// Working cycles per revolution.
    pub fn cycles(&self) -> f64 {
        match self.value("engine.strokes") {
            Some(strokes) if strokes < 3.0 => 1.0,
            _ => 0.5,
        }
    }

    /// The highest speed of the line, rpm.
    pub fn top_speed(&self) -> Option<f64> {
        self.value("engine.rpm.to")
    }

    /// Pressure, Pa, and temperature, K, of the air outside.
    pub fn outside(&self) -> (f64, f64) {
        let pressure = self.value("site.pressure").unwrap_or(101_325.0);
        let temperature = self.value("site.temperature").unwrap_or(288.15);
        (pressure, temperature)
    }

    /// Density of the air outside, kg/m³.
    pub fn density(&self) -> f64 {
        let (pressure, temperature) = self.outside();
        density(pressure, temperature)
    }

    /// What the engine would draw of the air outside at a speed, kg/s: the size of all its flows.
    pub fn flow_at(&self, rpm: f64) -> Option<f64> {
        Some(self.displacement()? * self.cycles() * rpm / 60.0 * self.density())
    }

    /// The same at the highest speed of the line.
    pub fn flow(&self) -> Option<f64> {
        self.flow_at(self.top_speed()?)
    }

    /// Mass of dry air that burns a mass of the fuel.
    pub fn stoichiometric(&self) -> Option<f64> {
        let fuel = FuelFormula {
            hydrogen_carbon_ratio: self.value("fuel.hydrogen_carbon_ratio")?,
            oxygen_carbon_ratio: self.value("fuel.oxygen_carbon_ratio")?,
        };
        let ratio = fuel.stoichiometric_ratio();
        (ratio > LEAST_AIR).then_some(ratio)
    }

    /// Whether the charge is lit by compression, where known.
    pub fn is_diesel(&self) -> Option<bool> {
        match self.word("engine.kind").or(self.word("fuel.kind"))? {
            "diesel" => Some(true),
            _ => Some(false),
        }
    }
}

/// Density of air, kg/m³.
pub(super) fn density(pressure: f64, temperature: f64) -> f64 {
    pressure / (AIR * temperature)
}

fn parts(root: &Table) -> Vec<PartOf<'_>> {
    let Some(Value::List(items)) = root.get("air_path").map(|node| &node.value) else {
        return Vec::new();
    };
    let mut parts: Vec<PartOf<'_>> = Vec::with_capacity(items.len());
    for item in items {
        let Value::Table(table) = &item.value else {
            continue;
        };
        let Some(
            node @ Node {
                value: Value::Text(text),
                ..
            },
        ) = table.get("part")
        else {
            continue;
        };
        let word = text.trim().to_lowercase().replace([' ', '-'], "_");
        let Some(word) = PART_WORDS.into_iter().find(|known| *known == word) else {
            continue;
        };
        let number = 1 + parts.iter().filter(|part| part.word == word).count();
        parts.push(PartOf {
            path: match number {
                1 => word.to_owned(),
                more => format!("{word}.{more}"),
            },
            word,
            place: node.place.clone(),
            table,
        });
    }
    parts
}

/// A dotted key without its numbers.
pub(in crate::input) fn without_numbers(key: &str) -> String {
    let words = key.split('.').filter(|step| step.parse::<u32>().is_err());
    words.collect::<Vec<_>>().join(".")
}
