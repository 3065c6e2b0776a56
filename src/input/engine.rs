//! `[engine]` and its sections: breathing, combustion, friction, head.

use std::f64::consts::PI;

use super::document::Value;
use super::keys::engine::{self as key, KINDS};
use super::reader::Reader;
use super::{friction, head};
use crate::engine::{Combustion, Engine, EngineKind, FuelKind, SpeedRange, Strokes};
use crate::quantity::words;

/// More speeds than this are a slip of the step.
const MOST_SPEEDS: f64 = 2_000.0;

/// Reads the engine; the fuel's kind says which kind of engine it is where the build does not.
pub(super) fn read(root: &Reader<'_>, fuel: Option<FuelKind>) -> Option<Engine> {
    if !root.has("engine") {
        let text = "is missing: an engine needs displacement, volumetric_efficiency and rpm";
        root.is_missing("engine", text.to_owned());
    }
    let reader = root.section("engine")?;
    let engine = read_section(&reader, fuel);
    reader.finish();
    engine
}

fn read_section(reader: &Reader<'_>, fuel: Option<FuelKind>) -> Option<Engine> {
    let kind = kind(reader, fuel);
    let size = size(reader);
    let strokes = strokes(reader);
    let compression_ratio = reader.value(&key::COMPRESSION_RATIO);
    let volumetric_efficiency = reader.needed_schedule(&key::VOLUMETRIC_EFFICIENCY);
    let measured_at = reader.value_or_default(&key::MEASURED_AT_EXHAUST_PRESSURE_RATIO);
    let speeds = speeds(reader);
    let combustion = combustion(reader);
    let friction = friction::read(reader, kind, strokes);
    let head = head::read(reader);
    if let Some(friction) = &friction {
        friction::usual_pressures(reader, kind, combustion.as_ref(), friction);
    }
    let size = size?;
    Some(Engine {
        kind,
        displacement: size.displacement,
        cylinders: size.cylinders,
        bore: size.bore,
        stroke: size.stroke,
        strokes: strokes?,
        compression_ratio,
        volumetric_efficiency: volumetric_efficiency?,
        measured_at_exhaust_pressure_ratio: measured_at?,
        speeds: speeds?,
        combustion,
        friction: friction?,
        head,
    })
}

struct Size {
    displacement: f64,
    cylinders: Option<u32>,
    bore: Option<f64>,
    stroke: Option<f64>,
}

fn size(reader: &Reader<'_>) -> Option<Size> {
    let cylinders = reader.value(&key::CYLINDERS);
    let stroke = reader.value(&key::STROKE);
    let bore = reader.value(&key::BORE);
    let written = reader.value(&key::DISPLACEMENT);
    let from_bore = match (bore, stroke, cylinders) {
        (Some(bore), Some(stroke), Some(count)) => Some(PI / 4.0 * bore * bore * stroke * count),
        _ => None,
    };
    let sized = ["bore", "stroke", "cylinders"]
        .into_iter()
        .all(|key| reader.has(key));
    if !reader.has("displacement") && !sized {
        let text = words![
            key::DISPLACEMENT.missing(),
            " (or set bore, stroke and cylinders)",
        ];
        reader.is_missing_one_of(&["displacement", "bore", "stroke", "cylinders"], text);
    }
    let displacement = written.or(from_bore)?;
    let bore = bore.or_else(|| {
        let area = displacement / (stroke? * cylinders?);
        Some((4.0 / PI * area).sqrt())
    });
    let stroke = stroke.or_else(|| {
        let area = PI / 4.0 * bore? * bore? * cylinders?;
        Some(displacement / area)
    });
    if stroke.is_none() {
        reader.absent(
            "stroke",
            "friction, and so brake power, cannot be calculated without it",
        );
    }
    Some(Size {
        displacement,
        cylinders: cylinders.map(count),
        bore,
        stroke,
    })
}

/// A count that its [`Spec`](super::keys::spec::Spec) has held to whole numbers in range.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked by its row"
)]
fn count(value: f64) -> u32 {
    value as u32
}

fn strokes(reader: &Reader<'_>) -> Option<Strokes> {
    if !reader.has("strokes") {
        reader.say_default(&key::STROKES);
        return Some(Strokes::Four);
    }
    match count(reader.value(&key::STROKES)?.clamp(0.0, 100.0)) {
        2 => Some(Strokes::Two),
        4 => Some(Strokes::Four),
        other => {
            reader.fault(
                "strokes",
                format!("is {other}; expected 4 (four-stroke) or 2 (two-stroke)"),
            );
            None
        }
    }
}

fn speeds(reader: &Reader<'_>) -> Option<SpeedRange> {
    let example = "rpm = { from = 1200, to = 3200, step = 200 }";
    let Some(node) = reader.node("rpm") else {
        reader.is_missing(
            "rpm",
            format!("is missing; expected the speeds of the line, e.g. {example}"),
        );
        return None;
    };
    if !matches!(node.value, Value::Table(_)) {
        reader.fault(
            "rpm",
            format!("is {}; expected a range: {example}", node.value.name()),
        );
        return None;
    }
    let range = reader.section("rpm")?;
    let from = range.needed(&key::RPM_FROM);
    let to = range.needed(&key::RPM_TO);
    let one_point = matches!((from, to), (Some(from), Some(to)) if from >= to);
    if !range.has("step") && !one_point {
        range.is_missing(
            "step",
            "is missing; expected a number of rpm, e.g. step = 200".to_owned(),
        );
    }
    let step = range.value(&key::RPM_STEP);
    if let (Some(from), Some(to)) = (from, to) {
        if from > to {
            range.fault("to", format!("{to} rpm is below from, {from} rpm"));
        }
        if let Some(step) = step
            && (to - from) / step > MOST_SPEEDS
        {
            range.fault(
                "step",
                format!("{step} rpm makes more than {MOST_SPEEDS} points: set a larger one"),
            );
        }
    }
    range.finish();
    let (from, to) = (from?, to?);
    let step = match step {
        Some(step) => step,
        None if one_point => 1.0,
        None => return None,
    };
    Some(SpeedRange { from, to, step })
}

fn combustion(reader: &Reader<'_>) -> Option<Combustion> {
    let section = reader.section("combustion")?;
    let gross_indicated_efficiency = section.needed_schedule(&key::GROSS_INDICATED_EFFICIENCY);
    let heat_loss_share = section.needed_schedule(&key::HEAT_LOSS_SHARE);
    let pressure_rise_ratio = section.schedule(&key::PRESSURE_RISE_RATIO);
    if let (Some(work), Some(heat)) = (&gross_indicated_efficiency, &heat_loss_share) {
        let speeds = work.rows().iter().chain(heat.rows()).map(|row| row.0);
        if let Some(rpm) = speeds
            .into_iter()
            .find(|rpm| work.at(*rpm) + heat.at(*rpm) >= 1.0)
        {
            let text = format!(
                "and gross_indicated_efficiency add up to more than the fuel's heat near {rpm:.0} rpm; nothing is \
                 left for the exhaust"
            );
            section.fault("heat_loss_share", text);
        }
    }
    section.finish();
    Some(Combustion {
        gross_indicated_efficiency: gross_indicated_efficiency?,
        heat_loss_share: heat_loss_share?,
        pressure_rise_ratio,
    })
}

/// How the charge is lit: as written, else as the fuel wants it.
fn kind(reader: &Reader<'_>, fuel: Option<FuelKind>) -> Option<EngineKind> {
    let of_fuel = fuel.map(FuelKind::engine_kind);
    if !reader.has("kind") {
        if let Some(kind) = of_fuel {
            reader.taken("kind", name(kind), "the fuel's kind");
        }
        return of_fuel;
    }
    let written = reader.word(&key::KIND, &KINDS)?;
    if of_fuel.is_some_and(|kind| kind != written) {
        let text = "does not match fuel.kind; using it as written";
        reader.remark("kind", text);
    }
    Some(written)
}

fn name(kind: EngineKind) -> &'static str {
    KINDS
        .iter()
        .find(|(_, known)| *known == kind)
        .map_or("", |(word, _)| word)
}
