//! Superchargers and their bypasses.

use super::evaluation::{Evaluation, Infeasible};
use super::turbo_compressor::enthalpy_rise_on_map;
use crate::air_path::{
    AirState, Bypass, BypassAt, Centrifugal, Displacement, Filling, Supercharger, SuperchargerKind,
    compress_by, isentropic_rise,
};
use crate::gas::Gas;
use crate::map::{CorrectedFlow, CorrectedSpeed};
use crate::matching::variables::BypassMode;

/// Lowest outlet over inlet pressure that a displacement machine is given where the flow alone is known.
const LOWEST_RATIO: f64 = 0.05;
/// Most rounds of returned air before its temperature counts as running away.
const ROUNDS: usize = 40;
/// Relative change of temperature that counts as none: a few roundings of an enthalpy.
const STANDS_STILL: f64 = 1e-13;
/// Slope of (temperature out less temperature guessed) that the first step counts with: about −1 from
/// the guess itself and as much from what the rotors deliver.
const USUAL_SLOPE: f64 = -1.5;

/// What a machine delivers, kg/s, and gives to the air, W.
struct Delivered {
    flow: f64,
    power: f64,
}

impl Evaluation<'_, '_> {
    pub(super) fn supercharger(
        &mut self,
        stage: &Supercharger,
        inlet: &AirState,
    ) -> Result<AirState, Infeasible> {
        match &stage.kind {
            SuperchargerKind::Prescribed(given) => {
                let rpm = self.setup.rpm;
                let efficiency = given.efficiency.as_ref().map_or(1.0, |table| table.at(rpm));
                self.prescribed(inlet, given.pressure_ratio.at(rpm), efficiency)
            }
            SuperchargerKind::Displacement(machine) => self.displacement(stage, machine, inlet),
            SuperchargerKind::Centrifugal(machine) => self.centrifugal(stage, machine, inlet),
        }
    }

    /// The clutch is out: all flow takes the bypass.
    fn disengaged(&mut self, variable: usize, stage: &Supercharger, inlet: &AirState) -> AirState {
        self.trial.x[variable] = 0.0;
        self.balances[variable] = 0.0;
        let outlet = inlet.dropped(stage.bypass.open_drop().unwrap_or(0.0));
        let noted = self.note(inlet, outlet, 0.0, 0.0);
        noted.shaft_power = Some(0.0);
        noted.crank_power = Some(0.0);
        noted.speed = Some(0.0);
        outlet
    }

    fn displacement(
        &mut self,
        stage: &Supercharger,
        machine: &Displacement,
        inlet: &AirState,
    ) -> Result<AirState, Infeasible> {
        let variable = self.take_variable();
        let belt = self.take_belt();
        if !stage.is_engaged(self.setup.rpm) {
            return Ok(self.disengaged(variable, stage, inlet));
        }
        let gas = &self.setup.gas;
        let n = machine.belt.ratio * self.setup.rpm / 60.0;
        let p1 = inlet.pressure;
        let open = stage.bypass.open_drop().map(|drop| p1 - drop);
        if self.is_explicit {
            let density = inlet.density(gas);
            let p2 = machine.held_pressure(n, p1, density, self.flow, LOWEST_RATIO * p1);
            self.trial.bypasses[belt] = self.bypass_for(stage.bypass, p2, open);
            self.trial.x[variable] = (p2 / p1).ln();
        }
        let mode = self.trial.bypasses[belt];
        let p2 = match (mode, open) {
            (BypassMode::Open, Some(open)) => open,
            (BypassMode::HoldingOutlet, _) => self.held(stage.bypass).unwrap_or(p1),
            _ => self.trial.x[variable].exp() * p1,
        };
        let own = self.with_returned_air(inlet, mode, |own_inlet| {
            rotor_delivery(machine, n, own_inlet, p2, &self.setup.gas)
        })?;
        self.balance_belt(variable, mode, stage.bypass, own.flow);
        if matches!(mode, BypassMode::Open | BypassMode::HoldingOutlet) {
            self.trial.x[variable] = (p2 / p1).ln();
        }
        let rise = own.power / self.flow;
        let outlet =
            compress_by(gas, inlet, p2 / p1, rise).map_err(|_| Infeasible::FlowTooSmall)?;
        let shaft = machine.shaft_power(own.power, n);
        let noted = self.note(inlet, outlet, own.flow, own.power);
        noted.shaft_power = Some(shaft);
        noted.crank_power = Some(shaft / machine.belt.efficiency);
        noted.speed = Some(60.0 * n);
        Ok(outlet)
    }

    /// The absolute pressure that a regulated bypass holds, Pa.
    fn held(&self, bypass: Bypass) -> Option<f64> {
        match bypass {
            Bypass::Regulated { pressure, .. } => Some(self.setup.ambient.pressure + pressure),
            _ => None,
        }
    }

    /// Writes the balance of a belt-driven stage that delivers `own_flow` kg/s.
    fn balance_belt(&mut self, variable: usize, mode: BypassMode, bypass: Bypass, own_flow: f64) {
        self.balances[variable] = match mode {
            BypassMode::Shut if !self.is_explicit => own_flow / self.flow - 1.0,
            _ => 0.0,
        };
        if let (BypassMode::HoldingManifold, Some(held), false) =
            (mode, self.held(bypass), self.is_explicit)
        {
            self.manifold_held = Some((variable, held));
        }
    }

    /// What a machine delivers and gives to the air with its own inlet's state, by `machine`.
    ///
    /// Returned flow leaves h2 − h1 = P/m and warms the machine's own inlet to h2 − P/m_s. Warmer air
    /// lets it deliver less, so that P/m_s grows: what comes out of a guess of that temperature falls
    /// against it, and the secant finds where the two are one.
    fn with_returned_air(
        &self,
        inlet: &AirState,
        mode: BypassMode,
        machine: impl Fn(&AirState) -> Option<Delivered>,
    ) -> Result<Delivered, Infeasible> {
        if !matches!(
            mode,
            BypassMode::HoldingOutlet | BypassMode::HoldingManifold
        ) {
            return machine(inlet).ok_or(Infeasible::FlowTooSmall);
        }
        let gas = &self.setup.gas;
        let mut own_inlet = *inlet;
        let mut before: Option<(f64, f64)> = None;
        for _ in 0..ROUNDS {
            let own = machine(&own_inlet).ok_or(Infeasible::FlowTooSmall)?;
            let t = own_inlet.temperature;
            let enthalpy = inlet.enthalpy + own.power / self.flow - own.power / own.flow;
            let out = gas.temperature_at_enthalpy(enthalpy, t);
            let miss = out.map_err(|_| Infeasible::FlowTooSmall)? - t;
            if miss.abs() < STANDS_STILL * t {
                return Ok(own);
            }
            let slope = before.map_or(USUAL_SLOPE, |(t0, miss0)| (miss - miss0) / (t - t0));
            let usable = slope.is_finite() && slope < -0.1;
            let next = t - miss / if usable { slope } else { USUAL_SLOPE };
            before = Some((t, miss));
            own_inlet =
                AirState::new(gas, inlet.pressure, next).map_err(|_| Infeasible::FlowTooSmall)?;
        }
        Err(Infeasible::FlowTooSmall)
    }

    /// What the bypass does where the machine would hold `p2` Pa by itself.
    fn bypass_for(&self, bypass: Bypass, p2: f64, open: Option<f64>) -> BypassMode {
        let Some(open) = open else {
            return BypassMode::Shut;
        };
        if p2 < open {
            return BypassMode::Open;
        }
        match (bypass, self.held(bypass)) {
            (
                Bypass::Regulated {
                    at: BypassAt::SuperchargerOutlet,
                    ..
                },
                Some(held),
            ) => {
                if held < open {
                    BypassMode::Open
                } else if p2 > held {
                    BypassMode::HoldingOutlet
                } else {
                    BypassMode::Shut
                }
            }
            _ => BypassMode::Shut,
        }
    }

    fn centrifugal(
        &mut self,
        stage: &Supercharger,
        machine: &Centrifugal,
        inlet: &AirState,
    ) -> Result<AirState, Infeasible> {
        let variable = self.take_variable();
        let belt = self.take_belt();
        if !stage.is_engaged(self.setup.rpm) {
            return Ok(self.disengaged(variable, stage, inlet));
        }
        let gas = &self.setup.gas;
        let rpm = machine.belt.ratio * self.setup.rpm;
        let reference = machine.map.reference();
        let p1 = inlet.pressure;
        let open = stage.bypass.open_drop().map(|drop| p1 - drop);
        let speed_at = |t: f64| CorrectedSpeed::from_actual(rpm, t, reference);
        if self.is_explicit {
            let wanted = CorrectedFlow::from_actual(self.flow, p1, inlet.temperature, reference);
            let speed = speed_at(inlet.temperature);
            let point = machine.map.at_speed_and_flow(speed, wanted);
            self.trial.x[variable] = point.place;
            let p2 = p1 * point.pressure_ratio;
            self.trial.bypasses[belt] = self.bypass_for(stage.bypass, p2, open);
        }
        let (mode, place) = (self.trial.bypasses[belt], self.trial.x[variable]);
        let given = match (mode, open) {
            (BypassMode::Open, Some(open)) => Some(open / p1),
            (BypassMode::HoldingOutlet, _) => self.held(stage.bypass).map(|held| held / p1),
            _ => None,
        };
        let point_at = |t: f64| match given {
            Some(ratio) => machine.map.at_speed_and_ratio(speed_at(t), ratio),
            None => machine.map.at_speed_and_place(speed_at(t), place),
        };
        let own = self.with_returned_air(inlet, mode, |own_inlet| {
            let point = point_at(own_inlet.temperature);
            let flow = point.flow.to_actual(p1, own_inlet.temperature, reference);
            let power = flow * enthalpy_rise_on_map(gas, own_inlet, &machine.map, &point)?;
            (flow > 0.0).then_some(Delivered { flow, power })
        })?;
        self.balance_belt(variable, mode, stage.bypass, own.flow);
        let ratio = given.unwrap_or_else(|| point_at(inlet.temperature).pressure_ratio);
        // Shut, all that the wheel does goes into the flow that passes; the two are one at the end.
        let (flow, rise) = match mode {
            BypassMode::Shut => (self.flow, own.power / own.flow),
            _ => (own.flow, own.power / self.flow),
        };
        let outlet = compress_by(gas, inlet, ratio, rise).map_err(|_| Infeasible::FlowTooSmall)?;
        let power = rise * self.flow;
        let corrected = CorrectedFlow::from_actual(flow, p1, inlet.temperature, reference);
        let noted = self.note(inlet, outlet, flow, power);
        let shaft = power.max(0.0) / machine.mechanical_efficiency;
        noted.shaft_power = Some(shaft);
        noted.crank_power = Some(shaft / machine.belt.efficiency);
        noted.speed = Some(rpm);
        noted.corrected_flow = Some(corrected.0);
        noted.corrected_speed = Some(speed_at(inlet.temperature).0);
        Ok(outlet)
    }
}

/// What rotors deliver against an outlet pressure in Pa and give to the air. `None` where they
/// cannot hold that pressure at this speed.
fn rotor_delivery(
    machine: &Displacement,
    n: f64,
    inlet: &AirState,
    p2: f64,
    gas: &Gas,
) -> Option<Delivered> {
    let p1 = inlet.pressure;
    let flow = machine.delivered(n, p1, inlet.density(gas), p2);
    if flow.is_nan() || flow <= 0.0 {
        return None;
    }
    let gamma = gas.gamma(inlet.temperature).ok()?;
    let isentropic = match machine.filling {
        Filling::Map(_) => flow * isentropic_rise(gas, inlet, p2 / p1).ok()?,
        Filling::SlipSpeed(_) => 0.0,
    };
    let power = machine.power_to_air(n, p1, p2, gamma, isentropic);
    Some(Delivered { flow, power })
}
