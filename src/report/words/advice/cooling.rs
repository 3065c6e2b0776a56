//! Advice on charge coolers.

use super::writer::AdviceWriter;
use crate::air_path::{Correlated, OutOfRange, Side};
use crate::finding::Detail;
use crate::quantity::Kind;
use crate::report::words::figure::{percent, plain};

pub fn effectiveness_above_flows(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.limit {
        Some(limit) => format!(
            "{general}: with this sink_flow a cooler of any size stays below {}.",
            percent(limit)
        ),
        None => format!("{general}."),
    }
}

pub fn sink_starved(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.finding.value.is_some_and(|ratio| ratio <= 0.0) {
        "Give it a fan or vehicle_speed: without flow it carries no heat away; metal_mass only helps in a \
         timed run (--seconds)."
            .to_owned()
    } else {
        format!(
            "{general}, as the coolant warms more than the charge cools down; twice the charge's heat \
             capacity rate and above is common."
        )
    }
}

pub fn condensate(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.detail {
        Detail::Condensate(water) => format!(
            "Up to {} g/min of water could gather: fit a drain so that the engine cannot ingest a slug; \
             condensation is not included in these figures.",
            plain(water * 60e3)
        ),
        _ => format!("{general}."),
    }
}

pub fn outside_correlation(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.detail {
        Detail::Correlation { side, out } => correlation(writer, side, out),
        _ => format!("{general}."),
    }
}

fn correlation(writer: &AdviceWriter<'_>, side: Side, out: OutOfRange) -> String {
    let side = match side {
        Side::Charge => "charge",
        Side::Sink => "cooling",
    };
    let name = match out.what {
        Correlated::Reynolds => "Reynolds number",
        Correlated::GapOverHeight => "gap over height of the fins",
        Correlated::ThicknessOverLength => "thickness over strip length of the fins",
        Correlated::ThicknessOverGap => "thickness over gap of the fins",
        Correlated::LouvreAngle => "louvre angle in degrees",
        Correlated::FinPitch => "fin pitch",
        Correlated::LouvrePitch => "louvre pitch",
        Correlated::FinHeight => "fin height",
        Correlated::Depth => "depth",
    };
    let show = |x: f64| match out.what {
        Correlated::Reynolds => format!("{x:.0}"),
        Correlated::FinPitch
        | Correlated::LouvrePitch
        | Correlated::FinHeight
        | Correlated::Depth => writer.value(x, Kind::Length),
        Correlated::LouvreAngle => format!("{x:.1}"),
        _ => format!("{x:.3}"),
    };
    format!(
        "The {name} of the {side} side is {}, and the data run from {} to {}: treat cooler performance as \
         extrapolated.",
        show(out.value),
        show(out.range.0),
        show(out.range.1)
    )
}
