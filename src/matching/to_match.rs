//! Writes a solved trial out as a match.

use super::equations::Equations;
use super::equilibrium::Equilibrium;
use super::evaluate::Balances;
use super::layout::StationPlace;
use super::outcome::{
    BypassState, CoolerState, Drive, EnergyList, GateState, Match, Residuals, StageState,
    StationState, TurbineState,
};
use super::record::{Record, StageRecord};
use super::setup::Setup;
use super::to_match_engine;
use super::variables::{BypassMode, GateMode, Variable};
use crate::air_path::{
    AirState, BeltLoad, CompressorPerformance, Core, Part, Supercharger, stage_efficiency,
};
use std::f64::consts::PI;

/// Below this |ln of the total pressure ratio| there is nothing to share.
const NOTHING_TO_SHARE: f64 = 1e-9;

/// Writes a solution into `out` from what was found there, which the equations' record holds.
pub(super) fn write_match(equations: &Equations, found: &Equilibrium, out: &mut Match) {
    let (setup, record) = (&equations.setup, &equations.work.record);
    out.rpm = setup.rpm;
    out.air_mass_flow = record.flow;
    out.manifold_pressure = record.manifold.map_or(0.0, |state| state.pressure);
    out.fuel_mass_flow = record.charge.map(|charge| charge.fuel_flow);
    out.air_fuel_ratio = record.charge.map(|charge| charge.air_fuel_ratio);
    out.lambda = record.charge.map(|charge| charge.lambda);
    out.at_smoke_limit = record.charge.is_some_and(|charge| charge.at_smoke_limit);
    out.fuel = to_match_engine::fuel(setup, record);
    out.equilibria = found.crossings;
    out.others.clear();
    stations(setup, record, out);
    stages(setup, found, record, out);
    coolers(setup, record, out);
    turbines(setup, found, record, out);
    out.engine = to_match_engine::engine(setup, record, &out.stages);
    out.residuals = residuals(setup, found, &equations.work.balances);
    out.energy = energy(setup, record, out);
}

fn stations(setup: &Setup, record: &Record, out: &mut Match) {
    out.stations.clear();
    let fuel = record.charge.map_or(0.0, |charge| charge.fuel_flow);
    for station in &setup.layout.stations {
        let air = |state: &AirState| StationState {
            pressure: state.pressure,
            temperature: state.temperature,
            density: state.density(&setup.gas),
            enthalpy: state.enthalpy,
            mass_flow: record.flow,
        };
        let products = |pressure: f64, temperature: f64, enthalpy: f64| StationState {
            pressure,
            temperature,
            density: record
                .burnt
                .map_or(0.0, |burnt| burnt.gas.density(pressure, temperature)),
            enthalpy,
            mass_flow: record.flow + fuel,
        };
        let behind = |part: usize| {
            if part == 0 {
                setup.ambient
            } else {
                record.behind[part - 1]
            }
        };
        out.stations.push(match station.place {
            StationPlace::Ambient => air(&setup.ambient),
            StationPlace::Before(part) => air(&behind(part)),
            StationPlace::After(part) => air(&record.behind[part]),
            StationPlace::Manifold => {
                let vapour = record.evaporated.map_or(0.0, |there| there.vapour_fraction);
                let mut manifold = air(&record.manifold.unwrap_or(setup.ambient));
                // Of the air in the charge: fuel vapour has the rest of the pressure.
                manifold.density *= 1.0 - vapour;
                manifold
            }
            StationPlace::TurbineInlet(turbine) => {
                let t = &record.turbines[turbine];
                products(t.inlet_pressure, t.inlet_temperature, t.inlet_enthalpy)
            }
            StationPlace::TurbineOutlet(turbine) => {
                let t = &record.turbines[turbine];
                products(t.outlet_pressure, t.outlet_temperature, t.outlet_enthalpy)
            }
            StationPlace::Exhaust => {
                let (pressure, enthalpy, temperature) = record.outlet.unwrap_or_default();
                products(pressure, temperature, enthalpy)
            }
        });
    }
}

fn stages(setup: &Setup, found: &Equilibrium, record: &Record, out: &mut Match) {
    out.stages.clear();
    let total: f64 = record
        .stages
        .iter()
        .map(|stage| (stage.outlet.pressure / stage.inlet.pressure).ln())
        .sum();
    let mut belts = 0;
    for ((_, part), noted) in setup.layout.stages.iter().zip(&record.stages) {
        let pressure_ratio = noted.outlet.pressure / noted.inlet.pressure;
        let (drive, bypass, has_bypass) = match &setup.installation.air_path[*part] {
            Part::Supercharger(stage) if stage.belt().is_some() => {
                let mode = found.trial.bypasses[belts];
                belts += 1;
                (
                    Drive::Belt,
                    bypass_state(stage, mode, setup.rpm),
                    stage.bypass.open_drop().is_some(),
                )
            }
            Part::TurboCompressor(turbo)
                if !matches!(turbo.performance, CompressorPerformance::Prescribed(_)) =>
            {
                (Drive::Turbine, BypassState::None, false)
            }
            _ => (Drive::Prescribed, BypassState::None, false),
        };
        let has_bypass = has_bypass || bypass == BypassState::Disengaged;
        out.stages.push(StageState {
            drive,
            pressure_ratio,
            efficiency: stage_efficiency(&setup.gas, &noted.inlet, &noted.outlet),
            mass_flow: noted.own_flow,
            outlet_temperature: noted.outlet.temperature,
            power_to_air: noted.power,
            shaft_power: noted.shaft_power,
            crank_power: noted.crank_power,
            speed: noted.speed,
            tip_speed: tip_speed(&setup.installation.air_path[*part], noted.speed),
            belt: belt(&setup.installation.air_path[*part], noted),
            corrected_flow: noted.corrected_flow,
            corrected_speed: noted.corrected_speed,
            split_share: (total.abs() >= NOTHING_TO_SHARE).then(|| pressure_ratio.ln() / total),
            bypass_share: has_bypass.then(|| bypass_share(noted.own_flow, record.flow, bypass)),
            bypass,
        });
    }
    // What a turbo compressor takes from its shaft stands with it; its bearing is the turbine's.
    for ((driven, noted), described) in setup
        .driven
        .iter()
        .zip(&record.turbines)
        .zip(&setup.installation.turbines)
    {
        let power = described.mechanical_efficiency * noted.power;
        out.stages[driven.stage].shaft_power = Some(power);
    }
}

/// Speed in m/s of a supercharger's rotor tips at a shaft speed in rpm.
fn tip_speed(part: &Part, rpm: Option<f64>) -> Option<f64> {
    let Part::Supercharger(supercharger) = part else {
        return None;
    };
    Some(PI * supercharger.rotor_diameter? * rpm? / 60.0)
}

fn belt(part: &Part, noted: &StageRecord) -> Option<BeltLoad> {
    let Part::Supercharger(supercharger) = part else {
        return None;
    };
    supercharger
        .belt_path?
        .load(noted.crank_power?, noted.speed?)
}

/// 1 − m_s/m, exactly 0 where the bypass is shut.
fn bypass_share(own_flow: f64, flow: f64, bypass: BypassState) -> f64 {
    if bypass == BypassState::Shut {
        0.0
    } else {
        1.0 - own_flow / flow
    }
}

fn bypass_state(stage: &Supercharger, mode: BypassMode, rpm: f64) -> BypassState {
    if !stage.is_engaged(rpm) {
        return BypassState::Disengaged;
    }
    match mode {
        BypassMode::Shut if stage.bypass.open_drop().is_none() => BypassState::None,
        BypassMode::Shut => BypassState::Shut,
        BypassMode::Open => BypassState::Open,
        BypassMode::HoldingOutlet | BypassMode::HoldingManifold => BypassState::Holding,
    }
}

fn coolers(setup: &Setup, record: &Record, out: &mut Match) {
    out.coolers.clear();
    for (index, (_, part)) in setup.layout.coolers.iter().enumerate() {
        let cooled = &record.cooled[index];
        let inlet = if *part == 0 {
            setup.ambient
        } else {
            record.behind[part - 1]
        };
        let outlet = record.behind[*part];
        let Part::Cooler(cooler) = &setup.installation.air_path[*part] else {
            continue;
        };
        let (gas, flow, sink) = (&setup.gas, record.flow, &setup.sinks[index]);
        let needed = || cooler.exchanger_needed(gas, &inlet, flow, cooled, sink);
        out.coolers.push(CoolerState {
            effectiveness: cooled.effectiveness,
            heat: record.flow * (inlet.enthalpy - outlet.enthalpy),
            pressure_drop: inlet.pressure - outlet.pressure,
            density_gain: outlet.density(&setup.gas) / inlet.density(&setup.gas),
            sink_temperature: cooled.sink_temperature,
            inlet_temperature: inlet.temperature,
            outlet_temperature: outlet.temperature,
            exchanger: cooled.exchanger.or_else(needed),
            flow_limit: cooler.flow_limit(gas, &inlet, flow, cooled, sink),
            unconfirmed: cooler.core().is_some_and(Core::is_unconfirmed),
        });
    }
}

fn turbines(setup: &Setup, found: &Equilibrium, record: &Record, out: &mut Match) {
    out.turbines.clear();
    for (turbine, noted) in record.turbines.iter().enumerate() {
        let gate = match (setup.driven[turbine].gate, found.trial.gates[turbine]) {
            (None, _) => GateState::None,
            (Some(_), GateMode::Fixed) => GateState::Shut,
            (Some(_), GateMode::Holding) => GateState::Holding,
            (Some(_), GateMode::WideOpen) => GateState::WideOpen,
        };
        out.turbines.push(TurbineState {
            expansion_ratio: noted.inlet_pressure / noted.outlet_pressure,
            mass_flow: noted.flow,
            power: noted.power,
            efficiency: noted.efficiency,
            wastegate_share: (gate != GateState::None).then_some(noted.share.max(0.0)),
            gate,
            choked: noted.choked,
        });
    }
}

fn residuals(setup: &Setup, found: &Equilibrium, balances: &Balances) -> Residuals {
    let mut residuals = Residuals::default();
    for (i, variable) in setup.variables.iter().enumerate() {
        let size = balances[i].abs();
        match variable {
            Variable::Flow | Variable::Place { .. } | Variable::TurbineInlet { .. } => {
                residuals.flow = residuals.flow.max(size);
            }
            Variable::Ratio { .. } => residuals.flow = residuals.flow.max(size),
            Variable::Climb { turbine } => {
                if !found.trial.held[*turbine] {
                    residuals.power = residuals.power.max(size);
                }
            }
            Variable::Pipe => residuals.pressure = residuals.pressure.max(size),
            Variable::Gate { turbine } => {
                if found.trial.gates[*turbine] == GateMode::Holding {
                    residuals.pressure = residuals.pressure.max(size);
                }
            }
        }
    }
    residuals
}

fn energy(setup: &Setup, record: &Record, out: &Match) -> Option<EnergyList> {
    let burnt = record.burnt.as_ref()?;
    let brake = out.engine.brake_power?;
    let (_, enthalpy, _) = record.outlet?;
    let fuel_flow = record.charge?.fuel_flow;
    let drives = out
        .stages
        .iter()
        .map(|s| s.crank_power.map_or(0.0, |crank| crank - s.power_to_air))
        .sum();
    let bearings = record
        .turbines
        .iter()
        .zip(&setup.installation.turbines)
        .map(|(noted, described)| (1.0 - described.mechanical_efficiency) * noted.power)
        .sum();
    Some(EnergyList {
        fuel: burnt.energy.fuel,
        air: record.flow * setup.ambient.enthalpy,
        brake,
        friction: out.engine.friction_power?,
        wall_heat: burnt.energy.wall_heat,
        coolers: out.coolers.iter().map(|cooler| cooler.heat).sum(),
        drives,
        bearings,
        exhaust: (record.flow + fuel_flow) * enthalpy,
        unburnt: burnt.energy.unburnt,
    })
}
