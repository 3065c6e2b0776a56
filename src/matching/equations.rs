//! The balances of an installation at one engine speed, and what their last evaluation left.

use super::error::{LayoutError, MatchError};
use super::evaluate::{Balances, GivenValues, evaluate};
use super::installation::Installation;
use super::neighbour::Neighbour;
use super::record::Record;
use super::setup::Setup;
use super::variables::Trial;
use crate::numeric::newton::{InverseJacobian, MAX_UNKNOWNS};

/// What is solved.
#[derive(Debug)]
pub(super) struct Equations<'a> {
    pub setup: Setup<'a>,
    pub work: Workspace,
}

/// What a solution leaves behind for the next. Reused, so that nothing is allocated after the
/// first.
#[derive(Debug)]
pub(super) struct Workspace {
    pub record: Record,
    pub balances: Balances,
    /// The trial that record and balances belong to.
    pub evaluated: Option<Trial>,
    /// Inverse Jacobian of the balances of a trial like `inverse_of`.
    pub inverse: InverseJacobian,
    pub inverse_of: Trial,
    /// Evaluations of the last solution.
    pub evaluations: usize,
    /// For trials beside the solution, which leave its record as it is.
    pub probe: Record,
}

impl<'a> Equations<'a> {
    /// Those of an installation, at no speed yet.
    pub fn new(installation: &'a Installation) -> Result<Self, LayoutError> {
        Ok(Self {
            setup: Setup::new(installation)?,
            work: Workspace {
                record: Record::default(),
                balances: [0.0; MAX_UNKNOWNS],
                evaluated: None,
                inverse: InverseJacobian::UNKNOWN,
                inverse_of: Trial::empty(),
                evaluations: 0,
                probe: Record::default(),
            },
        })
    }

    /// Makes ready for solutions at an engine speed in rpm that know of no other.
    pub fn start_at(&mut self, rpm: f64) -> Result<(), MatchError> {
        self.set_speed(rpm)?;
        self.work.inverse = InverseJacobian::UNKNOWN;
        Ok(())
    }

    /// Makes ready for solutions at an engine speed in rpm from a neighbouring match.
    pub fn start_from(&mut self, rpm: f64, neighbour: &Neighbour) -> Result<(), MatchError> {
        self.set_speed(rpm)?;
        self.work.inverse = neighbour.inverse;
        self.work.inverse_of = neighbour.trial;
        Ok(())
    }

    fn set_speed(&mut self, rpm: f64) -> Result<(), MatchError> {
        if !(rpm.is_finite() && rpm > 0.0) {
            return Err(MatchError::Speed { rpm });
        }
        self.setup.at_speed(rpm).map_err(MatchError::Sink)?;
        self.work.evaluated = None;
        Ok(())
    }

    /// Makes record and balances those of a trial. False where it cannot be evaluated.
    pub fn evaluate_at(&mut self, trial: &Trial) -> bool {
        if self.work.evaluated.as_ref() == Some(trial) {
            return true;
        }
        let mut given = *trial;
        let Workspace {
            record, balances, ..
        } = &mut self.work;
        let is_feasible =
            evaluate(&self.setup, &mut given, balances, record, GivenValues::All).is_ok();
        self.work.evaluated = is_feasible.then_some(*trial);
        is_feasible
    }

    /// Where a solution stands, to start others from.
    pub fn neighbour(&self, trial: Trial) -> Neighbour {
        let inverse = if trial.is_like(&self.work.inverse_of) {
            self.work.inverse
        } else {
            InverseJacobian::UNKNOWN
        };
        Neighbour { trial, inverse }
    }
}
