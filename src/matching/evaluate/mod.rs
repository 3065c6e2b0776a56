//! One evaluation of a trial: from the air outside to the exhaust pipe with given values of the
//! variables, noting the state of every part and what is left of each balance.
//!
//! [`evaluation`] holds what is carried along; [`supercharger`] and [`turbo_compressor`] compress,
//! [`engine`] breathes and burns, [`exhaust`] expands; [`exhaust_pressures`] finds the pressures behind
//! the engine where they are not given.

mod engine;
mod evaluation;
mod exhaust;
mod exhaust_pressures;
mod supercharger;
mod turbo_compressor;

pub(super) use evaluation::{Balances, GivenValues, Infeasible};

use super::record::Record;
use super::setup::Setup;
use super::variables::Trial;
use crate::air_path::{AirState, Part};
use evaluation::Evaluation;

/// Absolute pressure at which the air is used up, Pa.
const NO_PRESSURE: f64 = 1.0;

/// Evaluates a trial. Values that are not given are written into it, and their balances are 0.
pub(super) fn evaluate(
    setup: &Setup,
    trial: &mut Trial,
    balances: &mut Balances,
    record: &mut Record,
    given: GivenValues,
) -> Result<(), Infeasible> {
    let mut evaluation = Evaluation::new(setup, trial, balances, record, given);
    let dry = evaluation.air_path()?;
    let manifold = evaluation.evaporate(dry)?;
    evaluation.record.flow = evaluation.flow;
    evaluation.record.manifold = Some(manifold);
    if let Some((variable, held)) = evaluation.manifold_held {
        evaluation.balances[variable] = manifold.pressure / held - 1.0;
    }
    if let (GivenValues::FlowAndClimbs(tolerance), true) = (given, setup.knows_exhaust()) {
        evaluation.find_exhaust_pressures(&manifold, tolerance)?;
    }
    evaluation.engine_and_exhaust(&manifold)
}

impl Evaluation<'_, '_> {
    /// From the air outside to the manifold, fuel aside.
    fn air_path(&mut self) -> Result<AirState, Infeasible> {
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
                        .map_err(|_| Infeasible::FlowTooSmall)?;
                    self.record.cooled.push(cooled);
                    cooled.outlet
                }
                Part::Supercharger(supercharger) => self.supercharger(supercharger, &state)?,
                Part::TurboCompressor(turbo) => self.turbo_compressor(turbo, &state)?,
            };
            if state.pressure.is_nan() || state.pressure <= NO_PRESSURE {
                return Err(Infeasible::FlowTooLarge);
            }
            self.record.behind.push(state);
        }
        Ok(state)
    }
}
