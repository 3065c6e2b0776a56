//! The operating line on each turbo compressor's map.

use std::sync::Arc;

use super::{Named, Scene, map_title, remark, thousands};
use crate::air_path::{CompressorPerformance, Part};
use crate::map::{self, CorrectedFlow, CorrectedSpeed, MapPoint};
use crate::plot::{
    Axis, CompressorMap, Drawing, Island, OperatingLine, OperatingPoint, PlotError, SpeedLine,
};
use crate::quantity::{Kind, UnitSystem};
use crate::report::THE_BUILD;

/// Levels of the efficiency islands.
const LEVELS: [f64; 10] = [0.50, 0.55, 0.60, 0.65, 0.70, 0.72, 0.74, 0.76, 0.78, 0.80];

/// A line on one map: its name, and engine speed, point and pressure ratio of each match.
pub(super) struct Track<'a> {
    pub name: &'a str,
    /// Place among the build's line and those beside it, which gives the look in every drawing.
    pub look: usize,
    pub points: Vec<(f64, MapPoint, f64)>,
}

/// One drawing a turbo compressor that has a map, with the lines beside it that run on the same map;
/// the names of those that do not.
pub(super) fn draw(
    scene: &Scene,
    beside: &[Scene],
) -> Result<(Vec<Named>, Vec<String>), PlotError> {
    let mut drawings = Vec::new();
    let mut elsewhere: Vec<String> = Vec::new();
    for (name, map, own) in on_maps(scene) {
        let mut tracks = vec![own];
        for (place, other) in beside.iter().enumerate() {
            let same = on_maps(other)
                .into_iter()
                .find(|(stage, on, _)| *stage == name && (Arc::ptr_eq(on, map) || ***on == **map));
            match same {
                Some((.., track)) => tracks.push(Track {
                    look: place + 1,
                    ..track
                }),
                None if elsewhere.iter().any(|name| name == other.name) => {}
                None => elsewhere.push(other.name.to_owned()),
            }
        }
        let file = match name.strip_prefix("turbo compressor ") {
            Some(number) => format!("compressor_{number}_map.svg"),
            None => "compressor_map.svg".to_owned(),
        };
        drawings.push((file, drawn(scene, map, name, &tracks, "")?));
    }
    Ok((drawings, elsewhere))
}

/// The drawing of the last compressor that has a map, with something ahead of its title.
pub(super) fn draw_last(scene: &Scene, ahead: &str) -> Result<Option<Drawing>, PlotError> {
    let last = on_maps(scene).pop();
    last.map(|(name, map, own)| drawn(scene, map, name, &[own], ahead))
        .transpose()
}

/// Each turbo compressor that has a map: its name, its map, and the line on it.
fn on_maps<'a>(scene: &Scene<'a>) -> Vec<(&'a str, &'a Arc<map::CompressorMap>, Track<'a>)> {
    let mut found = Vec::new();
    for (stage, (name, part)) in scene.layout.stages.iter().enumerate() {
        let Part::TurboCompressor(turbo) = &scene.installation.air_path[*part] else {
            continue;
        };
        let Some(map) = &turbo.map else { continue };
        let by_map = matches!(turbo.performance, CompressorPerformance::Map);
        let track = Track {
            name: scene.name,
            look: 0,
            points: operating_points(scene, stage, map, by_map),
        };
        found.push((name.as_str(), map, track));
    }
    found
}

/// Each match's point on the map.
fn operating_points(
    scene: &Scene,
    stage: usize,
    map: &map::CompressorMap,
    by_map: bool,
) -> Vec<(f64, MapPoint, f64)> {
    let matches = scene.matches();
    let points = matches.filter_map(|found| {
        let state = found.stages.get(stage)?;
        let flow = CorrectedFlow(state.corrected_flow?);
        let point = match state.corrected_speed {
            Some(speed) if by_map => map.at_speed_and_flow(CorrectedSpeed(speed), flow),
            _ => map.at_flow_and_ratio(flow, state.pressure_ratio),
        };
        Some((found.rpm, point, state.pressure_ratio))
    });
    points.collect()
}

/// What a line is called in the key.
fn key_name(track: &Track, alone: bool) -> String {
    if alone {
        "engine at full load, rpm".to_owned()
    } else if track.name == THE_BUILD {
        format!("{THE_BUILD}, engine rpm")
    } else {
        track.name.to_owned()
    }
}

fn operating_line(track: &Track, alone: bool) -> OperatingLine {
    let point = |(rpm, point, ratio): &(f64, MapPoint, f64)| OperatingPoint {
        rpm: *rpm,
        flow: point.flow.0,
        ratio: *ratio,
        inside: point.region.is_inside(),
    };
    OperatingLine {
        name: key_name(track, alone),
        points: track.points.iter().map(point).collect(),
    }
}

/// The lines in their looks: one that runs on another map leaves its place empty.
fn operating_lines(tracks: &[Track]) -> Vec<OperatingLine> {
    let places = tracks.iter().map(|track| track.look + 1).max().unwrap_or(0);
    let at = |look| tracks.iter().find(|track| track.look == look);
    (0..places)
        .map(|look| {
            at(look).map_or_else(OperatingLine::default, |track| {
                operating_line(track, tracks.len() == 1)
            })
        })
        .collect()
}

/// Where the map comes from, in its file's own words, ahead of what stands under every drawing; above
/// it the worst finding about the stage.
fn note(scene: &Scene, map: &map::CompressorMap, name: &str) -> String {
    let stages = &scene.layout.stages;
    let stage = stages.iter().position(|(stage, _)| stage == name);
    let concerns = |finding: &_| stage.is_some_and(|stage| remark::of_map(finding, stage));
    let note = scene.note_with(concerns);
    match (map.origin(), note.rsplit_once('\n')) {
        (Some(origin), Some((finding, standing))) => {
            format!("{finding}\nMap: {origin}. {standing}")
        }
        (Some(origin), None) => format!("Map: {origin}. {note}"),
        (None, _) => note,
    }
}

fn drawn(
    scene: &Scene,
    map: &map::CompressorMap,
    name: &str,
    tracks: &[Track],
    ahead: &str,
) -> Result<Drawing, PlotError> {
    let (title, subtitle) = map_title::words(map, name, tracks);
    let title = map_title::capital(&format!("{ahead}{title}"));
    let flow = scene.to_reader(Kind::MassFlow);
    let flow_words = flow_words(scene, map);
    CompressorMap {
        title: &title,
        subtitle: &subtitle,
        note: &note(scene, map, name),
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
            .map(|island| Island {
                level: island.level,
                label: format!("{:.0} %", 100.0 * island.level),
                rings: island.rings.iter().map(|ring| pairs(ring)).collect(),
            })
            .collect(),
        hull: pairs(&hull(map)),
        operating_lines: operating_lines(tracks),
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
        thousands(speed)
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
