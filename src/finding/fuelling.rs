//! The mixture, the smoke limiter, and what the fuel holds.

use super::limit::{USUAL_FUEL_CUT, USUAL_SMOKE_LIMIT};
use super::seen::Seen;
use super::{Code, Detail, Finding, Held, Measure, OtherFuelling, Severity, Subject};
use crate::engine::{EngineKind, Fuelling};

/// Share of the manifold pressure above which the answer hangs on what the fuel holds.
const HANGS_ON_IT: f64 = 0.05;
/// Below this a mixture is rich and not stoichiometric with rounding.
const RICH: f64 = 1.0 - 1e-9;

pub(super) fn find(seen: &Seen, list: &mut Vec<Finding>) {
    list.extend(rich(seen));
    list.extend(smoke(seen));
    list.extend(limiter(seen));
    list.extend(assumption(seen));
}

fn is_diesel(seen: &Seen) -> bool {
    seen.installation.engine.kind == Some(EngineKind::Diesel)
}

/// A spark-ignition engine may be run rich on purpose; a diesel may not.
fn rich(seen: &Seen) -> Option<Finding> {
    let lambda = seen.found.lambda.filter(|lambda| *lambda < RICH)?;
    let severity = if is_diesel(seen) {
        Severity::Over
    } else {
        Severity::Near
    };
    let code = Code::RichMixture;
    let pair = (lambda, 1.0);
    let found = Finding::smallest(code, Subject::Engine, seen.rpm(), pair, Measure::Ratio)?;
    Some(found.at_severity(severity))
}

fn smoke(seen: &Seen) -> Option<Finding> {
    let is_rich = seen.found.lambda.is_some_and(|lambda| lambda < RICH);
    if !is_diesel(seen) || is_rich {
        return None;
    }
    let pair = (seen.found.air_fuel_ratio?, USUAL_SMOKE_LIMIT.limit);
    let code = Code::DieselSmoke;
    let found = Finding::smallest(code, Subject::Engine, seen.rpm(), pair, Measure::Ratio)?;
    Some(found.by_rule(USUAL_SMOKE_LIMIT))
}

/// How much of the fuel asked for the smoke limiter cuts.
fn limiter(seen: &Seen) -> Option<Finding> {
    if !seen.found.at_smoke_limit {
        return None;
    }
    let Fuelling::PerStroke { mass, .. } = &seen.installation.fuel.as_ref()?.burned else {
        return None;
    };
    let (asked, burned) = (mass.at(seen.rpm()), seen.found.fuel?.per_stroke?);
    let code = Code::SmokeLimiterActive;
    let pair = (1.0 - burned / asked, USUAL_FUEL_CUT.limit);
    let found = Finding::largest(code, Subject::Engine, seen.rpm(), pair, Measure::Share)?;
    let found = found.by_rule(USUAL_FUEL_CUT);
    Some(found.with(Detail::FuelCut { asked, burned }))
}

fn assumption(seen: &Seen) -> Option<Finding> {
    let other = seen.extra.other_fuelling?;
    let held = match seen.installation.fuel.as_ref()?.burned {
        Fuelling::AirFuelRatio(_) | Fuelling::Lambda(_) => Held::Ratio,
        Fuelling::PerStroke { .. } | Fuelling::Flow(_) => Held::Fuel,
    };
    let (_, manifold) = seen.manifold()?;
    let hangs = match other {
        OtherFuelling::ManifoldPressure(p) => (p / manifold.pressure - 1.0).abs() > HANGS_ON_IT,
        OtherFuelling::RunsAway => true,
    };
    let severity = if hangs { Severity::Near } else { Severity::Ok };
    let code = Code::FuellingAssumption;
    let found = Finding::remark(code, severity, Subject::Engine, seen.rpm())
        .valued(manifold.pressure, Measure::AbsolutePressure);
    let apart = match other {
        OtherFuelling::ManifoldPressure(p) => (p / manifold.pressure).ln().abs(),
        OtherFuelling::RunsAway => f64::INFINITY,
    };
    let found = found.with(Detail::Fuelling { held, other });
    Some(found.weighing(apart))
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::{Basis, Detail};
    use super::*;
    use crate::numeric::Schedule;

    #[test]
    fn a_lean_mixture_is_no_finding() {
        let case = Case::truck();
        assert_eq!(case.all(Code::RichMixture), []);
        assert_eq!(case.one(Code::DieselSmoke).severity, Severity::Ok);
        assert_eq!(case.all(Code::SmokeLimiterActive), []);
    }

    #[test]
    fn a_rich_diesel_is_over_and_a_rich_petrol_engine_near() {
        let mut case = Case::truck();
        case.found.lambda = Some(0.9);
        assert_eq!(case.one(Code::RichMixture).severity, Severity::Over);
        assert_eq!(case.all(Code::DieselSmoke), []);
        case.installation.engine.kind = Some(EngineKind::SparkIgnition);
        assert_eq!(case.one(Code::RichMixture).severity, Severity::Near);
    }

    #[test]
    fn a_diesel_with_little_air_smokes_by_common_practice() {
        let mut case = Case::truck();
        (case.found.air_fuel_ratio, case.found.lambda) = (Some(16.5), Some(1.14));
        let found = case.one(Code::DieselSmoke);
        assert_eq!(
            (found.severity, found.basis),
            (Severity::Near, Basis::CommonPractice)
        );
    }

    /// The truck's rack asks for 122 mg.
    fn limited_to(burned: f64) -> Case {
        let mut case = Case::truck();
        if let Some(fuel) = &mut case.installation.fuel {
            fuel.burned = Fuelling::PerStroke {
                mass: Schedule::constant(122e-6),
                smallest_air_fuel_ratio: Some(Schedule::constant(22.0)),
            };
        }
        case.found.fuel = Some(crate::matching::FuelState {
            per_stroke: Some(burned),
            volume_per_stroke: None,
            injector_duty: None,
            evaporated: None,
            charge_cooling: None,
        });
        case.found.at_smoke_limit = true;
        case
    }

    #[test]
    fn a_smoke_limiter_says_how_much_it_cuts_and_warns_past_a_tenth() {
        let trims = limited_to(0.95 * 122e-6).one(Code::SmokeLimiterActive);
        assert_eq!(trims.severity, Severity::Ok);
        let halves = limited_to(61e-6).one(Code::SmokeLimiterActive);
        assert_eq!(
            (halves.severity, halves.basis),
            (Severity::Near, Basis::CommonPractice)
        );
        approx::assert_relative_eq!(halves.value.unwrap(), 0.5, max_relative = 1e-12);
        assert!(halves.is_worse_than(&limited_to(80e-6).one(Code::SmokeLimiterActive)));
    }

    #[test]
    fn a_smoke_limiter_that_lets_all_fuel_pass_is_not_told() {
        let mut case = limited_to(122e-6);
        case.found.at_smoke_limit = false;
        assert_eq!(case.all(Code::SmokeLimiterActive), []);
    }

    #[test]
    fn what_the_fuel_holds_is_said_where_the_answer_hangs_on_it() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::FuellingAssumption), []);
        case.extra.other_fuelling = Some(OtherFuelling::ManifoldPressure(180e3));
        let found = case.one(Code::FuellingAssumption);
        assert_eq!(found.severity, Severity::Near);
        assert!(matches!(
            found.detail,
            Detail::Fuelling {
                held: Held::Ratio,
                ..
            }
        ));
        case.extra.other_fuelling = Some(OtherFuelling::ManifoldPressure(268e3));
        assert_eq!(case.one(Code::FuellingAssumption).severity, Severity::Ok);
        case.extra.other_fuelling = Some(OtherFuelling::RunsAway);
        if let Some(fuel) = &mut case.installation.fuel {
            fuel.burned = Fuelling::Flow(Schedule::constant(0.012));
        }
        let found = case.one(Code::FuellingAssumption);
        assert!(matches!(
            found.detail,
            Detail::Fuelling {
                held: Held::Fuel,
                ..
            }
        ));
        assert_eq!(found.severity, Severity::Near);
    }
}
