//! Which variables of a trial are solved for.

use crate::matching::setup::Setup;
use crate::matching::variables::{BypassMode, GateMode, Trial};
use crate::numeric::newton::MAX_UNKNOWNS;

/// The variables that are solved for in a trial, in order.
pub(in crate::matching) struct FreeVariables {
    list: [usize; MAX_UNKNOWNS],
    count: usize,
}

impl FreeVariables {
    pub fn of(setup: &Setup, trial: &Trial) -> Self {
        let mut is_free = [true; MAX_UNKNOWNS];
        for (turbine, driven) in setup.driven.iter().enumerate() {
            is_free[driven.climb] = !trial.held[turbine];
            if let Some(gate) = driven.gate {
                is_free[gate] = trial.gates[turbine] == GateMode::Holding;
            }
        }
        for (belt, described) in setup.belts.iter().enumerate() {
            let turns = setup
                .supercharger(described)
                .is_some_and(|stage| stage.is_engaged(setup.rpm));
            let follows = matches!(
                trial.bypasses[belt],
                BypassMode::Shut | BypassMode::HoldingManifold
            );
            is_free[described.variable] = turns && follows;
        }
        let mut free = Self {
            list: [0; MAX_UNKNOWNS],
            count: 0,
        };
        for (variable, _) in is_free[..setup.variables.len()]
            .iter()
            .enumerate()
            .filter(|(_, is_free)| **is_free)
        {
            free.list[free.count] = variable;
            free.count += 1;
        }
        free
    }

    pub fn variables(&self) -> &[usize] {
        &self.list[..self.count]
    }

    /// The place of a variable among them.
    pub fn place(&self, variable: usize) -> Option<usize> {
        self.variables().iter().position(|v| *v == variable)
    }
}
