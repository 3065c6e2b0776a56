//! A result as every writer sees it: the names and numbers of the outside contract, SI throughout.
//! What does not exist is left out, and a number that is not finite is refused here, so that no
//! writer can print one.

mod findings;
mod line;
mod parts;

pub use findings::{FindingView, WorstView};
pub use line::{HandOverView, LineView, RowView};
pub use parts::{
    CoolerView, EngineView, OtherBalanceView, ResidualView, StageView, StationView, TurbineView,
};

use parts::{coolers, engine, stages, stations, turbines};
use serde::Serialize;

use crate::matching::{Layout, Match};
use crate::report::costs_view::{
    self as costs, CylinderView, DefaultView, FuelView, PowerItemView,
};
use crate::report::{BandsView, SensitivityView};

/// A value that is not a finite number was about to be shown.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error(
    "{0} is not a finite number; nothing was written. This is a fault of airpath, not of the build"
)]
pub struct NotFinite(pub String);

/// One match.
#[derive(Debug, Clone, Serialize)]
pub struct PointView {
    /// Engine speed.
    pub rpm: f64,
    /// Flow of moist air.
    pub air_mass_flow_kg_s: f64,
    /// Fuel flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fuel_mass_flow_kg_s: Option<f64>,
    /// Mass of dry air per mass of fuel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub air_fuel_ratio: Option<f64>,
    /// Air–fuel ratio over the stoichiometric one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lambda: Option<f64>,
    /// Stations in flow order.
    pub stations: Vec<StationView>,
    /// Stages in flow order.
    pub stages: Vec<StageView>,
    /// Coolers in flow order.
    pub coolers: Vec<CoolerView>,
    /// The engine.
    pub engine: EngineView,
    /// Where the power goes, where all of it is known: the items before the last add up to it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub power: Vec<PowerItemView>,
    /// Pressures in the cylinder and what they do to the head.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<CylinderView>,
    /// How the fuel is delivered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fuel: Option<FuelView>,
    /// Turbines in exhaust order.
    pub turbines: Vec<TurbineView>,
    /// What is left of the balances.
    pub residuals: ResidualView,
    /// Per cent of manifold pressure per per cent of fuel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steepness: Option<f64>,
    /// A second stable balance at this speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second: Option<OtherBalanceView>,
    /// Stable balances beyond the second.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub further: Vec<OtherBalanceView>,
    /// The worst of the findings, where one is not `ok`: what a table has room for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_finding: Option<WorstView>,
    /// What was found against the limits.
    pub findings: Vec<FindingView>,
    /// Bands from the uncertain inputs, where they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bands: Option<BandsView>,
    /// What a step of each of the most important inputs does, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sensitivity: Option<Vec<SensitivityView>>,
}

/// `point` as JSON: one object.
#[derive(Debug, Clone, Serialize)]
pub struct PointReport {
    /// Title of the build.
    pub title: String,
    /// The safety words.
    pub caution: &'static str,
    /// Values that the build does not give and that were taken as usual.
    pub defaults: Vec<DefaultView>,
    /// The match.
    #[serde(flatten)]
    pub point: PointView,
}

impl PointView {
    /// The view of a match. Refuses what is not a finite number.
    pub fn new(
        layout: &Layout,
        found: &Match,
        steepness: Option<f64>,
        findings: Vec<FindingView>,
    ) -> Result<Self, NotFinite> {
        let view = Self {
            rpm: found.rpm,
            air_mass_flow_kg_s: found.air_mass_flow,
            fuel_mass_flow_kg_s: found.fuel_mass_flow,
            air_fuel_ratio: found.air_fuel_ratio,
            lambda: found.lambda,
            stations: stations(layout, found),
            stages: stages(layout, found),
            coolers: coolers(layout, found),
            engine: engine(found),
            power: costs::power(found),
            cylinder: found.engine.cylinder.as_ref().map(CylinderView::new),
            fuel: found.fuel.as_ref().and_then(FuelView::new),
            turbines: turbines(layout, found),
            residuals: ResidualView {
                flow: found.residuals.flow,
                power: found.residuals.power,
                pressure: found.residuals.pressure,
            },
            steepness,
            second: found
                .others
                .first()
                .map(|one| OtherBalanceView::new(layout, found, one)),
            further: found
                .others
                .iter()
                .skip(1)
                .map(|one| OtherBalanceView::new(layout, found, one))
                .collect(),
            worst_finding: WorstView::of(&findings),
            findings,
            bands: None,
            sensitivity: None,
        };
        super::json::check_finite(&view)?;
        Ok(view)
    }

    /// The same with the bands of its answers. Refuses what is not a finite number.
    pub fn with_bands(self, bands: BandsView) -> Result<Self, NotFinite> {
        super::json::check_finite(&bands)?;
        Ok(Self {
            bands: Some(bands),
            ..self
        })
    }

    /// The same with what a step of each input does. Refuses what is not a finite number.
    pub fn with_sensitivity(self, rows: Vec<SensitivityView>) -> Result<Self, NotFinite> {
        super::json::check_finite(&rows)?;
        Ok(Self {
            sensitivity: Some(rows),
            ..self
        })
    }

    /// The station of this name.
    pub fn station(&self, name: &str) -> Option<&StationView> {
        self.stations.iter().find(|station| station.name == name)
    }
}
