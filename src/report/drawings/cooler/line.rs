//! Effectiveness and charge temperature over the line.

use super::target::target;
use crate::plot::{Drawing, Jump, Layer, Line, Mark, Meaning, PlotError};
use crate::quantity::{Kind, UnitSystem};
use crate::report::cooler::words::{figure, inside, named};
use crate::report::drawings::heading::{FrameOf, Heading, SPEED, rpm};
use crate::report::drawings::scene::event;
use crate::report::fields::cooler_report::CoolerReport;
use crate::study::cooler::{CoolerPoint, Knob, SizeNeeded};

/// Temperatures closer than this are drawn as one line, K.
const SAME: f64 = 0.05;

/// Effectiveness and outlet temperature over the line; `ahead` is a title that goes before the
/// verdict's.
pub(super) fn line(
    report: &CoolerReport,
    (note, ahead): (String, Option<String>),
    jumps: &[Jump],
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let heading = Heading {
        title: ahead.unwrap_or_else(|| line_title(report, system)),
        subtitle: "the charge cooler over the line at full load".to_owned(),
        note,
    };
    let lines = Lines { report, jumps };
    let mut effectiveness =
        vec![lines.line("this cooler", Meaning::Together, |p| p.state.effectiveness)];
    effectiveness.extend(needed(report));
    effectiveness.push(event("most heat,", report.assessment.hardest.rpm));
    let frames = vec![
        FrameOf::new("effectiveness", Kind::Share, effectiveness),
        FrameOf::new("temperature", Kind::Temperature, lines.temperatures(system)),
    ];
    heading.over(SPEED, frames, system)
}

/// The cooler's points over the line, as lines.
struct Lines<'a> {
    report: &'a CoolerReport,
    jumps: &'a [Jump],
}

impl Lines<'_> {
    fn line(&self, name: &str, meaning: Meaning, value: fn(&CoolerPoint) -> f64) -> Layer {
        let rows = self.report.assessment.points.iter().map(|row| match row {
            Ok(point) => (point.rpm, Some(value(point))),
            Err((rpm, _)) => (*rpm, None),
        });
        Layer::Line(Line::from_rows(name, meaning, rows, self.jumps))
    }

    /// The charge behind the cooler, in the manifold where that differs, what cools it, the target.
    fn temperatures(&self, system: UnitSystem) -> Vec<Layer> {
        let outlet = |p: &CoolerPoint| p.state.outlet_temperature;
        let manifold = |p: &CoolerPoint| p.engine.charge_temperature;
        let is_apart = self.report.assessment.points.iter().any(|row| match row {
            Ok(point) => (outlet(point) - manifold(point)).abs() > SAME,
            Err(_) => false,
        });
        let (own, place) = if is_apart {
            (Meaning::CoolerOutlet, " in the manifold")
        } else {
            (Meaning::Together, "")
        };
        let mut layers = vec![self.line("cooler outlet", own, outlet)];
        if is_apart {
            layers.push(self.line("manifold", Meaning::Together, manifold));
        }
        let is_water = self.report.sink == "water";
        let coolant = if is_water {
            "water in"
        } else {
            "cooling air in"
        };
        layers.push(self.line(coolant, Meaning::Coolant, |p| p.state.sink_temperature));
        layers.extend(target(self.report, place, system));
        layers
    }
}

/// The effectiveness that would do, where it is more than there is.
fn needed(report: &CoolerReport) -> Option<Layer> {
    let size = report
        .assessment
        .verdict
        .as_ref()?
        .size(Knob::Effectiveness)?;
    let SizeNeeded::Needed { value: at, .. } = size.answer else {
        return None;
    };
    if at <= size.have {
        return None;
    }
    let words = format!("needed {:.1} %", 100.0 * at);
    Some(Layer::Limit(Mark { at, words }))
}

fn line_title(report: &CoolerReport, system: UnitSystem) -> String {
    let hottest = &report.assessment.hottest;
    let reaches = format!(
        "the charge reaches {} at {}",
        figure(hottest.engine.charge_temperature, Kind::Temperature, system),
        rpm(hottest.rpm)
    );
    match report.target() {
        None => format!("With {} {reaches}", inside(report.cooler())),
        Some(target) => match (target.word(), target.verdict.short_by) {
            ("enough", _) => format!("{} is enough: {reaches}", named(report.cooler())),
            ("short", Some(short)) => format!(
                "{} is short by {}: {reaches}",
                named(report.cooler()),
                figure(short, Kind::Share, system)
            ),
            ("better without", _) => {
                format!("{} warms the charge: {reaches}", named(report.cooler()))
            }
            _ => format!("No finite {} is enough: {reaches}", report.cooler()),
        },
    }
}
