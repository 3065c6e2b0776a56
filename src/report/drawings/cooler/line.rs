//! Effectiveness and charge temperature over the line.

use super::{target, words};
use crate::plot::{Axis, Drawing, Event, Jump, Limit, PanelLines, Panels, PlotError, Series};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::words::{figure, inside, named};
use crate::report::drawings::{SPEED, rpm};
use crate::report::{CoolerPointView, CoolerReport, CoolerRowView};

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
    let series = |name: &str, value: fn(&CoolerPointView) -> f64| {
        let rows = report.points.iter().map(|row| match row {
            CoolerRowView::Point(point) => (point.rpm, Some(value(point))),
            CoolerRowView::Error { rpm, .. } => (*rpm, None),
        });
        Series::with_jumps(name, rows, jumps)
    };
    let temperature = |si: f64| reader_value(si, Kind::Temperature, system);
    let percent = |share: f64| 100.0 * share;
    let temperature_words = words("temperature", Kind::Temperature, system);
    let behind = |p: &CoolerPointView| p.outlet_temperature_k;
    let in_manifold = |p: &CoolerPointView| p.engine.charge_temperature_k;
    let apart = report.points.iter().any(|row| match row {
        CoolerRowView::Point(point) => (behind(point) - in_manifold(point)).abs() > SAME,
        CoolerRowView::Error { .. } => false,
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
    temperatures.push(series(cooling, |p| p.sink_inlet_temperature_k));
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
                series: vec![series("this cooler", |p| p.effectiveness)],
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
            at: report.hardest.rpm,
            words: format!("most heat, {}", rpm(report.hardest.rpm)),
        }],
    }
    .draw()
}

/// The effectiveness that would do, where it is more than there is.
fn needed(report: &CoolerReport) -> Vec<Limit> {
    let size = report
        .sizes
        .iter()
        .find(|size| size.what == "effectiveness");
    let needed = size.and_then(|size| size.needed.filter(|&needed| needed > size.have));
    let limit = needed.map(|at| Limit {
        at,
        words: format!("needed {:.1} %", 100.0 * at),
    });
    limit.into_iter().collect()
}

fn line_title(report: &CoolerReport, system: UnitSystem) -> String {
    let hottest = &report.hottest;
    let reaches = format!(
        "the charge reaches {} at {}",
        figure(
            hottest.engine.charge_temperature_k,
            Kind::Temperature,
            system
        ),
        rpm(hottest.rpm)
    );
    match report.target.as_ref() {
        None => format!("With {} {reaches}", inside(&report.cooler)),
        Some(target) => match (target.verdict, target.short_by) {
            ("enough", _) => format!("{} is enough: {reaches}", named(&report.cooler)),
            ("short", Some(short)) => format!(
                "{} is short by {}: {reaches}",
                named(&report.cooler),
                figure(short, Kind::Share, system)
            ),
            ("better without", _) => {
                format!("{} warms the charge: {reaches}", named(&report.cooler))
            }
            _ => format!("No finite {} is enough: {reaches}", report.cooler),
        },
    }
}
