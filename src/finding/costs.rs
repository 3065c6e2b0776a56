//! What boost costs and breaks: the head's clamp, injectors, knocking, and power that is not known.

use super::catalogue::Code;
use super::context::Context;
use super::detail::{Detail, KnockGrade, MissingForPower};
use super::entry::Finding;
use super::rule::{Rule, Severity};
use super::subject::Subject;
use crate::air_path::{Part, SuperchargerKind};
use crate::engine::PeakBasis;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    list.extend(clamp(context));
    list.extend(injectors(context));
    list.extend(knock(context));
    list.extend(held_back(context));
    list.extend(power(context));
}

/// The margin at the end where friction took most of the torque and the peak is highest.
fn clamp(context: &Context) -> Option<Finding> {
    let cylinder = context.found.engine.cylinder;
    let margin = cylinder.and_then(|state| Some(state.clamp_margin?.low));
    let found = context.check(Code::ClampMargin, Subject::Engine, margin)?;
    let (Some(margin), Some(least)) = (found.value, found.limit) else {
        return Some(found);
    };
    let found = found.with(clamp_needed(context, margin, least)?);
    // Whoever set the minimum: below nothing the head lifts.
    Some(if margin < 0.0 {
        found.at_severity(Severity::Over)
    } else {
        found
    })
}

/// The clamp that would bring the margin to `least`, or the peak where the build's limit is one.
fn clamp_needed(context: &Context, margin: f64, least: f64) -> Option<Detail> {
    let cylinder = context.found.engine.cylinder?;
    let (clamp, (peak, basis)) = (cylinder.clamp_force?.low, cylinder.peak?);
    // The studs' own share of the gas force is in the margin: the clamp goes with 1 + margin.
    let factor = (1.0 + least) / (1.0 + margin);
    // What counts is the part of the peak above the air outside.
    let site = context.installation.site.pressure;
    let allowed = site + (peak.high - site) / factor;
    Some(Detail::Clamp {
        now: clamp,
        needed: clamp * factor,
        // An estimate goes with manifold pressure; the build's limit does not.
        allowed_peak: (basis == PeakBasis::Limit).then_some(allowed),
    })
}

fn injectors(context: &Context) -> Option<Finding> {
    let duty = context.found.fuel.and_then(|fuel| fuel.injector_duty);
    let found = context.check(Code::InjectorDuty, Subject::Engine, duty)?;
    Some(match found.value.zip(found.limit) {
        Some((duty, limit)) => found.with(Detail::InjectorFactor(duty / limit)),
        None => found,
    })
}

/// A caution in grades against what the fuel stands by common practice.
fn knock(context: &Context) -> Option<Finding> {
    let value = context
        .found
        .engine
        .cylinder?
        .equivalent_compression_ratio?;
    let kind = context.installation.fuel.as_ref()?.kind?;
    let (easy, most) = kind.knock_ratios()?;
    // Up to the upper of the two it takes care and runs; past it engines break.
    let (rule, grade) = match value {
        _ if value <= easy => (Rule::warns(easy), KnockGrade::Easy),
        _ if value <= most => (Rule::warns(easy), KnockGrade::Care),
        _ => (Rule::fails(most), KnockGrade::TooMuch),
    };
    let found = context.against_rule(Code::Knock, Subject::Engine, (value, rule))?;
    Some(found.with(Detail::Knock(grade)).weighing(value))
}

fn held_back(context: &Context) -> Option<Finding> {
    let there = context.found.fuel?.evaporated?;
    let remark = context.remark(Code::EvaporationHeldBack, Subject::Engine);
    let found = remark.valued(there.share).weighing(-there.share);
    there.is_held_back.then_some(found)
}

/// Brake power that is left out, with the first thing that is missing for it.
fn power(context: &Context) -> Option<Finding> {
    if context.found.engine.brake_power.is_some() {
        return None;
    }
    let installation = context.installation;
    let given = |part: &Part| match part {
        Part::Supercharger(stage) => matches!(stage.kind, SuperchargerKind::Prescribed(_)),
        _ => false,
    };
    let knows_exhaust = context.exhaust().is_some();
    let missing = if installation.fuel.is_none() {
        MissingForPower::Fuel
    } else if installation.engine.combustion.is_none() {
        MissingForPower::Combustion
    } else if !knows_exhaust && !installation.turbines.is_empty() {
        MissingForPower::DrivenTurbine
    } else if !knows_exhaust {
        MissingForPower::Exhaust
    } else if installation.air_path.iter().any(given) {
        MissingForPower::Drive
    } else {
        MissingForPower::Stroke
    };
    let found = context.remark(Code::PowerUnknown, Subject::Engine);
    Some(found.with(Detail::Missing(missing)))
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::rule::Basis;
    use super::*;
    use crate::engine::{CylinderState, EngineKind, Evaporated, FuelKind, Spread};
    use crate::matching::FuelState;
    use approx::assert_relative_eq;

    const fn spread(low: f64, high: f64) -> Spread {
        Spread { low, high }
    }

    /// A cylinder with a gas force of at most 150 kN and this clamp at least, N.
    fn clamped(clamp: f64) -> Case {
        let mut case = Case::truck();
        case.found.manifold_pressure = 268.5e3;
        case.found.engine.cylinder = Some(CylinderState {
            compression_pressure: spread(9e6, 10e6),
            compression_temperature: spread(700.0, 800.0),
            peak: Some((spread(12e6, 15e6), PeakBasis::RiseRatio)),
            gas_force: Some(spread(120e3, 150e3)),
            clamp_force: Some(spread(clamp, 1.5 * clamp)),
            clamp_margin: Some(spread(clamp / 150e3 - 1.0, 1.5 * clamp / 120e3 - 1.0)),
            equivalent_compression_ratio: None,
        });
        case
    }

    fn fuelled(duty: Option<f64>, evaporated: Option<Evaporated>) -> FuelState {
        FuelState {
            per_stroke: None,
            volume_per_stroke: None,
            injector_duty: duty,
            evaporated,
            charge_cooling: None,
        }
    }

    #[test]
    fn a_head_that_lifts_is_over_and_a_weak_clamp_near() {
        let lifted = clamped(140e3).one(Code::ClampMargin);
        let weak = clamped(200e3).one(Code::ClampMargin);
        assert_eq!(
            (lifted.severity, weak.severity),
            (Severity::Over, Severity::Near)
        );
        assert_eq!(
            (lifted.basis, weak.basis),
            (Basis::CommonPractice, Basis::CommonPractice)
        );
        assert!(weak.is_worse_than(&clamped(210e3).one(Code::ClampMargin)));
        assert_eq!(clamped(300e3).one(Code::ClampMargin).severity, Severity::Ok);
    }

    /// By hand: 200 kN at least over 150 kN at most; the minimum of 0.5 wants 225 kN.
    #[test]
    fn a_set_minimum_names_the_clamp_that_would_hold_it() {
        let mut case = clamped(200e3);
        case.installation.limits.min_clamp_margin = Some(0.5);
        let found = case.one(Code::ClampMargin);
        assert_eq!(found.severity, Severity::Over);
        let Detail::Clamp {
            needed,
            allowed_peak: None,
            ..
        } = found.detail
        else {
            panic!("{found:?}");
        };
        assert_relative_eq!(needed, 225e3, max_relative = 1e-12);
        // A peak that is the build's own limit does not fall with the manifold: 83.5 kPa and 8/9 of the
        // rest of 15 MPa.
        if let Some(state) = &mut case.found.engine.cylinder {
            state.peak = Some((spread(15e6, 15e6), PeakBasis::Limit));
        }
        let Detail::Clamp {
            allowed_peak: Some(allowed),
            ..
        } = case.one(Code::ClampMargin).detail
        else {
            panic!("the limit stands for the peak");
        };
        let site = case.installation.site.pressure;
        assert_relative_eq!(
            allowed,
            site + (15e6 - site) * 200.0 / 225.0,
            max_relative = 1e-12
        );
    }

    #[test]
    fn a_minimum_that_nothing_can_be_held_against_is_said() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::ClampMargin), []);
        case.installation.limits.min_clamp_margin = Some(0.5);
        case.installation.limits.max_injector_duty = Some(0.8);
        let unchecked = case.all(Code::LimitNotChecked);
        assert_eq!(unchecked.len(), 2, "{unchecked:?}");
    }

    #[test]
    fn injectors_are_near_up_to_85_per_cent_and_over_past_it() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::InjectorDuty), []);
        for (duty, severity) in [
            (0.7, Severity::Ok),
            (0.84, Severity::Near),
            (0.9, Severity::Over),
        ] {
            case.found.fuel = Some(fuelled(Some(duty), None));
            assert_eq!(case.one(Code::InjectorDuty).severity, severity, "{duty}");
        }
        case.installation.limits.max_injector_duty = Some(0.6);
        case.found.fuel = Some(fuelled(Some(0.7), None));
        assert_eq!(case.one(Code::InjectorDuty).severity, Severity::Over);
    }

    #[test]
    fn knocking_is_a_caution_in_grades_and_alcohol_stands_more() {
        let mut case = clamped(300e3);
        case.installation.engine.kind = Some(EngineKind::SparkIgnition);
        if let Some(cylinder) = &mut case.found.engine.cylinder {
            cylinder.equivalent_compression_ratio = Some(13.0);
        }
        let mut grade = |kind| {
            if let Some(fuel) = &mut case.installation.fuel {
                fuel.kind = Some(kind);
            }
            let found = case.one(Code::Knock);
            assert_eq!(found.basis, Basis::CommonPractice);
            (found.severity, found.detail)
        };
        let care = (Severity::Near, Detail::Knock(KnockGrade::Care));
        assert_eq!(grade(FuelKind::Petrol), care);
        let easy = (Severity::Ok, Detail::Knock(KnockGrade::Easy));
        assert_eq!(grade(FuelKind::Methanol), easy);
    }

    #[test]
    fn fuel_that_finds_no_room_as_vapour_is_told() {
        let mut case = Case::truck();
        let mut there = Evaporated {
            share: 0.24,
            vapour_fraction: 0.04,
            heat: 40e3,
            temperature: 290.0,
            is_held_back: false,
        };
        case.found.fuel = Some(fuelled(None, Some(there)));
        assert_eq!(case.all(Code::EvaporationHeldBack), []);
        there.is_held_back = true;
        case.found.fuel = Some(fuelled(None, Some(there)));
        assert_eq!(case.one(Code::EvaporationHeldBack).value, Some(0.24));
    }

    #[test]
    fn power_that_is_left_out_names_what_is_missing() {
        let mut case = Case::truck();
        // The truck's match was written down without powers.
        let missing = |case: &Case| match case.one(Code::PowerUnknown).detail {
            Detail::Missing(missing) => missing,
            other => panic!("{other:?}"),
        };
        assert_eq!(missing(&case), MissingForPower::Stroke);
        case.installation.engine.combustion = None;
        assert_eq!(missing(&case), MissingForPower::Combustion);
        case.found.engine.brake_power = Some(1e5);
        assert_eq!(case.all(Code::PowerUnknown), []);
    }
}
