//! `cooler`: one charge cooler over the line.

use super::cooler_depth::DepthStudy;
use super::cooler_run::TimedRun;
use super::cooler_size::NeededSize;
use super::finding::PlacedFinding;
use super::rows::fields;
use crate::matching::MatchError;
use crate::report::caution::CAUTION;
use crate::report::words::match_error;
use crate::study::cooler::{Assessment, CoolerPoint, EngineSide, Knob, SizeNeeded, Verdict};

/// A cooler along the line, against its target, and over a timed run.
#[derive(Debug)]
pub struct CoolerReport {
    /// Title of the build.
    pub title: String,
    /// The names of the build's coolers.
    pub coolers: Vec<String>,
    /// What takes the heat: `air` or `water`.
    pub sink: &'static str,
    /// Where the target came from: `max_charge_temperature` or `--target`.
    pub target_from: &'static str,
    /// The cooler along the line.
    pub assessment: Assessment,
    /// The timed run.
    pub run: Option<TimedRun>,
    /// What was found about this cooler along the line.
    pub findings: Vec<PlacedFinding>,
}

/// A cooler against the charge temperature that must not be passed.
#[derive(Debug, Clone)]
pub struct Target {
    /// The verdict.
    pub verdict: Verdict,
    /// `max_charge_temperature` or `--target`.
    pub from: &'static str,
}

fields! {
CoolerReport {
    title = text "title",
        "Title of the build." |r| r.title.clone();
    caution = text "caution",
        "The safety words." |_r| CAUTION;
    cooler = text "cooler",
        "Name of the cooler." |r| r.cooler();
    other_coolers = texts "other coolers",
        "Names of the build's other coolers." |r| r.other_coolers();
    sink = text "cooled by",
        "What carries the heat away: air or water." |r| r.sink;
    target ? one "target",
        "The charge temperature that must not be exceeded, and the verdict." |r| r.target();
    hardest = one "most heat",
        "The speed at which the cooler takes the most heat." |r| r.assessment.hardest.clone();
    hottest = one "hottest charge",
        "The speed at which the charge reaches the engine hottest."
        |r| r.assessment.hottest.clone();
    sizes = many "sizes",
        "Sizes that just meet the target at every speed, one change at a time, engine re-solved."
        |r| r.sizes();
    depths ? one "core depth",
        "Density gain against pressure drop over the depth of the core." |r| r.depths();
    points = each "points",
        "The speeds of the line, or why there is no match." |r| &r.assessment.points;
    run ? one "timed run",
        "The timed run." |r| r.run.clone();
    findings = each "findings",
        "What was found about this cooler along the line." |r| &r.findings;
}

Target {
    charge_temperature_k = Temperature "target",
        "Charge temperature in the manifold that must not be exceeded." |t| t.verdict.target;
    from = text "from",
        "max_charge_temperature or --target." |t| t.from;
    verdict = text "verdict",
        "enough, short, out of reach, or better without where it warms the charge." |t| t.word();
    short_by ? Share "short by",
        "Missing share of the effectiveness needed, where it is short." |t| t.verdict.short_by;
    to_spare ? Share "to spare",
        "Share of its effectiveness that it could do without, where it is enough."
        |t| t.verdict.to_spare;
    points_over = count "speeds over",
        "Speeds of the line at which the target is exceeded." |t| t.verdict.points_over;
}

(f64, MatchError) {
    rpm = RotationalSpeed "engine speed",
        "Engine speed." |e| e.0;
    error = text "error",
        "Why there is no match." |e| match_error(&e.1).to_string();
}

MatchError {
    error = text "error",
        "Why there is no match." |e| match_error(e).to_string();
}

EngineSide {
    air_mass_flow_kg_s = MassFlow "air",
        "Flow of moist air into the engine." |e| e.air_mass_flow;
    charge_temperature_k = Temperature "charge in the manifold" / "mani-\nfold",
        "Temperature in the manifold." |e| e.charge_temperature;
    manifold_pressure_pa = AbsolutePressure "manifold" / "mani-\nfold",
        "Absolute manifold pressure." |e| e.manifold_pressure;
    manifold_density_kg_m3 = Density "manifold density",
        "Density in the manifold." |e| e.manifold_density;
    brake_power_w ? Power "brake power" / "brake\npower",
        "Brake power." |e| e.brake_power;
}

CoolerPoint {
    rpm = RotationalSpeed "engine",
        "Engine speed." |p| p.rpm;
    effectiveness = Share "effectiveness" / "effec-\ntive-\nness",
        "Of the charge side: (T_in - T_out)/(T_in - T_sink)." |p| p.state.effectiveness;
    heat_effectiveness ? Share "heat effectiveness q/q_max",
        "Heat over the most that the smaller capacity flow could carry (effectiveness-NTU method)."
        |p| Some(p.state.exchanger?.heat_effectiveness);
    ntu ? Number "NTU",
        "Number of transfer units: UA over the smaller capacity flow."
        |p| Some(p.state.exchanger?.transfer_units);
    conductance_w_k ? ThermalConductance "UA",
        "Heat flow per kelvin of mean temperature difference."
        |p| Some(p.state.exchanger?.conductance);
    capacity_ratio ? Number "capacity ratio",
        "Smaller over larger capacity flow (flow times specific heat)."
        |p| Some(p.state.exchanger?.capacity_ratio);
    least_conductance_w_k ? ThermalConductance "UA (minimum)",
        "Smallest UA that gives the effectiveness: for a cooling side that does not warm up."
        |p| Some(p.least_size()?.0);
    least_ntu ? Number "NTU (minimum)",
        "Its transfer units." |p| Some(p.least_size()?.1);
    heat_w = Power "heat rejected" / "heat",
        "Heat taken from the charge." |p| p.state.heat;
    inlet_temperature_k = Temperature "charge in" / "charge\nin",
        "Temperature of the charge at the cooler's inlet." |p| p.state.inlet_temperature;
    outlet_temperature_k = Temperature "charge out" / "charge\nout",
        "Temperature of the charge at the cooler's outlet." |p| p.state.outlet_temperature;
    sink_inlet_temperature_k = Temperature "cooling side in" / "cool-\ning\nside\nin",
        "Temperature of the cooling air or water where it enters." |p| p.state.sink_temperature;
    approach_k = TemperatureDifference "approach: charge out above cooling side in",
        "Charge outlet temperature above the cooling side's inlet temperature." |p| p.approach();
    pressure_drop_pa = PressureDifference "pressure drop of the charge" / "pres-\nsure\ndrop",
        "Pressure that the charge loses in the cooler." |p| p.state.pressure_drop;
    sink_outlet_temperature_k ? Temperature "cooling side out",
        "Temperature of the cooling air or water where it leaves."
        |p| Some(p.state.exchanger?.sink_outlet_temperature);
    sink_mass_flow_kg_s ? MassFlow "cooling side flow",
        "Flow of the cooling air or water." |p| Some(p.state.exchanger?.sink_flow);
    sink_pressure_drop_pa ? PressureDifference "pressure drop of the cooling side",
        "Pressure that the cooling air or water loses." |p| p.state.exchanger?.sink_pressure_drop;
    flow_limit ? Share "maximum for these flows",
        "Largest effectiveness that the two flows allow, with a cooler of any size."
        |p| p.state.flow_limit;
    charge_reynolds ? Number "Reynolds number, charge",
        "Reynolds number of the charge in the core's passages."
        |p| Some(p.state.exchanger?.reynolds?.0);
    sink_reynolds ? Number "Reynolds number, cooling side",
        "Reynolds number of the cooling side in the core's passages."
        |p| Some(p.state.exchanger?.reynolds?.1);
    unconfirmed ? flag "unconfirmed",
        "True where the fins follow a correlation that was not checked against measurements."
        |p| p.state.unconfirmed.then_some(true);
    inlet_density_kg_m3 = Density "density in",
        "Density of the charge at the cooler's inlet." |p| p.inlet_density;
    outlet_density_kg_m3 = Density "density out",
        "Density of the charge at the cooler's outlet." |p| p.outlet_density;
    density_gain = Number "density gain" / "den-\nsity\ngain",
        "Density at the outlet over density at the inlet, the pressure drop included."
        |p| p.state.density_gain;
    density_gain_without_drop = Number "density gain without the pressure drop",
        "What the density gain would be without the pressure drop."
        |p| p.density_gain_without_drop();
    engine = flat "engine",
        "The engine with the cooler." |p| p.engine;
    without = one "without the cooler",
        "The engine re-solved without the cooler, or why it has no match then." |p| p.without;
    air_gain ? Share "more air" / "more\nair",
        "Air flow with the cooler over that without, less one." |p| p.air_gain();
    brake_power_gain_w ? Power "more power" / "more\npower",
        "Brake power with the cooler less that without." |p| p.power_gain();
}
}

impl CoolerReport {
    /// The cooler's name.
    pub fn cooler(&self) -> &str {
        let name = self.coolers.get(self.assessment.cooler);
        name.map_or("", String::as_str)
    }

    /// The names of the build's other coolers.
    pub fn other_coolers(&self) -> Vec<String> {
        let named = self.coolers.iter().enumerate();
        let others = named.filter(|(at, _)| *at != self.assessment.cooler);
        others.map(|(_, name)| name.clone()).collect()
    }

    /// The verdict with where its target came from.
    pub fn target(&self) -> Option<Target> {
        let verdict = self.assessment.verdict.clone()?;
        Some(Target {
            verdict,
            from: self.target_from,
        })
    }

    /// The sizes that just meet the target.
    pub fn sizes(&self) -> Vec<NeededSize> {
        let face = self.assessment.core.map(|(face, _)| face);
        let sizes = self
            .assessment
            .verdict
            .iter()
            .flat_map(|verdict| &verdict.sizes);
        sizes.map(|size| NeededSize { size: *size, face }).collect()
    }

    /// The depths of the core.
    pub fn depths(&self) -> Option<DepthStudy> {
        let depths = self.assessment.depths.clone()?;
        let own = self.assessment.hardest.engine.air_mass_flow;
        let gain = |engine: EngineSide| engine.air_mass_flow / own - 1.0;
        Some(DepthStudy {
            build_depth: self.assessment.core.map(|(_, depth)| depth),
            air_gain: depths.engine.map(gain),
            depths,
        })
    }
}

impl Target {
    /// The verdict in a word.
    pub fn word(&self) -> &'static str {
        let effectiveness = self.verdict.size(Knob::Effectiveness);
        match (
            self.verdict.is_enough(),
            effectiveness.map(|size| size.answer),
        ) {
            (true, _) => "enough",
            (false, Some(SizeNeeded::OutOfReach { .. })) => "out of reach",
            (false, Some(SizeNeeded::Nothing)) => "better without",
            (false, _) => "short",
        }
    }
}
