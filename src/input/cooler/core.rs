//! The core of a charge cooler by its outer sizes, layers and fins.

use crate::air_path::{
    Arrangement, Core, CoreError, CorePassage, CoreSizes, Fin, FinKind, Side, SinkFluid,
};
use crate::input::keys::cooler::{self as key, CONSTRUCTIONS, FINS, FinShape, MATERIALS};
use crate::input::keys::row::{COMMON_PRACTICE, Key};
use crate::input::reader::Reader;
use crate::quantity::{Kind, amount, words};

/// What fins of both sides share.
struct Shared {
    thickness: Option<f64>,
    strip_length: Option<f64>,
    louvre_pitch: Option<f64>,
    louvre_angle: Option<f64>,
    louvre_length: Option<f64>,
}

/// Reads `core`.
pub(super) fn read(
    reader: &Reader<'_>,
    fluid: Option<SinkFluid>,
    arrangement: Option<Arrangement>,
) -> Option<Core> {
    let core = reader.section("core")?;
    let [width, height, depth] =
        [&key::CORE_WIDTH, &key::CORE_HEIGHT, &key::CORE_DEPTH].map(|key| core.needed(key));
    let wall = core.value_or_default(&key::CORE_PLATE_THICKNESS);
    let conductivity = conductivity(&core);
    let tubes = core.word(&key::CORE_CONSTRUCTION, &CONSTRUCTIONS);
    let shared = Shared {
        thickness: core.value_or_default(&key::CORE_FIN_THICKNESS),
        strip_length: core.value(&key::CORE_STRIP_LENGTH),
        louvre_pitch: core.value(&key::CORE_LOUVRE_PITCH),
        louvre_angle: core.value(&key::CORE_LOUVRE_ANGLE),
        louvre_length: core.value(&key::CORE_LOUVRE_LENGTH),
    };
    let inside = if tubes == Some(true) {
        FinShape::None
    } else {
        FinShape::Offset
    };
    let outside = match fluid {
        Some(SinkFluid::Water) => FinShape::None,
        _ => FinShape::Louvred,
    };
    let charge = passage(
        &core,
        [
            &key::CORE_CHARGE_FIN,
            &key::CORE_CHARGE_FIN_HEIGHT,
            &key::CORE_CHARGE_FIN_PITCH,
        ],
        inside,
        &shared,
    );
    let sink = passage(
        &core,
        [
            &key::CORE_SINK_FIN,
            &key::CORE_SINK_FIN_HEIGHT,
            &key::CORE_SINK_FIN_PITCH,
        ],
        outside,
        &shared,
    );
    core.finish();
    let sizes = CoreSizes {
        arrangement: arrangement?,
        width: width?,
        height: height?,
        depth: depth?,
        wall: wall?,
        conductivity: conductivity?,
        charge: charge?,
        sink: sink?,
        beside: 1.0,
        conductance_factor: 1.0,
    };
    made(&core, &sizes)
}

fn made(core: &Reader<'_>, sizes: &CoreSizes) -> Option<Core> {
    match Core::new(sizes) {
        Ok(made) => return Some(made),
        Err(CoreError::TooLow) => core.fault(
            "height",
            "is too small for one charge layer between two cooling layers",
        ),
        Err(CoreError::NoRoom(side)) => {
            let key = match side {
                Side::Charge => "charge_fin_pitch",
                Side::Sink => "sink_fin_pitch",
            };
            core.fault(
                key,
                "leaves no room: fin_thickness must be less than fin pitch and fin height",
            );
        }
        Err(CoreError::Size) => core.fault("width", "makes no core with the other sizes"),
    }
    None
}

fn conductivity(core: &Reader<'_>) -> Option<f64> {
    let given = core.value(&key::CORE_FIN_CONDUCTIVITY);
    let material = core.word(&key::CORE_MATERIAL, &MATERIALS);
    if core.has("fin_conductivity") {
        return given;
    }
    if core.has("material") {
        return material;
    }
    let said = words![
        "aluminium, ",
        amount(MATERIALS[0].1, Kind::ThermalConductivity, "W/(m K)", 0),
    ];
    core.default("material", said);
    Some(core.assume(&key::CORE_FIN_CONDUCTIVITY, MATERIALS[0].1))
}

/// One side; `keys` are fin, height and pitch.
fn passage(
    core: &Reader<'_>,
    [fin, height, pitch]: [&'static Key; 3],
    usual: FinShape,
    shared: &Shared,
) -> Option<CorePassage> {
    let word = if core.has(fin.name) {
        core.word(fin, &FINS)?
    } else {
        let name = FINS.iter().find(|entry| entry.1 == usual);
        core.default(fin.name, name.map_or("", |entry| entry.0));
        usual
    };
    let height = core.needed(height);
    if word == FinShape::None {
        if core.has(pitch.name) {
            core.fault(pitch.name, "has no effect here: this side has no fins");
        }
        return Some(CorePassage {
            height: height?,
            fin: None,
        });
    }
    let pitch = core.needed(pitch);
    let kind = kind(core, word, height, shared);
    let fin = Fin {
        pitch: pitch?,
        thickness: shared.thickness?,
        kind: kind?,
    };
    Some(CorePassage {
        height: height?,
        fin: Some(fin),
    })
}

/// The kind of a fin, with usual sizes (common practice) of strips and louvres.
fn kind(
    core: &Reader<'_>,
    word: FinShape,
    height: Option<f64>,
    shared: &Shared,
) -> Option<FinKind> {
    let or_default = |key: &'static Key, value: Option<f64>| {
        if core.has(key.name) {
            return value;
        }
        core.value_or_default(key)
    };
    match word {
        FinShape::None | FinShape::Plain => Some(FinKind::Plain),
        FinShape::Offset => Some(FinKind::Offset {
            length: or_default(&key::CORE_STRIP_LENGTH, shared.strip_length)?,
        }),
        FinShape::Louvred => Some(FinKind::Louvred {
            pitch: or_default(&key::CORE_LOUVRE_PITCH, shared.louvre_pitch)?,
            angle: or_default(&key::CORE_LOUVRE_ANGLE, shared.louvre_angle)?,
            length: louvre_length(core, height, shared)?,
        }),
    }
}

/// 0.85 of the fin's height where it is not written (common practice).
fn louvre_length(core: &Reader<'_>, height: Option<f64>, shared: &Shared) -> Option<f64> {
    let key = &key::CORE_LOUVRE_LENGTH;
    if core.has(key.name) {
        return shared.louvre_length;
    }
    core.default_from(key.name, "0.85 of the fin height", COMMON_PRACTICE);
    Some(core.assume(key, 0.85 * height?))
}
