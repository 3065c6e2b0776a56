//! `[[air_path]]`: the parts in flow order.

use super::cooler;
use super::document::{Table, Value};
use super::fault::Place;
use super::keys::air_path::{self as key, DUCT_DROP, FILTER_DROP, THROTTLE_DROP};
use super::maps::Maps;
use super::part_words::PART_WORDS;
use super::rated_drop::{self, Need};
use super::reader::Reader;
use super::supercharger;
use super::synonyms;
use crate::air_path::{
    CompressorPerformance, Duct, DuctPressureDrop, Part, PrescribedStage, TurboCompressor,
};
use crate::quantity::words;

/// The words of the parts, by their place in [`PART_WORDS`].
const WORDS: [(&str, usize); 6] = [
    (PART_WORDS[0], 0),
    (PART_WORDS[1], 1),
    (PART_WORDS[2], 2),
    (PART_WORDS[3], 3),
    (PART_WORDS[4], 4),
    (PART_WORDS[5], 5),
];

/// The parts that could be read.
pub(super) struct AirPath {
    pub(super) parts: Vec<Part>,
    /// Whether these are all parts that were written.
    pub(super) complete: bool,
}

/// Reads all parts.
pub(super) fn read(root: &Reader<'_>, site_temperature: f64, maps: &Maps<'_>) -> AirPath {
    if !root.has("air_path") {
        let text = "no parts are listed: the engine breathes ambient air without losses";
        root.remark("air_path", text);
    }
    let mut seen = [0_usize; PART_WORDS.len()];
    let mut parts = Vec::new();
    let written = root.sections("air_path").unwrap_or_default();
    let count = written.len();
    for (table, place) in written {
        parts.extend(read_part(
            root,
            table,
            place,
            &mut seen,
            site_temperature,
            maps,
        ));
    }
    AirPath {
        complete: parts.len() == count && !root.is_misnamed("air_path"),
        parts,
    }
}

fn read_part(
    root: &Reader<'_>,
    table: &Table,
    place: Place,
    seen: &mut [usize; PART_WORDS.len()],
    site_temperature: f64,
    maps: &Maps<'_>,
) -> Option<Part> {
    let unnamed = Reader::new(table, place.clone(), "air_path", root.context());
    if !unnamed.has("part") {
        let misnamed = ["type", "kind", "name"].into_iter().find(|key| {
            let node = table.get(key).map(|node| &node.value);
            matches!(node, Some(Value::Text(text)) if synonyms::part(text, &PART_WORDS).is_some())
        });
        if let Some(key) = misnamed {
            unnamed.fault(key, "names a part: write it as part = …");
        } else {
            let words = PART_WORDS.join(", ");
            let text = format!("is missing: say which part this is, one of {words}");
            unnamed.fault("part", text);
        }
        return None;
    }
    let word = match &table.get("part")?.value {
        Value::Text(text) => synonyms::part(text, &PART_WORDS),
        _ => None,
    };
    let known = PART_WORDS.iter().position(|known| Some(*known) == word);
    let which = known.or_else(|| unnamed.word(&key::PART, &WORDS))?;
    seen[which] += 1;
    let path = match seen[which] {
        1 => PART_WORDS[which].to_owned(),
        number => format!("{}.{number}", PART_WORDS[which]),
    };
    let reader = Reader::new(table, place, &path, root.context());
    reader.node("part");
    let part = match which {
        0 => rated_drop::read(&reader, &FILTER_DROP, Need::Needed).map(Part::Filter),
        1 => duct(&reader).map(Part::Duct),
        2 => supercharger::read(&reader, maps).map(|part| Part::Supercharger(Box::new(part))),
        3 => turbo_compressor(&reader, maps).map(Part::TurboCompressor),
        4 => cooler::read(&reader, site_temperature).map(Part::Cooler),
        _ => rated_drop::read(&reader, &THROTTLE_DROP, Need::Needed).map(Part::Throttle),
    };
    reader.finish();
    part
}

fn duct(reader: &Reader<'_>) -> Option<Duct> {
    let sizes = reader.has("diameter") || reader.has("length") || reader.has("bends");
    if !sizes {
        if !reader.has("pressure_drop") {
            let text = "is missing: a duct needs diameter and length, or pressure_drop and at_flow";
            reader.is_missing_one_of(&["diameter", "length", "pressure_drop"], text);
            return None;
        }
        let drop = rated_drop::read(reader, &DUCT_DROP, Need::Needed)?;
        return Some(Duct {
            pressure_drop: DuctPressureDrop::Rated(drop),
        });
    }
    let diameter = reader.needed(&key::DIAMETER);
    let length = reader.needed(&key::LENGTH);
    let bends = reader.value_or_default(&key::BENDS);
    Some(Duct {
        pressure_drop: DuctPressureDrop::Pipe {
            diameter: diameter?,
            length: length?,
            bends: bends?,
        },
    })
}

fn turbo_compressor(reader: &Reader<'_>, maps: &Maps<'_>) -> Option<TurboCompressor> {
    let max_speed = reader.value(&key::MAX_SPEED);
    let map = if reader.has("map") {
        maps.compressor(reader, key::MAP.name)
    } else {
        None
    };
    let ratio = reader.schedule(&key::PRESSURE_RATIO);
    let efficiency = reader.schedule(&key::EFFICIENCY);
    if reader.has("map") && map.is_none() {
        return None;
    }
    if !reader.has("efficiency") && !reader.has("map") {
        let text = words![key::EFFICIENCY.missing(), "; or map = \"compressor.csv\"",];
        reader.is_missing_one_of(&["efficiency", "map", "pressure_ratio"], text);
        return None;
    }
    if reader.has("efficiency") && efficiency.is_none() {
        return None;
    }
    let performance = if reader.has("pressure_ratio") {
        CompressorPerformance::Prescribed(PrescribedStage {
            pressure_ratio: ratio?,
            efficiency,
        })
    } else if map.is_some() {
        if reader.has("efficiency") {
            reader.remark("efficiency", "is not used: the map gives it");
        }
        CompressorPerformance::Map
    } else {
        CompressorPerformance::Efficiency(efficiency?)
    };
    Some(TurboCompressor {
        performance,
        map,
        max_speed,
    })
}
