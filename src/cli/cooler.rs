//! `cooler`: the charge cooler at the hardest point of the line, what size would do, a timed run.

use super::done::Done;
use super::failure::Failure;
use super::load::{self, Loaded};
use super::options::{Common, CoolerOptions, Format};
use super::progress::Progress;
use super::view;
use super::write::Folder;
use crate::air_path::SinkFluid;
use crate::finding::{Code, Finding, Severity, SpeedTable, Subject};
use crate::matching::{Installation, Layout, LayoutError, Solver};
use crate::quantity::{Kind, UnitSystem, Words, amount, parse, words};
use crate::report::words::no_run;
use crate::report::{
    CoolerReport, PlacedFinding, TimedRun, caution, cooler_text, csv, drawings, findings_text, json,
};
use crate::study::cooler::{Assessment, assess, cooler_at, last};
use crate::study::soak::{self, SoakError, Speed};
use crate::study::{self, OperatingLine};

/// Assesses one cooler and shows it.
pub(super) fn run(options: &CoolerOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let loaded = load::build(options.build.as_deref(), common, None)?;
    let asked = SoakRequest::new(options, loaded.system)?;
    let installation = &loaded.installation;
    let fault = |fault: LayoutError| loaded.fault(&fault);
    let layout = Solver::new(installation).map_err(fault)?.layout().clone();
    let cooler = chosen(options, &layout, &loaded)?;
    let target = asked.target.or(installation.limits.max_charge_temperature);
    let progress = Progress::of("solving the line and the cooler", 1);
    let line = study::run(installation).map_err(fault)?;
    let assessment = assess(installation, &layout, &line, cooler, target)
        .map_err(fault)?
        .ok_or_else(|| {
            Failure::new(format!("{}: no speed of the line has a match", loaded.name))
        })?;
    let run = timed(&asked, &loaded, &layout, &assessment, &line, target)?;
    drop(progress);
    let held = held_against(installation, target);
    let all = study::findings(&held, &layout, &line);
    let mut findings = own(&all, cooler);
    let matches: Vec<_> = line.matches().collect();
    for finding in findings.iter_mut().filter(|one| is_about_charge(one)) {
        // Of several coolers the line's advice speaks of the last.
        finding.step = study::advice::of_cooler(&held, &layout, &matches, (cooler, finding), &all);
    }
    let (target_from, sink) = source(&asked, &loaded, &assessment);
    let report = CoolerReport {
        title: installation.title.clone(),
        coolers: layout
            .coolers
            .iter()
            .map(|(name, _)| name.clone())
            .collect(),
        sink,
        target_from,
        assessment,
        run,
        findings: PlacedFinding::all(&layout, &findings),
    };
    let text = written(&report, &layout, &findings, common, loaded.system)?;
    if common.format == Format::Text || common.out.is_some() {
        // Against another target the build's own limit would say something else than the title.
        let charge = all
            .iter()
            .filter(|finding| finding.code == Code::ChargeTemperature && options.target.is_none());
        let drawn: Vec<Finding> = findings.iter().chain(charge).copied().collect();
        let mut folder = Folder::new(common.out.as_deref());
        for (name, drawing) in
            drawings::of_cooler(&report, &layout, (&drawn, &line.jumps()), loaded.system)?
        {
            folder.add(&name, &drawing);
        }
        folder
            .write()
            .map_err(|failure| failure.with_result(text.clone()))?;
    }
    Ok(Done {
        text,
        strict_failure: common.strict && objects(&report, &findings),
    })
}

/// Where the target came from, and what cools.
fn source(
    asked: &SoakRequest,
    loaded: &Loaded,
    assessment: &Assessment,
) -> (&'static str, &'static str) {
    let cooler = cooler_at(&loaded.installation, assessment.part);
    let target_from = if asked.target.is_some() {
        "--target"
    } else {
        "max_charge_temperature"
    };
    let sink = match cooler.map(|cooler| cooler.sink.fluid) {
        Some(SinkFluid::Water) => "water",
        _ => "air",
    };
    (target_from, sink)
}

/// The report in the form that was asked for.
fn written(
    report: &CoolerReport,
    layout: &Layout,
    findings: &[Finding],
    common: &Common,
    system: UnitSystem,
) -> Result<String, Failure> {
    Ok(match common.format {
        Format::Text => format!(
            "{}{}{}\n",
            cooler_text(report, system),
            findings_text(layout, findings, system),
            caution::CAUTION
        ),
        Format::Json => json::write(report)?,
        Format::Csv => match &report.run {
            Some(timed) => csv::write(&timed.run.rows)?,
            None => csv::write(&report.assessment.points)?,
        },
    })
}

/// What the options ask for, in SI.
struct SoakRequest {
    target: Option<f64>,
    start: Option<f64>,
    seconds: Option<f64>,
    hold: Option<f64>,
    swept: bool,
}

/// Longest run, s.
const LONGEST: f64 = 86_400.0;

impl SoakRequest {
    fn new(options: &CoolerOptions, system: UnitSystem) -> Result<Self, Failure> {
        let temperature = |option: &str, text: &Option<String>| {
            text.as_deref()
                .map(|text| temperature(option, text, system))
                .transpose()
        };
        let asked = Self {
            target: temperature("--target", &options.target)?,
            start: temperature("--start-temperature", &options.start_temperature)?,
            seconds: options.seconds,
            hold: options.hold,
            swept: options.swept,
        };
        if let Some(seconds) = asked.seconds
            && !(seconds > 0.0 && seconds <= LONGEST)
        {
            return Err(Failure::usage(
                "--seconds: expected a time above 0 and up to a day (86400), as in --seconds 120",
            ));
        }
        if let Some(rpm) = asked.hold
            && !(rpm.is_finite() && rpm > 0.0)
        {
            return Err(Failure::usage(
                "--hold: expected an engine speed above 0, as in --hold 2400",
            ));
        }
        Ok(asked)
    }
}

/// Coldest and hottest temperature that an option takes, K: those of the gas's and the sink's data.
const TEMPERATURES: (f64, f64) = (200.0, 700.0);

fn temperature(option: &str, text: &str, system: UnitSystem) -> Result<f64, Failure> {
    let wrong = |why: Words| Failure::usage(&format!("{option}: {}", why.in_units(system)));
    let value = parse(text, Kind::Temperature)
        .map_err(|fault| wrong(fault.words()))?
        .value;
    if !(TEMPERATURES.0..=TEMPERATURES.1).contains(&value) {
        let end = |si| amount(si, Kind::Temperature, "degC", 0);
        return Err(wrong(words![
            format!("{text:?} is outside "),
            end(TEMPERATURES.0),
            " to ",
            end(TEMPERATURES.1),
        ]));
    }
    Ok(value)
}

/// A cooler to start from.
const A_COOLER: [&str; 6] = [
    "",
    "[[air_path]]",
    "part = \"cooler\"",
    "effectiveness = 0.70",
    "pressure_drop = \"5 kPa\"",
    "at_flow = \"0.25 kg/s\"",
];

/// Which cooler is meant, counted from 0.
fn chosen(options: &CoolerOptions, layout: &Layout, loaded: &Loaded) -> Result<usize, Failure> {
    let Some(last) = last(layout) else {
        let fault = "air_path: this build has no cooler; add one where the air reaches it:";
        let mut lines = vec![format!("{}: {fault}", loaded.name)];
        lines.extend(A_COOLER.map(str::to_owned));
        return Err(Failure::lines_of(lines));
    };
    match options.cooler {
        None => Ok(last),
        Some(number) if (1..=last + 1).contains(&number) => Ok(number - 1),
        Some(number) => Err(Failure::usage(&format!(
            "--cooler {number}: this build has {}, counted from 1 in flow order",
            if last == 0 {
                "one cooler".to_owned()
            } else {
                format!("{} coolers", last + 1)
            }
        ))),
    }
}

/// The timed run, where one is asked for.
fn timed(
    asked: &SoakRequest,
    loaded: &Loaded,
    layout: &Layout,
    assessment: &Assessment,
    line: &OperatingLine,
    target: Option<f64>,
) -> Result<Option<TimedRun>, Failure> {
    let Some(seconds) = asked.seconds else {
        return Ok(None);
    };
    let ends = (line.points.first(), line.points.last());
    let speed = match (asked.swept, asked.hold, ends) {
        (true, _, (Some(first), Some(last))) => Speed::Swept {
            from: first.rpm,
            to: last.rpm,
        },
        (_, Some(rpm), _) => Speed::Held(rpm),
        _ => Speed::Held(assessment.hardest.rpm),
    };
    let asked = soak::SoakRequest {
        cooler: assessment.cooler,
        seconds,
        speed,
        start: asked.start,
        target,
    };
    match soak::run(&loaded.installation, layout, &asked) {
        Ok(run) => Ok(Some(TimedRun { run, asked })),
        Err(fault) => {
            let place = match fault {
                SoakError::NothingStores => {
                    format!("air_path: {}: ", layout.coolers[assessment.cooler].0)
                }
                _ => String::new(),
            };
            let why = no_run(&fault).in_units(loaded.system);
            Err(Failure::new(format!("{}: {place}{why}", loaded.name)))
        }
    }
}

/// The installation with the target as its limit, so that verdict and findings speak of the same.
fn held_against(installation: &Installation, target: Option<f64>) -> Installation {
    let mut held = installation.clone();
    held.limits.max_charge_temperature = target;
    held
}

/// The findings about one cooler, and that about the charge which the verdict speaks of.
fn own(findings: &[Finding], cooler: usize) -> Vec<Finding> {
    let about = |finding: &&Finding| match finding.subject {
        _ if finding.code == Code::ChargeTemperature => true,
        Subject::Cooler(index)
        | Subject::Table(
            SpeedTable::Effectiveness(index)
            | SpeedTable::SinkFlow(index)
            | SpeedTable::VehicleSpeed(index),
        ) => index == cooler,
        _ => false,
    };
    findings.iter().filter(about).copied().collect()
}

fn is_about_charge(finding: &Finding) -> bool {
    finding.code == Code::ChargeTemperature && finding.severity > Severity::Ok
}

/// Whether `--strict` has something to object to.
fn objects(report: &CoolerReport, findings: &[Finding]) -> bool {
    let assessment = &report.assessment;
    let short = assessment
        .verdict
        .as_ref()
        .is_some_and(|verdict| !verdict.is_enough());
    let run = report
        .run
        .as_ref()
        .is_some_and(|timed| timed.run.passed_at.is_some() || timed.run.stopped.is_some());
    let unsolved = assessment.points.iter().any(Result::is_err);
    short || run || unsolved || view::is_strict_failure(findings)
}
