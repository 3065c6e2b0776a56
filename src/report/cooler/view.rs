//! A cooler as every writer sees it. SI; what does not exist is left out.

use serde::Serialize;

use super::run_view::RunView;
use super::size_view::{DepthsView, SizeView};
use crate::matching::{Layout, MatchError};
use crate::quantity::Words;
use crate::report::caution;
use crate::report::view::FindingView;
use crate::report::words::match_error;
use crate::study::cooler::{Assessment, CoolerPoint, EngineSide, Knob, SizeNeeded, Verdict};

/// `cooler` as JSON.
#[derive(Debug, Clone, Serialize)]
pub struct CoolerReport {
    /// Title of the build.
    pub title: String,
    /// The safety words.
    pub caution: &'static str,
    /// The cooler's name.
    pub cooler: String,
    /// Names of the build's other coolers.
    pub other_coolers: Vec<String>,
    /// What takes the heat: `air` or `water`.
    pub sink: &'static str,
    /// What it is held against.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub target: Option<TargetView>,
    /// Where it takes the most heat.
    pub hardest: CoolerPointView,
    /// Where the charge reaches the engine hottest.
    pub hottest: CoolerPointView,
    /// What would just do over the whole line, each changed alone.
    pub sizes: Vec<SizeView>,
    /// Density gain against pressure drop over the core's depth.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depths: Option<DepthsView>,
    /// The speeds of the line.
    pub points: Vec<CoolerRowView>,
    /// The timed run.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub run: Option<RunView>,
    /// What was found about this cooler along the line.
    pub findings: Vec<FindingView>,
}

/// A cooler against the charge temperature that must not be passed.
#[derive(Debug, Clone, Serialize)]
pub struct TargetView {
    /// In the manifold.
    pub charge_temperature_k: f64,
    /// `max_charge_temperature` or `--target`.
    pub from: &'static str,
    /// `enough`, `short`, `out of reach`, or `better without` where it warms the charge and the
    /// target is kept without it.
    pub verdict: &'static str,
    /// Missing share of the effectiveness needed, where it is short.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short_by: Option<f64>,
    /// Share of its effectiveness that it could do without, where it is enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_spare: Option<f64>,
    /// Speeds of the line at which it is passed.
    pub points_over: usize,
}

/// A row of the line.
#[derive(Debug, Clone, Serialize)]
#[serde(untagged)]
pub enum CoolerRowView {
    /// A match.
    Point(Box<CoolerPointView>),
    /// No match.
    Error {
        /// Engine speed.
        rpm: f64,
        /// Why.
        error: Words,
    },
}

/// The cooler at one speed.
#[derive(Debug, Clone, Serialize)]
pub struct CoolerPointView {
    /// Engine speed.
    pub rpm: f64,
    /// Of the charge side.
    pub effectiveness: f64,
    /// Heat over the most that the smaller capacity flow could take.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat_effectiveness: Option<f64>,
    /// UA over the smaller capacity flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ntu: Option<f64>,
    /// UA.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conductance_w_k: Option<f64>,
    /// Smaller over larger capacity flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capacity_ratio: Option<f64>,
    /// The least UA that gives the effectiveness: that of a sink that does not warm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_conductance_w_k: Option<f64>,
    /// Its transfer units.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_ntu: Option<f64>,
    /// Heat taken from the charge.
    pub heat_w: f64,
    /// Of the charge ahead of the cooler.
    pub inlet_temperature_k: f64,
    /// Of the charge behind it.
    pub outlet_temperature_k: f64,
    /// Of what takes the heat, where it enters.
    pub sink_inlet_temperature_k: f64,
    /// Charge behind the cooler above the sink where it enters.
    pub approach_k: f64,
    /// Of the charge.
    pub pressure_drop_pa: f64,
    /// Of what takes the heat, where it leaves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_outlet_temperature_k: Option<f64>,
    /// Flow of what takes the heat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_mass_flow_kg_s: Option<f64>,
    /// Pressure drop of what takes the heat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_pressure_drop_pa: Option<f64>,
    /// Most effectiveness that the two flows allow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow_limit: Option<f64>,
    /// Reynolds number of the charge in a core.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charge_reynolds: Option<f64>,
    /// Reynolds number of what takes the heat in a core.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_reynolds: Option<f64>,
    /// There, and true, where it stands on a correlation that nothing outside was found to check.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unconfirmed: Option<bool>,
    /// Of the charge ahead of the cooler.
    pub inlet_density_kg_m3: f64,
    /// Of the charge behind it.
    pub outlet_density_kg_m3: f64,
    /// Behind over ahead, the pressure drop included.
    pub density_gain: f64,
    /// What it would be without the pressure drop.
    pub density_gain_without_drop: f64,
    /// The engine with the cooler.
    #[serde(flatten)]
    pub engine: EngineSideView,
    /// The engine matched anew without the cooler.
    pub without: WithoutView,
    /// More air through the cooler, a share.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub air_gain: Option<f64>,
    /// More brake power through the cooler.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_gain_w: Option<f64>,
}

/// What the engine gets.
#[derive(Debug, Clone, Serialize)]
pub struct EngineSideView {
    /// Flow of moist air.
    pub air_mass_flow_kg_s: f64,
    /// In the manifold.
    pub charge_temperature_k: f64,
    /// Absolute, in the manifold.
    pub manifold_pressure_pa: f64,
    /// In the manifold.
    pub manifold_density_kg_m3: f64,
    /// Brake power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_w: Option<f64>,
}

/// The engine without the cooler, or why it has no match then.
#[derive(Debug, Clone, Serialize)]
#[serde(untagged)]
pub enum WithoutView {
    /// A match.
    Engine(EngineSideView),
    /// No match.
    Error {
        /// Why.
        error: Words,
    },
}

/// What the caller knows: where the target came from, and what cools.
#[derive(Debug, Clone, Copy)]
pub struct Source {
    /// `max_charge_temperature` or `--target`.
    pub target_from: &'static str,
    /// `air` or `water`.
    pub sink: &'static str,
}

impl CoolerReport {
    /// The report of an assessed cooler.
    pub fn new(
        title: &str,
        layout: &Layout,
        assessment: &Assessment,
        source: Source,
        findings: Vec<FindingView>,
        run: Option<RunView>,
    ) -> Self {
        let names = || layout.coolers.iter().map(|(name, _)| name.clone());
        let is_other = |(place, name)| (place != assessment.cooler).then_some(name);
        let verdict = assessment.verdict.as_ref();
        Self {
            title: title.to_owned(),
            caution: caution::CAUTION,
            cooler: names().nth(assessment.cooler).unwrap_or_default(),
            other_coolers: names().enumerate().filter_map(is_other).collect(),
            sink: source.sink,
            target: verdict.map(|verdict| TargetView::new(verdict, source.target_from)),
            hardest: CoolerPointView::new(&assessment.hardest),
            hottest: CoolerPointView::new(&assessment.hottest),
            sizes: verdict
                .map(|verdict| {
                    let face = assessment.core.map(|(face, _)| face);
                    let sizes = verdict.sizes.iter();
                    sizes.map(|size| SizeView::new(size, face)).collect()
                })
                .unwrap_or_default(),
            depths: assessment
                .depths
                .as_ref()
                .map(|depths| DepthsView::new(depths, assessment)),
            points: assessment.points.iter().map(CoolerRowView::new).collect(),
            run,
            findings,
        }
    }
}

impl TargetView {
    fn new(verdict: &Verdict, from: &'static str) -> Self {
        let effectiveness = verdict.size(Knob::Effectiveness);
        Self {
            charge_temperature_k: verdict.target,
            from,
            verdict: match (verdict.is_enough(), effectiveness.map(|size| size.answer)) {
                (true, _) => "enough",
                (false, Some(SizeNeeded::OutOfReach { .. })) => "out of reach",
                (false, Some(SizeNeeded::Nothing)) => "better without",
                (false, _) => "short",
            },
            short_by: verdict.short_by,
            to_spare: verdict.to_spare,
            points_over: verdict.points_over,
        }
    }
}

impl CoolerRowView {
    fn new(point: &Result<CoolerPoint, (f64, MatchError)>) -> Self {
        match point {
            Ok(point) => Self::Point(Box::new(CoolerPointView::new(point))),
            Err((rpm, fault)) => Self::Error {
                rpm: *rpm,
                error: match_error(fault),
            },
        }
    }
}

impl CoolerPointView {
    fn new(point: &CoolerPoint) -> Self {
        let state = &point.state;
        let exchanger = state.exchanger.as_ref();
        let least = point.least_size();
        Self {
            rpm: point.rpm,
            effectiveness: state.effectiveness,
            heat_effectiveness: exchanger.map(|one| one.heat_effectiveness),
            ntu: exchanger.map(|one| one.transfer_units),
            conductance_w_k: exchanger.map(|one| one.conductance),
            capacity_ratio: exchanger.map(|one| one.capacity_ratio),
            least_conductance_w_k: least.map(|(conductance, _)| conductance),
            least_ntu: least.map(|(_, units)| units),
            heat_w: state.heat,
            inlet_temperature_k: state.inlet_temperature,
            outlet_temperature_k: state.outlet_temperature,
            sink_inlet_temperature_k: state.sink_temperature,
            approach_k: point.approach(),
            pressure_drop_pa: state.pressure_drop,
            sink_outlet_temperature_k: exchanger.map(|one| one.sink_outlet_temperature),
            sink_mass_flow_kg_s: exchanger.map(|one| one.sink_flow),
            sink_pressure_drop_pa: exchanger.and_then(|one| one.sink_pressure_drop),
            flow_limit: state.flow_limit,
            charge_reynolds: exchanger.and_then(|one| one.reynolds).map(|both| both.0),
            sink_reynolds: exchanger.and_then(|one| one.reynolds).map(|both| both.1),
            unconfirmed: state.unconfirmed.then_some(true),
            inlet_density_kg_m3: point.inlet_density,
            outlet_density_kg_m3: point.outlet_density,
            density_gain: state.density_gain,
            density_gain_without_drop: point.density_gain_without_drop(),
            engine: EngineSideView::new(&point.engine),
            without: match &point.without {
                Ok(engine) => WithoutView::Engine(EngineSideView::new(engine)),
                Err(fault) => WithoutView::Error {
                    error: match_error(fault),
                },
            },
            air_gain: point.air_gain(),
            brake_power_gain_w: point.power_gain(),
        }
    }
}

impl EngineSideView {
    fn new(engine: &EngineSide) -> Self {
        Self {
            air_mass_flow_kg_s: engine.air_mass_flow,
            charge_temperature_k: engine.charge_temperature,
            manifold_pressure_pa: engine.manifold_pressure,
            manifold_density_kg_m3: engine.manifold_density,
            brake_power_w: engine.brake_power,
        }
    }
}
