//! Map files that cannot be meant, and generous reading of those that can.

use std::fmt::Write;
use std::fs;

use super::{Ran, Scratch, kept, one_point};

const HEAD: &str = "# origin = invented
# reference_temperature = 298.15 K
# reference_pressure = 100 kPa
corrected_speed [rpm],corrected_flow [kg/s],pressure_ratio [-],efficiency [-]
";
const LINE: &str = "80000,0.060,1.52,0.66\n80000,0.085,1.50,0.71\n80000,0.110,1.44,0.73\n";
const NEXT: &str = "99000,0.085,1.93,0.67\n99000,0.115,1.90,0.73\n99000,0.145,1.80,0.76\n";

fn check(text: &str) -> Ran {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("m.csv"), text).unwrap();
    let ran = scratch.run(&["check", "m.csv"]);
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    ran
}

fn assert_fault(text: &str, words: &[&str]) {
    let ran = check(text);
    assert_eq!(ran.code, 1, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("m.csv:"), "{}", ran.err);
    for word in words {
        assert!(ran.err.contains(word), "{word:?} is not in: {}", ran.err);
    }
}

#[test]
fn the_plain_map_is_good() {
    let ran = check(&[HEAD, LINE, NEXT].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
}

#[test]
fn a_map_without_its_reference_state_shows_how_to_write_it() {
    let text = [HEAD, LINE, NEXT].concat();
    let without = text.replace("# reference_pressure = 100 kPa\n", "");
    assert_fault(&without, &["reference_pressure", "# reference_pressure = "]);
    let bare = text.replace("298.15 K", "298.15");
    assert_fault(&bare, &["m.csv:2", "reference_temperature"]);
}

#[test]
fn a_column_without_unit_or_in_an_odd_one_is_named() {
    for (file, words) in [("map_no_unit", "has no unit"), ("map_odd_unit", "[m3h]")] {
        let path = kept(&format!("cases/{file}.csv"));
        let ran = Scratch::new().run(&["check", &path]);
        assert_eq!(ran.code, 1);
        assert!(ran.err.contains("corrected_flow") && ran.err.contains(words));
    }
}

#[test]
fn one_line_and_one_point_are_answered() {
    for rows in [LINE, "80000,0.060,1.52,0.66\n", ""] {
        let ran = check(&[HEAD, rows].concat());
        assert!(ran.code <= 1, "{}", ran.err);
        if ran.code == 1 {
            assert!(ran.err.contains("m.csv:"), "{}", ran.err);
        }
    }
    assert_fault(&[HEAD, "80000,0.060,1.52,0.66\n"].concat(), &[]);
}

#[test]
fn impossible_values_name_their_row() {
    let cases = [
        ("0.085,1.50", "-0.085,1.50", "m.csv:6"),
        ("0.085,1.50", "0,1.50", "m.csv:6"),
        ("0.085,1.50", "NaN,1.50", "m.csv:6"),
        ("0.085,1.50", "inf,1.50", "m.csv:6"),
        ("0.085,1.50", "1e999,1.50", "m.csv:6"),
        ("0.085,1.50", ",1.50", "m.csv:6"),
        ("0.085,1.50", "abc,1.50", "m.csv:6"),
        ("1.44,0.73", "1.44,1.73", "m.csv:7"),
        ("1.44,0.73", "0.04,0.73", "m.csv:7"),
        ("1.44,0.73", "1.44", "m.csv:7"),
    ];
    for (from, to, place) in cases {
        let text = [HEAD, LINE, NEXT].concat().replacen(from, to, 1);
        assert_fault(&text, &[place]);
    }
}

#[test]
fn a_million_rows_are_answered_in_good_time() {
    let mut text = HEAD.to_owned();
    for i in 0..1_000_000_u32 {
        let (line, place) = (i / 1000, f64::from(i % 1000) / 1000.0);
        let speed = 40_000 + 600 * line;
        let flow = 1e-6 * f64::from(speed) * (0.8 + place);
        let _ = writeln!(
            text,
            "{speed},{flow:.6},{:.6},0.7",
            1.5 + 0.001 * f64::from(line) - 0.2 * place
        );
    }
    let start = std::time::Instant::now();
    let ran = check(&text);
    assert!(ran.code <= 1);
    assert!(!ran.err.is_empty() || ran.code == 0);
    // A minute on any machine; less than two seconds were seen on two cores.
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}

#[test]
fn rows_that_contradict_are_named_both() {
    let ran = Scratch::new().run(&["check", &kept("cases/map_conflict.csv")]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains(":13: ") && ran.err.contains("12 and 13"));
}

#[test]
fn a_comma_with_two_jobs_is_an_error_that_says_how_to_save() {
    let ran = Scratch::new().run(&["check", &kept("cases/map_comma_both.csv")]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("map_comma_both.csv:5: ") && ran.err.contains("semicolon"));
}

/// The line of the build of one point on a map, as JSON.
fn on_map(file: &str) -> serde_json::Value {
    let (build, map) = (one_point(), kept(&format!("cases/{file}.csv")));
    let efficiency = "turbo_compressor.efficiency=";
    let arguments = [
        "line", &build, "--map", &map, "--set", efficiency, "--format", "json",
    ];
    Scratch::new().run(&arguments).json()
}

/// Checks one map, as JSON.
fn understood(file: &str) -> serde_json::Value {
    let ran = Scratch::new().run(&[
        "check",
        &kept(&format!("cases/{file}.csv")),
        "--format",
        "json",
    ]);
    ran.json()["files"][0].clone()
}

#[test]
fn order_and_repeats_of_rows_do_not_matter() {
    assert_eq!(on_map("map_shuffled"), on_map("map_base"));
    assert_eq!(understood("map_shuffled")["points"], 16);
    let ran = Scratch::new().run(&["check", &kept("cases/map_shuffled.csv")]);
    assert!(ran.out.contains("16 points on 3 speed lines"));
    assert!(ran.err.contains("map_shuffled.csv:14: ") && ran.err.contains("line 7"));
}

#[test]
fn semicolons_with_decimal_commas_read_as_the_same_map() {
    assert_eq!(on_map("map_semicolon"), on_map("map_base"));
    assert_eq!(
        understood("map_semicolon")["reference_temperature_k"],
        298.15
    );
}

#[test]
fn a_map_in_us_units_reads_as_the_same_map() {
    let (base, us) = (understood("map_base"), understood("map_us"));
    // Rows carry four decimals of lb/min, the reference two of inHg.
    let close = |a: &serde_json::Value, b: &serde_json::Value| {
        let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
        assert!((a / b - 1.0).abs() < 1e-5, "{a} {b}");
    };
    close(
        &us["reference_temperature_k"],
        &base["reference_temperature_k"],
    );
    assert!((us["reference_pressure_pa"].as_f64().unwrap() - 100e3).abs() < 5.0);
    for key in [
        "speed_range_rpm",
        "flow_range_kg_s",
        "ratio_range",
        "efficiency_range",
    ] {
        for end in 0..2 {
            close(&us[key][end], &base[key][end]);
        }
    }
    let stage = |file| {
        on_map(file)["points"][0]["stages"][1]["efficiency"]
            .as_f64()
            .unwrap()
    };
    // The reference pressure is off by 1e-5, the efficiency's slope over flow is of order one.
    assert!((stage("map_us") - stage("map_base")).abs() < 1e-4);
}

/// The plain map with one text in place of another.
fn with(from: &str, to: &str) -> String {
    let text = [HEAD, LINE, NEXT].concat();
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

#[test]
fn a_reference_state_that_cannot_be_is_refused_with_the_likely_slip() {
    for (from, to, line, meant) in [
        ("298.15 K", "298 degC", 2, "did you mean 298 K?"),
        ("298.15 K", "25 K", 2, "did you mean 25 degC?"),
        ("298.15 K", "77 degC", 2, "did you mean 77 degF?"),
        ("298.15 K", "288 degF", 2, "did you mean 288 K?"),
        ("100 kPa", "100 Pa", 3, "did you mean 100 kPa?"),
        ("100 kPa", "14.7 kPa", 3, "did you mean 14.7 psi?"),
        ("100 kPa", "1013 kPa", 3, "did you mean 1013 mbar?"),
        ("100 kPa", "29.92 psi", 3, "did you mean 29.92 inHg?"),
    ] {
        let ran = check(&with(from, to));
        assert_eq!(ran.code, 1, "{to}: {}", ran.err);
        let place = format!("m.csv:{line}: reference_");
        assert!(
            ran.err.starts_with(&place) && ran.err.contains(meant),
            "{}",
            ran.err
        );
        // The figures are not held to a state that is wrong.
        assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    }
    for good in ["15 degC", "77 degF", "293.15 K", "0 degC"] {
        assert_eq!(check(&with("298.15 K", good)).err, "");
    }
    let odd = check(&with("100 kPa", "85 kPa"));
    assert_eq!(odd.code, 0);
    assert!(
        odd.err
            .contains("m.csv:3: reference_pressure: 85 kPa is unusual")
    );
}

#[test]
fn efficiencies_and_their_unit_have_to_agree() {
    let percent = with("efficiency [-]", "efficiency [%]");
    assert_fault(
        &percent,
        &["m.csv:4: efficiency [%]: 0.66 to 0.76 under [%] (lines 5 to 10) look like fractions"],
    );
    assert_eq!(check(&percent).err.lines().count(), 1);
    let fractions = [",0.66", ",0.71", ",0.73", ",0.67", ",0.76"];
    let mut text = [HEAD, LINE, NEXT].concat();
    for cell in fractions {
        text = text.replace(&format!("{cell}\n"), &format!(",{}\n", &cell[3..]));
    }
    assert_fault(&text, &["look like per cent: write efficiency [%]"]);
    assert_eq!(
        check(&text.replace("efficiency [-]", "efficiency [%]")).err,
        ""
    );
    assert_eq!(
        check(
            &text
                .replace("efficiency [-]", "efficiency [%]")
                .replace(",71\n", ",0.71\n")
        )
        .code,
        1
    );
    assert_fault(
        &with("1.50,0.71", "1.50,71"),
        &["m.csv:6: efficiency [-]: 71 among fractions: per cent? write 0.71"],
    );
    // A cell may say it itself.
    assert_eq!(check(&with("1.50,0.71", "1.50,71 %")).err, "");
}

#[test]
fn a_column_in_another_unit_is_refused_with_the_one_that_fits() {
    let thousands = with("80000,", "80,").replace("99000,", "99,");
    assert_fault(
        &format!("# speed in thousands\n{thousands}"),
        &[
            "m.csv:5: corrected_speed [rpm]: speeds of 80 to 99",
            "write corrected_speed [krpm], or multiply them by 1000",
        ],
    );
    assert_eq!(check(&thousands.replace("[rpm]", "[krpm]")).err, "");
    let pounds = with(",0.060,", ",7.94,")
        .replace(",0.085,", ",11.24,")
        .replace(",0.110,", ",14.55,")
        .replace(",0.115,", ",15.21,")
        .replace(",0.145,", ",19.18,");
    assert_fault(
        &pounds,
        &[
            "m.csv:4: corrected_flow [kg/s]: flows of 7.94 to 19.18",
            "[lb/min]",
        ],
    );
    assert_eq!(check(&pounds.replace("[kg/s]", "[lb/min]")).err, "");
    assert_fault(
        &with("80000,", "80000000,").replace("99000,", "99000000,"),
        &["m.csv:4: corrected_speed [rpm]", "1000 times too large"],
    );
    assert_fault(
        &with(",1.52,", ",152,")
            .replace(",1.50,", ",150,")
            .replace(",1.9", ",19"),
        &["m.csv:4: pressure_ratio [-]", "are these pressures?"],
    );
}

#[test]
fn one_figure_with_a_slip_names_its_row_and_no_other() {
    for (from, to, place) in [
        (
            "80000,0.085",
            "80000,0.85",
            "m.csv:6: corrected_flow [kg/s]: 0.85 ",
        ),
        (
            "80000,0.060",
            "80000,0.006",
            "m.csv:5: corrected_flow [kg/s]: 0.006 ",
        ),
        ("1.50,0.71", "1.50,0.071", "m.csv:6: efficiency [-]: 0.071 "),
        (
            "1.93,0.67",
            "9.13,0.67",
            "m.csv:8: pressure_ratio [-]: 9.13 ",
        ),
        (
            "99000,0.115",
            "9900,0.115",
            "m.csv:9: corrected_speed [rpm]: 9900 occurs only here",
        ),
    ] {
        let ran = check(&with(from, to));
        assert_eq!(ran.code, 1, "{to}: {}", ran.err);
        assert!(ran.err.starts_with(place), "{to}: {}", ran.err);
        assert_eq!(ran.err.lines().count(), 1, "{to}: {}", ran.err);
    }
}

#[test]
fn a_surge_point_away_from_the_speed_lines_is_refused() {
    let surge = |points: &str| check(&[points, HEAD, LINE, NEXT].concat());
    let good = surge("# surge = 0.055 kg/s, 1.52\n# surge = 0.082 kg/s, 1.93\n");
    assert_eq!((good.code, good.err.as_str()), (0, ""));
    for (points, words) in [
        (
            "# surge = 7.3 kg/s, 1.52\n# surge = 0.082 kg/s, 1.93\n",
            "m.csv:1: surge: the flow is",
        ),
        (
            "# surge = 0.055 kg/s, 1.52\n# surge = 0.082 kg/s, 19.3\n",
            "m.csv:2: surge: a pressure",
        ),
        (
            "# surge = 0.055 kg/s, 1.52\n",
            "m.csv:1: surge: a surge line needs at least 2 points",
        ),
    ] {
        let ran = surge(points);
        assert_eq!(ran.code, 1);
        assert!(
            ran.err.starts_with(words) && ran.err.lines().count() == 1,
            "{}",
            ran.err
        );
    }
}

const ROTORS: &str = "# origin = invented
# displacement = 2 L
# inlet_temperature = 20 degC
# inlet_pressure = 101.325 kPa
speed [rpm],pressure_ratio,delivered_flow [L/s],power [kW]
6000,1.2,180,6
6000,1.5,170,12
6000,1.8,160,20
9000,1.2,278,9
9000,1.5,268,18
9000,1.8,258,30
";

#[test]
fn a_supercharger_map_has_sense_too() {
    assert_eq!(check(ROTORS).err, "");
    for (from, to, words) in [
        (
            "[L/s]",
            "[m3/h]",
            "m.csv:5: delivered_flow [m3/h]: 160 to 278 under [m3/h]",
        ),
        ("[L/s]", "[m3/h]", "they look like L/s"),
        ("2 L", "2 m3", "m.csv:2: displacement: 2 m3 cannot be"),
        ("2 L", "2000 L", "did you mean 2000 cc?"),
        ("[kW]", "[W]", "m.csv:5: power [W]: 6 to 30 under [W]"),
        (
            "20 degC",
            "20 K",
            "m.csv:3: inlet_temperature: 20 K cannot be an inlet's temperature",
        ),
        ("101.325 kPa", "101.325 Pa", "did you mean 101.325 kPa?"),
        (
            "9000,1.5,268",
            "9000,1.5,26.8",
            "m.csv:10: delivered_flow [L/s]: 26.8 ",
        ),
        (
            "9000,1.5,268,18",
            "9000,1.5,268,180",
            "m.csv:10: power [kW]: 180 ",
        ),
        (
            "9000,1.5",
            "9000,15",
            "m.csv:10: pressure_ratio: 15 cannot be right",
        ),
    ] {
        assert_fault(&ROTORS.replace(from, to), &[words]);
    }
    let thousands = ROTORS.replace("\n6000,", "\n6,").replace("\n9000,", "\n9,");
    assert_fault(
        &thousands,
        &["m.csv:5: speed [rpm]: speeds of 6 to 9", "[krpm]"],
    );
}

#[test]
fn a_turbine_map_without_speeds_is_held_to_its_nozzle() {
    let text = "# origin = invented
# reference_temperature = 288.15 K
# reference_pressure = 101.325 kPa
expansion_ratio [-],corrected_flow [lb/min],efficiency [-]
1.5,12.1,0.70
2.0,13.8,0.69
2.5,14.0,0.66
";
    assert_eq!(check(text).err, "");
    let kilograms = text.replace("[lb/min]", "[kg/s]");
    assert_fault(
        &kilograms,
        &["m.csv:4: corrected_flow [kg/s]", "look like lb/min"],
    );
    let axial = kilograms.replace("# origin", "# machine = axial\n# origin");
    assert_eq!(check(&axial).code, 0);
    let hot = text.replace("288.15 K", "873 K");
    assert_eq!(check(&hot).err, "");
    let odd = check(&text.replace("288.15 K", "298 degC"));
    assert_eq!(odd.code, 0);
    assert!(odd.err.contains("m.csv:2: ") && odd.err.contains("did you mean 298 K?"));
}

#[test]
fn check_says_the_wheel_that_a_map_implies() {
    let scratch = Scratch::new();
    let map = format!("{}/maps/invented_78mm.csv", env!("CARGO_MANIFEST_DIR"));
    let ran = scratch.run(&["check", &map]);
    assert!(
        ran.out
            .contains("implied wheel diameter: about 74 mm, tip speed about 50"),
        "{}",
        ran.out
    );
    let us = scratch.run(&["check", &map, "--units", "us"]);
    assert!(
        us.out.contains("implied wheel diameter: about 2.9 in"),
        "{}",
        us.out
    );
    let json = scratch.run(&["check", &map, "--format", "json"]).json();
    let wheel = json["files"][0]["wheel_diameter_m"].as_f64().unwrap();
    assert!((wheel - 0.074).abs() < 0.001, "{wheel}");
    assert!(json["files"][0]["tip_speed_m_s"].as_f64().unwrap() > 400.0);
}
