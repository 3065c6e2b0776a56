//! `--set`: values laid over a build.

use super::{Scratch, assert_refused, number, one_point, point_with};

#[test]
fn values_are_taken_from_left_to_right() {
    let ratio = |set: &[&str]| {
        number(
            &point_with(set).json(),
            "stages",
            "supercharger",
            "pressure_ratio",
        )
    };
    let (low, high) = (
        "supercharger.pressure_ratio=1.2",
        "supercharger.pressure_ratio=1.3",
    );
    assert!((ratio(&[low, high]) - 1.3).abs() < 1e-12);
    assert!((ratio(&[high, low]) - 1.2).abs() < 1e-12);
}

#[test]
fn an_empty_value_removes_the_key_with_what_it_overrode() {
    let set = ["fuel.air_fuel_ratio=", "fuel.lambda=1.7"];
    let point = point_with(&set).json();
    assert!((point["lambda"].as_f64().unwrap() - 1.7).abs() < 1e-9);
    let missing = point_with(&["engine.displacement="]);
    assert_refused(
        &missing,
        1,
        &["--set engine.displacement: is missing", "e.g."],
    );
    let twice = point_with(&["site.altitude=900 m", "site.altitude="]).json();
    let plain = point_with(&[]).json();
    assert_eq!(twice, plain);
}

#[test]
fn a_removed_table_is_gone() {
    let point = point_with(&["fuel="]).json();
    assert!(point.get("fuel_mass_flow_kg_s").is_none());
    assert!(point["engine"].get("brake_power_w").is_none());
}

#[test]
fn parts_are_named_by_their_word_and_number() {
    let build = one_point();
    let bare = point_with(&["supercharger.pressure_ratio=1.25"]).json();
    let numbered = point_with(&["supercharger.1.pressure_ratio=1.25"]).json();
    assert_eq!(bare, numbered);
    let two_turbos = super::kept("builds/two_turbos.toml");
    let run = |set: &str| {
        let arguments = ["point", &two_turbos, "--rpm", "2200", "--format", "json"];
        Scratch::new().run(&[&arguments[..], &["--set", set]].concat())
    };
    let (plain, second) = (
        run("turbo_compressor.1.efficiency=0.70").json(),
        run("turbo_compressor.2.efficiency=0.70").json(),
    );
    let efficiency = |point, name| number(point, "stages", name, "efficiency");
    assert!((efficiency(&plain, "turbo compressor") - 0.70).abs() < 1e-9);
    assert!((efficiency(&second, "turbo compressor 2") - 0.70).abs() < 1e-9);
    assert!((efficiency(&second, "turbo compressor") - 0.70).abs() > 1e-3);
    let third = run("turbo_compressor.3.efficiency=0.70");
    assert_refused(
        &third,
        1,
        &["--set turbo_compressor.3.efficiency: ", "has 2"],
    );
    let none = Scratch::new().run(&["check", &build, "--set", "duct.bends=2"]);
    assert_eq!(none.code, 1);
    assert!(none.err.contains("--set duct.bends: "));
}

#[test]
fn a_value_is_toml_where_it_is_toml_and_text_otherwise() {
    let pressure = |set: &str| {
        number(
            &point_with(&[set]).json(),
            "stations",
            "ambient",
            "pressure_pa",
        )
    };
    // A shell hands over the quotes or takes them away.
    assert_eq!(
        pressure("site.pressure=97 kPa").to_bits(),
        pressure("site.pressure=\"97 kPa\"").to_bits()
    );
    let table = "engine.volumetric_efficiency=[[1000, 0.80], [3000, 0.90]]";
    let point = point_with(&[table]).json();
    let filled = point["engine"]["volumetric_efficiency"].as_f64().unwrap();
    assert!((filled - 0.85).abs() < 1e-12, "straight between the rows");
    let range = "engine.rpm={ from = 1500, to = 2500, step = 500 }";
    let build = one_point();
    let line = Scratch::new().run(&["line", &build, "--set", range, "--format", "json"]);
    assert_eq!(line.json()["points"].as_array().unwrap().len(), 3);
    let share = point_with(&["cooler.effectiveness=70 %"]).json();
    assert!((number(&share, "coolers", "cooler", "effectiveness") - 0.70).abs() < 1e-12);
}

#[test]
fn an_equals_sign_in_a_value_stays_in_it() {
    let point = point_with(&["title=a = b"]).json();
    assert_eq!(point["title"], "a = b");
}

#[test]
fn a_fault_stands_at_the_option_that_made_it() {
    let cases: [(&str, &[&str]); 8] = [
        (
            "engine.displacment=4 L",
            &["is unknown, did you mean displacement?"],
        ),
        ("engne.displacement=4 L", &["engine"]),
        ("engine.displacement=4.2", &["has no unit", "4.2 L"]),
        ("engine.displacement=4 furlongs", &["furlongs"]),
        ("engine.displacement=4 psi", &["psi"]),
        ("engine.strokes=3", &["expected 4 (four-stroke) or 2"]),
        (
            "supercharger.pressure_ratio=1e999",
            &["not a finite number"],
        ),
        ("fuel.kind=coal", &["diesel"]),
    ];
    for (set, words) in cases {
        let ran = point_with(&[set]);
        let key = set.split('=').next().unwrap();
        let place = format!("--set {key}: ");
        assert!(
            ran.err.lines().any(|line| line.starts_with(&place)),
            "{set}: {}",
            ran.err
        );
        assert_refused(&ran, 1, words);
    }
}

#[test]
fn all_faults_of_the_options_come_in_one_run() {
    let ran = point_with(&["engine.strokes=3", "site.temperature=-300 degC"]);
    assert_refused(
        &ran,
        1,
        &["--set engine.strokes: ", "--set site.temperature: "],
    );
}

#[test]
fn an_old_name_of_a_key_is_read_and_says_the_new_one() {
    let by = |option: &str| {
        let ran = super::Scratch::new().run(&[
            "point", "--rpm", "2600", "--format", "json", "--set", option,
        ]);
        let air = ran.json()["air_mass_flow_kg_s"].as_f64().unwrap();
        (air, ran.err)
    };
    let (old, said) = by("engine.measured_at_drive_ratio=1.2");
    let (new, _) = by("engine.measured_at_exhaust_pressure_ratio=1.2");
    assert!((old - new).abs() < 1e-15, "{old} {new}");
    assert!((old - by("engine.strokes=4").0).abs() > 1e-4);
    let remark = "engine.measured_at_drive_ratio: is now called measured_at_exhaust_pressure_ratio";
    assert!(said.contains(remark), "{said}");
}
