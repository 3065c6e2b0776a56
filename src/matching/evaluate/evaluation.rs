//! One evaluation under way: what it is given, and how far it has come.

use crate::air_path::{AirState, compress};
use crate::matching::record::{Record, StageRecord};
use crate::matching::setup::Setup;
use crate::matching::variables::Trial;
use crate::numeric::newton::MAX_UNKNOWNS;

/// Why an evaluation could not be finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::matching) enum Infeasible {
    /// The flow is too large: a pressure is used up.
    FlowTooLarge,
    /// The flow is too small: a temperature or a pressure leaves every range.
    FlowTooSmall,
}

/// Residuals in the order of the variables.
pub(in crate::matching) type Balances = [f64; MAX_UNKNOWNS];

/// Which values of a trial an evaluation takes as given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::matching) enum GivenValues {
    /// All: what is solved.
    All,
    /// All but the places on the maps of turbo compressors, which follow from the flow.
    AllButPlaces,
    /// Flow and climbs alone: each part is inverted in turn. The pressures behind the engine are
    /// found to this, relative. It starts solutions and brackets the flow.
    FlowAndClimbs(f64),
}

/// What an evaluation carries along the way of the air.
pub(super) struct Evaluation<'s, 'a> {
    pub setup: &'s Setup<'a>,
    pub trial: &'s mut Trial,
    pub balances: &'s mut Balances,
    pub record: &'s mut Record,
    /// Whether flow and climbs alone are given.
    pub is_explicit: bool,
    /// Whether places on the maps of turbo compressors follow from the flow.
    pub finds_places: bool,
    pub flow: f64,
    /// Belt-driven stages met so far.
    belts: usize,
    /// Variables met so far, to find a part's own without searching.
    next: usize,
    /// A machine whose bypass holds the manifold: its variable and the pressure to hold, Pa.
    pub manifold_held: Option<(usize, f64)>,
}

impl<'s, 'a> Evaluation<'s, 'a> {
    /// At the air outside.
    pub fn new(
        setup: &'s Setup<'a>,
        trial: &'s mut Trial,
        balances: &'s mut Balances,
        record: &'s mut Record,
        given: GivenValues,
    ) -> Self {
        record.clear();
        let flow = trial.x[0].exp();
        Self {
            setup,
            trial,
            balances,
            record,
            is_explicit: matches!(given, GivenValues::FlowAndClimbs(_)),
            finds_places: given != GivenValues::All,
            flow,
            belts: 0,
            next: 1,
            manifold_held: None,
        }
    }

    /// Notes a stage that delivers `own_flow` kg/s and gives `power` W to the air.
    pub fn note(
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

    /// A stage of given pressure ratio and efficiency.
    pub fn prescribed(
        &mut self,
        inlet: &AirState,
        ratio: f64,
        efficiency: f64,
    ) -> Result<AirState, Infeasible> {
        let gas = &self.setup.gas;
        let outlet =
            compress(gas, inlet, ratio, efficiency).map_err(|_| Infeasible::FlowTooSmall)?;
        let power = self.flow * (outlet.enthalpy - inlet.enthalpy);
        self.note(inlet, outlet, self.flow, power);
        Ok(outlet)
    }

    /// The variable of the next part that has one.
    pub fn take_variable(&mut self) -> usize {
        self.next += 1;
        self.next - 1
    }

    /// The number of the next belt-driven stage.
    pub fn take_belt(&mut self) -> usize {
        self.belts += 1;
        self.belts - 1
    }
}
