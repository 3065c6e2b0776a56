//! The schema for editors: good builds pass, and slips are marked.

use std::fs;

use regex::Regex;
use serde_json::{Value, json};

use super::{Scratch, kept};

/// Whether a value is what a schema asks for, by the words of draft 7 that the build's schema uses.
fn fits(root: &Value, schema: &Value, value: &Value) -> bool {
    let Some(words) = schema.as_object() else {
        return true;
    };
    words.iter().all(|(word, wanted)| match word.as_str() {
        "$ref" => {
            let name = wanted
                .as_str()
                .unwrap()
                .trim_start_matches("#/definitions/");
            fits(root, &root["definitions"][name], value)
        }
        "type" => match wanted.as_str().unwrap() {
            "object" => value.is_object(),
            "array" => value.is_array(),
            "string" => value.is_string(),
            "number" => value.is_number(),
            "integer" => value.as_f64().is_some_and(|number| number.fract() == 0.0),
            other => panic!("{other}"),
        },
        "enum" => wanted.as_array().unwrap().contains(value),
        "pattern" => {
            let pattern = Regex::new(wanted.as_str().unwrap()).unwrap();
            value.as_str().is_none_or(|text| pattern.is_match(text))
        }
        "minimum" => number(value) >= number(wanted),
        "maximum" => number(value) <= number(wanted),
        "exclusiveMinimum" => number(value) > number(wanted),
        "exclusiveMaximum" => number(value) < number(wanted),
        "minItems" => count(value) as f64 >= number(wanted),
        "maxItems" => count(value) as f64 <= number(wanted),
        "required" => {
            let names = wanted.as_array().unwrap().iter();
            names
                .into_iter()
                .all(|name| value.get(name.as_str().unwrap()).is_some())
        }
        "properties" => value.as_object().into_iter().flatten().all(|(key, inner)| {
            wanted
                .get(key)
                .is_none_or(|schema| fits(root, schema, inner))
        }),
        "additionalProperties" => {
            let known = schema["properties"].as_object().unwrap();
            let mut keys = value.as_object().into_iter().flatten();
            keys.all(|(key, _)| known.contains_key(key))
        }
        "items" => {
            let mut items = value.as_array().into_iter().flatten().enumerate();
            items.all(|(at, item)| match wanted.as_array() {
                Some(each) => fits(root, &each[at], item),
                None => fits(root, wanted, item),
            })
        }
        "anyOf" => wanted
            .as_array()
            .unwrap()
            .iter()
            .any(|one| fits(root, one, value)),
        "allOf" => wanted
            .as_array()
            .unwrap()
            .iter()
            .all(|one| fits(root, one, value)),
        "if" => !fits(root, wanted, value) || fits(root, &schema["then"], value),
        "then" | "description" | "examples" | "title" | "$schema" | "definitions"
        | "deprecated" => true,
        other => panic!("the schema has {other}, which this check does not know"),
    })
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

fn count(value: &Value) -> usize {
    value.as_array().map_or(0, Vec::len)
}

fn schema() -> Value {
    Scratch::new().run(&["keys", "--format", "schema"]).json()
}

fn build(text: &str) -> Value {
    let value: toml::Value = toml::from_str(text).unwrap();
    serde_json::to_value(value).unwrap()
}

#[test]
fn every_build_of_the_tests_and_the_starter_pass() {
    let schema = schema();
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["new", "s.toml"]).code, 0);
    let mut paths = vec![scratch.as_ref().join("s.toml")];
    for entry in fs::read_dir(kept("builds")).unwrap() {
        paths.push(entry.unwrap().path());
    }
    for path in paths {
        if path.extension().is_some_and(|ending| ending == "toml") {
            let text = fs::read_to_string(&path).unwrap();
            assert!(fits(&schema, &schema, &build(&text)), "{}", path.display());
        }
    }
}

#[test]
fn slips_are_marked_and_what_the_reader_takes_is_not() {
    let schema = schema();
    let good = json!({
        "site": { "altitude": "5200 ft", "temperature": "75 °F" },
        "engine": { "displacement": "4.5 L +- 0.1 L", "volumetric_efficiency": [[1200, 0.86], [2400, "90 %"]] },
        "fuel": { "kind": "gasoline" },
        "air_path": [{ "part": "intercooler", "effectiveness": "75 %" }, { "part": "supercharger", "engaged": [[1000, 1]] }],
        "turbine": [{ "effective_area": "1.2 in2", "wastegate": { "boost_limit": "38 psig" } }],
    });
    assert!(fits(&schema, &schema, &good));
    for (path, slip) in [
        ("/site/altitude", json!("5200 furlongs")),
        ("/site/altitude", json!(5200)),
        ("/site/temperature", json!("75 kPa")),
        ("/engine/displacement", json!("4.5 kg")),
        ("/engine/volumetric_efficiency", json!(85)),
        ("/fuel/kind", json!("kerosene")),
        ("/air_path/0/effectiveness", json!(1.5)),
        ("/air_path/0/part", json!("radiator")),
        ("/turbine/0/wastegate/boost_limit", json!("38 lb")),
    ] {
        let mut wrong = good.clone();
        *wrong.pointer_mut(path).unwrap() = slip.clone();
        assert!(!fits(&schema, &schema, &wrong), "{path}: {slip}");
    }
    for section in [
        "/site",
        "/engine",
        "/fuel",
        "/air_path/0",
        "/turbine/0/wastegate",
    ] {
        let mut wrong = good.clone();
        let table = wrong.pointer_mut(section).unwrap().as_object_mut().unwrap();
        table.insert("displacment".to_owned(), json!("1 L"));
        assert!(!fits(&schema, &schema, &wrong), "{section}");
    }
}
