//! Pressures and temperatures against the limits of the build.

use super::limit::{USUAL_COMPRESSOR_OUTLET, USUAL_SUPERCHARGER_OUTLET};
use super::seen::{Seen, SeenStage};
use super::{Code, Detail, Finding, Maker, Measure, Severity, Subject};
use crate::air_path::Part;
use crate::matching::{BypassState, Drive, GateState, StationPlace};

pub(super) fn find(seen: &Seen, list: &mut Vec<Finding>) {
    list.extend(manifold_pressure(seen));
    list.extend(charge_temperature(seen));
    list.extend(exhaust_temperature(seen));
    list.extend(cylinder_pressure(seen));
    list.extend(drive_pressure_ratio(seen));
    list.extend(seen.stages().filter_map(|stage| outlet(seen, &stage)));
}

fn manifold_pressure(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_manifold_pressure?;
    let (subject, manifold) = seen.manifold()?;
    let pair = (manifold.pressure, limit);
    let code = Code::ManifoldPressure;
    let found = Finding::largest(code, subject, seen.rpm(), pair, Measure::AbsolutePressure)?;
    Some(found.with(Detail::Boost(maker(seen))))
}

/// Who makes the manifold pressure.
fn maker(seen: &Seen) -> Maker {
    let mut gates = seen.found.turbines.iter();
    if let Some(index) = gates.position(|turbine| turbine.gate == GateState::Holding) {
        return Maker::Gate(index);
    }
    let holds = |stage: &SeenStage| stage.state.bypass == BypassState::Holding;
    if let Some(stage) = seen.stages().find(holds) {
        return Maker::Bypass(stage.index);
    }
    if let Some((stage, _)) = seen.setting_supercharger() {
        return Maker::Supercharger(stage.index);
    }
    let blows =
        |stage: &SeenStage| stage.state.drive == Drive::Turbine && stage.state.pressure_ratio > 1.0;
    seen.stages()
        .filter(blows)
        .last()
        .map_or(Maker::Other, |stage| Maker::Turbo {
            stage: stage.index,
            has_gate: seen
                .found
                .turbines
                .iter()
                .any(|turbine| turbine.gate != GateState::None),
        })
}

fn charge_temperature(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_charge_temperature?;
    let (subject, manifold) = seen.manifold()?;
    let pair = (manifold.temperature, limit);
    let code = Code::ChargeTemperature;
    let found = Finding::largest(code, subject, seen.rpm(), pair, Measure::Temperature)?;
    let has_cooler = !seen.found.coolers.is_empty();
    Some(found.with(if has_cooler {
        Detail::None
    } else {
        Detail::NoCooler
    }))
}

fn exhaust_temperature(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_exhaust_temperature?;
    let code = Code::ExhaustTemperature;
    let exhaust = seen.turbine_inlet();
    let Some((subject, state)) = exhaust.or_else(|| seen.station(StationPlace::Exhaust)) else {
        return Some(seen.unchecked(code, Subject::Engine));
    };
    let pair = (state.temperature, limit);
    Finding::largest(code, subject, seen.rpm(), pair, Measure::Temperature)
}

fn cylinder_pressure(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_cylinder_pressure?;
    let code = Code::CylinderPressure;
    let Some(value) = seen.found.engine.peak_cylinder_pressure else {
        return Some(seen.unchecked(code, Subject::Engine));
    };
    let measure = Measure::AbsolutePressure;
    let found = Finding::largest(code, Subject::Engine, seen.rpm(), (value, limit), measure)?;
    let peak = seen.found.engine.cylinder.and_then(|state| state.peak);
    let high = peak.map(|(peak, _)| peak.high);
    let found = found.with(Detail::Peak(high));
    let reaches = high.is_some_and(|high| high > limit) && found.severity == Severity::Ok;
    Some(if reaches {
        found.at_severity(Severity::Near)
    } else {
        found
    })
}

fn drive_pressure_ratio(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_drive_pressure_ratio?;
    seen.installation.turbines.first()?;
    let code = Code::DrivePressureRatio;
    let (_, manifold) = seen.manifold()?;
    let Some((subject, inlet)) = seen.turbine_inlet() else {
        return Some(seen.unchecked(code, Subject::Engine));
    };
    let value = inlet.pressure / manifold.pressure;
    Finding::largest(code, subject, seen.rpm(), (value, limit), Measure::Ratio)
}

fn outlet(seen: &Seen, stage: &SeenStage) -> Option<Finding> {
    let limits = &seen.installation.limits;
    let (code, set, usual) = match stage.kind {
        Part::Supercharger(_) => (
            Code::SuperchargerOutletTemperature,
            limits.max_supercharger_outlet_temperature,
            USUAL_SUPERCHARGER_OUTLET,
        ),
        _ => (
            Code::CompressorOutletTemperature,
            limits.max_compressor_outlet_temperature,
            USUAL_COMPRESSOR_OUTLET,
        ),
    };
    let (subject, outlet) = seen.station(StationPlace::After(stage.part))?;
    let limit = set.unwrap_or(usual.limit);
    let pair = (outlet.temperature, limit);
    let found = Finding::largest(code, subject, seen.rpm(), pair, Measure::Temperature)?;
    Some(if set.is_some() {
        found
    } else {
        found.by_rule(usual)
    })
}

#[cfg(test)]
mod tests {
    use super::super::Basis;
    use super::super::fixture::Case;
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
        assert_eq!(found.detail, Detail::Boost(Maker::Gate(0)));
        case.installation.limits.max_manifold_pressure = Some(300e3);
        assert_eq!(case.one(Code::ManifoldPressure).severity, Severity::Ok);
    }

    #[test]
    fn past_the_limit_the_pulley_is_named_where_the_rotors_set_the_flow() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(0.9 * 268.5e3);
        let Detail::Boost(Maker::Turbo { has_gate, .. }) = case.one(Code::ManifoldPressure).detail
        else {
            panic!("the turbo blows alone in the fixture");
        };
        assert!(has_gate);
        case.deliver(1.4);
        let found = case.one(Code::ManifoldPressure);
        assert_eq!(found.severity, Severity::Over);
        assert_eq!(found.detail, Detail::Boost(Maker::Supercharger(0)));
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
