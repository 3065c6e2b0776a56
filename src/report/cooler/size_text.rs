//! The sizes of a cooler that would just do, for reading.

use super::words::{figure, rpm, sink};
use crate::quantity::{Kind, UnitSystem, label, shown};
use crate::report::fields::cooler_report::CoolerReport;
use crate::report::fields::cooler_size::NeededSize;
use crate::study::cooler::{Knob, least_size_factor};

/// One size in words.
pub(super) fn size_text(needed: &NeededSize, report: &CoolerReport, system: UnitSystem) -> String {
    let side = sink(report.sink);
    let knob = needed.size.knob;
    let name = match knob {
        Knob::Effectiveness => "effectiveness".to_owned(),
        Knob::Conductance => "UA at the given flows".to_owned(),
        Knob::Face => "face area at the given depth".to_owned(),
        Knob::SinkFlow => format!("flow of the {side}"),
    };
    let Some((value, at)) = needed.needed() else {
        return match needed.coldest() {
            Some((coldest, at)) => format!(
                "{name}: no finite size reaches it ({} at {})",
                figure(coldest, Kind::Temperature, system),
                rpm(at, system)
            ),
            None => format!("{name}: none is needed"),
        };
    };
    let is_factor = knob == Knob::Face && needed.face.is_none();
    let of = |value: f64| match knob {
        Knob::Effectiveness => figure(value, Kind::Share, system),
        Knob::Conductance => figure(value, Kind::ThermalConductance, system),
        Knob::Face if is_factor => format!("{value:.2} times"),
        Knob::Face => face(value, system),
        Knob::SinkFlow => figure(value, Kind::MassFlow, system),
    };
    let present = if is_factor {
        "the present one".to_owned()
    } else {
        format!("instead of {}", of(needed.have()))
    };
    let factor = match (knob, needed.size.factor()) {
        (Knob::Face, _) if is_factor => String::new(),
        (Knob::Effectiveness, _) if report.assessment.hardest.least_size().is_some() => {
            least_factor(needed.have(), value, side)
        }
        (Knob::Effectiveness, _) | (_, None) => String::new(),
        (_, Some(factor)) => format!(", {factor:.2} times as much"),
    };
    format!(
        "{name}: {} {present}{factor} (set by {})",
        of(value),
        rpm(at, system)
    )
}

/// A core's face is large: no decimals.
fn face(value: f64, system: UnitSystem) -> String {
    let text = shown(value, Kind::Area, system);
    let whole = text.split('.').next().unwrap_or_default();
    format!("{whole} {}", label(Kind::Area, system))
}

/// How much larger a core of a fixed effectiveness has to be.
fn least_factor(have: f64, needed: f64, side: &str) -> String {
    let factor = least_size_factor(have, needed).filter(|&factor| factor >= 0.01);
    factor.map_or_else(String::new, |factor| {
        format!(", {factor:.2} times the UA if the {side} does not warm up")
    })
}

/// What even an infinitely large cooler gives.
pub(super) fn coldest(report: &CoolerReport, system: UnitSystem) -> String {
    let sizes = report.sizes();
    let Some((coldest, at)) = sizes.iter().find_map(NeededSize::coldest) else {
        return String::new();
    };
    format!(
        ": even an infinitely large cooler would only reach {} at {}, with its {} at {}; only a colder \
         coolant helps",
        figure(coldest, Kind::Temperature, system),
        rpm(at, system),
        sink(report.sink),
        figure(
            report.assessment.hardest.state.sink_temperature,
            Kind::Temperature,
            system
        )
    )
}
