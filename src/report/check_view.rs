//! What `check` understood of a file.

use serde::Serialize;

use super::table::{Sheet, one_line};
use crate::air_path::Part;
use crate::input::Input;
use crate::input::map_file::{MapContent, MapFile};
use crate::input::{Note, Place};
use crate::map::{CompressorMap, SuperchargerMap, TurbineMap, ratio_lines::Profile};
use crate::matching::Installation;
use crate::quantity::{Kind, UnitSystem, label, reader_value, shown};

/// What was understood of one file.
#[derive(Debug, Clone, Serialize)]
pub struct CheckView {
    /// The file as named.
    pub file: String,
    /// `build`, `compressor map`, `supercharger map`, `turbine map`.
    pub kind: String,
    /// Title of a build, origin of a map.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// Parts of a build in flow order.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub parts: Option<String>,
    /// Inputs of a build that carry an uncertainty.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uncertain_inputs: Vec<UncertainInput>,
    /// Rows read.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rows: Option<usize>,
    /// Different points among them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub points: Option<usize>,
    /// Speed lines.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_lines: Option<usize>,
    /// Reference temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference_temperature_k: Option<f64>,
    /// Reference pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference_pressure_pa: Option<f64>,
    /// Lowest and highest speed: corrected, but for a supercharger's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_range_rpm: Option<[f64; 2]>,
    /// Lowest and highest corrected flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow_range_kg_s: Option<[f64; 2]>,
    /// Lowest and highest pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratio_range: Option<[f64; 2]>,
    /// Lowest and highest expansion ratio of a turbine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expansion_ratio_range: Option<[f64; 2]>,
    /// Lowest and highest volumetric efficiency of a supercharger.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volumetric_efficiency_range: Option<[f64; 2]>,
    /// Lowest and highest efficiency.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency_range: Option<[f64; 2]>,
    /// Outlet diameter of a compressor's wheel, inlet diameter of a turbine's, as the map implies it:
    /// an estimate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wheel_diameter_m: Option<f64>,
    /// Its tip speed on the fastest line: an estimate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tip_speed_m_s: Option<f64>,
    /// `own` where a compressor map has a surge line apart from its points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_line: Option<&'static str>,
    /// What was done to the rows of a map or left aside, as said on standard error.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub oddities: Vec<String>,
    /// The file's lines that they are about.
    #[serde(skip)]
    odd_lines: Vec<usize>,
}

/// An input with its uncertainty.
#[derive(Debug, Clone, Serialize)]
pub struct UncertainInput {
    /// Its key, in the words of `--set`.
    pub key: String,
    /// As written: a value +- its standard uncertainty; of a table the first and last.
    pub written: String,
}

/// `check` as JSON.
#[derive(Debug, Clone, Serialize)]
pub struct CheckReport {
    /// Every fault, as said on standard error.
    pub faults: Vec<String>,
    /// What was understood.
    pub files: Vec<CheckView>,
}

impl CheckView {
    fn named(file: &str, kind: &str) -> Self {
        Self {
            file: file.to_owned(),
            kind: kind.to_owned(),
            title: None,
            parts: None,
            uncertain_inputs: Vec::new(),
            rows: None,
            points: None,
            speed_lines: None,
            reference_temperature_k: None,
            reference_pressure_pa: None,
            speed_range_rpm: None,
            flow_range_kg_s: None,
            ratio_range: None,
            expansion_ratio_range: None,
            volumetric_efficiency_range: None,
            efficiency_range: None,
            wheel_diameter_m: None,
            tip_speed_m_s: None,
            surge_line: None,
            oddities: Vec::new(),
            odd_lines: Vec::new(),
        }
    }

    /// A build without fault.
    pub fn of_build(file: &str, installation: &Installation, inputs: &[Input]) -> Self {
        let uncertain = inputs.iter().filter(|input| input.is_uncertain);
        let words: Vec<_> = installation.air_path.iter().map(part_word).collect();
        Self {
            title: Some(installation.title.clone()),
            parts: Some(words.join(", ")),
            uncertain_inputs: uncertain
                .map(|input| UncertainInput {
                    key: input.key.clone(),
                    written: input.written.clone(),
                })
                .collect(),
            ..Self::named(file, "build")
        }
    }

    /// A map without fault.
    pub fn of_map(map: &MapFile) -> Self {
        let line = |note: &Note| match note.place {
            Place::Line(_, line) => Some(line),
            _ => None,
        };
        let named = Self {
            title: map.origin.clone(),
            rows: Some(map.rows),
            wheel_diameter_m: map.wheel.map(|wheel| wheel.diameter),
            tip_speed_m_s: map.wheel.map(|wheel| wheel.tip_speed),
            oddities: map.remarks.iter().map(ToString::to_string).collect(),
            odd_lines: map.remarks.iter().filter_map(line).collect(),
            ..Self::named(&map.file, map.content.name())
        };
        match &map.content {
            MapContent::Compressor(map) => named.with_compressor(map),
            MapContent::Supercharger(map) => named.with_supercharger(map),
            MapContent::Turbine(map) => named.with_turbine(map),
        }
    }

    fn with_compressor(self, map: &CompressorMap) -> Self {
        let lines = map.lines().iter();
        let points: Vec<_> = lines.flat_map(|line| line.points().to_vec()).collect();
        let (low, high) = map.speeds();
        Self {
            points: Some(points.len()),
            speed_lines: Some(map.lines().len()),
            reference_temperature_k: Some(map.reference().temperature),
            reference_pressure_pa: Some(map.reference().pressure),
            speed_range_rpm: Some([low.0, high.0]),
            flow_range_kg_s: range(points.iter().map(|point| point.flow)),
            ratio_range: range(points.iter().map(|point| point.pressure_ratio)),
            efficiency_range: range(points.iter().map(|point| point.efficiency)),
            surge_line: map.has_surge_line().then_some("own"),
            ..self
        }
    }

    fn with_supercharger(self, map: &SuperchargerMap) -> Self {
        let lines = map.lines();
        let points = || lines.iter().flat_map(Profile::points);
        // The lines run over slip speed.
        let filling = lines.iter().flat_map(|line| {
            let points = line.points();
            points.map(|(_, slip, _)| 1.0 - slip / line.speed())
        });
        Self {
            points: Some(points().count()),
            speed_lines: Some(lines.len()),
            speed_range_rpm: range(lines.iter().map(Profile::speed)),
            ratio_range: range(points().map(|(ratio, ..)| ratio)),
            volumetric_efficiency_range: range(filling),
            efficiency_range: range(points().map(|(.., efficiency)| efficiency)),
            ..self
        }
    }

    fn with_turbine(self, map: &TurbineMap) -> Self {
        let lines = map.lines();
        let points = || lines.iter().flat_map(Profile::points);
        Self {
            points: Some(points().count()),
            speed_lines: Some(lines.len()),
            reference_temperature_k: Some(map.reference().temperature),
            reference_pressure_pa: Some(map.reference().pressure),
            // One line for all speeds has none of its own.
            speed_range_rpm: range(lines.iter().map(Profile::speed)).filter(|_| lines.len() > 1),
            flow_range_kg_s: range(points().map(|(_, flow, _)| flow)),
            expansion_ratio_range: range(points().map(|(ratio, ..)| ratio)),
            efficiency_range: range(points().map(|(.., efficiency)| efficiency)),
            ..self
        }
    }
}

fn range(values: impl Iterator<Item = f64>) -> Option<[f64; 2]> {
    values.fold(None, |range: Option<[f64; 2]>, value| {
        let [low, high] = range.unwrap_or([value, value]);
        Some([low.min(value), high.max(value)])
    })
}

fn part_word(part: &Part) -> &'static str {
    match part {
        Part::Filter(_) => "filter",
        Part::Duct(_) => "duct",
        Part::Supercharger(_) => "supercharger",
        Part::TurboCompressor(_) => "turbo compressor",
        Part::Cooler(_) => "cooler",
        Part::Throttle(_) => "throttle",
    }
}

/// What was understood, for reading.
pub fn check_text(files: &[CheckView], faults: usize, system: UnitSystem) -> String {
    let mut out = String::new();
    for file in files {
        out.push_str(&format!("{}: {}", one_line(&file.file), file.kind));
        if let Some(title) = &file.title {
            out.push_str(&format!(" ({})", one_line(title)));
        }
        out.push('\n');
        if let Some(parts) = &file.parts {
            let parts = if parts.is_empty() {
                "none, the engine breathes alone"
            } else {
                parts
            };
            out.push_str(&format!("  parts in flow order: {parts}\n"));
        }
        if !file.uncertain_inputs.is_empty() {
            out.push_str("  uncertain inputs, each +- one standard uncertainty:\n");
        }
        for input in &file.uncertain_inputs {
            out.push_str(&format!("    {} = {}\n", input.key, input.written));
        }
        out.push_str(&map_lines(file, system));
    }
    match faults {
        0 => out.push_str("No fault found.\n"),
        1 => out.push_str("1 fault found.\n"),
        more => out.push_str(&format!("{more} faults found.\n")),
    }
    out
}

fn map_lines(file: &CheckView, system: UnitSystem) -> String {
    let (Some(rows), Some(points), Some(lines)) = (file.rows, file.points, file.speed_lines) else {
        return String::new();
    };
    let mut out = format!("  {rows} rows: {points} points on {}", counted(lines));
    if let (Some(temperature), Some(pressure)) =
        (file.reference_temperature_k, file.reference_pressure_pa)
    {
        out.push_str(&format!(
            "; corrected to {} {}, {} {}",
            shown(temperature, Kind::Temperature, system),
            label(Kind::Temperature, system),
            shown(pressure, Kind::AbsolutePressure, system),
            label(Kind::AbsolutePressure, system),
        ));
    }
    out.push('\n');
    out.push_str(&ranges(file, system));
    out.push_str(&wheel_line(file, system));
    if file.surge_line.is_some() {
        out.push_str("  with a surge line of its own\n");
    }
    if !file.odd_lines.is_empty() {
        let lines: Vec<String> = file.odd_lines.iter().map(ToString::to_string).collect();
        out.push_str(&format!(
            "  oddities: {}, see the messages (line {})\n",
            lines.len(),
            lines.join(", ")
        ));
    }
    out
}

/// What the builder can hold against the real wheel.
fn wheel_line(file: &CheckView, system: UnitSystem) -> String {
    let (Some(diameter), Some(tip_speed), Some([_, fastest])) = (
        file.wheel_diameter_m,
        file.tip_speed_m_s,
        file.speed_range_rpm,
    ) else {
        return String::new();
    };
    let within = if file.ratio_range.is_some() { 15 } else { 25 };
    format!(
        "  implied wheel diameter: about {} {}, tip speed about {:.0} {} at {} rpm (estimate within \
         {within} %; compare with the real wheel)\n",
        shown_diameter(diameter, system),
        label(Kind::Length, system),
        reader_value(tip_speed, Kind::SurfaceSpeed, system),
        label(Kind::SurfaceSpeed, system),
        shown(fastest, Kind::RotationalSpeed, system),
    )
}

/// A diameter that is an estimate: no more digits than mean something.
fn shown_diameter(diameter: f64, system: UnitSystem) -> String {
    let value = reader_value(diameter, Kind::Length, system);
    match system {
        UnitSystem::Si => format!("{value:.0}"),
        UnitSystem::Us => format!("{value:.1}"),
    }
}

fn counted(lines: usize) -> String {
    match lines {
        1 => "one line".to_owned(),
        more => format!("{more} speed lines"),
    }
}

fn ranges(file: &CheckView, system: UnitSystem) -> String {
    let corrected = file.reference_temperature_k.is_some();
    let speed = if corrected {
        "corrected speed"
    } else {
        "speed"
    };
    let (number, share) = (Kind::Number, Kind::Share);
    let mut sheet = Sheet::new(&["", "from", "to", "unit"].map(str::to_owned));
    for (name, range, kind) in [
        (speed, file.speed_range_rpm, Kind::RotationalSpeed),
        ("corrected flow", file.flow_range_kg_s, Kind::MassFlow),
        ("pressure ratio", file.ratio_range, number),
        ("expansion ratio", file.expansion_ratio_range, number),
        (
            "volumetric efficiency",
            file.volumetric_efficiency_range,
            share,
        ),
        ("efficiency", file.efficiency_range, share),
    ] {
        if let Some([low, high]) = range {
            sheet.row(vec![
                format!("  {name}"),
                shown(low, kind, system),
                shown(high, kind, system),
                label(kind, system).to_owned(),
            ]);
        }
    }
    sheet.text(1)
}
