//! Wastegate and turbine: limits that the gate cannot hold, choking, and the flow law's doubt.

use super::catalogue::Code;
use super::context::Context;
use super::detail::Detail;
use super::entry::Finding;
use super::rule::Severity;
use super::subject::Subject;
use crate::air_path::{Part, SuperchargerKind};
use crate::exhaust::{BoostAt, FlowLaw, Swallowing, Turbine, Wastegate};
use crate::matching::{BypassState, GateState, StationPlace, TurbineState};

/// Expansion ratio below which the two flow laws differ by much.
const LAWS_AGREE_FROM: f64 = 1.8;
/// Share of the drive pressure above which their difference is worth a warning.
const WORTH_A_WARNING: f64 = 0.05;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    let turbines = context
        .found
        .turbines
        .iter()
        .zip(&context.installation.turbines);
    for (index, (state, turbine)) in turbines.enumerate() {
        if let Some(gate) = &turbine.wastegate {
            list.extend(wide_open(context, index, state, gate));
            list.extend(band(context, index, state, gate));
        }
        list.extend(choked(context, index, state));
        list.extend(flow_law(context, index, state, turbine));
    }
}

/// The pressure that the gate feels and the one it should hold, Pa absolute.
fn felt(context: &Context, index: usize, gate: &Wastegate) -> Option<(f64, f64)> {
    let limit = context.installation.site.pressure + gate.boost_limit.at(context.rpm());
    let (_, state) = match gate.boost_at {
        BoostAt::Manifold => context.manifold()?,
        BoostAt::CompressorOutlet => {
            let drives = context.installation.turbines.get(index)?.drives;
            let compressor = context.compressor(drives)?;
            context.station(StationPlace::After(compressor.part))?
        }
    };
    Some((state.pressure, limit))
}

fn wide_open(
    context: &Context,
    index: usize,
    state: &TurbineState,
    gate: &Wastegate,
) -> Option<Finding> {
    if state.gate != GateState::WideOpen {
        return None;
    }
    let (value, limit) = felt(context, index, gate)?;
    let code = cause(context, gate, limit);
    let found = context.against(code, Subject::Turbine(index), (value, limit))?;
    let severity = found.severity.max(Severity::Near);
    Some(found.at_severity(severity).with(Detail::Gate {
        share: state.wastegate_share.unwrap_or(0.0),
    }))
}

/// Why the gate stands wide open. What the supercharger alone makes decides where it was solved
/// for; else a displacement machine that sets the flow is taken to make all of it.
fn cause(context: &Context, gate: &Wastegate, limit: f64) -> Code {
    if let (Some(alone), BoostAt::Manifold) = (context.extra.supercharger_alone, gate.boost_at) {
        return match limit {
            _ if limit <= alone.at_rest.min(alone.at_unity) => Code::SuperchargerAboveBoostLimit,
            _ if limit >= alone.at_rest.max(alone.at_unity) => Code::WastegateTooSmall,
            _ => Code::WastegateWideOpen,
        };
    }
    if context.setting_supercharger().is_some() {
        return Code::SuperchargerAboveBoostLimit;
    }
    let wheel_delivers = context.stages().any(|stage| {
        let is_wheel = matches!(
            stage.kind,
            Part::Supercharger(supercharger)
                if matches!(supercharger.kind, SuperchargerKind::Centrifugal(_))
        );
        let delivers = matches!(stage.state.bypass, BypassState::None | BypassState::Shut);
        is_wheel && delivers && stage.state.pressure_ratio > 1.0
    });
    if wheel_delivers {
        Code::WastegateWideOpen
    } else {
        Code::WastegateTooSmall
    }
}

/// A limit between what the supercharger makes with the turbocharger at rest and at a ratio of 1.
fn band(
    context: &Context,
    index: usize,
    state: &TurbineState,
    gate: &Wastegate,
) -> Option<Finding> {
    let alone = context.extra.supercharger_alone?;
    let works = matches!(state.gate, GateState::Holding | GateState::WideOpen);
    let (value, limit) = felt(context, index, gate)?;
    let low = alone.at_rest.min(alone.at_unity);
    let high = alone.at_rest.max(alone.at_unity);
    if !works || gate.boost_at != BoostAt::Manifold || limit <= low || limit >= high {
        return None;
    }
    let code = Code::LimitInSuperchargerBand;
    let found = context.against(code, Subject::Turbine(index), (value, limit))?;
    Some(found.with(Detail::Band(alone)))
}

/// A choked turbine is worth a warning where the exhaust pushes harder than the charge.
fn choked(context: &Context, index: usize, state: &TurbineState) -> Option<Finding> {
    if !state.choked {
        return None;
    }
    let (_, inlet) = context.station(StationPlace::TurbineInlet(index))?;
    let (_, manifold) = context.manifold()?;
    let found = context.remark(Code::TurbineChoked, Subject::Turbine(index));
    let found = found.worse_where(inlet.pressure > manifold.pressure);
    let weight = inlet.pressure / manifold.pressure;
    Some(found.valued(state.expansion_ratio).weighing(weight))
}

fn flow_law(
    context: &Context,
    index: usize,
    state: &TurbineState,
    turbine: &Turbine,
) -> Option<Finding> {
    let law: FlowLaw = match turbine.swallowing {
        Swallowing::Area { law, .. } => law,
        Swallowing::Map(_) => return None,
    };
    if state.choked || state.expansion_ratio >= LAWS_AGREE_FROM {
        return None;
    }
    let (_, inlet) = context.station(StationPlace::TurbineInlet(index))?;
    let other = context
        .extra
        .other_law_drive_pressure
        .filter(|_| index == 0);
    let differs = other.is_some_and(|p| (p / inlet.pressure - 1.0).abs() > WORTH_A_WARNING);
    let found = context
        .remark(Code::FlowLawUncertain, Subject::Turbine(index))
        .worse_where(differs)
        .valued(state.expansion_ratio)
        .with(Detail::FlowLaw {
            law,
            drive_pressure: inlet.pressure,
            other,
        });
    Some(Finding {
        limit: Some(LAWS_AGREE_FROM),
        weight: other.map_or(0.0, |p| (p / inlet.pressure).ln().abs()),
        ..found
    })
}

#[cfg(test)]
mod tests {
    use super::super::SuperchargerAlone;
    use super::super::fixture::Case;
    use super::*;
    use approx::assert_relative_eq;

    const WIDE_OPEN: [Code; 3] = [
        Code::SuperchargerAboveBoostLimit,
        Code::WastegateTooSmall,
        Code::WastegateWideOpen,
    ];

    /// A truck whose gate is wide open 10 % above its limit.
    fn beyond() -> Case {
        let mut case = Case::truck();
        case.gate(GateState::WideOpen, 0.45);
        case.station(StationPlace::Manifold).pressure = 1.1 * case.boost_limit();
        case
    }

    #[test]
    fn a_gate_that_holds_or_is_shut_is_no_finding() {
        let mut case = Case::truck();
        for gate in [GateState::None, GateState::Shut, GateState::Holding] {
            case.gate(gate, 0.2);
            for code in WIDE_OPEN {
                assert_eq!(case.all(code), [], "{gate:?} {code:?}");
            }
        }
    }

    #[test]
    fn where_the_turbo_alone_blows_the_gate_is_too_small() {
        let case = beyond();
        let found = case.one(Code::WastegateTooSmall);
        assert_eq!(found.severity, Severity::Over);
        assert_relative_eq!(found.margin.unwrap(), -0.1, max_relative = 1e-9);
        assert_eq!(found.detail, Detail::Gate { share: 0.45 });
        assert_eq!(case.all(Code::SuperchargerAboveBoostLimit), []);
    }

    #[test]
    fn where_the_rotors_set_the_flow_they_are_the_cause() {
        let mut case = beyond();
        case.deliver(1.3);
        let found = case.one(Code::SuperchargerAboveBoostLimit);
        assert_eq!(found.severity, Severity::Over);
        assert_eq!(case.all(Code::WastegateTooSmall), []);
    }

    #[test]
    fn what_the_supercharger_alone_makes_decides_the_cause() {
        let mut case = beyond();
        case.deliver(1.3);
        let limit = case.boost_limit();
        let alone = |low: f64, high: f64| {
            Some(SuperchargerAlone {
                at_rest: low * limit,
                at_unity: high * limit,
            })
        };
        case.extra.supercharger_alone = alone(1.05, 1.08);
        case.one(Code::SuperchargerAboveBoostLimit);
        assert_eq!(case.all(Code::LimitInSuperchargerBand), []);
        case.extra.supercharger_alone = alone(0.8, 0.9);
        case.one(Code::WastegateTooSmall);
        case.extra.supercharger_alone = alone(0.95, 1.05);
        case.one(Code::WastegateWideOpen);
        let band = case.one(Code::LimitInSuperchargerBand);
        assert_eq!(band.severity, Severity::Near);
    }

    #[test]
    fn a_shut_gate_says_nothing_of_the_band() {
        let mut case = Case::truck();
        let limit = case.boost_limit();
        case.gate(GateState::Shut, 0.0);
        case.extra.supercharger_alone = Some(SuperchargerAlone {
            at_rest: 0.95 * limit,
            at_unity: 1.05 * limit,
        });
        assert_eq!(case.all(Code::LimitInSuperchargerBand), []);
    }

    #[test]
    fn a_gate_may_feel_the_compressor_outlet() {
        let mut case = beyond();
        let limit = case.boost_limit();
        if let Some(gate) = &mut case.installation.turbines[0].wastegate {
            gate.boost_at = BoostAt::CompressorOutlet;
        }
        case.station(StationPlace::After(2)).pressure = 1.2 * limit;
        let found = case.one(Code::WastegateTooSmall);
        assert_relative_eq!(found.value.unwrap(), 1.2 * limit, max_relative = 1e-12);
    }

    #[test]
    fn a_choked_turbine_warns_only_where_it_pushes_back() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::TurbineChoked), []);
        case.found.turbines[0].choked = true;
        case.station(StationPlace::TurbineInlet(0)).pressure = 240e3;
        assert_eq!(case.one(Code::TurbineChoked).severity, Severity::Ok);
        case.station(StationPlace::TurbineInlet(0)).pressure = 310e3;
        assert_eq!(case.one(Code::TurbineChoked).severity, Severity::Near);
    }

    #[test]
    fn a_low_expansion_ratio_leaves_the_flow_law_open() {
        let mut case = Case::truck();
        case.found.turbines[0].expansion_ratio = 2.4;
        assert_eq!(case.all(Code::FlowLawUncertain), []);
        case.found.turbines[0].expansion_ratio = 1.4;
        assert_eq!(case.one(Code::FlowLawUncertain).severity, Severity::Ok);
        let now = case.station(StationPlace::TurbineInlet(0)).pressure;
        case.extra.other_law_drive_pressure = Some(1.08 * now);
        assert_eq!(case.one(Code::FlowLawUncertain).severity, Severity::Near);
        case.extra.other_law_drive_pressure = Some(1.01 * now);
        assert_eq!(case.one(Code::FlowLawUncertain).severity, Severity::Ok);
    }
}
