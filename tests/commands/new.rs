//! `new`: a starter build and its map.

use std::fs;

use super::{Scratch, names};

#[test]
fn a_new_build_stands_beside_its_map_and_runs_as_it_is() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["new", "truck.toml"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(names(&scratch), ["truck.toml", "truck_map.csv"]);
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
fn both_files_say_that_they_are_invented() {
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["new", "truck.toml"]).code, 0);
    for name in names(&scratch) {
        let text = fs::read_to_string(scratch.as_ref().join(&name)).unwrap();
        assert!(text.lines().next().unwrap().contains("invented"), "{name}");
    }
}

#[test]
fn neither_file_is_written_when_one_exists() {
    for taken in ["truck.toml", "truck_map.csv"] {
        let scratch = Scratch::new();
        fs::write(scratch.as_ref().join(taken), "mine").unwrap();
        let ran = scratch.run(&["new", "truck.toml"]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""));
        assert!(ran.err.contains(&format!("{taken}: exists already")));
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
    assert_eq!(names(&scratch).len(), 6);
}
