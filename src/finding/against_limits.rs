//! Pressures and temperatures against the limits of the build.

use super::catalogue::Code;
use super::context::{Context, MatchedStage};
use super::detail::{BoostSource, Detail};
use super::entry::Finding;
use super::rule::Severity;
use super::subject::Subject;
use crate::air_path::Part;
use crate::matching::{BypassState, Drive, GateState, StationPlace};

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    list.extend(manifold_pressure(context));
    list.extend(charge_temperature(context));
    list.extend(exhaust_temperature(context));
    list.extend(cylinder_pressure(context));
    list.extend(drive_pressure_ratio(context));
    let outlets = context.stages().filter_map(|stage| outlet(context, &stage));
    list.extend(outlets);
}

fn manifold_pressure(context: &Context) -> Option<Finding> {
    let (subject, manifold) = context.manifold()?;
    let code = Code::ManifoldPressure;
    let found = context.check(code, subject, Some(manifold.pressure))?;
    Some(found.with(Detail::Boost(boost_source(context))))
}

/// What makes the manifold pressure.
fn boost_source(context: &Context) -> BoostSource {
    let mut gates = context.found.turbines.iter();
    if let Some(index) = gates.position(|turbine| turbine.gate == GateState::Holding) {
        return BoostSource::Gate(index);
    }
    let holds = |stage: &MatchedStage| stage.state.bypass == BypassState::Holding;
    if let Some(stage) = context.stages().find(holds) {
        return BoostSource::Bypass(stage.index);
    }
    if let Some((stage, _)) = context.setting_supercharger() {
        return BoostSource::Supercharger(stage.index);
    }
    let blows = |stage: &MatchedStage| {
        stage.state.drive == Drive::Turbine && stage.state.pressure_ratio > 1.0
    };
    context
        .stages()
        .filter(blows)
        .last()
        .map_or(BoostSource::Other, |stage| BoostSource::Turbo {
            stage: stage.index,
            has_gate: context
                .found
                .turbines
                .iter()
                .any(|turbine| turbine.gate != GateState::None),
        })
}

fn charge_temperature(context: &Context) -> Option<Finding> {
    let (subject, manifold) = context.manifold()?;
    let code = Code::ChargeTemperature;
    let found = context.check(code, subject, Some(manifold.temperature))?;
    Some(if context.found.coolers.is_empty() {
        found.with(Detail::NoCooler)
    } else {
        found
    })
}

fn exhaust_temperature(context: &Context) -> Option<Finding> {
    let exhaust = context.exhaust();
    let subject = exhaust.map_or(Subject::Engine, |(subject, _)| subject);
    let temperature = exhaust.map(|(_, state)| state.temperature);
    context.check(Code::ExhaustTemperature, subject, temperature)
}

fn cylinder_pressure(context: &Context) -> Option<Finding> {
    let engine = &context.found.engine;
    let (code, peak) = (Code::CylinderPressure, engine.peak_cylinder_pressure);
    let found = context.check(code, Subject::Engine, peak)?;
    if found.code != code {
        return Some(found);
    }
    let peak = engine.cylinder.and_then(|state| state.peak);
    let high = peak.map(|(peak, _)| peak.high);
    let reaches = high > found.limit && found.severity == Severity::Ok;
    let found = found.with(Detail::Peak(high));
    Some(if reaches {
        found.at_severity(Severity::Near)
    } else {
        found
    })
}

fn drive_pressure_ratio(context: &Context) -> Option<Finding> {
    context.installation.turbines.first()?;
    let (_, manifold) = context.manifold()?;
    let inlet = context.turbine_inlet();
    let subject = inlet.map_or(Subject::Engine, |(subject, _)| subject);
    let ratio = inlet.map(|(_, inlet)| inlet.pressure / manifold.pressure);
    context.check(Code::DrivePressureRatio, subject, ratio)
}

fn outlet(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    let code = match stage.kind {
        Part::Supercharger(_) => Code::SuperchargerOutletTemperature,
        _ => Code::CompressorOutletTemperature,
    };
    let (subject, outlet) = context.station(StationPlace::After(stage.part))?;
    context.check(code, subject, Some(outlet.temperature))
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::rule::Basis;
    use super::*;
    use crate::engine::{CylinderState, PeakBasis, Spread};

    #[test]
    fn a_limit_that_is_not_set_is_not_checked() {
        let case = Case::truck();
        for code in [
            Code::ManifoldPressure,
            Code::ChargeTemperature,
            Code::ExhaustTemperature,
            Code::CylinderPressure,
            Code::DrivePressureRatio,
            Code::LimitNotChecked,
        ] {
            assert_eq!(case.all(code), [], "{code:?}");
        }
    }

    #[test]
    fn a_manifold_at_the_boost_limit_is_near_and_names_the_gate() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.installation.limits.max_manifold_pressure = Some(case.boost_limit());
        let found = case.one(Code::ManifoldPressure);
        assert_eq!(found.severity, Severity::Near);
        assert_eq!(found.detail, Detail::Boost(BoostSource::Gate(0)));
        case.installation.limits.max_manifold_pressure = Some(300e3);
        assert_eq!(case.one(Code::ManifoldPressure).severity, Severity::Ok);
    }

    #[test]
    fn past_the_limit_the_pulley_is_named_where_the_rotors_set_the_flow() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(0.9 * 268.5e3);
        let Detail::Boost(BoostSource::Turbo { has_gate, .. }) =
            case.one(Code::ManifoldPressure).detail
        else {
            panic!("the turbo blows alone in the fixture");
        };
        assert!(has_gate);
        case.deliver(1.4);
        let found = case.one(Code::ManifoldPressure);
        assert_eq!(found.severity, Severity::Over);
        assert_eq!(found.detail, Detail::Boost(BoostSource::Supercharger(0)));
    }

    #[test]
    fn a_hot_charge_is_over_and_says_where_no_cooler_is() {
        let mut case = Case::truck();
        case.installation.limits.max_charge_temperature = Some(325.0);
        let found = case.one(Code::ChargeTemperature);
        assert_eq!(found.severity, Severity::Over);
        assert_eq!(found.detail, Detail::None);
        case.installation.limits.max_charge_temperature = Some(360.0);
        assert_eq!(case.one(Code::ChargeTemperature).severity, Severity::Ok);
        case.found.coolers.clear();
        let bare = case.one(Code::ChargeTemperature);
        assert_eq!(bare.detail, Detail::NoCooler);
    }

    #[test]
    fn a_hot_exhaust_is_over_and_a_colder_one_ok() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(900.0);
        let found = case.one(Code::ExhaustTemperature);
        assert_eq!(found.severity, Severity::Over);
        case.installation.limits.max_exhaust_temperature = Some(1200.0);
        assert_eq!(case.one(Code::ExhaustTemperature).severity, Severity::Ok);
    }

    #[test]
    fn cylinder_and_drive_pressure_are_held_against_their_limits() {
        let mut case = Case::truck();
        case.installation.limits.max_cylinder_pressure = Some(12e6);
        case.installation.limits.max_drive_pressure_ratio = Some(0.8);
        let cylinder = case.one(Code::CylinderPressure);
        assert_eq!(cylinder.severity, Severity::Over);
        assert_eq!(case.one(Code::DrivePressureRatio).severity, Severity::Over);
        case.installation.limits.max_cylinder_pressure = Some(20e6);
        case.installation.limits.max_drive_pressure_ratio = Some(1.5);
        assert_eq!(case.one(Code::CylinderPressure).severity, Severity::Ok);
        assert_eq!(case.one(Code::DrivePressureRatio).severity, Severity::Ok);
    }

    /// The fixture's usual peak is 15 MPa.
    #[test]
    fn a_peak_whose_spread_reaches_past_its_limit_is_near() {
        let mut case = Case::truck();
        case.installation.limits.max_cylinder_pressure = Some(16.5e6);
        assert_eq!(case.one(Code::CylinderPressure).severity, Severity::Ok);
        let spread = |low, high| Spread { low, high };
        case.found.engine.cylinder = Some(CylinderState {
            compression_pressure: spread(9e6, 10e6),
            compression_temperature: spread(700.0, 800.0),
            peak: Some((spread(13e6, 16.6e6), PeakBasis::RiseRatio)),
            gas_force: None,
            clamp_force: None,
            clamp_margin: None,
            equivalent_compression_ratio: None,
        });
        let found = case.one(Code::CylinderPressure);
        assert_eq!((found.severity, found.points), (Severity::Near, 1));
        case.installation.limits.max_cylinder_pressure = Some(16.7e6);
        assert_eq!(case.one(Code::CylinderPressure).severity, Severity::Ok);
    }

    #[test]
    fn a_limit_on_something_unknown_says_that_it_is_not_checked() {
        let mut case = Case::truck();
        case.installation.limits.max_cylinder_pressure = Some(16e6);
        case.found.engine.peak_cylinder_pressure = None;
        let found = case.one(Code::LimitNotChecked);
        assert_eq!(found.detail, Detail::Unchecked(Code::CylinderPressure));
        assert_eq!(case.all(Code::CylinderPressure), []);
    }

    #[test]
    fn outlet_temperatures_have_a_rule_of_thumb_where_the_build_sets_none() {
        let mut case = Case::truck();
        let found = case.one(Code::CompressorOutletTemperature);
        assert_eq!(found.severity, Severity::Ok);
        assert_eq!(found.basis, Basis::CommonPractice);
        case.station(StationPlace::After(2)).temperature = 520.0;
        let found = case.one(Code::CompressorOutletTemperature);
        assert_eq!(
            (found.severity, found.basis),
            (Severity::Over, Basis::CommonPractice)
        );
        case.installation.limits.max_compressor_outlet_temperature = Some(480.0);
        let found = case.one(Code::CompressorOutletTemperature);
        assert_eq!(
            (found.severity, found.basis),
            (Severity::Over, Basis::Build)
        );
        case.station(StationPlace::After(1)).temperature = 440.0;
        let found = case.one(Code::SuperchargerOutletTemperature);
        assert_eq!(found.severity, Severity::Over);
    }
}
