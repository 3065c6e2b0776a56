//! What boost costs and breaks: the head's clamp, injectors, knocking, and power that is not known.

use super::limit::{Rule, USUAL_CLAMP_MARGIN, USUAL_INJECTOR_DUTY};
use super::seen::Seen;
use super::{Code, Detail, Finding, Grade, Measure, Missing, Severity, Subject};
use crate::air_path::{Part, SuperchargerKind};
use crate::engine::PeakBasis;
use crate::matching::StationPlace;

pub(super) fn find(seen: &Seen, list: &mut Vec<Finding>) {
    list.extend(clamp(seen));
    list.extend(injectors(seen));
    list.extend(knock(seen));
    list.extend(held_back(seen));
    list.extend(power(seen));
}

/// The margin at the end where friction took most of the torque and the peak is highest.
fn clamp(seen: &Seen) -> Option<Finding> {
    let set = seen.installation.limits.min_clamp_margin;
    let code = Code::ClampMargin;
    let cylinder = seen.found.engine.cylinder;
    let Some(margin) = cylinder.and_then(|state| Some(state.clamp_margin?.low)) else {
        return set.map(|_| seen.unchecked(code, Subject::Engine));
    };
    let least = set.unwrap_or(USUAL_CLAMP_MARGIN.limit);
    let detail = clamp_needed(seen, margin, least)?;
    let pair = (margin, least);
    let found = Finding::smallest(code, Subject::Engine, seen.rpm(), pair, Measure::Share)?;
    let found = found.with(detail);
    Some(match set {
        Some(_) => found,
        None if margin < 0.0 => found.by_rule(Rule::fails(least)),
        None => found.by_rule(USUAL_CLAMP_MARGIN),
    })
}

/// The clamp that would bring the margin to `least`, or the peak where the build's limit is one.
fn clamp_needed(seen: &Seen, margin: f64, least: f64) -> Option<Detail> {
    let cylinder = seen.found.engine.cylinder?;
    let (clamp, (peak, basis)) = (cylinder.clamp_force?.low, cylinder.peak?);
    // The studs' own share of the gas force is in the margin: the clamp goes with 1 + margin.
    let factor = (1.0 + least) / (1.0 + margin);
    // What counts is the part of the peak above the air outside.
    let site = seen.installation.site.pressure;
    let allowed = site + (peak.high - site) / factor;
    Some(Detail::Clamp {
        now: clamp,
        needed: clamp * factor,
        // An estimate goes with manifold pressure; the build's limit does not.
        allowed_peak: (basis == PeakBasis::Limit).then_some(allowed),
    })
}

fn injectors(seen: &Seen) -> Option<Finding> {
    let set = seen.installation.limits.max_injector_duty;
    let code = Code::InjectorDuty;
    let Some(duty) = seen.found.fuel.and_then(|fuel| fuel.injector_duty) else {
        return set.map(|_| seen.unchecked(code, Subject::Engine));
    };
    let limit = set.unwrap_or(USUAL_INJECTOR_DUTY.limit);
    let pair = (duty, limit);
    let found = Finding::largest(code, Subject::Engine, seen.rpm(), pair, Measure::Share)?;
    let found = found.with(Detail::InjectorFactor(duty / limit));
    Some(match set {
        Some(_) => found,
        None => found.by_rule(USUAL_INJECTOR_DUTY),
    })
}

/// A caution in grades against what the fuel stands by common practice.
fn knock(seen: &Seen) -> Option<Finding> {
    let value = seen.found.engine.cylinder?.equivalent_compression_ratio?;
    let kind = seen.installation.fuel.as_ref()?.kind?;
    let (easy, most) = kind.knock_ratios()?;
    let code = Code::Knock;
    // Up to the upper of the two it takes care and runs; past it engines break.
    let (rule, grade) = match value {
        _ if value <= easy => (Rule::warns(easy), Grade::Easy),
        _ if value <= most => (Rule::warns(easy), Grade::Care),
        _ => (Rule::fails(most), Grade::TooMuch),
    };
    let pair = (value, rule.limit);
    let found = Finding::largest(code, Subject::Engine, seen.rpm(), pair, Measure::Ratio)?;
    let found = found.by_rule(rule).with(Detail::Knock(grade));
    Some(found.weighing(value))
}

fn held_back(seen: &Seen) -> Option<Finding> {
    let there = seen.found.fuel?.evaporated?;
    let code = Code::EvaporationHeldBack;
    let remark = Finding::remark(code, Severity::Ok, Subject::Engine, seen.rpm());
    there.is_held_back.then(|| {
        remark
            .valued(there.share, Measure::Share)
            .weighing(-there.share)
    })
}

/// Brake power that is left out, with the first thing that is missing for it.
fn power(seen: &Seen) -> Option<Finding> {
    if seen.found.engine.brake_power.is_some() {
        return None;
    }
    let installation = seen.installation;
    let given = |part: &Part| match part {
        Part::Supercharger(stage) => matches!(stage.kind, SuperchargerKind::Prescribed(_)),
        _ => false,
    };
    let knows_exhaust =
        seen.turbine_inlet().is_some() || seen.station(StationPlace::Exhaust).is_some();
    let missing = if installation.fuel.is_none() {
        Missing::Fuel
    } else if installation.engine.combustion.is_none() {
        Missing::Combustion
    } else if !knows_exhaust && !installation.turbines.is_empty() {
        Missing::DrivenTurbine
    } else if !knows_exhaust {
        Missing::Exhaust
    } else if installation.air_path.iter().any(given) {
        Missing::Drive
    } else {
        Missing::Stroke
    };
    let code = Code::PowerUnknown;
    let found = Finding::remark(code, Severity::Ok, Subject::Engine, seen.rpm());
    Some(found.with(Detail::Missing(missing)))
}

#[cfg(test)]
mod tests {
    use super::super::Basis;
    use super::super::fixture::Case;
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
        let care = (Severity::Near, Detail::Knock(Grade::Care));
        assert_eq!(grade(FuelKind::Petrol), care);
        let easy = (Severity::Ok, Detail::Knock(Grade::Easy));
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
        assert_eq!(missing(&case), Missing::Stroke);
        case.installation.engine.combustion = None;
        assert_eq!(missing(&case), Missing::Combustion);
        case.found.engine.brake_power = Some(1e5);
        assert_eq!(case.all(Code::PowerUnknown), []);
    }
}
