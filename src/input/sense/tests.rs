//! Builds whose numbers cannot be, are hardly meant, or are right however large or small.

use std::fs;
use std::path::Path;

use super::super::tests::{invented_map, outcome_with};
use super::super::{By, DEMO, Document, Note, Outcome, STARTER, Shift, read, read_shifted};
use super::{SpeedFault, judge_speed};

fn outcome(text: &str, options: &[&str]) -> Outcome {
    outcome_with(text, options, &invented_map)
}

fn faults(text: &str, options: &[&str]) -> Vec<String> {
    let faults = outcome(text, options).faults;
    faults.iter().map(Note::to_string).collect()
}

/// Remarks on what is hardly meant.
fn doubts(text: &str, options: &[&str]) -> Vec<String> {
    let outcome = outcome(text, options);
    assert!(outcome.faults.is_empty(), "{:#?}", outcome.faults);
    let said = outcome.remarks.iter().map(Note::to_string);
    said.filter(|text| {
        let about_defaults = text.contains("not set") || text.contains("not used");
        let bare = text.contains("no parts are listed");
        !about_defaults && !bare && !text.contains("not used: ")
    })
    .collect()
}

/// The builds of the tests with their names, and those that are compiled in.
fn builds() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/builds");
    let mut builds: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            (
                path.display().to_string(),
                fs::read_to_string(path).unwrap(),
            )
        })
        .collect();
    builds.push(("demo".to_owned(), DEMO.to_owned()));
    builds.push(("starter".to_owned(), STARTER.to_owned()));
    assert!(builds.len() > 10);
    builds
}

// ------------------------------------------------------------------------------ what is right passes

#[test]
fn no_build_of_the_tests_is_doubted_but_one_of_ideal_parts() {
    for (name, text) in builds() {
        let said = doubts(&text, &[]);
        let ideal = name.ends_with("series_air_tables.toml");
        assert_eq!(said.is_empty(), !ideal, "{name}: {said:#?}");
    }
}

/// A model engine, a ship's cylinder of 50 L, a small engine at 25,000 rpm: invented, and sensible.
const EXTREMES: [(&str, &str); 4] = [
    (
        "model",
        r#"
engine = { displacement = "2 cc", cylinders = 1, stroke = "13 mm", strokes = 2, compression_ratio = 9, volumetric_efficiency = 0.7, rpm = { from = 8000, to = 25000, step = 1000 } }
fuel = { kind = "methanol", lambda = 0.8 }
"#,
    ),
    (
        "ship",
        r#"
fuel = { kind = "diesel", per_stroke = "4.5 g", smallest_air_fuel_ratio = 25 }
[engine]
displacement = "300 L"
cylinders = 6
stroke = "460 mm"
compression_ratio = 15
volumetric_efficiency = 0.95
rpm = { from = 300, to = 600, step = 50 }
combustion = { gross_indicated_efficiency = 0.48, heat_loss_share = 0.15 }
[[air_path]]
part = "filter"
pressure_drop = "1 kPa"
at_flow = "3 kg/s"
[[air_path]]
part = "turbo_compressor"
pressure_ratio = 3.6
efficiency = 0.8
"#,
    ),
    (
        "small and fast",
        r#"
fuel = { kind = "petrol", lambda = 0.9, injectors = 2, injector_flow = "60 cc/min" }
[engine]
bore = "34 mm"
stroke = "27.5 mm"
cylinders = 1
compression_ratio = 11
volumetric_efficiency = 1.05
rpm = { from = 6000, to = 25000, step = 1000 }
[[air_path]]
part = "filter"
pressure_drop = "2 kPa"
at_flow = "9 g/s"
"#,
    ),
    (
        "methanol with much boost",
        r#"
fuel = { kind = "methanol", lambda = 0.6, injectors = 16, injector_flow = "1.8 L/min" }
[engine]
displacement = "500 in3"
cylinders = 8
stroke = "4.15 in"
compression_ratio = 8
volumetric_efficiency = 1.0
rpm = { from = 5000, to = 8000, step = 500 }
[[air_path]]
part = "supercharger"
kind = "roots"
displacement = "500 in3"
drive_ratio = 1.45
pulley_diameter = "5.2 in"
"#,
    ),
];

#[test]
fn sensible_extremes_are_neither_refused_nor_doubted() {
    for (name, text) in EXTREMES {
        let said = doubts(text, &[]);
        assert!(said.is_empty(), "{name}: {said:#?}");
    }
}

// -------------------------------------------------------------------------------- the table is whole

// --------------------------------------------------------------------------------- what cannot be

/// Options on the demo, and what the one fault says.
const IMPOSSIBLE: [(&str, &[&str]); 13] = [
    (
        "fuel.per_stroke=120 g",
        &["a cylinder of 1.125 L", "did you mean 120 mg?"],
    ),
    (
        "fuel.per_stroke=[[1200, \"120 mg\"], [3200, \"118 g\"]]",
        &["118 g at 3200 rpm", "118 mg"],
    ),
    ("engine.stroke=1.18 m", &["did you mean 118 mm?"]),
    ("engine.stroke=46.5 in", &["a cylinder of 1.125 L"]),
    (
        "filter.at_flow=1 g/s",
        &["draws 0.1175 kg/s", "did you mean 1 kg/s?"],
    ),
    ("supercharger.drive_efficiency=1e-9", &["between 0.4 and 1"]),
    (
        "supercharger.mechanical_efficiency=0.0096",
        &["did you mean 0.96?"],
    ),
    (
        "engine.combustion.gross_indicated_efficiency=0.8",
        &["between 0.05 and 0.65"],
    ),
    (
        "fuel.lower_heating_value=4.28 MJ/kg",
        &["did you mean 42.8 MJ/kg?"],
    ),
    ("turbine.effective_area=7.7 mm2", &["did you mean 7.7 cm2?"]),
    (
        "supercharger.displacement=2.15 cc",
        &["did you mean 2.15 L?"],
    ),
    (
        "engine.rpm.to=25000",
        &["a stroke of 118 mm", "it must be", "did you mean 2500 rpm?"],
    ),
    (
        "engine.head.stud_preload=75 N",
        &["4 studs", "did you mean 75 kN?"],
    ),
];

#[test]
fn what_cannot_be_is_one_fault_with_the_likely_slip() {
    for (option, words) in IMPOSSIBLE {
        let said = faults(DEMO, &[option]);
        assert_eq!(said.len(), 1, "{option}: {said:#?}");
        let key = option.split('=').next().unwrap();
        assert!(
            said[0].starts_with(&format!("--set {key}: ")),
            "{}",
            said[0]
        );
        assert!(said[0].contains(" cannot be right: "), "{}", said[0]);
        for word in words {
            assert!(said[0].contains(word), "{word:?} is not in: {}", said[0]);
        }
    }
}

#[test]
fn a_fault_of_the_file_has_its_line() {
    let text = DEMO.replace("stroke = \"118 mm\"", "stroke = \"118 cm\"");
    let said = faults(&text, &[]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].starts_with("t.toml:14: engine.stroke: 118 cm cannot be right: "),
        "{said:?}"
    );
    assert!(said[0].ends_with("did you mean 118 mm?"), "{said:?}");
}

#[test]
fn fuel_and_injectors_are_held_to_the_air_of_the_engine() {
    let flow = ["fuel.flow=40 kg/s"];
    let said = faults(DEMO, &flow);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("an engine of 4.5 L") && said[0].contains("40 kg/h"),
        "{said:?}"
    );
    let injectors = ["fuel.injectors=4", "fuel.injector_flow=55 L/s"];
    let said = faults(DEMO, &injectors);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("4 injectors on an engine of 4.5 L"),
        "{said:?}"
    );
}

// ------------------------------------------------------------------------------ what is hardly meant

/// Options on the demo, and what the one remark says.
const UNLIKELY: [(&str, &[&str]); 13] = [
    (
        "cooler.effectiveness=1",
        &["1 is unlikely", "infinitely large cooler"],
    ),
    (
        "cooler.effectiveness=[[1200, 0.7], [3200, 1.0]]",
        &["1 at 3200 rpm is unlikely"],
    ),
    (
        "limits.max_manifold_pressure=38 psi",
        &["a limit is absolute", "did you mean 38 psig?"],
    ),
    (
        "limits.max_cylinder_pressure=16 bar",
        &["did you mean 160 bar?"],
    ),
    (
        "limits.max_exhaust_temperature=750 degF",
        &["did you mean 750 degC?"],
    ),
    (
        "supercharger.drive_ratio=0.465",
        &["did you mean 2.151?", "per turn of the crank"],
    ),
    ("turbine.effective_area=77 cm2", &["kg/s unboosted"]),
    ("exhaust.at_flow=25 kg/s", &["did you mean 0.25 kg/s?"]),
    (
        "supercharger.slip_speed=17 rpm",
        &["rotors of 2.15 L", "170 rpm"],
    ),
    ("engine.friction.linear=9.0", &["Pa per m/s", "9000"]),
    ("engine.compression_ratio=9", &["a diesel"]),
    (
        "supercharger.center_distance=310 cm",
        &["did you mean 310 mm?"],
    ),
    ("supercharger.rotor_diameter=20 in", &["rotors at 6880 rpm"]),
];

#[test]
fn what_is_hardly_meant_is_one_remark_with_the_likely_slip() {
    for (option, words) in UNLIKELY {
        let said = doubts(DEMO, &[option]);
        assert_eq!(said.len(), 1, "{option}: {said:#?}");
        for word in words {
            assert!(said[0].contains(word), "{word:?} is not in: {}", said[0]);
        }
    }
}

#[test]
fn a_drop_that_chokes_the_engine_is_doubted_and_one_of_a_throttle_is_not_refused() {
    let said = doubts(
        DEMO,
        &["filter.pressure_drop=40 kPa", "filter.at_flow=0.1 kg/s"],
    );
    assert!(
        said.iter()
            .any(|text| text.contains("filter.at_flow: 0.1 kg/s is unlikely")),
        "{said:#?}"
    );
    let throttle =
        "[[air_path]]\npart = \"throttle\"\npressure_drop = \"2 kPa\"\nat_flow = \"2 g/s\"\n";
    let text = DEMO.replace("[turbine]\n", &format!("{throttle}[turbine]\n"));
    let said = doubts(&text, &[]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("throttle.at_flow: 2 g/s is unlikely"),
        "{said:#?}"
    );
}

#[test]
fn a_given_roots_is_held_to_the_textbook() {
    // γ/(γ−1) (1.8^(2/7) − 1)/0.8 = 0.800.
    let set = |efficiency: &str| {
        let option = format!("supercharger.efficiency={efficiency}");
        faults(DEMO, &["supercharger.pressure_ratio=1.8", &option])
    };
    assert!(set("0.79").is_empty());
    let said = set("0.81");
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("a Roots machine at a pressure ratio of 1.8"),
        "{said:?}"
    );
    // A table is held row by row to the ratio at its own speed.
    let table = set("[[1200, 0.79], [3200, 0.82]]");
    assert!(table[0].contains("0.82 at 3200 rpm"), "{table:?}");
    let screw = [
        "supercharger.kind=screw",
        "supercharger.pressure_ratio=1.8",
        "supercharger.efficiency=0.81",
    ];
    assert!(faults(DEMO, &screw).is_empty());
}

#[test]
fn parts_that_stand_in_the_wrong_order_are_remarked_on() {
    let cooler = DEMO.find("[[air_path]]\npart = \"cooler\"").unwrap();
    let end = DEMO.find("[turbine]").unwrap();
    let filter = DEMO.find("[[air_path]]\npart = \"filter\"").unwrap();
    let part = &DEMO[cooler..end];
    let first = format!(
        "{}{part}{}{}",
        &DEMO[..filter],
        &DEMO[filter..cooler],
        &DEMO[end..]
    );
    let said = doubts(&first, &[]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("cooler.part: comes before every stage"),
        "{said:?}"
    );
    let compressor = DEMO
        .find("[[air_path]]\npart = \"turbo_compressor\"")
        .unwrap();
    let blower = DEMO.find("[[air_path]]\npart = \"supercharger\"").unwrap();
    let part = &DEMO[filter..blower];
    let behind = format!(
        "{}{}{part}{}",
        &DEMO[..filter],
        &DEMO[blower..compressor],
        &DEMO[compressor..]
    );
    let said = doubts(&behind, &[]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("filter.part: comes after the supercharger"),
        "{said:?}"
    );
}

#[test]
fn exchanged_pulleys_are_asked_about() {
    let pulleys = |driven: &str, crank: &str, ratio: &str| {
        DEMO.replace(
            "pulley_diameter = \"76 mm\"",
            &format!("pulley_diameter = \"{driven}\"\ncrank_pulley_diameter = \"{crank}\""),
        )
        .replace("drive_ratio = 2.15\n", ratio)
    };
    let said = doubts(&pulleys("163.4 mm", "76 mm", ""), &[]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("supercharger.pulley_diameter: 163.4 mm is unlikely"),
        "{said:?}"
    );
    assert!(said[0].contains("are the two swapped?"), "{said:?}");
    let said = faults(&pulleys("163.4 mm", "76 mm", "drive_ratio = 2.15\n"), &[]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("supercharger.drive_ratio: 2.15 does not fit the pulleys"),
        "{said:?}"
    );
    assert!(said[0].contains("Swapped they would fit"), "{said:?}");
    assert!(doubts(&pulleys("76 mm", "163.4 mm", "drive_ratio = 2.15\n"), &[]).is_empty());
}

#[test]
fn a_slip_is_said_in_the_units_of_its_writer() {
    let us = fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/builds/us_units.toml"),
    )
    .unwrap();
    let said = faults(&us, &["engine.stroke=4.6 ft"]);
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(said[0].contains("did you mean 4.6 in?"), "{said:?}");
    let range = said[0].split("between").nth(1).unwrap();
    assert!(range.contains(" ft ") && !range.contains("mm"), "{said:?}");
}

// ------------------------------------------------------------------------ a study's values stay apart

/// No input of any build, moved by a little, loses the build: nothing holds moved values to others.
#[test]
fn no_small_shift_of_any_one_input_loses_a_build() {
    let mut tried = 0;
    for (name, text) in builds() {
        let document = Document::from_text("t.toml", &text);
        let inputs = read(&document, &[], &invented_map).inputs;
        for input in inputs.iter().filter(|input| !input.is_zero) {
            for share in [-0.02, 0.02] {
                let shift = Shift {
                    key: input.key.clone(),
                    by: By::Share(share),
                };
                let moved = read_shifted(&document, &[], &invented_map, &[shift]);
                // A share at its end goes no further up.
                let at_end = share > 0.0 && input.written.parse::<f64>().is_ok_and(|v| v > 0.98);
                assert!(
                    moved.is_some() || at_end || input.is_default,
                    "{name}: {} moved by {share}",
                    input.key
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 500, "{tried}");
}

// --------------------------------------------------------------------------------- speeds of a point

#[test]
fn a_speed_of_no_engine_is_refused_and_a_far_one_is_remarked_on() {
    let demo = outcome(DEMO, &[]).installation.unwrap();
    // 2 × 118 mm × 10,500/60 is 41 m/s.
    assert!(
        matches!(judge_speed(&demo, 10_500.0), Some(SpeedFault::CannotBe(text)) if text.contains("41.3 m/s"))
    );
    for rpm in [5000.0, 500.0] {
        assert!(
            matches!(judge_speed(&demo, rpm), Some(SpeedFault::FarFromLine(_))),
            "{rpm}"
        );
    }
    for rpm in [1000.0, 1200.0, 3200.0, 3900.0] {
        assert_eq!(judge_speed(&demo, rpm), None, "{rpm}");
    }
}
