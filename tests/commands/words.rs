//! The words that people write: understood, or answered with the right one and nothing else.

use std::fs;

use super::{Ran, Scratch, kept};

/// `check` of a kept build with values set.
fn check(build: &str, set: &[&str]) -> Ran {
    let build = kept(build);
    let mut arguments = vec!["check", &build];
    for value in set {
        arguments.extend(["--set", value]);
    }
    Scratch::new().run(&arguments)
}

/// `check` of a text.
fn check_text(text: &str) -> Ran {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("t.toml"), text).unwrap();
    scratch.run(&["check", "t.toml"])
}

/// That there is one fault, and what it says.
fn one_fault(ran: &Ran, said: &str) {
    assert_eq!(ran.code, 1, "{said}: {}", ran.out);
    assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    assert!(ran.err.contains(said), "{said:?} is not in: {}", ran.err);
}

const TURBO: &str = "builds/turbo_before_roots.toml";

#[test]
fn harmless_other_words_for_a_value_mean_the_same() {
    let point = |kind: &str| {
        let build = kept("builds/petrol_screw.toml");
        let set = format!("fuel.kind={kind}");
        let ran = Scratch::new().run(&["point", &build, "--rpm", "3000", "--set", &set]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    let petrol = point("petrol");
    assert_eq!(point("gasoline"), petrol);
    assert_eq!(point("Petroleum Spirit"), petrol);
    assert_eq!(point("methyl alcohol"), point("methanol"));
}

#[test]
fn a_word_with_several_meanings_is_answered_with_them_and_nothing_else() {
    for (set, said) in [
        ("fuel.kind=gas", "did you mean \"petrol\"?"),
        (
            "fuel.kind=alcohol",
            "did you mean \"methanol\" or \"ethanol\"?",
        ),
        (
            "supercharger.kind=blower",
            "did you mean \"roots\" or \"screw\" or \"centrifugal\"?",
        ),
        (
            "supercharger.bypass=valve",
            "did you mean \"check\" or \"regulated\"?",
        ),
        ("cooler.sink=coolant", "did you mean \"water\"?"),
    ] {
        one_fault(&check(TURBO, &[set]), said);
    }
}

#[test]
fn a_part_may_stand_under_another_name_and_be_set_by_either() {
    let scratch = Scratch::new();
    let text = fs::read_to_string(kept(TURBO)).unwrap();
    let other = text
        .replace("part = \"cooler\"", "part = \"charge cooler\"")
        .replace("part = \"filter\"", "part = \"Air-Filter\"")
        .replace("part = \"turbo_compressor\"", "part = \"turbocharger\"")
        .replace("part = \"supercharger\"", "part = \"blower\"");
    assert!(text != other);
    fs::write(scratch.as_ref().join("own.toml"), &text).unwrap();
    fs::write(scratch.as_ref().join("other.toml"), &other).unwrap();
    let point = |file: &str, set: &str| {
        let ran = scratch.run(&["point", file, "--rpm", "3000", "--set", set]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    let own = point("own.toml", "cooler.2.effectiveness=0.6");
    for set in [
        "cooler.2.effectiveness=0.6",
        "intercooler.2.effectiveness=0.6",
    ] {
        assert_eq!(point("own.toml", set), own);
        assert_eq!(point("other.toml", set), own);
    }
}

#[test]
fn a_key_under_another_name_is_answered_once() {
    for (set, said) in [
        ("engine.cr=9", "did you mean compression_ratio?"),
        ("engine.ve=0.9", "did you mean volumetric_efficiency?"),
        ("supercharger.pulley_ratio=2", "did you mean drive_ratio?"),
        (
            "turbine.wastegate.boost=20 psi",
            "did you mean boost_limit?",
        ),
        ("cooler.efficiency=0.7", "did you mean effectiveness?"),
        ("site.elevation=400 m", "did you mean altitude?"),
        ("motor.displacement=4 L", "did you mean engine?"),
    ] {
        one_fault(&check(TURBO, &[set]), said);
    }
}

const ENGINE: &str = "[engine]\ndisplacement = \"4 L\"\nvolumetric_efficiency = 0.9\nrpm = { from = 1000, \
                      to = 2000, step = 500 }\n";

#[test]
fn a_needed_key_under_another_name_is_not_missing_too() {
    let with = |more: &str| format!("{ENGINE}{more}");
    for (text, said) in [
        (
            ENGINE.replace("volumetric_efficiency", "VE"),
            "volumetric_efficiency?",
        ),
        (ENGINE.replace("displacement", "capacity"), "displacement?"),
        (
            ENGINE.replace("[engine]", "[motor]"),
            "did you mean engine?",
        ),
        (ENGINE.replace("step", "increment"), "did you mean step?"),
        (
            with("[fuel]\nkind = \"diesel\"\nafr = 22\n"),
            "air_fuel_ratio?",
        ),
        // One of four: the one that was meant is not the one that is said to be missing.
        (with("[fuel]\nkind = \"diesel\"\nlam = 1.4\n"), "lambda?"),
        (
            with("[[air_path]]\npart = \"intercooler\"\nefficiency = 0.7\n"),
            "effectiveness?",
        ),
        (
            with("[[air_path]]\npart = \"pipe\"\ndia = \"70 mm\"\nlength = \"1 m\"\n"),
            "diameter?",
        ),
        (
            with(
                "[[air_path]]\npart = \"blower\"\nkind = \"roots\"\ndisplacement = \"2 L\"\noverdrive = 2\n",
            ),
            "drive_ratio?",
        ),
        (
            with("[[air_path]]\npart = \"gearbox\"\nratio = 2\nmass = \"3 kg\"\n"),
            "\"gearbox\" is not known",
        ),
        (
            with("[[air_path]]\ntype = \"intercooler\"\neffectiveness = 0.7\n"),
            "write it as part",
        ),
        (
            with("[intercooler]\neffectiveness = 0.7\n"),
            "[[air_path]] with part = \"cooler\"",
        ),
        (
            with("[wastegate]\nboost_limit = \"20 psi\"\n"),
            "write [turbine.wastegate]",
        ),
    ] {
        one_fault(&check_text(&text), said);
    }
}

#[test]
fn a_path_of_the_air_under_another_name_does_not_leave_the_turbine_without_a_compressor() {
    let text = fs::read_to_string(kept(TURBO)).unwrap();
    let other = text.replace("[[air_path]]", "[[intake]]");
    one_fault(
        &check_text(&other),
        "intake: is unknown, did you mean air_path?",
    );
}

#[test]
fn a_section_within_another_is_set_by_its_own_name() {
    let set = |key: &str| {
        let build = kept(TURBO);
        let set = format!("{key}=15 psi");
        let ran = Scratch::new().run(&["point", &build, "--rpm", "3000", "--set", &set]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    assert_eq!(
        set("wastegate.boost_limit"),
        set("turbine.wastegate.boost_limit")
    );
    one_fault(
        &check(TURBO, &["wastgate.boost_limit=20 psi"]),
        "write [turbine.wastegate]",
    );
    one_fault(
        &check("builds/two_turbos.toml", &["wastegate.boost_limit=20 psi"]),
        "this build has 2 [[turbine]]: say which, as in turbine.2.wastegate",
    );
    one_fault(
        &check(
            "builds/single_roots.toml",
            &["wastegate.boost_limit=20 psi"],
        ),
        "this build has no [turbine]",
    );
}

#[test]
fn a_gallon_is_the_us_one_and_a_volume_flow_is_no_mass_flow() {
    let air = |size: &str| {
        let set = format!("engine.displacement={size}");
        super::point_with(&[&set]).json()["air_mass_flow_kg_s"]
            .as_f64()
            .unwrap()
    };
    let same = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
    same(air("1 gal"), air("231 cu. in."));
    same(air("1 gal"), air("3785.411784 cc"));
    same(air("1 imp gal"), air("4.54609 L"));
    same(air("244 CID"), air("244 in³"));
    let ran = check(TURBO, &["filter.at_flow=400 CFM"]);
    one_fault(&ran, "can be read in two ways");
}

#[test]
fn quotes_of_a_word_processor_get_one_fault_at_their_line() {
    let text = ENGINE.replace("\"4 L\"", "“4 L”");
    one_fault(
        &check_text(&text),
        "t.toml:2: displacement: has typographic quotes: write displacement = \"4 L\"",
    );
    let blanks = ENGINE
        .replace(" = ", "\u{a0}=\u{a0}")
        .replace("4 L", "4\u{a0}L");
    assert_eq!(check_text(&format!("\u{feff}{blanks}")).code, 0);
}
