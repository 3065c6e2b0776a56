//! `point --sensitivity`, bands, and inputs with their uncertainty.

use std::fs;

use serde_json::Value;

use super::{Scratch, assert_refused, kept};

/// Keys of the changes of the sensitivities and of the bands.
const ANSWERS: [&str; 7] = [
    "air_mass_flow_kg_s",
    "manifold_pressure_pa",
    "boost_pa",
    "brake_power_w",
    "exhaust_temperature_k",
    "drive_pressure_pa",
    "surge_margin",
];
/// Uncertain inputs of the demo.
const UNCERTAIN: [&str; 6] = [
    "--set",
    "engine.displacement=4.5 L +- 1 %",
    "--set",
    "turbine.efficiency=0.68 +- 0.012",
    "--set",
    "site.temperature=24 degC +- 2 K",
];

fn demo(rpm: &str, more: &[&str]) -> Value {
    let arguments = ["point", "--rpm", rpm, "--format", "json"];
    Scratch::new().run(&[&arguments[..], more].concat()).json()
}

fn rows(point: &Value) -> &Vec<Value> {
    point["sensitivity"].as_array().unwrap()
}

fn row<'p>(point: &'p Value, key: &str) -> &'p Value {
    let found = rows(point).iter().find(|row| row["key"] == key);
    found.unwrap_or_else(|| panic!("no {key} among {}", point["sensitivity"]))
}

/// The answers of a point, in the order of [`ANSWERS`] without the surge margin.
fn answers(point: &Value) -> [f64; 6] {
    let station = |name: &str, key: &str| super::number(point, "stations", name, key);
    let manifold = station("manifold", "pressure_pa");
    [
        point["air_mass_flow_kg_s"].as_f64().unwrap(),
        manifold,
        manifold - station("ambient", "pressure_pa"),
        point["engine"]["brake_power_w"].as_f64().unwrap(),
        station("turbine inlet", "temperature_k"),
        station("turbine inlet", "pressure_pa"),
    ]
}

/// Ten inputs of the demo at 2400 rpm, each a step above and a step below as one would write them.
const BY_HAND: [(&str, &str, &str); 10] = [
    ("turbine.effective_area", "7.777 cm2", "7.623 cm2"),
    ("fuel.lower_heating_value", "43.228 MJ/kg", "42.372 MJ/kg"),
    (
        "fuel.per_stroke",
        "[[1200, \"123.22 mg\"], [2600, \"123.22 mg\"], [3200, \"119.18 mg\"]]",
        "[[1200, \"120.78 mg\"], [2600, \"120.78 mg\"], [3200, \"116.82 mg\"]]",
    ),
    (
        "engine.combustion.gross_indicated_efficiency",
        "0.43935",
        "0.43065",
    ),
    (
        "engine.volumetric_efficiency",
        "[[1200, 0.8686], [1800, 0.8989], [2400, 0.909], [3200, 0.8787]]",
        "[[1200, 0.8514], [1800, 0.8811], [2400, 0.891], [3200, 0.8613]]",
    ),
    ("engine.displacement", "4.545 L", "4.455 L"),
    ("turbine.efficiency", "0.6868", "0.6732"),
    ("turbine.mechanical_efficiency", "0.9696", "0.9504"),
    ("site.temperature", "25 degC", "23 degC"),
    ("site.pressure", "84.36 kPa", "82.69 kPa"),
];

#[test]
fn sensitivities_are_those_of_solving_by_hand() {
    let point = demo("2400", &["--sensitivity"]);
    assert_eq!(rows(&point).len(), 10);
    let now = answers(&point);
    for (key, above, below) in BY_HAND {
        let row = row(&point, key);
        let solved = |value: &str| answers(&demo("2400", &["--set", &format!("{key}={value}")]));
        let (above, below) = (solved(above), solved(below));
        for (i, name) in ANSWERS.iter().take(6).enumerate() {
            let by_hand = 0.5 * (above[i] - below[i]);
            let change = row["changes"][name].as_f64().unwrap();
            // Each match is met to 1e-9 and an answer can be ten times steeper; the site's pressure
            // was written by hand to four digits, where a step of 0.835 kPa shows three.
            let rounding = if key == "site.pressure" {
                2e-3 * by_hand.abs()
            } else {
                0.0
            };
            assert!(
                (change - by_hand).abs() <= 1e-8 * now[i].abs() + rounding,
                "{key} {name}: {change} and by hand {by_hand}"
            );
        }
    }
}

#[test]
fn rows_stand_by_importance_and_say_their_step() {
    let point = demo("2400", &[&["--sensitivity"], &UNCERTAIN[..]].concat());
    let importance: Vec<f64> = rows(&point)
        .iter()
        .map(|row| row["importance"].as_f64().unwrap())
        .collect();
    assert!(importance.is_sorted_by(|a, b| a >= b), "{importance:?}");
    assert_eq!(row(&point, "turbine.efficiency")["step"], "+1 u");
    assert_eq!(
        row(&point, "turbine.efficiency")["written"],
        "0.68 +- 0.012"
    );
    assert_eq!(row(&point, "turbine.effective_area")["step"], "+1 %");
    assert_eq!(
        row(&point, "fuel.lower_heating_value")["written"],
        "by default"
    );
    // A step of u moves as many times 1 % as u is of the value.
    let plain = demo("2400", &["--sensitivity"]);
    let power = |point: &Value| {
        row(point, "turbine.efficiency")["changes"]["manifold_pressure_pa"]
            .as_f64()
            .unwrap()
    };
    let times = 0.012 / 0.0068;
    assert!((power(&point) / power(&plain) / times - 1.0).abs() < 0.02);
    assert!(plain.get("bands").is_none());
    assert!(demo("2400", &[]).get("sensitivity").is_none());
}

#[test]
fn counts_and_speeds_are_no_inputs_and_an_end_of_the_range_is_stepped_from_below() {
    let point = demo(
        "2400",
        &["--sensitivity", "--set", "turbine.mechanical_efficiency=1"],
    );
    for exact in ["engine.cylinders", "engine.strokes", "engine.rpm.from"] {
        assert!(rows(&point).iter().all(|row| row["key"] != exact));
    }
    let bearing = row(&point, "turbine.mechanical_efficiency");
    assert_eq!(bearing["step"], "-1 %");
    assert_eq!(bearing["remarks"][0], "+1 % is outside the allowed range");
    assert!(bearing["changes"]["boost_pa"].as_f64().unwrap() < 0.0);
}

#[test]
fn a_step_into_another_regime_says_so_and_gives_the_step_itself() {
    // The gate opens at 2598 rpm.
    let point = demo("2590", &["--sensitivity"]);
    let heat = row(&point, "fuel.lower_heating_value");
    assert_eq!(heat["remarks"][0], "at +1 % the wastegate holds the boost");
    let above = demo("2590", &["--set", "fuel.lower_heating_value=43.228 MJ/kg"]);
    let step = answers(&above)[1] - answers(&point)[1];
    let change = heat["changes"]["manifold_pressure_pa"].as_f64().unwrap();
    assert!(
        (change - step).abs() < 1e-8 * answers(&point)[1],
        "{change} and {step}"
    );
}

#[test]
fn a_step_without_a_match_says_why() {
    let point = demo(
        "3000",
        &[
            "--sensitivity",
            "--set",
            "turbine.wastegate=",
            "--set",
            "turbo_compressor.map=",
            "--set",
            "turbo_compressor.efficiency=0.78",
            "--set",
            "turbine.efficiency=0.75",
            "--set",
            "fuel.per_stroke=",
            "--set",
            "fuel.smallest_air_fuel_ratio=",
            "--set",
            "fuel.air_fuel_ratio=17",
            "--set",
            "turbine.effective_area=7.96 +- 0.2 cm2",
        ],
    );
    let area = row(&point, "turbine.effective_area");
    let said = area["remarks"][0].as_str().unwrap();
    assert!(
        said.starts_with("at -1 u there is no match: power balance"),
        "{said}"
    );
    assert!(area["changes"]["boost_pa"].as_f64().unwrap() < 0.0);
    // More efficient by 1 % there is none either: nothing to show, and so it stands first.
    let first = &rows(&point)[0];
    assert!(first.get("importance").is_none(), "{first}");
    assert!(first["changes"].as_object().unwrap().is_empty());
    let bands = &point["bands"];
    let boost = &bands["boost_pa"];
    assert_eq!(boost["method"], "sampled");
    let why = boost["why_not_linear"].as_str().unwrap();
    assert!(why.contains("there is no match"), "{why}");
    let without = bands["samples_without_match"].as_f64().unwrap();
    assert!(
        without > 0.05 * bands["samples"].as_f64().unwrap(),
        "{bands}"
    );
}

#[test]
fn text_shows_both_tables_in_the_readers_units() {
    let run = |units: &str| {
        let arguments = ["point", "--rpm", "1600", "--sensitivity", "--units", units];
        let ran = Scratch::new().run(&[&arguments[..], &UNCERTAIN].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out
    };
    let point = demo("1600", &[&["--sensitivity"], &UNCERTAIN[..]].concat());
    let cells = |text: &str, start: &str| -> Vec<String> {
        // Of tables below each other each begins with the name once more.
        let rows = text.lines().filter_map(|line| line.strip_prefix(start));
        let rows = rows.flat_map(str::split_whitespace);
        let words: Vec<&str> = start.split_whitespace().chain(rows).collect();
        assert!(words.len() > 4, "no {start} in {text}");
        words.into_iter().map(str::to_owned).collect()
    };
    let change = |key: &str, name: &str| row(&point, key)["changes"][name].as_f64().unwrap();
    let (si, us) = (run("si"), run("us"));
    assert!(si.contains("+1 K of a temperature") && us.contains("+1 K (1.8 °F)"));
    // Input, value, step "+1 %", then air, boost, power, temperature, pressure, margin.
    let row = cells(&si, "supercharger.drive_ratio ");
    let boost = change("supercharger.drive_ratio", "boost_pa");
    assert_eq!(row[5], format!("{:+.2}", boost / 1e3));
    let row = cells(&us, "supercharger.drive_ratio ");
    assert_eq!(row[5], format!("{:+.3}", boost / 6894.757));
    let kelvin = change("engine.displacement", "exhaust_temperature_k");
    let row = cells(&us, "engine.displacement ");
    // "4.5 L +- 1 %" and "+1 u" are seven words.
    assert_eq!(row[11], format!("{:+.2}", 1.8 * kelvin));
    let band = &point["bands"]["manifold_pressure_pa"];
    let number = |key: &str| band[key].as_f64().unwrap();
    let row = cells(&si, "manifold pressure ");
    let expected = ["value", "standard_uncertainty", "low", "high"].map(number);
    let shown: Vec<f64> = row[4..8].iter().map(|cell| cell.parse().unwrap()).collect();
    for ((shown, si), decimals) in shown.iter().zip(expected).zip([1, 2, 1, 1]) {
        assert!(
            (shown - si / 1e3).abs() <= 0.501 * 0.1_f64.powi(decimals),
            "{row:?}"
        );
    }
    assert_eq!(row[8], "linear");
    assert!(si.contains("Bands from all 3 uncertain inputs together; 95 % interval: low to high"));
}

#[test]
fn linear_bands_are_the_root_of_the_sum_of_squares_of_the_sensitivities() {
    let point = demo(
        "1600",
        &[
            "--sensitivity",
            "--set",
            "supercharger.drive_ratio=2.15 +- 0.02",
            "--set",
            "turbine.effective_area=7.7 cm2 +- 0.08 cm2",
            "--set",
            "fuel.lower_heating_value=42.8 +- 0.4 MJ/kg",
        ],
    );
    for name in ANSWERS {
        let band = &point["bands"][name];
        assert_eq!(band["method"], "linear", "{name}: {band}");
        let stated = rows(&point).iter().filter(|row| row["step"] == "+1 u");
        let squares: Vec<f64> = stated
            .map(|row| row["changes"][name].as_f64().unwrap().powi(2))
            .collect();
        let u = squares.iter().sum::<f64>().sqrt();
        let number = |key: &str| band[key].as_f64().unwrap();
        // All three are among the ten rows.
        assert_eq!(squares.len(), 3);
        assert!(
            (number("standard_uncertainty") / u - 1.0).abs() < 1e-9,
            "{name}"
        );
        assert!((number("high") - number("value") - 1.96 * u).abs() < 1e-9 * number("value").abs());
        assert!((number("value") - number("low") - 1.96 * u).abs() < 1e-9 * number("value").abs());
        let largest = squares.iter().copied().fold(0.0, f64::max);
        assert!((number("mostly_share") - largest / (u * u)).abs() < 1e-9);
    }
    assert_eq!(point["bands"]["coverage"], 0.95);
}

/// An injector's flow changes its duty alone.
#[test]
fn an_uncertain_injector_flow_is_listed_with_what_moves_nothing() {
    let build = kept("builds/methanol_sprint.toml");
    let uncertain = "fuel.injector_flow=1.43 L/min +- 0.03 L/min";
    let ran = Scratch::new().run(&[
        "point",
        &build,
        "--rpm",
        "6000",
        "--sensitivity",
        "--set",
        uncertain,
        "--set",
        "engine.volumetric_efficiency=0.9 +- 0.02",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let words = "No effect on any of them: fuel.injector_flow.";
    assert!(ran.out.contains(words), "{}", ran.out);
}

/// A limit and the studs change what is found, not the match.
#[test]
fn an_uncertain_input_that_moves_nothing_is_named() {
    let idle = [
        "--set",
        "limits.max_manifold_pressure=275 kPa +- 5 kPa",
        "--set",
        "engine.head.stud_preload=75 kN +- 5 kN",
    ];
    let more = [&["--sensitivity"], &UNCERTAIN[..2], &idle[..]].concat();
    let point = demo("2400", &more);
    let said: Vec<&str> = point["bands"]["without_effect"]
        .as_array()
        .unwrap()
        .iter()
        .map(|key| key.as_str().unwrap())
        .collect();
    assert_eq!(
        said,
        ["engine.head.stud_preload", "limits.max_manifold_pressure"]
    );
    let text = |command: &[&str]| Scratch::new().run(&[command, &more[1..]].concat()).joined();
    let words = "engine.head.stud_preload, limits.max_manifold_pressure.";
    let point = text(&["point", "--rpm", "2400", "--sensitivity"]);
    assert!(
        point.contains(&format!("No effect on any of them: {words}")),
        "{point}"
    );
    let line = text(&[
        "line",
        "--set",
        "engine.rpm={ from = 1200, to = 1400, step = 200 }",
    ]);
    assert!(
        line.contains(&format!("No effect at any speed: {words}")),
        "{line}"
    );
    let all = demo("2400", &[&["--sensitivity"], &UNCERTAIN[..2]].concat());
    assert!(all["bands"].get("without_effect").is_none());
}

#[test]
fn csv_has_a_column_for_each_number_of_the_json() {
    let arguments = ["point", "--rpm", "1600", "--sensitivity", "--format", "csv"];
    let ran = Scratch::new().run(&[&arguments[..], &UNCERTAIN].concat());
    let mut rows = csv::Reader::from_reader(ran.out.as_bytes());
    let headings = rows.headers().unwrap().clone();
    let record = rows.records().next().unwrap().unwrap();
    let point = demo("1600", &[&["--sensitivity"], &UNCERTAIN[..]].concat());
    let cell = |column: &str| {
        let at = headings.iter().position(|heading| heading == column);
        record[at.unwrap_or_else(|| panic!("no {column} in {headings:?}"))].to_owned()
    };
    assert_eq!(cell("sensitivity.0.key"), rows_key(&point, 0));
    // The reader of JSON rounds the last digit.
    let same = |column: &str, number: &Value| {
        let (cell, number): (f64, f64) = (cell(column).parse().unwrap(), number.as_f64().unwrap());
        assert!(
            (cell / number - 1.0).abs() < 1e-14,
            "{column}: {cell} and {number}"
        );
    };
    same("bands.boost_pa.low", &point["bands"]["boost_pa"]["low"]);
    let change = &point["sensitivity"][9]["changes"]["surge_margin"];
    same("sensitivity.9.changes.surge_margin", change);
}

fn rows_key(point: &Value, place: usize) -> String {
    rows(point)[place]["key"].as_str().unwrap().to_owned()
}

#[test]
fn a_line_has_bands_where_inputs_are_uncertain_and_only_there() {
    let scratch = Scratch::new();
    let json = scratch
        .run(&[&["line", "--format", "json"], &UNCERTAIN[..]].concat())
        .json();
    let keys = [
        "site.temperature",
        "engine.displacement",
        "turbine.efficiency",
    ];
    assert_eq!(json["uncertain_inputs"], Value::from(keys.to_vec()));
    let points = json["points"].as_array().unwrap();
    for point in points {
        for name in ANSWERS {
            let band = &point["bands"][name];
            let number = |key: &str| band[key].as_f64().unwrap();
            assert!(
                number("low") <= number("value") + 1e-9 * number("value").abs(),
                "{point}"
            );
            assert!(
                number("value") <= number("high") + 1e-9 * number("value").abs(),
                "{name}"
            );
        }
    }
    // Well below the hand-over the lines are straight, at the gate they are not.
    assert_eq!(
        points[2]["bands"]["manifold_pressure_pa"]["method"],
        "linear"
    );
    let sampled = points
        .iter()
        .filter(|p| p["bands"]["boost_pa"]["method"] == "sampled");
    assert!(sampled.count() > 2);
    let text = scratch.run(&[&["line"], &UNCERTAIN[..]].concat());
    let table = text
        .out
        .split("Bands from the uncertain inputs (")
        .nth(1)
        .unwrap();
    assert!(
        table.contains("[kPa absolute]") && table.contains("Where the linear band does not hold:")
    );
    let boost = fs::read_to_string(scratch.as_ref().join("out/boost.svg")).unwrap();
    assert!(boost.contains("95 % interval"));
    let plain = scratch.run(&["line"]);
    assert!(!plain.out.contains("Bands"));
    let boost = fs::read_to_string(scratch.as_ref().join("out/boost.svg")).unwrap();
    assert!(!boost.contains("% interval"));
}

#[test]
fn the_same_build_gives_the_same_sampled_band_again() {
    let run = || demo("2590", &[&["--sensitivity"], &UNCERTAIN[..]].concat())["bands"].clone();
    let first = run();
    assert_eq!(first["boost_pa"]["method"], "sampled");
    assert_eq!(first, run());
}

#[test]
fn check_lists_the_uncertain_inputs() {
    let run = |format: &str| {
        let arguments = ["check", "--format", format];
        Scratch::new().run(&[&arguments[..], &UNCERTAIN].concat())
    };
    let text = run("text").out;
    assert!(
        text.contains(
            "uncertain inputs, each +- one standard uncertainty:\n    site.temperature = 24 degC +- 2 K\n"
        ),
        "{text}"
    );
    let json = run("json").json();
    let listed = json["files"][0]["uncertain_inputs"].as_array().unwrap();
    assert_eq!(listed.len(), 3);
    assert_eq!(listed[2]["key"], "turbine.efficiency");
    assert_eq!(listed[2]["written"], "0.68 +- 0.012");
    let none = Scratch::new().run(&["check", "--format", "json"]).json();
    assert!(none["files"][0].get("uncertain_inputs").is_none());
}

#[test]
fn a_wrong_uncertainty_is_refused_at_its_line_and_key() {
    let text = fs::read_to_string(kept("builds/single_roots.toml")).unwrap();
    let scratch = Scratch::new();
    let with = |from: &str, to: &str| {
        let changed = text.replacen(from, to, 1);
        assert!(changed != text, "{from} is not in the build");
        fs::write(scratch.as_ref().join("t.toml"), changed).unwrap();
        scratch.run(&["line", "t.toml"])
    };
    let line = 1 + text
        .lines()
        .position(|line| line.starts_with("displacement"))
        .unwrap();
    let displacement = text.lines().nth(line - 1).unwrap();
    for (value, words) in [
        ("\"2.5 L +- -0.1 L\"", "after +- must be above 0"),
        ("\"2.5 L +- 0.1 kg\"", "after +-: kg measures a mass"),
        (
            "\"2.5 L +- 3 L\"",
            "+- 3 L does not fit: one standard uncertainty below",
        ),
        ("\"2.5 L +-\"", "nothing follows +-"),
    ] {
        let ran = with(displacement, &format!("displacement = {value}"));
        let place = format!("t.toml:{line}: engine.displacement: ");
        assert_refused(&ran, 1, &[&place, words]);
    }
    let option = Scratch::new().run(&[
        "point",
        "--rpm",
        "2000",
        "--set",
        "cooler.effectiveness=0.99 +- 0.02",
    ]);
    assert_refused(
        &option,
        1,
        &[
            "--set cooler.effectiveness: +- 0.02 does not fit",
            "at most 1",
        ],
    );
    let temperature = Scratch::new().run(&["check", "--set", "site.temperature=24 degC +- 3 %"]);
    assert!(
        temperature
            .err
            .contains("--set site.temperature: per cent of a temperature")
    );
    assert_eq!(temperature.code, 1);
}
