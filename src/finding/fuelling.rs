//! The mixture, the smoke limiter, and what the fuel holds.

use super::catalogue::Code;
use super::context::Context;
use super::detail::{Detail, FixedFuelling, OtherFuelling};
use super::entry::Finding;
use super::subject::Subject;
use crate::engine::{EngineKind, Fuelling};

/// Share of the manifold pressure above which the answer hangs on what is held fixed.
const HANGS_ON_IT: f64 = 0.05;
/// Below this a mixture is rich and not stoichiometric with rounding.
const RICH: f64 = 1.0 - 1e-9;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    list.extend(rich(context));
    list.extend(smoke(context));
    list.extend(limiter(context));
    list.extend(assumption(context));
}

fn is_diesel(context: &Context) -> bool {
    context.installation.engine.kind == Some(EngineKind::Diesel)
}

/// A spark-ignition engine may be run rich on purpose; a diesel may not.
fn rich(context: &Context) -> Option<Finding> {
    let lambda = context.found.lambda.filter(|lambda| *lambda < RICH)?;
    let found = context.against(Code::RichMixture, Subject::Engine, (lambda, 1.0))?;
    Some(found.worse_where(is_diesel(context)))
}

fn smoke(context: &Context) -> Option<Finding> {
    let is_rich = context.found.lambda.is_some_and(|lambda| lambda < RICH);
    if !is_diesel(context) || is_rich {
        return None;
    }
    let ratio = context.found.air_fuel_ratio;
    context.check(Code::DieselSmoke, Subject::Engine, ratio)
}

/// How much of the fuel asked for the smoke limiter cuts.
fn limiter(context: &Context) -> Option<Finding> {
    if !context.found.at_smoke_limit {
        return None;
    }
    let Fuelling::PerStroke { mass, .. } = &context.installation.fuel.as_ref()?.burned else {
        return None;
    };
    let (asked, burned) = (mass.at(context.rpm()), context.found.fuel?.per_stroke?);
    let cut = 1.0 - burned / asked;
    let found = context.check(Code::SmokeLimiterActive, Subject::Engine, Some(cut))?;
    Some(found.with(Detail::FuelCut { asked, burned }))
}

fn assumption(context: &Context) -> Option<Finding> {
    let other = context.extra.other_fuelling?;
    let held = match context.installation.fuel.as_ref()?.burned {
        Fuelling::AirFuelRatio(_) | Fuelling::Lambda(_) => FixedFuelling::Ratio,
        Fuelling::PerStroke { .. } | Fuelling::Flow(_) => FixedFuelling::Quantity,
    };
    let (_, manifold) = context.manifold()?;
    let (differs, apart) = match other {
        OtherFuelling::ManifoldPressure(p) => {
            let ratio = p / manifold.pressure;
            ((ratio - 1.0).abs() > HANGS_ON_IT, ratio.ln().abs())
        }
        OtherFuelling::RunsAway => (true, f64::INFINITY),
    };
    let found = context
        .remark(Code::FuellingAssumption, Subject::Engine)
        .worse_where(differs)
        .valued(manifold.pressure);
    let found = found.with(Detail::Fuelling { held, other });
    Some(found.weighing(apart))
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::rule::{Basis, Severity};
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
                held: FixedFuelling::Ratio,
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
                held: FixedFuelling::Quantity,
                ..
            }
        ));
        assert_eq!(found.severity, Severity::Near);
    }
}
