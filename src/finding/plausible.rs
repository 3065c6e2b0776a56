//! Whether such an engine exists: states that balance and that no engine at full load is in. The
//! build sets no limits here; what it says elsewhere must be far off.

use super::catalogue::Code;
use super::context::{Context, MatchedStage};
use super::entry::Finding;
use super::rule::{Rule, Severity, Usual};
use super::subject::Subject;
use crate::air_path::{Part, SuperchargerKind};
use crate::matching::BypassState;

/// Largest relative residual of a match: solutions are met to 1e-9, and the larger of two rounded
/// powers may stand a little above that.
const BALANCED: f64 = 1e-8;
/// Manifold over site pressure of an engine without a stage: filter and valves take a little (common
/// practice).
const NATURALLY_ASPIRATED: f64 = 0.95;
/// Manifold over site pressure below which an engine at full load is throttled and not fed.
const STARVED: f64 = 0.5;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    list.extend(brake_power(context));
    list.extend(below_site(context));
    list.extend(far_above_site(context));
    list.extend(hot_exhaust(context));
    list.extend(cold_exhaust(context));
    let ratios = context.stages().filter_map(|stage| ratio(context, &stage));
    list.extend(ratios);
}

/// A match whose balances are open is none.
pub(super) fn not_balanced(context: &Context) -> Option<Finding> {
    let left = context.found.residuals;
    // A NaN passes no comparison, and a maximum swallows it.
    let is_met = [left.flow, left.power, left.pressure]
        .iter()
        .all(|residual| *residual <= BALANCED);
    let largest = left.largest();
    let weight = if largest.is_finite() {
        largest
    } else {
        f64::INFINITY
    };
    let remark = context.remark(Code::NotBalanced, Subject::Whole);
    (!is_met).then(|| remark.valued(largest).weighing(weight))
}

fn brake_power(context: &Context) -> Option<Finding> {
    let power = context.found.engine.brake_power;
    let power = power.filter(|power| *power <= 0.0)?;
    let found = context.remark(Code::NoBrakePower, Subject::Engine);
    Some(found.valued(power).weighing(-power))
}

/// An engine at full load whose charge is thinner than the air outside.
fn below_site(context: &Context) -> Option<Finding> {
    let (subject, manifold) = context.manifold()?;
    let site = context.installation.site.pressure;
    let is_fed = context.stages().next().is_some();
    let least = if is_fed { 1.0 } else { NATURALLY_ASPIRATED } * site;
    if manifold.pressure >= least * (1.0 - 1e-9) {
        return None;
    }
    let pair = (manifold.pressure, site);
    let found = context.against(Code::ManifoldBelowSite, subject, pair)?;
    Some(found.worse_where(manifold.pressure < STARVED * site))
}

fn far_above_site(context: &Context) -> Option<Finding> {
    let (subject, manifold) = context.manifold()?;
    let code = Code::ManifoldFarAboveSite;
    let Usual::TimesSite(rule) = code.row().usual else {
        return None;
    };
    let limit = rule.limit * context.installation.site.pressure;
    let pair = (manifold.pressure, Rule { limit, ..rule });
    let found = context.against_rule(code, subject, pair)?;
    (found.severity > Severity::Ok).then_some(found)
}

fn hot_exhaust(context: &Context) -> Option<Finding> {
    let (subject, exhaust) = context.exhaust()?;
    let code = Code::ExhaustBeyondMaterial;
    let found = context.check(code, subject, Some(exhaust.temperature))?;
    (found.severity > Severity::Ok).then_some(found)
}

fn cold_exhaust(context: &Context) -> Option<Finding> {
    let (subject, exhaust) = context.exhaust()?;
    let code = Code::ExhaustTooCold;
    let pair = (exhaust.temperature, code.row().rule()?.limit);
    let found = context.against(code, subject, pair)?;
    (pair.0 < pair.1).then_some(found)
}

/// A pressure ratio that a stage of this kind does not reach in one piece.
fn ratio(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    if stage.state.bypass == BypassState::Disengaged {
        return None;
    }
    let code = Code::StagePressureRatio;
    let Usual::ByMachine {
        roots,
        screw,
        wheel,
    } = code.row().usual
    else {
        return None;
    };
    let rule = match stage.kind {
        Part::Supercharger(supercharger) => match &supercharger.kind {
            SuperchargerKind::Displacement(machine) if machine.internal_volume_ratio > 1.0 => screw,
            SuperchargerKind::Displacement(_) => roots,
            // A given ratio may be that of any machine.
            SuperchargerKind::Prescribed(_) | SuperchargerKind::Centrifugal(_) => wheel,
        },
        _ => wheel,
    };
    let pair = (stage.state.pressure_ratio, rule);
    let found = context.against_rule(code, stage.subject(), pair)?;
    (found.severity > Severity::Ok).then_some(found)
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::of_match;
    use super::super::rule::Basis;
    use super::*;
    use crate::air_path::Part;
    use crate::matching::StationPlace;

    fn with_exhaust(celsius: f64) -> Case {
        let mut case = Case::truck();
        case.station(StationPlace::TurbineInlet(0)).temperature = celsius + 273.15;
        case
    }

    fn with_manifold(over_site: f64) -> Case {
        let mut case = Case::truck();
        let site = case.installation.site.pressure;
        case.station(StationPlace::Manifold).pressure = over_site * site;
        case
    }

    #[test]
    fn an_engine_of_every_day_is_no_finding() {
        let mut case = Case::truck();
        case.found.engine.brake_power = Some(180e3);
        for code in [
            Code::NotBalanced,
            Code::NoBrakePower,
            Code::ManifoldBelowSite,
            Code::ManifoldFarAboveSite,
            Code::ExhaustBeyondMaterial,
            Code::ExhaustTooCold,
            Code::StagePressureRatio,
        ] {
            assert_eq!(case.all(code), [], "{code:?}");
        }
    }

    #[test]
    fn an_engine_that_gives_no_power_is_over_and_the_worst_where_most_is_missing() {
        let mut case = Case::truck();
        case.found.engine.brake_power = Some(-2e3);
        let little = case.one(Code::NoBrakePower);
        assert_eq!(
            (little.severity, little.value),
            (Severity::Over, Some(-2e3))
        );
        case.found.engine.brake_power = Some(-9e3);
        assert!(case.one(Code::NoBrakePower).is_worse_than(&little));
    }

    #[test]
    fn a_manifold_below_the_site_is_near_and_below_half_of_it_over() {
        assert_eq!(
            with_manifold(0.9).one(Code::ManifoldBelowSite).severity,
            Severity::Near
        );
        assert_eq!(
            with_manifold(0.45).one(Code::ManifoldBelowSite).severity,
            Severity::Over
        );
        assert_eq!(with_manifold(1.0).all(Code::ManifoldBelowSite), []);
    }

    #[test]
    fn an_engine_without_stages_may_lose_a_little_on_its_way_in() {
        let mut case = with_manifold(0.97);
        case.layout.stages.clear();
        case.found.stages.clear();
        assert_eq!(case.all(Code::ManifoldBelowSite), []);
        let site = case.installation.site.pressure;
        case.station(StationPlace::Manifold).pressure = 0.9 * site;
        case.one(Code::ManifoldBelowSite);
    }

    #[test]
    fn eight_times_the_air_outside_is_more_than_any_engine_is_fed_with() {
        assert_eq!(with_manifold(7.5).all(Code::ManifoldFarAboveSite), []);
        let found = with_manifold(8.2).one(Code::ManifoldFarAboveSite);
        assert_eq!(
            (found.severity, found.basis),
            (Severity::Over, Basis::CommonPractice)
        );
    }

    #[test]
    fn an_exhaust_that_no_metal_stands_is_over_whatever_the_build_permits() {
        let mut case = with_exhaust(1150.0);
        case.installation.limits.max_exhaust_temperature = Some(1600.0);
        let found = case.one(Code::ExhaustBeyondMaterial);
        assert_eq!(found.severity, Severity::Over);
        let near = with_exhaust(1060.0).one(Code::ExhaustBeyondMaterial);
        assert_eq!(near.severity, Severity::Near);
        assert_eq!(with_exhaust(1000.0).all(Code::ExhaustBeyondMaterial), []);
    }

    #[test]
    fn an_exhaust_that_no_engine_at_full_load_has_is_outside_what_is_known() {
        let found = with_exhaust(310.0).one(Code::ExhaustTooCold);
        assert_eq!(found.severity, Severity::OutsideData);
        assert!(
            with_exhaust(200.0)
                .one(Code::ExhaustTooCold)
                .is_worse_than(&found)
        );
        assert_eq!(with_exhaust(420.0).all(Code::ExhaustTooCold), []);
    }

    #[test]
    fn each_kind_of_stage_has_its_own_largest_ratio() {
        let mut case = Case::truck();
        case.deliver(3.0);
        let roots = case.one(Code::StagePressureRatio);
        assert_eq!(
            (roots.severity, roots.subject),
            (Severity::Over, Subject::Stage(0))
        );
        if let Part::Supercharger(stage) = &mut case.installation.air_path[1]
            && let SuperchargerKind::Displacement(machine) = &mut stage.kind
        {
            machine.internal_volume_ratio = 1.4;
        }
        assert_eq!(case.all(Code::StagePressureRatio), []);
        case.found.stages[1].pressure_ratio = 6.3;
        assert_eq!(
            case.one(Code::StagePressureRatio).subject,
            Subject::Stage(1)
        );
    }

    #[test]
    fn a_state_whose_balances_are_open_is_no_match_and_nothing_else_is_said_of_it() {
        for residual in [3e-8, f64::NAN, f64::INFINITY] {
            let mut case = Case::truck();
            case.installation.limits.max_manifold_pressure = Some(100e3);
            case.found.residuals.power = residual;
            let list = of_match(&case.installation, &case.layout, &case.found, &case.extra);
            assert_eq!(list.len(), 1, "{residual}: {list:?}");
            assert_eq!(
                (list[0].code, list[0].severity),
                (Code::NotBalanced, Severity::Over)
            );
        }
        let mut case = Case::truck();
        case.found.residuals.power = 2e-9;
        assert_eq!(case.all(Code::NotBalanced), []);
    }
}
