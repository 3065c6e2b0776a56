//! The belt of a supercharger: its pulleys, and the drive ratio that follows from them.

use std::f64::consts::PI;

use super::reader::{COMMON_PRACTICE, Reader};
use super::want::Want;
use crate::air_path::{BeltKind, BeltPath, wrap_angle};
use crate::engine::usual::{RIBBED_FRICTION, TOOTHED_TENSION_RATIO};
use crate::quantity::{Kind, amount, words};

/// Half a turn, where nothing says how far the belt goes around.
const USUAL_WRAP: f64 = PI;

pub(super) const DIAMETER: Want = Want::of(Kind::Length, "\"90 mm\"")
    .at_least(5e-3)
    .at_most(2.0);
const DISTANCE: Want = Want::of(Kind::Length, "\"320 mm\"")
    .at_least(5e-3)
    .at_most(5.0);
const WRAP: Want = Want::of(Kind::Angle, "\"170 deg\"")
    .at_least(0.5)
    .at_most(2.0 * PI);
pub(super) const GEAR: Want = Want::number("1.0").above(0.0).at_most(30.0);
const MASS: Want = Want::of(Kind::MassPerLength, "\"0.15 kg/m\"")
    .at_least(0.0)
    .at_most(10.0);

const KINDS: [(&str, BeltKind); 2] = [
    (
        "toothed",
        BeltKind::Toothed {
            tension_ratio: TOOTHED_TENSION_RATIO,
        },
    ),
    (
        "ribbed",
        BeltKind::Ribbed {
            friction: RIBBED_FRICTION,
        },
    ),
];

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
        kind: reader.word("belt", &KINDS),
        pulley: reader.value("pulley_diameter", DIAMETER),
        crank_pulley: reader.value("crank_pulley_diameter", DIAMETER),
        gear: reader.value("gear_ratio", GEAR),
        distance: reader.value("center_distance", DISTANCE),
        wrap: reader.value("wrap_angle", WRAP),
        mass: reader.value("belt_mass_per_length", MASS),
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
            let keys = [
                "belt",
                "center_distance",
                "wrap_angle",
                "belt_mass_per_length",
                "crank_pulley_diameter",
                "gear_ratio",
            ];
            reader.set_aside(&keys, "without pulley_diameter the belt is not reckoned");
            return None;
        }
        let driven = self.pulley?;
        let gear = self.gear.unwrap_or(1.0);
        let crank = self.crank_pulley.unwrap_or(drive_ratio / gear * driven);
        if !reader.has("belt") {
            reader.usual("belt", "\"ribbed\"", COMMON_PRACTICE);
        }
        let (wrap, smallest) = self.wraps(reader, driven, crank)?;
        if !reader.has("belt_mass_per_length") {
            let said = "no centrifugal tension is counted (belt_mass_per_length = 0)";
            reader.default("belt_mass_per_length", said);
        }
        Some(BeltPath {
            kind: self.kind.unwrap_or(KINDS[1].1),
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
            reader.usual("wrap_angle", "180 deg", COMMON_PRACTICE);
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
