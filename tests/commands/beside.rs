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
    let both = json(&["--compare", PASS, "--compare", PULLEY]);
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
    let both = json(&["--compare", PASS]);
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
    let ran = scratch.run(&["line", "--compare", PASS, "--compare", PULLEY]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let rows: Vec<&str> = ran
        .out
        .lines()
        .skip_while(|line| !line.starts_with("comparison"))
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
    let both = run(&["--compare", PULLEY]);
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
            "--compare high: site.altitud: is unknown, did you mean altitude?",
            "--compare odd: site.temperature: 14 has no unit",
            "--compare odd: engine.strokes: ",
            "--compare gone: engine.displacement: is missing",
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
        (vec!["a=1", "a=2", "a=3", "a=4"], "at most 3 times"),
    ] {
        let mut arguments = vec!["line"];
        for one in beside {
            arguments.extend(["--compare", one]);
        }
        assert_refused(&Scratch::new().run(&arguments), 2, &[words]);
    }
}

#[test]
fn a_line_beside_without_any_match_is_said_and_the_others_go_on() {
    let scratch = Scratch::new();
    let stuck = "stuck: turbine.wastegate=; turbine.effective_area=0.6 cm2";
    let arguments = ["line", "--compare", stuck, "--compare", PULLEY];
    let ran = scratch.run(&arguments);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let said = "--compare stuck: no speed of the line has a match";
    assert!(ran.err.lines().any(|line| line == said), "{}", ran.err);
    assert!(ran.out.contains("no match at 1200 rpm"), "{}", ran.out);
    let strict = scratch.run(&[&arguments[..], &["--strict"]].concat());
    assert_eq!(strict.code, 3);
}

/// The demo's own line passes limits of the build, which are taken away first, and a rule of thumb
/// for the air behind the compressor, which less boost keeps.
#[test]
fn strict_counts_the_lines_beside() {
    let boost = "turbine.wastegate.boost_limit=170 kPa";
    let mut calm = vec!["line", "--strict", "--set", "limits=", "--set", boost];
    assert_eq!(Scratch::new().run(&calm).code, 0);
    calm.extend(["--compare", PASS]);
    assert_eq!(Scratch::new().run(&calm).code, 3);
}

#[test]
fn a_line_on_another_map_is_not_drawn_on_this_one_and_that_is_said() {
    let scratch = Scratch::new();
    let map = format!("{}/maps/invented_92mm.csv", env!("CARGO_MANIFEST_DIR"));
    let beside = format!("large: turbo_compressor.map={map}");
    let ran = scratch.run(&["line", "--compare", &beside]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.err.contains("--compare large: runs on another map"),
        "{}",
        ran.err
    );
    let drawn = fs::read_to_string(scratch.as_ref().join("out/compressor_map.svg")).unwrap();
    assert!(!drawn.contains("large"));
}

#[test]
fn power_torque_and_temperatures_stand_beside_each_other_on_one_screen() {
    let scratch = Scratch::new();
    let long = "the next event, on a hot day and with the smaller of the two pulleys: \
                site.temperature=38 degC; supercharger.drive_ratio=2.0";
    for units in ["si", "us"] {
        let ran = scratch.run(&[
            "line",
            "--compare",
            long,
            "--compare",
            PASS,
            "--units",
            units,
        ]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        let from = ran.out.find("comparison").unwrap();
        let to = ran.out.find("Findings, worst first").unwrap();
        let tables = ran.out[from..to].lines();
        let tables: Vec<&str> = tables
            .take_while(|line| !line.contains(": site."))
            .collect();
        for wanted in ["power", "torque", "hottest charge", "hottest exhaust"] {
            assert!(tables.iter().any(|line| line.contains(wanted)), "{wanted}");
        }
        for line in tables {
            assert!(line.chars().count() <= 100, "{line}");
        }
    }
}

/// The figures are the points' own, looked for here in the points of the same output.
#[test]
fn the_largest_power_and_the_hottest_charge_are_those_of_the_points() {
    let both = json(&["--compare", PASS]);
    for line in [&both, &both["variants"][0]] {
        let points = line["points"].as_array().unwrap();
        let largest =
            |value: &dyn Fn(&Value) -> f64| points.iter().map(value).fold(f64::MIN, f64::max);
        let station = |name: &'static str| {
            move |point: &Value| {
                let stations = point["stations"].as_array().unwrap();
                let found = stations.iter().find(|station| station["name"] == name);
                found.unwrap()["temperature_k"].as_f64().unwrap()
            }
        };
        let engine =
            |key: &'static str| move |point: &Value| point["engine"][key].as_f64().unwrap();
        for (key, wanted) in [
            ("largest_brake_power_w", largest(&engine("brake_power_w"))),
            ("largest_torque_n_m", largest(&engine("torque_n_m"))),
            ("hottest_charge_k", largest(&station("manifold"))),
            ("hottest_exhaust_k", largest(&station("turbine inlet"))),
        ] {
            let found = line["summary"][key].as_f64().unwrap();
            // The first of equals is named, and equal is to a billionth.
            assert!((found / wanted - 1.0).abs() < 2e-9, "{key}");
        }
        assert_eq!(line["summary"]["surge_margin_stage"], "turbo compressor");
    }
}

#[test]
fn of_several_stages_with_maps_the_one_of_a_margin_is_named() {
    let build = super::kept("cases/build_wheel_and_turbo.toml");
    let scratch = Scratch::new();
    let faster = "faster belt: supercharger.drive_ratio=32; limits.min_surge_margin=0.75";
    let ran = scratch.run(&["line", &build, "--compare", faster]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let table = &ran.out[ran.out.find("comparison").unwrap()..];
    let table: Vec<&str> = table.lines().take(8).collect();
    assert!(
        table
            .iter()
            .any(|line| line.contains("supercharger") && line.contains("turbo compressor")),
        "{table:?}"
    );
    // Both fall below that margin, and each is named.
    for stage in ["supercharger", "turbo compressor"] {
        let words = format!("surge margin ({stage}) at ");
        assert!(ran.joined().contains(&words), "{words}: {}", ran.out);
    }
}

#[test]
fn margins_that_hold_are_named_by_their_stage_too() {
    let build = super::kept("cases/build_wheel_and_turbo.toml");
    let ran = Scratch::new().run(&["line", &build]);
    let out = ran.joined();
    let within = out.split("within limits: ").nth(1).unwrap();
    for stage in ["supercharger", "turbo compressor"] {
        assert!(
            within.contains(&format!("surge margin ({stage})")),
            "{within}"
        );
    }
    // The demo has one map: no stage is named where there is nothing to tell apart.
    let demo = Scratch::new().run(&["line"]).joined();
    let within = demo.split("within limits: ").nth(1).unwrap();
    assert!(
        within.contains("surge margin") && !within.contains("surge margin ("),
        "{within}"
    );
}
