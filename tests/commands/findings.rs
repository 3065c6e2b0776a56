//! Findings and their advice, from outside.

use serde_json::Value;

use super::{Ran, Scratch};

/// `line` on the demo with these settings.
fn line(settings: &[&str], more: &[&str]) -> Ran {
    let mut arguments = vec!["line"];
    for setting in settings {
        arguments.extend(["--set", setting]);
    }
    arguments.extend(more);
    Scratch::new().run(&arguments)
}

fn findings(settings: &[&str]) -> Vec<Value> {
    let json = line(settings, &["--format", "json"]).json();
    json["findings"].as_array().unwrap().clone()
}

fn one<'a>(list: &'a [Value], code: &str) -> &'a Value {
    list.iter()
        .find(|found| found["code"] == code)
        .unwrap_or_else(|| panic!("{code} not in {list:?}"))
}

fn figure(found: &Value, key: &str) -> f64 {
    found[key].as_f64().unwrap()
}

/// Far past a rule of thumb stands above just past a limit of the build.
#[test]
fn the_worst_stands_first_whoever_set_the_limit() {
    let list = findings(&["supercharger.drive_ratio=4"]);
    let place = |code: &str| list.iter().position(|found| found["code"] == code).unwrap();
    let hot = one(&list, "supercharger_outlet_temperature");
    assert_eq!(hot["severity"], "over");
    assert!(figure(hot, "margin") < figure(one(&list, "charge_temperature"), "margin"));
    assert!(place("supercharger_outlet_temperature") < place("charge_temperature"));
    let margins: Vec<f64> = list
        .iter()
        .filter(|found| found["severity"] == "over")
        .map(|found| figure(found, "margin"))
        .collect();
    assert!(margins.is_sorted(), "{margins:?}");
}

/// The value carried is the worst of all points.
#[test]
fn the_line_carries_the_worst_of_its_points() {
    let json = line(&[], &["--format", "json"]).json();
    for carried in json["findings"].as_array().unwrap() {
        let same = |found: &&Value| {
            found["code"] == carried["code"]
                && found["where"] == carried["where"]
                && found["severity"] == carried["severity"]
                && found.get("margin").is_some()
        };
        let points = json["points"].as_array().unwrap().iter();
        let least = points
            .filter_map(|point| point["findings"].as_array())
            .flatten()
            .filter(same)
            .map(|found| figure(found, "margin"))
            .fold(f64::INFINITY, f64::min);
        if least.is_finite() {
            assert!(
                (figure(carried, "margin") - least).abs() < 1e-12,
                "{carried}"
            );
        }
    }
}

#[test]
fn a_line_on_which_nobody_hands_over_says_who_carries() {
    let ran = line(&["turbine.effective_area=20 cm2"], &[]);
    let words = "No hand-over between 1200 and 3200 rpm: the supercharger leads throughout";
    assert!(ran.joined().contains(words), "{}", ran.out);
    assert!(!line(&[], &[]).out.contains("No hand-over"));
}

/// The demo's limiter cuts 35 % at 1200 rpm.
#[test]
fn a_smoke_limiter_that_cuts_much_is_said_with_its_figure() {
    let list = findings(&[]);
    let cut = one(&list, "smoke_limiter_active");
    assert_eq!(cut["severity"], "near");
    assert!((figure(cut, "value") - 0.347).abs() < 0.002, "{cut}");
    let advice = cut["advice"].as_str().unwrap();
    assert!(
        advice.starts_with("Of 122.0 mg per stroke only 79.6 mg"),
        "{advice}"
    );
    let less = findings(&["fuel.smallest_air_fuel_ratio=", "fuel.per_stroke=70 mg"]);
    assert!(
        less.iter()
            .all(|found| found["code"] != "smoke_limiter_active")
    );
}

#[test]
fn a_build_that_no_engine_is_fails_strictly() {
    for (setting, code) in [
        ("engine.friction.quadratic=20000", "no_brake_power"),
        ("exhaust.pressure_drop=150 kPa", "pressure_loss"),
        ("engine.combustion.heat_loss_share=0.55", "exhaust_too_cold"),
    ] {
        let ran = line(&[setting], &["--strict", "--format", "json"]);
        assert_eq!(ran.code, 3, "{setting}: {}", ran.err);
        let json: Value = serde_json::from_str(&ran.out).unwrap();
        let list = json["findings"].as_array().unwrap().clone();
        let severity = &one(&list, code)["severity"];
        assert!(
            severity == "over" || severity == "outside data",
            "{setting}"
        );
    }
}
