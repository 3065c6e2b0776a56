//! Runs whose right answers are known from outside: the value, and what the usual slip gives.

use super::{Scratch, assert_refused, kept, named, number, point_with};

/// Whether a value lies within a distance of the right one.
fn near(found: f64, right: f64, distance: f64) {
    assert!(
        (found - right).abs() <= distance,
        "{found} for {right} ± {distance}"
    );
}

/// 265 kPa less the 84 kPa of the site are 181 kPa of boost; the slip gives 349 kPa.
#[test]
fn a_limit_of_manifold_pressure_is_absolute_and_one_of_boost_is_above_the_site() {
    let set = [
        "site.pressure=84 kPa",
        "site.altitude=",
        "turbine.wastegate.boost_limit=181 kPa",
        "limits.max_manifold_pressure=265 kPa",
    ];
    let mut arguments = vec!["point", "--rpm", "3000", "--format", "json"];
    for value in set {
        arguments.extend(["--set", value]);
    }
    let point = Scratch::new().run(&arguments).json();
    let pressure = |name| number(&point, "stations", name, "pressure_pa");
    near(pressure("manifold"), 265_000.0, 1.0);
    near(pressure("manifold") - pressure("ambient"), 181_000.0, 1.0);
    near(pressure("manifold") / pressure("ambient"), 3.1548, 1e-4);
    let findings = point["findings"].as_array().unwrap();
    let found = findings
        .iter()
        .find(|f| f["code"] == "manifold_pressure")
        .unwrap();
    assert_eq!(found["severity"], "near", "{found}");
    near(found["value"].as_f64().unwrap(), 265_000.0, 1.0);
    near(found["limit"].as_f64().unwrap(), 265_000.0, 1e-6);
}

/// Standard atmosphere: a factor of 0.82341 at 1609.34 m, times 30.12 inHg.
#[test]
fn a_sea_level_barometer_high_up_is_refused_with_the_pressure_it_stands_for() {
    let ran = point_with(&["site.pressure=30.12 inHg", "site.altitude=5280 ft"]);
    assert_refused(
        &ran,
        1,
        &["24.64 inHg", "24.8 inHg", "22 %", "reduced to sea level"],
    );
    let set = [
        "site.pressure=83.99 kPa",
        "site.altitude=5280 ft",
        "site.temperature=25 degC",
    ];
    let point = point_with(&set).json();
    near(
        number(&point, "stations", "ambient", "pressure_pa"),
        83_990.0,
        1e-6,
    );
    near(
        number(&point, "stations", "ambient", "density_kg_m3"),
        0.9814,
        5e-4,
    );
    let standard = point_with(&["site.pressure=", "site.altitude=5280 ft"]).json();
    near(
        number(&standard, "stations", "ambient", "pressure_pa"),
        83_430.0,
        50.0,
    );
}

#[test]
fn a_site_of_unknown_height_says_what_it_assumes() {
    let ran = point_with(&["site.pressure="]);
    assert_eq!(ran.code, 0);
    assert!(
        ran.err.contains("site.altitude: not set; using sea level"),
        "{}",
        ran.err
    );
}

/// Enthalpy differences of dry air (Cantera): 0.30 kg/s from 353 K to 430 K and down to 325 K.
#[test]
fn a_stages_power_is_taken_from_its_own_outlet() {
    let run = |first: f64, second: f64| {
        let efficiencies = [
            format!("supercharger.efficiency={first}"),
            format!("turbo_compressor.efficiency={second}"),
        ];
        let common = [
            "site.temperature=300 K",
            "cooler.sink_temperature=290 K",
            "cooler.effectiveness=0.75",
            &efficiencies[0],
            &efficiencies[1],
        ];
        point_with(&common).json()
    };
    let outlet = |point: &serde_json::Value, stage: &str| {
        number(
            point,
            "stations",
            &format!("{stage} outlet"),
            "temperature_k",
        )
    };
    // The efficiencies that bring the air to 353 K and to 430 K.
    let first = halved(|first| outlet(&run(first, 0.7), "supercharger") > 353.0);
    let second = halved(|second| outlet(&run(first, second), "compressor") > 430.0);
    let point = run(first, second);
    near(outlet(&point, "supercharger"), 353.0, 1e-3);
    near(outlet(&point, "compressor"), 430.0, 1e-3);
    near(outlet(&point, "cooler"), 325.0, 1e-3);
    let scale = 0.30 / point["air_mass_flow_kg_s"].as_f64().unwrap();
    let power = number(&point, "stages", "turbo compressor", "power_w");
    near(scale * power, 23_430.0, 100.0);
    near(
        scale * number(&point, "coolers", "cooler", "heat_w"),
        31_900.0,
        100.0,
    );
}

/// The efficiency at which an answer turns from yes to no.
fn halved(is_too_low: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.4, 1.0);
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        if is_too_low(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// 1 in3 is 16.387064 mL by definition.
#[test]
fn cubic_inches_are_exact() {
    let swept = |displacement: &str| {
        let build = super::one_point();
        let set = format!("engine.displacement={displacement}");
        let arguments = [
            "point", &build, "--rpm", "2600", "--format", "json", "--set", &set,
        ];
        let point = Scratch::new().run(&arguments).json();
        let density = number(&point, "stations", "manifold", "density_kg_m3");
        let filled = point["engine"]["volumetric_efficiency"].as_f64().unwrap();
        point["air_mass_flow_kg_s"].as_f64().unwrap() / density / filled
    };
    near(swept("373 in3"), 0.132_434_8, 1e-6 * 0.1325);
    near(swept("373 in3") / swept("6.112374872 L"), 1.0, 1e-9);
    near(swept("1728 in3") / swept("1 ft3"), 1.0, 1e-12);
}

#[test]
fn a_displacement_without_its_unit_is_refused_at_its_line() {
    let build = kept("cases/build_bare_number.toml");
    let ran = Scratch::new().run(&["check", &build]);
    assert_eq!(ran.code, 1);
    let fault = format!("{build}:10: engine.displacement: ");
    let line = ran
        .err
        .lines()
        .find(|line| line.starts_with(&fault))
        .unwrap();
    assert!(line.contains("4.2 L"), "{line}");
}

/// Cantera on the given stages (CoolProp has 346.60 K and 422.73 K).
#[test]
fn one_point_of_given_stages_has_canteras_temperatures() {
    let build = kept("cases/build_one_point.toml");
    let json = Scratch::new()
        .run(&["line", &build, "--format", "json"])
        .json();
    assert_eq!(json["points"].as_array().unwrap().len(), 1);
    let point = &json["points"][0];
    let temperature = |name| number(point, "stations", name, "temperature_k");
    near(
        number(point, "stations", "compressor outlet", "pressure_pa"),
        238e3,
        1e-6,
    );
    near(temperature("supercharger outlet"), 346.6, 0.3);
    near(temperature("compressor outlet"), 422.6, 0.3);
    near(temperature("cooler outlet"), 335.5, 0.3);
    near(
        number(point, "stages", "supercharger", "split_share"),
        0.3880,
        5e-5,
    );
    // What has no number is not there.
    for absent in [
        "shaft_power_w",
        "speed_rpm",
        "bypass_share",
        "corrected_flow_kg_s",
    ] {
        assert!(
            named(point, "stages", "supercharger").get(absent).is_none(),
            "{absent}"
        );
    }
    assert!(point.get("steepness").is_none());
    assert_eq!(point["turbines"], serde_json::json!([]));
}

/// ln 1.4 over ln(1.4 × 1.7); with no pressure rise there is nothing to share.
#[test]
fn a_split_of_nothing_is_left_out() {
    let set = [
        "supercharger.pressure_ratio=1",
        "turbo_compressor.pressure_ratio=1",
    ];
    let point = point_with(&set).json();
    for name in ["supercharger", "turbo compressor"] {
        let stage = named(&point, "stages", name);
        assert!(
            stage.get("split_share").is_none() && stage.get("efficiency").is_none(),
            "{stage}"
        );
    }
    let set = [
        "supercharger.pressure_ratio=0.9",
        "turbo_compressor.pressure_ratio=1.7",
    ];
    let share = number(
        &point_with(&set).json(),
        "stages",
        "supercharger",
        "split_share",
    );
    near(share, 0.9_f64.ln() / (0.9_f64 * 1.7).ln(), 1e-12);
}

/// The demo at a speed with values set.
fn demo_point(rpm: &str, set: &[&str]) -> serde_json::Value {
    let mut arguments = vec!["point", "--rpm", rpm, "--format", "json"];
    for value in set {
        arguments.extend(["--set", value]);
    }
    Scratch::new().run(&arguments).json()
}

#[test]
fn a_mechanical_efficiency_divides_what_is_asked_for() {
    let point = demo_point("1600", &[]);
    let turbine = number(&point, "turbines", "turbine", "power_w");
    let compressor = number(&point, "stages", "turbo compressor", "power_w");
    near(turbine * 0.96 / compressor, 1.0, 1e-9);
    let stage = |key| number(&point, "stages", "supercharger", key);
    near(stage("power_w") / 0.96 / stage("shaft_power_w"), 1.0, 1e-12);
    near(
        stage("shaft_power_w") / 0.97 / stage("crank_power_w"),
        1.0,
        1e-12,
    );
}

#[test]
fn a_lower_efficiency_never_raises_boost_or_brake_power() {
    let keys = [
        ("supercharger.mechanical_efficiency", 0.96),
        ("supercharger.drive_efficiency", 0.97),
        ("turbine.mechanical_efficiency", 0.96),
        ("turbine.efficiency", 0.68),
    ];
    for rpm in ["1600", "2400"] {
        let plain = demo_point(rpm, &[]);
        for (key, value) in keys {
            let less = demo_point(rpm, &[&format!("{key}={}", 0.9 * value)]);
            let boost = |p| number(p, "stations", "manifold", "pressure_pa");
            let brake = |p: &serde_json::Value| p["engine"]["brake_power_w"].as_f64().unwrap();
            // To the tolerance of the balances, 1e-9.
            assert!(
                boost(&less) <= boost(&plain) * (1.0 + 1e-8),
                "{key} at {rpm}"
            );
            assert!(
                brake(&less) <= brake(&plain) * (1.0 + 1e-8),
                "{key} at {rpm}"
            );
        }
    }
}

#[test]
fn two_strokes_swallow_every_turn_and_three_are_refused() {
    let flow = |set: &[&str]| {
        let point = point_with(set).json();
        point["air_mass_flow_kg_s"].as_f64().unwrap()
    };
    near(flow(&["engine.strokes=2"]) / flow(&[]), 2.0, 1e-9);
    assert_refused(&point_with(&["engine.strokes=3"]), 1, &["expected 4"]);
}
