//! Temperatures over a timed run.

use super::{target, words};
use crate::plot::{Axis, Drawing, Event, PanelLines, Panels, PlotError, Series};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::cooler::words::{figure, time};
use crate::report::drawings::rpm;
use crate::report::{CoolerReport, RunRowView, RunView};

/// Temperatures and power over a timed run.
pub(super) fn soak(
    run: &RunView,
    report: &CoolerReport,
    foot: &str,
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let series = |name: &str, value: fn(&RunRowView) -> Option<f64>| {
        Series::from_rows(name, run.rows.iter().map(|row| (row.time_s, value(row))))
    };
    let temperature = |si: f64| reader_value(si, Kind::Temperature, system);
    let mass = |si: f64| reader_value(si, Kind::Mass, system);
    let power = |si: f64| reader_value(si, Kind::Power, system);
    let temperature_words = words("temperature", Kind::Temperature, system);
    let mass_words = words("ice left", Kind::Mass, system);
    let power_words = words("brake power", Kind::Power, system);
    let mut temperatures = vec![
        series("charge", |row| Some(row.charge_temperature_k)),
        series("core", |row| row.core_temperature_k),
        series("water", |row| row.water_temperature_k),
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
            series("ice", |row| row.ice_kg),
        ),
        (
            Axis {
                words: &power_words,
                shown: &power,
            },
            series("power", |row| row.brake_power_w),
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
    if let Some(at) = run.target_passed_at_s.filter(|&at| at > 0.0) {
        events.push(Event {
            at,
            words: format!("target passed, {}", time(at)),
        });
    }
    if let Some(at) = run.ice_gone_at_s {
        events.push(Event {
            at,
            words: format!("last ice, {}", time(at)),
        });
    }
    Panels {
        title: &soak_title(run, report, system),
        subtitle: &soak_subtitle(run),
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

fn soak_title(run: &RunView, report: &CoolerReport, system: UnitSystem) -> String {
    let goal = report
        .target
        .as_ref()
        .map(|target| figure(target.charge_temperature_k, Kind::Temperature, system));
    match (goal, run.target_passed_at_s) {
        (Some(goal), Some(at)) if at > 0.0 => {
            format!("The charge passes {goal} after {}", time(at))
        }
        (Some(goal), Some(_)) => format!("The charge is above {goal} from the start"),
        (Some(goal), None) => {
            format!("The charge stays below {goal} for {}", time(run.seconds))
        }
        (None, _) => format!(
            "The charge warms to {} within {}",
            figure(run.hottest_charge_temperature_k, Kind::Temperature, system),
            time(run.seconds)
        ),
    }
}

fn soak_subtitle(run: &RunView) -> String {
    let at = |row: Option<&RunRowView>| rpm(row.map_or(0.0, |row| row.rpm));
    if run.speed == "held" {
        format!("full load, held at {}", at(run.rows.first()))
    } else {
        format!(
            "full load, swept from {} to {}",
            at(run.rows.first()),
            at(run.rows.last())
        )
    }
}
