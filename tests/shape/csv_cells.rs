//! CSV beside JSON: the column is the path, the cell the number.

use serde_json::Value;

use crate::printed::BUILDS;
use crate::run::{Scratch, kept};

/// Holds every cell of `line` and `cooler` against the JSON.
pub fn agree() {
    for build in BUILDS {
        rows_agree(&["line"], build, |json| &json["points"]);
    }
    rows_agree(&["cooler"], "builds/ice_tank.toml", |json| &json["points"]);
    let run = ["cooler", "--seconds", "60"];
    rows_agree(&run, "builds/ice_tank.toml", |json| &json["run"]["rows"]);
}

fn rows_agree(command: &[&str], build: &str, rows: fn(&Value) -> &Value) {
    let path = kept(build);
    let print = |format| {
        let mut arguments = [command, &["--format", format]].concat();
        arguments.extend((!build.is_empty()).then_some(path.as_str()));
        let ran = Scratch::new().run(&arguments);
        assert_eq!(ran.code, 0, "{arguments:?}: {}", ran.err);
        ran.out
    };
    let json: Value = serde_json::from_str(&print("json")).unwrap();
    let text = print("csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let records: Vec<_> = reader.records().map(Result::unwrap).collect();
    let items = rows(&json).as_array().unwrap();
    assert_eq!(records.len(), items.len(), "{build}");
    for (record, item) in records.iter().zip(items) {
        for (column, cell) in columns.iter().zip(record) {
            cell_agrees(column, cell, at_path(item, column));
        }
        let filled = record.iter().filter(|cell| !cell.is_empty()).count();
        assert_eq!(filled, leaves(item), "{build}: a number has no column");
    }
}

fn cell_agrees(column: &str, cell: &str, value: Option<&Value>) {
    match value {
        Some(Value::Number(number)) => {
            let (shown, right) = (cell.parse::<f64>().unwrap(), number.as_f64().unwrap());
            // The JSON crate reads to the last bits but two.
            let apart = (shown - right).abs();
            assert!(apart <= 4.0 * f64::EPSILON * right.abs(), "{column}");
        }
        Some(Value::String(text)) => assert_eq!(cell, text),
        Some(Value::Bool(flag)) => assert_eq!(cell, flag.to_string()),
        None => assert_eq!(cell, "", "{column}"),
        Some(other) => panic!("{column}: {other}"),
    }
}

/// The value at a column: dots go down, a list is searched by name with spaces for underscores.
fn at_path<'a>(item: &'a Value, column: &str) -> Option<&'a Value> {
    let named = |value: &Value, step: &str| {
        let name = value["name"].as_str();
        name.is_some_and(|name| name.replace(' ', "_") == step)
    };
    column.split('.').try_fold(item, |value, step| match value {
        Value::Array(items) => items.iter().find(|item| named(item, step)),
        other => other.get(step),
    })
}

/// How many numbers and texts an item has outside names and findings.
fn leaves(value: &Value) -> usize {
    let counts = |key: &str| !["name", "findings"].contains(&key);
    match value {
        Value::Object(entries) => {
            let counted = entries.iter().filter(|(key, _)| counts(key));
            counted.map(|(_, inner)| leaves(inner)).sum()
        }
        Value::Array(items) => items.iter().map(leaves).sum(),
        _ => 1,
    }
}
