//! Builds that cannot be meant: each fault has its place and says what would be right.

use std::fs;

use super::{Scratch, assert_refused, one_point, point_with};

/// Checks a build of this text under the name `truck.toml`.
fn check_text(text: impl AsRef<[u8]>) -> super::Ran {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("truck.toml"), text).unwrap();
    let (check, line) = (
        scratch.run(&["check", "truck.toml"]),
        scratch.run(&["line", "truck.toml"]),
    );
    assert_eq!((check.code, line.code), (1, 1), "{}", check.err);
    assert_eq!(check.err, line.err, "both say the same");
    assert_eq!(super::names(&scratch), ["truck.toml"]);
    line
}

/// The build of one point with a piece of text replaced.
fn edited(from: &str, to: &str) -> String {
    let text = fs::read_to_string(one_point()).unwrap();
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

#[test]
fn a_file_that_is_none_is_said() {
    let scratch = Scratch::new();
    fs::create_dir(scratch.as_ref().join("folder.toml")).unwrap();
    let cases = [
        ("nowhere.toml", "nowhere.toml: there is no such file"),
        ("folder.toml", "folder.toml: this is a folder"),
    ];
    for (name, words) in cases {
        assert_refused(&scratch.run(&["line", name]), 1, &[words]);
        assert_refused(&scratch.run(&["point", name, "--rpm", "2000"]), 1, &[words]);
    }
}

#[test]
fn an_empty_file_and_one_that_is_not_text_are_said() {
    assert_refused(
        &check_text(""),
        1,
        &["truck.toml:1: line: the file is empty", "airpath new"],
    );
    assert_refused(&check_text("# nothing\n"), 1, &["truck.toml:"]);
    let ran = check_text(b"title = \"a\"\n\n[site]\naltitude = \"\xff\"\n");
    assert_refused(&ran, 1, &["truck.toml:4: ", "UTF-8"]);
    let binary: Vec<u8> = (0..=255).collect();
    assert_refused(&check_text(binary), 1, &["truck.toml:"]);
}

#[test]
fn every_fault_of_a_file_comes_in_one_run_in_the_order_of_the_lines() {
    let text = edited("displacement = \"4.2 L\"", "displacment = \"4.2 L\"")
        .replace("strokes = 4", "strokes = 3")
        .replace("relative_humidity = 0.0", "relative_humidity = nan")
        .replace("effectiveness = 0.70", "effectiveness = 1.05");
    let ran = check_text(text);
    let lines: Vec<usize> = ran
        .err
        .lines()
        .filter(|line| !line.contains("not set"))
        .map(|line| line.split(':').nth(1).unwrap().parse().unwrap())
        .collect();
    assert_eq!(lines, [7, 10, 13, 43], "{}", ran.err);
    let words = [
        "did you mean displacement?",
        "site.relative_humidity",
        "effectiveness",
    ];
    assert_refused(&ran, 1, &words);
    assert!(
        !ran.err.contains("is missing"),
        "a slip is said once: {}",
        ran.err
    );
}

#[test]
fn a_missing_unit_shows_how_to_write_it() {
    let ran = check_text(edited("stroke = \"118 mm\"", "stroke = 118"));
    assert_refused(
        &ran,
        1,
        &["truck.toml:12: engine.stroke: 118 has no unit", "mm"],
    );
    let wrong = check_text(edited("\"4.2 L\"", "\"4.2 kg\""));
    assert_refused(&wrong, 1, &["truck.toml:10: engine.displacement: "]);
}

#[test]
fn syntax_faults_have_their_line() {
    let ran = check_text(edited("strokes = 4", "strokes = = 4"));
    assert_refused(&ran, 1, &["truck.toml:13"]);
}

#[test]
fn per_cent_written_as_a_number_is_asked_about() {
    let ran = point_with(&["engine.volumetric_efficiency=85"]);
    assert_refused(
        &ran,
        1,
        &["engine.volumetric_efficiency", "did you mean 0.85"],
    );
    assert_eq!(point_with(&["engine.volumetric_efficiency=85 %"]).code, 0);
}

#[test]
fn values_outside_sense_are_refused() {
    let cases = [
        ("site.temperature=-300 degC", "absolute zero"),
        ("site.temperature=-1 K", "absolute zero"),
        ("site.temperature=nan", "site.temperature"),
        ("site.relative_humidity=55", "0.55"),
        ("engine.compression_ratio=0.9", "is out of range"),
        ("engine.cylinders=0", "engine.cylinders"),
        ("engine.cylinders=2.5", "engine.cylinders"),
        ("supercharger.efficiency=1.2", "is out of range"),
        ("supercharger.efficiency=0", "is out of range"),
        ("supercharger.pressure_ratio=inf", "not a finite number"),
        ("fuel.air_fuel_ratio=-3", "is out of range"),
        ("cooler.effectiveness=1.05", "at most 1"),
        (
            "engine.rpm={ from = 3000, to = 2000, step = 100 }",
            "engine.rpm",
        ),
        (
            "engine.rpm={ from = 2000, to = 3000, step = 0 }",
            "engine.rpm",
        ),
        (
            "engine.rpm={ from = 1, to = 30000, step = 1e-6 }",
            "engine.rpm",
        ),
    ];
    for (set, words) in cases {
        assert_refused(&point_with(&[set]), 1, &["--set ", words]);
    }
}

#[test]
fn a_table_that_does_not_rise_in_speed_is_refused() {
    for rows in ["[[2000, 0.9], [1000, 0.8]]", "[[2000, 0.9], [2000, 0.8]]"] {
        let ran = point_with(&[&format!("engine.volumetric_efficiency={rows}")]);
        assert_refused(&ran, 1, &["row 2", "does not rise"]);
    }
    for rows in ["[]", "[[2000]]", "[[2000, 0.9, 1]]", "[0.9, 0.8]"] {
        let ran = point_with(&[&format!("engine.volumetric_efficiency={rows}")]);
        assert_refused(&ran, 1, &["engine.volumetric_efficiency"]);
    }
}

#[test]
fn gauge_and_absolute_are_not_confused() {
    for pressure in ["14.7 psig", "1 barg", "100 kPag"] {
        let ran = point_with(&[&format!("site.pressure={pressure}")]);
        assert_refused(&ran, 1, &["gauge"]);
    }
    for drop in ["1 psig", "15 psia"] {
        let set = [
            "cooler.at_flow=0.2 kg/s",
            &format!("cooler.pressure_drop={drop}"),
        ];
        assert_refused(&point_with(&set), 1, &["difference"]);
    }
    assert_eq!(point_with(&["site.pressure=14.7 psia"]).code, 0);
}

#[test]
fn a_volume_flow_for_a_mass_flow_is_refused_with_both_readings() {
    let set = ["cooler.pressure_drop=5 kPa", "cooler.at_flow=410 ft3/min"];
    let ran = point_with(&set);
    assert_refused(&ran, 1, &["cooler.at_flow"]);
    assert!(ran.err.matches("kg/s").count() >= 2, "{}", ran.err);
}

#[test]
fn no_part_at_all_is_said_or_solved_as_an_engine_that_breathes_alone() {
    let text = fs::read_to_string(one_point()).unwrap();
    let end = text.find("[[air_path]]").unwrap();
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("truck.toml"), &text[..end]).unwrap();
    let arguments = ["point", "truck.toml", "--rpm", "2000", "--format", "json"];
    let ran = scratch.run(&arguments);
    if ran.code == 0 {
        let json = ran.json();
        let names: Vec<_> = json["stations"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| &s["name"])
            .collect();
        assert_eq!(names, ["ambient", "manifold"]);
    } else {
        assert_refused(&ran, 1, &["air_path"]);
    }
}

#[test]
fn an_unknown_part_is_named_with_those_that_are_known() {
    let ran = check_text(edited("part = \"cooler\"", "part = \"coler\""));
    assert_refused(&ran, 1, &["truck.toml:42: ", "coler", "cooler"]);
}

#[test]
fn loss_ratings_of_nothing_are_refused_or_mean_nothing() {
    let none = point_with(&[]).json();
    let zero = point_with(&["cooler.pressure_drop=0 kPa", "cooler.at_flow=0.2 kg/s"]).json();
    let flow = |point: &serde_json::Value| point["air_mass_flow_kg_s"].as_f64().unwrap();
    assert!((flow(&none) / flow(&zero) - 1.0).abs() < 1e-9);
    let cases = [
        ("cooler.at_flow=0 kg/s", "cooler.at_flow"),
        (
            "engine.volumetric_efficiency=0",
            "engine.volumetric_efficiency",
        ),
        ("engine.rpm.from=0", "engine.rpm.from"),
    ];
    for (set, key) in cases {
        let ran = point_with(&["cooler.pressure_drop=5 kPa", set]);
        assert_refused(&ran, 1, &[&format!("--set {key}: ")]);
    }
}

#[test]
fn keys_of_later_physics_beside_given_ratios_do_not_stop_a_build() {
    let set = [
        "limits.max_cylinder_pressure=16 MPa",
        "engine.combustion.pressure_rise_ratio=1.5",
    ];
    assert_eq!(point_with(&set).code, 0);
}
