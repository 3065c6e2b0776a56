//! Advice on the limits of build, parts and maps.

use super::writer::AdviceWriter;
use crate::finding::{BoostSource, Detail, LimitMet};
use crate::map::Region;
use crate::quantity::Kind;
use crate::report::words::figure::percent;

pub fn manifold_pressure(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::Boost(source) = writer.finding.detail else {
        return writer.setting(general, "");
    };
    let (otherwise, and_then) = match source {
        BoostSource::Gate(_) => ("Lower the wastegate's boost_limit", ""),
        BoostSource::Bypass(_) => ("Lower bypass_pressure", ""),
        BoostSource::Supercharger(_) => (
            "Lower the drive ratio with a larger supercharger pulley, or fit a regulated bypass: the \
             supercharger sets the flow",
            " with a larger pulley, or fit a regulated bypass: the supercharger sets the flow",
        ),
        BoostSource::Turbo { has_gate: true, .. } => ("Lower boost_limit", ""),
        BoostSource::Turbo { .. } => (
            "Fit a wastegate with a boost_limit, or a larger turbine",
            ", or fit a wastegate",
        ),
        BoostSource::Other => ("Lower the pressure ratio of the stages", ""),
    };
    writer.setting(otherwise, and_then)
}

pub fn cylinder_pressure(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let limit = writer.finding.limit.unwrap_or(f64::INFINITY);
    let high = match writer.finding.detail {
        Detail::Peak(Some(high)) if high > limit && !writer.beyond => {
            writer.roughly(high, Kind::AbsolutePressure)
        }
        _ => return writer.setting(general, ", or lower the compression ratio"),
    };
    match &writer.finding.step {
        Some(step) => format!(
            "The upper estimate, {high}, exceeds the limit; with the mid estimate it {}.",
            writer.room(step)
        ),
        None => format!("{general}: the upper estimate, {high}, exceeds the limit."),
    }
}

pub fn charge(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.finding.detail == Detail::NoCooler {
        return if writer.beyond {
            "Fit a charge cooler, or lower the boost."
        } else {
            "Small margin: a charge cooler would give more."
        }
        .to_owned();
    }
    match writer.finding.step.map(|step| step.to) {
        // Endless, or none.
        Some(LimitMet::NotUpTo(_)) if writer.beyond => {
            "No cooler of any size is enough with this air or water: supply it colder, or lower the boost."
                .to_owned()
        }
        Some(LimitMet::NotUpTo(_)) => "The limit would hold without this cooler.".to_owned(),
        _ => writer.setting(
            general,
            " with a larger core or more cooling flow, or lower the boost",
        ),
    }
}

pub fn exhaust(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.beyond {
        writer.setting(general, "; more air does the same")
    } else {
        writer.setting("Small margin: add no fuel without adding air", "")
    }
}

pub fn surge(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.finding.value.is_none() {
        return "The map has no surge line at this pressure ratio: lower the ratio, or find a map that \
                reaches it."
            .to_owned();
    }
    let at_same_speed = match writer.finding.detail {
        Detail::Surge { at_same_speed } => {
            format!(" (margin {} at the same speed)", percent(at_same_speed))
        }
        _ => String::new(),
    };
    let and_then = format!(", or fit a smaller compressor{at_same_speed}");
    writer.setting(&format!("{general}{at_same_speed}"), &and_then)
}

pub fn outside_map(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::Map {
        region, low_end, ..
    } = writer.finding.detail
    else {
        return format!("{general}.");
    };
    match region {
        _ if low_end => {
            "The compressor is barely loaded here: the figures are rough, and no action is needed."
        }
        Region::BeyondSurge(_) => {
            "Here it would surge: fit a smaller compressor, or run less boost at this speed."
        }
        Region::BeyondChoke(_) => {
            "It is too small for this flow: fit a larger compressor, or let the supercharger do its work \
             where the flow is lower."
        }
        Region::OverSpeed(_) => {
            "Above the map's speed range: slow it down with less boost, another pulley or a larger machine."
        }
        Region::UnderSpeed(_) => {
            "Below the map's speed range: treat these figures as a guess, or find a map with slower lines."
        }
        _ => return format!("{general}."),
    }
    .to_owned()
}
