//! Pressures and temperatures against the limits of the build.

use super::limit::{USUAL_COMPRESSOR_OUTLET, USUAL_SUPERCHARGER_OUTLET};
use super::seen::{Seen, SeenStage, ratio_for_head};
use super::{Code, Detail, Finding, Lever, Maker, Measure, Severity, Subject};
use crate::air_path::{Bypass, BypassAt, Part};
use crate::exhaust::Swallowing;
use crate::matching::{BypassState, Drive, GateState, StationPlace};

/// Difference in K below which the manifold is as warm as the cooler's outlet.
const SAME_TEMPERATURE: f64 = 0.5;

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
    Some(found.with(Detail::Boost(maker(seen, limit - manifold.pressure))))
}

/// Who makes the manifold pressure, with the setting that would move it by `change` Pa.
fn maker(seen: &Seen, change: f64) -> Maker {
    let rpm = seen.rpm();
    let turbines = seen.found.turbines.iter().zip(&seen.installation.turbines);
    for (state, turbine) in turbines {
        if let (GateState::Holding, Some(gate)) = (state.gate, &turbine.wastegate) {
            return Maker::Gate {
                needed_boost: gate.boost_limit.at(rpm) + change,
            };
        }
    }
    for stage in seen.stages() {
        if let (BypassState::Holding, Part::Supercharger(supercharger)) =
            (stage.state.bypass, stage.kind)
            && let Bypass::Regulated { pressure, at, .. } = supercharger.bypass
        {
            return Maker::Bypass {
                needed_boost: (at == BypassAt::Manifold).then_some(pressure + change),
            };
        }
    }
    let manifold = seen.manifold().map_or(0.0, |(_, state)| state.pressure);
    if let Some((_, drive_ratio)) = seen.setting_supercharger() {
        return Maker::Supercharger {
            drive_ratio,
            needed: drive_ratio * (manifold + change) / manifold,
        };
    }
    let blows =
        |stage: SeenStage| stage.state.drive == Drive::Turbine && stage.state.pressure_ratio > 1.0;
    if seen.stages().any(blows) {
        return Maker::Turbo {
            has_gate: seen
                .found
                .turbines
                .iter()
                .any(|t| t.gate != GateState::None),
            needed_boost: manifold + change - seen.installation.site.pressure,
        };
    }
    Maker::Other
}

fn charge_temperature(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_charge_temperature?;
    let (subject, manifold) = seen.manifold()?;
    let pair = (manifold.temperature, limit);
    let code = Code::ChargeTemperature;
    let found = Finding::largest(code, subject, seen.rpm(), pair, Measure::Temperature)?;
    Some(found.with(cooler(seen, manifold.temperature, limit)))
}

/// The effectiveness of the last cooler that would bring the charge to the limit.
fn cooler(seen: &Seen, charge: f64, limit: f64) -> Detail {
    let (Some(state), Some((_, part))) = (seen.found.coolers.last(), seen.layout.coolers.last())
    else {
        return Detail::NoCooler;
    };
    let (now, sink) = (state.effectiveness, state.sink_temperature);
    let outlet = seen.station(StationPlace::After(*part));
    let is_last = outlet.is_some_and(|(_, s)| (s.temperature - charge).abs() < SAME_TEMPERATURE);
    let inlet = (charge - now * sink) / (1.0 - now);
    let effectiveness = (inlet - limit) / (inlet - sink);
    Detail::Setting {
        lever: Lever::Effectiveness,
        now,
        needed: (is_last && effectiveness > 0.0 && effectiveness < 1.0).then_some(effectiveness),
    }
}

fn exhaust_temperature(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_exhaust_temperature?;
    let code = Code::ExhaustTemperature;
    let exhaust = seen.turbine_inlet();
    let Some((subject, state)) = exhaust.or_else(|| seen.station(StationPlace::Exhaust)) else {
        return Some(seen.unchecked(code, Subject::Engine));
    };
    let pair = (state.temperature, limit);
    let found = Finding::largest(code, subject, seen.rpm(), pair, Measure::Temperature)?;
    let detail = seen.found.air_fuel_ratio.map_or(Detail::None, |now| {
        let manifold = seen.manifold().map_or(0.0, |(_, state)| state.temperature);
        // The rise goes with the fuel per kilogram of what leaves: (T − T_manifold)(1 + AFR) stays.
        let needed = (1.0 + now) * (state.temperature - manifold) / (limit - manifold) - 1.0;
        let is_lean = seen.found.lambda.is_none_or(|lambda| lambda >= 1.0);
        Detail::Setting {
            lever: Lever::AirFuelRatio,
            now,
            needed: (is_lean && needed.is_finite() && needed > now).then_some(needed),
        }
    });
    Some(found.with(detail))
}

fn cylinder_pressure(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_cylinder_pressure?;
    let code = Code::CylinderPressure;
    let Some(value) = seen.found.engine.peak_cylinder_pressure else {
        return Some(seen.unchecked(code, Subject::Engine));
    };
    let measure = Measure::AbsolutePressure;
    let found = Finding::largest(code, Subject::Engine, seen.rpm(), (value, limit), measure)?;
    let manifold = seen.manifold().map_or(0.0, |(_, state)| state.pressure);
    let peak = seen.found.engine.cylinder.and_then(|state| state.peak);
    let high = peak.map(|(peak, _)| peak.high);
    // Compression pressure and its rise both go with manifold pressure.
    let found = found.with(Detail::Peak {
        manifold: manifold * limit / value,
        high,
    });
    let reaches = high.is_some_and(|high| high > limit) && found.severity == Severity::Ok;
    Some(if reaches {
        found.at_severity(Severity::Near)
    } else {
        found
    })
}

fn drive_pressure_ratio(seen: &Seen) -> Option<Finding> {
    let limit = seen.installation.limits.max_drive_pressure_ratio?;
    let turbine = seen.installation.turbines.first()?;
    let code = Code::DrivePressureRatio;
    let (_, manifold) = seen.manifold()?;
    let Some((subject, inlet)) = seen.turbine_inlet() else {
        return Some(seen.unchecked(code, Subject::Engine));
    };
    let value = inlet.pressure / manifold.pressure;
    let found = Finding::largest(code, subject, seen.rpm(), (value, limit), Measure::Ratio)?;
    // A choked turbine's inlet pressure goes with flow over area.
    Some(found.with(match &turbine.swallowing {
        Swallowing::Area { effective_area, .. } => Detail::Setting {
            lever: Lever::TurbineArea,
            now: *effective_area,
            needed: Some(effective_area * value / limit),
        },
        Swallowing::Map(_) => Detail::None,
    }))
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
    let (_, inlet) = seen.station(StationPlace::Before(stage.part))?;
    let limit = set.unwrap_or(usual);
    let pair = (outlet.temperature, limit);
    let found = Finding::largest(code, subject, seen.rpm(), pair, Measure::Temperature)?;
    let now = stage.state.pressure_ratio;
    let share = (limit - inlet.temperature) / (outlet.temperature - inlet.temperature);
    let found = found.with(Detail::Setting {
        lever: Lever::PressureRatio,
        now,
        needed: ratio_for_head(now, share),
    });
    Some(if set.is_some() {
        found
    } else {
        found.by_common_practice()
    })
}

#[cfg(test)]
mod tests {
    use super::super::Basis;
    use super::super::fixture::Case;
    use super::*;
    use crate::engine::{CylinderState, PeakBasis, Spread};
    use approx::assert_relative_eq;

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
        let Detail::Boost(Maker::Gate { needed_boost }) = found.detail else {
            panic!("{found:?}");
        };
        assert_relative_eq!(needed_boost, 185e3, max_relative = 1e-9);
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
        let Detail::Boost(Maker::Supercharger { needed, .. }) = found.detail else {
            panic!("{found:?}");
        };
        assert_relative_eq!(needed, 0.9 * 2.15, max_relative = 1e-9);
    }

    #[test]
    fn a_hot_charge_names_the_effectiveness_that_would_do() {
        let mut case = Case::truck();
        // In 430 K, sink 297.15 K, effectiveness 0.75: out 330.3625 K.
        case.installation.limits.max_charge_temperature = Some(325.0);
        let found = case.one(Code::ChargeTemperature);
        assert_eq!(found.severity, Severity::Over);
        let Detail::Setting { needed, .. } = found.detail else {
            panic!("{found:?}");
        };
        // (430 − 325)/(430 − 297.15) by hand.
        assert_relative_eq!(needed.unwrap(), 0.790_365, max_relative = 1e-5);
        case.installation.limits.max_charge_temperature = Some(360.0);
        assert_eq!(case.one(Code::ChargeTemperature).severity, Severity::Ok);
    }

    #[test]
    fn a_hot_exhaust_names_a_leaner_mixture() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(900.0);
        let found = case.one(Code::ExhaustTemperature);
        assert_eq!(found.severity, Severity::Over);
        assert!(matches!(
            found.detail,
            Detail::Setting { needed: Some(needed), now, .. } if needed > now
        ));
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
    fn outlet_temperatures_have_a_rule_of_thumb_that_only_warns() {
        let mut case = Case::truck();
        let found = case.one(Code::CompressorOutletTemperature);
        assert_eq!(found.severity, Severity::Ok);
        assert_eq!(found.basis, Basis::CommonPractice);
        case.station(StationPlace::After(2)).temperature = 520.0;
        let found = case.one(Code::CompressorOutletTemperature);
        assert_eq!(found.severity, Severity::Near);
        case.installation.limits.max_compressor_outlet_temperature = Some(480.0);
        let found = case.one(Code::CompressorOutletTemperature);
        assert_eq!(
            (found.severity, found.basis),
            (Severity::Over, Basis::Build)
        );
        case.station(StationPlace::After(1)).temperature = 440.0;
        let found = case.one(Code::SuperchargerOutletTemperature);
        assert_eq!(found.severity, Severity::Near);
    }
}
