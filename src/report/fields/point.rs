//! One match.

use super::balance::Other;
use super::default::DefaultUsed;
use super::field::NotFinite;
use super::finding::{PlacedFinding, Worst};
use super::fuel::is_known;
use super::inner::Writable;
use super::named::{Named, Station, named};
use super::power::power_items;
use super::rows::{fields, filled};
use super::uncertainty::{BandsOfMatch, Sensitivity};
use crate::matching::{
    CoolerState, Layout, Match, StageState, StationPlace, StationState, TurbineState,
};
use crate::report::caution::CAUTION;

/// One match with what was found about it.
#[derive(Debug, Clone)]
pub struct Point {
    /// Names of its places.
    pub layout: Layout,
    /// The match.
    pub found: Match,
    /// Per cent of manifold pressure per per cent of fuel.
    pub steepness: Option<f64>,
    /// What was found against the limits, worst first.
    pub findings: Vec<PlacedFinding>,
    /// Bands from the uncertain inputs, where they were asked for.
    pub bands: Option<BandsOfMatch>,
    /// What a step of each of the most important inputs does, where that was asked for.
    pub sensitivity: Option<Vec<Sensitivity>>,
}

/// `point`: one match with its title.
#[derive(Debug, Clone)]
pub struct PointReport {
    /// Title of the build.
    pub title: String,
    /// What the build does not give.
    pub defaults: Vec<DefaultUsed>,
    /// The match.
    pub point: Point,
}

fields! {
PointReport {
    title = text "title",
        "Title of the build." |r| r.title.clone();
    caution = text "caution",
        "The safety words." |_r| CAUTION;
    defaults = each "defaults",
        "Values that the build does not give and that were used." |r| &r.defaults;
    point = flat "point",
        "The match." |r| r.point.clone();
}

Point {
    rpm = RotationalSpeed "engine",
        "Engine speed." |p| p.found.rpm;
    air_mass_flow_kg_s = MassFlow "air",
        "Flow of moist air: volumetric efficiency times manifold density times swept flow."
        |p| p.found.air_mass_flow;
    fuel_mass_flow_kg_s ? FuelFlow "fuel",
        "Fuel flow." |p| p.found.fuel_mass_flow;
    air_fuel_ratio ? Number "air-fuel ratio (dry air)",
        "Mass of dry air per mass of fuel." |p| p.found.air_fuel_ratio;
    lambda ? Number "lambda",
        "Air-fuel ratio over the stoichiometric one; below 1 is rich." |p| p.found.lambda;
    stations = many "stations",
        "The places between the parts, in flow order." |p| p.stations();
    stages = many "stages",
        "The parts that compress, in flow order." |p| p.stages();
    coolers = many "coolers",
        "The charge coolers, in flow order." |p| p.coolers();
    engine = one "engine",
        "Breathing, power and pressures of the engine." |p| p.found.engine;
    power ? many "where the power goes",
        "From the gas to the crank, where all of it is known: the items before the last add up to it."
        |p| filled(power_items(&p.found.engine));
    cylinder ? one "cylinder",
        "Pressures in the cylinder and what they do to the head." |p| p.found.engine.cylinder;
    fuel ? one "fuel delivery",
        "How the fuel is delivered." |p| p.found.fuel.filter(is_known);
    turbines = many "turbines",
        "The turbines, in exhaust order." |p| p.turbines();
    residuals = one "residuals",
        "What the solver left of each balance, relative." |p| p.found.residuals;
    steepness ? Number "steepness (% boost per % fuel)",
        "Per cent of manifold pressure per per cent of fuel." |p| p.steepness;
    second ? one "second stable balance",
        "A second state in which the engine could run at this speed."
        |p| p.others().into_iter().next();
    further ? many "further stable balances",
        "Stable balances beyond the second."
        |p| filled(p.others().split_off(1.min(p.found.others.len())));
    worst_finding ? one "worst finding",
        "The worst of the findings, where one is not ok." |p| Worst::of(&p.findings);
    findings = each "findings",
        "What was checked against its limit, worst first." |p| &p.findings;
    bands ? one "bands",
        "Bands of the results from the uncertain inputs." |p| p.bands.clone();
    sensitivity ? each "sensitivity",
        "What a step of each of the most important inputs does." |p| p.sensitivity.as_deref();
}
}

impl Point {
    /// A match with its findings. Refuses what is not a finite number.
    pub fn new(
        layout: &Layout,
        found: &Match,
        steepness: Option<f64>,
        findings: Vec<PlacedFinding>,
    ) -> Result<Self, NotFinite> {
        let point = Self {
            layout: layout.clone(),
            found: found.clone(),
            steepness,
            findings,
            bands: None,
            sensitivity: None,
        };
        point.checked()?;
        Ok(point)
    }

    /// Refuses what is not a finite number, before any of it is shown.
    pub fn checked(&self) -> Result<(), NotFinite> {
        self.object().map(|_| ())
    }

    /// The stations with their names.
    pub fn stations(&self) -> Vec<Station> {
        let ambient = self.ambient();
        let named = self.layout.stations.iter().zip(&self.found.stations);
        named
            .map(|(station, state)| Station {
                name: station.name.clone(),
                state: *state,
                ambient,
            })
            .collect()
    }

    /// The stages with their names.
    pub fn stages(&self) -> Vec<Named<StageState>> {
        named(
            self.layout.stages.iter().map(|(name, _)| name),
            &self.found.stages,
        )
    }

    /// The coolers with their names.
    pub fn coolers(&self) -> Vec<Named<CoolerState>> {
        named(
            self.layout.coolers.iter().map(|(name, _)| name),
            &self.found.coolers,
        )
    }

    /// The turbines with their names.
    pub fn turbines(&self) -> Vec<Named<TurbineState>> {
        named(self.layout.turbines.iter(), &self.found.turbines)
    }

    /// The other stable balances.
    pub fn others(&self) -> Vec<Other> {
        let ambient = self.ambient();
        let others = self.found.others.iter();
        others
            .map(|balance| Other {
                balance: *balance,
                ambient,
            })
            .collect()
    }

    /// The state at a place, where the layout has it.
    pub fn at(&self, place: StationPlace) -> Option<&StationState> {
        self.found.station(&self.layout, place)
    }

    /// Pressure of the air outside, Pa.
    pub fn ambient(&self) -> f64 {
        self.at(StationPlace::Ambient)
            .map_or(0.0, |site| site.pressure)
    }

    /// Manifold pressure above the site's, Pa.
    pub fn boost(&self) -> f64 {
        let manifold = self.at(StationPlace::Manifold);
        manifold.map_or(0.0, |manifold| manifold.pressure) - self.ambient()
    }
}
