//! The core of a charge cooler by its outer sizes, layers and fins.

use crate::air_path::{
    Arrangement, Core, CoreError, CoreSizes, Fin, FinKind, Passage, Side, SinkFluid,
};
use crate::input::reader::Reader;
use crate::input::want::Want;
use crate::quantity::{Kind, Words, amount, exact_amount, words};

const SIZE: Want = Want::of(Kind::Length, "\"300 mm\"").above(0.0).at_most(5.0);
const SMALL: Want = Want::of(Kind::Length, "\"8 mm\"")
    .at_least(1e-5)
    .at_most(0.1);
const CONDUCTIVITY: Want = Want::of(Kind::ThermalConductivity, "\"180 W/(m K)\"")
    .above(0.0)
    .at_most(500.0);
const ANGLE: Want = Want::number("27").above(0.0).below(90.0);

/// Thermal conductivity of alloys as used for cores, W/(m K) (handbooks, from memory).
const MATERIALS: [(&str, f64); 5] = [
    ("aluminium", 180.0),
    ("copper", 380.0),
    ("brass", 110.0),
    ("steel", 50.0),
    ("stainless", 16.0),
];

/// What a side has between its walls.
#[derive(Clone, Copy, PartialEq)]
enum Word {
    None,
    Plain,
    Offset,
    Louvred,
}

const FINS: [(&str, Word); 4] = [
    ("none", Word::None),
    ("plain", Word::Plain),
    ("offset", Word::Offset),
    ("louvred", Word::Louvred),
];

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
    let [width, height, depth] = ["width", "height", "depth"].map(|key| core.needed(key, SIZE));
    let wall = core.value_or("plate_thickness", SMALL, 0.5e-3, usual_size(0.5e-3));
    let conductivity = conductivity(&core);
    let tubes = core.word("construction", &[("plate", false), ("tube", true)]);
    let shared = Shared {
        thickness: core.value_or("fin_thickness", SMALL, 0.1e-3, usual_size(0.1e-3)),
        strip_length: core.value("strip_length", SMALL),
        louvre_pitch: core.value("louvre_pitch", SMALL),
        louvre_angle: core.value("louvre_angle", ANGLE),
        louvre_length: core.value("louvre_length", SMALL),
    };
    let inside = if tubes == Some(true) {
        Word::None
    } else {
        Word::Offset
    };
    let outside = match fluid {
        Some(SinkFluid::Water) => Word::None,
        _ => Word::Louvred,
    };
    let charge = passage(
        &core,
        ["charge_fin", "charge_fin_height", "charge_fin_pitch"],
        inside,
        &shared,
    );
    let sink = passage(
        &core,
        ["sink_fin", "sink_fin_height", "sink_fin_pitch"],
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
            "does not hold one layer of the charge between two of the sink",
        ),
        Err(CoreError::NoRoom(side)) => {
            let key = match side {
                Side::Charge => "charge_fin_pitch",
                Side::Sink => "sink_fin_pitch",
            };
            core.fault(
                key,
                "leaves no room: fin_thickness has to be less than pitch and height",
            );
        }
        Err(CoreError::Size) => core.fault("width", "makes no core with the other sizes"),
    }
    None
}

/// A small length taken where none is given.
fn usual_size(length: f64) -> Words {
    words![
        exact_amount(length, Kind::Length, "mm"),
        " is taken (common practice)",
    ]
}

fn conductivity(core: &Reader<'_>) -> Option<f64> {
    let given = core.value("fin_conductivity", CONDUCTIVITY);
    let material = core.word("material", &MATERIALS);
    if core.has("fin_conductivity") {
        return given;
    }
    if core.has("material") {
        return material;
    }
    let said = words![
        "aluminium is taken, ",
        amount(MATERIALS[0].1, Kind::ThermalConductivity, "W/(m K)", 0),
    ];
    core.default("material", said);
    Some(core.assume("fin_conductivity", CONDUCTIVITY, MATERIALS[0].1))
}

/// One side; `keys` are fin, height and pitch.
fn passage(
    core: &Reader<'_>,
    [fin, height, pitch]: [&'static str; 3],
    usual: Word,
    shared: &Shared,
) -> Option<Passage> {
    let word = if core.has(fin) {
        core.word(fin, &FINS)?
    } else {
        let name = FINS.iter().find(|entry| entry.1 == usual);
        core.default(
            fin,
            format!("{} is taken", name.map_or("", |entry| entry.0)),
        );
        usual
    };
    let height = core.needed(height, SMALL);
    if word == Word::None {
        if core.has(pitch) {
            core.fault(pitch, "means nothing here: this side has no fins");
        }
        return Some(Passage {
            height: height?,
            fin: None,
        });
    }
    let pitch = core.needed(pitch, SMALL);
    let kind = kind(core, word, height, shared);
    let fin = Fin {
        pitch: pitch?,
        thickness: shared.thickness?,
        kind: kind?,
    };
    Some(Passage {
        height: height?,
        fin: Some(fin),
    })
}

/// The kind of a fin, with usual sizes (common practice) of strips and louvres.
fn kind(core: &Reader<'_>, word: Word, height: Option<f64>, shared: &Shared) -> Option<FinKind> {
    let or = |key: &'static str, want, value: Option<f64>, usual: f64, said: Words| {
        if core.has(key) {
            return value;
        }
        core.default(key, said);
        Some(core.assume(key, want, usual))
    };
    match word {
        Word::None | Word::Plain => Some(FinKind::Plain),
        Word::Offset => Some(FinKind::Offset {
            length: or(
                "strip_length",
                SMALL,
                shared.strip_length,
                3e-3,
                usual_size(3e-3),
            )?,
        }),
        Word::Louvred => Some(FinKind::Louvred {
            pitch: or(
                "louvre_pitch",
                SMALL,
                shared.louvre_pitch,
                1.2e-3,
                usual_size(1.2e-3),
            )?,
            angle: or(
                "louvre_angle",
                ANGLE,
                shared.louvre_angle,
                27.0,
                "27 degrees is taken (common practice)".into(),
            )?,
            length: or(
                "louvre_length",
                SMALL,
                shared.louvre_length,
                0.85 * height?,
                "0.85 of the fin's height is taken (common practice)".into(),
            )?,
        }),
    }
}
