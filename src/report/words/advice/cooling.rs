//! Steps for the charge cooler.

use super::super::figure::{percent, plain};
use super::Say;
use crate::air_path::{Correlated, OutOfRange, Side};
use crate::finding::Detail;
use crate::quantity::Kind;

impl Say<'_> {
    pub(super) fn effectiveness_above_flows(&self) -> String {
        format!(
            "A cooler of any size reaches less than {} with this sink_flow: give less effectiveness or \
             more flow.",
            percent(self.finding.limit.unwrap_or(1.0))
        )
    }

    pub(super) fn sink_starved(&self) -> String {
        if self.finding.value.is_some_and(|ratio| ratio <= 0.0) {
            "What cools it stands still there, and a cooler without flow takes no lasting heat: give it \
             a fan or vehicle_speed; its metal_mass counts only in a run of --seconds."
        } else {
            "The coolant warms more than the charge cools down: more sink_flow helps more than more \
             core; twice the charge's and above is common."
        }
        .to_owned()
    }

    pub(super) fn condensate(&self) -> String {
        let Detail::Condensate(water) = self.finding.detail else {
            return "Water could gather: fit a drain.".to_owned();
        };
        format!(
            "Up to {} g/min of water could gather: fit a drain so that the engine cannot ingest a slug; \
             the match lets none condense.",
            plain(water * 60e3)
        )
    }

    pub(super) fn outside_correlation(&self) -> String {
        match self.finding.detail {
            Detail::Correlation { side, out } => self.correlation(side, out),
            _ => "Treat cooler performance as extrapolated.".to_owned(),
        }
    }

    fn correlation(&self, side: Side, out: OutOfRange) -> String {
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
            | Correlated::Depth => self.value(x, Kind::Length),
            Correlated::LouvreAngle => format!("{x:.1}"),
            _ => format!("{x:.3}"),
        };
        format!(
            "The {name} of the {side} side is {}, the data run from {} to {}: treat cooler \
             performance as extrapolated.",
            show(out.value),
            show(out.range.0),
            show(out.range.1)
        )
    }
}
