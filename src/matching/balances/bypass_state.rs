//! What the bypasses do, seen from a solution.

use crate::air_path::{Bypass, BypassAt, Supercharger, SuperchargerKind};
use crate::map::CorrectedSpeed;
use crate::matching::record::Record;
use crate::matching::setup::{BeltDrivenStage, Setup};
use crate::matching::variables::{BypassMode, Trial};

/// Lets each bypass do what the solution asks of it. Returns whether any changed.
///
/// Wide open, returned air is not counted as warming the inlet, holding a pressure it is; between
/// the two neither may answer. What then still goes round `stays_open`.
pub(super) fn change_bypasses(
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
        let mode = trial.bypasses[belt];
        if stays_open && mode == BypassMode::Open {
            continue;
        }
        let bypass = supercharger.bypass;
        let next = next_mode(setup, bypass, mode, described.stage, record, indifference);
        if next == mode {
            continue;
        }
        changed = true;
        trial.bypasses[belt] = next;
        if next == BypassMode::HoldingManifold {
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
    belt: &BeltDrivenStage,
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

/// What a bypass does next, seen from a solution in which it did `mode`.
fn next_mode(
    setup: &Setup,
    bypass: Bypass,
    mode: BypassMode,
    stage: usize,
    record: &Record,
    indifference: f64,
) -> BypassMode {
    let noted = &record.stages[stage];
    let Some(drop) = bypass.open_drop() else {
        return BypassMode::Shut;
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
    match mode {
        BypassMode::Shut if noted.outlet.pressure * rounding < open => BypassMode::Open,
        BypassMode::Shut if felt > held * rounding => match bypass {
            Bypass::Regulated {
                at: BypassAt::SuperchargerOutlet,
                ..
            } if held < open => BypassMode::Open,
            Bypass::Regulated {
                at: BypassAt::SuperchargerOutlet,
                ..
            } => BypassMode::HoldingOutlet,
            _ => BypassMode::HoldingManifold,
        },
        // Open and delivering more than is wanted: shut, unless it is open to let off pressure.
        BypassMode::Open if delivers_too_much && felt < held * (2.0 - rounding) => BypassMode::Shut,
        BypassMode::HoldingOutlet | BypassMode::HoldingManifold if too_little => BypassMode::Shut,
        BypassMode::HoldingOutlet | BypassMode::HoldingManifold
            if noted.outlet.pressure * rounding < open =>
        {
            BypassMode::Open
        }
        _ => mode,
    }
}
