//! A supercharger of `[[air_path]]`: given ratio, positive displacement, or belt-driven wheel.

use super::drive;
use super::keys::row::{COMMON_PRACTICE, Key};
use super::keys::supercharger::{self as key, BYPASS_PLACES, BYPASSES, BypassKind, KINDS, Machine};
use super::maps::Maps;
use super::reader::Reader;
use crate::air_path::{
    BeltDrive, Bypass, BypassAt, Centrifugal, Displacement, Filling, NoLoad, PrescribedStage,
    Supercharger, SuperchargerKind,
};
use crate::map::SuperchargerMap;
use crate::quantity::words;
use std::sync::Arc;

/// Everything that was written, read and checked whether or not it is used.
struct Written {
    kind: Option<Machine>,
    displacement: Option<f64>,
    drive_ratio: Option<f64>,
    slip_speed: Option<f64>,
    internal_volume_ratio: Option<f64>,
    indicated_efficiency: Option<f64>,
    mechanical_efficiency: Option<f64>,
    drive_efficiency: Option<f64>,
    no_load_power: Option<f64>,
    at_speed: Option<f64>,
    rotor_diameter: Option<f64>,
    pulleys: drive::Written,
}

/// Reads a supercharger.
pub(super) fn read(reader: &Reader<'_>, maps: &Maps<'_>) -> Option<Supercharger> {
    let written = written(reader);
    let bypass = bypass(reader);
    let engaged = reader.switch_schedule(&key::ENGAGED);
    let max_speed = reader.value(&key::MAX_SPEED);
    let ratio = reader.schedule(&key::PRESSURE_RATIO);
    let efficiency = reader.schedule(&key::EFFICIENCY);
    if reader.has("pressure_ratio") {
        carried(reader);
        return Some(Supercharger {
            kind: SuperchargerKind::Prescribed(PrescribedStage {
                pressure_ratio: ratio?,
                efficiency: Some(efficiency?),
            }),
            max_speed,
            rotor_diameter: None,
            belt_path: None,
            bypass: Bypass::None,
            engaged: None,
        });
    }
    if !reader.has("kind") {
        let text = "is missing: set kind = \"roots\", \"screw\" or \"centrifugal\" and drive_ratio, or set \
                    pressure_ratio and efficiency";
        reader.is_missing_one_of(&["kind", "pressure_ratio"], text);
    }
    let kind = match written.kind? {
        Machine::Centrifugal => {
            centrifugal(reader, &written, maps).map(SuperchargerKind::Centrifugal)
        }
        machine => {
            displacement(reader, machine, &written, maps).map(SuperchargerKind::Displacement)
        }
    };
    if reader.has("engaged") && engaged.is_none() {
        return None;
    }
    let kind = kind?;
    let belt = match &kind {
        SuperchargerKind::Displacement(machine) => Some(machine.belt),
        SuperchargerKind::Centrifugal(machine) => Some(machine.belt),
        SuperchargerKind::Prescribed(_) => None,
    };
    let belt_path = belt.and_then(|belt| written.pulleys.path(reader, belt.ratio));
    Some(Supercharger {
        kind,
        max_speed,
        rotor_diameter: written.rotor_diameter,
        belt_path,
        bypass: bypass?,
        engaged,
    })
}

fn written(reader: &Reader<'_>) -> Written {
    Written {
        kind: reader.word(&key::KIND, &KINDS),
        displacement: reader.value(&key::DISPLACEMENT),
        drive_ratio: reader.value(&key::DRIVE_RATIO),
        slip_speed: reader.value(&key::SLIP_SPEED),
        internal_volume_ratio: reader.value(&key::INTERNAL_VOLUME_RATIO),
        indicated_efficiency: reader.value(&key::INDICATED_EFFICIENCY),
        mechanical_efficiency: reader.value(&key::MECHANICAL_EFFICIENCY),
        drive_efficiency: reader.value(&key::DRIVE_EFFICIENCY),
        no_load_power: reader.value(&key::NO_LOAD_POWER),
        at_speed: reader.value(&key::AT_SPEED),
        rotor_diameter: reader.value(&key::ROTOR_DIAMETER),
        pulleys: drive::written(reader),
    }
}

/// Beside a given ratio the machine's own figures rest.
fn carried(reader: &Reader<'_>) {
    const USED: [&str; 4] = ["part", "pressure_ratio", "efficiency", "max_speed"];
    let names = key::SUPERCHARGER.keys.iter().map(|key| key.name);
    let carried: Vec<&str> = names
        .filter(|name| !USED.contains(name) && reader.has(name))
        .collect();
    if !carried.is_empty() {
        let text = format!("is given, so these are not used: {}", carried.join(", "));
        reader.remark("pressure_ratio", text);
    }
}

fn belt(reader: &Reader<'_>, written: &Written) -> Option<BeltDrive> {
    let ratio = written.pulleys.ratio(reader, written.drive_ratio);
    if !reader.has("drive_ratio") && !drive::has_both_pulleys(reader) {
        let text = words![
            key::DRIVE_RATIO.missing(),
            " (or set pulley_diameter and crank_pulley_diameter)",
        ];
        reader.is_missing("drive_ratio", text);
    }
    let efficiency = or_default(reader, &key::DRIVE_EFFICIENCY, written.drive_efficiency);
    Some(BeltDrive {
        ratio: ratio?,
        efficiency: efficiency?,
    })
}

/// A value as written, or the default of its row, which is said.
fn or_default(reader: &Reader<'_>, key: &'static Key, written: Option<f64>) -> Option<f64> {
    if reader.has(key.name) {
        return written;
    }
    reader.value_or_default(key)
}

fn displacement(
    reader: &Reader<'_>,
    machine: Machine,
    written: &Written,
    maps: &Maps<'_>,
) -> Option<Displacement> {
    let belt = belt(reader, written);
    let filling = filling(reader, written, maps);
    let internal_volume_ratio = internal_volume_ratio(reader, machine, written);
    let indicated = or_default(
        reader,
        &key::INDICATED_EFFICIENCY,
        written.indicated_efficiency,
    );
    let mechanical = or_default(
        reader,
        &key::MECHANICAL_EFFICIENCY,
        written.mechanical_efficiency,
    );
    let no_load = no_load(reader, written);
    Some(Displacement {
        displacement: written.displacement?,
        belt: belt?,
        filling: filling?,
        internal_volume_ratio: internal_volume_ratio?,
        indicated_efficiency: indicated?,
        mechanical_efficiency: mechanical?,
        no_load: no_load?,
    })
}

fn filling(reader: &Reader<'_>, written: &Written, maps: &Maps<'_>) -> Option<Filling> {
    if reader.has("map") {
        let map: Option<Arc<SuperchargerMap>> = maps.supercharger(reader, "map");
        return map.map(Filling::Map);
    }
    if !reader.has("slip_speed") {
        // Larger machines leak less for their size: 175 rpm × (2 L/displacement)^(1/3), from
        // memory, give or take 40 %.
        let slip = 175.0 * (2e-3 / written.displacement?).cbrt();
        let said = format!(
            "{slip:.0} rpm, typical for this size, give or take 40 %; measure yours by a slip test: the \
             shaft speed that just holds 1 psi against a blocked outlet"
        );
        reader.default_from("slip_speed", &said, COMMON_PRACTICE);
        let slip = reader.assume(&key::SLIP_SPEED, slip);
        return Some(Filling::SlipSpeed(slip));
    }
    written.slip_speed.map(Filling::SlipSpeed)
}

fn internal_volume_ratio(reader: &Reader<'_>, machine: Machine, written: &Written) -> Option<f64> {
    if machine == Machine::Roots {
        if written
            .internal_volume_ratio
            .is_some_and(|ratio| ratio > 1.0)
        {
            reader.fault(
                "internal_volume_ratio",
                "a Roots machine has none: leave it out, or set kind = \"screw\"",
            );
        }
        return Some(1.0);
    }
    written.internal_volume_ratio
}

/// The outer `None` is a fault, the inner one a drag that is not known.
#[allow(
    clippy::option_option,
    reason = "a fault and an absent value are two things"
)]
fn no_load(reader: &Reader<'_>, written: &Written) -> Option<Option<NoLoad>> {
    if !reader.has("no_load_power") {
        let said = "0 (drag when freewheeling not included)";
        reader.default("no_load_power", said);
        return Some(None);
    }
    Some(Some(NoLoad {
        power: written.no_load_power?,
        at_speed: written.at_speed?,
    }))
}

fn centrifugal(reader: &Reader<'_>, written: &Written, maps: &Maps<'_>) -> Option<Centrifugal> {
    if !reader.has("map") {
        let text = "is missing: a centrifugal supercharger needs a map, e.g. map = \"wheel.csv\"";
        reader.is_missing("map", text.to_owned());
    }
    let map = if reader.has("map") {
        maps.compressor(reader, "map")
    } else {
        None
    };
    let belt = belt(reader, written);
    let mechanical = or_default(
        reader,
        &key::MECHANICAL_EFFICIENCY,
        written.mechanical_efficiency,
    );
    Some(Centrifugal {
        map: map?,
        belt: belt?,
        mechanical_efficiency: mechanical?,
    })
}

fn bypass(reader: &Reader<'_>) -> Option<Bypass> {
    let written = reader.word(&key::BYPASS, &BYPASSES);
    let pressure = reader.value(&key::BYPASS_PRESSURE);
    let at = reader.word(&key::BYPASS_AT, &BYPASS_PLACES);
    let drop = reader.value(&key::BYPASS_DROP);
    if !reader.has("bypass") {
        if !reader.has("pressure_ratio") {
            reader.default("bypass", format!("\"{}\"", BYPASSES[0].0));
        }
        return Some(Bypass::None);
    }
    let drop = if reader.has("bypass_drop") {
        drop
    } else {
        Some(0.0)
    };
    match written? {
        BypassKind::None => Some(Bypass::None),
        BypassKind::Check => Some(Bypass::Check { drop: drop? }),
        BypassKind::Regulated => {
            let at = if reader.has("bypass_at") {
                at
            } else {
                Some(BypassAt::SuperchargerOutlet)
            };
            Some(Bypass::Regulated {
                pressure: pressure?,
                at: at?,
                drop: drop?,
            })
        }
    }
}
