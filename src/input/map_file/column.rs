//! The heading's cells into columns: what each holds and in which unit.

use crate::input::nearest::nearest;
use crate::quantity::{Dimension, Unit, nearest_unit, unit_named};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Content {
    /// Speed corrected to the reference state.
    CorrectedSpeed,
    /// Speed as measured.
    ActualSpeed,
    /// Flow corrected to the reference state.
    CorrectedFlow,
    /// Flow as measured.
    ActualFlow,
    /// Outlet over inlet pressure.
    PressureRatio,
    /// Inlet over outlet pressure.
    ExpansionRatio,
    /// Isentropic efficiency.
    Efficiency,
    /// Delivered over swept volume.
    VolumetricEfficiency,
    /// Volume delivered, counted at the inlet.
    DeliveredFlow,
    /// Shaft power.
    Power,
}

/// Spellings of each column after lower-casing and joining with underscores.
const NAMES: &[(&str, Content)] = &[
    ("corrected_speed", Content::CorrectedSpeed),
    ("speed_corrected", Content::CorrectedSpeed),
    ("corr_speed", Content::CorrectedSpeed),
    ("corrected_rpm", Content::CorrectedSpeed),
    ("n_corr", Content::CorrectedSpeed),
    ("actual_speed", Content::ActualSpeed),
    ("speed", Content::ActualSpeed),
    ("shaft_speed", Content::ActualSpeed),
    ("corrected_flow", Content::CorrectedFlow),
    ("flow_corrected", Content::CorrectedFlow),
    ("corr_flow", Content::CorrectedFlow),
    ("corrected_mass_flow", Content::CorrectedFlow),
    ("corrected_volume_flow", Content::CorrectedFlow),
    ("corrected_air_flow", Content::CorrectedFlow),
    ("m_corr", Content::CorrectedFlow),
    ("actual_flow", Content::ActualFlow),
    ("flow", Content::ActualFlow),
    ("mass_flow", Content::ActualFlow),
    ("air_flow", Content::ActualFlow),
    ("airflow", Content::ActualFlow),
    ("volume_flow", Content::ActualFlow),
    ("pressure_ratio", Content::PressureRatio),
    ("pr", Content::PressureRatio),
    ("pr_tt", Content::PressureRatio),
    ("pressure_ratio_tt", Content::PressureRatio),
    ("expansion_ratio", Content::ExpansionRatio),
    ("er", Content::ExpansionRatio),
    ("efficiency", Content::Efficiency),
    ("isentropic_efficiency", Content::Efficiency),
    ("adiabatic_efficiency", Content::Efficiency),
    ("eff", Content::Efficiency),
    ("eta", Content::Efficiency),
    ("eta_is", Content::Efficiency),
    ("volumetric_efficiency", Content::VolumetricEfficiency),
    ("ve", Content::VolumetricEfficiency),
    ("delivered_flow", Content::DeliveredFlow),
    ("delivered_volume_flow", Content::DeliveredFlow),
    ("power", Content::Power),
    ("shaft_power", Content::Power),
];

/// A column as understood.
#[derive(Debug, Clone, Copy)]
pub(super) struct Column {
    /// Its place in a row, from 0.
    pub(super) at: usize,
    /// What it holds.
    pub(super) content: Content,
    /// Its unit; `None` for a share or ratio whose heading names none.
    pub(super) unit: Option<&'static Unit>,
}

/// What a heading cell says: a column, nothing we need, or a fault in words.
pub(super) enum Heading {
    /// A column.
    Column(Column),
    /// A column of another matter, by its name.
    Unused(String),
    /// What is wrong with it, and what it was meant to be where that can be told.
    Fault(String, Option<Content>),
}

/// Reads one cell of the heading.
pub(super) fn read(at: usize, cell: &str) -> Heading {
    let (name, unit_text) = name_and_unit(cell);
    let plain = name.to_lowercase().replace([' ', '-', '.'], "_");
    let found = NAMES.iter().find(|(known, _)| *known == plain);
    let Some(&(_, content)) = found else {
        let near = nearest(&plain, NAMES.iter().map(|(known, _)| *known));
        let near = NAMES.iter().find(|(known, _)| Some(*known) == near);
        return match near {
            Some((known, content)) => {
                let text = format!("column \"{name}\" is unknown, did you mean {known}?");
                Heading::Fault(text, Some(*content))
            }
            None => Heading::Unused(name.to_owned()),
        };
    };
    match unit_of(name, content, unit_text) {
        Ok(unit) => Heading::Column(Column { at, content, unit }),
        Err(text) => Heading::Fault(text, Some(content)),
    }
}

fn unit_of(
    name: &str,
    content: Content,
    text: Option<&str>,
) -> Result<Option<&'static Unit>, String> {
    let (dimensions, usual) = wanted(content);
    let ratio = dimensions == [Dimension::Plain];
    let Some(text) = text.filter(|text| !text.is_empty()) else {
        if ratio {
            return Ok(None);
        }
        return Err(format!(
            "column \"{name}\" has no unit: write for example {name} [{}]",
            usual[0]
        ));
    };
    let usual = usual.join(", ");
    let Some((unit, _)) = unit_named(text) else {
        let near = nearest_unit(text, dimensions);
        let near = near.map_or_else(String::new, |near| format!(" (did you mean {near}?)"));
        return Err(format!(
            "column \"{name}\": unit [{text}] is not known{near}; known here: {usual}"
        ));
    };
    if content == Content::ActualFlow && unit.dimension == Dimension::VolumeFlow {
        return Err(format!(
            "column \"{name}\" is a volume flow, which is ambiguous: if it is corrected to the reference \
             state, call it corrected_flow; if it was measured at the inlet, convert it to a mass flow in \
             kg/s or lb/min"
        ));
    }
    if !dimensions.contains(&unit.dimension) {
        return Err(format!(
            "column \"{name}\": [{text}] measures {}; known here: {usual}",
            unit.dimension.name()
        ));
    }
    Ok(Some(unit))
}

/// The dimensions a column can have, and the units to name.
const fn wanted(content: Content) -> (&'static [Dimension], &'static [&'static str]) {
    match content {
        Content::CorrectedSpeed | Content::ActualSpeed => {
            (&[Dimension::RotationalSpeed], &["rpm", "krpm"])
        }
        Content::CorrectedFlow => (
            &[Dimension::MassFlow, Dimension::VolumeFlow],
            &["kg/s", "lb/min", "m3/s", "m3/h", "ft3/min"],
        ),
        Content::ActualFlow => (&[Dimension::MassFlow], &["kg/s", "lb/min"]),
        Content::DeliveredFlow => (&[Dimension::VolumeFlow], &["m3/h", "L/s", "ft3/min"]),
        Content::Power => (&[Dimension::Power], &["kW", "hp"]),
        Content::PressureRatio
        | Content::ExpansionRatio
        | Content::Efficiency
        | Content::VolumetricEfficiency => (&[Dimension::Plain], &["-", "%"]),
    }
}

/// The name in a heading's cell, and what stands in brackets behind it.
pub(super) fn name_and_unit(cell: &str) -> (&str, Option<&str>) {
    for (open, close) in [('[', ']'), ('(', ')')] {
        if let Some((name, rest)) = cell.split_once(open) {
            let end = rest.rfind(close).unwrap_or(rest.len());
            return (name.trim().trim_end_matches('_'), Some(rest[..end].trim()));
        }
    }
    (cell.trim(), None)
}

/// Where a content stands among the columns.
pub(super) fn position(columns: &[Column], content: Content) -> Option<usize> {
    columns.iter().position(|column| column.content == content)
}
