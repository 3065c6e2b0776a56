//! The shape of `cooler` as JSON and CSV: a strict mirror, so that no key comes, goes or changes its
//! kind unseen.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "support/run.rs"]
mod run;

use run::{Scratch, kept};
use serde::Deserialize;

type Number = Option<f64>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Report {
    title: String,
    caution: String,
    cooler: String,
    other_coolers: Vec<String>,
    sink: String,
    target: Option<Target>,
    hardest: Point,
    hottest: Point,
    sizes: Vec<Size>,
    depths: Option<Depths>,
    points: Vec<Row>,
    run: Option<Run>,
    findings: Vec<Finding>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Finding {
    code: String,
    what: String,
    #[serde(rename = "where")]
    place: Option<String>,
    rpm: Number,
    value: Number,
    limit: Number,
    margin: Number,
    unit: String,
    severity: String,
    advice: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Target {
    charge_temperature_k: f64,
    from: String,
    verdict: String,
    short_by: Number,
    to_spare: Number,
    points_over: usize,
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Row {
    Point(Box<Point>),
    Failed(Failed),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Failed {
    rpm: f64,
    error: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Point {
    rpm: f64,
    effectiveness: f64,
    heat_effectiveness: Number,
    ntu: Number,
    conductance_w_k: Number,
    capacity_ratio: Number,
    least_conductance_w_k: Number,
    least_ntu: Number,
    heat_w: f64,
    inlet_temperature_k: f64,
    outlet_temperature_k: f64,
    sink_inlet_temperature_k: f64,
    approach_k: f64,
    pressure_drop_pa: f64,
    sink_outlet_temperature_k: Number,
    sink_mass_flow_kg_s: Number,
    sink_pressure_drop_pa: Number,
    flow_limit: Number,
    charge_reynolds: Number,
    sink_reynolds: Number,
    unconfirmed: Option<bool>,
    inlet_density_kg_m3: f64,
    outlet_density_kg_m3: f64,
    density_gain: f64,
    density_gain_without_drop: f64,
    air_mass_flow_kg_s: f64,
    charge_temperature_k: f64,
    manifold_pressure_pa: f64,
    manifold_density_kg_m3: f64,
    brake_power_w: Number,
    without: Without,
    air_gain: Number,
    brake_power_gain_w: Number,
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Without {
    Engine(Engine),
    Failed(NoMatch),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct NoMatch {
    error: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Engine {
    air_mass_flow_kg_s: f64,
    charge_temperature_k: f64,
    manifold_pressure_pa: f64,
    manifold_density_kg_m3: f64,
    brake_power_w: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Size {
    what: String,
    unit: String,
    have: f64,
    needed: Number,
    factor: Number,
    rpm: Number,
    answer: String,
    coldest_k: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Depths {
    assumed: bool,
    build_depth_m: Number,
    pays_to: Depth,
    place: String,
    air_gain: Number,
    points: Vec<Depth>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Depth {
    depth_factor: f64,
    effectiveness: f64,
    pressure_drop_pa: f64,
    sink_pressure_drop_pa: Number,
    density_gain: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Run {
    seconds: f64,
    speed: String,
    target_passed_at_s: Number,
    hottest_charge_temperature_k: f64,
    hottest_at_s: f64,
    heat_from_charge_j: f64,
    heat_to_sink_j: f64,
    heat_to_air_j: Number,
    stored_in_metal_j: Number,
    stored_in_water_j: Number,
    ice_gone_at_s: Number,
    stopped: Option<Stop>,
    rows: Vec<Moment>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Stop {
    time_s: f64,
    rpm: f64,
    error: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Moment {
    time_s: f64,
    rpm: f64,
    core_temperature_k: Number,
    water_temperature_k: Number,
    ice_kg: Number,
    outlet_temperature_k: f64,
    charge_temperature_k: f64,
    manifold_pressure_pa: f64,
    brake_power_w: Number,
    heat_w: f64,
}

fn output(arguments: &[&str], format: &str) -> String {
    let mut all = vec!["cooler"];
    all.extend(arguments);
    all.extend(["--format", format]);
    let ran = Scratch::new().run(&all);
    assert_eq!(ran.code, 0, "{arguments:?}: {}", ran.err);
    ran.out
}

fn report(arguments: &[&str]) -> Report {
    let text = output(arguments, "json");
    assert!(!text.contains("null"), "{text}");
    serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{arguments:?}: {fault}\n{text}"))
}

/// Checks what a type cannot say.
fn check_point(point: &Point) {
    assert!(
        point.rpm > 0.0 && (0.0..=1.0).contains(&point.effectiveness),
        "{point:?}"
    );
    assert!(point.heat_w.is_finite() && point.pressure_drop_pa >= 0.0);
    assert!(point.sink_inlet_temperature_k <= point.outlet_temperature_k + 1e-9);
    assert!(point.outlet_temperature_k <= point.inlet_temperature_k);
    assert!(
        (point.approach_k - (point.outlet_temperature_k - point.sink_inlet_temperature_k)).abs()
            < 1e-9
    );
    // Either the exchanger is known, or the least of it.
    assert_eq!(point.conductance_w_k.is_some(), point.ntu.is_some());
    assert_eq!(
        point.conductance_w_k.is_some(),
        point.heat_effectiveness.is_some()
    );
    assert_eq!(
        point.conductance_w_k.is_some(),
        point.sink_mass_flow_kg_s.is_some()
    );
    assert_eq!(
        point.conductance_w_k.is_some(),
        point.sink_outlet_temperature_k.is_some()
    );
    assert!(point.conductance_w_k.is_none() || point.least_conductance_w_k.is_none());
    assert_eq!(
        point.least_conductance_w_k.is_some(),
        point.least_ntu.is_some()
    );
    assert!(
        point
            .capacity_ratio
            .is_none_or(|ratio| (0.0..=1.0).contains(&ratio))
    );
    assert!(point.sink_pressure_drop_pa.is_none_or(|drop| drop >= 0.0));
    assert!(
        point
            .flow_limit
            .is_none_or(|limit| (0.0..=1.0).contains(&limit))
    );
    assert_eq!(
        point.charge_reynolds.is_some(),
        point.sink_reynolds.is_some()
    );
    assert!(point.unconfirmed.is_none_or(|unconfirmed| unconfirmed));
    assert!(point.outlet_density_kg_m3 > 0.0 && point.inlet_density_kg_m3 > 0.0);
    assert!(point.density_gain <= point.density_gain_without_drop + 1e-12);
    assert!(point.charge_temperature_k > 200.0 && point.manifold_pressure_pa > 1e4);
    assert!(point.manifold_density_kg_m3 > 0.0 && point.air_mass_flow_kg_s > 0.0);
    match &point.without {
        Without::Engine(engine) => {
            let gain = point.air_mass_flow_kg_s / engine.air_mass_flow_kg_s - 1.0;
            assert!((gain - point.air_gain.unwrap()).abs() < 1e-12);
            assert!(engine.charge_temperature_k > 200.0);
            assert!(engine.manifold_pressure_pa > 1e4 && engine.manifold_density_kg_m3 > 0.0);
            let both = point.brake_power_w.zip(engine.brake_power_w);
            let both = both.map(|(with, bare)| with - bare);
            assert_eq!(both.is_some(), point.brake_power_gain_w.is_some());
            // The reader of JSON takes the last digit as it comes.
            let away = both.unwrap_or(0.0) - point.brake_power_gain_w.unwrap_or(0.0);
            assert!(away.abs() < 1e-6, "{away}");
        }
        Without::Failed(fault) => {
            assert!(!fault.error.is_empty() && point.air_gain.is_none());
        }
    }
}

fn check(report: &Report) {
    assert!(report.caution.starts_with("Estimates only") && !report.title.is_empty());
    assert!(report.cooler.starts_with("cooler"));
    assert!(!report.other_coolers.contains(&report.cooler));
    assert!(["air", "water"].contains(&report.sink.as_str()));
    let mut solved = 0;
    for row in &report.points {
        match row {
            Row::Point(point) => {
                check_point(point);
                assert!(point.heat_w <= report.hardest.heat_w);
                assert!(point.charge_temperature_k <= report.hottest.charge_temperature_k);
                solved += 1;
            }
            Row::Failed(row) => assert!(row.rpm > 0.0 && !row.error.is_empty()),
        }
    }
    assert!(solved > 0);
    if let Some(target) = &report.target {
        assert!(["enough", "short", "out of reach"].contains(&target.verdict.as_str()));
        assert!(["--target", "max_charge_temperature"].contains(&target.from.as_str()));
        assert_eq!(target.verdict == "enough", target.points_over == 0);
        assert_eq!(target.verdict == "enough", target.to_spare.is_some());
        assert_eq!(target.verdict == "short", target.short_by.is_some());
        assert!(target.charge_temperature_k > 200.0);
        assert!(!report.sizes.is_empty());
    }
    for size in &report.sizes {
        let whats = ["effectiveness", "conductance", "face", "sink flow"];
        assert!(whats.contains(&size.what.as_str()), "{size:?}");
        assert!(["1", "W/K", "m2", "kg/s"].contains(&size.unit.as_str()));
        assert!(size.have > 0.0);
        assert_eq!(size.answer == "needed", size.needed.is_some(), "{size:?}");
        assert_eq!(size.answer == "out of reach", size.coldest_k.is_some());
        assert_eq!(size.answer == "nothing needed", size.rpm.is_none());
        let factor = size.needed.map(|needed| needed / size.have);
        assert!((factor.unwrap_or(0.0) - size.factor.unwrap_or(0.0)).abs() < 1e-9);
    }
    for finding in &report.findings {
        assert!(
            !finding.code.is_empty() && !finding.what.is_empty(),
            "{finding:?}"
        );
        // The hot charge is found where the engine breathes it.
        let place = match finding.code.as_str() {
            "charge_temperature" => "manifold",
            _ => report.cooler.as_str(),
        };
        assert_eq!(finding.place.as_deref(), Some(place), "{finding:?}");
        assert!(["ok", "near", "over", "outside data"].contains(&finding.severity.as_str()));
        assert!(finding.advice.ends_with('.') && !finding.unit.is_empty());
        let numbers = [finding.rpm, finding.value, finding.limit, finding.margin];
        assert!(numbers.iter().flatten().all(|number| number.is_finite()));
    }
    report.depths.iter().for_each(check_depths);
    report.run.iter().for_each(check_run);
}

fn check_depths(depths: &Depths) {
    assert!(["inside", "shallowest", "deepest"].contains(&depths.place.as_str()));
    assert_eq!(depths.assumed, depths.build_depth_m.is_none());
    assert!(depths.air_gain.is_none_or(f64::is_finite));
    assert!(depths.points.len() >= 10);
    for depth in depths.points.iter().chain([&depths.pays_to]) {
        assert!(depth.depth_factor >= 0.5 && (0.0..=1.0).contains(&depth.effectiveness));
        assert!(depth.pressure_drop_pa > 0.0 && depth.density_gain > 0.0);
        assert!(depth.sink_pressure_drop_pa.is_none_or(|drop| drop >= 0.0));
    }
}

fn check_run(run: &Run) {
    assert!(["held", "swept"].contains(&run.speed.as_str()));
    assert!(
        run.target_passed_at_s
            .is_none_or(|at| (0.0..=run.seconds).contains(&at))
    );
    assert!(run.hottest_at_s <= run.seconds && run.hottest_charge_temperature_k > 200.0);
    assert!(run.ice_gone_at_s.is_none_or(|at| at <= run.seconds));
    assert_eq!(run.stored_in_water_j.is_some(), run.heat_to_air_j.is_some());
    let stored = run.stored_in_metal_j.unwrap_or(0.0) + run.stored_in_water_j.unwrap_or(0.0);
    let out = run.heat_to_air_j.unwrap_or(run.heat_to_sink_j);
    assert!((run.heat_from_charge_j - out - stored).abs() < 1e-6 * run.heat_from_charge_j.abs());
    if let Some(stop) = &run.stopped {
        assert!(stop.time_s < run.seconds && stop.rpm > 0.0 && !stop.error.is_empty());
    } else {
        assert!((run.rows.last().unwrap().time_s - run.seconds).abs() < 1e-9);
    }
    for row in &run.rows {
        assert!(row.rpm > 0.0 && row.manifold_pressure_pa > 1e4 && row.heat_w.is_finite());
        assert!(row.outlet_temperature_k > 200.0 && row.charge_temperature_k > 200.0);
        assert_eq!(
            row.core_temperature_k.is_some(),
            run.stored_in_metal_j.is_some()
        );
        assert_eq!(
            row.water_temperature_k.is_some(),
            run.stored_in_water_j.is_some()
        );
        assert!(row.ice_kg.is_none_or(|ice| ice >= 0.0));
        assert!(row.brake_power_w.is_none_or(f64::is_finite));
    }
}

/// Commands of every kind of cooler, sink, target and run.
fn commands() -> Vec<Vec<String>> {
    let build = |name: &str| kept(&format!("builds/{name}.toml"));
    let words = |list: &[&str]| list.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
    let with = |name: &str, list: &[&str]| {
        let mut all = vec![build(name)];
        all.extend(words(list));
        all
    };
    vec![
        words(&[]),
        words(&["--target", "20 degC"]),
        words(&["--set", "limits.max_charge_temperature="]),
        words(&[
            "--set",
            "cooler.metal_mass=6 kg",
            "--seconds",
            "40",
            "--swept",
        ]),
        with("two_turbos", &["--cooler", "1", "--target", "60 degC"]),
        with("turbo_before_roots", &[]),
        with("single_turbo", &["--target", "700 degF"]),
        with("petrol_screw", &["--target", "320 K"]),
        with("ice_tank", &[]),
        with(
            "ice_tank",
            &["--seconds", "90", "--start-temperature", "70 degF"],
        ),
        with("ram_air_core", &[]),
        with("ram_air_core", &["--seconds", "30", "--hold", "2000"]),
    ]
}

#[test]
fn json_has_exactly_the_published_keys_and_nothing_that_does_not_exist() {
    for command in commands() {
        let arguments: Vec<&str> = command.iter().map(String::as_str).collect();
        check(&report(&arguments));
    }
}

#[test]
fn csv_has_the_numbers_of_the_json_row_by_row() {
    for (arguments, rows) in [(&[][..], "points"), (&["--seconds", "60"], "rows")] {
        let mut all = vec![kept("builds/ice_tank.toml")];
        all.extend(arguments.iter().map(|&word| word.to_owned()));
        let all: Vec<&str> = all.iter().map(String::as_str).collect();
        let json: serde_json::Value = serde_json::from_str(&output(&all, "json")).unwrap();
        let list = if rows == "rows" {
            &json["run"]["rows"]
        } else {
            &json["points"]
        };
        let csv = output(&all, "csv");
        let mut lines = csv.lines();
        let header: Vec<&str> = lines.next().unwrap().split(',').collect();
        let items = list.as_array().unwrap();
        assert_eq!(lines.clone().count(), items.len());
        for (line, item) in lines.zip(items) {
            for (column, cell) in header.iter().zip(line.split(',')) {
                let mut value = item;
                for step in column.split('.') {
                    value = &value[step];
                }
                let number: f64 = cell.parse().unwrap_or(f64::NAN);
                let value = value.as_f64().unwrap();
                // The reader of JSON takes the last digit as it comes.
                let away = (value - number).abs();
                assert!(away <= 1e-14 * number.abs(), "{column}: {cell}");
            }
        }
    }
}
