//! Text, CSV and JSON of one run are one result: each number of the text tables, in both unit
//! systems, is the number of the JSON, rounded as printed.

use crate::run::{Scratch, kept};
use serde_json::Value;

/// One column of a table: its heading over all lines, and its cells.
struct Column {
    heading: String,
    cells: Vec<String>,
}

/// What the JSON holds for a column: value, factor and offset of the reader's unit.
type Source = Box<dyn Fn(&Value) -> Option<f64>>;

fn run(command: &[&str], build: &str, format: &str, units: &str) -> String {
    let path = kept(build);
    let mut arguments = command.to_vec();
    if !build.is_empty() {
        arguments.push(&path);
    }
    arguments.extend(["--format", format, "--units", units]);
    let ran = Scratch::new().run(&arguments);
    if format == "json" {
        return ran.json().to_string();
    }
    assert_eq!(ran.code, 0, "{}", ran.err);
    ran.out
}

/// Where the columns of a block lie: between them two places or more are empty in every line.
fn spans(block: &[&str]) -> Vec<(usize, usize)> {
    let width = block.iter().map(|line| line.chars().count()).max().unwrap();
    let mut filled = vec![false; width + 2];
    for line in block {
        for (place, character) in line.chars().enumerate() {
            filled[place] |= character != ' ';
        }
    }
    let mut spans: Vec<(usize, usize)> = Vec::new();
    for place in (0..width).filter(|&place| filled[place]) {
        match spans.last_mut() {
            Some((_, end)) if place < *end + 2 => *end = place + 1,
            _ => spans.push((place, place + 1)),
        }
    }
    spans
}

fn piece(line: &str, from: usize, to: usize) -> String {
    let text: String = line.chars().skip(from).take(to - from).collect();
    text.trim().to_owned()
}

/// A block of lines as columns: headings over rows that begin with a name or a number.
fn columns(block: &[&str], headings: usize) -> Vec<Column> {
    let column = |(from, to)| {
        let pieces: Vec<String> = block.iter().map(|line| piece(line, from, to)).collect();
        Column {
            heading: pieces[..headings].join(" ").trim().to_owned(),
            cells: pieces[headings..].to_vec(),
        }
    };
    spans(block).into_iter().map(column).collect()
}

/// The unit in the brackets of a heading, its factor from SI and its offset.
fn unit(heading: &str) -> (f64, f64) {
    let Some(open) = heading.find('[') else {
        return (1.0, 0.0);
    };
    let unit = heading[open + 1..].trim_end_matches(']');
    let word = unit.split_whitespace().next().unwrap();
    let word = if unit == "°F difference" { unit } else { word };
    // 1 lb = 0.45359237 kg, 1 ft = 0.3048 m, 1 lbf = 4.4482216152605 N, 1 hp = 550 ft lbf/s.
    let lbf = 4.448_221_615_260_5;
    match word {
        "%" => (100.0, 0.0),
        "kPa" | "kW" | "kN" => (1e-3, 0.0),
        "psi" => (0.0254 * 0.0254 / lbf, 0.0),
        "rpm" | "kg/s" | "kg/m³" | "N·m" | "g/kWh" | "K" | "s" | "kg" | "W/K" | "m/s" | "N" => {
            (1.0, 0.0)
        }
        "lbf" => (1.0 / lbf, 0.0),
        "ft/s" => (1.0 / 0.3048, 0.0),
        "mg" => (1e6, 0.0),
        "mm³" => (1e9, 0.0),
        "°F difference" => (1.8, 0.0),
        "lb" => (1.0 / 0.453_592_37, 0.0),
        // 1 Btu = 1055.05585262 J.
        "Btu/(h·°F)" => (3600.0 / 1_055.055_852_62 / 1.8, 0.0),
        "lb/min" => (60.0 / 0.453_592_37, 0.0),
        "lb/ft³" => (0.3048_f64.powi(3) / 0.453_592_37, 0.0),
        "lbf·ft" => (1.0 / (lbf * 0.3048), 0.0),
        "hp" => (1.0 / (550.0 * 0.3048 * lbf), 0.0),
        // g/kWh to lb/(hp h).
        "lb/(hp·h)" => (550.0 * 0.3048 * lbf / 453.592_37e3, 0.0),
        // 1 Btu = 1055.05585262 J an hour over 5/9 K.
        "°C" => (1.0, -273.15),
        "°F" => (1.8, -459.67),
        other => panic!("no unit {other:?} in {heading:?}"),
    }
}

/// The columns of tables below each other that begin with a word: each has the first column again.
fn tables(text: &str, start: &str, rows: usize) -> Vec<Column> {
    let mut all: Vec<Column> = Vec::new();
    for block in text.split("\n\n") {
        let lines = block.lines();
        let block: Vec<&str> = lines
            .skip_while(|line| !line.trim_start().starts_with(start))
            .collect();
        if block.is_empty() {
            continue;
        }
        let mut columns = columns(&block, block.len() - rows);
        if !all.is_empty() {
            columns.remove(0);
        }
        all.extend(columns);
    }
    all
}

/// What is no better known than to some per cent is printed to three figures.
const ROUGH: [&str; 5] = [
    "peak cylinder",
    "end of compression",
    "gas force",
    "clamp",
    "stud",
];

/// Holds a cell against the number, to half of its last digit.
fn agrees(place: &str, cell: &str, heading: &str, si: Option<f64>) {
    let Some(si) = si else {
        assert_eq!(cell, "–", "{place}: {heading}");
        return;
    };
    let (factor, offset) = unit(heading);
    let shown: f64 = cell
        .parse()
        .unwrap_or_else(|_| panic!("{place} {heading}: {cell:?}"));
    let decimals = cell.split_once('.').map_or(0, |(_, after)| after.len());
    let right = factor * si + offset;
    let digits = -i32::try_from(decimals).unwrap();
    let digits = if ROUGH
        .iter()
        .any(|word| place.contains(word) || heading.contains(word))
    {
        #[allow(clippy::cast_possible_truncation, reason = "a count of digits")]
        let third = right.abs().log10().floor() as i32 - 2;
        third.max(digits)
    } else {
        digits
    };
    let half = 0.5 * 10_f64.powi(digits);
    assert!(
        (shown - right).abs() <= half * (1.0 + 1e-6),
        "{place} {heading}: {cell} for {right}"
    );
}

fn key(name: &'static str) -> Source {
    Box::new(move |item| item[name].as_f64())
}

fn point_agrees(build: &str, units: &str) {
    let command = ["point", "--rpm", "1900"];
    let text = run(&command, build, "text", units);
    let point: Value = serde_json::from_str(&run(&command, build, "json", "si")).unwrap();
    engine_agrees(&text, &point);
    costs_agree(&text, &point);
}

/// Cylinder, belt and fuel stand a line each: words, one number or "low to high", unit.
fn costs_agree(text: &str, point: &Value) {
    let belts = point["stages"].as_array().unwrap().iter();
    let mut figures: Vec<(String, Vec<&Value>)> = Vec::new();
    for stage in belts {
        let name = stage["name"].as_str().unwrap();
        let belt = &stage["belt"];
        let mut add = |what: &str, values: Vec<&'static str>, from: &'static str| {
            let from = if from.is_empty() { stage } else { belt };
            let values = values.into_iter().map(|key| &from[key]).collect();
            figures.push((format!("{name}, {what}"), values));
        };
        add("rotor tips", vec!["tip_speed_m_s"], "");
        add("belt speed", vec!["speed_m_s"], "belt");
        add("minimum shaft load", vec!["shaft_pull_n"], "belt");
        let tensions = vec!["slack_tension_n", "tight_tension_n"];
        add("belt tension, slack/tight side", tensions, "belt");
    }
    let (cylinder, fuel) = (&point["cylinder"], &point["fuel"]);
    let pairs = [
        (
            "end of compression, pressure",
            "compression_pressure_low_pa",
            "compression_pressure_high_pa",
        ),
        (
            "end of compression, temperature",
            "compression_temperature_low_k",
            "compression_temperature_high_k",
        ),
        (
            "gas force per cylinder",
            "gas_force_low_n",
            "gas_force_high_n",
        ),
        (
            "stud clamp force per cylinder",
            "clamp_force_low_n",
            "clamp_force_high_n",
        ),
        ("clamp margin", "clamp_margin_low", "clamp_margin_high"),
    ];
    for (words, low, high) in pairs {
        figures.push((words.to_owned(), vec![&cylinder[low], &cylinder[high]]));
    }
    let ones = [
        (
            "equivalent NA compression ratio",
            &cylinder["equivalent_compression_ratio"],
        ),
        ("fuel per stroke", &fuel["per_stroke_kg"]),
        ("fuel per stroke (volume)", &fuel["per_stroke_m3"]),
        ("injector duty", &fuel["injector_duty"]),
        (
            "fuel evaporated before the valves",
            &fuel["evaporated_share"],
        ),
        ("charge cooling by evaporation", &fuel["charge_cooling_k"]),
    ];
    for (words, value) in ones {
        figures.push((words.to_owned(), vec![value]));
    }
    for (words, values) in figures {
        let start = format!("{words} ");
        let line = text.lines().find(|line| line.starts_with(&start));
        assert_eq!(line.is_some(), values[0].is_number(), "{words}");
        let Some(line) = line else { continue };
        let words_of: Vec<&str> = line[start.len()..].split_whitespace().collect();
        let (cells, unit) = match words_of[..] {
            [low, "to", high, ref unit @ ..] => (vec![low, high], unit.join(" ")),
            [one, ref unit @ ..] => (vec![one], unit.join(" ")),
            [] => panic!("{words}"),
        };
        let heading = if unit.is_empty() {
            words.clone()
        } else {
            format!("{words} [{unit}]")
        };
        // One figure stands for both where they are the same.
        for (at, value) in values.iter().enumerate() {
            let cell = cells[at.min(cells.len() - 1)];
            agrees(&words, cell, &heading, value.as_f64());
        }
    }
}

/// The engine's figures stand a line each: words, number, unit.
fn engine_agrees(text: &str, point: &Value) {
    let engine = &point["engine"];
    let is_known = point["power"].is_array();
    let alone = |value| if is_known { &Value::Null } else { value };
    let figures = [
        ("volumetric efficiency ", &engine["volumetric_efficiency"]),
        ("brake power ", &engine["brake_power_w"]),
        ("torque ", &engine["torque_n_m"]),
        ("BSFC ", &engine["bsfc_g_kwh"]),
        (
            "peak cylinder pressure ",
            &engine["peak_cylinder_pressure_pa"],
        ),
        // Where all is known they stand in a table of their own.
        (
            "gross indicated power ",
            alone(&engine["gross_indicated_power_w"]),
        ),
        (
            "pumping power (+ = gain) ",
            alone(&engine["pumping_power_w"]),
        ),
        ("BMEP ", &engine["brake_mean_effective_pressure_pa"]),
        ("lambda ", &point["lambda"]),
        ("air-fuel ratio (dry air) ", &point["air_fuel_ratio"]),
        ("steepness (% boost per % fuel) ", &point["steepness"]),
    ];
    for (words, value) in figures {
        let line = text.lines().find(|line| line.starts_with(words));
        assert_eq!(line.is_some(), value.is_number(), "{words}");
        let Some(line) = line else { continue };
        let mut rest = line[words.len()..].split_whitespace();
        let cell = rest.next().unwrap();
        let heading = rest
            .next()
            .map_or_else(String::new, |unit| format!("[{unit}]"));
        agrees(words, cell, &heading, value.as_f64());
    }
}

const BUILDS: [&str; 9] = [
    "",
    "builds/methanol_sprint.toml",
    "cases/build_one_point.toml",
    "builds/petrol_screw.toml",
    "builds/single_roots.toml",
    "builds/two_turbos.toml",
    "builds/turbo_before_roots.toml",
    "builds/water_and_wind.toml",
    "builds/us_units.toml",
];

#[test]
fn the_text_of_a_point_has_the_numbers_of_the_json_in_both_unit_systems() {
    for build in BUILDS {
        for units in ["si", "us"] {
            point_agrees(build, units);
        }
    }
}

/// The number of an item of a list, by the item's name.
fn of(list: &'static str, name: &'static str, key: &'static str) -> Source {
    Box::new(move |point| {
        let items = point[list].as_array()?;
        items.iter().find(|item| item["name"] == name)?[key].as_f64()
    })
}

/// The columns of the demo's line, left to right.
fn demo_columns() -> Vec<(&'static str, Source)> {
    let boost = |point: &Value| {
        let pressure = |name| of("stations", name, "pressure_pa")(point);
        Some(pressure("manifold")? - pressure("ambient")?)
    };
    let engine = |key: &'static str| -> Source { Box::new(move |p| p["engine"][key].as_f64()) };
    let (first, second) = ("supercharger", "turbo compressor");
    let kelvin = "temperature_k";
    vec![
        ("engine [rpm]", key("rpm")),
        ("air", key("air_mass_flow_kg_s")),
        ("boost", Box::new(boost)),
        (
            "super- charger ratio",
            of("stages", first, "pressure_ratio"),
        ),
        ("turbo ratio", of("stages", second, "pressure_ratio")),
        ("super- charger split", of("stages", first, "split_share")),
        ("by- passed", of("stages", first, "bypass_share")),
        (
            "after super- charger",
            of("stations", "supercharger outlet", kelvin),
        ),
        ("after turbo", of("stations", "compressor outlet", kelvin)),
        ("mani- fold", of("stations", "manifold", kelvin)),
        (
            "drive pres- sure",
            of("stations", "turbine inlet", "pressure_pa"),
        ),
        ("before tur- bine", of("stations", "turbine inlet", kelvin)),
        ("waste- gate", of("turbines", "turbine", "wastegate_share")),
        ("belt from crank", of("stages", first, "crank_power_w")),
        ("brake power", engine("brake_power_w")),
        ("torque", engine("torque_n_m")),
        ("BSFC", engine("bsfc_g_kwh")),
    ]
}

#[test]
fn the_text_of_a_line_has_the_numbers_of_the_json_in_both_unit_systems() {
    for units in ["si", "us"] {
        let text = run(&["line", "--columns", "all"], "", "text", units);
        let json: Value = serde_json::from_str(&run(&["line"], "", "json", "si")).unwrap();
        let points = json["points"].as_array().unwrap();
        let all = tables(&text, "engine ", points.len());
        let sources = demo_columns();
        // Behind them stand the items of the power balance.
        assert!(all.len() > sources.len() + 3, "{text}");
        for (column, (heading, source)) in all.iter().zip(&sources) {
            assert!(
                column.heading.starts_with(heading),
                "{heading} {}",
                column.heading
            );
            for (point, cell) in points.iter().zip(&column.cells) {
                agrees(
                    &format!("{units}, {}", point["rpm"]),
                    cell,
                    &column.heading,
                    source(point),
                );
            }
        }
        let over = json["hand_over"][0]["rpm"].as_f64().unwrap();
        assert!(text.contains(&format!("At {over:.0} rpm the supercharger hands over")));
    }
}

#[test]
fn every_pressure_column_says_absolute_gauge_or_difference() {
    for units in ["si", "us"] {
        for command in [&["line"][..], &["point", "--rpm", "1900"]] {
            let text = run(command, "", "text", units);
            let unit = if units == "si" { "kPa" } else { "psi" };
            let heads = if command[0] == "line" {
                ["gauge]", "abs]"]
            } else {
                ["gauge]", "absolute]"]
            };
            for head in heads {
                assert!(text.contains(head), "{head} in {text}");
            }
            // A bracket that opens with the unit goes on with what it counts from.
            assert!(!text.contains(&format!("[{unit}]")), "{text}");
        }
    }
}

/// Columns of the tables of `cooler`, left to right.
fn cooler_columns() -> Vec<(&'static str, Source)> {
    vec![
        ("engine", key("rpm")),
        ("effec- tive- ness", key("effectiveness")),
        ("NTU", key("ntu")),
        ("heat", key("heat_w")),
        ("charge in", key("inlet_temperature_k")),
        ("charge out", key("outlet_temperature_k")),
        ("cool- ing side in", key("sink_inlet_temperature_k")),
        ("pres- sure drop", key("pressure_drop_pa")),
        ("den- sity gain", key("density_gain")),
        ("air", key("air_mass_flow_kg_s")),
        ("more air", key("air_gain")),
        ("more power", key("brake_power_gain_w")),
    ]
}

fn run_columns() -> Vec<(&'static str, Source)> {
    vec![
        ("time", key("time_s")),
        ("engine", key("rpm")),
        ("core", key("core_temperature_k")),
        ("water", key("water_temperature_k")),
        ("ice", key("ice_kg")),
        ("charge out", key("outlet_temperature_k")),
        ("mani- fold [°", key("charge_temperature_k")),
        ("mani- fold", key("manifold_pressure_pa")),
        ("brake power", key("brake_power_w")),
        ("heat", key("heat_w")),
    ]
}

#[test]
fn the_tables_of_a_cooler_have_the_numbers_of_the_json_in_both_unit_systems() {
    let command = ["cooler", "--seconds", "60"];
    let build = "builds/ice_tank.toml";
    let json: Value = serde_json::from_str(&run(&command, build, "json", "si")).unwrap();
    for units in ["si", "us"] {
        let text = run(&command, build, "text", units);
        for (start, end, items, sources) in [
            ("engine", "A run", &json["points"], cooler_columns()),
            ("time", "Heat:", &json["run"]["rows"], run_columns()),
        ] {
            let items = items.as_array().unwrap();
            let after = text.split("Over the line:").nth(1).unwrap();
            let after = after.split(end).next().unwrap();
            let columns = tables(after, start, items.len());
            assert_eq!(columns.len(), sources.len(), "{after}");
            for (column, (heading, source)) in columns.iter().zip(&sources) {
                assert!(
                    column.heading.starts_with(heading),
                    "{heading} {}",
                    column.heading
                );
                for (item, cell) in items.iter().zip(&column.cells) {
                    agrees(start, cell, &column.heading, source(item));
                }
            }
        }
    }
}
