//! What boost costs: power, cylinder and head, belt, injectors, evaporating fuel, and what was taken as
//! usual.

use std::fs;

use serde_json::Value;

use super::{Ran, Scratch, assert_refused, kept, named};

const METHANOL: &str = "builds/methanol_sprint.toml";

/// A run of `point` on a build of the tests (the empty name is the demo) with values set.
fn point(build: &str, rpm: &str, set: &[&str], format: &str) -> Ran {
    let path = kept(build);
    let mut arguments = vec!["point", "--rpm", rpm, "--format", format, "--verbose"];
    if !build.is_empty() {
        arguments.insert(1, &path);
    }
    for value in set {
        arguments.extend(["--set", value]);
    }
    Scratch::new().run(&arguments)
}

fn json(build: &str, rpm: &str, set: &[&str]) -> Value {
    point(build, rpm, set, "json").json()
}

fn number(value: &Value, key: &str) -> f64 {
    value[key]
        .as_f64()
        .unwrap_or_else(|| panic!("no {key} in {value}"))
}

fn finding<'a>(point: &'a Value, code: &str) -> Option<&'a Value> {
    let list = point["findings"].as_array()?;
    list.iter().find(|finding| finding["code"] == code)
}

fn close(a: f64, b: f64, relative: f64) {
    assert!((a - b).abs() <= relative * b.abs(), "{a} for {b}");
}

#[test]
fn the_items_of_the_power_add_up_to_brake_and_stand_in_the_text() {
    let point = json("", "1600", &[]);
    let of = |name| number(named(&point, "power", name), "power_w");
    let sum = of("gross indicated") + of("pumping") + of("friction") + of("supercharger drive");
    close(sum, of("brake"), 1e-9);
    close(
        of("brake"),
        number(&point["engine"], "brake_power_w"),
        1e-12,
    );
    // By definition: bmep × displacement × working cycles per second.
    let engine = &point["engine"];
    let power = number(engine, "brake_mean_effective_pressure_pa") * 4.5e-3 * 1600.0 / 120.0;
    close(power, of("brake"), 1e-9);
    let text = super::Scratch::new()
        .run(&["point", "--rpm", "1600", "--units", "us"])
        .out;
    for words in ["where the power goes", "supercharger drive", "BMEP"] {
        assert!(text.contains(words), "{words} is not in {text}");
    }
}

#[test]
fn a_line_shows_where_the_power_goes_and_draws_it() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["line", "--columns", "balance"]);
    for words in ["gross", "pumping", "friction", "drive"] {
        assert!(ran.out.contains(words), "{}", ran.out);
    }
    let drawn = std::fs::read_to_string(scratch.as_ref().join("out/power.svg")).unwrap();
    for words in ["brake", "friction", "gross", "supercharger"] {
        assert!(drawn.contains(words), "{words}");
    }
}

/// A single reason is named, and with it the section to add.
#[test]
fn without_an_exhaust_the_missing_section_is_named_once() {
    let set = [
        "exhaust=",
        "turbine=",
        "turbo_compressor.pressure_ratio=1.6",
    ];
    let ran = point("", "2000", &set, "text");
    assert_eq!(ran.code, 0, "{}", ran.err);
    let words = "brake power not calculated, [exhaust] or [turbine] is missing";
    assert_eq!(ran.out.matches(words).count(), 1, "{}", ran.out);
    assert!(!ran.out.contains("where the power goes"));
    let point = json("", "2000", &set);
    assert!(point.get("power").is_none());
    let found = finding(&point, "power_unknown").unwrap();
    assert!(found["advice"].as_str().unwrap().contains("[exhaust]"));
    assert!(finding(&json("", "2000", &[]), "power_unknown").is_none());
}

/// By hand at 5000 rpm: ten of 1.43 L/min at √(4/3) pass 10 × 1.43e-3/60 × 792 × 1.1547 kg/s.
#[test]
fn injector_duty_is_the_fuel_over_what_they_pass_wide_open() {
    let point = json(METHANOL, "5000", &[]);
    let largest = 10.0 * 1.43e-3 / 60.0 * 792.0 * (4.0_f64 / 3.0).sqrt();
    let duty = number(&point["fuel"], "injector_duty");
    close(duty, number(&point, "fuel_mass_flow_kg_s") / largest, 1e-9);
    let per_stroke = number(&point["fuel"], "per_stroke_kg");
    let cycles = 5.0 * 5000.0 / 120.0;
    close(
        per_stroke * cycles,
        number(&point, "fuel_mass_flow_kg_s"),
        1e-9,
    );
    close(
        number(&point["fuel"], "per_stroke_m3"),
        per_stroke / 792.0,
        1e-9,
    );
}

#[test]
fn injectors_that_cannot_pass_the_fuel_fail_a_strict_run() {
    let path = kept(METHANOL);
    let set = ["fuel.injectors=2", "limits.max_injector_duty="];
    let arguments = [
        "point", &path, "--rpm", "5000", "--strict", "--set", set[0], "--set", set[1],
    ];
    let ran = Scratch::new().run(&arguments);
    assert_eq!(ran.code, 3, "{}", ran.err);
    assert!(ran.out.contains("over: injector duty"), "{}", ran.out);
    assert!(ran.out.contains("Fit injectors of"), "{}", ran.out);
}

#[test]
fn pulleys_give_the_drive_ratio_and_one_set_last_counts() {
    let both = [
        "supercharger.pulley_diameter=80 mm",
        "supercharger.crank_pulley_diameter=160 mm",
    ];
    let alone = [both[0], both[1], "supercharger.drive_ratio="];
    let found = json("", "2000", &alone);
    let stage = named(&found, "stages", "supercharger");
    close(number(stage, "speed_rpm"), 4000.0, 1e-12);
    let set = point("", "2000", &both, "text");
    let remark = "supercharger.drive_ratio: not used: --set supercharger.crank_pulley_diameter";
    assert!(set.err.contains(remark), "{}", set.err);
    let last = point(
        "",
        "2000",
        &[&both[..], &["supercharger.drive_ratio=2.15"]].concat(),
        "json",
    );
    assert_eq!(last.code, 0, "{}", last.err);
}

/// By hand: π × 130 mm × 2500 rpm is 17.0 m/s; effective pull is crank power over it; the shaft feels
/// 8/7 and 1/7 of it at the angle of wrap.
#[test]
fn a_belts_pull_follows_from_power_speed_and_wrap() {
    let point = json(METHANOL, "2500", &[]);
    let stage = named(&point, "stages", "supercharger");
    let belt = &stage["belt"];
    let speed = std::f64::consts::PI * 0.130 * 2500.0 / 60.0;
    close(number(belt, "speed_m_s"), speed, 1e-9);
    let pull = number(stage, "crank_power_w") / speed;
    close(number(belt, "effective_pull_n"), pull, 1e-9);
    let wrap = std::f64::consts::PI - 2.0 * ((0.130_f64 - 0.078) / 0.68).asin();
    let (tight, slack) = (8.0 / 7.0 * pull, pull / 7.0);
    let shaft = (tight * tight + slack * slack - 2.0 * tight * slack * wrap.cos()).sqrt();
    close(number(belt, "shaft_pull_n"), shaft, 1e-9);
    let centrifugal = 0.22 * speed * speed;
    close(number(belt, "tight_tension_n"), tight + centrifugal, 1e-9);
    let tips = std::f64::consts::PI * 0.109 * number(stage, "speed_rpm") / 60.0;
    close(number(stage, "tip_speed_m_s"), tips, 1e-9);
}

#[test]
fn a_pull_over_its_limit_is_found_with_the_stage_and_the_speed() {
    let point = json(METHANOL, "2500", &["limits.max_belt_pull=100 N"]);
    let found = finding(&point, "belt_pull").unwrap();
    assert_eq!(found["severity"], "over");
    assert_eq!(found["where"], "supercharger");
    assert_eq!(found["unit"], "N");
    close(number(found, "limit"), 100.0, 1e-12);
}

#[test]
fn stud_torque_spreads_the_clamp_and_stands_in_place_of_a_preload() {
    let torque = [
        "engine.head.stud_preload=",
        "engine.head.stud_torque=150 N m",
        "engine.head.stud_diameter=14 mm",
    ];
    let cylinder = json("", "3000", &torque)["cylinder"].clone();
    let (low, high) = (
        number(&cylinder, "clamp_force_low_n"),
        number(&cylinder, "clamp_force_high_n"),
    );
    assert!(high > 1.3 * low && high < 1.7 * low, "{low} {high}");
    assert!(number(&cylinder, "clamp_margin_low") < number(&cylinder, "clamp_margin_high"));
    let ran = point("", "3000", &torque[1..], "text");
    assert_eq!(ran.code, 0, "{}", ran.err);
    let remark = "engine.head.stud_preload: not used: replaced by --set engine.head.stud_torque";
    assert!(ran.err.contains(remark), "{}", ran.err);
    let ran = point("", "3000", &torque[..2], "text");
    assert_refused(&ran, 1, &["engine.head.stud_diameter", "is missing"]);
}

#[test]
fn a_head_that_lifts_is_over_and_carries_its_caution() {
    let ran = point("", "3000", &["engine.head.stud_preload=25 kN"], "text");
    let out = ran.joined();
    let found = out.split("over: head clamp margin").nth(1).unwrap();
    assert!(found.contains("not an approval to build"), "{found}");
    assert!(
        ran.out
            .trim_end()
            .ends_with("qualified engineer check them.")
    );
}

#[test]
fn peak_pressure_is_never_one_figure_only() {
    let engine = json("", "3000", &[])["engine"].clone();
    let low = number(&engine, "peak_cylinder_pressure_low_pa");
    let one = number(&engine, "peak_cylinder_pressure_pa");
    let high = number(&engine, "peak_cylinder_pressure_high_pa");
    assert!(low < 0.9 * one && high > 1.1 * one, "{low} {one} {high}");
}

#[test]
fn without_a_rise_ratio_the_heads_load_is_that_of_the_limit() {
    let point = json("", "3000", &["engine.combustion.pressure_rise_ratio="]);
    let cylinder = &point["cylinder"];
    assert_eq!(cylinder["gas_force_from"], "max_cylinder_pressure");
    let area = std::f64::consts::PI / 4.0 * 0.114 * 0.114;
    let site = number(named(&point, "stations", "ambient"), "pressure_pa");
    close(
        number(cylinder, "gas_force_high_n"),
        area * (16e6 - site),
        1e-9,
    );
}

#[test]
fn evaporating_fuel_wants_a_named_fuel_that_is_not_diesel() {
    let key = "fuel.evaporated_before_manifold=0.3";
    let ran = point("", "2000", &[key], "text");
    assert_refused(&ran, 1, &["fuel.evaporated_before_manifold", "diesel"]);
    let own = [
        key,
        "fuel.kind=",
        "fuel.lower_heating_value=42 MJ/kg",
        "fuel.hydrogen_carbon_ratio=1.9",
        "fuel.oxygen_carbon_ratio=0",
    ];
    assert_refused(&point(METHANOL, "4000", &own, "text"), 1, &["by name"]);
}

#[test]
fn petrol_that_evaporates_cools_the_charge_and_none_is_as_before() {
    let build = "builds/petrol_screw.toml";
    let manifold = |set: &[&str]| {
        number(
            named(&json(build, "5000", set), "stations", "manifold"),
            "temperature_k",
        )
    };
    let before = manifold(&[]);
    close(
        manifold(&["fuel.evaporated_before_manifold=0"]),
        before,
        1e-12,
    );
    // 0.35 MJ/kg on 1/13 of fuel and 1008 J/(kg K): 26 K for all of it, 13 K for half.
    let cooled = before - manifold(&["fuel.evaporated_before_manifold=0.5"]);
    assert!((10.0..16.0).contains(&cooled), "{cooled}");
}

#[test]
fn the_kind_of_engine_says_which_friction_is_usual() {
    let friction = |set: &[&str]| {
        let ran = point("builds/petrol_screw.toml", "4000", set, "csv");
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.err
    };
    let petrol = friction(&["engine.friction="]);
    assert!(
        petrol.contains("a spark-ignition engine's usual friction"),
        "{petrol}"
    );
    let diesel = friction(&["engine.friction=", "engine.kind=diesel"]);
    assert!(diesel.contains("a diesel's usual friction"), "{diesel}");
    assert!(diesel.contains("does not match fuel.kind"), "{diesel}");
}

#[test]
fn what_was_taken_as_usual_is_listed_once_with_its_source() {
    let set = ["engine.friction=", "engine.strokes="];
    let list = json("", "2000", &set)["defaults"].clone();
    let list = list.as_array().unwrap();
    let one = |key: &str| {
        let found: Vec<_> = list.iter().filter(|taken| taken["key"] == key).collect();
        assert_eq!(found.len(), 1, "{key} in {list:?}");
        found[0].clone()
    };
    let friction = one("engine.friction");
    assert!(friction["source"].as_str().unwrap().contains("SAE 650733"));
    assert!(friction["value"].as_str().unwrap().contains("13.7 kPa"));
    assert_eq!(one("engine.kind")["value"], "diesel");
    assert_eq!(one("site.pressure")["source"], "ISO 2533");
    one("engine.strokes");
    assert_eq!(one("limits.min_clamp_margin")["source"], "common practice");
    // What the build says is not in it.
    assert!(
        list.iter()
            .all(|taken| taken["key"] != "limits.min_surge_margin")
    );
    let text = point("", "2000", &set, "text");
    assert!(text.out.contains("Defaults used") && text.out.contains("engine.friction: 13.7 kPa"));
    // Said once: in the result where that lists them, on standard error where it does not.
    assert!(!text.err.contains("not set"), "{}", text.err);
    let csv = point("", "2000", &set, "csv").err;
    assert!(csv.contains("engine.friction: not set"), "{csv}");
}

/// A line without a supercharger has no column for what its belt would take.
#[test]
fn a_table_has_no_column_for_a_drive_that_is_not_there() {
    let path = kept("builds/single_turbo.toml");
    let all = ["line", &path, "--columns", "all"];
    let text = Scratch::new().run(&all).out;
    // After the title and the answers stand the tables, before the findings.
    let parts = text.split("\n\n").skip(2);
    let tables: String = parts
        .take_while(|part| !part.starts_with("Findings"))
        .collect();
    assert!(tables.contains("friction"), "{text}");
    assert!(
        !tables.contains("drive\n") && !tables.contains("super-"),
        "{text}"
    );
}

/// All but the one line of caution.
#[test]
fn every_line_of_a_result_fits_80_columns_where_it_is_piped() {
    let builds = [
        "",
        "builds/petrol_screw.toml",
        "builds/two_turbos.toml",
        "builds/water_and_wind.toml",
    ];
    let commands: [&[&str]; 6] = [
        &["line"],
        &["line", "--verbose", "--columns", "all"],
        &["cooler"],
        &["cooler", "--seconds", "20"],
        &["point", "--rpm", "2400"],
        &["point", "--rpm", "2400", "--sensitivity"],
    ];
    for build in builds {
        let path = kept(build);
        for command in commands {
            for units in ["si", "us"] {
                let mut arguments = command.to_vec();
                if !build.is_empty() {
                    arguments.push(&path);
                }
                arguments.extend(["--units", units, "--set", "engine.rpm.step=400"]);
                let ran = Scratch::new().run(&arguments);
                for line in ran
                    .out
                    .lines()
                    .filter(|line| !line.starts_with("Estimates only;"))
                {
                    assert!(line.chars().count() <= 80, "{arguments:?}: {line}");
                }
            }
        }
    }
}

#[test]
fn every_output_on_head_and_belt_ends_with_the_caution() {
    let path = kept(METHANOL);
    for command in [vec!["point", &path, "--rpm", "4000"], vec!["line", &path]] {
        let text = Scratch::new().run(&command).out;
        assert_eq!(text.matches("not an approval to build: measure").count(), 1);
        let mut arguments = command.clone();
        arguments.extend(["--format", "json"]);
        let value = Scratch::new().run(&arguments).json();
        assert!(
            value["caution"]
                .as_str()
                .unwrap()
                .contains("not an approval")
        );
    }
}

/// Without the limit of charge temperature nothing of the demo is over.
#[test]
fn a_drawing_names_the_worst_limit_that_is_passed() {
    let stations = |set: &[&str]| {
        let scratch = Scratch::new();
        scratch.run(&[&["line", "--out", "drawn"], set].concat());
        let svg = fs::read_to_string(scratch.as_ref().join("drawn/stations.svg")).unwrap();
        svg.contains("over: charge temperature 68.4")
    };
    assert!(stations(&[]));
    assert!(!stations(&["--set", "limits.max_charge_temperature="]));
}

/// 268.5 kPa × 15^1.37 × 1.45 × 1.05 = 16.70 MPa at most against 16 MPa; 150 °C are 302 °F.
#[test]
fn a_peak_that_may_pass_its_limit_is_near_and_usual_limits_follow_the_units() {
    let now = json("", "2600", &[]);
    let found = finding(&now, "cylinder_pressure").unwrap();
    assert_eq!(found["severity"], "near");
    let high = number(&now["engine"], "peak_cylinder_pressure_high_pa");
    assert!(high > number(found, "limit") && number(found, "value") < number(found, "limit"));
    let wide = json("", "2600", &["limits.max_cylinder_pressure=17 MPa"]);
    assert_eq!(
        finding(&wide, "cylinder_pressure").unwrap()["severity"],
        "ok"
    );
    let text = Scratch::new()
        .run(&["point", "--rpm", "2600", "--units", "us"])
        .out;
    assert!(
        text.contains("max_supercharger_outlet_temperature: 302.0 °F"),
        "{text}"
    );
}
