//! The belt of a supercharger: its pulleys, and the drive ratio that follows from them.

use std::f64::consts::PI;

use super::keys::row::COMMON_PRACTICE;
use super::keys::supercharger::{self as key, BELTS};
use super::reader::Reader;
use crate::air_path::{BeltKind, BeltPath, wrap_angle};
use crate::quantity::{Kind, amount, words};

/// Half a turn, where nothing says how far the belt goes around.
const USUAL_WRAP: f64 = PI;

/// What was written of the belt, read and checked whether or not it is used.
pub(super) struct Written {
    kind: Option<BeltKind>,
    pulley: Option<f64>,
    crank_pulley: Option<f64>,
    gear: Option<f64>,
    distance: Option<f64>,
    wrap: Option<f64>,
    mass: Option<f64>,
}

/// Reads the belt's keys.
pub(super) fn written(reader: &Reader<'_>) -> Written {
    Written {
        kind: reader.word(&key::BELT, &BELTS),
        pulley: reader.value(&key::PULLEY_DIAMETER),
        crank_pulley: reader.value(&key::CRANK_PULLEY_DIAMETER),
        gear: reader.value(&key::GEAR_RATIO),
        distance: reader.value(&key::CENTER_DISTANCE),
        wrap: reader.value(&key::WRAP_ANGLE),
        mass: reader.value(&key::BELT_MASS_PER_LENGTH),
    }
}

/// Whether both pulleys were written, so that the drive ratio follows.
pub(super) fn has_both_pulleys(reader: &Reader<'_>) -> bool {
    reader.has("pulley_diameter") && reader.has("crank_pulley_diameter")
}

impl Written {
    /// The drive ratio: as written, or of the pulleys.
    pub fn ratio(&self, reader: &Reader<'_>, written: Option<f64>) -> Option<f64> {
        if reader.has("drive_ratio") {
            return written;
        }
        let gear = self.gear.unwrap_or(1.0);
        Some(self.crank_pulley? / self.pulley? * gear)
    }

    /// The belt with its pulleys, where the supercharger's own is given.
    pub fn path(&self, reader: &Reader<'_>, drive_ratio: f64) -> Option<BeltPath> {
        if !reader.has("pulley_diameter") {
            return None;
        }
        let driven = self.pulley?;
        let gear = self.gear.unwrap_or(1.0);
        let crank = self.crank_pulley.unwrap_or(drive_ratio / gear * driven);
        if !reader.has("belt") {
            reader.default_from("belt", format!("\"{}\"", BELTS[1].0), COMMON_PRACTICE);
        }
        let (wrap, smallest) = self.wraps(reader, driven, crank)?;
        if !reader.has("belt_mass_per_length") {
            let said = "0 (no centrifugal tension)";
            reader.default("belt_mass_per_length", said);
        }
        Some(BeltPath {
            kind: self.kind.unwrap_or(BELTS[1].1),
            pulley_diameter: driven,
            gear_ratio: gear,
            wrap_angle: wrap,
            smallest_wrap: smallest,
            mass_per_length: self.mass.unwrap_or(0.0),
        })
    }

    /// Wrap on the supercharger's pulley, and the smaller of both.
    fn wraps(&self, reader: &Reader<'_>, driven: f64, crank: f64) -> Option<(f64, f64)> {
        if reader.has("wrap_angle") {
            return self.wrap.map(|wrap| (wrap, wrap));
        }
        if !reader.has("center_distance") {
            reader.default_from("wrap_angle", "180 deg", COMMON_PRACTICE);
            return Some((USUAL_WRAP, USUAL_WRAP));
        }
        let distance = self.distance?;
        let wrap = wrap_angle(driven, crank, distance);
        if wrap.is_none() {
            let length = |si| amount(si, Kind::Length, "mm", 0);
            let text = words![
                length(distance),
                " is too short: the pulleys of ",
                length(crank),
                " and ",
                length(driven),
                " would overlap",
            ];
            reader.fault("center_distance", text);
        }
        wrap.map(|wrap| (wrap, wrap.min(2.0 * PI - wrap)))
    }
}
