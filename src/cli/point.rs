//! `point`: one match, station by station.

use super::done::Done;
use super::failure::Failure;
use super::load::{Defaults, Loaded};
use super::options::{Format, PointOptions};
use super::progress::Progress;
use super::{load, say, view};
use crate::finding::{self, Finding};
use crate::input::{self, Shift, SpeedFault};
use crate::matching::{Layout, Match};
use crate::quantity::UnitSystem;
use crate::report::{self, BandsOfMatch, DefaultUsed, Point, PointReport, caution, csv, json};
use crate::study::{self, Branch, InputSpread, MatchAnswers};

/// Draws of a band at one speed: its ends then lie within 0.1 standard deviations of those of
/// endless draws, two times of three (order statistics of a normal distribution, plain draws).
const SAMPLES: usize = 1000;

/// Solves one speed and shows it.
pub(super) fn run(options: &PointOptions) -> Result<Done, Failure> {
    let rpm = options.rpm;
    if !(rpm.is_finite() && rpm > 0.0) {
        return Err(Failure::usage(
            "--rpm: expected an engine speed above 0, as in --rpm 2400",
        ));
    }
    let defaults = match options.common.format {
        Format::Text => Defaults::InTheResult,
        Format::Json | Format::Csv => Defaults::AsRemarks,
    };
    let loaded = load::alone(options.build.as_deref(), &options.common, defaults)?;
    let installation = &loaded.installation;
    match input::judge_speed(installation, rpm) {
        Some(SpeedFault::CannotBe(text)) => return Err(Failure::new(format!("--rpm: {text}"))),
        Some(SpeedFault::FarFromLine(text)) => say(&format!("--rpm: {text}")),
        None => {}
    }
    let mut branch = Branch::upward(installation).map_err(|fault| loaded.fault(&fault))?;
    let mut found = Match::default();
    let place = branch
        .at(rpm, &mut found)
        .map_err(|fault| loaded.no_match(rpm, &fault))?;
    let solver = branch.solver();
    solver.find_others(&mut found);
    let extra = study::extra::of_match(solver, &found, &place);
    let mut findings = finding::of_match(installation, solver.layout(), &found, &extra);
    study::advice::add(installation, solver.layout(), &[&found], &mut findings);
    let mut point = view::point(solver.layout(), &found, extra.steepness, &findings)?;
    let mut uncertain = 0;
    if options.sensitivity {
        let now = MatchAnswers::at(installation, solver.layout(), &found, place);
        (point, uncertain) = how_sure(point, &loaded, solver.layout(), &now)?;
    }
    let defaults = |system| report::defaults(&loaded.defaults, &findings, system);
    let text = match options.common.format {
        Format::Text => Solved {
            loaded: &loaded,
            layout: solver.layout(),
            found: &found,
            findings: &findings,
            point: &point,
            uncertain,
        }
        .text(loaded.system, &defaults),
        Format::Csv => csv::write(&[point])?,
        Format::Json => json::write(&PointReport {
            title: installation.title.clone(),
            defaults: defaults(UnitSystem::Si),
            point,
        })?,
    };
    let strict_failure = options.common.strict && view::is_strict_failure(&findings);
    Ok(Done {
        text,
        strict_failure,
    })
}

/// One match with what is said of it.
struct Solved<'a> {
    loaded: &'a Loaded,
    layout: &'a Layout,
    found: &'a Match,
    findings: &'a [Finding],
    point: &'a Point,
    /// How many inputs are uncertain.
    uncertain: usize,
}

impl Solved<'_> {
    fn text(
        &self,
        system: UnitSystem,
        defaults: &dyn Fn(UnitSystem) -> Vec<DefaultUsed>,
    ) -> String {
        let (installation, point) = (&self.loaded.installation, self.point);
        let mut text = report::point_text(&installation.title, point, system);
        let matches = std::iter::once(self.found);
        let pulley = report::pulley_text(installation, self.layout, matches, system);
        text.push_str(&pulley);
        if let Some(rows) = &point.sensitivity {
            text.push_str(&report::sensitivity_text(rows, system));
        }
        if let Some(bands) = &point.bands {
            text.push_str(&report::bands_text(bands, self.uncertain, system));
        }
        text.push_str(&report::defaults_text(&defaults(system)));
        text.push_str(&report::findings_text(self.layout, self.findings, system));
        text.push_str(caution::CAUTION);
        text.push('\n');
        text
    }
}

/// The point with its sensitivities and bands, and how many inputs are uncertain.
fn how_sure(
    mut point: Point,
    loaded: &Loaded,
    layout: &Layout,
    now: &MatchAnswers,
) -> Result<(Point, usize), Failure> {
    let _progress = Progress::of("sensitivities and bands", 1);
    let read = |shifts: &[Shift]| loaded.moved(shifts);
    let rows = study::rows(&read, &loaded.inputs, point.found.rpm, now);
    point.sensitivity = Some(report::sensitivity(layout, &loaded.inputs, &rows));
    let mut uncertain = 0;
    if let Some(mut spread) = InputSpread::new(&read, &loaded.inputs, SAMPLES) {
        let bands = spread.bands(point.found.rpm, now);
        point.bands = Some(BandsOfMatch::new(layout, &spread.keys, now, &bands));
        uncertain = spread.keys.len();
    }
    point.checked()?;
    Ok((point, uncertain))
}
