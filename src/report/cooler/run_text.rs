//! The timed run for reading.

use super::run_view::{RunRowView, RunView};
use super::view::CoolerReport;
use super::words::{figure, rpm, time};
use crate::quantity::{Kind, UnitSystem};
use crate::report::point_text::{heading, or_dash};
use crate::report::table::Sheet;

/// A column of the run's table.
type Column = (&'static str, Kind, fn(&RunRowView) -> Option<f64>);

const COLUMNS: [Column; 10] = [
    ("time", Kind::Time, |row| Some(row.time_s)),
    ("engine", Kind::RotationalSpeed, |row| Some(row.rpm)),
    ("core", Kind::Temperature, |row| row.core_temperature_k),
    ("water", Kind::Temperature, |row| row.water_temperature_k),
    ("ice", Kind::Mass, |row| row.ice_kg),
    ("charge\nbehind", Kind::Temperature, |row| {
        Some(row.outlet_temperature_k)
    }),
    ("mani-\nfold", Kind::Temperature, |row| {
        Some(row.charge_temperature_k)
    }),
    ("mani-\nfold", Kind::AbsolutePressure, |row| {
        Some(row.manifold_pressure_pa)
    }),
    ("brake\npower", Kind::Power, |row| row.brake_power_w),
    ("heat", Kind::Power, |row| Some(row.heat_w)),
];

/// A run as text in the reader's units.
pub(super) fn run_text(run: &RunView, report: &CoolerReport, system: UnitSystem) -> String {
    let mut out = format!("{}\n", verdict(run, report, system));
    let exists = |column: &&Column| run.rows.iter().any(|row| (column.2)(row).is_some());
    let columns: Vec<&Column> = COLUMNS.iter().filter(exists).collect();
    let headings: Vec<String> = columns
        .iter()
        .map(|(name, kind, _)| heading(name, *kind, system).replacen(" absolute]", "\nabs]", 1))
        .collect();
    let mut sheet = Sheet::new(&headings);
    for row in &run.rows {
        sheet.row(
            columns
                .iter()
                .map(|(_, kind, value)| or_dash(value(row), *kind, system))
                .collect(),
        );
    }
    out.push_str(&sheet.text(0));
    if let Some(stop) = &run.stopped {
        out.push_str(&format!(
            "The run ended at {} ({}): {}.\n",
            time(stop.time_s),
            rpm(stop.rpm, system),
            stop.error.in_units(system)
        ));
    }
    out.push_str(&heat(run));
    out
}

fn verdict(run: &RunView, report: &CoolerReport, system: UnitSystem) -> String {
    let first = run.rows.first().map_or(0.0, |row| row.rpm);
    let last = run.rows.last().map_or(0.0, |row| row.rpm);
    let speed = if run.speed == "held" {
        format!("held at {}", rpm(first, system))
    } else {
        format!("swept from {} to {}", rpm(first, system), rpm(last, system))
    };
    let hottest = format!(
        "the hottest charge is {} at {}",
        figure(run.hottest_charge_temperature_k, Kind::Temperature, system),
        time(run.hottest_at_s)
    );
    let answer = match (&report.target, run.target_passed_at_s) {
        (None, _) => hottest,
        (Some(target), passed) => {
            let goal = figure(target.charge_temperature_k, Kind::Temperature, system);
            match passed {
                None => format!("the charge stays below {goal}; {hottest}"),
                Some(at) if at <= 0.0 => {
                    format!("the charge is above {goal} from the start; {hottest}")
                }
                Some(at) => format!("the charge passes {goal} at {}; {hottest}", time(at)),
            }
        }
    };
    format!(
        "A run of {} at full load, {speed}: {answer}.",
        time(run.seconds)
    )
}

/// Where the heat went.
fn heat(run: &RunView) -> String {
    let megajoules = |joules: f64| format!("{:.3} MJ", joules / 1e6);
    let mut parts = vec![format!(
        "the charge gave {}",
        megajoules(run.heat_from_charge_j)
    )];
    if let Some(metal) = run.stored_in_metal_j {
        parts.push(format!("the core's metal took {}", megajoules(metal)));
    }
    match (run.stored_in_water_j, run.heat_to_air_j) {
        (Some(water), Some(air)) => {
            parts.push(format!("the water took {}", megajoules(water)));
            if air.abs() > 0.0 {
                parts.push(format!("its radiator gave away {}", megajoules(air)));
            }
        }
        _ => parts.push(format!(
            "what cools it took {}",
            megajoules(run.heat_to_sink_j)
        )),
    }
    let mut out = format!("Heat: {}.\n", parts.join(", "));
    if let Some(at) = run.ice_gone_at_s {
        out.push_str(&format!("The last ice melted at {}.\n", time(at)));
    }
    out
}
