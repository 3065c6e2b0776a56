//! The operating line on each compressor map: the turbo compressors', and that of a supercharger with
//! a wheel.

use std::sync::Arc;

use super::scene::Scene;
use super::track::{Track, meaning};
use super::{map_title, remark};
use crate::map;
use crate::plot::{
    Axis, CompressorMap, Contour, Drawing, OperatingLine, OperatingPoint, PlotError, SpeedLine,
    number,
};
use crate::quantity::{Kind, UnitSystem, reader_value};
use crate::report::fields::line::THE_BUILD;
use crate::study::{LineOnMap, MatchOnMap, on_maps};

/// Levels of the efficiency islands.
const LEVELS: [f64; 10] = [0.50, 0.55, 0.60, 0.65, 0.70, 0.72, 0.74, 0.76, 0.78, 0.80];

/// A stage with its map.
#[derive(Clone, Copy)]
struct Stage<'a> {
    index: usize,
    name: &'a str,
    map: &'a map::CompressorMap,
    /// Whether others of the build have maps too.
    is_one_of_several: bool,
}

impl Stage<'_> {
    /// What a title calls it.
    fn called(&self) -> String {
        match self.name {
            "turbo compressor" if !self.is_one_of_several => "the compressor".to_owned(),
            name => format!("the {name}"),
        }
    }

    /// "compressor_map.svg", "supercharger_2_map.svg".
    fn file(&self) -> String {
        let name = self.name.replacen("turbo compressor", "compressor", 1);
        format!("{}_map.svg", name.replace(' ', "_"))
    }
}

/// A drawing with its file name.
type Named = (String, Drawing);

/// One drawing a stage that has a map, with the compared lines that run on the same map; the names of
/// those that do not.
pub(super) fn draw(
    scene: &Scene,
    others: &[Scene],
) -> Result<(Vec<Named>, Vec<String>), PlotError> {
    let mut drawings = Vec::new();
    let mut elsewhere: Vec<String> = Vec::new();
    for (stage, own) in stages(scene) {
        let mut tracks = vec![own];
        for (place, other) in others.iter().enumerate() {
            let same = on_maps(other.installation, other.layout, other.line)
                .into_iter()
                .find(|on| {
                    on.name == stage.name
                        && (std::ptr::eq(Arc::as_ptr(on.map), stage.map) || **on.map == *stage.map)
                });
            match same {
                Some(on) => tracks.push(Track::new(other, place + 1, on)),
                None if elsewhere.iter().any(|name| name == other.name) => {}
                None => elsewhere.push(other.name.to_owned()),
            }
        }
        drawings.push((stage.file(), drawn(scene, stage, &tracks, "")?));
    }
    Ok((drawings, elsewhere))
}

/// The drawing of the last turbo compressor that has a map, with something ahead of its title.
pub(super) fn draw_ranked(scene: &Scene, ahead: &str) -> Result<Option<Drawing>, PlotError> {
    let ranked = stages(scene)
        .into_iter()
        .rfind(|(stage, _)| stage.name.starts_with("turbo compressor"));
    ranked
        .map(|(stage, own)| drawn(scene, stage, &[own], ahead))
        .transpose()
}

/// Each stage that has a map, with the line on it.
fn stages<'a>(scene: &Scene<'a>) -> Vec<(Stage<'a>, Track<'a>)> {
    let all = on_maps(scene.installation, scene.layout, scene.line);
    let is_one_of_several = all.len() > 1;
    let one = |on: LineOnMap<'a>| {
        let stage = Stage {
            index: on.stage,
            name: on.name,
            map: on.map,
            is_one_of_several,
        };
        (stage, Track::new(scene, 0, on))
    };
    all.into_iter().map(one).collect()
}

/// What a line is called in the legend.
fn legend_name(track: &Track, alone: bool) -> String {
    if alone {
        "engine at full load, rpm".to_owned()
    } else if track.name == THE_BUILD {
        format!("{THE_BUILD}, engine rpm")
    } else {
        track.name.to_owned()
    }
}

fn operating_line(track: &Track, alone: bool) -> OperatingLine {
    let point = |placed: &MatchOnMap| OperatingPoint {
        rpm: placed.rpm,
        at: [placed.point.flow.0, placed.ratio],
        inside: placed.point.region.is_inside(),
    };
    OperatingLine {
        name: legend_name(track, alone),
        meaning: meaning(track.look),
        points: track.points.iter().map(point).collect(),
        jumps: track.jumps.clone(),
        gaps: track.gaps.clone(),
    }
}

/// Where the map comes from, in its file's own words, ahead of what stands under every drawing; above
/// it the worst finding about the stage.
fn note(scene: &Scene, stage: Stage) -> String {
    let note = scene.note_with(|finding| remark::of_map(finding, stage.index));
    match (stage.map.origin(), note.rsplit_once('\n')) {
        (Some(origin), Some((finding, standing))) => {
            format!("{finding}\nMap: {origin}. {standing}")
        }
        (Some(origin), None) => format!("Map: {origin}. {note}"),
        (None, _) => note,
    }
}

fn drawn(scene: &Scene, stage: Stage, tracks: &[Track], ahead: &str) -> Result<Drawing, PlotError> {
    let map = stage.map;
    let (title, subtitle) = map_title::words(map, &stage.called(), tracks, ahead);
    let flow = |si| reader_value(si, Kind::MassFlow, scene.system);
    let flow_words = flow_words(scene, map);
    CompressorMap {
        title: &title,
        subtitle: &subtitle,
        note: &note(scene, stage),
        flow: Axis {
            words: &flow_words,
            shown: &flow,
        },
        ratio: Axis {
            words: "pressure ratio, total to total",
            shown: &|ratio| ratio,
        },
        speed_words: "corrected speed, rpm",
        speed_lines: map
            .speed_lines()
            .into_iter()
            .map(|line| SpeedLine {
                label: speed_label(line.speed.0),
                points: pairs(&line.points),
            })
            .collect(),
        surge: pairs(&map.surge_edge()),
        choke: pairs(&map.choke_edge()),
        islands: map::efficiency_islands(map, &LEVELS)
            .into_iter()
            .map(|island| Contour {
                level: island.level,
                label: format!("{:.0} %", 100.0 * island.level),
                rings: island.rings.iter().map(|ring| pairs(ring)).collect(),
            })
            .collect(),
        hull: pairs(&hull(map)),
        operating_lines: tracks
            .iter()
            .map(|track| operating_line(track, tracks.len() == 1))
            .collect(),
    }
    .draw()
}

fn pairs(points: &[(f64, f64)]) -> Vec<[f64; 2]> {
    points.iter().map(|&(flow, ratio)| [flow, ratio]).collect()
}

/// The outline of the data: up the surge edge, along the fastest line, down the choke edge, back
/// along the slowest line.
fn hull(map: &map::CompressorMap) -> Vec<(f64, f64)> {
    let lines = map.speed_lines();
    let (Some(slowest), Some(fastest)) = (lines.first(), lines.last()) else {
        return Vec::new();
    };
    let mut hull = map.surge_edge();
    hull.extend(&fastest.points);
    hull.extend(map.choke_edge().into_iter().rev());
    hull.extend(slowest.points.iter().rev());
    hull
}

/// "130k" for a speed in whole thousands, "82.7k" in hundreds, else the number.
fn speed_label(speed: f64) -> String {
    let hundreds = (speed / 100.0).round();
    if (speed - 100.0 * hundreds).abs() > 0.5 || hundreds < 10.0 {
        number(speed, 1.0)
    } else if hundreds % 10.0 < 0.5 {
        format!("{:.0}k", hundreds / 10.0)
    } else {
        format!("{:.1}k", hundreds / 10.0)
    }
}

/// The reference state stands in the axis' words.
fn flow_words(scene: &Scene, map: &map::CompressorMap) -> String {
    let reference = map.reference();
    let shown = |si, kind| crate::quantity::shown(si, kind, scene.system);
    match scene.system {
        UnitSystem::Si => format!(
            "corrected flow, kg/s at {:.2} K, {} kPa",
            reference.temperature,
            shown(reference.pressure, Kind::AbsolutePressure)
        ),
        UnitSystem::Us => format!(
            "corrected flow, lb/min at {} °F, {} psi",
            shown(reference.temperature, Kind::Temperature),
            shown(reference.pressure, Kind::AbsolutePressure)
        ),
    }
}
