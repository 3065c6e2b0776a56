//! What the boost costs, as every writer sees it: where the power goes, pressures in the cylinder, the
//! head, the belt, the fuel's delivery, and what was taken as usual.

use serde::Serialize;

use crate::air_path::BeltLoad;
use crate::engine::{CylinderState, PeakBasis, Spread};
use crate::finding::{Basis, Finding, Measure};
use crate::input::Taken;
use crate::matching::{EngineState, FuelState, Match};
use crate::quantity::UnitSystem;
use crate::report::words;

/// One item of where the power goes.
#[derive(Debug, Clone, Serialize)]
pub struct PowerItemView {
    /// `gross indicated`, `pumping`, `friction`, `supercharger drive` or `brake`.
    pub name: &'static str,
    /// What it adds, negative where it takes.
    pub power_w: f64,
    /// Over the gross indicated power.
    pub share: f64,
}

/// Pressures in the cylinder and what they do to the head, each from what is likely at least to
/// what is likely at most.
#[derive(Debug, Clone, Serialize)]
pub struct CylinderView {
    /// At the end of compression.
    pub compression_pressure_low_pa: f64,
    /// The same, the most.
    pub compression_pressure_high_pa: f64,
    /// At the end of compression.
    pub compression_temperature_low_k: f64,
    /// The same, the most.
    pub compression_temperature_high_k: f64,
    /// Whether the force is that of the estimated peak or of the build's limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gas_force_from: Option<&'static str>,
    /// On the head of one cylinder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gas_force_low_n: Option<f64>,
    /// The same, the most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gas_force_high_n: Option<f64>,
    /// Of the studs at one cylinder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp_force_low_n: Option<f64>,
    /// The same, the most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp_force_high_n: Option<f64>,
    /// Clamp over gas force, less one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp_margin_low: Option<f64>,
    /// The same, the most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp_margin_high: Option<f64>,
    /// Compression ratio of an unblown engine as near to knocking.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equivalent_compression_ratio: Option<f64>,
}

/// What a supercharger's belt bears.
#[derive(Debug, Clone, Serialize)]
pub struct BeltView {
    /// Of the belt.
    pub speed_m_s: f64,
    /// Effective pull.
    pub effective_pull_n: f64,
    /// Tight side.
    pub tight_tension_n: f64,
    /// Slack side, the least that carries the pull.
    pub slack_tension_n: f64,
    /// On the supercharger's shaft.
    pub shaft_pull_n: f64,
}

/// How the fuel is delivered.
#[derive(Debug, Clone, Serialize)]
pub struct FuelView {
    /// Per cylinder and working cycle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_stroke_kg: Option<f64>,
    /// The same as a volume.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_stroke_m3: Option<f64>,
    /// Share of the time that the injectors stand open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub injector_duty: Option<f64>,
    /// Share that evaporates ahead of the valves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub evaporated_share: Option<f64>,
    /// Part of the charge's moles that is vapour.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vapour_mole_fraction: Option<f64>,
    /// How far that cools the charge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charge_cooling_k: Option<f64>,
}

/// A value that the build does not give.
#[derive(Debug, Clone, Serialize)]
pub struct DefaultView {
    /// Its dotted key.
    pub key: String,
    /// What was taken, in words.
    pub value: String,
    /// Where that comes from.
    pub source: &'static str,
}

/// Where the power goes; empty where part of it is unknown.
pub(super) fn power(found: &Match) -> Vec<PowerItemView> {
    let engine = &found.engine;
    let known = (
        engine.gross_indicated_power,
        engine.pumping_power,
        engine.friction_power,
        engine.drive_power,
        engine.brake_power,
    );
    let (Some(gross), Some(pumping), Some(friction), Some(drive), Some(brake)) = known else {
        return Vec::new();
    };
    let item = |name, power_w| PowerItemView {
        name,
        power_w,
        share: power_w / gross,
    };
    vec![
        item("gross indicated", gross),
        item("pumping", pumping),
        item("friction", -friction),
        item("supercharger drive", 0.0 - drive),
        item("brake", brake),
    ]
}

/// The peak pressure's spread, where it is an estimate and not the limit that stands in for one.
pub(super) fn estimated_peak(engine: &EngineState) -> Option<Spread> {
    let (peak, basis) = engine.cylinder?.peak?;
    (basis == PeakBasis::RiseRatio).then_some(peak)
}

impl CylinderView {
    pub(super) fn new(state: &CylinderState) -> Self {
        let (low, high) = (|s: Spread| s.low, |s: Spread| s.high);
        let basis = state.peak.map(|(_, basis)| match basis {
            PeakBasis::RiseRatio => "estimated peak pressure",
            PeakBasis::Limit => "max_cylinder_pressure",
        });
        Self {
            compression_pressure_low_pa: state.compression_pressure.low,
            compression_pressure_high_pa: state.compression_pressure.high,
            compression_temperature_low_k: state.compression_temperature.low,
            compression_temperature_high_k: state.compression_temperature.high,
            gas_force_from: basis.filter(|_| state.gas_force.is_some()),
            gas_force_low_n: state.gas_force.map(low),
            gas_force_high_n: state.gas_force.map(high),
            clamp_force_low_n: state.clamp_force.map(low),
            clamp_force_high_n: state.clamp_force.map(high),
            clamp_margin_low: state.clamp_margin.map(low),
            clamp_margin_high: state.clamp_margin.map(high),
            equivalent_compression_ratio: state.equivalent_compression_ratio,
        }
    }
}

impl BeltView {
    pub(super) fn new(load: &BeltLoad) -> Self {
        Self {
            speed_m_s: load.speed,
            effective_pull_n: load.effective_pull,
            tight_tension_n: load.tight,
            slack_tension_n: load.slack,
            shaft_pull_n: load.shaft_pull,
        }
    }
}

impl FuelView {
    /// `None` where nothing beside the flow is known.
    pub(super) fn new(state: &FuelState) -> Option<Self> {
        let view = Self {
            per_stroke_kg: state.per_stroke,
            per_stroke_m3: state.volume_per_stroke,
            injector_duty: state.injector_duty,
            evaporated_share: state.evaporated.map(|there| there.share),
            vapour_mole_fraction: state.evaporated.map(|there| there.vapour_fraction),
            charge_cooling_k: state.charge_cooling,
        };
        let is_empty = view.per_stroke_kg.is_none()
            && view.injector_duty.is_none()
            && view.evaporated_share.is_none();
        (!is_empty).then_some(view)
    }
}

/// What was taken because the build does not give it, and the rules of thumb that stood in for limits,
/// each once, in the reader's units.
pub fn defaults(taken: &[Taken], findings: &[Finding], system: UnitSystem) -> Vec<DefaultView> {
    let mut list: Vec<DefaultView> = taken
        .iter()
        .map(|one| DefaultView::new(one, system))
        .collect();
    for rule in findings
        .iter()
        .filter_map(|one| DefaultView::of_rule(one, system))
    {
        if list.iter().all(|known| known.key != rule.key) {
            list.push(rule);
        }
    }
    list
}

impl DefaultView {
    /// The view of a rule of thumb that stood in for a limit; `None` where the finding is held
    /// against something else.
    fn of_rule(finding: &Finding, system: UnitSystem) -> Option<Self> {
        if finding.basis != Basis::CommonPractice {
            return None;
        }
        let limit = finding.limit?;
        let value = match finding.measure() {
            Measure::Ratio => format!("{limit}"),
            measure => words::with_unit(limit, words::kind(measure), system),
        };
        Some(Self {
            key: words::limit_name(finding.code).to_owned(),
            value,
            source: "common practice",
        })
    }

    /// The view of a value taken.
    fn new(taken: &Taken, system: UnitSystem) -> Self {
        Self {
            key: taken.key.clone(),
            value: taken.value.in_units(system),
            source: taken.source,
        }
    }
}
