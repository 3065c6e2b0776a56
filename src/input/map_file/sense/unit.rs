//! The unit under which a column's figures would make sense.

use super::table::Table;
use crate::input::map_file::column::Content;
use crate::map::head;
use crate::quantity::{Dimension, Unit, unit_named};

const SPEEDS: &[&str] = &["krpm", "rpm", "rev/s"];
/// The commonest first.
const FLOWS: &[&str] = &[
    "lb/min", "kg/s", "ft3/min", "m3/s", "m3/h", "kg/h", "g/s", "m3/min", "kg/min", "L/s", "lb/s",
    "lb/h", "L/min",
];
const VOLUME_FLOWS: &[&str] = &["m3/h", "L/s", "ft3/min", "m3/min", "m3/s", "L/min"];
const POWERS: &[&str] = &["kW", "hp", "W"];

/// Logarithm of the factor within which two units are equally likely.
const EQUALLY_NEAR: f64 = 0.5;

/// A unit, or two to choose from, in the brackets of a heading.
pub(super) fn in_brackets(units: &str) -> String {
    format!("[{}]", units.replace(" or ", "] or ["))
}

/// Another unit for a column, and what its SI values would be multiplied by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Other {
    pub(super) name: &'static str,
    pub(super) factor: f64,
}

impl Table<'_> {
    /// The other units that a column could be in.
    pub(super) fn other_units(&self, at: usize) -> Vec<Other> {
        let column = &self.columns[at];
        let Some(own) = column.unit else {
            return Vec::new();
        };
        let names = match column.content {
            Content::CorrectedSpeed | Content::ActualSpeed => SPEEDS,
            Content::CorrectedFlow | Content::ActualFlow => FLOWS,
            Content::DeliveredFlow => VOLUME_FLOWS,
            Content::Power => POWERS,
            _ => return Vec::new(),
        };
        let measured = column.content == Content::ActualFlow;
        let size = |unit: &Unit| unit.to_si(1.0) * self.density(column.content, unit);
        let other = |name: &&'static str| {
            let (unit, _) = unit_named(name)?;
            let volume = unit.dimension == Dimension::VolumeFlow;
            let different = unit.name() != own.name() && !(measured && volume);
            different.then_some(Other {
                name,
                factor: size(unit) / size(own),
            })
        };
        names.iter().filter_map(other).collect()
    }

    /// kg/m³ of the reference state for a corrected volume flow, else 1.
    fn density(&self, content: Content, unit: &Unit) -> f64 {
        let volume = content == Content::CorrectedFlow && unit.dimension == Dimension::VolumeFlow;
        match self.reference {
            Some(state) if volume => state.pressure / (head::GAS_CONSTANT * state.temperature),
            _ => 1.0,
        }
    }

    /// The density by which a column's own figures were multiplied, kg/m³; 1 for a mass flow.
    pub(super) fn density_of(&self, at: usize) -> f64 {
        let column = &self.columns[at];
        column
            .unit
            .map_or(1.0, |unit| self.density(column.content, unit))
    }

    /// Units that make sense, in words: "lb/min", "m3/h or kg/h". `miss` says for a factor on the SI
    /// values how far from the typical they would be, and nothing where they would make no sense.
    pub(super) fn fitting_units(
        &self,
        at: usize,
        miss: impl Fn(f64) -> Option<f64>,
    ) -> Option<String> {
        let others = self.other_units(at).into_iter();
        let mut fitting: Vec<(f64, &str)> = others
            .filter_map(|other| Some((miss(other.factor)?, other.name)))
            .collect();
        // Of two that are equally near, the commoner stays first.
        fitting.sort_by(|a, b| a.0.total_cmp(&b.0));
        let best = fitting.first()?.0;
        let near = fitting
            .iter()
            .filter(|(miss, _)| *miss < best + EQUALLY_NEAR);
        let names: Vec<&str> = near.take(2).map(|(_, name)| *name).collect();
        Some(names.join(" or "))
    }

    /// The unit of a column as the heading has it.
    pub(super) fn unit_name(&self, at: usize) -> &'static str {
        self.columns[at].unit.map_or("-", Unit::name)
    }
}
