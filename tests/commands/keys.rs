//! `keys`: the tables, as text, as JSON, and as a schema.

use std::fs;

use serde_json::Value;

use super::{Scratch, assert_refused, kept};

fn tables(arguments: &[&str]) -> Value {
    let mut all = vec!["keys", "--format", "json"];
    all.extend(arguments);
    Scratch::new().run(&all).json()
}

fn keys_of(tables: &Value) -> Vec<String> {
    let sections = tables["sections"].as_array().unwrap();
    let keys = sections
        .iter()
        .flat_map(|section| section["keys"].as_array().unwrap());
    keys.map(|key| key["key"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn every_key_of_every_build_is_in_the_tables() {
    let known = keys_of(&tables(&[]));
    let mut seen = 0;
    for entry in fs::read_dir(kept("builds")).unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap();
        let mut section = String::new();
        for line in text.lines() {
            if let Some(heading) = line.strip_prefix('[') {
                section = heading.trim_matches(['[', ']']).to_owned();
            } else if let Some(word) = line.strip_prefix("part = ") {
                section = word.trim_matches('"').to_owned();
            } else if let Some((key, _)) = line.split_once(" = ")
                && !key.starts_with(['#', ' '])
                && !section.is_empty()
            {
                let path = format!("{section}.{key}").replace("air_path.", "cooler.");
                assert!(known.contains(&path), "{path}");
                seen += 1;
            }
        }
    }
    assert!(seen > 300, "{seen}");
}

#[test]
fn a_section_is_printed_alone_with_those_within_it() {
    let engine = keys_of(&tables(&["engine"]));
    assert!(engine.contains(&"engine.head.stud_torque".to_owned()));
    assert!(engine.iter().all(|key| key.starts_with("engine.")));
    let parts = keys_of(&tables(&["air_path"]));
    assert!(parts.contains(&"cooler.core.width".to_owned()));
    assert!(!parts.contains(&"site.altitude".to_owned()));
    let text = Scratch::new().run(&["keys", "turbine.wastegate"]).out;
    assert!(text.starts_with("[turbine.wastegate]\n"), "{text}");
    assert!(text.contains("boost_limit = \"185 kPa\""), "{text}");
    let us = Scratch::new()
        .run(&["keys", "turbine.wastegate", "--units", "us"])
        .out;
    assert!(us.contains("boost_limit = \"26.8 psi\""), "{us}");
}

#[test]
fn a_section_that_there_is_not_names_those_that_there_are() {
    let ran = Scratch::new().run(&["keys", "motor"]);
    assert_refused(&ran, 2, &["there is no section motor", "engine.head"]);
    let ran = Scratch::new().run(&["keys", "engine", "--format", "schema"]);
    assert_refused(&ran, 2, &["the whole file"]);
}

#[test]
fn text_stays_within_80_columns() {
    for arguments in [&["keys"][..], &["keys", "--units", "us"]] {
        let text = Scratch::new().run(arguments).out;
        assert!(text.lines().count() > 300);
        for line in text.lines().filter(|line| line.starts_with("      ")) {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}
