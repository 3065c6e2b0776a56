//! One moment of a run: the match with the charge cooled by a core as warm as it is, and the
//! conductances on both sides of the metal that belong to it.

use super::network::{Network, Stores};
use crate::air_path::{AirState, Cooled, Cooler, RatedDrop, SinkFlow, SinkSide};
use crate::gas::Gas;
use crate::matching::{
    Installation, Layout, LayoutError, Match, MatchError, Neighbour, Solver, StationPlace,
};
use crate::study::cooler::{drop_of, holding};
use crate::study::solve_from;

/// Share of the charge side in the resistance to heat where the sides are not known apart
/// (assumption: halves, as in a core with like fins on both sides).
const USUAL_CHARGE_SHARE: f64 = 0.5;
/// Between charge and metal or sink less than this counts as none, K.
const NO_DIFFERENCE: f64 = 1e-6;
/// An effectiveness nearer to 1 than this is taken as this: a store needs some resistance.
const NEARLY_PERFECT: f64 = 1e-6;
/// The effectiveness between charge and metal counts as found within this.
const FOUND: f64 = 1e-10;
/// Trials for it; it follows the flow weakly, so that each gains a digit or more.
const MOST_TRIALS: usize = 40;

/// A match of one moment.
#[derive(Debug, Clone)]
pub(super) struct Moment {
    pub found: Match,
    pub network: Network,
    /// Charge temperature in the manifold, K.
    pub charge_temperature: f64,
    /// Capacity flow of the sink, W/K, where known.
    pub sink_capacity: Option<f64>,
}

/// Matches an installation moment by moment, each started from the last.
pub(super) struct Moments<'a> {
    cooler: &'a Cooler,
    /// The installation with the cooler of the moment.
    trial: Installation,
    layout: Layout,
    /// Which cooler, counted from 0 in flow order, and its place among the parts.
    place: (usize, usize),
    gas: Gas,
    near: Option<Neighbour>,
    /// Effectiveness between charge and metal at the last moment.
    to_metal: f64,
    /// The charge's drop at the last moment.
    drop: RatedDrop,
}

/// The cooler once settled, with the charge and the sink of a moment.
struct Settled {
    cooled: Cooled,
    /// Mean capacity flow of the charge on its way, W/K.
    capacity_flow: f64,
    sink: SinkSide,
}

/// The charge as it reaches the cooler.
struct Charge {
    inlet: AirState,
    flow: f64,
}

impl<'a> Moments<'a> {
    pub fn new(
        installation: &Installation,
        cooler: &'a Cooler,
        place: (usize, usize),
    ) -> Result<Self, LayoutError> {
        let solver = Solver::new(installation)?;
        Ok(Self {
            cooler,
            layout: solver.layout().clone(),
            gas: *solver.gas(),
            trial: installation.clone(),
            place,
            near: None,
            to_metal: 0.9,
            drop: cooler.pressure_drop,
        })
    }

    /// Which cooler, counted from 0 in flow order.
    pub fn cooler(&self) -> usize {
        self.place.0
    }

    /// The match at an engine speed in rpm with the stores as warm as they are. `metal` and `water`
    /// are heat capacities in J/K; `to_air` the conductance of the water's radiator, W/K.
    pub fn at(
        &mut self,
        rpm: f64,
        stores: Stores,
        metal: Option<f64>,
        water: Option<f64>,
        to_air: f64,
    ) -> Result<Moment, MatchError> {
        let (found, settled, [to_charge, to_sink]) = if metal.is_some() {
            self.through_metal(rpm, stores)?
        } else {
            self.straight(rpm, stores.sink)?
        };
        let charge_temperature = found
            .station(&self.layout, StationPlace::Manifold)
            .map_or(stores.sink, |state| state.temperature);
        // The radiator sees the water that leaves the cooler.
        let sink_capacity = settled.sink.flow.map(|flow| flow.1);
        let sink_capacity = sink_capacity.filter(|&capacity| capacity > 0.0);
        let at_once = sink_capacity.map_or(0.0, |capacity| (to_air / capacity).min(1.0));
        let network = Network {
            charge_temperature: found.coolers[self.place.0].inlet_temperature,
            air_temperature: self.cooler.sink.temperature,
            to_charge,
            to_sink,
            to_air,
            at_once,
            metal,
            water,
        };
        Ok(Moment {
            found,
            network,
            charge_temperature,
            sink_capacity,
        })
    }

    /// The cooler as it stands, with its sink at a temperature: nothing lies between.
    fn straight(&mut self, rpm: f64, sink: f64) -> Result<(Match, Settled, [f64; 2]), MatchError> {
        let found = self.solve(rpm, self.cooler.with_sink_temperature(sink))?;
        let settled = self.settled(&self.charge(&found), sink, rpm)?;
        let through = settled.capacity_flow * settled.cooled.effectiveness;
        Ok((found, settled, [2.0 * through, 2.0 * through]))
    }

    /// The charge cooled by the metal.
    fn through_metal(
        &mut self,
        rpm: f64,
        stores: Stores,
    ) -> Result<(Match, Settled, [f64; 2]), MatchError> {
        let mut trials = 0;
        loop {
            let found = self.solve(rpm, self.wall(stores.metal))?;
            let charge = self.charge(&found);
            let settled = self.settled(&charge, stores.sink, rpm)?;
            let to_metal = self.to_metal_of(&settled, &charge, stores.sink)?;
            let drop = self.drop_of(&settled, &charge);
            let change = (to_metal - self.to_metal)
                .abs()
                .max((drop.coefficient / self.drop.coefficient.max(1e-300) - 1.0).abs());
            trials += 1;
            if change > FOUND && trials < MOST_TRIALS {
                (self.to_metal, self.drop) = (to_metal, drop);
                continue;
            }
            let state = found.coolers[self.place.0];
            let above = state.inlet_temperature - stores.metal;
            let to_charge = if above.abs() > NO_DIFFERENCE {
                state.heat / above
            } else {
                settled.capacity_flow * self.to_metal
            };
            // In series with k_c it passes the settled heat.
            let effectiveness = nearly_perfect(&settled.cooled);
            let share = (effectiveness / self.to_metal).min(1.0 - NEARLY_PERFECT);
            let to_sink = settled.capacity_flow * effectiveness / (1.0 - share);
            return Ok((found, settled, [to_charge, to_sink]));
        }
    }

    /// The core as a wall of one temperature in K.
    fn wall(&self, temperature: f64) -> Cooler {
        let mut wall = holding(self.cooler, self.to_metal, self.drop);
        wall = wall.with_sink_temperature(temperature);
        wall.sink.flow = SinkFlow::Unknown;
        wall
    }

    /// Effectiveness between the charge and a wall of one temperature, 1 − e^(−N_c).
    fn to_metal_of(
        &self,
        settled: &Settled,
        charge: &Charge,
        sink: f64,
    ) -> Result<f64, MatchError> {
        let own = self
            .cooler
            .charge_conductance(&self.gas, &charge.inlet, charge.flow, sink)
            .map_err(MatchError::Sink)?;
        let units = own.map_or_else(
            || {
                let exchanger = settled.cooled.exchanger.as_ref();
                let whole = exchanger.map_or_else(
                    || -(-nearly_perfect(&settled.cooled)).ln_1p(),
                    |exchanger| exchanger.conductance / settled.capacity_flow,
                );
                whole / USUAL_CHARGE_SHARE
            },
            |conductance| conductance / settled.capacity_flow,
        );
        Ok(-(-units).exp_m1())
    }

    /// The charge's drop, which a core's geometry gives anew for each flow.
    fn drop_of(&self, settled: &Settled, charge: &Charge) -> RatedDrop {
        let drop = charge.inlet.pressure - settled.cooled.outlet.pressure;
        let density = charge.inlet.density(&self.gas);
        drop_of(self.cooler, drop, density, charge.flow)
    }

    /// What the cooler would do with this charge once settled.
    fn settled(&self, charge: &Charge, sink: f64, rpm: f64) -> Result<Settled, MatchError> {
        let cooler = self.cooler.with_sink_temperature(sink);
        let side = cooler.sink_side(&self.gas, rpm).map_err(MatchError::Sink)?;
        let (inlet, flow) = (&charge.inlet, charge.flow);
        let mut cooled = cooler
            .cool_against(&self.gas, inlet, flow, rpm, &side)
            .map_err(MatchError::Sink)?;
        if cooled.exchanger.is_none() {
            cooled.exchanger = cooler.exchanger_needed(&self.gas, inlet, flow, &cooled, &side);
        }
        Ok(Settled {
            capacity_flow: self.capacity_flow(charge, &cooled),
            cooled,
            sink: side,
        })
    }

    /// Mean capacity flow of the charge on its way to the settled outlet, W/K.
    fn capacity_flow(&self, charge: &Charge, settled: &Cooled) -> f64 {
        let fall = charge.inlet.temperature - settled.outlet.temperature;
        if fall.abs() > NO_DIFFERENCE {
            charge.flow * (charge.inlet.enthalpy - settled.outlet.enthalpy) / fall
        } else {
            let cp = self.gas.cp(charge.inlet.temperature);
            charge.flow * cp.unwrap_or(0.0)
        }
    }

    fn solve(&mut self, rpm: f64, cooler: Cooler) -> Result<Match, MatchError> {
        self.trial.air_path[self.place.1] = crate::air_path::Part::Cooler(cooler);
        // The layout was counted before; only the cooler has changed.
        let mut solver = Solver::new(&self.trial).map_err(|_| MatchError::Speed { rpm })?;
        let mut found = Match::default();
        let place = solve_from(&mut solver, rpm, self.near.as_ref(), &mut found)?;
        self.near = Some(place);
        Ok(found)
    }

    fn charge(&self, found: &Match) -> Charge {
        let state = &found.coolers[self.place.0];
        let outlet = found.station(&self.layout, StationPlace::After(self.place.1));
        let (pressure, flow) = outlet.map_or((0.0, 0.0), |outlet| {
            (outlet.pressure + state.pressure_drop, outlet.mass_flow)
        });
        let temperature = state.inlet_temperature;
        Charge {
            inlet: AirState {
                pressure,
                temperature,
                enthalpy: self.gas.enthalpy(temperature).unwrap_or(0.0),
            },
            flow,
        }
    }
}

/// The settled effectiveness, kept a little below 1.
fn nearly_perfect(settled: &Cooled) -> f64 {
    settled.effectiveness.min(1.0 - NEARLY_PERFECT)
}
