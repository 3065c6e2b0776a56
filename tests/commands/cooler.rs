//! `cooler`: state, margin and size needed, from outside.

use std::fs;

use serde_json::Value;

use super::{Ran, Scratch, assert_refused, kept, names, one_point};

/// `cooler` with these arguments.
fn cooler(arguments: &[&str]) -> Ran {
    let mut all = vec!["cooler"];
    all.extend(arguments);
    Scratch::new().run(&all)
}

fn json(arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json"]);
    cooler(&all).json()
}

#[test]
fn the_demo_says_how_much_is_missing_and_draws_two_pictures() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["cooler"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    for words in [
        "The cooler, cooled by air",
        "Short by 6.5 % of the effectiveness it needs",
        "above the 60.0 °C target (max_charge_temperature)",
        "most heat, hottest charge",
        "with the cooler taken out, re-solved",
        "effectiveness: 80.2 % instead of 75.0 %",
        "Core depth is worthwhile up to about",
    ] {
        assert!(
            ran.joined().contains(words),
            "{words:?} is not in: {}",
            ran.out
        );
    }
    let drawn = names(scratch.as_ref().join("out"));
    assert_eq!(drawn, ["cooler.svg", "cooler_depth.svg"]);
}

#[test]
fn what_is_said_to_be_needed_is_enough_when_it_is_set() {
    let needed = json(&[])["sizes"][0]["needed"].as_f64().unwrap();
    let set = format!("cooler.effectiveness={}", needed + 1e-6);
    let verdict = json(&["--set", &set])["target"]["verdict"].clone();
    assert_eq!(verdict, "enough");
    let set = format!("cooler.effectiveness={}", needed - 1e-4);
    let verdict = json(&["--set", &set])["target"]["verdict"].clone();
    assert_eq!(verdict, "short");
}

#[test]
fn a_target_is_understood_in_every_unit_and_stands_before_the_builds_limit() {
    let si = json(&["--target", "55 degC"]);
    assert_eq!(si["target"]["from"], "--target");
    for same in ["131 degF", "328.15 K", "55degC"] {
        let other = json(&["--target", same]);
        let key = |value: &Value| value["target"]["charge_temperature_k"].as_f64().unwrap();
        assert!((key(&si) - key(&other)).abs() < 1e-9, "{same}");
        let needed = |value: &Value| value["sizes"][0]["needed"].as_f64().unwrap();
        assert!((needed(&si) - needed(&other)).abs() < 1e-9, "{same}");
    }
}

/// "from 75.0 % to 80.2 %" within a page: the second figure.
fn advised(page: &str) -> &str {
    let (_, rest) = page
        .split_once("the effectiveness of the cooler from ")
        .unwrap_or_else(|| panic!("no advice in: {page}"));
    let (_, rest) = rest.split_once(" % to ").unwrap();
    rest.split_once(" %").unwrap().0
}

#[test]
fn line_and_cooler_name_one_effectiveness() {
    for limit in ["60 degC", "55 degC"] {
        let set = format!("limits.max_charge_temperature={limit}");
        let needed = json(&["--set", &set])["sizes"][0]["needed"]
            .as_f64()
            .unwrap();
        // To the side that keeps the limit.
        let figure = format!("{:.1}", (1000.0 * needed).ceil() / 10.0);
        let line = Scratch::new().run(&["line", "--set", &set]);
        assert_eq!(advised(&line.out), figure);
        assert_eq!(advised(&cooler(&["--set", &set]).out), figure);
    }
}

#[test]
fn a_cooler_that_is_enough_is_not_told_to_be_too_small() {
    for target in ["69 degC", "75 degC"] {
        let ran = cooler(&["--target", target]);
        assert!(ran.joined().contains("Enough:"), "{}", ran.out);
        for words in ["No cooler", "cannot hold", "Raise the effectiveness"] {
            assert!(!ran.joined().contains(words), "{words:?} in: {}", ran.out);
        }
        assert!(ran.joined().contains("falls from 75.0 %"), "{}", ran.out);
    }
}

/// The verdict and the findings below it speak of the same limit.
#[test]
fn a_charge_that_is_too_hot_stands_among_the_findings_too() {
    let ran = cooler(&[]);
    let line = "over: charge temperature at 3200 rpm: 68.4 °C, at most 60.0 (8.4 K beyond)";
    assert!(ran.joined().contains(line), "{}", ran.out);
    let near = cooler(&["--target", "70 degC"]);
    let line = "near: charge temperature at 3200 rpm: 68.4 °C, at most 70.0 (1.6 K left)";
    assert!(
        near.out.contains("Enough:") && near.out.contains(line),
        "{}",
        near.out
    );
    let found = &json(&["--target", "55 degC"])["findings"][0];
    assert_eq!(found["code"], "charge_temperature");
    assert_eq!(found["severity"], "over");
    assert!((found["limit"].as_f64().unwrap() - 328.15).abs() < 1e-9);
    let none = json(&["--set", "limits.max_charge_temperature="]);
    let codes = none["findings"].as_array().unwrap();
    assert!(
        codes
            .iter()
            .all(|found| found["code"] != "charge_temperature")
    );
}

#[test]
fn a_target_without_unit_or_out_of_the_world_is_a_wrong_command_line() {
    assert_refused(&cooler(&["--target", "60"]), 2, &["--target", "no unit"]);
    let us = cooler(&["--target", "9999 degF", "--units", "us"]);
    assert_refused(&us, 2, &["--target", "outside -99.67 degF to 800.3 degF"]);
    assert_refused(&cooler(&["--target", "60 kPa"]), 2, &["--target"]);
    assert_refused(
        &cooler(&["--target", "-200 degC"]),
        2,
        &["--target", "outside"],
    );
    assert_refused(&cooler(&["--target", "nan degC"]), 2, &["--target"]);
}

#[test]
fn without_a_target_the_state_is_shown_and_nothing_is_called_enough() {
    let ran = cooler(&["--set", "limits.max_charge_temperature="]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.joined().contains("No target:"), "{}", ran.out);
    let json = json(&["--set", "limits.max_charge_temperature="]);
    assert!(json.get("target").is_none());
    assert_eq!(json["sizes"].as_array().unwrap().len(), 0);
}

#[test]
fn a_target_at_the_cooling_airs_temperature_is_out_of_reach() {
    for target in ["24 degC", "10 degC"] {
        let ran = cooler(&["--target", target, "--strict"]);
        assert_eq!(ran.code, 3);
        assert!(ran.joined().contains("Out of reach:"), "{}", ran.out);
        assert!(
            ran.joined().contains("No cooler size reaches it"),
            "{}",
            ran.out
        );
        let json = json(&["--target", target]);
        assert_eq!(json["target"]["verdict"], "out of reach");
        assert!(json["target"].get("short_by").is_none());
        let size = &json["sizes"][0];
        assert!(size.get("needed").is_none());
        let coldest = size["coldest_k"].as_f64().unwrap();
        assert!((coldest - 297.15).abs() < 1e-6, "{coldest}");
    }
}

#[test]
fn strict_objects_to_a_short_cooler_and_not_to_one_that_is_enough() {
    assert_eq!(cooler(&["--strict"]).code, 3);
    let enough = cooler(&["--strict", "--target", "90 degC"]);
    assert_eq!(enough.code, 0, "{}", enough.err);
    assert!(enough.out.contains("Enough:"), "{}", enough.out);
    assert!(enough.out.contains("of its effectiveness"));
}

#[test]
fn a_build_without_cooler_shows_how_to_write_one() {
    // The part under the last heading of its kind, up to the next heading.
    let text = fs::read_to_string(one_point()).unwrap();
    let (ahead, rest) = text.split_once("[[air_path]]\npart = \"cooler\"").unwrap();
    let behind = rest.find("\n[").map_or("", |at| &rest[at..]);
    let scratch = Scratch::new();
    fs::write(
        scratch.as_ref().join("bare.toml"),
        format!("{ahead}{behind}"),
    )
    .unwrap();
    assert_refused(
        &scratch.run(&["cooler", "bare.toml"]),
        1,
        &[
            "bare.toml: air_path: this build has no cooler",
            "[[air_path]]\npart = \"cooler\"\neffectiveness = 0.70",
        ],
    );
}

#[test]
fn of_two_coolers_the_last_is_meant_unless_another_is_named() {
    let build = kept("builds/two_turbos.toml");
    let last = json(&[&build, "--target", "60 degC"]);
    assert_eq!(last["cooler"], "cooler 2");
    assert_eq!(last["other_coolers"][0], "cooler");
    let first = json(&[&build, "--target", "60 degC", "--cooler", "1"]);
    assert_eq!(first["cooler"], "cooler");
    let at = |report: &Value, key: &str| report["hardest"][key].as_f64().unwrap();
    // Between the stages the charge is not yet what reaches the engine.
    let behind = at(&first, "outlet_temperature_k");
    assert!((behind - at(&first, "charge_temperature_k")).abs() > 1.0);
    // Both are held against the same line.
    assert_eq!(
        last["target"]["points_over"],
        first["target"]["points_over"]
    );
    assert!(at(&first, "effectiveness") < at(&last, "effectiveness"));
    assert_refused(
        &cooler(&[&build, "--cooler", "3"]),
        2,
        &["--cooler 3", "2 coolers"],
    );
    assert_refused(&cooler(&[&build, "--cooler", "0"]), 2, &["--cooler 0"]);
}

#[test]
fn us_units_show_the_same_state() {
    let ran = cooler(&["--units", "us"]);
    assert!(ran.joined().contains("155.2 °F (3200 rpm)"), "{}", ran.out);
    for unit in ["[°F]", "[psi]", "[lb/min]", "[hp]", "lb/ft³"] {
        assert!(ran.joined().contains(unit), "{unit} is not in: {}", ran.out);
    }
    // A difference of temperatures never carries the 32.
    assert!(
        ran.joined().contains("15.2 °F above the 140.0 °F"),
        "{}",
        ran.out
    );
}

#[test]
fn csv_has_a_row_for_every_speed_of_the_line() {
    let ran = cooler(&["--format", "csv"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let mut lines = ran.out.lines();
    let header = lines.next().unwrap();
    for column in [
        "rpm",
        "effectiveness",
        "heat_w",
        "without.air_mass_flow_kg_s",
        "air_gain",
    ] {
        assert!(header.split(',').any(|name| name == column), "{header}");
    }
    let points = json(&[])["points"].as_array().unwrap().len();
    assert_eq!(lines.count(), points);
}

#[test]
fn a_run_without_a_store_names_the_keys_that_give_one() {
    let ran = cooler(&["--seconds", "60"]);
    assert_refused(&ran, 1, &["cooler: --seconds", "metal_mass", "tank_volume"]);
}

#[test]
fn options_of_a_run_that_cannot_be_meant_are_a_wrong_command_line() {
    for wrong in [
        &["--hold", "2000"][..],
        &["--swept"],
        &["--start-temperature", "20 degC"],
        &["--seconds", "0"],
        &["--seconds", "-3"],
        &["--seconds", "inf"],
        &["--seconds", "10", "--hold", "0"],
        &["--seconds", "10", "--hold", "2000", "--swept"],
    ] {
        let ran = cooler(wrong);
        assert_eq!(
            (ran.code, ran.out.as_str()),
            (2, ""),
            "{wrong:?}: {}",
            ran.err
        );
    }
}

#[test]
fn an_ice_tank_holds_until_its_ice_is_gone_and_the_run_says_when_the_target_is_passed() {
    let build = kept("builds/ice_tank.toml");
    let scratch = Scratch::new();
    let ran = scratch.run(&["cooler", &build, "--seconds", "90"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    for words in [
        "The cooler, cooled by water",
        "Enough:",
        "A run of 90 s at full load, held at 3200 rpm: the charge exceeds 50.0 °C at ",
        "The last ice melted at ",
        "the water took ",
    ] {
        assert!(
            ran.joined().contains(words),
            "{words:?} is not in: {}",
            ran.out
        );
    }
    let drawn = names(scratch.as_ref().join("out"));
    assert_eq!(drawn, ["cooler.svg", "cooler_depth.svg", "soak.svg"]);
    // The cooler is enough as it stands, and not for so long.
    let strict = |seconds| cooler(&[&build, "--seconds", seconds, "--strict"]).code;
    assert_eq!((strict("20"), strict("90")), (0, 3));
}

#[test]
fn a_run_is_held_or_swept_and_starts_as_warm_as_it_is_told() {
    let metal = ["--set", "cooler.metal_mass=6 kg"];
    let run = |more: &[&str]| json(&[&metal[..], more].concat())["run"].clone();
    let held = run(&["--seconds", "20", "--hold", "1800"]);
    assert_eq!(held["speed"], "held");
    let rows = held["rows"].as_array().unwrap();
    assert!(rows.iter().all(|row| row["rpm"] == 1800.0));
    let hot = run(&[
        "--seconds",
        "20",
        "--swept",
        "--start-temperature",
        "176 degF",
    ]);
    assert_eq!(hot["speed"], "swept");
    let rows = hot["rows"].as_array().unwrap();
    assert_eq!(rows[0]["rpm"], 1200.0);
    assert_eq!(rows.last().unwrap()["rpm"], 3200.0);
    let core = rows[0]["core_temperature_k"].as_f64().unwrap();
    assert!((core - 353.15).abs() < 1e-9, "{core}");
    assert!(rows[0].get("water_temperature_k").is_none());
}

#[test]
fn a_core_is_told_its_face_in_square_metres_and_its_depth_in_metres() {
    let build = kept("builds/ram_air_core.toml");
    let report = json(&[&build]);
    let sizes = report["sizes"].as_array().unwrap();
    let face = sizes.iter().find(|size| size["what"] == "face").unwrap();
    assert_eq!(face["unit"], "m2");
    assert!((face["have"].as_f64().unwrap() - 0.6 * 0.3).abs() < 1e-12);
    assert!((report["depths"]["build_depth_m"].as_f64().unwrap() - 0.065).abs() < 1e-12);
    assert_eq!(report["depths"]["assumed"], false);
}

#[test]
fn a_cooling_side_hotter_than_the_charge_is_better_left_out() {
    let arguments = [
        "--set",
        "cooler.sink_temperature=340 degC",
        "--target",
        "320 degC",
    ];
    let ran = cooler(&arguments);
    assert!(ran.joined().contains("Better without it: "), "{}", ran.out);
    assert!(
        ran.joined().contains("effectiveness: none is needed"),
        "{}",
        ran.out
    );
    let report = json(&arguments);
    assert_eq!(report["target"]["verdict"], "better without");
    for point in report["points"].as_array().unwrap() {
        let of = |key: &str| point[key].as_f64().unwrap();
        assert!(of("heat_w") < 0.0 && of("outlet_temperature_k") > of("inlet_temperature_k"));
    }
}

#[test]
fn a_core_that_is_denser_again_past_the_depth_that_pays_is_said() {
    let ran = cooler(&[&kept("builds/ram_air_core.toml")]);
    let words = "Past it the density falls and rises again, to ";
    assert!(ran.joined().contains(words), "{}", ran.out);
    let demo = cooler(&[]);
    assert!(!demo.joined().contains(words), "{}", demo.out);
}

#[test]
fn cooling_air_that_stands_at_some_speeds_is_short_by_all_of_it_and_said() {
    let build = kept("builds/ram_air_core.toml");
    let speeds = "cooler.vehicle_speed=[[1400, \"0 km/h\"], [1600, \"90 km/h\"]]";
    let ran = cooler(&[&build, "--set", speeds]);
    assert!(ran.joined().contains("Short by 100.0 %"), "{}", ran.out);
    assert!(
        ran.joined().contains("charge cooler short of cooling flow"),
        "{}",
        ran.out
    );
    let unreachable = ran.joined().matches("no finite size reaches it").count();
    assert_eq!(unreachable, 3, "{}", ran.out);
}
