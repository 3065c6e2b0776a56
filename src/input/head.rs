//! `[engine.head]`: what holds the head down.

use super::reader::{COMMON_PRACTICE, Reader};
use super::want::Want;
use crate::engine::usual::STUD_FRICTION;
use crate::engine::{Head, Preload, Tightening};
use crate::quantity::{Kind, exact_amount};

const STUDS: Want = Want::number("4").above(0.0).at_most(40.0);
const PRELOAD: Want = Want::of(Kind::Force, "\"75 kN\"").above(0.0).at_most(2e6);
const TORQUE: Want = Want::of(Kind::Torque, "\"120 N m\"")
    .above(0.0)
    .at_most(2e4);
const SEALED: Want = Want::of(Kind::Length, "\"114 mm\"")
    .at_least(5e-3)
    .at_most(2.0);
const DIAMETER: Want = Want::of(Kind::Length, "\"12 mm\"")
    .at_least(3e-3)
    .at_most(0.1);
const PITCH: Want = Want::of(Kind::Length, "\"1.75 mm\"")
    .at_least(2e-4)
    .at_most(0.01);
const FRICTION: Want = Want::number("0.13").at_least(0.02).at_most(0.5);

/// The keys of the friction band with their usual values.
const FRICTIONS: [(&str, f64); 2] = [
    ("smallest_stud_friction", STUD_FRICTION.0),
    ("largest_stud_friction", STUD_FRICTION.1),
];

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
        studs_per_cylinder: reader.value("studs_per_cylinder", STUDS),
        preload: preload(&reader),
        sealed_bore: reader.value("sealed_bore", SEALED),
        stud_load_share: reader
            .value("stud_load_share", Want::share("0.2").below(1.0))
            .unwrap_or(0.0),
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
        reader.absent(missing, "the clamp on the head is not reckoned without it");
    }
    reader.finish();
    Some(head)
}

fn preload(reader: &Reader<'_>) -> Option<Preload> {
    let given = reader.value("stud_preload", PRELOAD);
    let torque = reader.value("stud_torque", TORQUE);
    let diameter = reader.value("stud_diameter", DIAMETER);
    let pitch = reader.value("stud_pitch", PITCH);
    let friction = FRICTIONS.map(|(key, _)| reader.value(key, FRICTION));
    if !reader.has("stud_torque") {
        let keys = [
            "stud_diameter",
            "stud_pitch",
            FRICTIONS[0].0,
            FRICTIONS[1].0,
        ];
        reader.set_aside(&keys, "it belongs to stud_torque");
        return given.map(Preload::Given);
    }
    if !reader.has("stud_diameter") {
        reader.is_missing("stud_diameter", DIAMETER.missing("stud_diameter"));
    }
    let (torque, diameter) = (torque?, diameter?);
    let pitch = if reader.has("stud_pitch") {
        pitch?
    } else {
        let coarse = coarse_pitch(diameter);
        let value = exact_amount(coarse, Kind::Length, "mm");
        reader.usual("stud_pitch", value, "ISO 261, coarse");
        coarse
    };
    Some(Preload::Torque(Tightening {
        torque,
        diameter,
        pitch,
        friction: band(reader, friction),
    }))
}

/// Smallest and largest friction of a stud: as read, else the usual.
fn band(reader: &Reader<'_>, read: [Option<f64>; 2]) -> (f64, f64) {
    for (key, usual) in FRICTIONS {
        if !reader.has(key) {
            reader.usual(key, format!("{usual:.2}"), COMMON_PRACTICE);
        }
    }
    let smallest = read[0].unwrap_or(FRICTIONS[0].1);
    let largest = read[1].unwrap_or(FRICTIONS[1].1);
    // Two that a study moves may pass each other.
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
