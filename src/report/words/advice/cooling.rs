//! Steps for the charge cooler.

use super::super::figure::{percent, plain};
use super::Say;
use crate::air_path::{Correlated, OutOfRange, Side};
use crate::finding::{Code, Detail};
use crate::quantity::Kind;

impl Say<'_> {
    pub(super) fn cooling(&self) -> Option<String> {
        let text = match (self.finding.code, self.finding.detail) {
            (Code::OutletBeyondSink, _) => {
                "No cooler does that: look at effectiveness and sink_temperature.".to_owned()
            }
            (Code::EffectivenessAboveFlows, _) => format!(
                "A cooler of any size reaches less than {} with this sink_flow: give less \
                 effectiveness or more flow.",
                percent(self.finding.limit.unwrap_or(1.0))
            ),
            (Code::CoolantBoils, _) => {
                "Give the water more flow, a larger radiator, or a higher circuit_pressure; walls on \
                 the charge's hot side are hotter than this."
                    .to_owned()
            }
            (Code::SinkStarved, _) if self.finding.value.is_some_and(|ratio| ratio <= 0.0) => {
                "What cools it stands still there, and a cooler without flow takes no lasting heat: \
                 give it a fan or vehicle_speed; its metal_mass counts only in a run of --seconds."
                    .to_owned()
            }
            (Code::SinkStarved, _) => {
                "It warms more than the charge cools: more sink_flow helps more than more core; twice \
                 the charge's and above is common."
                    .to_owned()
            }
            (Code::ChargeBelowDewPoint, Detail::Condensate(water)) => format!(
                "Up to {} g/min of water could gather: drain it before it is swallowed at once; the \
                 match lets none condense.",
                plain(water * 60e3)
            ),
            (Code::OutsideCorrelation, Detail::Correlation { side, out }) => {
                self.correlation(side, out)
            }
            (Code::CoolerUnconfirmed, _) => {
                "Its offset or louvred fins follow correlations that were checked against nothing \
                 outside: hold one measured point (rated) against it before you buy."
                    .to_owned()
            }
            _ => return None,
        };
        Some(text)
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
            "The {name} of the {side} side is {}, the data run from {} to {}: take what the cooler \
             does as a guess.",
            show(out.value),
            show(out.range.0),
            show(out.range.1)
        )
    }
}
