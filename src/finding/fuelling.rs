//! The mixture, the smoke limiter, and what the fuel holds.

use super::limit::USUAL_SMOKE_LIMIT;
use super::seen::Seen;
use super::{Code, Detail, Finding, Held, Measure, OtherFuelling, Severity, Subject};
use crate::engine::{Burned, EngineKind};

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
    let pair = (seen.found.air_fuel_ratio?, USUAL_SMOKE_LIMIT);
    let code = Code::DieselSmoke;
    let found = Finding::smallest(code, Subject::Engine, seen.rpm(), pair, Measure::Ratio)?;
    Some(found.by_common_practice())
}

fn limiter(seen: &Seen) -> Option<Finding> {
    if !seen.found.at_smoke_limit {
        return None;
    }
    let code = Code::SmokeLimiterActive;
    let found = Finding::remark(code, Severity::Ok, Subject::Engine, seen.rpm());
    Some(found.valued(seen.found.air_fuel_ratio?, Measure::Ratio))
}

fn assumption(seen: &Seen) -> Option<Finding> {
    let other = seen.extra.other_fuelling?;
    let held = match seen.installation.fuel.as_ref()?.burned {
        Burned::AirFuelRatio(_) | Burned::Lambda(_) => Held::Ratio,
        Burned::PerStroke { .. } | Burned::Flow(_) => Held::Fuel,
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
    Some(found.with(Detail::Fuelling { held, other }))
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

    #[test]
    fn a_working_smoke_limiter_is_told_and_is_no_fault() {
        let mut case = Case::truck();
        case.found.at_smoke_limit = true;
        assert_eq!(case.one(Code::SmokeLimiterActive).severity, Severity::Ok);
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
            fuel.burned = Burned::Flow(Schedule::constant(0.012));
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
