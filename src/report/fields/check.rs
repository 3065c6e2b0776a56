//! What `check` understood of a file.

use super::rows::{fields, filled};
use crate::air_path::Part;
use crate::input::map_file::{MapContent, MapFile};
use crate::input::{Input, Note, Place};
use crate::map::{CompressorMap, SuperchargerMap, TurbineMap, ratio_lines::Profile};
use crate::matching::Installation;

/// `check`: every fault, and what was understood.
#[derive(Debug, Clone)]
pub struct CheckReport {
    /// Every fault, as said on standard error.
    pub faults: Vec<String>,
    /// What was understood.
    pub files: Vec<FileUnderstood>,
}

/// What was understood of one file.
#[derive(Debug, Clone, Default)]
pub struct FileUnderstood {
    /// The file as named.
    pub file: String,
    /// `build`, `compressor map`, `supercharger map`, `turbine map`.
    pub kind: &'static str,
    /// Title of a build, origin of a map.
    pub title: Option<String>,
    /// Parts of a build in flow order.
    pub parts: Option<String>,
    /// Inputs of a build that carry an uncertainty.
    pub uncertain_inputs: Vec<UncertainInput>,
    /// Rows read of a map.
    pub rows: Option<usize>,
    /// What its points span.
    pub span: Span,
    /// Diameter and tip speed of the wheel that the map implies, m and m/s.
    pub wheel: Option<(f64, f64)>,
    /// What was done to the rows of a map or left aside, as said on standard error.
    pub oddities: Vec<String>,
    /// The file's lines that they are about.
    pub odd_lines: Vec<usize>,
}

/// What the points of a map span.
#[derive(Debug, Clone, Copy, Default)]
pub struct Span {
    /// Different points.
    pub points: Option<usize>,
    /// Speed lines.
    pub lines: Option<usize>,
    /// Reference temperature, K, and pressure, Pa.
    pub reference: Option<(f64, f64)>,
    /// Lowest and highest speed, rpm: corrected, but for a supercharger.
    pub speed: Option<[f64; 2]>,
    flow: Option<[f64; 2]>,
    /// Lowest and highest pressure ratio.
    pub ratio: Option<[f64; 2]>,
    expansion_ratio: Option<[f64; 2]>,
    volumetric_efficiency: Option<[f64; 2]>,
    efficiency: Option<[f64; 2]>,
    /// Whether there is a surge line apart from the points.
    pub has_surge_line: bool,
}

/// An input with its uncertainty.
#[derive(Debug, Clone)]
pub struct UncertainInput {
    /// Its key, as `--set` takes it.
    pub key: String,
    /// As written: a value +- its standard uncertainty; of a table the first and last.
    pub written: String,
}

fields! {
CheckReport {
    faults = texts "faults",
        "Every fault, as reported on standard error." |r| r.faults.clone();
    files = each "files",
        "What was understood of each file." |r| &r.files;
}

UncertainInput {
    key = text "key",
        "Its key, as used with --set." |i| i.key.clone();
    written = text "written",
        "As written: a value +- its standard uncertainty; of a table the first and last."
        |i| i.written.clone();
}

FileUnderstood {
    file = text "file",
        "The file as named." |f| f.file.clone();
    kind = text "kind",
        "build, compressor map, supercharger map or turbine map." |f| f.kind;
    title ? text "title",
        "Title of a build, origin of a map." |f| f.title.clone();
    parts ? text "parts in flow order",
        "Parts of a build." |f| f.parts.clone();
    uncertain_inputs ? each "uncertain inputs",
        "Inputs of a build that carry an uncertainty." |f| filled(&f.uncertain_inputs[..]);
    rows ? count "rows",
        "Rows read of a map." |f| f.rows;
    points ? count "points",
        "Different points among them." |f| f.span.points;
    speed_lines ? count "speed lines",
        "Speed lines." |f| f.span.lines;
    reference_temperature_k ? Temperature "reference temperature",
        "Temperature that the map's flows and speeds are corrected to."
        |f| Some(f.span.reference?.0);
    reference_pressure_pa ? AbsolutePressure "reference pressure",
        "Pressure that the map's flows are corrected to." |f| Some(f.span.reference?.1);
    speed_range_rpm ? range RotationalSpeed "speed",
        "Lowest and highest speed: corrected, but for a supercharger's." |f| f.span.speed;
    flow_range_kg_s ? range MassFlow "corrected flow",
        "Lowest and highest corrected flow." |f| f.span.flow;
    ratio_range ? range Number "pressure ratio",
        "Lowest and highest pressure ratio." |f| f.span.ratio;
    expansion_ratio_range ? range Number "expansion ratio",
        "Lowest and highest expansion ratio of a turbine." |f| f.span.expansion_ratio;
    volumetric_efficiency_range ? range Share "volumetric efficiency",
        "Lowest and highest volumetric efficiency of a supercharger."
        |f| f.span.volumetric_efficiency;
    efficiency_range ? range Share "efficiency",
        "Lowest and highest efficiency." |f| f.span.efficiency;
    wheel_diameter_m ? Length "implied wheel diameter",
        "Outlet diameter of a compressor's wheel, inlet diameter of a turbine's, as the map implies it: an estimate."
        |f| Some(f.wheel?.0);
    tip_speed_m_s ? SurfaceSpeed "tip speed",
        "Tip speed of that wheel on the fastest line: an estimate." |f| Some(f.wheel?.1);
    surge_line ? text "surge line",
        "own where a compressor map has a surge line separate from its points."
        |f| f.span.has_surge_line.then_some("own");
    oddities ? texts "oddities",
        "Rows of a map that were changed or skipped, as reported on standard error."
        |f| filled(f.oddities.clone());
}
}

impl FileUnderstood {
    /// A build without fault.
    pub fn of_build(file: &str, installation: &Installation, inputs: &[Input]) -> Self {
        let uncertain = inputs.iter().filter(|input| input.is_uncertain);
        let words: Vec<_> = installation.air_path.iter().map(part_word).collect();
        Self {
            file: file.to_owned(),
            kind: "build",
            title: Some(installation.title.clone()),
            parts: Some(words.join(", ")),
            uncertain_inputs: uncertain
                .map(|input| UncertainInput {
                    key: input.key.clone(),
                    written: input.written.clone(),
                })
                .collect(),
            ..Self::default()
        }
    }

    /// A map without fault.
    pub fn of_map(map: &MapFile) -> Self {
        let line = |note: &Note| match note.place {
            Place::Line(_, line) => Some(line),
            _ => None,
        };
        Self {
            file: map.file.to_string(),
            kind: map.content.name(),
            title: map.origin.clone(),
            rows: Some(map.rows),
            span: match &map.content {
                MapContent::Compressor(map) => Span::of_compressor(map),
                MapContent::Supercharger(map) => Span::of_supercharger(map),
                MapContent::Turbine(map) => Span::of_turbine(map),
            },
            wheel: map.wheel.map(|wheel| (wheel.diameter, wheel.tip_speed)),
            oddities: map.remarks.iter().map(ToString::to_string).collect(),
            odd_lines: map.remarks.iter().filter_map(line).collect(),
            ..Self::default()
        }
    }
}

impl Span {
    fn of_compressor(map: &CompressorMap) -> Self {
        let lines = map.lines().iter();
        let points: Vec<_> = lines.flat_map(|line| line.points().to_vec()).collect();
        let (low, high) = map.speeds();
        Self {
            points: Some(points.len()),
            lines: Some(map.lines().len()),
            reference: Some((map.reference().temperature, map.reference().pressure)),
            speed: Some([low.0, high.0]),
            flow: range(points.iter().map(|point| point.flow)),
            ratio: range(points.iter().map(|point| point.pressure_ratio)),
            efficiency: range(points.iter().map(|point| point.efficiency)),
            has_surge_line: map.has_surge_line(),
            ..Self::default()
        }
    }

    fn of_supercharger(map: &SuperchargerMap) -> Self {
        let lines = map.lines();
        let points = || lines.iter().flat_map(Profile::points);
        // The lines run over slip speed.
        let filling = lines.iter().flat_map(|line| {
            let points = line.points();
            points.map(|(_, slip, _)| 1.0 - slip / line.speed())
        });
        Self {
            points: Some(points().count()),
            lines: Some(lines.len()),
            speed: range(lines.iter().map(Profile::speed)),
            ratio: range(points().map(|(ratio, ..)| ratio)),
            volumetric_efficiency: range(filling),
            efficiency: range(points().map(|(.., efficiency)| efficiency)),
            ..Self::default()
        }
    }

    fn of_turbine(map: &TurbineMap) -> Self {
        let lines = map.lines();
        let points = || lines.iter().flat_map(Profile::points);
        Self {
            points: Some(points().count()),
            lines: Some(lines.len()),
            reference: Some((map.reference().temperature, map.reference().pressure)),
            // One line for all speeds has none of its own.
            speed: range(lines.iter().map(Profile::speed)).filter(|_| lines.len() > 1),
            flow: range(points().map(|(_, flow, _)| flow)),
            expansion_ratio: range(points().map(|(ratio, ..)| ratio)),
            efficiency: range(points().map(|(.., efficiency)| efficiency)),
            ..Self::default()
        }
    }
}

fn range(values: impl Iterator<Item = f64>) -> Option<[f64; 2]> {
    values.fold(None, |range: Option<[f64; 2]>, value| {
        let [low, high] = range.unwrap_or([value, value]);
        Some([low.min(value), high.max(value)])
    })
}

const fn part_word(part: &Part) -> &'static str {
    match part {
        Part::Filter(_) => "filter",
        Part::Duct(_) => "duct",
        Part::Supercharger(_) => "supercharger",
        Part::TurboCompressor(_) => "turbo compressor",
        Part::Cooler(_) => "cooler",
        Part::Throttle(_) => "throttle",
    }
}
