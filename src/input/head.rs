//! `[engine.head]`: what holds the head down.

use super::keys::engine as key;
use super::keys::row::{COMMON_PRACTICE, Key};
use super::reader::Reader;
use crate::engine::{Head, Preload, Tightening};
use crate::quantity::{Kind, exact_amount};

/// Coarse pitch by nominal diameter, mm (ISO 261, from memory).
const COARSE: [(f64, f64); 12] = [
    (6.0, 1.0),
    (8.0, 1.25),
    (10.0, 1.5),
    (12.0, 1.75),
    (14.0, 2.0),
    (16.0, 2.0),
    (18.0, 2.5),
    (20.0, 2.5),
    (22.0, 2.5),
    (24.0, 3.0),
    (27.0, 3.0),
    (30.0, 3.5),
];

/// Reads the head; a build without the section has none.
pub(super) fn read(engine: &Reader<'_>) -> Option<Head> {
    let reader = engine.section("head")?;
    let head = Head {
        studs_per_cylinder: reader.value(&key::STUDS_PER_CYLINDER),
        preload: preload(&reader),
        sealed_bore: reader.value(&key::SEALED_BORE),
        stud_load_share: reader.value(&key::STUD_LOAD_SHARE).unwrap_or(0.0),
    };
    let clamped = reader.has("stud_preload") || reader.has("stud_torque");
    if clamped && !reader.has("stud_load_share") {
        reader.taken("stud_load_share", "0, the cautious case", COMMON_PRACTICE);
    }
    if clamped != reader.has("studs_per_cylinder") {
        let missing = if clamped {
            "studs_per_cylinder"
        } else {
            "stud_preload"
        };
        reader.absent(missing, "the head clamp is not calculated without it");
    }
    reader.finish();
    Some(head)
}

fn preload(reader: &Reader<'_>) -> Option<Preload> {
    let given = reader.value(&key::STUD_PRELOAD);
    let torque = reader.value(&key::STUD_TORQUE);
    let diameter = reader.value(&key::STUD_DIAMETER);
    let pitch = reader.value(&key::STUD_PITCH);
    if !reader.has("stud_torque") {
        for key in [&key::SMALLEST_STUD_FRICTION, &key::LARGEST_STUD_FRICTION] {
            reader.value(key);
        }
        return given.map(Preload::Given);
    }
    let friction = friction(reader);
    let (torque, diameter) = (torque?, diameter?);
    let pitch = if reader.has("stud_pitch") {
        pitch?
    } else {
        let coarse = coarse_pitch(diameter);
        let value = exact_amount(coarse, Kind::Length, "mm");
        reader.default_from("stud_pitch", value, "ISO 261, coarse");
        coarse
    };
    Some(Preload::Torque(Tightening {
        torque,
        diameter,
        pitch,
        friction,
    }))
}

/// Smallest and largest friction of a stud: as written, else the usual.
fn friction(reader: &Reader<'_>) -> (f64, f64) {
    let of = |key: &'static Key| {
        if reader.has(key.name) {
            return reader.value(key);
        }
        reader.say_default(key)
    };
    let ends = [&key::SMALLEST_STUD_FRICTION, &key::LARGEST_STUD_FRICTION].map(of);
    // A faulty value has its fault already; two that a study moves may pass each other.
    let [smallest, largest] = ends.map(Option::unwrap_or_default);
    (smallest.min(largest), smallest.max(largest))
}

/// The coarse pitch of the nearest standard diameter, m both.
fn coarse_pitch(diameter: f64) -> f64 {
    let apart = |row: &(f64, f64)| (row.0 * 1e-3 - diameter).abs();
    let nearest = COARSE
        .iter()
        .min_by(|a, b| apart(a).total_cmp(&apart(b)))
        .map_or(1.75, |row| row.1);
    nearest / 1e3
}
