//! Solving an installation at one speed after the other.

use super::error::{LayoutError, MatchError};
use super::layout::Layout;
use super::outcome::Match;
use super::record::Record;
use super::setup::Setup;
use super::variables::Trial;
use super::walk::{Balances, Manner, walk};
use super::{Installation, climb, fill};
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
    /// How many times finer than usual the climb is stepped.
    pub finer: u32,
}

/// Where a neighbouring match stood, to start the next from.
#[derive(Debug, Clone, Copy)]
pub struct Neighbour {
    pub(super) trial: Trial,
    inverse: InverseJacobian,
}

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
                finer: 1,
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

    /// Per cent of manifold pressure per per cent of fuel at a match, by solving again with a
    /// thousandth more and less fuel; `None` where no turbine is driven or one of them has no match
    /// on the same branch.
    pub fn steepness(&mut self, rpm: f64, at: &Neighbour) -> Option<f64> {
        if self.setup.driven.is_empty() {
            return None;
        }
        let more = self.manifold_with_fuel(rpm, at, 1.001)?;
        let less = self.manifold_with_fuel(rpm, at, 0.999)?;
        Some((more / less).ln() / (1.001_f64 / 0.999).ln())
    }

    /// Manifold pressure, Pa, on the branch of a match with its fuel multiplied.
    fn manifold_with_fuel(&mut self, rpm: f64, at: &Neighbour, factor: f64) -> Option<f64> {
        self.start(rpm).ok()?;
        self.work.inverse = at.inverse;
        self.work.inverse_of = at.trial;
        let before = self.setup.fuel_factor;
        self.setup.fuel_factor = before * factor;
        let mut out = Match::default();
        let found = climb::from_neighbour(self, &at.trial);
        let filled = found.and_then(|found| self.finish(&found, &mut out).ok());
        self.setup.fuel_factor = before;
        self.work.seen = None;
        filled.map(|_| out.manifold_pressure)
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

    /// The match at an engine speed in rpm on the same branch as a neighbour's; where that branch
    /// ends, is no longer stable, or a gate changes beyond recognition, as [`Solver::solve`].
    ///
    /// A balance that has come up nearer to rest is not seen from here: only [`Solver::solve`] is
    /// sure to give the first.
    pub fn solve_near(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Result<Neighbour, MatchError> {
        self.start(rpm)?;
        self.work.inverse = neighbour.inverse;
        self.work.inverse_of = neighbour.trial;
        match climb::from_neighbour(self, &neighbour.trial) {
            Some(found) => self.finish(&found, out),
            None => self.solve(rpm, out),
        }
    }

    /// The state at an engine speed in rpm with every turbocharger held at rest and every gate shut:
    /// what the superchargers do alone. Its shaft powers are not balanced.
    pub fn solve_at_rest(&mut self, rpm: f64, out: &mut Match) -> Result<(), MatchError> {
        self.start(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        let found = climb::at_rest(self)?;
        self.finish(&found, out).map(|_| ())
    }

    fn start(&mut self, rpm: f64) -> Result<(), MatchError> {
        if !(rpm.is_finite() && rpm > 0.0) {
            return Err(MatchError::Speed { rpm });
        }
        self.setup.rpm = rpm;
        self.work.seen = None;
        Ok(())
    }

    fn finish(&mut self, found: &climb::Found, out: &mut Match) -> Result<Neighbour, MatchError> {
        if !self.see(&found.trial) {
            return Err(MatchError::Unsettled {
                flow: found.trial.x[0].exp(),
                residual: f64::INFINITY,
            });
        }
        fill::fill(self, found, out);
        let kept = found.trial.is_like(&self.work.inverse_of);
        Ok(Neighbour {
            trial: found.trial,
            inverse: if kept {
                self.work.inverse
            } else {
                InverseJacobian::UNKNOWN
            },
        })
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
