//! Shaft speeds, rotor tips and belts against what the parts stand.

use super::limit::USUAL_BELT_SPEED;
use super::seen::{Seen, SeenStage};
use super::{Code, Finding, Measure};
use crate::air_path::Part;
use crate::matching::BypassState;

pub(super) fn find(seen: &Seen, list: &mut Vec<Finding>) {
    for stage in seen.stages() {
        list.extend(speed(seen, &stage));
        list.extend(tip_speed(seen, &stage));
        list.extend(belt_pull(seen, &stage));
        list.extend(belt_speed(seen, &stage));
    }
}

fn tip_speed(seen: &Seen, stage: &SeenStage) -> Option<Finding> {
    let limit = seen.installation.limits.max_rotor_tip_speed?;
    let Part::Supercharger(_) = stage.kind else {
        return None;
    };
    let code = Code::TipSpeed;
    let Some(value) = stage.state.tip_speed else {
        return Some(seen.unchecked(code, stage.subject()));
    };
    let pair = (value, limit);
    let measure = Measure::SurfaceSpeed;
    Finding::largest(code, stage.subject(), seen.rpm(), pair, measure)
}

fn belt_pull(seen: &Seen, stage: &SeenStage) -> Option<Finding> {
    let limit = seen.installation.limits.max_belt_pull?;
    let Part::Supercharger(_) = stage.kind else {
        return None;
    };
    let code = Code::BeltPull;
    // A clutch that lets go leaves the belt nothing to pull.
    if stage.state.bypass == BypassState::Disengaged {
        return None;
    }
    let Some(belt) = stage.state.belt else {
        return Some(seen.unchecked(code, stage.subject()));
    };
    let pair = (belt.shaft_pull, limit);
    Finding::largest(code, stage.subject(), seen.rpm(), pair, Measure::Force)
}

fn belt_speed(seen: &Seen, stage: &SeenStage) -> Option<Finding> {
    let pair = (stage.state.belt?.speed, USUAL_BELT_SPEED.limit);
    let code = Code::BeltSpeed;
    let measure = Measure::SurfaceSpeed;
    let found = Finding::largest(code, stage.subject(), seen.rpm(), pair, measure)?;
    Some(found.by_rule(USUAL_BELT_SPEED))
}

fn speed(seen: &Seen, stage: &SeenStage) -> Option<Finding> {
    let (code, limit) = match stage.kind {
        Part::Supercharger(supercharger) => (Code::SuperchargerSpeed, supercharger.max_speed?),
        Part::TurboCompressor(turbo) => (Code::TurboSpeed, turbo.max_speed?),
        _ => return None,
    };
    let Some(value) = stage.state.speed else {
        return Some(seen.unchecked(code, stage.subject()));
    };
    let pair = (value, limit);
    Finding::largest(code, stage.subject(), seen.rpm(), pair, Measure::Speed)
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::{Basis, Detail, Severity};
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
