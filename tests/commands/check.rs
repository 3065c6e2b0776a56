//! `check`: every fault of all files in one run.

use std::fs;

use super::{Scratch, kept, names, one_point};

/// A small turbine map, invented.
pub(crate) const TURBINE: &str = "# origin = invented
# reference_temperature = 288.15 K
# reference_pressure = 101.325 kPa
corrected_speed [rpm],expansion_ratio [-],corrected_flow [kg/s],efficiency [-]
60000,1.5,0.10,0.70
60000,2.0,0.12,0.71
60000,2.5,0.13,0.69
80000,1.5,0.10,0.68
80000,2.0,0.12,0.72
80000,2.5,0.13,0.71
";

#[test]
fn good_and_broken_builds_and_maps_are_all_reported_and_nothing_is_solved() {
    let scratch = Scratch::new();
    let folder = scratch.as_ref().join("maps");
    fs::create_dir(&folder).unwrap();
    fs::copy(kept("cases/map_choke.csv"), folder.join("a.csv")).unwrap();
    fs::copy(kept("cases/map_no_unit.csv"), folder.join("b.csv")).unwrap();
    fs::write(folder.join("notes.txt"), "no map").unwrap();
    let (good, broken) = (one_point(), kept("cases/build_bare_number.toml"));
    let (map, conflict) = (kept("cases/map_base.csv"), kept("cases/map_conflict.csv"));
    let ran = scratch.run(&["check", &good, &broken, &map, &conflict, "maps"]);
    assert_eq!(ran.code, 1);
    for understood in [&good, &map, "maps/a.csv"] {
        let line = format!("{understood}: ");
        assert!(ran.out.contains(&line), "{understood} in {}", ran.out);
    }
    assert!(ran.out.ends_with("3 faults found.\n"), "{}", ran.out);
    for fault in [
        format!("{broken}:10: engine.displacement: 4.2 has no unit"),
        format!("{conflict}:13: "),
        "maps/b.csv:4: ".to_owned(),
    ] {
        let count = ran
            .err
            .lines()
            .filter(|line| line.starts_with(&fault))
            .count();
        assert_eq!(count, 1, "{fault} in {}", ran.err);
    }
    assert!(!ran.err.contains("notes.txt"));
    assert_eq!(names(&scratch), ["maps"]);
}

#[test]
fn the_same_stands_in_json() {
    let (broken, map) = (
        kept("cases/build_bare_number.toml"),
        kept("cases/map_base.csv"),
    );
    let ran = Scratch::new().run(&["check", &broken, &map, "--format", "json"]);
    assert_eq!(ran.code, 1);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["faults"].as_array().unwrap().len(), 1);
    let file = &json["files"][0];
    assert_eq!(file["kind"], "compressor map");
    assert_eq!(file["speed_lines"], 3);
    assert_eq!(file["reference_temperature_k"], 298.15);
    assert_eq!(
        file["speed_range_rpm"],
        serde_json::json!([80000.0, 120000.0])
    );
}

#[test]
fn a_map_of_each_kind_is_understood() {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("t.csv"), TURBINE).unwrap();
    let supercharger = "# origin = invented
speed [rpm],pressure_ratio [-],volumetric_efficiency [-],efficiency [-]
4000,1.2,0.86,0.60
4000,1.5,0.80,0.58
4000,1.8,0.74,0.54
8000,1.2,0.92,0.62
8000,1.5,0.89,0.61
8000,1.8,0.86,0.58
";
    fs::write(scratch.as_ref().join("s.csv"), supercharger).unwrap();
    let ran = scratch.run(&["check", "t.csv", "s.csv"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("t.csv: turbine map"));
    assert!(ran.out.contains("s.csv: supercharger map"));
}

#[test]
fn without_a_file_the_demo_is_checked() {
    let ran = Scratch::new().run(&["check"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.starts_with("built-in demo: build"));
    assert!(ran.err.starts_with("no build file given"));
}

#[test]
fn a_value_set_is_checked_in_every_build() {
    let (one, other) = (one_point(), kept("builds/single_turbo.toml"));
    let ran = Scratch::new().run(&["check", &one, &other, "--set", "engine.strokes=3"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.ends_with("2 faults found.\n"));
}

#[test]
fn a_folder_without_maps_is_a_fault() {
    let scratch = Scratch::new();
    fs::create_dir(scratch.as_ref().join("empty")).unwrap();
    let ran = scratch.run(&["check", "empty"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("empty: the folder holds no map file"));
}

/// An invented map of two rotors, with speeds that scatter and a row that is there twice.
const ROTORS: &str = "# origin = measured on a bench
speed [rpm],pressure_ratio [-],volumetric_efficiency [%],efficiency [%]
4000,1.2,84,61
4010,1.4,80,60
4000,1.6,76,57
8000,1.2,92,63
8000,1.4,90,64
8000,1.6,88,62
8000,1.6,88,62
";

#[test]
fn of_every_kind_of_map_lines_points_ranges_origin_and_oddities_are_said() {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("turbine.csv"), TURBINE).unwrap();
    fs::write(scratch.as_ref().join("rotors.csv"), ROTORS).unwrap();
    let base = kept("cases/map_base.csv");
    let ran = scratch.run(&["check", "turbine.csv", "rotors.csv", &base]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let out = words(&ran.out);
    for said in [
        "turbine.csv: turbine map (invented) 6 rows: 6 points on 2 speed lines; corrected to 15.0 \
         °C, 101.3 kPa absolute",
        "corrected speed 60000 80000 rpm",
        "corrected flow 0.1000 0.1300 kg/s",
        "expansion ratio 1.500 2.500",
        "efficiency 68.0 72.0 %",
        "rotors.csv: supercharger map (measured on a bench) 7 rows: 6 points on 2 speed lines",
        "speed 4000 8000 rpm pressure ratio 1.200 1.600 volumetric efficiency 76.0 92.0 % \
         efficiency 57.0 64.0 %",
        "oddities: 2, see the messages (line 3, 9)",
    ] {
        assert!(out.contains(said), "{said:?} is not in {}", ran.out);
    }
    let json = scratch
        .run(&["check", "rotors.csv", "--format", "json"])
        .json();
    let file = &json["files"][0];
    assert_eq!(file["oddities"].as_array().unwrap().len(), 2);
    let filling = &file["volumetric_efficiency_range"];
    assert!((filling[0].as_f64().unwrap() - 0.76).abs() < 1e-9);
    assert!(file.get("expansion_ratio_range").is_none());
    let units = scratch.run(&["check", "turbine.csv", "--units", "us"]).out;
    assert!(
        words(&units).contains("corrected to 59.0 °F, 14.70 psi absolute"),
        "{units}"
    );
}
