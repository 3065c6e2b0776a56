//! `new`: a starter build and its map.

use std::fs;

use super::{Scratch, names};

#[test]
fn a_new_build_stands_beside_its_map_and_runs_as_it_is() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["new", "truck.toml"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(
        names(&scratch),
        ["truck.schema.json", "truck.toml", "truck_map.csv"]
    );
    assert!(ran.out.contains("airpath line truck.toml"));
    assert!(ran.err.contains("wrote truck.toml\n") && ran.err.contains("wrote truck_map.csv\n"));
    let check = scratch.run(&["check", "truck.toml", "truck_map.csv"]);
    assert_eq!(check.code, 0, "{}", check.err);
    let line = scratch.run(&["line", "truck.toml"]);
    assert_eq!(line.code, 0, "{}", line.err);
    assert!(names(scratch.as_ref().join("out")).contains(&"compressor_map.svg".to_owned()));
    let strict = scratch.run(&["line", "truck.toml", "--strict", "--format", "csv"]);
    assert_eq!(
        strict.code, 0,
        "a beginner starts within the limits: {}",
        strict.out
    );
}

#[test]
fn build_and_map_say_that_they_are_invented() {
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["new", "truck.toml"]).code, 0);
    for name in ["truck.toml", "truck_map.csv"] {
        let text = fs::read_to_string(scratch.as_ref().join(name)).unwrap();
        let mut head = text.lines().take(2);
        assert!(head.any(|line| line.contains("invented")), "{name}");
    }
}

#[test]
fn the_first_line_of_a_build_names_the_schema_beside_it() {
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["new", "truck.toml"]).code, 0);
    let read = |name: &str| fs::read_to_string(scratch.as_ref().join(name)).unwrap();
    assert_eq!(
        read("truck.toml").lines().next(),
        Some("#:schema ./truck.schema.json")
    );
    let beside: serde_json::Value = serde_json::from_str(&read("truck.schema.json")).unwrap();
    let printed = scratch.run(&["keys", "--format", "schema"]).json();
    assert_eq!(beside, printed);
}

#[test]
fn no_file_is_written_when_one_exists() {
    for taken in ["truck.toml", "truck_map.csv", "truck.schema.json"] {
        let scratch = Scratch::new();
        fs::write(scratch.as_ref().join(taken), "mine").unwrap();
        let ran = scratch.run(&["new", "truck.toml"]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""));
        assert!(ran.err.contains(&format!("{taken}: already exists")));
        assert_eq!(names(&scratch), [taken]);
        let text = fs::read_to_string(scratch.as_ref().join(taken)).unwrap();
        assert_eq!(text, "mine");
    }
}

#[test]
fn a_folder_that_is_not_there_is_said_and_nothing_is_left() {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("taken"), "mine").unwrap();
    for path in ["nowhere/truck.toml", "taken/truck.toml"] {
        let ran = scratch.run(&["new", path]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{}", ran.err);
        assert!(ran.err.contains("cannot be written"));
    }
    assert_eq!(names(&scratch), ["taken"]);
}

#[test]
fn several_builds_stand_in_one_folder_each_with_its_map() {
    let scratch = Scratch::new();
    for name in ["truck.toml", "tractor.toml", "my \"best\" car.toml"] {
        let ran = scratch.run(&["new", name]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        let check = scratch.run(&["check", name]);
        assert_eq!(check.code, 0, "{}", check.err);
    }
    assert_eq!(names(&scratch).len(), 9);
}
