//! `line --beside`: further lines with other values on top.

use std::fs;

use serde_json::Value;

use super::{Scratch, assert_refused, names};

const PASS: &str = "at the pass: site.altitude=2900 m; site.temperature=14 degC";
const PULLEY: &str = "supercharger.drive_ratio=1.9";

fn json(arguments: &[&str]) -> Value {
    let all = [&["line", "--format", "json"], arguments].concat();
    Scratch::new().run(&all).json()
}

#[test]
fn a_line_beside_is_the_same_as_that_line_alone() {
    let both = json(&["--beside", PASS, "--beside", PULLEY]);
    let alone = json(&[
        "--set",
        "site.altitude=2900 m",
        "--set",
        "site.temperature=14 degC",
    ]);
    let pulley = json(&["--set", PULLEY]);
    let plain = json(&[]);
    for (one, other) in [
        (&both["variants"][0], &alone),
        (&both["variants"][1], &pulley),
        (&both, &plain),
    ] {
        for key in ["points", "findings", "hand_over"] {
            assert_eq!(one[key], other[key], "{key}");
        }
    }
    assert_eq!(both["variants"][0]["title"], "at the pass");
    assert_eq!(both["variants"][1]["title"], PULLEY);
    let settings = &both["variants"][0]["settings"];
    assert_eq!(settings[0], "site.altitude=2900 m");
    assert_eq!(settings[1], "site.temperature=14 degC");
    assert!(plain.get("variants").is_none() && plain.get("summary").is_none());
}

#[test]
fn set_acts_on_all_lines_and_the_line_beside_has_the_last_word() {
    let both = json(&[
        "--set",
        "supercharger.drive_ratio=2.4",
        "--set",
        "engine.rpm.to=2000",
        "--beside",
        PULLEY,
    ]);
    let speed = |line: &Value| {
        line["points"][0]["stages"][0]["speed_rpm"]
            .as_f64()
            .unwrap()
    };
    assert!((speed(&both) - 1200.0 * 2.4).abs() < 1e-6);
    assert!((speed(&both["variants"][0]) - 1200.0 * 1.9).abs() < 1e-6);
    let last = |line: &Value| {
        let points = line["points"].as_array().unwrap();
        points[points.len() - 1]["rpm"].as_f64().unwrap()
    };
    assert!((last(&both) - 2000.0).abs() < 1e-9);
    assert!((last(&both["variants"][0]) - 2000.0).abs() < 1e-9);
}

/// The figures are the points' own: looked for here in the points of the same output.
#[test]
fn the_figures_of_a_line_are_those_of_its_points() {
    let both = json(&["--beside", PASS]);
    for line in [&both, &both["variants"][0]] {
        let summary = |key: &str| line["summary"][key].as_f64().unwrap();
        let (mut boost, mut speed) = (0.0_f64, 0.0_f64);
        for point in line["points"].as_array().unwrap() {
            let pressure = |name: &str| {
                let stations = point["stations"].as_array().unwrap();
                let station = stations.iter().find(|s| s["name"] == name).unwrap();
                station["pressure_pa"].as_f64().unwrap()
            };
            boost = boost.max(pressure("manifold") - pressure("ambient"));
            speed = speed.max(point["stages"][1]["speed_rpm"].as_f64().unwrap());
        }
        // The first of equal boosts is named, and equal is to a billionth.
        assert!((summary("largest_boost_pa") / boost - 1.0).abs() < 2e-9);
        assert!((summary("highest_shaft_speed_rpm") - speed).abs() < 1e-9);
        let findings = line["findings"].as_array().unwrap();
        let surge = findings.iter().find(|f| f["code"] == "surge_margin");
        let surge = surge.unwrap();
        assert!((summary("surge_margin") - surge["value"].as_f64().unwrap()).abs() < 1e-9);
        assert_eq!(line["summary"]["surge_margin_rpm"], surge["rpm"]);
    }
}

#[test]
fn the_text_has_one_row_a_line_and_says_what_each_changes() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["line", "--beside", PASS, "--beside", PULLEY]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let rows: Vec<&str> = ran
        .out
        .lines()
        .skip_while(|line| !line.starts_with("beside each other"))
        .collect();
    assert!(rows[2].starts_with("the build"), "{rows:?}");
    assert!(rows[3].starts_with("at the pass") && rows[4].starts_with(PULLEY));
    let said = "at the pass: site.altitude=2900 m, site.temperature=14 degC";
    assert!(ran.out.contains(said), "{}", ran.out);
    assert_eq!(
        names(scratch.as_ref().join("out")),
        [
            "beside.svg",
            "boost.svg",
            "compressor_map.svg",
            "power.svg",
            "split.svg",
            "stations.svg"
        ]
    );
    let map = fs::read_to_string(scratch.as_ref().join("out/compressor_map.svg")).unwrap();
    for name in ["the build, engine rpm", "at the pass", PULLEY] {
        assert!(map.contains(name), "{name}");
    }
}

#[test]
fn a_csv_names_the_line_of_each_row_only_where_there_are_several() {
    let run = |more: &[&str]| {
        let all = [&["line", "--format", "csv"], more].concat();
        Scratch::new().run(&all).out
    };
    let plain = run(&[]);
    assert!(plain.starts_with("rpm,") && !plain.contains("variant"));
    let both = run(&["--beside", PULLEY]);
    assert!(both.starts_with("variant,rpm,"), "{both}");
    let own: Vec<&str> = both
        .lines()
        .filter_map(|line| line.strip_prefix("the build,"))
        .collect();
    let alone: Vec<&str> = plain.lines().skip(1).collect();
    assert_eq!(own, alone);
    assert!(both.lines().any(|line| line.starts_with(PULLEY)));
}

#[test]
fn a_fault_stands_at_the_line_beside_with_its_key_and_all_come_in_one_run() {
    let ran = Scratch::new().run(&[
        "line",
        "--beside",
        "high: site.altitud=2900 m",
        "--beside",
        "odd: site.temperature=14; engine.strokes=3",
        "--beside",
        "gone: engine.displacement=",
    ]);
    assert_refused(
        &ran,
        1,
        &[
            "--beside high: site.altitud: is unknown, did you mean altitude?",
            "--beside odd: site.temperature: 14 has no unit",
            "--beside odd: engine.strokes: ",
            "--beside gone: engine.displacement: is missing",
        ],
    );
}

#[test]
fn a_command_line_that_cannot_be_meant_is_refused() {
    for (beside, words) in [
        (vec!["at the pass"], "NAME: KEY=VALUE"),
        (vec!["pass: altitude"], "NAME: KEY=VALUE"),
        (vec![PULLEY, PULLEY], "two lines have this name"),
        (vec!["the build: a=1"], "two lines have this name"),
        (vec!["a=1", "a=2", "a=3", "a=4"], "3 lines at most"),
    ] {
        let mut arguments = vec!["line"];
        for one in beside {
            arguments.extend(["--beside", one]);
        }
        assert_refused(&Scratch::new().run(&arguments), 2, &[words]);
    }
}

#[test]
fn a_line_beside_without_any_match_is_said_and_the_others_go_on() {
    let scratch = Scratch::new();
    let stuck = "stuck: turbine.wastegate=; turbine.effective_area=0.2 cm2";
    let arguments = ["line", "--beside", stuck, "--beside", PULLEY];
    let ran = scratch.run(&arguments);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let said = "--beside stuck: no speed of the line has a match";
    assert!(ran.err.lines().any(|line| line == said), "{}", ran.err);
    assert!(ran.out.contains("no match at 1200 rpm"), "{}", ran.out);
    let strict = scratch.run(&[&arguments[..], &["--strict"]].concat());
    assert_eq!(strict.code, 3);
}

/// The demo's own line passes a limit, so that limit is taken away first.
#[test]
fn strict_counts_the_lines_beside() {
    let mut calm = vec!["line", "--strict", "--set", "limits="];
    assert_eq!(Scratch::new().run(&calm).code, 0);
    calm.extend(["--beside", PASS]);
    assert_eq!(Scratch::new().run(&calm).code, 3);
}

#[test]
fn a_line_on_another_map_is_not_drawn_on_this_one_and_that_is_said() {
    let scratch = Scratch::new();
    let map = format!("{}/maps/invented_92mm.csv", env!("CARGO_MANIFEST_DIR"));
    let beside = format!("large: turbo_compressor.map={map}");
    let ran = scratch.run(&["line", "--beside", &beside]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.err.contains("--beside large: runs on another map"),
        "{}",
        ran.err
    );
    let drawn = fs::read_to_string(scratch.as_ref().join("out/compressor_map.svg")).unwrap();
    assert!(!drawn.contains("large"));
}
