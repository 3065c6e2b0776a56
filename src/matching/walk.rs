//! One walk through the installation with given values of all variables: from the air outside to
//! the exhaust pipe, noting what was seen and what is left of each balance.
//!
//! An *explicit* walk takes only the flow and the climbs as given and finds the other values on its
//! way by inverting one part after the other. It starts solutions and brackets the flow; the
//! ordinary walk takes every value as given and is what is solved.

use super::record::{Record, StageRecord, TurbineRecord};
use super::solver::Solver;
use super::variables::{Gate, MOST, Trial, Variable, Way};
use crate::air_path::{
    AirState, Bypass, BypassAt, Centrifugal, CompressorPerformance, Displacement, Part,
    Supercharger, SuperchargerKind, TurboCompressor, compress, compress_by, isentropic_rise,
};
use crate::engine::{CylinderEnds, burn};
use crate::exhaust::{BoostAt, FlowLaw, Swallowing, critical_ratio, flow_function, inlet_pressure};
use crate::gas::Gas;
use crate::map::{CompressorMap, CorrectedFlow, CorrectedSpeed, MapPoint};
use crate::numeric::newton::MAX_UNKNOWNS;

/// Why a walk could not be finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Snag {
    /// The flow is too large: a pressure is used up.
    TooMuch,
    /// The flow is too small: a temperature or a pressure leaves every range.
    TooLittle,
}

/// Residuals in the order of the variables.
pub(super) type Balances = [f64; MAX_UNKNOWNS];

/// Pressure ratio above which a compressor's work is reckoned from its efficiency alone.
const FULL_COMPRESSION: f64 = 1.05;

/// The parts that a walk needs beside the trial.
struct Walk<'s, 'a> {
    solver: &'s Solver<'a>,
    trial: &'s mut Trial,
    balances: &'s mut Balances,
    record: &'s mut Record,
    explicit: bool,
    flow: f64,
    /// Belt-driven stages met so far.
    belts: usize,
    /// Variables met so far, to find a part's own without searching.
    next: usize,
    /// A displacement machine that holds the manifold: its variable and the pressure to hold, Pa.
    manifold_held: Option<(usize, f64)>,
}

/// Walks. Balances of values that an explicit walk finds itself are 0.
pub(super) fn walk(
    solver: &Solver,
    trial: &mut Trial,
    balances: &mut Balances,
    record: &mut Record,
    explicit: bool,
) -> Result<(), Snag> {
    record.clear();
    let flow = trial.x[0].exp();
    let mut walk = Walk {
        solver,
        trial,
        balances,
        record,
        explicit,
        flow,
        belts: 0,
        next: 1,
        manifold_held: None,
    };
    let manifold = walk.air_path()?;
    walk.record.flow = flow;
    walk.record.manifold = Some(manifold);
    if let Some((variable, held)) = walk.manifold_held {
        walk.balances[variable] = manifold.pressure / held - 1.0;
    }
    if walk.explicit && walk.next < solver.variables.len() {
        walk.settle_exhaust(&manifold)?;
    }
    walk.engine_and_exhaust(&manifold)
}

impl Walk<'_, '_> {
    fn air_path(&mut self) -> Result<AirState, Snag> {
        let solver = self.solver;
        let mut state = solver.ambient;
        for part in &solver.installation.air_path {
            let density = state.density(&solver.gas);
            state = match part {
                Part::Filter(drop) | Part::Throttle(drop) => {
                    state.dropped(drop.pressure_drop(self.flow, density))
                }
                Part::Duct(duct) => {
                    state.dropped(duct.pressure_drop(self.flow, density, state.temperature))
                }
                Part::Cooler(cooler) => {
                    let effectiveness = cooler.effectiveness.at(solver.rpm);
                    self.record.effectiveness.push(effectiveness);
                    let pressure =
                        state.pressure - cooler.pressure_drop.pressure_drop(self.flow, density);
                    let temperature = state.temperature
                        - effectiveness * (state.temperature - cooler.sink_temperature);
                    AirState::new(&solver.gas, pressure, temperature)
                        .map_err(|_| Snag::TooLittle)?
                }
                Part::Supercharger(supercharger) => self.supercharger(supercharger, &state)?,
                Part::TurboCompressor(turbo) => self.turbo_compressor(turbo, &state)?,
            };
            if state.pressure.is_nan() || state.pressure <= 1.0 {
                return Err(Snag::TooMuch);
            }
            self.record.behind.push(state);
        }
        Ok(state)
    }

    fn note(
        &mut self,
        inlet: &AirState,
        outlet: AirState,
        own_flow: f64,
        power: f64,
    ) -> &mut StageRecord {
        self.record.stages.push(StageRecord {
            inlet: *inlet,
            outlet,
            own_flow,
            power,
            shaft_power: None,
            crank_power: None,
            speed: None,
            corrected_flow: None,
            corrected_speed: None,
        });
        let last = self.record.stages.len() - 1;
        &mut self.record.stages[last]
    }

    fn prescribed(
        &mut self,
        inlet: &AirState,
        ratio: f64,
        efficiency: f64,
    ) -> Result<AirState, Snag> {
        let gas = &self.solver.gas;
        let outlet = compress(gas, inlet, ratio, efficiency).map_err(|_| Snag::TooLittle)?;
        let power = self.flow * (outlet.enthalpy - inlet.enthalpy);
        self.note(inlet, outlet, self.flow, power);
        Ok(outlet)
    }

    fn supercharger(&mut self, stage: &Supercharger, inlet: &AirState) -> Result<AirState, Snag> {
        match &stage.kind {
            SuperchargerKind::Prescribed(given) => {
                let rpm = self.solver.rpm;
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
    ) -> Result<AirState, Snag> {
        let variable = self.take_variable();
        let belt = self.take_belt();
        if !stage.is_engaged(self.solver.rpm) {
            return Ok(self.disengaged(variable, stage, inlet));
        }
        let gas = &self.solver.gas;
        let n = machine.belt.ratio * self.solver.rpm / 60.0;
        let density = inlet.density(gas);
        let open = stage.bypass.open_drop().map(|drop| inlet.pressure - drop);
        if self.explicit {
            let lowest = 0.05 * inlet.pressure;
            let p2 = machine.held_pressure(n, inlet.pressure, density, self.flow, lowest);
            let way = self.explicit_way(stage.bypass, p2, open);
            self.trial.ways[belt] = way;
            let p2 = match way {
                Way::HoldingManifold => self.trial.x[variable].exp() * inlet.pressure,
                _ => p2,
            };
            self.trial.x[variable] = (p2 / inlet.pressure).ln();
        }
        let p2 = match (self.trial.ways[belt], open, stage.bypass) {
            (Way::Open, Some(p2), _) => p2,
            (Way::HoldingOutlet, _, Bypass::Regulated { pressure, .. }) => {
                self.solver.ambient.pressure + pressure
            }
            _ => self.trial.x[variable].exp() * inlet.pressure,
        };
        let own = self.rotors(machine, n, inlet, p2, self.trial.ways[belt])?;
        self.balances[variable] = match self.trial.ways[belt] {
            Way::Shut if !self.explicit => own.flow / self.flow - 1.0,
            _ => 0.0,
        };
        if let (Way::HoldingManifold, Bypass::Regulated { pressure, .. }) =
            (self.trial.ways[belt], stage.bypass)
            && !self.explicit
        {
            self.manifold_held = Some((variable, self.solver.ambient.pressure + pressure));
        }
        if matches!(self.trial.ways[belt], Way::Open | Way::HoldingOutlet) {
            self.trial.x[variable] = (p2 / inlet.pressure).ln();
        }
        let rise = own.power / self.flow;
        let outlet =
            compress_by(gas, inlet, p2 / inlet.pressure, rise).map_err(|_| Snag::TooLittle)?;
        let shaft = machine.shaft_power(own.power, n);
        let noted = self.note(inlet, outlet, own.flow, own.power);
        noted.shaft_power = Some(shaft);
        noted.crank_power = Some(shaft / machine.belt.efficiency);
        noted.speed = Some(60.0 * n);
        Ok(outlet)
    }

    /// What the rotors deliver in kg/s and give to the air in W against an outlet pressure in Pa.
    /// Returned flow leaves h2 − h1 = P/m and warms the rotors' own inlet to h2 − P/m_s.
    fn rotors(
        &self,
        machine: &Displacement,
        n: f64,
        inlet: &AirState,
        p2: f64,
        way: Way,
    ) -> Result<Rotors, Snag> {
        let gas = &self.solver.gas;
        let p1 = inlet.pressure;
        let returning = matches!(way, Way::HoldingOutlet | Way::HoldingManifold);
        let mut temperature = inlet.temperature;
        for _ in 0..200 {
            let density = gas.density(p1, temperature);
            let flow = machine.delivered(n, p1, density, p2);
            if flow <= 0.0 {
                return Err(Snag::TooLittle);
            }
            let gamma = gas.gamma(temperature).map_err(|_| Snag::TooLittle)?;
            let own_inlet = AirState {
                temperature,
                enthalpy: inlet.enthalpy,
                pressure: p1,
            };
            let isentropic = match machine.filling {
                crate::air_path::Filling::Map(_) => {
                    let own_inlet = AirState::new(gas, p1, own_inlet.temperature)
                        .map_err(|_| Snag::TooLittle)?;
                    flow * isentropic_rise(gas, &own_inlet, p2 / p1).map_err(|_| Snag::TooLittle)?
                }
                crate::air_path::Filling::SlipSpeed(_) => 0.0,
            };
            let power = machine.power_to_air(n, p1, p2, gamma, isentropic);
            if !returning {
                return Ok(Rotors { flow, power });
            }
            let enthalpy = inlet.enthalpy + power / self.flow - power / flow;
            let next = gas
                .temperature_at_enthalpy(enthalpy, temperature)
                .map_err(|_| Snag::TooLittle)?;
            if (next - temperature).abs() < 1e-13 * temperature {
                return Ok(Rotors { flow, power });
            }
            temperature = next;
        }
        Err(Snag::TooLittle)
    }

    /// What the way around does where the rotors would hold `p2` Pa by themselves.
    fn explicit_way(&self, bypass: Bypass, p2: f64, open: Option<f64>) -> Way {
        let Some(open) = open else { return Way::Shut };
        if p2 < open {
            return Way::Open;
        }
        match bypass {
            Bypass::Regulated {
                pressure,
                at: BypassAt::SuperchargerOutlet,
                ..
            } => {
                let held = self.solver.ambient.pressure + pressure;
                if held < open {
                    Way::Open
                } else if p2 > held {
                    Way::HoldingOutlet
                } else {
                    Way::Shut
                }
            }
            _ => Way::Shut,
        }
    }

    fn centrifugal(
        &mut self,
        stage: &Supercharger,
        machine: &Centrifugal,
        inlet: &AirState,
    ) -> Result<AirState, Snag> {
        let variable = self.take_variable();
        let belt = self.take_belt();
        if !stage.is_engaged(self.solver.rpm) {
            return Ok(self.disengaged(variable, stage, inlet));
        }
        let rpm = machine.belt.ratio * self.solver.rpm;
        let reference = machine.map.reference();
        let speed = CorrectedSpeed::from_actual(rpm, inlet.temperature, reference);
        let wanted =
            CorrectedFlow::from_actual(self.flow, inlet.pressure, inlet.temperature, reference);
        let open = stage
            .bypass
            .open_drop()
            .map(|drop| 1.0 - drop / inlet.pressure);
        if self.explicit {
            let point = machine.map.at_speed_and_flow(speed, wanted);
            self.trial.x[variable] = point.place;
            self.trial.ways[belt] = match open {
                Some(open) if point.pressure_ratio < open => Way::Open,
                _ => Way::Shut,
            };
        }
        let point = match (self.trial.ways[belt], open) {
            (Way::Open, Some(open)) => machine.map.at_speed_and_ratio(speed, open),
            _ => machine
                .map
                .at_speed_and_place(speed, self.trial.x[variable]),
        };
        let shut = self.trial.ways[belt] == Way::Shut;
        self.balances[variable] = if shut && !self.explicit {
            point.flow.0 / wanted.0 - 1.0
        } else {
            0.0
        };
        let ratio = if shut {
            point.pressure_ratio
        } else {
            open.unwrap_or(1.0)
        };
        let own_flow = if shut {
            self.flow
        } else {
            point
                .flow
                .to_actual(inlet.pressure, inlet.temperature, reference)
        };
        let gas = &self.solver.gas;
        let power = own_flow * map_rise(gas, inlet, &machine.map, &point).ok_or(Snag::TooLittle)?;
        let outlet =
            compress_by(gas, inlet, ratio, power / self.flow).map_err(|_| Snag::TooLittle)?;
        let noted = self.note(inlet, outlet, own_flow, power);
        let shaft = power.max(0.0) / machine.mechanical_efficiency;
        noted.shaft_power = Some(shaft);
        noted.crank_power = Some(shaft / machine.belt.efficiency);
        noted.speed = Some(rpm);
        noted.corrected_flow = Some(
            CorrectedFlow::from_actual(own_flow, inlet.pressure, inlet.temperature, reference).0,
        );
        noted.corrected_speed = Some(speed.0);
        Ok(outlet)
    }

    fn turbo_compressor(
        &mut self,
        turbo: &TurboCompressor,
        inlet: &AirState,
    ) -> Result<AirState, Snag> {
        let rpm = self.solver.rpm;
        match &turbo.performance {
            CompressorPerformance::Prescribed(given) => {
                let ratio = given.pressure_ratio.at(rpm);
                match (&given.efficiency, &turbo.map) {
                    (Some(table), _) => {
                        let outlet = self.prescribed(inlet, ratio, table.at(rpm))?;
                        if let Some(map) = &turbo.map {
                            self.correct(inlet, map, None);
                        }
                        Ok(outlet)
                    }
                    (None, Some(map)) => {
                        let wanted = CorrectedFlow::from_actual(
                            self.flow,
                            inlet.pressure,
                            inlet.temperature,
                            map.reference(),
                        );
                        let point = map.at_flow_and_ratio(wanted, ratio);
                        let outlet = self.prescribed(inlet, ratio, point.efficiency)?;
                        self.correct(inlet, map, Some(point.speed.0));
                        Ok(outlet)
                    }
                    (None, None) => self.prescribed(inlet, ratio, 1.0),
                }
            }
            CompressorPerformance::Efficiency(table) => {
                let ratio = self.climb_of_this_stage().exp();
                self.prescribed(inlet, ratio, table.at(rpm))
            }
            CompressorPerformance::Map => match &turbo.map {
                Some(map) => self.on_the_map(map, inlet),
                None => Err(Snag::TooLittle),
            },
        }
    }

    /// Notes the corrected flow and speed of the stage just noted.
    fn correct(&mut self, inlet: &AirState, map: &CompressorMap, corrected_speed: Option<f64>) {
        let reference = map.reference();
        let flow =
            CorrectedFlow::from_actual(self.flow, inlet.pressure, inlet.temperature, reference);
        if let Some(noted) = self.record.stages.last_mut() {
            noted.corrected_flow = Some(flow.0);
            noted.corrected_speed = corrected_speed;
            noted.speed = corrected_speed
                .map(|speed| CorrectedSpeed(speed).to_actual(inlet.temperature, reference));
        }
    }

    fn on_the_map(&mut self, map: &CompressorMap, inlet: &AirState) -> Result<AirState, Snag> {
        let variable = self.take_variable();
        let rpm = self.climb_of_this_stage() * map.speeds().1.0;
        let reference = map.reference();
        let speed = CorrectedSpeed::from_actual(rpm, inlet.temperature, reference);
        let wanted =
            CorrectedFlow::from_actual(self.flow, inlet.pressure, inlet.temperature, reference);
        if self.explicit {
            self.trial.x[variable] = map.at_speed_and_flow(speed, wanted).place;
        }
        let point = map.at_speed_and_place(speed, self.trial.x[variable]);
        self.balances[variable] = if self.explicit {
            0.0
        } else {
            point.flow.0 / wanted.0 - 1.0
        };
        if point.pressure_ratio.is_nan() || point.pressure_ratio <= 0.01 {
            return Err(Snag::TooMuch);
        }
        let gas = &self.solver.gas;
        let rise = map_rise(gas, inlet, map, &point).ok_or(Snag::TooLittle)?;
        let outlet =
            compress_by(gas, inlet, point.pressure_ratio, rise).map_err(|_| Snag::TooLittle)?;
        let noted = self.note(inlet, outlet, self.flow, self.flow * rise);
        noted.speed = Some(rpm);
        noted.corrected_flow = Some(wanted.0);
        noted.corrected_speed = Some(speed.0);
        Ok(outlet)
    }

    /// The climb of the turbine that drives the stage about to be noted.
    fn climb_of_this_stage(&self) -> f64 {
        let part = self.record.behind.len();
        let turbine = self.solver.driven.iter().position(|driven| *driven == part);
        turbine
            .and_then(|turbine| self.solver.index(Variable::Climb { turbine }))
            .map_or(0.0, |variable| self.trial.x[variable])
    }

    fn take_variable(&mut self) -> usize {
        self.next += 1;
        self.next - 1
    }

    fn take_belt(&mut self) -> usize {
        self.belts += 1;
        self.belts - 1
    }

    /// The engine and all behind it, with the pressures as the trial has them.
    fn engine_and_exhaust(&mut self, manifold: &AirState) -> Result<(), Snag> {
        let solver = self.solver;
        let site_pressure = solver.ambient.pressure;
        let pipe = solver.index(Variable::Pipe);
        let outlet_pressure = pipe.map_or(site_pressure, |i| site_pressure * self.trial.x[i].exp());
        let first_turbine = self.turbine_pressure(0);
        let exhaust_pressure = first_turbine.or(pipe.map(|_| outlet_pressure));
        let engine = &solver.installation.engine;
        let ve = engine
            .volumetric_efficiency_at(solver.rpm, exhaust_pressure.map(|p| p / manifold.pressure));
        if ve <= 0.0 {
            return Err(Snag::TooMuch);
        }
        self.record.volumetric_efficiency = ve;
        let swallowed = ve * manifold.density(&solver.gas) * engine.swept_flow(solver.rpm);
        self.balances[0] = swallowed / self.flow - 1.0;
        self.burn(manifold, exhaust_pressure)?;
        let Some(burnt) = self.record.burnt else {
            return Ok(());
        };
        let fuel_flow = self.record.charge.map_or(0.0, |charge| charge.fuel_flow);
        let exhaust_flow = self.flow + fuel_flow;
        let mut enthalpy = burnt.enthalpy;
        let mut temperature = burnt
            .gas
            .temperature_at_enthalpy(enthalpy, 900.0)
            .map_err(|_| {
                if enthalpy > 0.0 {
                    Snag::TooMuch
                } else {
                    Snag::TooLittle
                }
            })?;
        for turbine in 0..solver.driven.len() {
            let next = self
                .turbine_pressure(turbine + 1)
                .unwrap_or(outlet_pressure);
            let noted = self.turbine(turbine, (enthalpy, temperature), exhaust_flow, next)?;
            enthalpy = noted.outlet_enthalpy;
            temperature = noted.outlet_temperature;
            self.record.turbines.push(noted);
        }
        if let (Some(i), Some(exhaust)) = (pipe, &solver.installation.exhaust) {
            let density = burnt.gas.density(outlet_pressure, temperature);
            let drop = exhaust.pressure_drop.pressure_drop(exhaust_flow, density);
            self.balances[i] = (outlet_pressure - site_pressure - drop) / outlet_pressure;
        }
        self.record.outlet = Some((outlet_pressure, enthalpy, temperature));
        self.limits(manifold);
        Ok(())
    }

    /// Pressure ahead of a turbine, Pa.
    fn turbine_pressure(&self, turbine: usize) -> Option<f64> {
        let i = self.solver.index(Variable::TurbineInlet { turbine })?;
        Some(self.solver.ambient.pressure * self.trial.x[i].exp())
    }

    fn burn(&mut self, manifold: &AirState, exhaust_pressure: Option<f64>) -> Result<(), Snag> {
        let solver = self.solver;
        let Some(fuel) = &solver.installation.fuel else {
            return Ok(());
        };
        let engine = &solver.installation.engine;
        let dry_air = self.flow * solver.dry_share;
        let charge = fuel.charge(engine, solver.rpm, dry_air, solver.fuel_factor);
        let ends = CylinderEnds {
            air_flow: self.flow,
            manifold_enthalpy: manifold.enthalpy,
            manifold_pressure: manifold.pressure,
            exhaust_pressure,
        };
        // Held fuel and too little air is soot: more flow is wanted.
        let burnt = burn(engine, fuel, &solver.moles, &charge, &ends, solver.rpm)
            .map_err(|_| Snag::TooLittle)?;
        self.record.charge = Some(charge);
        self.record.burnt = burnt;
        Ok(())
    }

    fn turbine(
        &mut self,
        turbine: usize,
        (enthalpy, temperature): (f64, f64),
        exhaust_flow: f64,
        outlet_pressure: f64,
    ) -> Result<TurbineRecord, Snag> {
        let solver = self.solver;
        let described = &solver.installation.turbines[turbine];
        let Some(burnt) = self.record.burnt else {
            return Err(Snag::TooLittle);
        };
        let gas = &burnt.gas;
        let pressure = self.turbine_pressure(turbine).unwrap_or(outlet_pressure);
        let expansion = pressure / outlet_pressure;
        let share = self.gate_share(turbine);
        let flow = (1.0 - share) * exhaust_flow;
        let compressor = self.stage_driven_by(turbine);
        let shaft_speed = compressor.and_then(|stage| stage.speed);
        let gamma = gas.gamma(temperature).map_err(|_| Snag::TooLittle)?;
        let swallowed = match &described.swallowing {
            Swallowing::Area {
                effective_area,
                law,
            } => {
                let psi = signed_flow_function(gamma, expansion, *law);
                let root = (gas.gas_constant() * temperature).sqrt();
                Swallowed {
                    flow: pressure * effective_area * psi / root,
                    choked: expansion >= choking_ratio(gamma, *law),
                    efficiency: None,
                }
            }
            Swallowing::Map(map) => {
                let reference = map.reference();
                let speed = shaft_speed.unwrap_or(0.0);
                let speed = CorrectedSpeed::from_actual(speed, temperature, reference);
                let point = map.at_speed_and_ratio(speed, expansion.max(1.0));
                let flow = point.flow.to_actual(pressure, temperature, reference);
                Swallowed {
                    flow,
                    choked: false,
                    efficiency: Some(point.efficiency),
                }
            }
        };
        if let Some(i) = solver.index(Variable::TurbineInlet { turbine }) {
            self.balances[i] = swallowed.flow / flow - 1.0;
        }
        let work = described
            .expand(
                gas,
                temperature,
                expansion.max(1.0),
                shaft_speed,
                swallowed.efficiency,
            )
            .map_err(|_| Snag::TooMuch)?;
        let outlet_enthalpy = enthalpy - (1.0 - share) * work.work;
        let outlet_temperature = gas
            .temperature_at_enthalpy(outlet_enthalpy, temperature)
            .map_err(|_| Snag::TooMuch)?;
        let power = flow * work.work;
        let given = described.mechanical_efficiency * power;
        let taken = compressor.map_or(0.0, |stage| stage.power);
        if let Some(i) = solver.index(Variable::Climb { turbine }) {
            let larger = given.abs().max(taken.abs());
            self.balances[i] = if larger > 0.0 {
                (given - taken) / larger
            } else {
                0.0
            };
        }
        Ok(TurbineRecord {
            inlet_pressure: pressure,
            inlet_temperature: temperature,
            inlet_enthalpy: enthalpy,
            outlet_pressure,
            outlet_enthalpy,
            outlet_temperature,
            flow,
            share,
            efficiency: work.efficiency,
            power,
            excess: given - taken,
            choked: swallowed.choked,
        })
    }

    /// The stage that a turbine drives.
    fn stage_driven_by(&self, turbine: usize) -> Option<StageRecord> {
        let part = *self.solver.driven.get(turbine)?;
        let stage = self
            .solver
            .layout
            .stages
            .iter()
            .position(|(_, at)| *at == part)?;
        self.record.stages.get(stage).copied()
    }

    fn gate_share(&self, turbine: usize) -> f64 {
        let gate = self.solver.index(Variable::Gate { turbine });
        gate.map_or(0.0, |i| self.trial.x[i])
    }

    /// What is left of the boost limits.
    fn limits(&mut self, manifold: &AirState) {
        let solver = self.solver;
        for turbine in 0..solver.driven.len().min(MOST) {
            let gate = solver.installation.turbines[turbine].wastegate.as_ref();
            if let (Some(i), Some(gate)) = (solver.index(Variable::Gate { turbine }), gate) {
                let felt = match gate.boost_at {
                    BoostAt::Manifold => manifold.pressure,
                    BoostAt::CompressorOutlet => self
                        .stage_driven_by(turbine)
                        .map_or(manifold.pressure, |stage| stage.outlet.pressure),
                };
                let limit = solver.ambient.pressure + gate.boost_limit.at(solver.rpm);
                self.balances[i] = felt / limit - 1.0;
            }
        }
    }

    /// Finds the pressures behind the engine from the flow alone: what the pipe takes, then back
    /// through the turbines, until nothing changes. Each pass shrinks the error, because exhaust
    /// temperature hangs only weakly on these pressures.
    fn settle_exhaust(&mut self, manifold: &AirState) -> Result<(), Snag> {
        let solver = self.solver;
        let site_pressure = solver.ambient.pressure;
        let pipe = solver.index(Variable::Pipe);
        for _ in 0..60 {
            self.record.turbines.clear();
            self.engine_and_exhaust(manifold)?;
            let Some(burnt) = self.record.burnt else {
                return Ok(());
            };
            let mut largest_change = 0.0_f64;
            let mut outlet = site_pressure;
            let exhaust_flow =
                self.flow + self.record.charge.map_or(0.0, |charge| charge.fuel_flow);
            if let (Some(i), Some(exhaust), Some((at, _, temperature))) =
                (pipe, &solver.installation.exhaust, self.record.outlet)
            {
                let density = burnt.gas.density(at, temperature);
                outlet += exhaust.pressure_drop.pressure_drop(exhaust_flow, density);
                largest_change = largest_change.max(self.replace(i, (outlet / site_pressure).ln()));
            }
            for turbine in (0..solver.driven.len()).rev() {
                let noted = self.record.turbines[turbine];
                let inlet = self
                    .pressure_ahead(turbine, &burnt.gas, &noted, outlet)
                    .ok_or(Snag::TooMuch)?;
                if let Some(i) = solver.index(Variable::TurbineInlet { turbine }) {
                    largest_change =
                        largest_change.max(self.replace(i, (inlet / site_pressure).ln()));
                }
                outlet = inlet;
            }
            if largest_change < 1e-10 {
                break;
            }
        }
        self.record.turbines.clear();
        Ok(())
    }

    fn replace(&mut self, variable: usize, value: f64) -> f64 {
        let change = (self.trial.x[variable] - value).abs();
        self.trial.x[variable] = value;
        change
    }

    /// The pressure in Pa that pushes a turbine's flow against an outlet pressure in Pa.
    fn pressure_ahead(
        &self,
        turbine: usize,
        gas: &Gas,
        noted: &TurbineRecord,
        outlet: f64,
    ) -> Option<f64> {
        match &self.solver.installation.turbines[turbine].swallowing {
            Swallowing::Area {
                effective_area,
                law,
            } => {
                let gamma = gas.gamma(noted.inlet_temperature).ok()?;
                let root = (gas.gas_constant() * noted.inlet_temperature).sqrt();
                Some(inlet_pressure(
                    gamma,
                    *law,
                    noted.flow * root / effective_area,
                    outlet,
                ))
            }
            Swallowing::Map(map) => {
                let reference = map.reference();
                let speed = self
                    .stage_driven_by(turbine)
                    .and_then(|stage| stage.speed)
                    .unwrap_or(0.0);
                let speed = CorrectedSpeed::from_actual(speed, noted.inlet_temperature, reference);
                let (mut low, mut high) = (outlet, 60.0 * outlet);
                for _ in 0..60 {
                    let middle = 0.5 * (low + high);
                    let point = map.at_speed_and_ratio(speed, middle / outlet);
                    let flow = point
                        .flow
                        .to_actual(middle, noted.inlet_temperature, reference);
                    if flow < noted.flow {
                        low = middle;
                    } else {
                        high = middle;
                    }
                }
                Some(0.5 * (low + high))
            }
        }
    }
}

/// What the rotors deliver, kg/s, and give to the air, W.
struct Rotors {
    flow: f64,
    power: f64,
}

/// What a turbine swallows, kg/s.
struct Swallowed {
    flow: f64,
    choked: bool,
    efficiency: Option<f64>,
}

/// Largest share of the exhaust that a gate of a turbine passes.
pub(super) fn largest_share(solver: &Solver, turbine: usize) -> Option<f64> {
    solver.installation.turbines.get(turbine)?.largest_share()
}

/// Whether the gate of a turbine holds its limit in this trial.
pub(super) fn is_holding(trial: &Trial, turbine: usize) -> bool {
    trial.gates[turbine] == Gate::Holding
}

/// ψ, mirrored below an expansion ratio of 1 so that a trial there has a way back.
fn signed_flow_function(gamma: f64, expansion: f64, law: FlowLaw) -> f64 {
    if expansion >= 1.0 {
        flow_function(gamma, expansion, law)
    } else {
        -flow_function(gamma, 1.0 / expansion, law)
    }
}

fn choking_ratio(gamma: f64, law: FlowLaw) -> f64 {
    match law {
        FlowLaw::Nozzle => critical_ratio(gamma),
        FlowLaw::TwoThroats => critical_ratio(gamma).powi(2),
    }
}

/// Enthalpy rise in J/kg of a compressor at a point of its map: the isentropic rise over the
/// efficiency where it compresses, the map's work carried to the inlet temperature where it hardly
/// does, and a straight blend between.
fn map_rise(gas: &Gas, inlet: &AirState, map: &CompressorMap, point: &MapPoint) -> Option<f64> {
    let by_work = point.work * inlet.temperature / map.reference().temperature;
    if point.pressure_ratio <= 1.0 {
        return Some(by_work);
    }
    let by_efficiency = isentropic_rise(gas, inlet, point.pressure_ratio).ok()? / point.efficiency;
    let share = ((point.pressure_ratio - 1.0) / (FULL_COMPRESSION - 1.0)).min(1.0);
    Some(by_work + share * (by_efficiency - by_work))
}
