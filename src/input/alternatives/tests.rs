//! Which of several keys counts.

use super::super::tests::{invented_map, outcome_with};
use super::super::{DEMO, Note, Outcome};
use super::CHOICES;
use crate::air_path::{Part, SuperchargerKind};
use crate::engine::{FuelKind, Fuelling};
use crate::exhaust::{GateOpening, Swallowing};
use crate::matching::Installation;
use approx::assert_relative_eq;

fn outcome(text: &str, options: &[&str]) -> Outcome {
    outcome_with(text, options, &invented_map)
}

/// What is meant, and which keys are said not to be used.
fn meant(text: &str, options: &[&str]) -> (Installation, Vec<String>) {
    let outcome = outcome(text, options);
    assert!(outcome.faults.is_empty(), "{:#?}", outcome.faults);
    let said = outcome.remarks.iter().map(Note::to_string);
    let said = said.filter(|text| text.contains("not used")).collect();
    (outcome.installation.unwrap(), said)
}

/// Drive ratio and the pulley on the supercharger, m.
fn drive(installation: &Installation) -> (f64, f64) {
    let found = installation.air_path.iter().find_map(|part| match part {
        Part::Supercharger(stage) => match &stage.kind {
            SuperchargerKind::Displacement(machine) => Some((
                machine.belt.ratio,
                stage.belt_path.as_ref()?.pulley_diameter,
            )),
            _ => None,
        },
        _ => None,
    });
    found.unwrap()
}

fn with_crank_pulley() -> String {
    DEMO.replace(
        "pulley_diameter = \"76 mm\"",
        "pulley_diameter = \"76 mm\"\ncrank_pulley_diameter = \"163.4 mm\"",
    )
}

#[test]
fn another_pulley_changes_the_ratio_and_not_the_other_pulley() {
    // The crank's pulley of the demo is implied: 2.15 × 76 mm.
    for text in [DEMO.to_owned(), with_crank_pulley()] {
        let (installation, said) = meant(&text, &["supercharger.pulley_diameter=70 mm"]);
        let (ratio, pulley) = drive(&installation);
        assert_relative_eq!(ratio, 163.4 / 70.0, max_relative = 1e-6);
        assert_relative_eq!(pulley, 0.070);
        assert_eq!(said.len(), 1, "{said:#?}");
        assert!(
            said[0]
                .contains("supercharger.drive_ratio: not used: --set supercharger.pulley_diameter")
        );
    }
    let (installation, said) = meant(DEMO, &["supercharger.crank_pulley_diameter=152 mm"]);
    assert_relative_eq!(drive(&installation).0, 2.0, max_relative = 1e-9);
    assert_eq!(said.len(), 1, "{said:#?}");
    let (installation, _) = meant(DEMO, &["supercharger.gear_ratio=1.1"]);
    assert_relative_eq!(drive(&installation).0, 1.1 * 2.15, max_relative = 1e-6);
}

#[test]
fn the_cure_that_the_remark_names_keeps_the_ratio() {
    let options = [
        "supercharger.pulley_diameter=70 mm",
        "supercharger.drive_ratio=2.15",
    ];
    for text in [DEMO.to_owned(), with_crank_pulley()] {
        let (installation, _) = meant(&text, &options);
        assert_relative_eq!(drive(&installation).0, 2.15);
        assert_relative_eq!(drive(&installation).1, 0.070);
    }
}

#[test]
fn a_pulley_set_to_what_it_was_changes_nothing() {
    let (installation, said) = meant(DEMO, &["supercharger.pulley_diameter=0.076 m"]);
    assert_relative_eq!(drive(&installation).0, 2.15);
    assert!(said.is_empty(), "{said:#?}");
}

#[test]
fn a_ratio_set_last_moves_the_pulley_that_was_set_first_of_all() {
    let (installation, said) = meant(&with_crank_pulley(), &["supercharger.drive_ratio=2.5"]);
    assert_relative_eq!(drive(&installation).0, 2.5);
    assert_relative_eq!(drive(&installation).1, 0.076);
    assert!(
        said[0].contains("crank_pulley_diameter: not used"),
        "{said:#?}"
    );
    let later = [
        "supercharger.crank_pulley_diameter=150 mm",
        "supercharger.drive_ratio=2.5",
    ];
    let (installation, said) = meant(&with_crank_pulley(), &later);
    assert_relative_eq!(drive(&installation).0, 2.5);
    assert_relative_eq!(drive(&installation).1, 0.060, max_relative = 1e-6);
    assert!(
        said[0].contains("pulley_diameter: not used as written"),
        "{said:#?}"
    );
    // The other way round the pulleys count.
    let (installation, _) = meant(&with_crank_pulley(), &[later[1], later[0]]);
    assert_relative_eq!(drive(&installation).0, 150.0 / 76.0, max_relative = 1e-9);
}

#[test]
fn an_uncertain_ratio_leaves_its_uncertainty_to_the_pulley_that_follows_from_it() {
    let text = DEMO.replace("drive_ratio = 2.15", "drive_ratio = \"2.15 +- 2 %\"");
    let outcome = outcome(&text, &["supercharger.pulley_diameter=70 mm"]);
    let crank = outcome
        .inputs
        .iter()
        .find(|input| input.key == "supercharger.crank_pulley_diameter");
    let crank = crank.unwrap();
    assert!(crank.is_uncertain, "{crank:?}");
    assert_eq!(crank.written, "163.4000 mm +- 3.2680 mm");
}

#[test]
fn of_an_engines_sizes_the_oldest_follows() {
    let all = DEMO.replace(
        "stroke = \"118 mm\"",
        "stroke = \"118 mm\"\nbore = \"110.17 mm\"",
    );
    let volume = |installation: &Installation| installation.engine.displacement;
    let quarter_pi = std::f64::consts::FRAC_PI_4;
    for (option, bore, stroke) in [
        ("engine.bore=105 mm", 0.105, 0.118),
        ("engine.stroke=125 mm", 0.110_17, 0.125),
    ] {
        let (installation, said) = meant(&all, &[option]);
        assert_relative_eq!(
            volume(&installation),
            4.0 * quarter_pi * bore * bore * stroke,
            max_relative = 1e-12
        );
        assert!(
            said[0].contains("engine.displacement: not used"),
            "{said:#?}"
        );
    }
    let (installation, said) = meant(&all, &["engine.displacement=5 L"]);
    assert_relative_eq!(volume(&installation), 5e-3);
    assert_relative_eq!(installation.engine.stroke.unwrap(), 0.118);
    assert!(said[0].contains("engine.bore: not used"), "{said:#?}");
    let both = ["engine.displacement=5 L", "engine.bore=112 mm"];
    let (installation, said) = meant(&all, &both);
    assert_relative_eq!(volume(&installation), 5e-3);
    assert_relative_eq!(installation.engine.bore.unwrap(), 0.112);
    assert!(said[0].contains("engine.stroke: not used"), "{said:#?}");
    // A bore that nobody wrote follows, and that is said.
    let outcome = outcome(DEMO, &["engine.stroke=125 mm"]);
    let said: Vec<String> = outcome.remarks.iter().map(Note::to_string).collect();
    assert!(
        said.iter()
            .any(|text| text.contains("--set engine.stroke: the displacement is kept")),
        "{said:#?}"
    );
}

#[test]
fn another_altitude_has_its_own_pressure_and_two_options_stand_together() {
    let text = DEMO.replace(
        "altitude = \"1600 m\"",
        "altitude = \"1600 m\"\npressure = \"84.2 kPa\"",
    );
    let (installation, said) = meant(&text, &["site.altitude=2400 m"]);
    assert_relative_eq!(installation.site.pressure, 75_626.0, max_relative = 1e-3);
    assert!(
        said[0].contains("site.pressure: not used: replaced by the standard"),
        "{said:#?}"
    );
    let (installation, said) = meant(&text, &["site.pressure=76 kPa", "site.altitude=2400 m"]);
    assert_relative_eq!(installation.site.pressure, 76e3);
    assert!(said.is_empty(), "{said:#?}");
    // A weather report's figure is no reading of that place, also by an option.
    let faults = outcome(DEMO, &["site.pressure=101.3 kPa"]).faults;
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert!(
        faults[0]
            .to_string()
            .ends_with("also remove altitude: --set site.altitude=")
    );
    let cured = ["site.pressure=101.3 kPa", "site.altitude="];
    assert_relative_eq!(meant(DEMO, &cured).0.site.pressure, 101_300.0);
}

#[test]
fn another_fuel_leaves_the_numbers_of_the_old_one_behind() {
    let text = DEMO.replace(
        "kind = \"diesel\"",
        "kind = \"diesel\"\nlower_heating_value = \"42.1 MJ/kg\"\ndensity = \"841 kg/m3\"",
    );
    let (installation, said) = meant(&text, &["fuel.kind=ethanol"]);
    let fuel = installation.fuel.unwrap();
    assert_eq!(fuel.kind, Some(FuelKind::Ethanol));
    assert_relative_eq!(fuel.lower_heating_value, 26.9e6);
    assert_relative_eq!(fuel.density.unwrap(), 789.0);
    assert_eq!(said.len(), 2, "{said:#?}");
    // The same fuel by name keeps them, and so does a number set beside the new name.
    let fuel = meant(&text, &["fuel.kind=diesel"]).0.fuel.unwrap();
    assert_relative_eq!(fuel.lower_heating_value, 42.1e6);
    for options in [
        ["fuel.kind=ethanol", "fuel.density=800 kg/m3"],
        ["fuel.density=800 kg/m3", "fuel.kind=ethanol"],
    ] {
        assert_relative_eq!(
            meant(&text, &options).0.fuel.unwrap().density.unwrap(),
            800.0
        );
    }
}

#[test]
fn of_two_ways_to_say_one_thing_the_one_set_last_counts() {
    let (installation, said) = meant(DEMO, &["fuel.lambda=1.4"]);
    assert!(matches!(
        installation.fuel.unwrap().burned,
        Fuelling::Lambda(_)
    ));
    assert_eq!(
        said.len(),
        2,
        "the fuel per stroke and its limiter: {said:#?}"
    );
    let both = ["fuel.lambda=1.4", "fuel.air_fuel_ratio=22"];
    let (installation, said) = meant(DEMO, &both);
    assert!(matches!(
        installation.fuel.unwrap().burned,
        Fuelling::AirFuelRatio(_)
    ));
    assert!(
        said.iter().any(
            |text| text == "--set fuel.lambda: not used: replaced by --set fuel.air_fuel_ratio"
        )
    );
    let (installation, _) = meant(DEMO, &["turbine.wastegate.valve_diameter=30 mm"]);
    let gate = installation.turbines[0].wastegate.as_ref().unwrap();
    assert!(matches!(gate.opening, GateOpening::ValveDiameter(_)));
    let choked = [
        "turbine.choked_corrected_flow=0.2 kg/s",
        "turbine.reference_temperature=288 K",
        "turbine.reference_pressure=101 kPa",
    ];
    let (installation, _) = meant(DEMO, &choked);
    let Swallowing::Area { effective_area, .. } = installation.turbines[0].swallowing else {
        panic!()
    };
    assert!((effective_area - 7.7e-4).abs() > 1e-5);
}

#[test]
fn what_cannot_stand_alone_is_missed_and_the_rest_is_not_refused() {
    // A rated cooler needs more than its heat; the effectiveness is out of the way.
    let said = outcome(DEMO, &["cooler.rated.heat=28 kW"]).faults;
    assert!(!said.is_empty());
    assert!(
        said.iter()
            .all(|fault| fault.to_string().contains("is missing")),
        "{said:#?}"
    );
}

/// Every choice of the table, two of its ways in the file.
#[test]
fn two_ways_in_the_file_are_refused_at_the_later_line() {
    let cases = [
        (
            "[site]",
            "temperature_offset = \"5 K\"",
            "site.temperature:",
            "temperature_offset",
        ),
        ("[fuel]", "lambda = 1.4", "fuel.per_stroke:", "lambda"),
        (
            "[turbine]",
            "map = \"t.csv\"",
            "turbine.effective_area:",
            "map",
        ),
        (
            "[turbine.wastegate]",
            "valve_diameter = \"30 mm\"",
            "turbine.wastegate.largest_share:",
            "valve_diameter",
        ),
        (
            "part = \"cooler\"",
            "core = { }",
            "cooler.effectiveness:",
            "core",
        ),
        (
            "part = \"cooler\"",
            "sink_flow = \"1 kg/s\"\nfan = [[\"0.2 m3/s\", \"250 Pa\"], [\"0.6 m3/s\", \"40 Pa\"]]",
            "cooler.fan:",
            "sink_flow",
        ),
        (
            "part = \"cooler\"",
            "sink_temperature = \"30 degC\"\nsink_temperature_rise = \"5 K\"",
            "cooler.sink_temperature_rise:",
            "sink_temperature",
        ),
        (
            "part = \"supercharger\"",
            "wrap_angle = \"170 deg\"",
            "supercharger.center_distance:",
            "wrap_angle",
        ),
        (
            "[engine.head]",
            "stud_torque = \"120 N m\"\nstud_diameter = \"12 mm\"",
            "engine.head.stud_preload:",
            "stud_torque",
        ),
    ];
    for (at, more, key, other) in cases {
        let text = DEMO.replacen(&format!("{at}\n"), &format!("{at}\n{more}\n"), 1);
        let faults = outcome(&text, &[]).faults;
        let said: Vec<String> = faults.iter().map(Note::to_string).collect();
        let expected = format!("{key} conflicts with {other}: ");
        assert!(
            said.iter().any(|text| text.contains(&expected)),
            "{expected} not in {said:#?}"
        );
    }
}

#[test]
fn the_table_names_each_key_in_one_way_of_a_choice_only() {
    for choice in CHOICES {
        let mut keys: Vec<&str> = choice
            .alternatives
            .iter()
            .flat_map(|way| way.keys.iter().copied())
            .collect();
        let count = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), count, "{}", choice.section);
        assert!(choice.alternatives.len() > 1);
    }
}
