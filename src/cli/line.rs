//! `line`: the operating line as answer, table, findings and drawings, alone or compared with others.

use super::comparison::{self, Comparison};
use super::done::Done;
use super::failure::Failure;
use super::load::Loaded;
use super::options::{Format, LineOptions};
use super::progress::Progress;
use super::write::Folder;
use super::{load, say, terminal, view};
use crate::finding::{self, Extra, Finding};
use crate::input::{Shift, layout_fault};
use crate::matching::{Installation, Layout, LayoutError, Match, Solver};
use crate::quantity::UnitSystem;
use crate::report::words::match_error;
use crate::report::{
    self, BandsOfMatch, ColumnChoice, EventInWords, LineReport, LineSummary, NoMatch,
    PlacedFinding, Point, Row, Variant, caution, csv, drawings, json,
};
use crate::study::{self, InputSpread, MatchAnswers, OperatingLine};

/// Draws of a band at each speed where first order does not hold, a quarter of what one point
/// takes: its ends lie within a sixth of a standard deviation, two times of three.
const SAMPLES: usize = 250;

/// One line, solved.
struct Solved {
    installation: Installation,
    layout: Layout,
    line: OperatingLine,
    findings: Vec<Finding>,
}

/// Solves the line, and those beside it, and shows them.
pub(super) fn run(options: &LineOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let names = comparison::read(&options.compare)?;
    let (loaded, others) = load::builds(
        options.build.as_deref(),
        common,
        options.map.as_deref(),
        &names,
    )?;
    let fault = |fault: LayoutError| loaded.fault(&fault);
    let progress = Progress::of("solving the line", 1 + others.len());
    let own = Solved::new(loaded.installation.clone()).map_err(fault)?;
    progress.step();
    let mut beside = Vec::with_capacity(others.len());
    for (name, installation) in names.into_iter().zip(others) {
        let solved = Solved::new(installation).map_err(|fault| {
            let fault = layout_fault(&fault);
            Failure::new(format!("--compare {}: {fault}", name.name))
        })?;
        beside.push((name, solved));
        progress.step();
    }
    drop(progress);
    let mut view = line_report(&own, &beside)?;
    add_bands(&mut view, &loaded, &own)?;
    let system = loaded.system;
    let text = match common.format {
        Format::Text => text(options, &own, &view, system)?,
        Format::Json => json::write(&view)?,
        Format::Csv if beside.is_empty() => csv::write(&view.points)?,
        Format::Csv => csv::write(&view.named_rows())?,
    };
    for (name, _) in beside.iter().filter(|(_, one)| one.is_empty()) {
        say(&format!(
            "--compare {}: no speed of the line has a match",
            name.name
        ));
    }
    if own.is_empty() && beside.iter().all(|(_, one)| one.is_empty()) {
        return Err(
            Failure::new(format!("{}: no speed of the line has a match", loaded.name))
                .with_result(text),
        );
    }
    if common.format == Format::Text || common.out.is_some() {
        write(options, loaded.system, &own, &view.points, &beside)
            .map_err(|failure| failure.with_result(text.clone()))?;
    }
    let mut all = std::iter::once(&own).chain(beside.iter().map(|(_, one)| one));
    let strict_failure = common.strict && all.any(Solved::is_strict_failure);
    Ok(Done {
        text,
        strict_failure,
    })
}

impl Solved {
    fn new(installation: Installation) -> Result<Self, LayoutError> {
        let layout = Solver::new(&installation)?.layout().clone();
        let line = study::run(&installation)?;
        let findings = study::findings(&installation, &layout, &line);
        Ok(Self {
            installation,
            layout,
            line,
            findings,
        })
    }

    /// Whether no speed has a match.
    fn is_empty(&self) -> bool {
        self.line.matches().next().is_none()
    }

    fn is_strict_failure(&self) -> bool {
        self.line.unsolved() > 0 || view::is_strict_failure(&self.findings)
    }

    fn scene<'a>(
        &'a self,
        name: &'a str,
        rows: &'a [Row],
        system: UnitSystem,
    ) -> drawings::Scene<'a> {
        drawings::Scene {
            name,
            installation: &self.installation,
            layout: &self.layout,
            line: &self.line,
            rows,
            findings: &self.findings,
            system,
        }
    }

    fn points(&self) -> Result<Vec<Row>, Failure> {
        let rows = self.line.points.iter().map(|point| match &point.outcome {
            Ok(found) => self.point(found, &point.extra).map(Ok),
            Err(fault) => Ok(Err(NoMatch {
                rpm: point.rpm,
                error: match_error(fault),
            })),
        });
        rows.collect()
    }

    fn point(&self, found: &Match, extra: &Extra) -> Result<Point, Failure> {
        let findings = finding::of_match(&self.installation, &self.layout, found, extra);
        view::point(&self.layout, found, extra.steepness, &findings)
    }

    fn report(&self, title: &str, settings: Vec<String>) -> Result<LineReport, Failure> {
        let stages = self.layout.stages.iter().map(|(name, _)| name.clone());
        Ok(LineReport {
            title: title.to_owned(),
            settings,
            hand_over: self.line.hand_over.clone(),
            events: EventInWords::all(&self.layout, &self.line),
            hysteresis: self.line.hysteresis.clone(),
            uncertain_inputs: Vec::new(),
            points: self.points()?,
            findings: PlacedFinding::all(&self.layout, &self.findings),
            summary: LineSummary {
                figures: study::summary(&self.installation, &self.layout, &self.line),
                stages: stages.collect(),
            },
            variants: Vec::new(),
        })
    }
}

fn line_report(own: &Solved, beside: &[(Comparison, Solved)]) -> Result<LineReport, Failure> {
    let mut report = own.report(&own.installation.title, Vec::new())?;
    for (name, one) in beside {
        let variant = one.report(&name.name, name.settings())?;
        report.variants.push(Variant(variant));
    }
    Ok(report)
}

fn text(
    options: &LineOptions,
    own: &Solved,
    view: &LineReport,
    system: UnitSystem,
) -> Result<String, Failure> {
    let (installation, layout) = (&own.installation, &own.layout);
    let columns = columns(&options.columns, view)?;
    let mut text = report::line_text(view, &columns, terminal::width(), system);
    text.push_str(&report::line_bands_text(view, system));
    if options.common.verbose {
        let matches = own.line.matches();
        text.push_str(&report::pulley_text(installation, layout, matches, system));
    }
    text.push_str(&report::comparison_text(view, system));
    text.push_str(&report::findings_text(layout, &own.findings, system));
    text.push_str(caution::CAUTION);
    text.push('\n');
    Ok(text)
}

/// The columns asked for, by their names.
fn columns(asked: &[String], view: &LineReport) -> Result<ColumnChoice, Failure> {
    let known = report::column_names(view);
    let unknown = asked
        .iter()
        .find(|name| *name != "all" && !known.contains(&name.as_str()));
    match (asked, unknown) {
        ([], _) => Ok(ColumnChoice::Usual),
        // Without any match there is no table.
        (_, Some(name)) if !known.is_empty() => Err(Failure::usage(&format!(
            "--columns: {name} is not known; choose from all, {}",
            known.join(", ")
        ))),
        _ if asked.iter().any(|name| name == "all") => Ok(ColumnChoice::All),
        _ => Ok(ColumnChoice::Named(asked.to_vec())),
    }
}

/// Adds the bands of each match of the build's own line where inputs carry an uncertainty.
fn add_bands(view: &mut LineReport, loaded: &Loaded, own: &Solved) -> Result<(), Failure> {
    let read = |shifts: &[Shift]| loaded.moved(shifts);
    let Some(mut spread) = InputSpread::new(&read, &loaded.inputs, SAMPLES) else {
        return Ok(());
    };
    view.uncertain_inputs.clone_from(&spread.keys);
    let progress = Progress::of("bands of each speed", own.line.points.len());
    for (row, point) in view.points.iter_mut().zip(&own.line.points) {
        if let (Ok(shown), Ok(found)) = (row, &point.outcome)
            && let Some(place) = found.place
        {
            let now = MatchAnswers::at(&own.installation, &own.layout, found, place);
            let bands = spread.bands(point.rpm, &now);
            shown.bands = Some(BandsOfMatch::new(&own.layout, &spread.keys, &now, &bands));
            shown.checked()?;
        }
        progress.step();
    }
    Ok(())
}

/// Writes the drawings.
fn write(
    options: &LineOptions,
    system: UnitSystem,
    own: &Solved,
    rows: &[Row],
    beside: &[(Comparison, Solved)],
) -> Result<(), Failure> {
    let others: Vec<_> = beside
        .iter()
        .map(|(name, one)| one.scene(&name.name, &[], system))
        .collect();
    let drawn = drawings::of_line(&own.scene(report::THE_BUILD, rows, system), &others)?;
    let mut folder = Folder::new(options.common.out.as_deref());
    for (name, drawing) in drawn.files {
        folder.add(&name, &drawing);
    }
    for name in drawn.elsewhere {
        say(&format!(
            "--compare {name}: runs on another map and is not drawn on the build's; rank compares maps"
        ));
    }
    folder.write()
}
