//! Temperatures over a timed run.

use super::{target, words};
use crate::plot::{Axis, Drawing, Event, PanelLines, Panels, PlotError, Series};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::words::{figure, time};
use crate::report::drawings::rpm;
use crate::report::fields::cooler_report::CoolerReport;
use crate::report::fields::cooler_run::TimedRun;
use crate::study::soak::{SoakRow, Speed};

/// Temperatures and power over a timed run.
pub(super) fn soak(
    timed: &TimedRun,
    report: &CoolerReport,
    foot: &str,
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let run = &timed.run;
    let series = |name: &str, value: fn(&SoakRow) -> Option<f64>| {
        Series::from_rows(name, run.rows.iter().map(|row| (row.seconds, value(row))))
    };
    let temperature = |si: f64| reader_value(si, Kind::Temperature, system);
    let mass = |si: f64| reader_value(si, Kind::Mass, system);
    let power = |si: f64| reader_value(si, Kind::Power, system);
    let temperature_words = words("temperature", Kind::Temperature, system);
    let mass_words = words("ice left", Kind::Mass, system);
    let power_words = words("brake power", Kind::Power, system);
    let mut temperatures = vec![
        series("charge", |row| Some(row.charge_temperature)),
        series("core", |row| row.metal_temperature),
        series("water", |row| row.water_temperature),
    ];
    temperatures.retain(|one| !one.pieces.is_empty());
    let mut panels = vec![PanelLines {
        y: Axis {
            words: &temperature_words,
            shown: &temperature,
        },
        series: temperatures,
        limits: target(report, system),
    }];
    for (axis, one) in [
        (
            Axis {
                words: &mass_words,
                shown: &mass,
            },
            series("ice", |row| row.ice),
        ),
        (
            Axis {
                words: &power_words,
                shown: &power,
            },
            series("power", |row| row.brake_power),
        ),
    ] {
        if !one.pieces.is_empty() {
            panels.push(PanelLines {
                y: axis,
                series: vec![one],
                limits: Vec::new(),
            });
        }
    }
    let mut events = Vec::new();
    if let Some(at) = run.passed_at.filter(|&at| at > 0.0) {
        events.push(Event {
            at,
            words: format!("target passed, {}", time(at)),
        });
    }
    if let Some(at) = run.ice_gone_at {
        events.push(Event {
            at,
            words: format!("last ice, {}", time(at)),
        });
    }
    Panels {
        title: &soak_title(timed, report, system),
        subtitle: &soak_subtitle(timed),
        note: foot,
        x: Axis {
            words: "time, s",
            shown: &|seconds| seconds,
        },
        panels,
        events,
    }
    .draw()
}

fn soak_title(timed: &TimedRun, report: &CoolerReport, system: UnitSystem) -> String {
    let run = &timed.run;
    let goal = report
        .assessment
        .verdict
        .as_ref()
        .map(|verdict| figure(verdict.target, Kind::Temperature, system));
    match (goal, run.passed_at) {
        (Some(goal), Some(at)) if at > 0.0 => {
            format!("The charge passes {goal} after {}", time(at))
        }
        (Some(goal), Some(_)) => format!("The charge is above {goal} from the start"),
        (Some(goal), None) => {
            format!(
                "The charge stays below {goal} for {}",
                time(timed.asked.seconds)
            )
        }
        (None, _) => format!(
            "The charge warms to {} within {}",
            figure(run.hottest, Kind::Temperature, system),
            time(timed.asked.seconds)
        ),
    }
}

fn soak_subtitle(timed: &TimedRun) -> String {
    let run = &timed.run;
    let at = |row: Option<&SoakRow>| rpm(row.map_or(0.0, |row| row.rpm));
    if let Speed::Held(_) = timed.asked.speed {
        format!("full load, held at {}", at(run.rows.first()))
    } else {
        format!(
            "full load, swept from {} to {}",
            at(run.rows.first()),
            at(run.rows.last())
        )
    }
}
