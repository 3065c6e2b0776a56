//! The shape of `point` and `line` as JSON and CSV: strict mirrors of the published contract, so
//! that no key comes, goes or changes its kind unseen. Keys of our own are marked as such.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

#[path = "support/run.rs"]
mod run;

use run::{Scratch, kept};
use serde::Deserialize;
use serde_json::Value;

type Number = Option<f64>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    title: String,
    caution: String,
    hand_over: Vec<HandOver>,
    events: Vec<Event>,
    #[serde(default)]
    hysteresis: Vec<Hysteresis>,
    points: Vec<Row>,
    findings: Vec<Finding>,
    // Ours: keys of the inputs that carry +-.
    #[serde(default)]
    uncertain_inputs: Vec<String>,
    // Ours, with `--beside` alone.
    summary: Option<Summary>,
    variants: Option<Vec<Variant>>,
}

/// Ours: a line in a few figures.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Summary {
    surge_margin: Number,
    surge_margin_rpm: Number,
    surge_margin_stage: Option<String>,
    choke_margin: Number,
    choke_margin_rpm: Number,
    choke_margin_stage: Option<String>,
    highest_shaft_speed_rpm: Number,
    highest_shaft_speed_engine_rpm: Number,
    largest_boost_pa: Number,
    largest_boost_rpm: Number,
    largest_brake_power_w: Number,
    largest_brake_power_rpm: Number,
    largest_torque_n_m: Number,
    largest_torque_rpm: Number,
    hottest_charge_k: Number,
    hottest_charge_rpm: Number,
    hottest_exhaust_k: Number,
    hottest_exhaust_rpm: Number,
}

/// Ours: a line beside the build's own.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Variant {
    title: String,
    settings: Vec<String>,
    summary: Summary,
    hand_over: Vec<HandOver>,
    events: Vec<Event>,
    #[serde(default)]
    hysteresis: Vec<Hysteresis>,
    points: Vec<Row>,
    findings: Vec<Finding>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Event {
    rpm: f64,
    what: String,
    r#where: Option<String>,
    manifold_pressure_from_pa: Option<f64>,
    manifold_pressure_to_pa: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Hysteresis {
    from_rpm: f64,
    to_rpm: f64,
    upward_manifold_pressure_pa: f64,
    downward_manifold_pressure_pa: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct HandOver {
    rpm: f64,
    direction: String,
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
    // `point` alone has these two.
    title: Option<String>,
    caution: Option<String>,
    rpm: f64,
    air_mass_flow_kg_s: f64,
    fuel_mass_flow_kg_s: Number,
    stations: Vec<Station>,
    stages: Vec<Stage>,
    coolers: Vec<Cooler>,
    engine: Engine,
    turbines: Vec<Turbine>,
    residuals: Residuals,
    steepness: Number,
    findings: Vec<Finding>,
    // Ours.
    air_fuel_ratio: Number,
    lambda: Number,
    second: Option<OtherBalance>,
    #[serde(default)]
    further: Vec<OtherBalance>,
    worst_finding: Option<Worst>,
    // `point` alone has this.
    defaults: Option<Vec<TakenValue>>,
    #[serde(default)]
    power: Vec<PowerItem>,
    cylinder: Option<Cylinder>,
    fuel: Option<Fuel>,
    bands: Option<Bands>,
    sensitivity: Option<Vec<Sensitivity>>,
}

/// Ours: the worst of the findings, for tables.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Worst {
    code: String,
    severity: String,
}

/// Ours: where the power goes.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PowerItem {
    name: String,
    power_w: f64,
    share: f64,
}

/// Ours: what was taken because the build does not give it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TakenValue {
    key: String,
    value: String,
    source: String,
}

/// Ours: each from the least to the most likely.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cylinder {
    compression_pressure_low_pa: f64,
    compression_pressure_high_pa: f64,
    compression_temperature_low_k: f64,
    compression_temperature_high_k: f64,
    gas_force_from: Option<String>,
    gas_force_low_n: Number,
    gas_force_high_n: Number,
    clamp_force_low_n: Number,
    clamp_force_high_n: Number,
    clamp_margin_low: Number,
    clamp_margin_high: Number,
    equivalent_compression_ratio: Number,
}

/// Ours: how the fuel is delivered.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Fuel {
    per_stroke_kg: Number,
    per_stroke_m3: Number,
    injector_duty: Number,
    evaporated_share: Number,
    vapour_mole_fraction: Number,
    charge_cooling_k: Number,
}

/// Ours: what a supercharger's belt bears.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Belt {
    speed_m_s: f64,
    effective_pull_n: f64,
    tight_tension_n: f64,
    slack_tension_n: f64,
    shaft_pull_n: f64,
}

/// Ours: with `--sensitivity`, and on a line where inputs carry +-.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Bands {
    coverage: f64,
    #[serde(default)]
    without_effect: Vec<String>,
    samples: Option<usize>,
    samples_without_match: Option<usize>,
    air_mass_flow_kg_s: Option<Band>,
    manifold_pressure_pa: Option<Band>,
    boost_pa: Option<Band>,
    brake_power_w: Option<Band>,
    exhaust_temperature_k: Option<Band>,
    drive_pressure_pa: Option<Band>,
    surge_margin: Option<Band>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Band {
    value: f64,
    low: f64,
    high: f64,
    standard_uncertainty: f64,
    method: String,
    why_not_linear: Option<String>,
    mostly_from: Option<String>,
    mostly_share: Number,
}

/// Ours: with `--sensitivity`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Sensitivity {
    key: String,
    written: String,
    step: String,
    changes: Changes,
    importance: Number,
    #[serde(default)]
    remarks: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Changes {
    air_mass_flow_kg_s: Number,
    manifold_pressure_pa: Number,
    boost_pa: Number,
    brake_power_w: Number,
    exhaust_temperature_k: Number,
    drive_pressure_pa: Number,
    surge_margin: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Station {
    name: String,
    pressure_pa: f64,
    temperature_k: f64,
    density_kg_m3: f64,
    mass_flow_kg_s: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Stage {
    name: String,
    drive: String,
    pressure_ratio: f64,
    efficiency: Number,
    mass_flow_kg_s: f64,
    power_w: f64,
    shaft_power_w: Number,
    crank_power_w: Number,
    speed_rpm: Number,
    corrected_flow_kg_s: Number,
    split_share: Number,
    bypass_share: Number,
    // Ours.
    corrected_speed_rpm: Number,
    tip_speed_m_s: Number,
    belt: Option<Belt>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cooler {
    name: String,
    effectiveness: f64,
    heat_w: f64,
    pressure_drop_pa: f64,
    density_gain: f64,
    // Ours.
    inlet_temperature_k: f64,
    outlet_temperature_k: f64,
    sink_inlet_temperature_k: f64,
    sink_outlet_temperature_k: Number,
    sink_mass_flow_kg_s: Number,
    sink_pressure_drop_pa: Number,
    ntu: Number,
    conductance_w_k: Number,
    capacity_ratio: Number,
    heat_effectiveness: Number,
    charge_reynolds: Number,
    sink_reynolds: Number,
    unconfirmed: Option<bool>,
}

/// What hangs on both flows stands all together or not at all.
fn assert_exchanger(cooler: &Cooler) {
    let all = [
        cooler.sink_outlet_temperature_k,
        cooler.sink_mass_flow_kg_s,
        cooler.ntu,
        cooler.conductance_w_k,
        cooler.capacity_ratio,
        cooler.heat_effectiveness,
    ];
    let known = cooler.ntu.is_some();
    assert!(
        all.iter().all(|number| number.is_some() == known),
        "{cooler:?}"
    );
    assert!(
        all.iter().flatten().all(|number| number.is_finite()),
        "{cooler:?}"
    );
    for part in [cooler.capacity_ratio, cooler.heat_effectiveness] {
        assert!((0.0..=1.0).contains(&part.unwrap_or(0.0)), "{cooler:?}");
    }
    assert!(known || cooler.sink_pressure_drop_pa.is_none());
    assert_eq!(
        cooler.charge_reynolds.is_some(),
        cooler.sink_reynolds.is_some()
    );
    assert_ne!(
        cooler.unconfirmed,
        Some(false),
        "what is not so is left out"
    );
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Engine {
    volumetric_efficiency: f64,
    brake_power_w: Number,
    torque_n_m: Number,
    bsfc_g_kwh: Number,
    peak_cylinder_pressure_pa: Number,
    // Ours.
    gross_indicated_power_w: Number,
    pumping_power_w: Number,
    friction_power_w: Number,
    supercharger_drive_power_w: Number,
    brake_mean_effective_pressure_pa: Number,
    gross_indicated_mean_effective_pressure_pa: Number,
    pumping_mean_effective_pressure_pa: Number,
    friction_mean_effective_pressure_pa: Number,
    peak_cylinder_pressure_low_pa: Number,
    peak_cylinder_pressure_high_pa: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Turbine {
    name: String,
    expansion_ratio: f64,
    mass_flow_kg_s: f64,
    power_w: f64,
    wastegate_share: Number,
    // Ours.
    efficiency: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Residuals {
    flow: f64,
    power: f64,
    pressure: f64,
}

/// Ours: the other stable balance, where there is one.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct OtherBalance {
    pressure_ratio: f64,
    manifold_pressure_pa: f64,
    boost_pa: f64,
    air_mass_flow_kg_s: f64,
    brake_power_w: Option<f64>,
    wastegate: Option<String>,
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

/// Low ends lie below high ends, and what hangs together is there together.
fn check_costs(point: &Point) {
    let engine = &point.engine;
    assert_eq!(point.power.is_empty(), engine.brake_power_w.is_none());
    if let (Some(whole), Some(brake)) = (point.power.first(), point.power.last()) {
        let names: Vec<_> = point.power.iter().map(|item| item.name.as_str()).collect();
        let known = [
            "gross indicated",
            "pumping",
            "friction",
            "supercharger drive",
            "brake",
        ];
        assert_eq!(names, known);
        let sum: f64 = point.power[..4].iter().map(|item| item.power_w).sum();
        assert!((sum - brake.power_w).abs() <= 1e-9 * whole.power_w);
        for item in &point.power {
            assert!((item.share - item.power_w / whole.power_w).abs() < 1e-12);
        }
        let parts = [
            engine.gross_indicated_mean_effective_pressure_pa,
            engine.pumping_mean_effective_pressure_pa,
            engine.friction_mean_effective_pressure_pa,
            engine.supercharger_drive_power_w,
            engine.brake_mean_effective_pressure_pa,
        ];
        assert!(parts.iter().all(Option::is_some), "{parts:?}");
    }
    let peak = engine.peak_cylinder_pressure_pa;
    let spread = (
        engine.peak_cylinder_pressure_low_pa,
        engine.peak_cylinder_pressure_high_pa,
    );
    if let (Some(peak), (Some(low), Some(high))) = (peak, spread) {
        assert!(low < peak && peak < high, "{low} {peak} {high}");
    } else {
        assert!(spread.0.is_none() && spread.1.is_none());
    }
    if let Some(cylinder) = &point.cylinder {
        let ordered = [
            (
                Some(cylinder.compression_pressure_low_pa),
                Some(cylinder.compression_pressure_high_pa),
            ),
            (
                Some(cylinder.compression_temperature_low_k),
                Some(cylinder.compression_temperature_high_k),
            ),
            (cylinder.gas_force_low_n, cylinder.gas_force_high_n),
            (cylinder.clamp_force_low_n, cylinder.clamp_force_high_n),
            (cylinder.clamp_margin_low, cylinder.clamp_margin_high),
        ];
        for (low, high) in ordered {
            assert_eq!(low.is_some(), high.is_some());
            assert!(low <= high, "{cylinder:?}");
        }
        assert_eq!(
            cylinder.gas_force_from.is_some(),
            cylinder.gas_force_low_n.is_some()
        );
        assert!(
            cylinder
                .equivalent_compression_ratio
                .is_none_or(|ratio| ratio > 1.0)
        );
    }
    if let Some(fuel) = &point.fuel {
        let shares = [fuel.evaporated_share, fuel.vapour_mole_fraction];
        assert!(
            shares
                .iter()
                .all(|share| share.is_none_or(|s| (0.0..=1.0).contains(&s)))
        );
        assert_eq!(
            fuel.evaporated_share.is_some(),
            fuel.charge_cooling_k.is_some()
        );
        let positive = [fuel.per_stroke_kg, fuel.per_stroke_m3, fuel.injector_duty];
        assert!(positive.iter().all(|value| value.is_none_or(|v| v > 0.0)));
    }
    for stage in &point.stages {
        assert!(stage.tip_speed_m_s.is_none_or(|speed| speed > 0.0));
        if let Some(belt) = &stage.belt {
            assert!(belt.speed_m_s > 0.0 && belt.shaft_pull_n >= 0.0);
            let pull = belt.tight_tension_n - belt.slack_tension_n;
            assert!((pull - belt.effective_pull_n).abs() <= 1e-9 * belt.tight_tension_n.abs());
        }
    }
}

const CAUTION: &str = "Estimates only";
/// Builds of all layouts; the empty name is the demo.
const BUILDS: [&str; 10] = [
    "",
    "builds/methanol_sprint.toml",
    "cases/build_one_point.toml",
    "builds/marine_diesel.toml",
    "builds/petrol_screw.toml",
    "builds/single_roots.toml",
    "builds/single_turbo.toml",
    "builds/turbo_before_roots.toml",
    "builds/two_turbos.toml",
    "builds/water_and_wind.toml",
];

fn output(command: &[&str], build: &str, format: &str) -> String {
    let path = kept(build);
    let mut arguments = command.to_vec();
    if !build.is_empty() {
        arguments.push(&path);
    }
    arguments.extend(["--format", format]);
    let ran = Scratch::new().run(&arguments);
    if format == "json" {
        assert!(ran.json().is_object());
    }
    assert_eq!(ran.code, 0, "{build}: {}", ran.err);
    ran.out
}

fn assert_finite(place: &str, numbers: &[f64]) {
    assert!(
        numbers.iter().all(|n| n.is_finite()),
        "{place}: {numbers:?}"
    );
}

/// Checks what a type cannot say.
fn check_point(point: &Point) {
    let place = format!("at {} rpm", point.rpm);
    for station in &point.stations {
        let state = [
            station.pressure_pa,
            station.temperature_k,
            station.density_kg_m3,
        ];
        assert_finite(&place, &state);
        assert!(state.iter().all(|value| *value > 0.0) && station.mass_flow_kg_s >= 0.0);
        assert!(!station.name.is_empty());
    }
    for stage in &point.stages {
        assert!(["prescribed", "belt", "turbine"].contains(&stage.drive.as_str()));
        assert!(
            stage.name.starts_with("supercharger") || stage.name.starts_with("turbo compressor")
        );
        assert_eq!(
            stage.crank_power_w.is_some(),
            stage.drive == "belt",
            "{stage:?}"
        );
        assert_eq!(
            stage.corrected_flow_kg_s.is_some(),
            stage.corrected_speed_rpm.is_some()
        );
        assert!(
            stage.efficiency.is_some() || stage.pressure_ratio < 1.001,
            "{stage:?}"
        );
        assert_finite(&place, &[stage.mass_flow_kg_s, stage.power_w]);
        assert_finite(
            &place,
            &[stage.shaft_power_w, stage.speed_rpm].map(|n| n.unwrap_or(0.0)),
        );
        assert_finite(
            &place,
            &[stage.split_share, stage.bypass_share].map(|n| n.unwrap_or(0.0)),
        );
    }
    for cooler in &point.coolers {
        assert!(cooler.name.starts_with("cooler") && (0.0..=1.0).contains(&cooler.effectiveness));
        assert_finite(
            &place,
            &[
                cooler.heat_w,
                cooler.pressure_drop_pa,
                cooler.density_gain,
                cooler.inlet_temperature_k,
                cooler.outlet_temperature_k,
                cooler.sink_inlet_temperature_k,
            ],
        );
        assert_exchanger(cooler);
    }
    for turbine in &point.turbines {
        assert!(turbine.name.starts_with("turbine") && turbine.expansion_ratio >= 1.0);
        assert!((0.0..1.0).contains(&turbine.wastegate_share.unwrap_or(0.0)));
        assert_finite(
            &place,
            &[turbine.mass_flow_kg_s, turbine.power_w, turbine.efficiency],
        );
    }
    let engine = &point.engine;
    assert_eq!(engine.brake_power_w.is_some(), engine.torque_n_m.is_some());
    assert!(engine.bsfc_g_kwh.is_none() || engine.brake_power_w.is_some());
    let parts = [
        engine.gross_indicated_power_w,
        engine.pumping_power_w,
        engine.friction_power_w,
    ];
    assert_finite(&place, &parts.map(|n| n.unwrap_or(0.0)));
    assert!(engine.volumetric_efficiency > 0.0);
    assert!(engine.peak_cylinder_pressure_pa.is_none_or(|p| p > 1e5));
    assert!(point.air_mass_flow_kg_s > 0.0 && point.fuel_mass_flow_kg_s.is_none_or(|f| f > 0.0));
    assert_eq!(point.air_fuel_ratio.is_some(), point.lambda.is_some());
    let residuals = &point.residuals;
    assert_finite(
        &place,
        &[residuals.flow, residuals.power, residuals.pressure],
    );
    // A steepness belongs to a turbine that is driven.
    assert!(point.steepness.is_none() || !point.turbines.is_empty());
    check_other_balances(point);
    check_costs(point);
    let worst = point
        .findings
        .first()
        .filter(|first| first.severity != "ok");
    let named = point.worst_finding.as_ref();
    assert_eq!(
        named.map(|worst| (&worst.code, &worst.severity)),
        worst.map(|worst| (&worst.code, &worst.severity))
    );
    point.findings.iter().for_each(check_finding);
}

fn check_other_balances(point: &Point) {
    for other in point.second.iter().chain(&point.further) {
        assert!(other.pressure_ratio > 0.9 && other.manifold_pressure_pa > other.boost_pa);
        assert!((other.air_mass_flow_kg_s / point.air_mass_flow_kg_s - 1.0).abs() > 1e-6);
        assert!(other.brake_power_w.is_none_or(f64::is_finite));
        let gates = ["shut", "holding", "wide open"];
        assert!(
            other
                .wastegate
                .as_deref()
                .is_none_or(|gate| gates.contains(&gate))
        );
    }
}

fn check_events(events: &[Event], hysteresis: &[Hysteresis]) {
    assert!(events.windows(2).all(|pair| pair[0].rpm <= pair[1].rpm));
    for event in events {
        assert!(event.rpm > 0.0 && !event.what.contains(' '), "{event:?}");
        let is_about_a_part = [
            "wastegate",
            "bypass",
            "clutch",
            "crosses",
            "returns",
            "exceeds",
        ]
        .iter()
        .any(|start| event.what.starts_with(start));
        assert_eq!(event.r#where.is_some(), is_about_a_part, "{event:?}");
        for pressure in [
            event.manifold_pressure_from_pa,
            event.manifold_pressure_to_pa,
        ] {
            assert_eq!(pressure.is_some(), event.what == "jump");
            assert!(pressure.is_none_or(|pressure| pressure > 0.0));
        }
    }
    for band in hysteresis {
        assert!(band.from_rpm < band.to_rpm);
        assert!(band.upward_manifold_pressure_pa > 0.0 && band.downward_manifold_pressure_pa > 0.0);
    }
}

fn check_finding(finding: &Finding) {
    let is_snake = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    assert!(finding.code.chars().all(is_snake), "{finding:?}");
    assert!(["ok", "near", "over", "outside data"].contains(&finding.severity.as_str()));
    assert!(
        !finding.what.is_empty() && finding.advice.ends_with('.'),
        "{finding:?}"
    );
    assert!(
        finding
            .place
            .as_deref()
            .is_none_or(|place| !place.is_empty())
    );
    // The limit of a point outside a map is the map's edge, which is no number.
    assert!(
        finding.margin.is_none() || finding.limit.is_some() || finding.code == "outside_map",
        "{finding:?}"
    );
    assert!(finding.value.is_none_or(f64::is_finite) && finding.rpm.is_none_or(|rpm| rpm > 0.0));
    assert!(
        ["1", "Pa", "K", "kg/s", "rpm", "W", "m/s", "N", "J/kg", "%"]
            .contains(&finding.unit.as_str()),
        "{finding:?}"
    );
}

impl Bands {
    fn all(&self) -> impl Iterator<Item = &Band> {
        [
            &self.air_mass_flow_kg_s,
            &self.manifold_pressure_pa,
            &self.boost_pa,
            &self.brake_power_w,
            &self.exhaust_temperature_k,
            &self.drive_pressure_pa,
            &self.surge_margin,
        ]
        .into_iter()
        .flatten()
    }
}

fn check_bands(bands: &Bands) {
    assert!((bands.coverage - 0.95).abs() < 1e-12);
    assert!(bands.without_effect.iter().all(|key| key.contains('.')));
    assert_eq!(
        bands.samples.is_some(),
        bands.samples_without_match.is_some()
    );
    assert!(bands.manifold_pressure_pa.is_some() && bands.boost_pa.is_some());
    for band in bands.all() {
        assert!(["linear", "sampled"].contains(&band.method.as_str()));
        assert_eq!(band.method == "sampled", band.why_not_linear.is_some());
        assert!(band.method == "linear" || bands.samples.is_some());
        assert!(
            band.low <= band.high && band.standard_uncertainty >= 0.0,
            "{band:?}"
        );
        assert_finite(
            "band",
            &[band.value, band.low, band.high, band.standard_uncertainty],
        );
        assert_eq!(band.mostly_from.is_some(), band.mostly_share.is_some());
        assert!((0.0..=1.0 + 1e-12).contains(&band.mostly_share.unwrap_or(0.0)));
    }
}

/// Every build with an uncertain engine and place, through `line` and `point --sensitivity`.
#[test]
fn bands_and_sensitivities_have_their_keys_and_no_other() {
    for (build, displacement) in [
        ("", "4.5 L +- 1 %"),
        ("builds/marine_diesel.toml", "16.9 L +- 1 %"),
        ("builds/single_roots.toml", ""),
        ("builds/two_turbos.toml", ""),
    ] {
        let path = kept(build);
        let mut arguments = vec![
            "--format",
            "json",
            "--set",
            "site.temperature=20 degC +- 3 K",
        ];
        let set = format!("engine.displacement={displacement}");
        if !displacement.is_empty() {
            arguments.extend(["--set", &set]);
        }
        if !build.is_empty() {
            arguments.push(&path);
        }
        let line = Scratch::new().run(&[&["line"], &arguments[..]].concat());
        let line: Line = serde_json::from_str(&line.out).unwrap_or_else(|e| panic!("{build}: {e}"));
        assert!(
            line.uncertain_inputs
                .contains(&"site.temperature".to_owned())
        );
        let mut rpm = String::new();
        for row in &line.points {
            if let Row::Point(point) = row {
                check_bands(point.bands.as_ref().unwrap());
                assert!(point.sensitivity.is_none());
                rpm = point.rpm.to_string();
            }
        }
        let point = ["point", "--sensitivity", "--rpm", &rpm];
        let point = Scratch::new().run(&[&point[..], &arguments].concat());
        let point: Point =
            serde_json::from_str(&point.out).unwrap_or_else(|e| panic!("{build}: {e}"));
        check_bands(point.bands.as_ref().unwrap());
        let rows = point.sensitivity.unwrap();
        assert_eq!(rows.len(), 10, "{build}");
        for row in &rows {
            assert!(!row.key.is_empty() && !row.written.is_empty());
            assert!(["+1 %", "-1 %", "+1 K", "-1 K", "+1 u", "-1 u"].contains(&row.step.as_str()));
            assert!(
                row.importance
                    .is_none_or(|size| size.is_finite() && size >= 0.0)
            );
            let changes = &row.changes;
            let all = [
                changes.air_mass_flow_kg_s,
                changes.manifold_pressure_pa,
                changes.boost_pa,
                changes.brake_power_w,
                changes.exhaust_temperature_k,
                changes.drive_pressure_pa,
                changes.surge_margin,
            ];
            assert!(row.importance.is_none() || all[0].is_some(), "{row:?}");
            assert_finite(&row.key, &all.map(|change| change.unwrap_or(0.0)));
            assert!(row.remarks.iter().all(|remark| !remark.is_empty()));
        }
    }
}

#[test]
fn a_line_has_the_keys_of_the_contract_and_no_other() {
    for build in BUILDS {
        let text = output(&["line"], build, "json");
        let line: Line = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{build}: {e}"));
        assert!(line.caution.starts_with(CAUTION) && !line.title.is_empty());
        check_events(&line.events, &line.hysteresis);
        for hand_over in &line.hand_over {
            assert!(["to_turbo", "to_supercharger"].contains(&hand_over.direction.as_str()));
            assert!(hand_over.rpm > 0.0);
        }
        let mut last = 0.0;
        for row in &line.points {
            let rpm = match row {
                Row::Point(point) => {
                    assert!(point.title.is_none() && point.caution.is_none());
                    assert!(point.defaults.is_none());
                    check_point(point);
                    point.rpm
                }
                Row::Failed(failed) => panic!("{build}: {failed:?}"),
            };
            assert!(rpm > last, "{build}: rising in speed");
            last = rpm;
        }
        line.findings.iter().for_each(check_finding);
        assert!(line.summary.is_none() && line.variants.is_none());
    }
}

#[test]
fn lines_beside_have_a_title_settings_figures_and_a_line_of_their_own() {
    for build in ["", "builds/single_turbo.toml", "builds/single_roots.toml"] {
        let command = ["line", "--beside", "high: site.altitude=2000 m"];
        let text = output(&command, build, "json");
        assert_no_null(build, &serde_json::from_str(&text).unwrap());
        let line: Line = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{build}: {e}"));
        let variants = line.variants.expect("they were asked for");
        assert_eq!(variants.len(), 1);
        check_summary(&line.summary.expect("it stands beside others"));
        for one in &variants {
            assert_eq!(one.title, "high");
            assert_eq!(one.settings, ["site.altitude=2000 m"]);
            check_summary(&one.summary);
            assert!(one.hand_over.iter().all(|hand_over| hand_over.rpm > 0.0));
            check_events(&one.events, &one.hysteresis);
            for row in &one.points {
                let Row::Point(point) = row else {
                    panic!("{build}: {row:?}")
                };
                check_point(point);
            }
            one.findings.iter().for_each(check_finding);
        }
    }
}

fn check_summary(summary: &Summary) {
    let pairs = [
        (summary.surge_margin, summary.surge_margin_rpm),
        (summary.choke_margin, summary.choke_margin_rpm),
        (
            summary.highest_shaft_speed_rpm,
            summary.highest_shaft_speed_engine_rpm,
        ),
        (summary.largest_boost_pa, summary.largest_boost_rpm),
        (
            summary.largest_brake_power_w,
            summary.largest_brake_power_rpm,
        ),
        (summary.largest_torque_n_m, summary.largest_torque_rpm),
        (summary.hottest_charge_k, summary.hottest_charge_rpm),
        (summary.hottest_exhaust_k, summary.hottest_exhaust_rpm),
    ];
    for (value, rpm) in pairs {
        assert_eq!(value.is_some(), rpm.is_some(), "{summary:?}");
        assert!(value.is_none_or(f64::is_finite) && rpm.is_none_or(|rpm| rpm > 0.0));
    }
    assert_eq!(
        summary.surge_margin.is_some(),
        summary.surge_margin_stage.is_some()
    );
    assert_eq!(
        summary.choke_margin.is_some(),
        summary.choke_margin_stage.is_some()
    );
    assert!(summary.largest_boost_pa.is_some());
}

#[test]
fn a_point_is_one_object_with_title_and_caution() {
    for build in BUILDS {
        let text = output(&["point", "--rpm", "1900"], build, "json");
        let point: Point = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{build}: {e}"));
        assert!(point.title.as_ref().is_some_and(|title| !title.is_empty()));
        assert!(
            point
                .caution
                .as_ref()
                .is_some_and(|words| words.starts_with(CAUTION))
        );
        let defaults = point.defaults.as_ref().expect("a list, if empty");
        for (at, taken) in defaults.iter().enumerate() {
            assert!(
                !taken.value.is_empty() && !taken.source.is_empty(),
                "{taken:?}"
            );
            let again = defaults[..at].iter().any(|other| other.key == taken.key);
            assert!(!again, "{} is listed twice", taken.key);
        }
        check_point(&point);
    }
}

#[test]
fn a_row_without_a_match_has_its_speed_and_the_reason_alone() {
    let set = [
        "--set",
        "turbine.wastegate=",
        "--set",
        "turbine.effective_area=2 cm2",
    ];
    let text = output(&[&["line"], &set[..]].concat(), "", "json");
    let line: Line = serde_json::from_str(&text).unwrap();
    let failed: Vec<&Failed> = line
        .points
        .iter()
        .filter_map(|row| match row {
            Row::Failed(failed) => Some(failed),
            Row::Point(_) => None,
        })
        .collect();
    assert!(!failed.is_empty());
    assert!(
        failed
            .iter()
            .all(|row| row.rpm > 0.0 && !row.error.is_empty())
    );
}

#[test]
fn nothing_is_ever_null() {
    for build in BUILDS {
        for command in [&["line"][..], &["point", "--rpm", "1900"]] {
            let value: Value = serde_json::from_str(&output(command, build, "json")).unwrap();
            assert_no_null(build, &value);
        }
    }
}

fn assert_no_null(place: &str, value: &Value) {
    match value {
        Value::Null => panic!("{place} is null"),
        Value::Array(items) => items.iter().for_each(|item| assert_no_null(place, item)),
        Value::Object(entries) => {
            for (key, item) in entries {
                let unit_ends = key
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
                assert!(unit_ends, "{key} is not in snake case");
                assert_no_null(&format!("{place}.{key}"), item);
            }
        }
        _ => {}
    }
}

/// The value at a column: dots go down, a list is searched by name with spaces for underscores.
fn at_path<'a>(point: &'a Value, column: &str) -> Option<&'a Value> {
    column
        .split('.')
        .try_fold(point, |value, step| match value {
            Value::Array(items) => items.iter().find(|item| {
                item["name"]
                    .as_str()
                    .is_some_and(|name| name.replace(' ', "_") == step)
            }),
            other => other.get(step),
        })
}

/// How many numbers and texts a point has outside names and findings.
fn leaves(value: &Value) -> usize {
    match value {
        Value::Object(entries) => entries
            .iter()
            .filter(|(key, _)| !["name", "findings"].contains(&key.as_str()))
            .map(|(_, item)| leaves(item))
            .sum(),
        Value::Array(items) => items.iter().map(leaves).sum(),
        _ => 1,
    }
}

#[test]
fn a_csv_column_is_the_json_path_and_every_cell_the_json_number() {
    for build in BUILDS {
        let json: Value = serde_json::from_str(&output(&["line"], build, "json")).unwrap();
        let text = output(&["line"], build, "csv");
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let columns = reader.headers().unwrap().clone();
        let points = json["points"].as_array().unwrap();
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), points.len(), "{build}");
        for (row, point) in rows.iter().zip(points) {
            let mut filled = 0;
            for (column, cell) in columns.iter().zip(row) {
                match at_path(point, column) {
                    Some(Value::Number(number)) => {
                        let shown: f64 = cell.parse().unwrap();
                        let right = number.as_f64().unwrap();
                        // The JSON crate reads to the last bits but two.
                        let apart = (shown - right).abs();
                        assert!(apart <= 4.0 * f64::EPSILON * right.abs(), "{column}");
                    }
                    Some(Value::String(text)) => assert_eq!(cell, text),
                    Some(Value::Bool(flag)) => assert_eq!(cell, flag.to_string()),
                    None => assert_eq!(cell, "", "{column}"),
                    Some(other) => panic!("{column}: {other}"),
                }
                filled += usize::from(!cell.is_empty());
            }
            assert_eq!(
                filled,
                leaves(point),
                "{build}: a number of the JSON has no column"
            );
        }
    }
}
