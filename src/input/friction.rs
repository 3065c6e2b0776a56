//! `[engine.friction]`, or what is usual for the kind of engine where the build says nothing.

use super::keys::engine as key;
use super::keys::row::COMMON_PRACTICE;
use super::reader::Reader;
use crate::engine::typical::COMPRESSION_EXPONENTS;
use crate::engine::{Combustion, EngineKind, Friction, Strokes};
use crate::quantity::{Kind, amount, words};

/// The friction of the build, or what is usual for its kind: the diesel's where that is not known.
pub(super) fn read(
    reader: &Reader<'_>,
    kind: Option<EngineKind>,
    strokes: Option<Strokes>,
) -> Option<Friction> {
    if !reader.has("friction") {
        let kind = kind.unwrap_or(EngineKind::Diesel);
        return Some(usual_friction(
            reader,
            kind,
            strokes.unwrap_or(Strokes::Four),
        ));
    }
    let section = reader.section("friction")?;
    let constant = section.needed(&key::CONSTANT);
    let share = section.value_or_default(&key::PEAK_PRESSURE_SHARE);
    let linear = section.value_or_default(&key::LINEAR);
    let quadratic = section.value_or_default(&key::QUADRATIC);
    section.finish();
    Some(Friction {
        constant: constant?,
        peak_pressure_share: share?,
        linear: linear?,
        quadratic: quadratic?,
    })
}

/// The friction that is usual for a kind of engine, which is said.
fn usual_friction(reader: &Reader<'_>, kind: EngineKind, strokes: Strokes) -> Friction {
    let taken = kind.typical_friction(strokes);
    let Friction {
        constant,
        peak_pressure_share,
        linear,
        quadratic,
    } = taken;
    let pressure = |si, decimals| amount(si, Kind::MeanEffectivePressure, "kPa", decimals);
    let mut sum = words![
        pressure(constant, 1),
        format!(" + {peak_pressure_share} of the peak pressure + "),
        pressure(linear, 1),
        " per m/s of mean piston speed",
    ];
    let (whose, source) = match kind {
        EngineKind::Diesel => ("a diesel's", "Chen and Flynn"),
        EngineKind::SparkIgnition => ("a spark-ignition engine's", COMMON_PRACTICE),
    };
    if quadratic > 0.0 {
        sum = words![sum, " + ", pressure(quadratic, 2), " per its square"];
    }
    if strokes == Strokes::Two {
        let why = "; halved except the peak's part, as a two-stroke's cycle is one turn";
        sum = words![sum, why];
    }
    let said = words![
        format!("using {whose} usual friction: "),
        sum.clone(),
        format!(" ({source})"),
    ];
    reader.absent("friction", said);
    reader.taken("friction", sum, kind.typical().friction_source);
    taken
}

/// Lists what is usual of the pressures in the cylinder where the build leaves it open.
pub(super) fn usual_pressures(
    reader: &Reader<'_>,
    kind: Option<EngineKind>,
    combustion: Option<&Combustion>,
    friction: &Friction,
) {
    if !reader.has("compression_ratio") {
        return;
    }
    let usual = kind.unwrap_or(EngineKind::Diesel).typical();
    let source = usual.pressure_rise_source;
    let key = "combustion.pressure_rise_ratio";
    if combustion.is_some_and(|combustion| combustion.pressure_rise_ratio.is_some()) {
        let value = format!("give or take {:.0} %", 100.0 * usual.pressure_rise_scatter);
        reader.taken(key, &value, COMMON_PRACTICE);
    } else if friction.peak_pressure_share > 0.0 {
        let value = format!("{}, for friction only", usual.pressure_rise_ratio);
        reader.taken(key, &value, source);
    }
    let [low, _, high] = COMPRESSION_EXPONENTS;
    let value = format!("by a polytrope of exponent {low} to {high} from the manifold");
    reader.taken("compression", &value, COMMON_PRACTICE);
}
