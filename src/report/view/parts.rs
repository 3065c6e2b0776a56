//! Stations, stages, coolers, turbines and the engine of one match.

use serde::Serialize;

use crate::matching::{Drive, GateState, Layout, Match, OtherBalance, StationPlace};
use crate::report::costs_view as costs;
use crate::report::costs_view::BeltView;

/// g/kWh in one kg/J: 1000 g/kg × 3.6e6 J/kWh.
const G_KWH: f64 = 3.6e9;

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

/// Another stable balance at the same speed.
#[derive(Debug, Clone, Serialize)]
pub struct OtherBalanceView {
    /// Of the first turbine's compressor.
    pub pressure_ratio: f64,
    /// Absolute.
    pub manifold_pressure_pa: f64,
    /// Above the site.
    pub boost_pa: f64,
    /// Flow of moist air.
    pub air_mass_flow_kg_s: f64,
    /// At the crank, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_w: Option<f64>,
    /// What the first turbine's wastegate does there; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wastegate: Option<&'static str>,
}

impl OtherBalanceView {
    pub(super) fn new(layout: &Layout, found: &Match, other: &OtherBalance) -> Self {
        let site = found.station(layout, StationPlace::Ambient);
        Self {
            pressure_ratio: other.pressure_ratio,
            manifold_pressure_pa: other.manifold_pressure,
            boost_pa: other.manifold_pressure - site.map_or(0.0, |site| site.pressure),
            air_mass_flow_kg_s: other.air_mass_flow,
            brake_power_w: other.brake_power,
            wastegate: match other.gate {
                GateState::None => None,
                GateState::Shut => Some("shut"),
                GateState::Holding => Some("holding"),
                GateState::WideOpen => Some("wide open"),
            },
        }
    }
}

pub(super) fn stations(layout: &Layout, found: &Match) -> Vec<StationView> {
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

pub(super) fn stages(layout: &Layout, found: &Match) -> Vec<StageView> {
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

pub(super) fn coolers(layout: &Layout, found: &Match) -> Vec<CoolerView> {
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

pub(super) fn engine(found: &Match) -> EngineView {
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

pub(super) fn turbines(layout: &Layout, found: &Match) -> Vec<TurbineView> {
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
