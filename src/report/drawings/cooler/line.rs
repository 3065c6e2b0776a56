//! Effectiveness and charge temperature over the line.

use super::{target, words};
use crate::plot::{Axis, Drawing, Event, Jump, Limit, PanelLines, Panels, PlotError, Series};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::words::{figure, inside, named};
use crate::report::drawings::{SPEED, rpm};
use crate::report::fields::cooler_report::CoolerReport;
use crate::study::cooler::{CoolerPoint, Knob, SizeNeeded};

/// Temperatures closer than this are drawn as one line, K.
const SAME: f64 = 0.05;

/// Effectiveness and outlet temperature over the line; `ahead` is a title that goes before the
/// verdict's.
pub(super) fn line(
    report: &CoolerReport,
    (note, ahead): (&str, Option<String>),
    jumps: &[Jump],
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let series = |name: &str, value: fn(&CoolerPoint) -> f64| {
        let rows = report.assessment.points.iter().map(|row| match row {
            Ok(point) => (point.rpm, Some(value(point))),
            Err((rpm, _)) => (*rpm, None),
        });
        Series::with_jumps(name, rows, jumps)
    };
    let temperature = |si: f64| reader_value(si, Kind::Temperature, system);
    let percent = |share: f64| 100.0 * share;
    let temperature_words = words("temperature", Kind::Temperature, system);
    let behind = |p: &CoolerPoint| p.state.outlet_temperature;
    let in_manifold = |p: &CoolerPoint| p.engine.charge_temperature;
    let apart = report.assessment.points.iter().any(|row| match row {
        Ok(point) => (behind(point) - in_manifold(point)).abs() > SAME,
        Err(_) => false,
    });
    let mut limits = target(report, system);
    if apart {
        for limit in &mut limits {
            limit.words.push_str(" in the manifold");
        }
    }
    let mut temperatures = vec![series("behind the cooler", behind)];
    if apart {
        temperatures.push(series("in the manifold", in_manifold));
    }
    let cooling = if report.sink == "water" {
        "water in"
    } else {
        "cooling air in"
    };
    temperatures.push(series(cooling, |p| p.state.sink_temperature));
    Panels {
        title: &ahead.unwrap_or_else(|| line_title(report, system)),
        subtitle: "the charge cooler over the line at full load",
        note,
        x: SPEED,
        panels: vec![
            PanelLines {
                y: Axis {
                    words: "effectiveness, %",
                    shown: &percent,
                },
                series: vec![series("this cooler", |p| p.state.effectiveness)],
                limits: needed(report),
            },
            PanelLines {
                y: Axis {
                    words: &temperature_words,
                    shown: &temperature,
                },
                series: temperatures,
                limits,
            },
        ],
        events: vec![Event {
            at: report.assessment.hardest.rpm,
            words: format!("most heat, {}", rpm(report.assessment.hardest.rpm)),
        }],
    }
    .draw()
}

/// The effectiveness that would do, where it is more than there is.
fn needed(report: &CoolerReport) -> Vec<Limit> {
    let verdict = report.assessment.verdict.as_ref();
    let size = verdict.and_then(|verdict| verdict.size(Knob::Effectiveness));
    let needed = size.and_then(|size| match size.answer {
        SizeNeeded::Needed { value, .. } => Some(value).filter(|&needed| needed > size.have),
        _ => None,
    });
    let limit = needed.map(|at| Limit {
        at,
        words: format!("needed {:.1} %", 100.0 * at),
    });
    limit.into_iter().collect()
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
