//! `point`: one match, station by station.

use super::failure::Failure;
use super::options::{Format, PointOptions};
use super::{Done, load, view, wrong_arguments};
use crate::finding;
use crate::matching::{Match, Solver};
use crate::report::{self, PointReport, caution, csv, json};
use crate::study;

/// Solves one speed and shows it.
pub(super) fn run(options: &PointOptions) -> Result<Done, Failure> {
    let rpm = options.rpm;
    if !(rpm.is_finite() && rpm > 0.0) {
        return Err(wrong_arguments(
            "--rpm wants an engine speed above 0, as in --rpm 2400",
        ));
    }
    let loaded = load::build(options.build.as_deref(), &options.common.set, None)?;
    let installation = &loaded.installation;
    let mut solver = Solver::new(installation).map_err(|fault| loaded.fault(&fault))?;
    let mut found = Match::default();
    let place = solver
        .solve(rpm, &mut found)
        .map_err(|fault| loaded.no_match(rpm, &fault))?;
    let extra = study::extra::of_match(&mut solver, &found, &place);
    let findings = finding::of_match(installation, solver.layout(), &found, &extra);
    let point = view::point(solver.layout(), &found, extra.steepness, &findings)?;
    let defaults = report::defaults(&loaded.defaults, &findings);
    let text = match options.common.format {
        Format::Text => {
            let system = options.common.units.into();
            let mut text = report::point_text(&installation.title, &point, system);
            let matches = std::iter::once(&found);
            text.push_str(&report::pulley_text(
                installation,
                solver.layout(),
                matches,
                system,
            ));
            text.push_str(&report::defaults_text(&defaults));
            text.push_str(&report::findings_text(solver.layout(), &findings, system));
            text.push_str(caution::CAUTION);
            text.push('\n');
            text
        }
        Format::Csv => csv::write(&[point])?,
        Format::Json => json::write(&PointReport {
            title: installation.title.clone(),
            caution: caution::CAUTION,
            defaults,
            point,
        })?,
    };
    let strict_failure = options.common.strict && view::is_strict_failure(&findings);
    Ok(Done {
        text,
        strict_failure,
    })
}
