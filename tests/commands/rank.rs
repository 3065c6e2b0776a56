//! `rank`: maps side by side for one build.

use std::fs;

use super::check::TURBINE;
use super::{Scratch, kept, names, one_point};

/// A folder with one good, one broken, one turbine map and one empty file.
fn mixed_folder() -> Scratch {
    let scratch = Scratch::new();
    let folder = scratch.as_ref().join("mixed");
    fs::create_dir(&folder).unwrap();
    fs::copy(kept("../maps/invented_78mm.csv"), folder.join("good.csv")).unwrap();
    fs::copy(kept("cases/map_conflict.csv"), folder.join("broken.csv")).unwrap();
    fs::write(folder.join("turbine.csv"), TURBINE).unwrap();
    fs::write(folder.join("empty.csv"), "").unwrap();
    scratch
}

#[test]
fn what_is_no_compressor_map_is_said_and_skipped() {
    let scratch = mixed_folder();
    let ran = scratch.run(&["rank", "mixed"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("1.  mixed/good.csv"));
    for skipped in ["broken", "turbine", "empty"] {
        assert!(
            ran.err.contains(&format!("mixed/{skipped}.csv")),
            "{}",
            ran.err
        );
        assert!(!ran.out.contains(skipped), "{}", ran.out);
    }
    assert!(ran.err.contains("is a turbine map, not a compressor map"));
    assert_eq!(names(scratch.as_ref().join("out")), ["rank.svg"]);
    // No progress bar where nobody watches.
    assert!(!ran.err.contains('\u{1b}') && !ran.err.contains('\r'));
}

#[test]
fn the_map_that_fits_stands_before_those_that_do_not() {
    let ran = Scratch::new().run(&["rank", &kept("../maps"), "--format", "json"]);
    let json = ran.json();
    let maps = json["maps"].as_array().unwrap();
    assert_eq!(maps.len(), 3);
    assert!(
        maps[0]["map"]
            .as_str()
            .unwrap()
            .ends_with("invented_78mm.csv")
    );
    for (place, map) in maps.iter().enumerate() {
        assert_eq!(map["rank"], place + 1);
        assert!(!map["reasons"].as_str().unwrap().is_empty());
    }
    let small = maps
        .iter()
        .find(|map| map["map"].as_str().unwrap().contains("66mm"));
    assert!(
        small.unwrap()["reasons"]
            .as_str()
            .unwrap()
            .contains("choke"),
        "{small:?}"
    );
}

#[test]
fn the_order_of_the_arguments_does_not_matter() {
    let maps = ["66", "78", "92"].map(|mm| kept(&format!("../maps/invented_{mm}mm.csv")));
    let scratch = Scratch::new();
    let run = |order: [usize; 3]| {
        let [a, b, c] = order.map(|i| maps[i].as_str());
        scratch.run(&["rank", a, b, c, "--format", "csv"]).out
    };
    assert_eq!(run([0, 1, 2]), run([2, 0, 1]));
}

#[test]
fn given_ratios_place_the_points_on_each_map() {
    let map = kept("cases/map_base.csv");
    let arguments = ["rank", &one_point(), &map, "--format", "json"];
    let json = Scratch::new().run(&arguments).json();
    assert_eq!(json["title"], "case: one point");
    let efficiency = json["maps"][0]["mean_efficiency"].as_f64().unwrap();
    // Each map gives its efficiency in place of the build's 0.74, within the map's range.
    assert!((0.58..=0.76).contains(&efficiency) && (efficiency - 0.74).abs() > 1e-6);
}

#[test]
fn no_usable_map_is_a_failure() {
    let ran = Scratch::new().run(&["rank", &kept("cases/map_conflict.csv")]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    let missing = Scratch::new().run(&["rank", "nowhere.csv"]);
    assert_eq!(missing.code, 1);
    assert!(missing.err.contains("nowhere.csv: there is no such file"));
}

#[test]
fn a_build_without_a_turbo_compressor_cannot_be_ranked() {
    let (build, map) = (kept("builds/single_roots.toml"), kept("cases/map_base.csv"));
    let ran = Scratch::new().run(&["rank", &build, &map]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("no turbo_compressor"));
}

/// The figures of a map are those of the build's line on it, solved here by `line --map`.
#[test]
fn boost_power_torque_and_turbo_speed_stand_beside_each_map() {
    let map = kept("../maps/invented_66mm.csv");
    let scratch = Scratch::new();
    let ranked = scratch.run(&["rank", &map, "--format", "json"]).json();
    let line = scratch
        .run(&["line", "--map", &map, "--format", "json"])
        .json();
    let points = line["points"].as_array().unwrap();
    let largest = |path: &str| {
        let values = points
            .iter()
            .map(|point| point.pointer(path).unwrap().as_f64().unwrap());
        values.fold(f64::MIN, f64::max)
    };
    let own = |key: &str| ranked["maps"][0][key].as_f64().unwrap();
    for (key, path) in [
        ("largest_brake_power_w", "/engine/brake_power_w"),
        ("largest_torque_n_m", "/engine/torque_n_m"),
        ("highest_shaft_speed_rpm", "/stages/1/speed_rpm"),
    ] {
        // The first of equals is named, and equal is to a billionth.
        assert!((own(key) / largest(path) - 1.0).abs() < 2e-9, "{key}");
    }
    assert!(own("largest_boost_pa") > 0.0);
}

#[test]
fn what_a_map_passes_is_said_in_text_json_and_csv() {
    let maps = kept("../maps");
    let scratch = Scratch::new();
    let run = |format: &str| scratch.run(&["rank", &maps, "--format", format]);
    let json = run("json").json();
    let small = json["maps"].as_array().unwrap().iter();
    let small = small
        .clone()
        .find(|map| map["map"].as_str().unwrap().contains("66mm"));
    let small = small.unwrap();
    let findings = small["findings"].as_array().unwrap();
    assert!(findings.iter().all(|finding| finding["severity"] == "over"));
    assert!(
        findings
            .iter()
            .any(|finding| finding["code"] == "turbo_speed")
    );
    let over = small["over"].as_str().unwrap();
    assert!(over.starts_with("turbocharger speed at 3200 rpm"), "{over}");
    let text = run("text").joined();
    assert!(text.contains(&format!(" over: {over} ")), "{text}");
    assert!(run("csv").out.contains(over));
    // Without a limit nothing is passed, and nothing is said.
    let free = scratch.run(&[
        "rank",
        &maps,
        "--set",
        "limits=",
        "--set",
        "turbo_compressor.max_speed=",
    ]);
    let first = free
        .out
        .lines()
        .find(|line| line.contains("78mm.csv: "))
        .unwrap();
    assert!(
        !free.out[free.out.find(first).unwrap()..].starts_with("   over"),
        "{}",
        free.out
    );
    assert!(!free.out.contains("charge temperature"), "{}", free.out);
}

#[test]
fn the_tables_of_long_names_stay_within_a_screen() {
    let scratch = Scratch::new();
    let folder = scratch
        .as_ref()
        .join("a folder with a name that takes room/and another in it");
    fs::create_dir_all(&folder).unwrap();
    let name = "a_map_file_whose_name_has_more_letters_than_a_column_of_figures_leaves.csv";
    fs::copy(kept("../maps/invented_78mm.csv"), folder.join(name)).unwrap();
    for units in ["si", "us"] {
        let ran = scratch.run(&["rank", folder.to_str().unwrap(), "--units", units]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        // The tables end where the reasons begin.
        let reasons = format!("1. {}", folder.display());
        let end = ran.out.find(&reasons).unwrap();
        let tables = &ran.out[..end];
        assert!(tables.contains("torque") && tables.contains("surge margin"));
        for line in tables.lines() {
            assert!(line.chars().count() <= 100, "{line}");
        }
    }
}
