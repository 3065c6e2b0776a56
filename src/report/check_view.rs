//! What `check` understood of a file.

use serde::Serialize;

use super::table::Sheet;
use crate::air_path::Part;
use crate::build::map_file::{MapContent, MapFile};
use crate::matching::Installation;
use crate::quantity::{Kind, UnitSystem, label, shown};

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
    /// Lowest and highest corrected speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_range_rpm: Option<[f64; 2]>,
    /// Lowest and highest corrected flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow_range_kg_s: Option<[f64; 2]>,
    /// Lowest and highest pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratio_range: Option<[f64; 2]>,
    /// Lowest and highest efficiency.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency_range: Option<[f64; 2]>,
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
            rows: None,
            points: None,
            speed_lines: None,
            reference_temperature_k: None,
            reference_pressure_pa: None,
            speed_range_rpm: None,
            flow_range_kg_s: None,
            ratio_range: None,
            efficiency_range: None,
        }
    }

    /// A build without fault.
    pub fn of_build(file: &str, installation: &Installation) -> Self {
        let words: Vec<_> = installation.air_path.iter().map(part_word).collect();
        Self {
            title: Some(installation.title.clone()),
            parts: Some(words.join(", ")),
            ..Self::named(file, "build")
        }
    }

    /// A map without fault.
    pub fn of_map(map: &MapFile) -> Self {
        let named = Self {
            title: map.origin.clone(),
            rows: Some(map.rows),
            ..Self::named(&map.file, map.content.name())
        };
        match &map.content {
            MapContent::Compressor(compressor) => {
                let points: Vec<_> = compressor
                    .lines()
                    .iter()
                    .flat_map(|line| line.points().to_vec())
                    .collect();
                let reference = compressor.reference();
                let (low, high) = compressor.speeds();
                Self {
                    points: Some(points.len()),
                    speed_lines: Some(compressor.lines().len()),
                    reference_temperature_k: Some(reference.temperature),
                    reference_pressure_pa: Some(reference.pressure),
                    speed_range_rpm: Some([low.0, high.0]),
                    flow_range_kg_s: range(points.iter().map(|point| point.flow)),
                    ratio_range: range(points.iter().map(|point| point.pressure_ratio)),
                    efficiency_range: range(points.iter().map(|point| point.efficiency)),
                    ..named
                }
            }
            MapContent::Supercharger(map) => Self {
                speed_lines: Some(map.lines().len()),
                ..named
            },
            MapContent::Turbine(map) => Self {
                speed_lines: Some(map.lines().len()),
                reference_temperature_k: Some(map.reference().temperature),
                reference_pressure_pa: Some(map.reference().pressure),
                ..named
            },
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
        out.push_str(&format!("{}: {}", file.file, file.kind));
        if let Some(title) = &file.title {
            out.push_str(&format!(" ({title})"));
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
    let mut sheet = Sheet::new(&[
        String::new(),
        "from".to_owned(),
        "to".to_owned(),
        "unit".to_owned(),
    ]);
    let ranges = [
        (
            "corrected speed",
            file.speed_range_rpm,
            Kind::RotationalSpeed,
        ),
        ("corrected flow", file.flow_range_kg_s, Kind::MassFlow),
        ("pressure ratio", file.ratio_range, Kind::Number),
        ("efficiency", file.efficiency_range, Kind::Share),
    ];
    for (name, range, kind) in ranges {
        if let Some([low, high]) = range {
            sheet.row(vec![
                format!("  {name}"),
                shown(low, kind, system),
                shown(high, kind, system),
                label(kind, system).to_owned(),
            ]);
        }
    }
    let (Some(temperature), Some(pressure)) =
        (file.reference_temperature_k, file.reference_pressure_pa)
    else {
        return file
            .rows
            .map_or_else(String::new, |rows| format!("  {rows} rows\n"));
    };
    format!(
        "  {} points on {} speed lines; reference state {} {}, {} {}\n{}",
        file.points.unwrap_or(0),
        file.speed_lines.unwrap_or(0),
        shown(temperature, Kind::Temperature, system),
        label(Kind::Temperature, system),
        shown(pressure, Kind::AbsolutePressure, system),
        label(Kind::AbsolutePressure, system),
        sheet.text(1)
    )
}
