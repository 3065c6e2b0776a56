//! Map files that cannot be meant, and generous reading of those that can.

use std::fmt::Write;
use std::fs;

use super::{Ran, Scratch, kept, one_point};

const HEAD: &str = "# origin = invented
# reference_temperature = 298.15 K
# reference_pressure = 100 kPa
corrected_speed [rpm],corrected_flow [kg/s],pressure_ratio [-],efficiency [-]
";
const LINE: &str = "80000,0.060,1.52,0.66\n80000,0.085,1.50,0.71\n80000,0.110,1.44,0.73\n";
const NEXT: &str = "99000,0.085,1.93,0.67\n99000,0.115,1.90,0.73\n99000,0.145,1.80,0.76\n";

fn check(text: &str) -> Ran {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("m.csv"), text).unwrap();
    let ran = scratch.run(&["check", "m.csv"]);
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    ran
}

fn assert_fault(text: &str, words: &[&str]) {
    let ran = check(text);
    assert_eq!(ran.code, 1, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("m.csv:"), "{}", ran.err);
    for word in words {
        assert!(ran.err.contains(word), "{word:?} is not in: {}", ran.err);
    }
}

#[test]
fn the_plain_map_is_good() {
    let ran = check(&[HEAD, LINE, NEXT].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
}

#[test]
fn a_map_without_its_reference_state_shows_how_to_write_it() {
    let text = [HEAD, LINE, NEXT].concat();
    let without = text.replace("# reference_pressure = 100 kPa\n", "");
    assert_fault(&without, &["reference_pressure", "# reference_pressure = "]);
    let bare = text.replace("298.15 K", "298.15");
    assert_fault(&bare, &["m.csv:2", "reference_temperature"]);
}

#[test]
fn a_column_without_unit_or_in_an_odd_one_is_named() {
    for (file, words) in [("map_no_unit", "has no unit"), ("map_odd_unit", "[m3h]")] {
        let path = kept(&format!("cases/{file}.csv"));
        let ran = Scratch::new().run(&["check", &path]);
        assert_eq!(ran.code, 1);
        assert!(ran.err.contains("corrected_flow") && ran.err.contains(words));
    }
}

#[test]
fn one_line_and_one_point_are_answered() {
    for rows in [LINE, "80000,0.060,1.52,0.66\n", ""] {
        let ran = check(&[HEAD, rows].concat());
        assert!(ran.code <= 1, "{}", ran.err);
        if ran.code == 1 {
            assert!(ran.err.contains("m.csv:"), "{}", ran.err);
        }
    }
    assert_fault(&[HEAD, "80000,0.060,1.52,0.66\n"].concat(), &[]);
}

#[test]
fn impossible_values_name_their_row() {
    let cases = [
        ("0.085,1.50", "-0.085,1.50", "m.csv:6"),
        ("0.085,1.50", "0,1.50", "m.csv:6"),
        ("0.085,1.50", "NaN,1.50", "m.csv:6"),
        ("0.085,1.50", "inf,1.50", "m.csv:6"),
        ("0.085,1.50", "1e999,1.50", "m.csv:6"),
        ("0.085,1.50", ",1.50", "m.csv:6"),
        ("0.085,1.50", "abc,1.50", "m.csv:6"),
        ("1.44,0.73", "1.44,1.73", "m.csv:7"),
        ("1.44,0.73", "0.04,0.73", "m.csv:7"),
        ("1.44,0.73", "1.44", "m.csv:7"),
    ];
    for (from, to, place) in cases {
        let text = [HEAD, LINE, NEXT].concat().replacen(from, to, 1);
        assert_fault(&text, &[place]);
    }
}

#[test]
fn a_million_rows_are_answered_in_good_time() {
    let mut text = HEAD.to_owned();
    for i in 0..1_000_000_u32 {
        let (line, place) = (i / 1000, f64::from(i % 1000) / 1000.0);
        let speed = 40_000 + 600 * line;
        let flow = 1e-6 * f64::from(speed) * (0.8 + place);
        let _ = writeln!(
            text,
            "{speed},{flow:.6},{:.6},0.7",
            1.5 + 0.001 * f64::from(line) - 0.2 * place
        );
    }
    let start = std::time::Instant::now();
    let ran = check(&text);
    assert!(ran.code <= 1);
    assert!(!ran.err.is_empty() || ran.code == 0);
    // A minute on any machine; less than two seconds were seen on two cores.
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}

#[test]
fn rows_that_contradict_are_named_both() {
    let ran = Scratch::new().run(&["check", &kept("cases/map_conflict.csv")]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains(":13: ") && ran.err.contains("12 and 13"));
}

#[test]
fn a_comma_with_two_jobs_is_an_error_that_says_how_to_save() {
    let ran = Scratch::new().run(&["check", &kept("cases/map_comma_both.csv")]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("map_comma_both.csv:5: ") && ran.err.contains("semicolon"));
}

/// The line of the build of one point on a map, as JSON.
fn on_map(file: &str) -> serde_json::Value {
    let (build, map) = (one_point(), kept(&format!("cases/{file}.csv")));
    let efficiency = "turbo_compressor.efficiency=";
    let arguments = [
        "line", &build, "--map", &map, "--set", efficiency, "--format", "json",
    ];
    Scratch::new().run(&arguments).json()
}

/// Checks one map, as JSON.
fn understood(file: &str) -> serde_json::Value {
    let ran = Scratch::new().run(&[
        "check",
        &kept(&format!("cases/{file}.csv")),
        "--format",
        "json",
    ]);
    ran.json()["files"][0].clone()
}

#[test]
fn order_and_repeats_of_rows_do_not_matter() {
    assert_eq!(on_map("map_shuffled"), on_map("map_base"));
    assert_eq!(understood("map_shuffled")["points"], 16);
    let ran = Scratch::new().run(&["check", &kept("cases/map_shuffled.csv")]);
    assert!(ran.out.contains("16 points on 3 speed lines"));
    assert!(ran.err.contains("map_shuffled.csv:14: ") && ran.err.contains("line 7"));
}

#[test]
fn semicolons_with_decimal_commas_read_as_the_same_map() {
    assert_eq!(on_map("map_semicolon"), on_map("map_base"));
    assert_eq!(
        understood("map_semicolon")["reference_temperature_k"],
        298.15
    );
}

#[test]
fn a_map_in_us_units_reads_as_the_same_map() {
    let (base, us) = (understood("map_base"), understood("map_us"));
    // Rows carry four decimals of lb/min, the reference two of inHg.
    let close = |a: &serde_json::Value, b: &serde_json::Value| {
        let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
        assert!((a / b - 1.0).abs() < 1e-5, "{a} {b}");
    };
    close(
        &us["reference_temperature_k"],
        &base["reference_temperature_k"],
    );
    assert!((us["reference_pressure_pa"].as_f64().unwrap() - 100e3).abs() < 5.0);
    for key in [
        "speed_range_rpm",
        "flow_range_kg_s",
        "ratio_range",
        "efficiency_range",
    ] {
        for end in 0..2 {
            close(&us[key][end], &base[key][end]);
        }
    }
    let stage = |file| {
        on_map(file)["points"][0]["stages"][1]["efficiency"]
            .as_f64()
            .unwrap()
    };
    // The reference pressure is off by 1e-5, the efficiency's slope over flow is of order one.
    assert!((stage("map_us") - stage("map_base")).abs() < 1e-4);
}
