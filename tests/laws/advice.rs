//! Advice that names a value hits: the build with the advised value keeps its limit over the whole
//! line, and with a hundredth less of the change it does not.

use airpath::finding::{Code, Finding, Lever, LimitMet, NextStep, Severity};
use airpath::input::{self, Document, Override};
use airpath::matching::{Installation, Solver};
use airpath::quantity::UnitSystem;
use airpath::report::words::{advice, words};
use airpath::study;

/// An invented truck: Roots ahead of a turbo of one efficiency, the air–fuel ratio held.
const TRUCK: &str = include_str!("../builds/hill_climb_diesel.toml");
/// An invented diesel with one turbo and a wastegate, the fuel held.
const TURBO: &str = include_str!("../builds/single_turbo.toml");
/// An invented engine with one Roots and no turbo.
const ROOTS: &str = include_str!("../builds/single_roots.toml");

fn installation(text: &str, settings: &[(&str, String)]) -> Installation {
    let document = Document::from_text("build.toml", text);
    let settings: Vec<_> = settings
        .iter()
        .map(|(key, value)| Override {
            key: (*key).to_owned(),
            value: value.clone(),
            beside: None,
        })
        .collect();
    let outcome = input::read(&document, &settings, &|_| panic!("it names no map"));
    outcome
        .installation
        .unwrap_or_else(|| panic!("{:?}", outcome.faults))
}

/// What is found along the line.
fn found(text: &str, settings: &[(&str, String)]) -> Vec<Finding> {
    let installation = installation(text, settings);
    let layout = Solver::new(&installation).unwrap().layout().clone();
    let line = study::run(&installation).unwrap();
    study::findings(&installation, &layout, &line)
}

fn of(list: &[Finding], code: Code) -> Option<&Finding> {
    list.iter().find(|finding| finding.code == code)
}

/// The advised step of a finding, and the value it leads to.
fn step(list: &[Finding], code: Code, lever: Lever) -> (NextStep, f64) {
    let step = of(list, code).unwrap().step.unwrap();
    assert_eq!(step.lever, lever, "{step:?}");
    match step.to {
        LimitMet::At(to) => (step, to),
        LimitMet::NotUpTo(_) => panic!("{step:?}"),
    }
}

/// Solves the advice and, with the advised value written as `write` does, the line again: the limit is
/// met to a ten-thousandth, on the right side, and a hundredth of the change short of it is not kept.
fn hits(
    text: &str,
    settings: &[(&'static str, String)],
    (code, lever): (Code, Lever),
    key: &'static str,
    write: fn(f64) -> String,
) {
    let before = found(text, settings);
    assert_eq!(of(&before, code).unwrap().severity, Severity::Over);
    let (step, to) = step(&before, code, lever);
    let with = |value: f64| {
        let mut settings = settings.to_vec();
        settings.push((key, write(value)));
        found(text, &settings)
    };
    let after = with(to);
    let margin = of(&after, code).map(|finding| finding.margin.unwrap());
    // A gate that holds its limit again is no finding at all.
    assert!(
        margin.is_none_or(|margin| (-2e-6..1e-4).contains(&margin)),
        "{margin:?} with {step:?}"
    );
    // The figure as it is told, in the words that a reader gets: it keeps the limit, and little more.
    let (raises, told) = told(of(&before, code).unwrap());
    assert_eq!(raises, to > step.now, "{step:?}");
    let mut changed = settings.to_vec();
    changed.push((key, told));
    let margin = of(&found(text, &changed), code).map(|finding| finding.margin.unwrap());
    assert!(
        margin.is_none_or(|margin| (-2e-6..2e-2).contains(&margin)),
        "{margin:?} with {changed:?}"
    );
    let short = with(to + 0.01 * (step.now - to));
    assert_eq!(
        of(&short, code).unwrap().severity,
        Severity::Over,
        "{step:?}"
    );
    // What it says would then be past its limit is, and was not before.
    let is_over = |list: &[Finding], code| {
        let mut same = list.iter().filter(|finding| finding.code == code);
        same.any(|finding| finding.severity == Severity::Over)
    };
    for other in step.then.into_iter().flatten() {
        assert!(is_over(&after, other), "{other:?} with {step:?}");
    }
}

/// Whether an advice raises its setting, and the figure that it leads to as a build would hold it.
fn told(finding: &Finding) -> (bool, String) {
    let text = advice(finding, UnitSystem::Si);
    let raises = text.starts_with("Raise ");
    assert!(raises || text.starts_with("Lower "), "{text}");
    let (_, rest) = text.split_once(" from ").unwrap();
    let (_, rest) = rest.split_once(" to ").unwrap();
    let end = rest.find(|letter: char| !(letter.is_ascii_digit() || letter == '.'));
    let (figure, rest) = rest.split_at(end.unwrap_or(rest.len()));
    let units = [
        ("%", "%"),
        ("cm²", "cm2"),
        ("kPa", "kPa"),
        ("mg", "mg"),
        ("mm", "mm"),
    ];
    let unit = units
        .iter()
        .find(|(shown, _)| rest.trim_start().starts_with(shown));
    let figure = figure.trim_end_matches('.');
    let written = unit.map_or_else(|| figure.to_owned(), |(_, unit)| format!("{figure} {unit}"));
    (raises, written)
}

fn plain(value: f64) -> String {
    format!("{value}")
}

fn set(key: &'static str, value: &str) -> (&'static str, String) {
    (key, value.to_owned())
}

/// The larger the pulley's fault, the more the first order is off: all three lead to one ratio.
#[test]
fn the_drive_ratio_is_the_same_from_wherever_it_starts() {
    let code = Code::ManifoldPressure;
    let mut advised = Vec::new();
    for now in ["2.2", "2.6", "3.2"] {
        let settings = [
            set("supercharger.drive_ratio", now),
            set("supercharger.bypass", "none"),
            set("supercharger.bypass_pressure", ""),
            set("supercharger.bypass_at", ""),
            set("limits.max_manifold_pressure", "140 kPa"),
        ];
        let lever = (code, Lever::DriveRatio);
        hits(ROOTS, &settings, lever, "supercharger.drive_ratio", plain);
        advised.push(step(&found(ROOTS, &settings), code, Lever::DriveRatio).1);
    }
    let spread = advised.iter().fold(0.0_f64, |most, ratio| {
        most.max((ratio / advised[0] - 1.0).abs())
    });
    assert!(spread < 1e-4, "{advised:?}");
}

#[test]
fn a_bypass_set_lower_brings_the_manifold_to_its_limit() {
    let pressure = |value: f64| format!("{value} Pa");
    let what = (Code::ManifoldPressure, Lever::BypassPressure);
    let settings = [set("limits.max_manifold_pressure", "150 kPa")];
    hits(
        ROOTS,
        &settings,
        what,
        "supercharger.bypass_pressure",
        pressure,
    );
}

#[test]
fn the_pulley_that_lets_the_gate_hold_its_limit_is_found() {
    let settings = [
        set("supercharger.drive_ratio", "4.2"),
        set("turbine.wastegate.boost_limit", "100 kPa"),
    ];
    let before = found(TRUCK, &settings);
    let code = Code::SuperchargerAboveBoostLimit;
    let (step, to) = step(&before, code, Lever::DriveRatio);
    let with = |ratio: f64| {
        let ratio = plain(ratio);
        let settings = [
            ("supercharger.drive_ratio", ratio),
            set("turbine.wastegate.boost_limit", "100 kPa"),
        ];
        let list = found(TRUCK, &settings);
        list.iter().any(|finding| {
            let is_gate = matches!(
                finding.code,
                Code::SuperchargerAboveBoostLimit
                    | Code::WastegateTooSmall
                    | Code::WastegateWideOpen
            );
            is_gate && finding.severity == Severity::Over
        })
    };
    assert!(!with(0.9999 * to), "{step:?}");
    assert!(with(1.002 * to), "{step:?}");
}

#[test]
fn less_fuel_brings_a_hot_exhaust_to_its_limit() {
    let per_stroke = |value: f64| format!("{} mg", 1e6 * value);
    let settings = [
        set("fuel.smallest_air_fuel_ratio", ""),
        set("fuel.per_stroke", "112 mg"),
        set("limits.max_exhaust_temperature", "560 degC"),
    ];
    let what = (Code::ExhaustTemperature, Lever::FuelPerStroke);
    hits(TURBO, &settings, what, "fuel.per_stroke", per_stroke);
}

#[test]
fn a_leaner_mixture_brings_a_hot_exhaust_to_its_limit() {
    let settings = [
        set("fuel.air_fuel_ratio", "20"),
        set("limits.max_exhaust_temperature", "640 degC"),
    ];
    let what = (Code::ExhaustTemperature, Lever::AirFuelRatio);
    hits(TRUCK, &settings, what, "fuel.air_fuel_ratio", plain);
    // Far richer than burns completely would cool it too, and is no advice.
    let (step, to) = step(&found(TRUCK, &settings), what.0, what.1);
    assert!(to > step.now, "{step:?}");
}

#[test]
fn a_better_cooler_brings_the_charge_to_its_limit() {
    let what = (Code::ChargeTemperature, Lever::Effectiveness);
    let settings = [set("limits.max_charge_temperature", "52 degC")];
    hits(TURBO, &settings, what, "cooler.effectiveness", plain);
}

#[test]
fn a_lower_boost_limit_brings_the_compressor_outlet_to_its_limit() {
    let pressure = |value: f64| format!("{value} Pa");
    let what = (Code::CompressorOutletTemperature, Lever::BoostLimit);
    let settings = [set("limits.max_compressor_outlet_temperature", "125 degC")];
    let key = "turbine.wastegate.boost_limit";
    hits(TURBO, &settings, what, key, pressure);
}

#[test]
fn a_larger_turbine_brings_the_drive_pressure_to_its_limit() {
    let area = |value: f64| format!("{} cm2", 1e4 * value);
    let what = (Code::DrivePressureRatio, Lever::TurbineArea);
    let settings = [set("limits.max_drive_pressure_ratio", "1.0")];
    hits(TURBO, &settings, what, "turbine.effective_area", area);
}

#[test]
fn near_a_limit_the_room_ends_at_the_limit() {
    let limit = |effectiveness: &str| {
        [
            set("limits.max_charge_temperature", "75 degC"),
            set("cooler.effectiveness", effectiveness),
        ]
    };
    let before = found(TRUCK, &limit("0.75"));
    assert_eq!(
        of(&before, Code::ChargeTemperature).unwrap().severity,
        Severity::Near
    );
    let (step, to) = step(&before, Code::ChargeTemperature, Lever::Effectiveness);
    assert!(to < step.now, "{step:?}");
    let after = found(TRUCK, &limit(&plain(to)));
    let margin = of(&after, Code::ChargeTemperature).unwrap().margin.unwrap();
    assert!(margin.abs() < 1e-5, "{margin}");
}

#[test]
fn a_setting_that_no_value_of_would_do_says_how_far_it_was_tried() {
    // The charge cannot leave colder than what cools it.
    let list = found(TRUCK, &[set("limits.max_charge_temperature", "15 degC")]);
    let step = of(&list, Code::ChargeTemperature).unwrap().step.unwrap();
    assert_eq!(step.to, LimitMet::NotUpTo(1.0));
}

#[test]
fn what_would_then_be_past_its_limit_is_named() {
    // A colder charge is a denser one: with it the compressor's outlet passes what it just keeps now.
    let hottest = |list: &[Finding]| {
        let finding = of(list, Code::CompressorOutletTemperature).unwrap();
        finding.value.unwrap()
    };
    let now = hottest(&found(TRUCK, &[]));
    let limit = format!("{} K", now + 0.05);
    let settings = [
        ("limits.max_compressor_outlet_temperature", limit),
        set("limits.max_charge_temperature", "55 degC"),
    ];
    let list = found(TRUCK, &settings);
    let (step, to) = step(&list, Code::ChargeTemperature, Lever::Effectiveness);
    let mut settings = settings.to_vec();
    settings.push(("cooler.effectiveness", plain(to)));
    let after = found(TRUCK, &settings);
    let outlet = of(&after, Code::CompressorOutletTemperature).unwrap();
    let is_named = step.then.contains(&Some(Code::CompressorOutletTemperature));
    assert_eq!(
        is_named,
        outlet.severity == Severity::Over,
        "{step:?} {outlet:?}"
    );
}

/// One way that the general advice of a code names, and a build that it is tried on: the setting as it
/// is and turned that way.
struct Direction {
    code: Code,
    says: &'static str,
    build: &'static str,
    settings: &'static [(&'static str, &'static str)],
    key: &'static str,
    turn: [&'static str; 2],
}

const fn direction(
    (code, says): (Code, &'static str),
    build: &'static str,
    settings: &'static [(&'static str, &'static str)],
    key: &'static str,
    turn: [&'static str; 2],
) -> Direction {
    Direction {
        code,
        says,
        build,
        settings,
        key,
        turn,
    }
}

const AREA: &str = "turbine.effective_area";
const DIRECTIONS: [Direction; 15] = [
    direction(
        (Code::DrivePressureRatio, "a larger turbine"),
        TURBO,
        &[("limits.max_drive_pressure_ratio", "1.0")],
        AREA,
        ["8.1 cm2", "8.6 cm2"],
    ),
    direction(
        (Code::TurbineChoked, "a larger turbine"),
        TURBO,
        &[("turbine.wastegate.valve_diameter", "35 mm")],
        AREA,
        ["6 cm2", "7 cm2"],
    ),
    direction(
        (Code::WastegateTooSmall, "a larger turbine"),
        TURBO,
        &[("turbine.wastegate.valve_diameter", "10 mm")],
        AREA,
        ["8.1 cm2", "8.6 cm2"],
    ),
    direction(
        (Code::WastegateTooSmall, "a larger wastegate valve"),
        TURBO,
        &[],
        "turbine.wastegate.valve_diameter",
        ["10 mm", "12 mm"],
    ),
    direction(
        (Code::ExhaustTemperature, "less fuel"),
        TURBO,
        &[
            ("fuel.smallest_air_fuel_ratio", ""),
            ("limits.max_exhaust_temperature", "560 degC"),
        ],
        "fuel.per_stroke",
        ["80 mg", "76 mg"],
    ),
    direction(
        (Code::ExhaustTemperature, "more air"),
        TRUCK,
        &[("limits.max_exhaust_temperature", "600 degC")],
        "fuel.air_fuel_ratio",
        ["20", "21"],
    ),
    direction(
        (Code::DieselSmoke, "less fuel or more air"),
        TRUCK,
        &[],
        "fuel.air_fuel_ratio",
        ["16", "17"],
    ),
    direction(
        (Code::RichMixture, "less fuel or more air"),
        TRUCK,
        &[],
        "fuel.air_fuel_ratio",
        ["13", "13.5"],
    ),
    direction(
        (Code::ExhaustBeyondMaterial, "less fuel or more air"),
        TRUCK,
        &[("engine.combustion.heat_loss_share", "0.02")],
        "fuel.air_fuel_ratio",
        ["15.5", "16.5"],
    ),
    direction(
        (Code::ManifoldPressure, "Lower the boost"),
        TURBO,
        &[("limits.max_manifold_pressure", "200 kPa")],
        "turbine.wastegate.boost_limit",
        ["150 kPa", "140 kPa"],
    ),
    direction(
        (Code::CylinderPressure, "less boost"),
        TURBO,
        &[("limits.max_cylinder_pressure", "10 MPa")],
        "turbine.wastegate.boost_limit",
        ["150 kPa", "140 kPa"],
    ),
    direction(
        (Code::CylinderPressure, "lower the compression ratio"),
        TURBO,
        &[("limits.max_cylinder_pressure", "10 MPa")],
        "engine.compression_ratio",
        ["16", "15.5"],
    ),
    direction(
        (Code::ChargeTemperature, "a larger charge cooler"),
        TURBO,
        &[("limits.max_charge_temperature", "52 degC")],
        "cooler.effectiveness",
        ["0.74", "0.76"],
    ),
    direction(
        (Code::SuperchargerSpeed, "a larger supercharger pulley"),
        ROOTS,
        &[("supercharger.max_speed", "5000 rpm")],
        "supercharger.drive_ratio",
        ["2.2", "2.1"],
    ),
    direction(
        (Code::SuperchargerAboveBoostLimit, "Lower the drive ratio"),
        TRUCK,
        &[("turbine.wastegate.boost_limit", "100 kPa")],
        "supercharger.drive_ratio",
        ["4.2", "4.0"],
    ),
];

/// What the general advice says without a number is put into a build: the finding is there, and gone
/// or less bad after it. An advice that names the other way fails on its words or on its build.
#[test]
fn every_direction_that_general_advice_names_makes_things_better() {
    for one in &DIRECTIONS {
        let general = words(one.code).advice.general;
        assert!(general.contains(one.says), "{:?}: {general}", one.code);
        let weight = |value: &str| {
            let settings = one.settings.iter().map(|(key, value)| set(key, value));
            let settings: Vec<_> = settings.chain([set(one.key, value)]).collect();
            of(&found(one.build, &settings), one.code)
                .map(|finding| (finding.severity, finding.weight))
        };
        let (before, after) = (weight(one.turn[0]), weight(one.turn[1]));
        let (severity, weight) = before.unwrap_or_else(|| panic!("{:?} is not there", one.code));
        assert!(severity > Severity::Ok, "{:?} {severity:?}", one.code);
        assert!(
            after.is_none_or(|after| after.0 <= severity && after.1 < weight),
            "{:?}, {}: {before:?} becomes {after:?}",
            one.code,
            one.says
        );
    }
}

/// Without a wastegate too small a turbine runs away.
#[test]
fn a_turbine_that_runs_away_wants_a_larger_one() {
    let gate = TURBO.find("[turbine.wastegate]").unwrap();
    let exhaust = TURBO.find("[exhaust]").unwrap();
    let free = format!("{}{}", &TURBO[..gate], &TURBO[exhaust..]);
    let runs_away = |area: &str| of(&found(&free, &[set(AREA, area)]), Code::RunsAway).is_some();
    let general = words(Code::RunsAway).advice.general;
    assert!(general.contains("a larger turbine"), "{general}");
    assert!(runs_away("2 cm2") && !runs_away("4 cm2"));
    // The other side of the same balance.
    let stalls = words(Code::Stalls).advice.general;
    assert!(stalls.contains("a smaller turbine"), "{stalls}");
}
