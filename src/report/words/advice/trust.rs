//! Advice on what makes an answer doubtful or incomplete.

use super::writer::AdviceWriter;
use crate::exhaust::FlowLaw;
use crate::finding::{Detail, FixedFuelling, OtherFuelling, Severity};
use crate::matching::GateState;
use crate::quantity::Kind;
use crate::report::words::figure::plain;

pub fn rich(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.severity {
        Severity::Over => writer.setting(
            &format!("{general}: a diesel this rich smokes and runs hot"),
            ": a diesel this rich smokes and runs hot",
        ),
        _ => "Watch exhaust temperature and fuel consumption: rich on purpose is common at full load."
            .to_owned(),
    }
}

pub fn second_state(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::OtherBalance {
        here,
        brake_power,
        other_brake_power,
        gate,
        other_gate,
    } = writer.finding.detail
    else {
        return format!("{general}.");
    };
    let step = if gate != GateState::None && gate != other_gate {
        "Set boost_limit well above or well below both pressures, so that only one state is left"
            .to_owned()
    } else {
        format!("{general}: that keeps it at the lower one")
    };
    format!(
        "Coming up through the speeds the engine settles at {}{}; the second state{} takes a jolt to reach, \
         such as a lifted throttle. {step}.",
        writer.absolute(here),
        state(writer, brake_power, gate),
        state(writer, other_brake_power, other_gate),
    )
}

/// " (231.5 kW, the wastegate shut)", or as much of it as there is.
fn state(writer: &AdviceWriter<'_>, power: Option<f64>, gate: GateState) -> String {
    let gate = match gate {
        GateState::None => None,
        GateState::Shut => Some("the wastegate shut"),
        GateState::Holding => Some("the wastegate holding its limit"),
        GateState::WideOpen => Some("the wastegate wide open"),
    };
    let power = power.map(|power| writer.value(power, Kind::Power));
    let parts: Vec<String> = power.into_iter().chain(gate.map(str::to_owned)).collect();
    if parts.is_empty() {
        String::new()
    } else {
        format!(" ({})", parts.join(", "))
    }
}

pub fn valve_overlap(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::DriveRatio { now, measured_at } = writer.finding.detail else {
        return format!("{general}.");
    };
    format!(
        "It was measured at a drive pressure ratio of {} and runs at {}: the correction ignores valve \
         overlap, which would change it further.",
        plain(measured_at),
        plain(now)
    )
}

pub fn beyond_table(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.value {
        Some(rpm) => format!("Add a row at {rpm:.0} rpm: the end value is used."),
        None => format!("{general}."),
    }
}

pub fn unchecked(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.to_check {
        "" => format!("{general}."),
        known => format!("{known}."),
    }
}

pub fn fuelling(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::Fuelling { held, other } = writer.finding.detail else {
        return format!("{general}.");
    };
    let result = match other {
        OtherFuelling::ManifoldPressure(p) => {
            format!("the manifold would be at {}", writer.absolute(p))
        }
        OtherFuelling::RunsAway => "the turbocharger would run away".to_owned(),
    };
    match held {
        FixedFuelling::Ratio => format!(
            "The build fixes the air–fuel ratio; with the fuel quantity fixed at its no-boost value \
             {result}: give per_stroke where a pump sets the fuel."
        ),
        FixedFuelling::Quantity => format!(
            "The build fixes the fuel quantity; with the air–fuel ratio fixed at its no-boost value \
             {result}: give the ratio where the fuel follows the air."
        ),
    }
}

pub fn flow_law(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::FlowLaw {
        law,
        drive_pressure,
        other,
    } = writer.finding.detail
    else {
        return format!("{general}.");
    };
    let other_law = match law {
        FlowLaw::Nozzle => "two_throats",
        FlowLaw::TwoThroats => "nozzle",
    };
    match other {
        Some(other) => format!(
            "With flow_law = \"{other_law}\" the drive pressure would be {} instead of {}: a turbine map \
             would resolve this.",
            writer.absolute(other),
            writer.absolute(drive_pressure)
        ),
        None => format!(
            "Try flow_law = \"{other_law}\" as well: the difference is the uncertainty here."
        ),
    }
}
