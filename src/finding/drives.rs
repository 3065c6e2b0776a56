//! Piston and shaft speeds, rotor tips and belts against what the parts bear.

use super::catalogue::Code;
use super::context::{Context, MatchedStage};
use super::entry::Finding;
use super::subject::Subject;
use crate::air_path::Part;
use crate::matching::BypassState;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    let piston_speed = context.found.engine.mean_piston_speed;
    list.extend(context.check(Code::PistonSpeed, Subject::Engine, piston_speed));
    for stage in context.stages() {
        list.extend(speed(context, &stage));
        if let Part::Supercharger(_) = stage.kind {
            let tip_speed = stage.state.tip_speed;
            list.extend(context.check(Code::TipSpeed, stage.subject(), tip_speed));
            list.extend(belt_pull(context, &stage));
        }
        let belt_speed = stage.state.belt.map(|belt| belt.speed);
        list.extend(context.check(Code::BeltSpeed, stage.subject(), belt_speed));
    }
}

fn belt_pull(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    // A clutch that lets go leaves the belt nothing to pull.
    if stage.state.bypass == BypassState::Disengaged {
        return None;
    }
    let pull = stage.state.belt.map(|belt| belt.shaft_pull);
    context.check(Code::BeltPull, stage.subject(), pull)
}

fn speed(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    let (code, limit) = match stage.kind {
        Part::Supercharger(supercharger) => (Code::SuperchargerSpeed, supercharger.max_speed?),
        Part::TurboCompressor(turbo) => (Code::TurboSpeed, turbo.max_speed?),
        _ => return None,
    };
    context.check_against(code, stage.subject(), stage.state.speed, limit)
}

#[cfg(test)]
mod tests {
    use super::super::detail::Detail;
    use super::super::fixture::Case;
    use super::super::rule::{Basis, Severity};
    use super::*;
    use crate::air_path::BeltLoad;

    #[test]
    fn rotors_past_their_speed_are_over() {
        let mut case = Case::truck();
        case.found.stages[0].speed = Some(6000.0);
        assert_eq!(case.one(Code::SuperchargerSpeed).severity, Severity::Ok);
        case.found.stages[0].speed = Some(10_000.0);
        let found = case.one(Code::SuperchargerSpeed);
        assert_eq!(found.severity, Severity::Over);
    }

    #[test]
    fn pistons_past_their_limit_are_over_and_without_one_nothing_is_said() {
        let mut case = Case::truck();
        case.found.engine.mean_piston_speed = Some(25.0);
        assert_eq!(case.all(Code::PistonSpeed), []);
        case.installation.limits.max_piston_speed = Some(26.0);
        assert_eq!(case.one(Code::PistonSpeed).severity, Severity::Near);
        case.installation.limits.max_piston_speed = Some(24.0);
        assert_eq!(case.one(Code::PistonSpeed).severity, Severity::Over);
    }

    #[test]
    fn a_turbo_near_its_speed_is_found_and_a_slower_one_is_not() {
        let mut case = Case::truck();
        case.found.stages[1].speed = Some(135_000.0);
        assert_eq!(case.one(Code::TurboSpeed).severity, Severity::Near);
        case.found.stages[1].speed = Some(100_000.0);
        assert_eq!(case.one(Code::TurboSpeed).severity, Severity::Ok);
    }

    #[test]
    fn a_turbo_of_unknown_speed_is_said_to_be_unchecked() {
        let mut case = Case::truck();
        case.found.stages[1].speed = None;
        assert_eq!(case.all(Code::TurboSpeed), []);
        let found = case.one(Code::LimitNotChecked);
        assert_eq!(found.detail, Detail::Unchecked(Code::TurboSpeed));
    }

    #[test]
    fn a_belt_is_checked_where_it_is_known_and_a_limit_on_an_unknown_one_is_said() {
        let mut case = Case::truck();
        case.installation.limits.max_belt_pull = Some(1000.0);
        case.installation.limits.max_rotor_tip_speed = Some(60.0);
        assert_eq!(case.all(Code::LimitNotChecked).len(), 2);
        let bypass = case.found.stages[0].bypass;
        case.found.stages[0].bypass = BypassState::Disengaged;
        assert_eq!(case.all(Code::LimitNotChecked).len(), 1);
        case.found.stages[0].bypass = bypass;
        case.found.stages[0].tip_speed = Some(64.0);
        case.found.stages[0].belt = Some(BeltLoad {
            speed: 54.0,
            effective_pull: 900.0,
            tight: 1030.0,
            slack: 130.0,
            shaft_pull: 1150.0,
        });
        assert_eq!(case.all(Code::LimitNotChecked), []);
        assert_eq!(case.one(Code::BeltPull).severity, Severity::Over);
        assert_eq!(case.one(Code::TipSpeed).severity, Severity::Over);
        // No limit was set for its speed: a rule of thumb stands in.
        let speed = case.one(Code::BeltSpeed);
        assert_eq!(
            (speed.severity, speed.basis),
            (Severity::Over, Basis::CommonPractice)
        );
    }
}
