//! The run itself: steps in time, each an exact solution with the conductances of its own middle.

use super::moment::{Moment, Moments};
use super::network::{HeatPassed, Network, Stores};
use super::outcome::{SoakError, SoakRequest, SoakRow, SoakRun, Speed, Stop, StopReason};
use super::water::{MELTING_HEAT, Tank};
use crate::air_path::{Cooler, SinkFluid, WaterCircuit};
use crate::gas::saturation_temperature;
use crate::matching::{Installation, Layout, MatchError};
use crate::numeric::root::between;
use crate::study::cooler::cooler_at;

/// Difference of a step with the conductances of its start from one with those of its middle that
/// is let pass, K. The error of the latter is of the next order.
const STEP_ERROR: f64 = 0.02;
/// No step is shorter, s.
const SHORTEST: f64 = 1e-3;
/// Where the last ice melts is found within this, s.
const MELTED: f64 = 1e-9;
/// Water in the hoses of a circuit without tank, m³ (assumption: some metres of hose).
const HOSES: f64 = 1e-3;
/// Rows of a run, about.
const ROWS: f64 = 24.0;

/// Runs a cooler for a time.
pub fn run(
    installation: &Installation,
    layout: &Layout,
    asked: &SoakRequest,
) -> Result<SoakRun, SoakError> {
    let part = layout
        .coolers
        .get(asked.cooler)
        .ok_or(SoakError::NoCooler)?
        .1;
    let cooler = cooler_at(installation, part).ok_or(SoakError::NoCooler)?;
    let mut course = Course::new(installation, cooler, (asked.cooler, part), asked)?;
    let mut out = SoakRun::empty();
    for time in times(asked.seconds) {
        if let Err(reason) = course.go_to(time, &mut out) {
            let rpm = course.rpm(course.seconds);
            if out.rows.is_empty() {
                return Err(SoakError::NoStart { rpm, reason });
            }
            out.stopped = Some(Stop {
                seconds: course.seconds,
                rpm,
                reason,
            });
            break;
        }
    }
    course.close(&mut out);
    Ok(out)
}

/// Even times from 0 to the end; the end always stands.
fn times(seconds: f64) -> Vec<f64> {
    let wanted = seconds / ROWS;
    let power = 10_f64.powf(wanted.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|factor| factor * power)
        .find(|&step| step >= wanted * (1.0 - 1e-9))
        .unwrap_or(wanted);
    let mut times = Vec::new();
    let mut count = 0.0;
    while count * step < seconds - 0.01 * step {
        times.push(count * step);
        count += 1.0;
    }
    times.push(seconds);
    times
}

/// Where a run stands.
struct Course<'a> {
    moments: Moments<'a>,
    speed: Speed,
    length: f64,
    target: Option<f64>,
    metal: Option<f64>,
    circuit: Option<WaterCircuit>,
    started: (Stores, Option<Tank>),
    seconds: f64,
    stores: Stores,
    tank: Option<Tank>,
    /// Where the sink boils, K, where it is water.
    boiling: Option<f64>,
    /// The step to try next, s.
    step: f64,
    /// Time and charge temperature of the last moment seen.
    last: Option<(f64, f64)>,
    heat: HeatPassed,
}

fn has_tank(circuit: &WaterCircuit) -> bool {
    circuit.tank_volume > 0.0 || circuit.ice_mass > 0.0
}

/// Where the sink of a cooler boils, K; `None` for air.
fn boiling(cooler: &Cooler) -> Option<f64> {
    let sink = &cooler.sink;
    let pressure = sink
        .circuit
        .map_or(sink.pressure, |circuit| circuit.pressure);
    match sink.fluid {
        SinkFluid::Water => saturation_temperature(pressure),
        SinkFluid::Air => None,
    }
}

/// The circuit as a store. With a radiator and no tank the water soon stands as warm as the radiator
/// needs it, and what the hoses hold is all there is; without both it is an endless supply.
fn storing(circuit: WaterCircuit) -> Option<WaterCircuit> {
    if has_tank(&circuit) {
        return Some(circuit);
    }
    (circuit.radiator_conductance > 0.0).then_some(WaterCircuit {
        tank_volume: HOSES,
        ..circuit
    })
}

impl<'a> Course<'a> {
    fn new(
        installation: &Installation,
        cooler: &'a Cooler,
        place: (usize, usize),
        asked: &SoakRequest,
    ) -> Result<Self, SoakError> {
        let metal = cooler.metal.filter(|&capacity| capacity > 0.0);
        let circuit = cooler.sink.circuit.and_then(storing);
        let has_tank = cooler.sink.circuit.as_ref().is_some_and(has_tank);
        if metal.is_none() && !has_tank {
            return Err(SoakError::NothingStores);
        }
        let sink = cooler.sink.temperature;
        let tank = circuit.map(|circuit| Tank::new(&circuit, asked.start.unwrap_or(sink)));
        let sink = tank.map_or(sink, |tank| tank.temperature);
        let stores = Stores {
            metal: asked.start.unwrap_or(sink),
            sink,
        };
        Ok(Self {
            moments: Moments::new(installation, cooler, place)?,
            speed: asked.speed,
            length: asked.seconds,
            target: asked.target,
            metal,
            circuit,
            started: (stores, tank),
            seconds: 0.0,
            stores,
            tank,
            boiling: boiling(cooler),
            step: 0.25,
            last: None,
            heat: HeatPassed::default(),
        })
    }

    fn rpm(&self, seconds: f64) -> f64 {
        match self.speed {
            Speed::Held(rpm) => rpm,
            Speed::Swept { from, to } => from + (to - from) * (seconds / self.length),
        }
    }

    /// Goes on to a time and notes a row there.
    fn go_to(&mut self, time: f64, out: &mut SoakRun) -> Result<(), StopReason> {
        let mut now = self.moment(self.seconds, self.stores)?;
        self.note(&now, out)?;
        while time - self.seconds > 0.0 {
            self.take_step(&now, time, out)?;
            now = self.moment(self.seconds, self.stores)?;
            self.note(&now, out)?;
        }
        out.rows.push(self.row(&now));
        Ok(())
    }

    /// The match of a moment, with the stores that are at work.
    fn moment(&mut self, seconds: f64, stores: Stores) -> Result<Moment, MatchError> {
        // Melting ice holds the water at its temperature.
        let water = self.tank.filter(|tank| tank.ice <= 0.0);
        let to_air = self
            .circuit
            .map_or(0.0, |circuit| circuit.radiator_conductance);
        let rpm = self.rpm(seconds);
        let water = water.map(|tank| tank.capacity);
        self.moments.at(rpm, stores, self.metal, water, to_air)
    }

    /// One step towards a time, as long as the conductances allow.
    fn take_step(&mut self, now: &Moment, time: f64, out: &mut SoakRun) -> Result<(), MatchError> {
        let mut step = self.step.min(time - self.seconds);
        loop {
            let (rough, _) = now.network.advance(self.stores, step);
            let (middle, _) = now.network.advance(self.stores, 0.5 * step);
            let network = self.moment(self.seconds + 0.5 * step, middle)?.network;
            let (end, _) = network.advance(self.stores, step);
            let error = (end.metal - rough.metal)
                .abs()
                .max((end.sink - rough.sink).abs());
            let change = (0.9 * (STEP_ERROR / error.max(1e-12)).sqrt()).clamp(0.2, 3.0);
            if error > STEP_ERROR && step > SHORTEST {
                step = (change * step).max(SHORTEST);
                continue;
            }
            let taken = self.accept(&network, step, out);
            self.step = (change * taken).max(SHORTEST);
            // The end of a row is met to the last digit, not nearly.
            if time - self.seconds < 1e-9 * time.max(1.0) {
                self.seconds = time;
            }
            return Ok(());
        }
    }

    /// Takes a step, or as much of it as there is ice for; returns what was taken, s.
    fn accept(&mut self, network: &Network, mut step: f64, out: &mut SoakRun) -> f64 {
        if let Some(tank) = self.tank.as_mut().filter(|tank| tank.ice > 0.0) {
            let left = |seconds: f64| {
                let (_, passed) = network.advance(self.stores, seconds);
                tank.ice - (passed.to_sink - passed.to_air) / MELTING_HEAT
            };
            if left(step) <= 0.0 {
                let found = between(0.0, step, left, 0.0, MELTED);
                step = found.place().unwrap_or(step).min(step);
                tank.ice = 0.0;
                out.ice_gone_at = Some(self.seconds + step);
            } else {
                tank.ice = left(step);
            }
        }
        let (end, passed) = network.advance(self.stores, step);
        self.stores = end;
        if let Some(tank) = &mut self.tank {
            tank.temperature = end.sink;
        }
        self.heat += passed;
        self.seconds += step;
        step
    }

    /// Looks whether the water boils, and whether the target was passed since the last moment.
    fn note(&mut self, now: &Moment, out: &mut SoakRun) -> Result<(), StopReason> {
        if let Some(boiling) = self.boiling
            && self.leaving(now) > boiling
        {
            return Err(StopReason::Boils(boiling));
        }
        let charge = now.charge_temperature;
        if charge > out.hottest {
            (out.hottest, out.hottest_at) = (charge, self.seconds);
        }
        if let (Some(target), None) = (self.target, out.passed_at)
            && charge > target
        {
            out.passed_at = Some(match self.last {
                Some((then, before)) if before < charge => {
                    then + (self.seconds - then) * (target - before) / (charge - before)
                }
                _ => self.seconds,
            });
        }
        self.last = Some((self.seconds, charge));
        Ok(())
    }

    /// Temperature of the sink where it leaves, K; where its flow is not known, where it enters.
    fn leaving(&self, now: &Moment) -> f64 {
        let heat = now.network.heat_to_sink(self.stores);
        let warmed = now.sink_capacity.map_or(0.0, |capacity| heat / capacity);
        self.stores.sink + warmed
    }

    fn row(&self, now: &Moment) -> SoakRow {
        let state = now.found.coolers[self.moments.cooler()];
        SoakRow {
            seconds: self.seconds,
            rpm: self.rpm(self.seconds),
            metal_temperature: self.metal.map(|_| self.stores.metal),
            water_temperature: self.tank.map(|tank| tank.temperature),
            ice: self
                .started
                .1
                .filter(|tank| tank.ice > 0.0)
                .and(self.tank)
                .map(|tank| tank.ice),
            outlet_temperature: state.outlet_temperature,
            charge_temperature: now.charge_temperature,
            manifold_pressure: now.found.manifold_pressure,
            brake_power: now.found.engine.brake_power,
            heat: state.heat,
        }
    }

    /// What was stored between start and end.
    fn close(self, out: &mut SoakRun) {
        out.heat = self.heat;
        let (stores, tank) = self.started;
        out.stored_in_metal = self
            .metal
            .map(|capacity| capacity * (self.stores.metal - stores.metal));
        if let (Some(end), Some(start)) = (self.tank, tank) {
            out.stored_in_water = Some(end.heat_above(&start));
        }
    }
}
