//! The commented build that a beginner starts from, in the reader's units.
//!
//! It is written once, in metric units; for a reader of others every value is converted, so that both
//! describe one engine. What each key means comes from its row of the key table.

use super::keys;
use super::keys::row::Key;
use crate::quantity::{UnitSystem, rewritten};

/// The commented build that a beginner starts from, invented.
pub const STARTER: &str = include_str!("starter.toml");
/// The invented compressor map that lies beside the starter build.
pub const STARTER_MAP: &str = include_str!("../../maps/invented_78mm.csv");
/// The name by which the built-in demo and the starter build call their map.
pub const STARTER_MAP_NAME: &str = "invented_78mm.csv";

/// Comments are wrapped at this many columns.
const COLUMNS: usize = 96;
/// The line by which the starter says its units.
const METRIC: &str = "units = \"si\"";

/// The starter build in a reader's units, with its map under another name. Its first line names the
/// schema beside it in the way that TOML language servers read.
pub fn starter(map_name: &str, schema_name: &str, system: UnitSystem) -> String {
    let text = match system {
        UnitSystem::Si => STARTER.to_owned(),
        UnitSystem::Us => {
            let lines = STARTER.lines().map(|line| in_units(line, system) + "\n");
            lines.collect::<String>().replace(METRIC, "units = \"us\"")
        }
    };
    let text = text.replace(STARTER_MAP_NAME, &quoted(map_name));
    format!(
        "#:schema ./{}\n{}",
        on_one_line(schema_name),
        explained(&text)
    )
}

/// The same with the sentence of its row above each key, also above one behind `#`.
fn explained(text: &str) -> String {
    let mut explained = String::with_capacity(3 * text.len());
    let mut section = String::new();
    for line in text.lines() {
        if let Some(heading) = line.strip_prefix('[') {
            heading.trim_matches(['[', ']']).clone_into(&mut section);
        }
        if let Some(word) = line.strip_prefix("part = ") {
            word.trim_matches('"').clone_into(&mut section);
        }
        if let Some(key) = key_of(line, &section) {
            let options = textwrap::Options::new(COLUMNS)
                .initial_indent("# ")
                .subsequent_indent("# ");
            explained.push_str(&textwrap::fill(key.doc, options));
            explained.push('\n');
        }
        explained.push_str(line);
        explained.push('\n');
    }
    explained
}

/// The row of a line `key = value`.
fn key_of(line: &str, section: &str) -> Option<&'static Key> {
    let (name, _) = line.trim_start_matches("# ").split_once(" = ")?;
    let key = keys::section(section)?.key(name)?;
    (name != "part").then_some(key)
}

/// A name as it stands in quotes in a build.
fn quoted(name: &str) -> String {
    let mut quoted = String::with_capacity(name.len());
    for letter in name.chars() {
        match letter {
            '\\' | '"' => quoted.extend(['\\', letter]),
            _ if letter.is_control() => quoted.push_str(&format!("\\u{:04x}", u32::from(letter))),
            _ => quoted.push(letter),
        }
    }
    quoted
}

/// A name as it stands in a remark: what would break the line is left out.
fn on_one_line(name: &str) -> String {
    name.chars().filter(|letter| !letter.is_control()).collect()
}

/// A line `key = "value unit"`, also one behind `#`, with its value converted. What stands behind it
/// stays in its column.
fn in_units(line: &str, system: UnitSystem) -> String {
    let converted = || {
        let (key, rest) = line.split_once("= \"")?;
        let (value, behind) = rest.split_once('"')?;
        let new = rewritten(value, system)?;
        let remark = behind.trim_start();
        let column = line.len() - remark.len();
        let start = format!("{key}= \"{new}\"");
        Some(if remark.is_empty() {
            start
        } else {
            format!("{start:<width$} {remark}", width = column - 1)
        })
    };
    converted().unwrap_or_else(|| line.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::{Document, Outcome, map_file, read};
    use crate::matching::{Match, Solver};
    use approx::assert_relative_eq;
    use std::sync::Arc;

    fn outcome(system: UnitSystem) -> Outcome {
        let text = starter(STARTER_MAP_NAME, "s.schema.json", system);
        read(&Document::from_text("s.toml", &text), &[], &|_| {
            map_file::read(STARTER_MAP_NAME, STARTER_MAP.as_bytes()).map(Arc::new)
        })
    }

    #[test]
    fn the_starter_in_us_units_holds_no_metric_value_but_shots_of_fuel() {
        let text = starter("m.csv", "m.schema.json", UnitSystem::Us);
        let metric = [
            " mm\"", " m\"", " L\"", " kPa\"", " MPa\"", " degC\"", " kg/s\"", " N m\"", " kW\"",
        ];
        // The sentence on how values are written names units of both kinds.
        let values = text.lines().filter(|line| line.contains(" = \""));
        for line in values {
            for unit in metric {
                assert!(!line.contains(unit), "{line}");
            }
        }
        for line in [
            "units = \"us\"",
            "displacement = \"261 in3\"",
            "altitude = \"1310 ft\"",
            "temperature = \"71.6 degF\"",
            "at_flow = \"26.5 lb/min\"",
            "stud_torque = \"103 lbf ft\"",
            "per_stroke = \"81 mg\"",
        ] {
            assert!(
                text.lines().any(|own| own.starts_with(line)),
                "{line}\n{text}"
            );
        }
    }

    #[test]
    fn both_starters_are_one_engine() {
        let solved = [UnitSystem::Si, UnitSystem::Us].map(|system| {
            let outcome = outcome(system);
            assert!(outcome.faults.is_empty(), "{:#?}", outcome.faults);
            let installation = outcome.installation.unwrap();
            let mut solver = Solver::new(&installation).unwrap();
            let mut found = Match::default();
            solver.solve(2400.0, &mut found).unwrap();
            let fuel = found.fuel_mass_flow.unwrap();
            (found.air_mass_flow, found.manifold_pressure, fuel)
        });
        let [(flow, pressure, fuel), us] = solved;
        // Figures of three digits are off by 0.5 % at most, and some add.
        assert_relative_eq!(us.0, flow, max_relative = 0.01);
        assert_relative_eq!(us.1, pressure, max_relative = 0.01);
        assert_relative_eq!(us.2, fuel, max_relative = 0.01);
    }
}
