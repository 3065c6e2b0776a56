//! Solving all balances that are not held: Newton from a near trial; where that fails, the flow by a
//! closing bracket, and Newton from there.

use super::error::MatchError;
use super::record::Record;
use super::setup::{Belt, Setup};
use super::solver::{Solver, Work};
use super::variables::{Gate, Trial, Way};
use super::walk::{Balances, Manner, Snag, walk};
use crate::air_path::{Bypass, BypassAt, Supercharger, SuperchargerKind};
use crate::map::CorrectedSpeed;
use crate::numeric::newton::{self, InverseJacobian, MAX_UNKNOWNS, NewtonOutcome, NewtonSettings};
use crate::numeric::root::{Bracketed, between};

/// How closely balances are solved, relative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Closeness {
    /// What is aimed at.
    tolerance: f64,
    /// Largest residual that still counts where rounding forbids more.
    enough: f64,
    /// Relative difference within which a bypass is left as it is.
    indifference: f64,
}

/// For a match: a thousandth of what it promises.
pub(super) const TIGHT: Closeness = Closeness {
    tolerance: 1e-12,
    enough: 2e-10,
    indifference: 1e-11,
};
/// For a look along the climb, where only signs and starting values are wanted.
pub(super) const LOOSE: Closeness = Closeness {
    tolerance: 3e-5,
    enough: 3e-5,
    indifference: 1e-4,
};
/// Most evaluations of one solution.
const EVALUATIONS: usize = 160;
/// Largest change of any variable in one step: a factor of e^0.5 in a pressure or a flow.
const LARGEST_STEP: f64 = 0.5;
/// How often a bypass may change its mind.
const CHANGES: usize = 8;

/// Settles a trial with nothing known but a rough flow.
pub(super) fn settle_from_afar(
    solver: &mut Solver,
    from: &Trial,
    closeness: Closeness,
) -> Result<Trial, MatchError> {
    solver.work.record.soot = None;
    from_afar(solver, from, closeness).map_err(|fault| match solver.work.record.soot {
        Some((air_fuel_ratio, smallest)) => MatchError::Soot {
            air_fuel_ratio,
            smallest,
        },
        None => fault,
    })
}

/// What the engine swallows falls against the flow, so that any balance found is the only one: an
/// explicit walk from a rough flow is tried first, then a wide bracket, which is nearly always near
/// enough, and then a narrow one.
fn from_afar(solver: &mut Solver, from: &Trial, closeness: Closeness) -> Result<Trial, MatchError> {
    if let Some(explicit) = explicit_at(solver, from)
        && let Ok(found) = polish(solver, &explicit, closeness)
    {
        return Ok(found);
    }
    let wide = bracket(solver, from, WIDE)?;
    if let Ok(found) = polish(solver, &wide, closeness) {
        return Ok(found);
    }
    let narrow = bracket(solver, from, NARROW)?;
    polish(solver, &narrow, closeness)
}

/// Settles a near trial.
pub(super) fn settle(
    solver: &mut Solver,
    near: &Trial,
    closeness: Closeness,
) -> Result<Trial, MatchError> {
    match polish(solver, near, closeness) {
        Ok(settled) => Ok(settled),
        Err(_) => settle_from_afar(solver, near, closeness),
    }
}

/// Solves from a near trial by Newton alone, letting bypasses open and shut as they must. What was
/// seen at the solution stays in the solver's record.
pub(super) fn polish(
    solver: &mut Solver,
    near: &Trial,
    closeness: Closeness,
) -> Result<Trial, MatchError> {
    let (setup, work) = (&solver.setup, &mut solver.work);
    let mut trial = *near;
    let mut residual = f64::INFINITY;
    work.evaluations = 0;
    for change in 0..CHANGES {
        if !work.inverse_of.is_like(&trial) {
            work.inverse = InverseJacobian::UNKNOWN;
        }
        work.inverse_of = trial;
        work.seen = None;
        residual = newton_once(setup, work, &mut trial, closeness);
        if residual > closeness.enough {
            break;
        }
        let stays_open = change >= CHANGES / 2;
        let indifference = closeness.indifference;
        if !change_ways(setup, &mut trial, &work.record, indifference, stays_open) {
            work.seen = Some(trial);
            return Ok(trial);
        }
    }
    Err(MatchError::Unsettled {
        flow: trial.x[0].exp(),
        residual,
    })
}

/// The variables that are solved for in a trial, in order.
pub(super) struct Active {
    list: [usize; MAX_UNKNOWNS],
    count: usize,
}

impl Active {
    pub fn of(setup: &Setup, trial: &Trial) -> Self {
        let mut is_active = [true; MAX_UNKNOWNS];
        for (turbine, driven) in setup.driven.iter().enumerate() {
            is_active[driven.climb] = !trial.held[turbine];
            if let Some(gate) = driven.gate {
                is_active[gate] = trial.gates[turbine] == Gate::Holding;
            }
        }
        for (belt, described) in setup.belts.iter().enumerate() {
            let turns = setup
                .supercharger(described)
                .is_some_and(|stage| stage.is_engaged(setup.rpm));
            let free = matches!(trial.ways[belt], Way::Shut | Way::HoldingManifold);
            is_active[described.variable] = turns && free;
        }
        let mut active = Self {
            list: [0; MAX_UNKNOWNS],
            count: 0,
        };
        for (variable, _) in is_active[..setup.variables.len()]
            .iter()
            .enumerate()
            .filter(|(_, active)| **active)
        {
            active.list[active.count] = variable;
            active.count += 1;
        }
        active
    }

    pub fn variables(&self) -> &[usize] {
        &self.list[..self.count]
    }

    /// The place of a variable among the active ones.
    pub fn place(&self, variable: usize) -> Option<usize> {
        self.variables().iter().position(|v| *v == variable)
    }
}

/// One Newton solution with the ways as they stand. Leaves the best values in the trial, what was
/// seen there in record and balances, and returns the largest residual.
fn newton_once(setup: &Setup, work: &mut Work, trial: &mut Trial, closeness: Closeness) -> f64 {
    let active = Active::of(setup, trial);
    let mut values = [0.0; MAX_UNKNOWNS];
    for (value, &variable) in values.iter_mut().zip(active.variables()) {
        *value = trial.x[variable];
    }
    let mut walked = *trial;
    let Work {
        record,
        balances,
        inverse,
        evaluations,
        ..
    } = work;
    let outcome: NewtonOutcome = newton::solve(
        &mut values[..active.count],
        |x, residuals| {
            for (value, &variable) in x.iter().zip(active.variables()) {
                walked.x[variable] = *value;
            }
            if walk(setup, &mut walked, balances, record, Manner::Ordinary).is_err() {
                return false;
            }
            for (residual, &variable) in residuals.iter_mut().zip(active.variables()) {
                *residual = balances[variable];
            }
            true
        },
        NewtonSettings {
            tolerance: closeness.tolerance,
            evaluations: EVALUATIONS,
            largest_step: LARGEST_STEP,
        },
        inverse,
    );
    *evaluations += outcome.evaluations;
    for (value, &variable) in values.iter().zip(active.variables()) {
        walked.x[variable] = *value;
    }
    *trial = walked;
    let there =
        outcome.ended_there || walk(setup, trial, balances, record, Manner::Ordinary).is_ok();
    if there {
        outcome.largest_residual
    } else {
        f64::INFINITY
    }
}

/// Lets each bypass do what the solution asks of it. Returns whether any changed.
///
/// Wide open, returned air is not counted as warming the inlet, holding a pressure it is; between
/// the two neither may answer. What then still goes round `stays_open`.
fn change_ways(
    setup: &Setup,
    trial: &mut Trial,
    record: &Record,
    indifference: f64,
    stays_open: bool,
) -> bool {
    let mut changed = false;
    for (belt, described) in setup.belts.iter().enumerate() {
        let Some(supercharger) = setup.supercharger(described) else {
            continue;
        };
        if !supercharger.is_engaged(setup.rpm) {
            continue;
        }
        let way = trial.ways[belt];
        if stays_open && way == Way::Open {
            continue;
        }
        let bypass = supercharger.bypass;
        let next = next_way(setup, bypass, way, described.stage, record, indifference);
        if next == way {
            continue;
        }
        changed = true;
        trial.ways[belt] = next;
        if next == Way::HoldingManifold {
            start_holding(setup, described, supercharger, trial, record);
        }
    }
    changed
}

/// A first guess of what holds the manifold: the ratio, and the flow with it, lowered by as much as
/// the manifold stands too high. On a map the choke side is meant: a wheel that returns air passes
/// more of it.
fn start_holding(
    setup: &Setup,
    belt: &Belt,
    supercharger: &Supercharger,
    trial: &mut Trial,
    record: &Record,
) {
    let Bypass::Regulated { pressure, .. } = supercharger.bypass else {
        return;
    };
    let noted = &record.stages[belt.stage];
    let felt = record
        .manifold
        .map_or(noted.outlet.pressure, |m| m.pressure);
    let lowered = (setup.ambient.pressure + pressure) / felt;
    trial.x[0] += lowered.ln();
    match (&supercharger.kind, noted.corrected_speed) {
        (SuperchargerKind::Centrifugal(machine), Some(speed)) => {
            let ratio = lowered * noted.outlet.pressure / noted.inlet.pressure;
            let point = machine.map.at_speed_and_ratio(CorrectedSpeed(speed), ratio);
            trial.x[belt.variable] = point.place;
        }
        _ => trial.x[belt.variable] += lowered.ln(),
    }
}

/// What a way does next, seen from a solution in which it did `way`.
fn next_way(
    setup: &Setup,
    bypass: Bypass,
    way: Way,
    stage: usize,
    record: &Record,
    indifference: f64,
) -> Way {
    let noted = &record.stages[stage];
    let Some(drop) = bypass.open_drop() else {
        return Way::Shut;
    };
    let rounding = 1.0 + indifference;
    let open = noted.inlet.pressure - drop;
    let delivers_too_much = noted.own_flow > record.flow * rounding;
    let too_little = noted.own_flow * rounding < record.flow;
    let felt = match bypass {
        Bypass::Regulated {
            at: BypassAt::SuperchargerOutlet,
            ..
        } => noted.outlet.pressure,
        _ => record
            .manifold
            .map_or(noted.outlet.pressure, |state| state.pressure),
    };
    let held = match bypass {
        Bypass::Regulated { pressure, .. } => setup.ambient.pressure + pressure,
        _ => f64::INFINITY,
    };
    match way {
        Way::Shut if noted.outlet.pressure * rounding < open => Way::Open,
        Way::Shut if felt > held * rounding => match bypass {
            Bypass::Regulated {
                at: BypassAt::SuperchargerOutlet,
                ..
            } if held < open => Way::Open,
            Bypass::Regulated {
                at: BypassAt::SuperchargerOutlet,
                ..
            } => Way::HoldingOutlet,
            _ => Way::HoldingManifold,
        },
        // Open and delivering more than is wanted: shut, unless it is open to let off pressure.
        Way::Open if delivers_too_much && felt < held * (2.0 - rounding) => Way::Shut,
        Way::HoldingOutlet | Way::HoldingManifold if too_little => Way::Shut,
        Way::HoldingOutlet | Way::HoldingManifold if noted.outlet.pressure * rounding < open => {
            Way::Open
        }
        _ => way,
    }
}

/// The trial of an explicit walk with the flow and the climbs of another.
fn explicit_at(solver: &mut Solver, from: &Trial) -> Option<Trial> {
    let mut trial = *from;
    prepare(&mut trial);
    let work = &mut solver.work;
    work.seen = None;
    let Work {
        record, balances, ..
    } = work;
    walk(
        &solver.setup,
        &mut trial,
        balances,
        record,
        Manner::Explicit(ROUGHLY),
    )
    .is_ok()
    .then_some(trial)
}

/// Relative closeness of pressures that only start a solution.
const ROUGHLY: f64 = 1e-3;
/// Logarithmic width of a bracket of the flow that Newton starts well from.
const WIDE: f64 = 3e-2;
/// The same where nothing else helps.
const NARROW: f64 = 1e-9;

/// Widenings of the bracket by a factor of 1.35 each way: from a 150th to the 150-fold of the start.
const WIDENINGS: i32 = 17;
/// Logarithmic width of one widening.
const WIDENING: f64 = 0.3;

/// Brackets the flow to a logarithmic width: an explicit walk at each flow finds all other values,
/// and what the engine swallows falls against the flow, because every pressure falls with it.
fn bracket(solver: &mut Solver, near: &Trial, width: f64) -> Result<Trial, MatchError> {
    let (setup, work) = (&solver.setup, &mut solver.work);
    work.seen = None;
    let record = &mut work.record;
    let mut trial = *near;
    prepare(&mut trial);
    let start = near.x[0];
    let manner = Manner::Explicit(0.01 * width.min(1e-2));
    let mut at = |ln_flow: f64, trial: &mut Trial| {
        trial.x[0] = ln_flow;
        let mut balances: Balances = [0.0; MAX_UNKNOWNS];
        match walk(setup, trial, &mut balances, record, manner) {
            Ok(()) => balances[0],
            Err(Snag::TooMuch) => -1.0,
            Err(Snag::TooLittle) => 1e3,
        }
    };
    let (mut low, mut high) = (start, start);
    let mut value = at(start, &mut trial);
    for _ in 0..WIDENINGS {
        if value > 0.0 {
            low = high;
            high += WIDENING;
            value = at(high, &mut trial);
            if value <= 0.0 {
                break;
            }
        } else {
            high = low;
            low -= WIDENING;
            value = at(low, &mut trial);
            if value > 0.0 {
                break;
            }
        }
    }
    let found = between(low, high, |x| at(x, &mut trial), width, 1e-4 * width);
    match found {
        Bracketed::Root(x) | Bracketed::Jump(x) => {
            at(x, &mut trial);
            Ok(trial)
        }
        Bracketed::NoSign(..) => Err(MatchError::Flow {
            lowest: low.exp(),
            highest: high.exp(),
        }),
    }
}

/// A regulated manifold is not found on the way of an explicit walk: the way starts shut, and is
/// opened by what the solution then shows. A gate that holds starts as it stands.
fn prepare(trial: &mut Trial) {
    trial.ways = [Way::Shut; super::variables::MOST];
    for (gate, held) in trial.gates.iter_mut().zip(trial.held) {
        if *gate == Gate::Holding && held {
            *gate = Gate::Fixed;
        }
    }
}
