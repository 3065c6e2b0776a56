//! A result as every writer sees it: the names and numbers of the outside contract, SI throughout.
//! What does not exist is left out, and a number that is not finite is refused here, so that no
//! writer can print one.

use serde::Serialize;

use super::beside_view::{SummaryView, VariantView};
use crate::finding::Finding;
use crate::matching::{Drive, Layout, Match};
use crate::quantity::UnitSystem;
use crate::report::costs_view::{
    self as costs, BeltView, CylinderView, DefaultView, FuelView, PowerItemView,
};
use crate::report::words;
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
    /// A further stable equilibrium.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second: Option<SecondView>,
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

/// The worst of a match's findings.
#[derive(Debug, Clone, Serialize)]
pub struct WorstView {
    /// Its fixed word.
    pub code: &'static str,
    /// `near`, `over` or `outside data`.
    pub severity: &'static str,
}

/// One station.
#[derive(Debug, Clone, Serialize)]
pub struct StationView {
    /// Its name.
    pub name: String,
    /// Absolute pressure.
    pub pressure_pa: f64,
    /// Temperature.
    pub temperature_k: f64,
    /// Density.
    pub density_kg_m3: f64,
    /// Mass flow.
    pub mass_flow_kg_s: f64,
}

/// One stage.
#[derive(Debug, Clone, Serialize)]
pub struct StageView {
    /// Its name.
    pub name: String,
    /// `prescribed`, `belt` or `turbine`.
    pub drive: &'static str,
    /// Outlet over inlet pressure.
    pub pressure_ratio: f64,
    /// Isentropic over actual enthalpy rise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency: Option<f64>,
    /// The stage's own flow.
    pub mass_flow_kg_s: f64,
    /// Power given to the air.
    pub power_w: f64,
    /// Power at its shaft.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shaft_power_w: Option<f64>,
    /// Power taken from the crank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crank_power_w: Option<f64>,
    /// Shaft speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_rpm: Option<f64>,
    /// Speed of the rotors' tips.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tip_speed_m_s: Option<f64>,
    /// What its belt bears.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub belt: Option<BeltView>,
    /// Corrected to the map's reference state.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corrected_flow_kg_s: Option<f64>,
    /// Corrected speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corrected_speed_rpm: Option<f64>,
    /// Its share of the total pressure ratio by logarithm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub split_share: Option<f64>,
    /// Share of the flow that passes around it, negative when returned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bypass_share: Option<f64>,
}

/// One charge cooler.
#[derive(Debug, Clone, Serialize)]
pub struct CoolerView {
    /// Its name.
    pub name: String,
    /// Of the charge side.
    pub effectiveness: f64,
    /// Heat taken from the charge.
    pub heat_w: f64,
    /// Pressure drop of the charge.
    pub pressure_drop_pa: f64,
    /// Density at the outlet over density at the inlet.
    pub density_gain: f64,
    /// Of the charge where it enters.
    pub inlet_temperature_k: f64,
    /// Of the charge where it leaves.
    pub outlet_temperature_k: f64,
    /// Of what takes the heat where it enters.
    pub sink_inlet_temperature_k: f64,
    /// Of what takes the heat where it leaves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_outlet_temperature_k: Option<f64>,
    /// Flow of what takes the heat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_mass_flow_kg_s: Option<f64>,
    /// Its pressure drop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_pressure_drop_pa: Option<f64>,
    /// UA over the smaller capacity flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ntu: Option<f64>,
    /// UA.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conductance_w_k: Option<f64>,
    /// Smaller over larger capacity flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capacity_ratio: Option<f64>,
    /// Of the side with the smaller capacity flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat_effectiveness: Option<f64>,
    /// Reynolds number of the charge in a core.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charge_reynolds: Option<f64>,
    /// Reynolds number of what takes the heat in a core.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_reynolds: Option<f64>,
    /// There, and true, where it stands on a correlation that nothing outside was found to check.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unconfirmed: Option<bool>,
}

/// The engine.
#[derive(Debug, Clone, Serialize)]
pub struct EngineView {
    /// As it acts, on manifold density.
    pub volumetric_efficiency: f64,
    /// Brake power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_w: Option<f64>,
    /// Brake torque.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub torque_n_m: Option<f64>,
    /// Brake specific fuel consumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bsfc_g_kwh: Option<f64>,
    /// Peak cylinder pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub peak_cylinder_pressure_pa: Option<f64>,
    /// The least and the most that the peak is likely to be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub peak_cylinder_pressure_low_pa: Option<f64>,
    /// The same, the most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub peak_cylinder_pressure_high_pa: Option<f64>,
    /// Brake mean effective pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_mean_effective_pressure_pa: Option<f64>,
    /// Gross indicated mean effective pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross_indicated_mean_effective_pressure_pa: Option<f64>,
    /// Pumping mean effective pressure, positive when it helps the crank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pumping_mean_effective_pressure_pa: Option<f64>,
    /// Friction mean effective pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub friction_mean_effective_pressure_pa: Option<f64>,
    /// Gross indicated power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross_indicated_power_w: Option<f64>,
    /// Pumping power, positive when it helps the crank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pumping_power_w: Option<f64>,
    /// Friction power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub friction_power_w: Option<f64>,
    /// What drives the superchargers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supercharger_drive_power_w: Option<f64>,
}

/// One turbine.
#[derive(Debug, Clone, Serialize)]
pub struct TurbineView {
    /// Its name.
    pub name: String,
    /// Inlet total over outlet pressure.
    pub expansion_ratio: f64,
    /// Flow through the wheel.
    pub mass_flow_kg_s: f64,
    /// Power of the wheel.
    pub power_w: f64,
    /// Share of the exhaust through the gate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wastegate_share: Option<f64>,
    /// Total to static.
    pub efficiency: f64,
}

/// What is left of the balances, relative.
#[derive(Debug, Clone, Serialize)]
pub struct ResidualView {
    /// Of the flows.
    pub flow: f64,
    /// Of the powers.
    pub power: f64,
    /// Of the pressures.
    pub pressure: f64,
}

/// A further stable equilibrium.
#[derive(Debug, Clone, Serialize)]
pub struct SecondView {
    /// Of the turbo compressor.
    pub pressure_ratio: f64,
    /// Absolute.
    pub manifold_pressure_pa: f64,
    /// Flow of moist air.
    pub air_mass_flow_kg_s: f64,
}

/// A limit checked.
#[derive(Debug, Clone, Serialize)]
pub struct FindingView {
    /// A fixed word.
    pub code: &'static str,
    /// What it is about, in words.
    pub what: String,
    /// The station or stage.
    #[serde(rename = "where", skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Engine speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rpm: Option<f64>,
    /// The value found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The limit it is held against.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
    /// What is left to the limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin: Option<f64>,
    /// Unit of value and limit.
    pub unit: &'static str,
    /// `ok`, `near`, `over`, `outside data`.
    pub severity: &'static str,
    /// The next step.
    pub advice: String,
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

/// `line` as JSON.
#[derive(Debug, Clone, Serialize)]
pub struct LineView {
    /// Title of the build.
    pub title: String,
    /// The safety words.
    pub caution: &'static str,
    /// Where the supercharger's ratio crosses 1.
    pub hand_over: Vec<HandOverView>,
    /// Keys of the inputs that carry an uncertainty.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uncertain_inputs: Vec<String>,
    /// The matches, rising in speed.
    pub points: Vec<RowView>,
    /// What was found along the line, worst first.
    pub findings: Vec<FindingView>,
    /// The line in a few figures, where others stand beside it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub summary: Option<SummaryView>,
    /// The lines beside it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub variants: Vec<VariantView>,
}

/// A hand-over.
#[derive(Debug, Clone, Serialize)]
pub struct HandOverView {
    /// Engine speed.
    pub rpm: f64,
    /// `to_turbo` or `to_supercharger`.
    pub direction: &'static str,
}

/// A row of a line: a match or why there is none.
#[derive(Debug, Clone, Serialize)]
#[serde(untagged)]
pub enum RowView {
    /// A match.
    Point(Box<PointView>),
    /// No match.
    Error {
        /// Engine speed.
        rpm: f64,
        /// Why.
        error: String,
    },
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
            second: found.second.map(|second| SecondView {
                pressure_ratio: second.pressure_ratio,
                manifold_pressure_pa: second.manifold_pressure,
                air_mass_flow_kg_s: second.air_mass_flow,
            }),
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

impl WorstView {
    /// Of findings that stand worst first.
    fn of(findings: &[FindingView]) -> Option<Self> {
        let worst = findings.first().filter(|first| first.severity != "ok")?;
        Some(Self {
            code: worst.code,
            severity: worst.severity,
        })
    }
}

fn stations(layout: &Layout, found: &Match) -> Vec<StationView> {
    let named = layout.stations.iter().zip(&found.stations);
    named
        .map(|(station, state)| StationView {
            name: station.name.clone(),
            pressure_pa: state.pressure,
            temperature_k: state.temperature,
            density_kg_m3: state.density,
            mass_flow_kg_s: state.mass_flow,
        })
        .collect()
}

fn stages(layout: &Layout, found: &Match) -> Vec<StageView> {
    let named = layout.stages.iter().zip(&found.stages);
    named
        .map(|((name, _), stage)| StageView {
            name: name.clone(),
            drive: match stage.drive {
                Drive::Prescribed => "prescribed",
                Drive::Belt => "belt",
                Drive::Turbine => "turbine",
            },
            pressure_ratio: stage.pressure_ratio,
            efficiency: stage.efficiency,
            mass_flow_kg_s: stage.mass_flow,
            power_w: stage.power_to_air,
            shaft_power_w: stage.shaft_power,
            crank_power_w: stage.crank_power,
            speed_rpm: stage.speed,
            tip_speed_m_s: stage.tip_speed,
            belt: stage.belt.as_ref().map(BeltView::new),
            corrected_flow_kg_s: stage.corrected_flow,
            corrected_speed_rpm: stage.corrected_speed,
            split_share: stage.split_share,
            bypass_share: stage.bypass_share,
        })
        .collect()
}

fn coolers(layout: &Layout, found: &Match) -> Vec<CoolerView> {
    let named = layout.coolers.iter().zip(&found.coolers);
    named
        .map(|((name, _), cooler)| {
            let it = cooler.exchanger;
            CoolerView {
                name: name.clone(),
                effectiveness: cooler.effectiveness,
                heat_w: cooler.heat,
                pressure_drop_pa: cooler.pressure_drop,
                density_gain: cooler.density_gain,
                inlet_temperature_k: cooler.inlet_temperature,
                outlet_temperature_k: cooler.outlet_temperature,
                sink_inlet_temperature_k: cooler.sink_temperature,
                sink_outlet_temperature_k: it.map(|it| it.sink_outlet_temperature),
                sink_mass_flow_kg_s: it.map(|it| it.sink_flow),
                sink_pressure_drop_pa: it.and_then(|it| it.sink_pressure_drop),
                ntu: it.map(|it| it.transfer_units),
                conductance_w_k: it.map(|it| it.conductance),
                capacity_ratio: it.map(|it| it.capacity_ratio),
                heat_effectiveness: it.map(|it| it.heat_effectiveness),
                charge_reynolds: it.and_then(|it| it.reynolds).map(|(charge, _)| charge),
                sink_reynolds: it.and_then(|it| it.reynolds).map(|(_, sink)| sink),
                unconfirmed: cooler.unconfirmed.then_some(true),
            }
        })
        .collect()
}

/// g/kWh in one kg/J: 1000 g/kg × 3.6e6 J/kWh.
const G_KWH: f64 = 3.6e9;

fn engine(found: &Match) -> EngineView {
    let engine = &found.engine;
    let mean = |power: Option<f64>| power.map(|power| power / engine.swept_flow);
    let peak = costs::estimated_peak(engine);
    EngineView {
        volumetric_efficiency: engine.volumetric_efficiency,
        brake_power_w: engine.brake_power,
        torque_n_m: engine.torque,
        bsfc_g_kwh: engine.specific_consumption.map(|value| value * G_KWH),
        peak_cylinder_pressure_pa: engine.peak_cylinder_pressure,
        peak_cylinder_pressure_low_pa: peak.map(|peak| peak.low),
        peak_cylinder_pressure_high_pa: peak.map(|peak| peak.high),
        brake_mean_effective_pressure_pa: mean(engine.brake_power),
        gross_indicated_mean_effective_pressure_pa: mean(engine.gross_indicated_power),
        pumping_mean_effective_pressure_pa: mean(engine.pumping_power),
        friction_mean_effective_pressure_pa: mean(engine.friction_power),
        gross_indicated_power_w: engine.gross_indicated_power,
        pumping_power_w: engine.pumping_power,
        friction_power_w: engine.friction_power,
        supercharger_drive_power_w: engine.drive_power,
    }
}

fn turbines(layout: &Layout, found: &Match) -> Vec<TurbineView> {
    let named = layout.turbines.iter().zip(&found.turbines);
    named
        .map(|(name, turbine)| TurbineView {
            name: name.clone(),
            expansion_ratio: turbine.expansion_ratio,
            mass_flow_kg_s: turbine.mass_flow,
            power_w: turbine.power,
            wastegate_share: turbine.wastegate_share,
            efficiency: turbine.efficiency,
        })
        .collect()
}

impl FindingView {
    /// A finding with its words, in SI.
    pub fn new(layout: &Layout, finding: &Finding) -> Self {
        let place = words::place(finding, layout);
        Self {
            code: words::code(finding.code),
            what: words::what(finding),
            place: (!place.is_empty()).then_some(place),
            rpm: finding.rpm,
            value: finding.value,
            limit: finding.limit,
            margin: finding.margin,
            unit: words::unit(finding.measure),
            severity: words::severity(finding.severity),
            advice: words::advice(finding, UnitSystem::Si),
        }
    }
}
