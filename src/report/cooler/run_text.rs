//! The timed run for reading.

use super::words::{figure, rpm, time};
use crate::quantity::{Kind, UnitSystem};
use crate::report::fields::cooler_report::CoolerReport;
use crate::report::fields::cooler_run::TimedRun;
use crate::report::fields::field::Rows;
use crate::report::table::Sheet;
use crate::report::words::run_ended;
use crate::study::soak::{SoakRow, SoakRun, Speed};

/// A run as text in the reader's units.
pub(super) fn run_text(timed: &TimedRun, report: &CoolerReport, system: UnitSystem) -> String {
    let run = &timed.run;
    let mut out = format!("{}\n", verdict(timed, report, system));
    let columns = SoakRow::ROWS.iter();
    let columns: Vec<_> = columns
        .filter(|column| run.rows.iter().any(|row| column.number(row).is_some()))
        .collect();
    let heads = columns.iter().map(|column| column.head(system));
    let heads: Vec<String> = heads
        .map(|head| head.replacen(" absolute]", "\nabs]", 1))
        .collect();
    let mut sheet = Sheet::new(&heads);
    for row in &run.rows {
        sheet.row(
            columns
                .iter()
                .map(|column| column.cell(row, system))
                .collect(),
        );
    }
    out.push_str(&sheet.text(0));
    if let Some(stop) = &run.stopped {
        out.push_str(&format!(
            "The run ended at {} ({}): {}.\n",
            time(stop.seconds),
            rpm(stop.rpm, system),
            run_ended(&stop.reason).in_units(system)
        ));
    }
    out.push_str(&heat(run));
    out
}

fn verdict(timed: &TimedRun, report: &CoolerReport, system: UnitSystem) -> String {
    let run = &timed.run;
    let speed = match timed.asked.speed {
        Speed::Held(at) => format!("held at {}", rpm(at, system)),
        Speed::Swept { from, .. } => {
            let last = run.rows.last().map_or(from, |row| row.rpm);
            format!("swept from {} to {}", rpm(from, system), rpm(last, system))
        }
    };
    let hottest = format!(
        "the hottest charge is {} at {}",
        figure(run.hottest, Kind::Temperature, system),
        time(run.hottest_at)
    );
    let answer = match (&report.assessment.verdict, run.passed_at) {
        (None, _) => hottest,
        (Some(target), passed) => {
            let goal = figure(target.target, Kind::Temperature, system);
            match passed {
                None => format!("the charge stays below {goal}; {hottest}"),
                Some(at) if at <= 0.0 => {
                    format!("the charge is above {goal} from the start; {hottest}")
                }
                Some(at) => format!("the charge exceeds {goal} at {}; {hottest}", time(at)),
            }
        }
    };
    format!(
        "A run of {} at full load, {speed}: {answer}.",
        time(timed.asked.seconds)
    )
}

/// Where the heat went.
fn heat(run: &SoakRun) -> String {
    let megajoules = |joules: f64| format!("{:.3} MJ", joules / 1e6);
    let mut parts = vec![format!(
        "the charge gave {}",
        megajoules(run.heat.from_charge)
    )];
    if let Some(metal) = run.stored_in_metal {
        parts.push(format!("the core's metal took {}", megajoules(metal)));
    }
    match run.stored_in_water {
        Some(water) => {
            parts.push(format!("the water took {}", megajoules(water)));
            let air = run.heat.to_air;
            if air.abs() > 0.0 {
                parts.push(format!("its radiator rejected {}", megajoules(air)));
            }
        }
        None => parts.push(format!(
            "the coolant absorbed {}",
            megajoules(run.heat.to_sink)
        )),
    }
    let mut out = format!("Heat: {}.\n", parts.join(", "));
    if let Some(at) = run.ice_gone_at {
        out.push_str(&format!("The last ice melted at {}.\n", time(at)));
    }
    out
}
