//! One walk through the installation with given values of all variables: from the air outside to
//! the exhaust pipe, noting what was seen and what is left of each balance.
//!
//! An *explicit* walk takes only the flow and the climbs as given and finds the other values on its
//! way by inverting one part after the other. It starts solutions and brackets the flow; the
//! ordinary walk takes every value as given and is what is solved.

mod behind;
mod belt;
mod turbo;

use super::record::{Record, StageRecord};
use super::setup::Setup;
use super::variables::Trial;
use crate::air_path::{AirState, Part, compress};
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

/// Absolute pressure at which the air is used up, Pa.
const NO_PRESSURE: f64 = 1.0;

/// How a walk finds its values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Manner {
    /// Every value is given.
    Ordinary,
    /// Every value is given but the places on the maps of turbo compressors, which follow from the
    /// flow.
    Placing,
    /// Only flow and climbs are given; pressures behind the engine are found to this, relative.
    Explicit(f64),
}

/// The parts that a walk needs beside the trial.
struct Walk<'s, 'a> {
    setup: &'s Setup<'a>,
    trial: &'s mut Trial,
    balances: &'s mut Balances,
    record: &'s mut Record,
    explicit: bool,
    placing: bool,
    flow: f64,
    /// Belt-driven stages met so far.
    belts: usize,
    /// Variables met so far, to find a part's own without searching.
    next: usize,
    /// A machine whose bypass holds the manifold: its variable and the pressure to hold, Pa.
    manifold_held: Option<(usize, f64)>,
}

/// Walks. Balances of values that an explicit walk finds itself are 0.
pub(super) fn walk(
    setup: &Setup,
    trial: &mut Trial,
    balances: &mut Balances,
    record: &mut Record,
    manner: Manner,
) -> Result<(), Snag> {
    record.clear();
    let flow = trial.x[0].exp();
    let mut walk = Walk {
        setup,
        trial,
        balances,
        record,
        explicit: matches!(manner, Manner::Explicit(_)),
        placing: manner != Manner::Ordinary,
        flow,
        belts: 0,
        next: 1,
        manifold_held: None,
    };
    let dry = walk.air_path()?;
    let manifold = walk.evaporate(dry)?;
    walk.record.flow = flow;
    walk.record.manifold = Some(manifold);
    if let Some((variable, held)) = walk.manifold_held {
        walk.balances[variable] = manifold.pressure / held - 1.0;
    }
    if let (Manner::Explicit(tolerance), true) = (manner, setup.knows_exhaust()) {
        walk.settle_exhaust(&manifold, tolerance)?;
    }
    walk.engine_and_exhaust(&manifold)
}

impl Walk<'_, '_> {
    fn air_path(&mut self) -> Result<AirState, Snag> {
        let setup = self.setup;
        let mut state = setup.ambient;
        for part in &setup.installation.air_path {
            let density = state.density(&setup.gas);
            state = match part {
                Part::Filter(drop) | Part::Throttle(drop) => {
                    state.dropped(drop.pressure_drop(self.flow, density))
                }
                Part::Duct(duct) => {
                    state.dropped(duct.pressure_drop(self.flow, density, state.temperature))
                }
                Part::Cooler(cooler) => {
                    let sink = &setup.sinks[self.record.cooled.len()];
                    let cooled = cooler
                        .cool_against(&setup.gas, &state, self.flow, setup.rpm, sink)
                        .map_err(|_| Snag::TooLittle)?;
                    self.record.cooled.push(cooled);
                    cooled.outlet
                }
                Part::Supercharger(supercharger) => self.supercharger(supercharger, &state)?,
                Part::TurboCompressor(turbo) => self.turbo_compressor(turbo, &state)?,
            };
            if state.pressure.is_nan() || state.pressure <= NO_PRESSURE {
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
        let gas = &self.setup.gas;
        let outlet = compress(gas, inlet, ratio, efficiency).map_err(|_| Snag::TooLittle)?;
        let power = self.flow * (outlet.enthalpy - inlet.enthalpy);
        self.note(inlet, outlet, self.flow, power);
        Ok(outlet)
    }

    fn take_variable(&mut self) -> usize {
        self.next += 1;
        self.next - 1
    }

    fn take_belt(&mut self) -> usize {
        self.belts += 1;
        self.belts - 1
    }
}
