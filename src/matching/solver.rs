//! Solving an installation at one speed after the other.

use super::error::{LayoutError, MatchError};
use super::layout::Layout;
use super::outcome::{Match, OtherBalance};
use super::record::Record;
use super::setup::Setup;
use super::variables::{Trial, Variable};
use super::walk::{Balances, Manner, walk};
use super::{Installation, climb, fill};
use crate::engine::Strokes;
use crate::gas::Gas;
use crate::numeric::newton::{InverseJacobian, MAX_UNKNOWNS};

/// An installation made ready to be matched at any speed.
#[derive(Debug)]
pub struct Solver<'a> {
    pub(super) setup: Setup<'a>,
    pub(super) work: Work,
}

/// What a solution leaves behind for the next. Reused, so that nothing is allocated after the
/// first.
#[derive(Debug)]
pub(super) struct Work {
    pub record: Record,
    pub balances: Balances,
    /// The trial that record and balances belong to.
    pub seen: Option<Trial>,
    /// Inverse Jacobian of the balances of a trial like `inverse_of`.
    pub inverse: InverseJacobian,
    pub inverse_of: Trial,
    /// Evaluations of the last solution.
    pub evaluations: usize,
    /// For looks beside the way.
    pub aside: Record,
}

/// Where a neighbouring match stood, to start the next from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neighbour {
    pub(super) trial: Trial,
    inverse: InverseJacobian,
}

/// One step of the climb from rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PowerPoint {
    /// Turbo speed over the top speed of its map, or ln of the pressure ratio without one.
    pub climb: f64,
    /// Turbine power at the compressor less the compressor's own, W.
    pub excess: f64,
    /// Manifold (or compressor outlet) pressure over the boost limit, less 1; −1 without a gate.
    pub beyond_limit: f64,
}

/// Share of the fuel that steepness is asked with: small against any bend of the line, large
/// against what a solution leaves.
const LITTLE_FUEL: f64 = 1e-3;

/// A match that leaves more than this of a balance, relative, is none.
const LEFT_OPEN: f64 = 1e-8;
/// Two solutions of one balance agree to this, relative: each is met to 1e-9, and a flow can be a
/// hundred times steeper.
const SAME: f64 = 1e-6;

impl<'a> Solver<'a> {
    /// Counts the unknowns of an installation.
    pub fn new(installation: &'a Installation) -> Result<Self, LayoutError> {
        Ok(Self {
            setup: Setup::new(installation)?,
            work: Work {
                record: Record::default(),
                balances: [0.0; MAX_UNKNOWNS],
                seen: None,
                inverse: InverseJacobian::UNKNOWN,
                inverse_of: Trial::empty(),
                evaluations: 0,
                aside: Record::default(),
            },
        })
    }

    /// The names of everything in a match.
    pub fn layout(&self) -> &Layout {
        &self.setup.layout
    }

    /// What is matched.
    pub fn installation(&self) -> &'a Installation {
        self.setup.installation
    }

    /// The air at the site as a gas.
    pub fn gas(&self) -> &Gas {
        &self.setup.gas
    }

    /// Multiplies the fuel of every following match.
    pub fn set_fuel_factor(&mut self, factor: f64) {
        self.setup.fuel_factor = factor;
    }

    /// The match at an engine speed in rpm: the first stable balance climbing from rest, or the
    /// boost limit, whichever comes first. Fills `out` and returns where it stood.
    pub fn solve(&mut self, rpm: f64, out: &mut Match) -> Result<Neighbour, MatchError> {
        self.start(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        let found = climb::from_rest(self)?;
        self.finish(&found, out)
    }

    /// The match at an engine speed in rpm on the same branch as a neighbour's ([`Solver::follow`]);
    /// where that cannot be followed, the one that the shaft reaches from there ([`Solver::reach`]).
    pub fn solve_near(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Result<Neighbour, MatchError> {
        match self.follow(rpm, neighbour, out) {
            Some(place) => Ok(place),
            None => self.reach(rpm, neighbour, out),
        }
    }

    /// The match at an engine speed in rpm on the same branch as a neighbour's; `None` where that
    /// branch cannot be followed so far, is no longer stable there, or a gate changes beyond
    /// recognition. A small step along a smooth branch always can.
    pub fn follow(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Option<Neighbour> {
        self.start(rpm).ok()?;
        self.work.inverse = neighbour.inverse;
        self.work.inverse_of = neighbour.trial;
        let found = climb::from_neighbour(self, &neighbour.trial)?;
        self.finish(&found, out).ok()
    }

    /// The match at an engine speed in rpm that the shaft of the first turbine reaches when it is let
    /// go as fast as a neighbour's turned: it gains speed while the turbine gives more than the
    /// compressor takes and loses it while less, with each gate as its boost asks. Fails where it runs
    /// to an end of what can be balanced.
    pub fn reach(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Result<Neighbour, MatchError> {
        self.start(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        let found = climb::reached(self, &neighbour.trial)?;
        self.finish(&found, out)
    }

    /// How far two states of this installation lie apart: the largest difference of the logarithms
    /// of flows and pressures and of the turbos' speeds over the top speeds of their maps.
    pub fn distance(&self, one: &Neighbour, other: &Neighbour) -> f64 {
        let pairs = one.trial.x.iter().zip(other.trial.x);
        let differences = self.setup.variables.iter().zip(pairs);
        differences
            .filter(|(variable, _)| {
                !matches!(variable, Variable::Place { .. } | Variable::Gate { .. })
            })
            .fold(0.0, |largest, (_, (one, other))| {
                (one - other).abs().max(largest)
            })
    }

    /// Every stable balance at an engine speed in rpm, rising in the first turbo's speed; empty
    /// without a turbine that drives.
    pub fn balances(&mut self, rpm: f64) -> Result<Vec<Match>, MatchError> {
        self.start(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        let survey = climb::survey(self)?;
        let mut all = Vec::with_capacity(survey.stable.len());
        for (_, trial) in &survey.stable {
            let mut out = Match::default();
            if self.finish(&climb::Found::new(*trial), &mut out).is_ok() {
                all.push(out);
            }
        }
        Ok(all)
    }

    /// Fills in the other stable balances at a match's speed.
    pub fn find_others(&mut self, found: &mut Match) {
        let Some(stage) = self.setup.driven.first().map(|driven| driven.stage) else {
            return;
        };
        let is_another = |one: &Match| {
            let same = |a: f64, b: f64| (a - b).abs() <= SAME * b.abs();
            !(same(one.air_mass_flow, found.air_mass_flow)
                && same(
                    one.stages[stage].pressure_ratio,
                    found.stages[stage].pressure_ratio,
                ))
        };
        // A match that was found stands; what else could not be looked for is not told of.
        let all = self.balances(found.rpm).unwrap_or_default();
        let others: Vec<OtherBalance> = (all.iter().filter(|one| is_another(one)))
            .map(|one| OtherBalance {
                pressure_ratio: one.stages[stage].pressure_ratio,
                manifold_pressure: one.manifold_pressure,
                air_mass_flow: one.air_mass_flow,
                brake_power: one.engine.brake_power,
                gate: one.turbines[0].gate,
            })
            .collect();
        found.others = others;
    }

    /// The state at an engine speed in rpm with every turbo held at rest and every gate shut; its
    /// power balances stay open, as `residuals.power` of a match never is. Without a turbo it is the
    /// match itself.
    pub fn at_rest(&mut self, rpm: f64, out: &mut Match) -> Result<(), MatchError> {
        self.start(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        let found = climb::at_rest(self)?;
        self.finish(&found, out).map(|_| ())
    }

    /// Percent of manifold pressure per 1 % of fuel at a match: both sides are followed by a
    /// thousandth of the fuel. `None` where no turbine is driven, or where the branch ends within that.
    pub fn steepness(&mut self, rpm: f64, at: &Neighbour) -> Option<f64> {
        if self.setup.driven.is_empty() {
            return None;
        }
        let factor = self.setup.fuel_factor;
        let more = self.manifold_with(rpm, factor * (1.0 + LITTLE_FUEL), at);
        let less = self.manifold_with(rpm, factor * (1.0 - LITTLE_FUEL), at);
        self.setup.fuel_factor = factor;
        self.work.seen = None;
        let (more, less) = (more?, less?);
        Some((more - less) / (0.5 * (more + less)) / (2.0 * LITTLE_FUEL))
    }

    /// Manifold pressure in Pa with another fuel, on the branch of a neighbour.
    fn manifold_with(&mut self, rpm: f64, fuel_factor: f64, at: &Neighbour) -> Option<f64> {
        self.start(rpm).ok()?;
        self.setup.fuel_factor = fuel_factor;
        self.work.inverse = at.inverse;
        self.work.inverse_of = at.trial;
        let found = climb::from_neighbour(self, &at.trial)?;
        if !self.see(&found.trial) {
            return None;
        }
        self.work.record.manifold.map(|state| state.pressure)
    }

    /// What the first turbine gives beyond what its compressor takes, along the climb from rest:
    /// `count` equal steps, each settled by itself, ending early where that cannot be done or one
    /// step beyond the boost limit. Empty without a turbo.
    pub fn power_curve(&mut self, rpm: f64, count: u32) -> Result<Vec<PowerPoint>, MatchError> {
        self.start(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        climb::power_curve(self, count)
    }

    fn start(&mut self, rpm: f64) -> Result<(), MatchError> {
        if !(rpm.is_finite() && rpm > 0.0) {
            return Err(MatchError::Speed { rpm });
        }
        self.setup.at_speed(rpm).map_err(MatchError::Sink)?;
        self.work.seen = None;
        Ok(())
    }

    fn finish(&mut self, found: &climb::Found, out: &mut Match) -> Result<Neighbour, MatchError> {
        if !self.see(&found.trial) {
            return Err(MatchError::Unsettled {
                flow: found.trial.x[0].exp(),
                residual: None,
            });
        }
        if let Some((manifold, exhaust)) = self.no_scavenging() {
            return Err(MatchError::NoScavenging { manifold, exhaust });
        }
        fill::fill(self, found, out);
        let residual = out.residuals.largest();
        if residual.is_nan() || residual > LEFT_OPEN {
            return Err(MatchError::Unsettled {
                flow: found.trial.x[0].exp(),
                residual: residual.is_finite().then_some(residual),
            });
        }
        let kept = found.trial.is_like(&self.work.inverse_of);
        let place = Neighbour {
            trial: found.trial,
            inverse: if kept {
                self.work.inverse
            } else {
                InverseJacobian::UNKNOWN
            },
        };
        out.place = Some(place);
        Ok(place)
    }

    /// Manifold and exhaust pressure, Pa, of a two-stroke through which nothing is driven.
    fn no_scavenging(&self) -> Option<(f64, f64)> {
        let setup = &self.setup;
        if setup.installation.engine.strokes != Strokes::Two || !setup.knows_exhaust() {
            return None;
        }
        let record = &self.work.record;
        let manifold = record.manifold?.pressure;
        let exhaust = match record.turbines.first() {
            Some(turbine) => turbine.inlet_pressure,
            None => record.outlet?.0,
        };
        (manifold <= exhaust).then_some((manifold, exhaust))
    }

    /// Makes record and balances those of a trial. False where it cannot be walked.
    pub(super) fn see(&mut self, trial: &Trial) -> bool {
        if self.work.seen.as_ref() == Some(trial) {
            return true;
        }
        let mut walked = *trial;
        let Work {
            record, balances, ..
        } = &mut self.work;
        let seen = walk(&self.setup, &mut walked, balances, record, Manner::Ordinary).is_ok();
        self.work.seen = seen.then_some(*trial);
        seen
    }
}
