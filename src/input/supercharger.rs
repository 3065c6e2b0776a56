//! A supercharger of `[[air_path]]`: given ratio, positive displacement, or belt-driven wheel.

use super::air_path::{MAX_SPEED, PRESSURE_RATIO};
use super::drive;
use super::maps::Maps;
use super::reader::{COMMON_PRACTICE, Reader};
use super::want::Want;
use crate::air_path::{
    BeltDrive, Bypass, BypassAt, Centrifugal, Displacement, Filling, NoLoad, PrescribedStage,
    Supercharger, SuperchargerKind,
};
use crate::map::SuperchargerMap;
use crate::quantity::Kind;
use std::sync::Arc;

/// Usual figures of a Roots machine in good order (common practice); a screw is not far from them.
const USUAL_INDICATED_EFFICIENCY: f64 = 0.88;
const USUAL_MECHANICAL_EFFICIENCY: f64 = 0.96;
/// Ribbed belt, 3 % lost (common practice).
const USUAL_DRIVE_EFFICIENCY: f64 = 0.97;

const DISPLACEMENT: Want = Want::of(Kind::Volume, "\"2.1 L\"")
    .at_least(1e-6)
    .at_most(0.5);
pub(super) const DRIVE_RATIO: Want = Want::number("2.15").above(0.0).at_most(100.0);
const SLIP: Want = Want::of(Kind::RotationalSpeed, "\"170 rpm\"")
    .at_least(0.0)
    .at_most(1e5);
const VOLUME_RATIO: Want = Want::number("1.25").at_least(1.0).at_most(10.0);
const POWER: Want = Want::of(Kind::Power, "\"0.9 kW\"")
    .at_least(0.0)
    .at_most(1e7);
const BYPASS_PRESSURE: Want = Want::of(Kind::BoostPressure, "\"40 kPa\"")
    .above(0.0)
    .at_most(1e6);
const BYPASS_DROP: Want = Want::of(Kind::PressureDifference, "\"0.5 kPa\"")
    .at_least(0.0)
    .at_most(1e5);

#[derive(Clone, Copy, PartialEq, Eq)]
enum Word {
    Roots,
    Screw,
    Centrifugal,
}

const KINDS: [(&str, Word); 3] = [
    ("roots", Word::Roots),
    ("screw", Word::Screw),
    ("centrifugal", Word::Centrifugal),
];

/// Keys that a belt-driven machine is described by.
const BELT_KEYS: [&str; 24] = [
    "kind",
    "displacement",
    "drive_ratio",
    "slip_speed",
    "internal_volume_ratio",
    "indicated_efficiency",
    "mechanical_efficiency",
    "drive_efficiency",
    "no_load_power",
    "at_speed",
    "engaged",
    "bypass",
    "bypass_pressure",
    "bypass_at",
    "bypass_drop",
    "map",
    "rotor_diameter",
    "belt",
    "pulley_diameter",
    "crank_pulley_diameter",
    "gear_ratio",
    "center_distance",
    "wrap_angle",
    "belt_mass_per_length",
];

/// Everything that was written, read and checked whether or not it is used.
struct Written {
    kind: Option<Word>,
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
    let engaged = reader.switch_schedule("engaged");
    let max_speed = reader.value("max_speed", MAX_SPEED);
    // Read once the kind is known; a key that can be meant all the same.
    reader.knows("map");
    let ratio = reader.schedule("pressure_ratio", PRESSURE_RATIO);
    let efficiency = reader.schedule("efficiency", Want::efficiency("0.6"));
    if reader.has("pressure_ratio") {
        if !reader.has("efficiency") {
            reader.is_missing("efficiency", Want::efficiency("0.6").missing("efficiency"));
        }
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
    let why = "it belongs to a given pressure_ratio; a belt-driven supercharger has \
               indicated_efficiency, mechanical_efficiency and drive_efficiency";
    reader.means_nothing(&["efficiency"], why);
    if !reader.has("kind") {
        let text = "is missing: say kind = \"roots\", \"screw\" or \"centrifugal\" and drive_ratio, or give \
                    pressure_ratio and efficiency";
        reader.is_missing_one_of(&["kind", "pressure_ratio"], text);
    }
    let kind = match written.kind? {
        Word::Centrifugal => centrifugal(reader, &written, maps).map(SuperchargerKind::Centrifugal),
        word => displacement(reader, word, &written, maps).map(SuperchargerKind::Displacement),
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
    let efficiency = Want::efficiency("0.95");
    Written {
        kind: reader.word("kind", &KINDS),
        displacement: reader.value("displacement", DISPLACEMENT),
        drive_ratio: reader.value("drive_ratio", DRIVE_RATIO),
        slip_speed: reader.value("slip_speed", SLIP),
        internal_volume_ratio: reader.value("internal_volume_ratio", VOLUME_RATIO),
        indicated_efficiency: reader.value("indicated_efficiency", efficiency),
        mechanical_efficiency: reader.value("mechanical_efficiency", efficiency),
        drive_efficiency: reader.value("drive_efficiency", efficiency),
        no_load_power: reader.value("no_load_power", POWER),
        at_speed: reader.value("at_speed", MAX_SPEED),
        rotor_diameter: reader.value("rotor_diameter", drive::DIAMETER),
        pulleys: drive::written(reader),
    }
}

/// Beside a given ratio the machine's own figures rest.
fn carried(reader: &Reader<'_>) {
    let carried: Vec<&str> = BELT_KEYS
        .into_iter()
        .filter(|key| reader.has(key))
        .collect();
    if !carried.is_empty() {
        let text = format!("is given, so these are not used: {}", carried.join(", "));
        reader.remark("pressure_ratio", text);
    }
}

fn belt(reader: &Reader<'_>, written: &Written) -> Option<BeltDrive> {
    let ratio = written.pulleys.ratio(reader, written.drive_ratio);
    if !reader.has("drive_ratio") && !drive::has_both_pulleys(reader) {
        let text = format!(
            "{} (or give pulley_diameter and crank_pulley_diameter)",
            DRIVE_RATIO.missing("drive_ratio")
        );
        reader.is_missing("drive_ratio", text);
    }
    let efficiency = usual(
        reader,
        "drive_efficiency",
        written.drive_efficiency,
        USUAL_DRIVE_EFFICIENCY,
    );
    Some(BeltDrive {
        ratio: ratio?,
        efficiency: efficiency?,
    })
}

/// A value as written, or the usual one, which is said.
fn usual(reader: &Reader<'_>, key: &'static str, written: Option<f64>, usual: f64) -> Option<f64> {
    if reader.has(key) {
        return written;
    }
    reader.usual(key, format!("{usual}"), COMMON_PRACTICE);
    Some(reader.assume(key, Want::efficiency("0.95"), usual))
}

fn displacement(
    reader: &Reader<'_>,
    word: Word,
    written: &Written,
    maps: &Maps<'_>,
) -> Option<Displacement> {
    if !reader.has("displacement") {
        reader.is_missing("displacement", DISPLACEMENT.missing("displacement"));
    }
    let belt = belt(reader, written);
    let filling = filling(reader, written, maps);
    let internal_volume_ratio = internal_volume_ratio(reader, word, written);
    let indicated = usual(
        reader,
        "indicated_efficiency",
        written.indicated_efficiency,
        USUAL_INDICATED_EFFICIENCY,
    );
    let mechanical = usual(
        reader,
        "mechanical_efficiency",
        written.mechanical_efficiency,
        USUAL_MECHANICAL_EFFICIENCY,
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
            "{slip:.0} rpm is taken (a usual figure for this size, give or take 40 %); the slip test \
             gives the true one: the shaft speed that just holds 1 psi against a shut outlet"
        );
        reader.default_from("slip_speed", &said, COMMON_PRACTICE);
        let slip = reader.assume("slip_speed", SLIP, slip);
        return Some(Filling::SlipSpeed(slip));
    }
    written.slip_speed.map(Filling::SlipSpeed)
}

fn internal_volume_ratio(reader: &Reader<'_>, word: Word, written: &Written) -> Option<f64> {
    if word == Word::Roots {
        if written
            .internal_volume_ratio
            .is_some_and(|ratio| ratio > 1.0)
        {
            reader.fault(
                "internal_volume_ratio",
                "a Roots machine has none: leave it out, or say kind = \"screw\"",
            );
        }
        return Some(1.0);
    }
    if !reader.has("internal_volume_ratio") {
        reader.is_missing(
            "internal_volume_ratio",
            VOLUME_RATIO.missing("internal_volume_ratio"),
        );
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
        reader.means_nothing(&["at_speed"], "it belongs to no_load_power");
        reader.default(
            "no_load_power",
            "0 is taken: the drag past the hand-over is not counted",
        );
        return Some(None);
    }
    if !reader.has("at_speed") {
        reader.is_missing("at_speed", MAX_SPEED.missing("at_speed"));
    }
    Some(Some(NoLoad {
        power: written.no_load_power?,
        at_speed: written.at_speed?,
    }))
}

fn centrifugal(reader: &Reader<'_>, written: &Written, maps: &Maps<'_>) -> Option<Centrifugal> {
    let rotors = [
        "displacement",
        "slip_speed",
        "internal_volume_ratio",
        "indicated_efficiency",
        "no_load_power",
        "at_speed",
    ];
    reader.means_nothing(
        &rotors,
        "it belongs to rotors that displace air (kind \"roots\" or \"screw\")",
    );
    if !reader.has("map") {
        let text = "is missing: a centrifugal supercharger runs on its map, for example map = \"wheel.csv\"";
        reader.is_missing("map", text.to_owned());
    }
    let map = if reader.has("map") {
        maps.compressor(reader, "map")
    } else {
        None
    };
    let belt = belt(reader, written);
    let mechanical = usual(
        reader,
        "mechanical_efficiency",
        written.mechanical_efficiency,
        USUAL_MECHANICAL_EFFICIENCY,
    );
    Some(Centrifugal {
        map: map?,
        belt: belt?,
        mechanical_efficiency: mechanical?,
    })
}

fn bypass(reader: &Reader<'_>) -> Option<Bypass> {
    #[derive(Clone, Copy, PartialEq)]
    enum Kind {
        None,
        Check,
        Regulated,
    }
    let kinds = [
        ("none", Kind::None),
        ("check", Kind::Check),
        ("regulated", Kind::Regulated),
    ];
    let places = [
        ("supercharger outlet", BypassAt::SuperchargerOutlet),
        ("manifold", BypassAt::Manifold),
    ];
    let written = reader.word("bypass", &kinds);
    let pressure = reader.value("bypass_pressure", BYPASS_PRESSURE);
    let at = reader.word("bypass_at", &places);
    let drop = reader.value("bypass_drop", BYPASS_DROP);
    let given = reader.has("pressure_ratio");
    if !reader.has("bypass") {
        if !given {
            reader.default(
                "bypass",
                "no way around the supercharger is taken (bypass = \"none\")",
            );
            reader.means_nothing(
                &["bypass_pressure", "bypass_at", "bypass_drop"],
                "no bypass is given",
            );
        }
        return Some(Bypass::None);
    }
    let kind = written?;
    if kind == Kind::None && !given {
        reader.set_aside(
            &["bypass_pressure", "bypass_at", "bypass_drop"],
            "the bypass is \"none\"",
        );
    }
    if kind == Kind::Check && !given {
        reader.set_aside(
            &["bypass_pressure", "bypass_at"],
            "a check flap holds no pressure; a \"regulated\" bypass does",
        );
    }
    let drop = if reader.has("bypass_drop") {
        drop
    } else {
        Some(0.0)
    };
    match kind {
        Kind::None => Some(Bypass::None),
        Kind::Check => Some(Bypass::Check { drop: drop? }),
        Kind::Regulated => {
            if !reader.has("bypass_pressure") && !given {
                reader.is_missing(
                    "bypass_pressure",
                    BYPASS_PRESSURE.missing("bypass_pressure"),
                );
            }
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
