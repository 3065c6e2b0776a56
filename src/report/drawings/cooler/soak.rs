//! Temperatures over a timed run.

use super::target::target;
use crate::plot::{Axis, Drawing, Layer, Line, Mark, Meaning, PlotError};
use crate::quantity::{Kind, UnitSystem};
use crate::report::cooler::words::{figure, time};
use crate::report::drawings::heading::{FrameOf, Heading, rpm};
use crate::report::{CoolerReport, RunRowView, RunView};

/// A quantity of a run's row; none where it does not exist.
type Value = fn(&RunRowView) -> Option<f64>;

/// The temperatures of a run.
const TEMPERATURES: [(&str, Meaning, Value); 3] = [
    ("charge", Meaning::Together, |row| {
        Some(row.charge_temperature_k)
    }),
    ("core", Meaning::Metal, |row| row.core_temperature_k),
    ("water", Meaning::Coolant, |row| row.water_temperature_k),
];

/// Temperatures, ice and power over a timed run.
pub(super) fn soak(
    run: &RunView,
    report: &CoolerReport,
    note: String,
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let line = |&(name, meaning, value): &(&str, Meaning, Value)| {
        let rows = run.rows.iter().map(|row| (row.time_s, value(row)));
        let line = Line::from_rows(name, meaning, rows, &[]);
        (!line.pieces.is_empty()).then_some(Layer::Line(line))
    };
    let mut temperatures: Vec<Layer> = TEMPERATURES.iter().filter_map(line).collect();
    temperatures.extend(target(report, "", system));
    temperatures.extend(events(run));
    let mut frames = vec![FrameOf::new("temperature", Kind::Temperature, temperatures)];
    for (name, kind, what) in [
        (
            "ice left",
            Kind::Mass,
            ("ice", Meaning::Coolant, (|row| row.ice_kg) as Value),
        ),
        (
            "brake power",
            Kind::Power,
            ("power", Meaning::Together, |row| row.brake_power_w),
        ),
    ] {
        frames.extend(line(&what).map(|line| FrameOf::new(name, kind, vec![line])));
    }
    let heading = Heading {
        title: soak_title(run, report, system),
        subtitle: soak_subtitle(run),
        note,
    };
    let seconds = Axis {
        words: "time, s",
        shown: &|seconds| seconds,
    };
    heading.over(seconds, frames, system)
}

/// When the target was passed and when the last ice was gone.
fn events(run: &RunView) -> impl Iterator<Item = Layer> {
    let passed = run.target_passed_at_s.filter(|&at| at > 0.0);
    let events = [("target passed", passed), ("last ice", run.ice_gone_at_s)];
    events.into_iter().filter_map(|(what, at)| {
        let at = at?;
        let words = format!("{what}, {}", time(at));
        Some(Layer::Event(Mark { at, words }))
    })
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
