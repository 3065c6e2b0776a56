//! What makes an answer doubtful or incomplete, and superchargers that are in the way.

use super::catalogue::Code;
use super::context::{Context, MatchedStage};
use super::detail::Detail;
use super::entry::Finding;
use super::subject::Subject;
use crate::air_path::{Part, SuperchargerKind};
use crate::engine::Strokes;
use crate::matching::BypassState;

/// A pressure ratio that is 1 but for rounding.
const ROUNDING: f64 = 1e-6;
/// Loss of pressure through an open bypass that is worth a larger one (common practice).
const BYPASS_LOSS: f64 = 0.03;
/// Difference of drive ratio from that of the measured breathing below which no correction is made
/// to speak of.
const AS_MEASURED: f64 = 0.05;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    let steepness = context.extra.steepness;
    list.extend(context.check(Code::Steep, Subject::Whole, steepness));
    list.extend(second(context));
    for stage in context.stages() {
        list.extend(restricts(context, &stage));
        list.extend(drag(context, &stage));
    }
    list.extend(valve_overlap(context));
}

fn second(context: &Context) -> Option<Finding> {
    let second = context.found.others.first()?;
    let (_, manifold) = context.manifold()?;
    let found = context
        .remark(Code::SecondEquilibrium, Subject::Whole)
        .valued(second.manifold_pressure);
    // Worst where the two lie farthest apart.
    let apart = (second.manifold_pressure / manifold.pressure).ln().abs();
    let detail = Detail::OtherBalance {
        here: manifold.pressure,
        brake_power: context.found.engine.brake_power,
        other_brake_power: second.brake_power,
        gate: context.found.turbines.first()?.gate,
        other_gate: second.gate,
    };
    Some(found.with(detail).weighing(apart))
}

/// Rotors without a way around them, or a way that is too narrow.
fn restricts(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    let Part::Supercharger(_) = stage.kind else {
        return None;
    };
    let allowed = match stage.state.bypass {
        BypassState::None | BypassState::Shut => ROUNDING,
        BypassState::Open | BypassState::Holding | BypassState::Disengaged => BYPASS_LOSS,
    };
    let ratio = stage.state.pressure_ratio;
    if ratio >= 1.0 - allowed {
        return None;
    }
    context.against(Code::SuperchargerRestricts, stage.subject(), (ratio, 1.0))
}

/// Idle rotors take power that nobody measured.
fn drag(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    let Part::Supercharger(supercharger) = stage.kind else {
        return None;
    };
    let SuperchargerKind::Displacement(machine) = &supercharger.kind else {
        return None;
    };
    if machine.no_load.is_some() || stage.state.bypass != BypassState::Open {
        return None;
    }
    let found = context.remark(Code::DragNotCounted, stage.subject());
    Some(match stage.state.speed {
        // Drag grows with speed.
        Some(speed) => found.valued(speed).weighing(speed),
        None => found,
    })
}

/// The correction for back pressure is that of an engine whose valves never stand open together.
fn valve_overlap(context: &Context) -> Option<Finding> {
    let engine = &context.installation.engine;
    if engine.strokes == Strokes::Two || engine.compression_ratio.is_none() {
        return None;
    }
    let (_, exhaust) = context.exhaust()?;
    let (_, manifold) = context.manifold()?;
    let now = exhaust.pressure / manifold.pressure;
    let measured_at = engine.measured_at_exhaust_pressure_ratio;
    if (now - measured_at).abs() <= AS_MEASURED {
        return None;
    }
    let found = context
        .remark(Code::ValveOverlapUnknown, Subject::Engine)
        .valued(context.found.engine.volumetric_efficiency);
    let found = found.with(Detail::DriveRatio { now, measured_at });
    Some(found.weighing((now - measured_at).abs()))
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::rule::Severity;
    use super::*;
    use crate::air_path::NoLoad;
    use crate::matching::{GateState, OtherBalance, StationPlace};

    #[test]
    fn a_steep_answer_is_near_and_a_flat_one_ok() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::Steep), []);
        case.extra.steepness = Some(5.0);
        assert_eq!(case.one(Code::Steep).severity, Severity::Near);
        case.extra.steepness = Some(0.7);
        assert_eq!(case.one(Code::Steep).severity, Severity::Ok);
    }

    #[test]
    fn a_second_stable_balance_is_named_with_its_pressure() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::SecondEquilibrium), []);
        case.found.others = vec![OtherBalance {
            pressure_ratio: 3.4,
            manifold_pressure: 360e3,
            air_mass_flow: 0.5,
            brake_power: Some(310e3),
            gate: GateState::WideOpen,
        }];
        let found = case.one(Code::SecondEquilibrium);
        assert_eq!((found.severity, found.value), (Severity::Near, Some(360e3)));
    }

    #[test]
    fn rotors_in_the_way_are_found_where_nothing_passes_around_them() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::SuperchargerRestricts), []);
        case.found.stages[0].bypass = BypassState::None;
        case.found.stages[0].pressure_ratio = 0.9;
        let found = case.one(Code::SuperchargerRestricts);
        assert_eq!((found.severity, found.value), (Severity::Near, Some(0.9)));
    }

    #[test]
    fn a_flap_may_take_a_little_and_not_much() {
        let mut case = Case::truck();
        case.found.stages[0].bypass = BypassState::Open;
        case.found.stages[0].pressure_ratio = 0.99;
        assert_eq!(case.all(Code::SuperchargerRestricts), []);
        case.found.stages[0].pressure_ratio = 0.95;
        case.one(Code::SuperchargerRestricts);
    }

    #[test]
    fn drag_is_told_where_it_is_unknown_and_the_bypass_open() {
        let mut case = Case::truck();
        case.one(Code::DragNotCounted);
        case.found.stages[0].bypass = BypassState::Shut;
        assert_eq!(case.all(Code::DragNotCounted), []);
        case.found.stages[0].bypass = BypassState::Open;
        if let Part::Supercharger(stage) = &mut case.installation.air_path[1]
            && let SuperchargerKind::Displacement(machine) = &mut stage.kind
        {
            machine.no_load = Some(NoLoad {
                power: 3e3,
                at_speed: 8e3,
            });
        }
        assert_eq!(case.all(Code::DragNotCounted), []);
    }

    #[test]
    fn valve_overlap_counts_away_from_the_measured_exhaust_pressure_ratio() {
        let mut case = Case::truck();
        let manifold = case.station(StationPlace::Manifold).pressure;
        case.station(StationPlace::TurbineInlet(0)).pressure = 1.02 * manifold;
        assert_eq!(case.all(Code::ValveOverlapUnknown), []);
        case.station(StationPlace::TurbineInlet(0)).pressure = 0.8 * manifold;
        assert_eq!(case.one(Code::ValveOverlapUnknown).severity, Severity::Ok);
        case.installation.engine.strokes = Strokes::Two;
        assert_eq!(case.all(Code::ValveOverlapUnknown), []);
    }
}
