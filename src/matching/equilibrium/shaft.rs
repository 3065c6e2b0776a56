//! The shaft of one turbine, whose equilibrium is looked for.

use crate::matching::equations::Equations;
use crate::matching::error::MatchError;
use crate::matching::setup::{DrivenStage, Setup};
use crate::matching::variables::Trial;

/// An equilibrium of the shafts, before it is written out.
#[derive(Debug, Clone, Copy)]
pub(in crate::matching) struct Equilibrium {
    /// Values of all variables.
    pub trial: Trial,
    /// Sign changes of the power balance that were seen on the way; 0 where none were counted.
    pub crossings: usize,
}

impl Equilibrium {
    /// That of a trial, reached without counting.
    pub fn at(trial: Trial) -> Self {
        Self {
            trial,
            crossings: 0,
        }
    }
}

/// ln of the largest pressure ratio of a turbo without map: 12, more than any one stage reaches.
const LARGEST_LN_RATIO: f64 = 2.484_9;
/// Turbo speed at rest and at the end, over the top speed of its map.
const SPEED_RANGE: (f64, f64) = (0.06, 1.40);
/// How far the boost of a solution may pass its limit before that counts as reached, relative. A
/// regulated bypass on the same pressure holds it to rounding, and moves first.
pub(super) const AT_THE_LIMIT: f64 = 1e-7;

/// Finds the equilibrium of a turbine's shaft, counted in exhaust order, and of all later ones from a
/// trial near it.
pub(super) type FindEquilibrium =
    fn(&mut Equations<'_>, usize, &Trial) -> Result<Equilibrium, MatchError>;

/// One shaft and the equations that it is part of.
pub(super) struct Shaft<'e, 'a> {
    pub equations: &'e mut Equations<'a>,
    /// Its turbine in exhaust order.
    pub turbine: usize,
    /// How the later turbines in series find theirs at each step of this one.
    pub equilibrium_of_later: FindEquilibrium,
}

/// The range of a turbine's climb.
pub(super) fn range(setup: &Setup, turbine: usize) -> (f64, f64) {
    if setup.driven[turbine].has_map {
        SPEED_RANGE
    } else {
        (0.0, LARGEST_LN_RATIO)
    }
}

/// Boost beyond the limit of a turbine's gate at a solved trial, relative. `None` without a gate.
pub(super) fn boost_beyond_limit(
    equations: &mut Equations,
    turbine: usize,
    trial: &Trial,
) -> Option<f64> {
    let gate = equations.setup.driven[turbine].gate?;
    let is_feasible = equations.evaluate_at(trial);
    is_feasible.then(|| equations.work.balances[gate])
}

impl Shaft<'_, '_> {
    /// What its turbine drives.
    pub fn driven(&self) -> DrivenStage {
        self.equations.setup.driven[self.turbine]
    }

    /// The range of its climb.
    pub fn range(&self) -> (f64, f64) {
        range(&self.equations.setup, self.turbine)
    }

    /// Turbine power less compressor power at a solved trial, W.
    pub fn excess(&mut self, trial: &Trial) -> f64 {
        if self.equations.evaluate_at(trial) {
            self.equations.work.record.turbines[self.turbine].excess
        } else {
            f64::NEG_INFINITY
        }
    }

    /// Boost beyond the limit of its gate at a solved trial, relative. `None` without a gate.
    pub fn boost_beyond_limit(&mut self, trial: &Trial) -> Option<f64> {
        boost_beyond_limit(self.equations, self.turbine, trial)
    }

    /// Pressure ratio of its compressor.
    fn pressure_ratio(&mut self, trial: &Trial) -> Option<f64> {
        if !self.equations.evaluate_at(trial) {
            return None;
        }
        let stage = self.driven().stage;
        let stage = self.equations.work.record.stages.get(stage)?;
        Some(stage.outlet.pressure / stage.inlet.pressure)
    }

    /// There is no equilibrium from a trial upwards to the last one that could be solved.
    pub fn runs_away(&mut self, from: &Trial, last: &Trial) -> MatchError {
        let (_, end) = self.range();
        let reached = last.x[self.driven().climb];
        let from = self.pressure_ratio(from).unwrap_or(1.0);
        let to = self.pressure_ratio(last).unwrap_or(1.0);
        let turbine = self.turbine + 1;
        if reached < end * (1.0 - 1e-9) {
            MatchError::NoWay { turbine, from, to }
        } else {
            MatchError::RunsAway { turbine, from, to }
        }
    }

    /// It does not turn its compressor at rest.
    pub fn stalls(&mut self, at: &Trial) -> MatchError {
        let at = self.pressure_ratio(at).unwrap_or(1.0);
        let turbine = self.turbine + 1;
        MatchError::Stalls { turbine, at }
    }
}
