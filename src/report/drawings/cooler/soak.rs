//! Temperatures over a timed run.

use super::target::target;
use crate::plot::{Axis, Drawing, Layer, Line, Mark, Meaning, PlotError};
use crate::quantity::{Kind, UnitSystem};
use crate::report::cooler::words::{figure, time};
use crate::report::drawings::heading::{FrameOf, Heading, rpm};
use crate::report::fields::cooler_report::CoolerReport;
use crate::report::fields::cooler_run::TimedRun;
use crate::study::soak::{SoakRow, SoakRun, Speed};

/// A quantity of a run's row; none where it does not exist.
type Value = fn(&SoakRow) -> Option<f64>;

/// The temperatures of a run.
const TEMPERATURES: [(&str, Meaning, Value); 3] = [
    ("charge", Meaning::Together, |row| {
        Some(row.charge_temperature)
    }),
    ("core", Meaning::Metal, |row| row.metal_temperature),
    ("water", Meaning::Coolant, |row| row.water_temperature),
];

/// Temperatures, ice and power over a timed run.
pub(super) fn soak(
    timed: &TimedRun,
    report: &CoolerReport,
    note: String,
    system: UnitSystem,
) -> Result<Drawing, PlotError> {
    let run = &timed.run;
    let line = |&(name, meaning, value): &(&str, Meaning, Value)| {
        let rows = run.rows.iter().map(|row| (row.seconds, value(row)));
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
            ("ice", Meaning::Coolant, (|row| row.ice) as Value),
        ),
        (
            "brake power",
            Kind::Power,
            ("power", Meaning::Together, |row| row.brake_power),
        ),
    ] {
        frames.extend(line(&what).map(|line| FrameOf::new(name, kind, vec![line])));
    }
    let heading = Heading {
        title: soak_title(timed, report, system),
        subtitle: soak_subtitle(timed),
        note,
    };
    let seconds = Axis {
        words: "time, s",
        shown: &|seconds| seconds,
    };
    heading.over(seconds, frames, system)
}

/// When the target was passed and when the last ice was gone.
fn events(run: &SoakRun) -> impl Iterator<Item = Layer> {
    let passed = run.passed_at.filter(|&at| at > 0.0);
    let events = [("target exceeded", passed), ("last ice", run.ice_gone_at)];
    events.into_iter().filter_map(|(what, at)| {
        let at = at?;
        let words = format!("{what}, {}", time(at));
        Some(Layer::Event(Mark { at, words }))
    })
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
            format!("The charge exceeds {goal} after {}", time(at))
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
