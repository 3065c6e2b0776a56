//! What `check` understood of a file, for reading.

use super::fields::cell::with_unit;
use super::fields::check::FileUnderstood;
use super::fields::field::Get;
use super::fields::rows::columns;
use super::table::{Sheet, one_line};
use crate::quantity::{Kind, UnitSystem, label, reader_value, shown};

/// What was understood, for reading.
pub fn check_text(files: &[FileUnderstood], faults: usize, system: UnitSystem) -> String {
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

fn map_lines(file: &FileUnderstood, system: UnitSystem) -> String {
    let span = &file.span;
    let (Some(rows), Some(points), Some(lines)) = (file.rows, span.points, span.lines) else {
        return String::new();
    };
    let mut out = format!("  {rows} rows: {points} points on {}", counted(lines));
    if let Some((temperature, pressure)) = span.reference {
        out.push_str(&format!(
            "; corrected to {}, {}",
            with_unit(temperature, Kind::Temperature, system),
            with_unit(pressure, Kind::AbsolutePressure, system),
        ));
    }
    out.push('\n');
    out.push_str(&ranges(file, system));
    out.push_str(&wheel_line(file, system));
    if span.has_surge_line {
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

/// What the builder can compare with the real wheel.
fn wheel_line(file: &FileUnderstood, system: UnitSystem) -> String {
    let (Some((diameter, tip_speed)), Some([_, fastest])) = (file.wheel, file.span.speed) else {
        return String::new();
    };
    let within = if file.span.ratio.is_some() { 15 } else { 25 };
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

fn ranges(file: &FileUnderstood, system: UnitSystem) -> String {
    columns! {
        RANGES of FileUnderstood: speed_range_rpm, flow_range_kg_s, ratio_range,
            expansion_ratio_range, volumetric_efficiency_range, efficiency_range;
    }
    let mut sheet = Sheet::new(&["", "from", "to", "unit"].map(str::to_owned));
    for row in RANGES {
        let Get::Range(kind, get) = row.get else {
            continue;
        };
        let is_corrected = kind == Kind::RotationalSpeed && file.span.reference.is_some();
        let corrected = if is_corrected { "corrected " } else { "" };
        if let Some([low, high]) = get(file) {
            sheet.row(vec![
                format!("  {corrected}{}", row.label),
                shown(low, kind, system),
                shown(high, kind, system),
                label(kind, system).to_owned(),
            ]);
        }
    }
    sheet.text(1)
}
