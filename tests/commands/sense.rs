//! Keys have sense: what cannot be is refused with the likely slip, what is hardly meant is remarked
//! on, and of several keys that say one thing the one set last counts.

use std::fs;
use std::path::Path;

use serde_json::Value;

use super::{Scratch, assert_refused, number};

/// The built-in demo as a file in a folder, changed; its map lies beside it.
fn demo_with(from: &str, to: &str) -> Scratch {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(root.join("src/input/demo.toml")).unwrap();
    assert!(text.contains(from), "{from}");
    let scratch = Scratch::new();
    let map = "invented_78mm.csv";
    fs::copy(root.join("maps").join(map), scratch.as_ref().join(map)).unwrap();
    fs::write(
        scratch.as_ref().join("truck.toml"),
        text.replacen(from, to, 1),
    )
    .unwrap();
    scratch
}

#[test]
fn a_slip_of_a_unit_in_the_file_is_refused_at_its_line_by_every_command() {
    let scratch = demo_with("\"7.7 cm2\"", "\"7.7 m2\"");
    // That much the key does not take at all; of less it is the engine that tells.
    for command in ["check", "line"] {
        let ran = scratch.run(&[command, "truck.toml"]);
        assert_eq!(ran.code, 1, "{}", ran.err);
        let place = "truck.toml:79: turbine.effective_area: ";
        assert!(ran.err.contains(place), "{}", ran.err);
    }
    let scratch = demo_with("displacement = \"2.15 L\"", "displacement = \"2.15 cc\"");
    for command in ["check", "line"] {
        let words = [
            "truck.toml:51: supercharger.displacement: 2.15 cc cannot be right: for an engine of 4.5 L",
            "did you mean 2.15 L?",
        ];
        let ran = scratch.run(&[command, "truck.toml"]);
        assert_eq!(ran.code, 1, "{}", ran.err);
        assert!(
            words.iter().all(|word| ran.err.contains(word)),
            "{}",
            ran.err
        );
    }
}

#[test]
fn what_is_hardly_meant_is_said_and_solved() {
    let scratch = demo_with("\"275 kPa\"", "\"38 psi\"");
    let ran = scratch.run(&["point", "truck.toml", "--rpm", "1600", "--format", "json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let remark = "truck.toml:93: limits.max_manifold_pressure: 38 psi is unlikely: ";
    assert!(ran.err.contains(remark), "{}", ran.err);
    assert!(ran.err.contains("did you mean 38 psig?"), "{}", ran.err);
    ran.json();
}

#[test]
fn a_speed_that_no_piston_bears_is_refused_at_the_option() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["point", "--rpm", "100000"]);
    assert_refused(&ran, 1, &["--rpm: 100000 rpm cannot be right: ", "40 m/s"]);
    let far = scratch.run(&["point", "--rpm", "4500"]);
    assert!(
        far.err
            .contains("--rpm: 4500 rpm is far outside the build's engine.rpm, 1200 to 3200 rpm")
    );
    let within = scratch.run(&["point", "--rpm", "2000"]);
    assert!(!within.err.contains("--rpm:"), "{}", within.err);
}

// -------------------------------------------------------------------- of several keys the last counts

#[test]
fn another_pulley_turns_the_rotors_faster_on_the_command_line_and_beside_it() {
    let scratch = Scratch::new();
    let pulley = "supercharger.pulley_diameter=70 mm";
    let ran = scratch.run(&[
        "point", "--rpm", "2000", "--format", "json", "--set", pulley,
    ]);
    let speed = number(&ran.json(), "stages", "supercharger", "speed_rpm");
    assert!(
        (speed - 2000.0 * 2.15 * 76.0 / 70.0).abs() < 0.01,
        "{speed}"
    );
    let remark =
        "built-in demo:52: supercharger.drive_ratio: not used: --set supercharger.pulley_diameter";
    assert!(ran.err.contains(remark), "{}", ran.err);
    let beside = format!("small: {pulley}");
    let ran = scratch.run(&["line", "--compare", &beside]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let remark = "supercharger.pulley_diameter of --compare small overrides it";
    assert!(ran.err.contains(remark), "{}", ran.err);
}

#[test]
fn the_fuel_said_last_is_burned() {
    let fuel = |set: [&str; 2]| {
        let arguments = [
            "point", "--rpm", "2000", "--format", "json", "--set", set[0], "--set", set[1],
        ];
        Scratch::new().run(&arguments).json()
    };
    let (lambda, ratio) = ("fuel.lambda=1.5", "fuel.air_fuel_ratio=25");
    let of = |point: &Value, key: &str| point[key].as_f64().unwrap();
    assert!((of(&fuel([ratio, lambda]), "lambda") - 1.5).abs() < 1e-9);
    assert!((of(&fuel([lambda, ratio]), "air_fuel_ratio") - 25.0).abs() < 1e-9);
}

// ------------------------------------------------------------------------------- a band's draws stay

/// Draws of a build at a speed at which they are sampled, and how many of them have no match.
fn draws(scratch: &Scratch, rpm: &str) -> (f64, f64) {
    let arguments = [
        "point",
        "truck.toml",
        "--rpm",
        rpm,
        "--sensitivity",
        "--format",
        "json",
    ];
    let bands = scratch.run(&arguments).json()["bands"].clone();
    let of = |key: &str| {
        let number = bands[key].as_f64();
        number.unwrap_or_else(|| panic!("no {key} at {rpm} rpm: {bands}"))
    };
    (of("samples"), of("samples_without_match"))
}

#[test]
fn an_uncertain_ratio_beside_both_pulleys_loses_no_draw() {
    let scratch = demo_with(
        "drive_ratio = 2.15\n",
        "drive_ratio = \"2.15 +- 2 %\"\ncrank_pulley_diameter = \"163.4 mm\"\n",
    );
    // Near the hand-over the band is not linear, so it is sampled.
    assert_eq!(draws(&scratch, "2200"), (1000.0, 0.0));
}

#[test]
fn uncertain_sizes_that_also_say_the_displacement_lose_no_draw() {
    let scratch = demo_with(
        "stroke = \"118 mm\"\n",
        "stroke = \"118 mm +- 1 %\"\nbore = \"110.2 mm +- 2 %\"\n",
    );
    let arguments = [
        "point",
        "truck.toml",
        "--rpm",
        "2200",
        "--sensitivity",
        "--format",
        "json",
    ];
    let set = ["--set", "site.pressure=83.5 kPa +- 4 %"];
    let ran = scratch.run(&[&arguments[..], &set].concat());
    let bands = ran.json()["bands"].clone();
    assert_eq!(bands["samples"], 1000, "{bands}");
    assert_eq!(bands["samples_without_match"], 0, "{bands}");
}
