//! What holds between the numbers of an object, wherever it stands in an output.

use serde_json::{Map, Value};

type Object = Map<String, Value>;

/// Keys of an object that are there all together or not at all.
const TOGETHER: [(&str, &[&str]); 24] = [
    ("stages", &["corrected_flow_kg_s", "corrected_speed_rpm"]),
    ("engine", &["brake_power_w", "torque_n_m"]),
    (
        "engine",
        &[
            "gross_indicated_power_w",
            "gross_indicated_mean_effective_pressure_pa",
        ],
    ),
    (
        "engine",
        &[
            "peak_cylinder_pressure_low_pa",
            "peak_cylinder_pressure_high_pa",
        ],
    ),
    ("point", &["air_fuel_ratio", "lambda"]),
    ("coolers", &EXCHANGER),
    ("cooler point", &EXCHANGER),
    ("coolers", &["charge_reynolds", "sink_reynolds"]),
    ("cooler point", &["charge_reynolds", "sink_reynolds"]),
    ("cooler point", &["least_conductance_w_k", "least_ntu"]),
    (
        "cylinder",
        &["gas_force_low_n", "gas_force_high_n", "gas_force_from"],
    ),
    ("cylinder", &["clamp_force_low_n", "clamp_force_high_n"]),
    ("cylinder", &["clamp_margin_low", "clamp_margin_high"]),
    (
        "fuel",
        &[
            "evaporated_share",
            "charge_cooling_k",
            "vapour_mole_fraction",
        ],
    ),
    ("bands", &["samples", "samples_without_match"]),
    ("band", &["mostly_from", "mostly_share"]),
    (
        "summary",
        &["surge_margin", "surge_margin_rpm", "surge_margin_stage"],
    ),
    (
        "summary",
        &["choke_margin", "choke_margin_rpm", "choke_margin_stage"],
    ),
    (
        "summary",
        &["highest_shaft_speed_rpm", "highest_shaft_speed_engine_rpm"],
    ),
    ("summary", &["largest_boost_pa", "largest_boost_rpm"]),
    (
        "summary",
        &["largest_brake_power_w", "largest_brake_power_rpm"],
    ),
    ("summary", &["largest_torque_n_m", "largest_torque_rpm"]),
    ("summary", &["hottest_exhaust_k", "hottest_exhaust_rpm"]),
    ("run", &["stored_in_water_j", "heat_to_air_j"]),
];

/// What hangs on both flows of a cooler.
const EXCHANGER: [&str; 6] = [
    "sink_outlet_temperature_k",
    "sink_mass_flow_kg_s",
    "ntu",
    "conductance_w_k",
    "capacity_ratio",
    "heat_effectiveness",
];

/// Keys whose numbers rise.
const RISING: [(&str, &[&str]); 9] = [
    (
        "cylinder",
        &[
            "compression_pressure_low_pa",
            "compression_pressure_high_pa",
        ],
    ),
    (
        "cylinder",
        &[
            "compression_temperature_low_k",
            "compression_temperature_high_k",
        ],
    ),
    ("cylinder", &["gas_force_low_n", "gas_force_high_n"]),
    ("cylinder", &["clamp_force_low_n", "clamp_force_high_n"]),
    ("cylinder", &["clamp_margin_low", "clamp_margin_high"]),
    (
        "engine",
        &[
            "peak_cylinder_pressure_low_pa",
            "peak_cylinder_pressure_pa",
            "peak_cylinder_pressure_high_pa",
        ],
    ),
    ("band", &["low", "high"]),
    ("hysteresis", &["from_rpm", "to_rpm"]),
    (
        "cooler point",
        &[
            "sink_inlet_temperature_k",
            "outlet_temperature_k",
            "inlet_temperature_k",
        ],
    ),
];

/// Numbers and the range that they keep to.
const WITHIN: [(&str, &str, f64, f64); 36] = [
    ("stations", "pressure_pa", 1e3, 1e8),
    ("stations", "temperature_k", 150.0, 3000.0),
    ("stations", "density_kg_m3", 1e-3, 1e3),
    ("stations", "mass_flow_kg_s", 0.0, 1e3),
    ("stages", "tip_speed_m_s", 1e-9, 1e4),
    ("belt", "speed_m_s", 1e-9, 1e4),
    ("belt", "shaft_pull_n", 0.0, 1e9),
    ("coolers", "effectiveness", 0.0, 1.0),
    ("coolers", "capacity_ratio", 0.0, 1.0),
    ("coolers", "heat_effectiveness", 0.0, 1.0),
    ("turbines", "expansion_ratio", 1.0, 1e3),
    ("turbines", "wastegate_share", 0.0, 1.0),
    ("engine", "volumetric_efficiency", 1e-9, 10.0),
    ("engine", "peak_cylinder_pressure_pa", 1e5, 1e9),
    ("cylinder", "equivalent_compression_ratio", 1.0, 1e3),
    ("fuel", "evaporated_share", 0.0, 1.0),
    ("fuel", "vapour_mole_fraction", 0.0, 1.0),
    ("fuel", "per_stroke_kg", 1e-12, 1.0),
    ("fuel", "per_stroke_m3", 1e-15, 1.0),
    ("fuel", "injector_duty", 1e-9, 100.0),
    ("point", "air_mass_flow_kg_s", 1e-9, 1e3),
    ("point", "fuel_mass_flow_kg_s", 1e-12, 1e3),
    ("findings", "rpm", 1e-9, 1e6),
    ("events", "manifold_pressure_from_pa", 1e3, 1e8),
    ("hysteresis", "upward_manifold_pressure_pa", 1e3, 1e8),
    ("hysteresis", "downward_manifold_pressure_pa", 1e3, 1e8),
    ("bands", "coverage", 0.95 - 1e-12, 0.95 + 1e-12),
    ("band", "standard_uncertainty", 0.0, 1e9),
    ("band", "mostly_share", 0.0, 1.0 + 1e-12),
    ("sensitivity", "importance", 0.0, 1e9),
    ("cooler point", "effectiveness", 0.0, 1.0),
    ("cooler point", "capacity_ratio", 0.0, 1.0),
    ("cooler point", "flow_limit", 0.0, 1.0),
    ("cooler point", "pressure_drop_pa", 0.0, 1e7),
    ("cooler point", "sink_pressure_drop_pa", 0.0, 1e7),
    ("depth", "depth_factor", 0.5, 100.0),
];

/// Words of which one stands at a key.
const WORDS: [(&str, &str, &[&str]); 15] = [
    ("stages", "drive", &["prescribed", "belt", "turbine"]),
    ("hand_over", "direction", &["to_turbo", "to_supercharger"]),
    ("second", "wastegate", &["shut", "holding", "wide open"]),
    (
        "findings",
        "severity",
        &["ok", "near", "over", "outside data"],
    ),
    (
        "findings",
        "unit",
        &["1", "Pa", "K", "kg/s", "rpm", "W", "m/s", "N", "J/kg", "%"],
    ),
    ("band", "method", &["linear", "sampled"]),
    (
        "sensitivity",
        "step",
        &["+1 %", "-1 %", "+1 K", "-1 K", "+1 u", "-1 u"],
    ),
    ("target", "verdict", &["enough", "short", "out of reach"]),
    ("target", "from", &["--target", "max_charge_temperature"]),
    (
        "sizes",
        "what",
        &["effectiveness", "conductance", "face", "sink flow"],
    ),
    ("sizes", "unit", &["1", "W/K", "m2", "kg/s"]),
    ("depths", "place", &["inside", "shallowest", "deepest"]),
    ("run", "speed", &["held", "swept"]),
    ("files", "surge_line", &["own"]),
    ("cooler report", "sink", &["air", "water"]),
];

/// What of an output does not hold, each with its place.
pub fn faults(value: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    visit(value, "", &mut faults);
    faults
}

fn visit(value: &Value, key: &str, faults: &mut Vec<String>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| visit(item, key, faults)),
        Value::Object(object) => {
            let name = name(object, key);
            let broken = tables(name, object).into_iter().chain(own(name, object));
            faults.extend(broken.map(|what| format!("{name}: {what} in {object:?}")));
            for (key, inner) in object {
                visit(inner, key, faults);
            }
        }
        _ => {}
    }
}

/// What an object is, by its keys where its own key does not say.
fn name<'k>(object: &Object, key: &'k str) -> &'k str {
    let has = |key: &str| object.contains_key(key);
    match key {
        _ if has("stations") => "point",
        _ if has("approach_k") => "cooler point",
        _ if has("depth_factor") => "depth",
        _ if has("why_not_linear") || has("standard_uncertainty") => "band",
        _ if has("other_coolers") => "cooler report",
        _ if has("hand_over") => "line",
        "further" => "second",
        other => other,
    }
}

fn tables(name: &str, object: &Object) -> Vec<String> {
    let number = |key: &str| object.get(key).and_then(Value::as_f64);
    let mut broken = Vec::new();
    for (_, keys) in TOGETHER.iter().filter(|(of, _)| *of == name) {
        let there = keys.iter().filter(|key| object.contains_key(**key)).count();
        if there != 0 && there != keys.len() {
            broken.push(format!("only some of {keys:?}"));
        }
    }
    for (_, keys) in RISING.iter().filter(|(of, _)| *of == name) {
        let numbers: Vec<f64> = keys.iter().filter_map(|key| number(key)).collect();
        if numbers.windows(2).any(|pair| pair[0] > pair[1] + 1e-9) {
            broken.push(format!("{keys:?} do not rise"));
        }
    }
    for (_, key, low, high) in WITHIN.iter().filter(|(of, ..)| *of == name) {
        if number(key).is_some_and(|value| !(*low..=*high).contains(&value)) {
            broken.push(format!("{key} outside {low} to {high}"));
        }
    }
    for (_, key, words) in WORDS.iter().filter(|(of, ..)| *of == name) {
        if object
            .get(*key)
            .is_some_and(|word| !words.contains(&word.as_str().unwrap()))
        {
            broken.push(format!("{key} is none of {words:?}"));
        }
    }
    broken
}

/// Rules that need more than a row of a table; each that does not hold, in words.
fn own(name: &str, object: &Object) -> Vec<String> {
    let rules = match name {
        "point" => point(object),
        "stages" => stage(object),
        "belt" => belt(object),
        "second" => vec![(
            "boost is above 0 Pa absolute",
            get(object, "manifold_pressure_pa") > get(object, "boost_pa"),
        )],
        "line" | "variants" => line(object),
        "events" => event(object),
        "findings" => finding(object),
        "bands" => vec![(
            "there are bands of pressures",
            object.contains_key("boost_pa") && object.contains_key("manifold_pressure_pa"),
        )],
        "band" => vec![(
            "what is sampled says why",
            (object["method"] == "sampled") == object.contains_key("why_not_linear"),
        )],
        "sensitivity" => vec![(
            "a step with importance moves the air",
            !object.contains_key("importance")
                || object["changes"]["air_mass_flow_kg_s"].is_number(),
        )],
        "cooler point" => cooler_point(object),
        "cooler report" => cooler_report(object),
        "target" => target(object),
        "sizes" => size(object),
        "depths" => vec![
            (
                "what is not known is assumed",
                object["assumed"] != object.contains_key("build_depth_m"),
            ),
            (
                "there are depths",
                object["points"].as_array().unwrap().len() >= 10,
            ),
        ],
        "run" => run(object),
        _ => Vec::new(),
    };
    let broken = rules.into_iter().filter(|(_, holds)| !holds);
    broken.map(|(rule, _)| format!("not so: {rule}")).collect()
}

type Rules = Vec<(&'static str, bool)>;

fn get(object: &Object, key: &str) -> f64 {
    object.get(key).and_then(Value::as_f64).unwrap_or(0.0)
}

fn list<'o>(object: &'o Object, key: &str) -> &'o [Value] {
    object
        .get(key)
        .and_then(Value::as_array)
        .map_or(&[], Vec::as_slice)
}

fn near(a: f64, b: f64, size: f64) -> bool {
    (a - b).abs() <= 1e-9 * size.abs().max(1e-3)
}

fn point(point: &Object) -> Rules {
    let engine = point["engine"].as_object().unwrap();
    let items = list(point, "power");
    let power = |at: usize| items[at]["power_w"].as_f64().unwrap();
    let names: Vec<_> = items
        .iter()
        .map(|item| item["name"].as_str().unwrap())
        .collect();
    let known = [
        "gross indicated",
        "pumping",
        "friction",
        "supercharger drive",
        "brake",
    ];
    let closes = items.is_empty()
        || names == known
            && near((0..4).map(power).sum(), power(4), power(0))
            && near(power(4), get(engine, "brake_power_w"), power(0))
            && (0..5).all(|at| {
                near(
                    items[at]["share"].as_f64().unwrap(),
                    power(at) / power(0),
                    1.0,
                )
            });
    let first = list(point, "findings").first();
    let worst = first.filter(|first| first["severity"] != "ok");
    let told = point.get("worst_finding");
    let same = |key: &str| told.map(|told| &told[key]) == worst.map(|worst| &worst[key]);
    let others = point
        .get("second")
        .into_iter()
        .chain(list(point, "further"));
    let air = get(point, "air_mass_flow_kg_s");
    let apart = |other: &Value| (other["air_mass_flow_kg_s"].as_f64().unwrap() / air - 1.0).abs();
    let keys: Vec<_> = list(point, "defaults")
        .iter()
        .map(|used| &used["key"])
        .collect();
    let once = |key: &&Value| keys.iter().filter(|other| *other == key).count() == 1;
    vec![
        (
            "power is listed where it is known",
            items.is_empty() != engine.contains_key("brake_power_w"),
        ),
        ("the power items close", closes),
        (
            "consumption needs power",
            !engine.contains_key("bsfc_g_kwh") || engine.contains_key("torque_n_m"),
        ),
        (
            "the worst finding is the first",
            same("code") && same("severity"),
        ),
        (
            "steepness needs a turbine",
            !point.contains_key("steepness") || !list(point, "turbines").is_empty(),
        ),
        (
            "other balances are others",
            others.into_iter().all(|other| apart(other) > 1e-6),
        ),
        ("a default is listed once", keys.iter().all(once)),
        (
            "ten sensitivities",
            point
                .get("sensitivity")
                .is_none_or(|rows| rows.as_array().unwrap().len() == 10),
        ),
    ]
}

fn stage(stage: &Object) -> Rules {
    vec![
        (
            "a belt takes from the crank",
            stage.contains_key("crank_power_w") == (stage["drive"] == "belt"),
        ),
        (
            "what compresses has an efficiency",
            stage.contains_key("efficiency") || get(stage, "pressure_ratio") < 1.001,
        ),
    ]
}

fn belt(belt: &Object) -> Rules {
    let (tight, slack) = (get(belt, "tight_tension_n"), get(belt, "slack_tension_n"));
    vec![(
        "the tensions pull",
        near(tight - slack, get(belt, "effective_pull_n"), tight),
    )]
}

fn line(line: &Object) -> Rules {
    let rising = |key: &str| {
        let rpm: Vec<f64> = list(line, key)
            .iter()
            .map(|row| row["rpm"].as_f64().unwrap())
            .collect();
        rpm.windows(2).all(|pair| pair[0] <= pair[1])
    };
    let banded = |row: &Value| row.get("error").is_some() || row.get("bands").is_some();
    vec![
        ("points rise in speed", rising("points")),
        ("events rise in speed", rising("events")),
        (
            "bands stand at every point",
            !line.contains_key("uncertain_inputs") || list(line, "points").iter().all(banded),
        ),
        (
            "a summary has others beside it",
            line.contains_key("settings")
                || line.contains_key("summary") == line.contains_key("variants"),
        ),
    ]
}

fn event(event: &Object) -> Rules {
    let what = event["what"].as_str().unwrap();
    let parts = [
        "wastegate",
        "bypass",
        "clutch",
        "crosses",
        "returns",
        "exceeds",
    ];
    let is_of_part = parts.iter().any(|start| what.starts_with(start));
    let is_jump = what == "jump";
    let jumps = ["manifold_pressure_from_pa", "manifold_pressure_to_pa"];
    vec![
        ("a word", !what.contains(' ')),
        (
            "an event of a part has its place",
            event.contains_key("where") == is_of_part,
        ),
        (
            "a jump has its pressures",
            jumps.iter().all(|key| event.contains_key(*key) == is_jump),
        ),
    ]
}

fn finding(finding: &Object) -> Rules {
    let text = |key: &str| finding.get(key).and_then(Value::as_str).unwrap_or("-");
    let is_snake = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    let is_margin = finding.contains_key("margin");
    vec![
        ("a fixed word", text("code").chars().all(is_snake)),
        (
            "words",
            ["what", "where", "unit"]
                .iter()
                .all(|key| !text(key).is_empty()),
        ),
        ("advice is a sentence", text("advice").ends_with('.')),
        // The limit of a point outside a map is the map's edge, which is no number.
        (
            "a margin has a limit",
            !is_margin || finding.contains_key("limit") || finding["code"] == "outside_map",
        ),
    ]
}

fn cooler_point(point: &Object) -> Rules {
    let without = point["without"].as_object().unwrap();
    let approach = get(point, "outlet_temperature_k") - get(point, "sink_inlet_temperature_k");
    let air = get(point, "air_mass_flow_kg_s") / get(without, "air_mass_flow_kg_s") - 1.0;
    let power = get(point, "brake_power_w") - get(without, "brake_power_w");
    let is_solved = !without.contains_key("error");
    let is_power_known = is_solved && point.contains_key("brake_power_w");
    vec![
        ("approach", near(get(point, "approach_k"), approach, 1.0)),
        (
            "a least size only where the size is unknown",
            !point.contains_key("ntu") || !point.contains_key("least_ntu"),
        ),
        (
            "the drop takes density",
            get(point, "density_gain") <= get(point, "density_gain_without_drop") + 1e-12,
        ),
        (
            "more air",
            point.contains_key("air_gain") == is_solved
                && (!is_solved || near(get(point, "air_gain"), air, 1.0)),
        ),
        // The reader of JSON takes the last digit as it comes.
        (
            "more power",
            point.contains_key("brake_power_gain_w") == is_power_known
                && (!is_power_known || (power - get(point, "brake_power_gain_w")).abs() < 1e-6),
        ),
        (
            "what is not so is left out",
            point.get("unconfirmed").is_none_or(|it| it == true),
        ),
    ]
}

fn cooler_report(report: &Object) -> Rules {
    let most = |at: &str, key: &str| {
        let most = report[at][key].as_f64().unwrap();
        list(report, "points")
            .iter()
            .all(|point| point[key].as_f64().is_none_or(|value| value <= most))
    };
    // The hot charge is found where the engine breathes it.
    let own_place = |finding: &Value| match finding["code"].as_str() {
        Some("charge_temperature") => finding["where"] == "manifold",
        _ => finding["where"] == report["cooler"],
    };
    vec![
        ("most heat", most("hardest", "heat_w")),
        ("hottest charge", most("hottest", "charge_temperature_k")),
        (
            "others are others",
            !list(report, "other_coolers").contains(&report["cooler"]),
        ),
        (
            "a target has sizes",
            report.contains_key("target") != list(report, "sizes").is_empty(),
        ),
        (
            "findings are of this cooler",
            list(report, "findings").iter().all(own_place),
        ),
    ]
}

fn target(target: &Object) -> Rules {
    let is_enough = target["verdict"] == "enough";
    vec![
        (
            "enough at every speed",
            is_enough == (get(target, "points_over") < 0.5),
        ),
        ("to spare", is_enough == target.contains_key("to_spare")),
        (
            "short by",
            (target["verdict"] == "short") == target.contains_key("short_by"),
        ),
    ]
}

fn size(size: &Object) -> Rules {
    let factor = get(size, "needed") / get(size, "have");
    vec![
        (
            "needed",
            (size["answer"] == "needed") == size.contains_key("needed"),
        ),
        (
            "out of reach",
            (size["answer"] == "out of reach") == size.contains_key("coldest_k"),
        ),
        (
            "nothing needed",
            (size["answer"] == "nothing needed") != size.contains_key("rpm"),
        ),
        ("factor", near(factor, get(size, "factor"), 1.0)),
    ]
}

fn run(run: &Object) -> Rules {
    let seconds = get(run, "seconds");
    let from = get(run, "heat_from_charge_j");
    let is_water = run.contains_key("stored_in_water_j");
    let out = get(
        run,
        if is_water {
            "heat_to_air_j"
        } else {
            "heat_to_sink_j"
        },
    );
    let stored = get(run, "stored_in_metal_j") + get(run, "stored_in_water_j");
    let rows = list(run, "rows");
    let last = rows.last().unwrap()["time_s"].as_f64().unwrap();
    let has = |key: &str, of: &str| {
        rows.iter()
            .all(|row| row.get(key).is_some() == run.contains_key(of))
    };
    let times = ["target_passed_at_s", "hottest_at_s", "ice_gone_at_s"];
    vec![
        (
            "heat is kept",
            (from - out - stored).abs() < 1e-6 * from.abs(),
        ),
        (
            "it runs to its end",
            run.contains_key("stopped") || near(last, seconds, seconds),
        ),
        (
            "times within it",
            times
                .iter()
                .all(|key| (0.0..=seconds).contains(&get(run, key))),
        ),
        ("metal", has("core_temperature_k", "stored_in_metal_j")),
        ("water", has("water_temperature_k", "stored_in_water_j")),
    ]
}

#[test]
fn a_rule_of_each_kind_can_fail() {
    let wrong = serde_json::json!({
        "stages": [{"drive": "belt", "pressure_ratio": 2.0, "corrected_flow_kg_s": 1.0, "tip_speed_m_s": -1.0}],
        "cylinder": {"clamp_margin_low": 2.0, "clamp_margin_high": 1.0},
        "hand_over": [{"direction": "sideways"}],
        "belt": {"speed_m_s": 1.0, "tight_tension_n": 3.0, "slack_tension_n": 1.0, "effective_pull_n": 1.0},
    });
    // A line without order of its own, a stage with four faults, three more.
    assert_eq!(faults(&wrong).len(), 7, "{:#?}", faults(&wrong));
}
