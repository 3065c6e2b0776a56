//! The operating line on each turbo compressor's map.

use super::{Named, Scene, rpm, thousands};
use crate::air_path::{CompressorPerformance, Part};
use crate::map::{self, CorrectedFlow, CorrectedSpeed, MapPoint, Region};
use crate::plot::{
    Axis, CompressorMap, Drawing, Island, OperatingLine, OperatingPoint, PlotError, SpeedLine,
};
use crate::quantity::{Kind, UnitSystem};

/// Levels of the efficiency islands.
const LEVELS: [f64; 10] = [0.50, 0.55, 0.60, 0.65, 0.70, 0.72, 0.74, 0.76, 0.78, 0.80];

/// One drawing a turbo compressor that has a map.
pub(super) fn draw(scene: &Scene) -> Result<Vec<Named>, PlotError> {
    draw_named(scene, "")
}

/// The same with something ahead of each title.
pub(super) fn draw_named(scene: &Scene, ahead: &str) -> Result<Vec<Named>, PlotError> {
    let mut drawings = Vec::new();
    for (stage, (name, part)) in scene.layout.stages.iter().enumerate() {
        let Part::TurboCompressor(turbo) = &scene.installation.air_path[*part] else {
            continue;
        };
        let Some(map) = &turbo.map else { continue };
        let by_map = matches!(turbo.performance, CompressorPerformance::Map);
        let points = operating_points(scene, stage, map, by_map);
        let file = match name.strip_prefix("turbo compressor ") {
            Some(number) => format!("compressor_{number}_map.svg"),
            None => "compressor_map.svg".to_owned(),
        };
        let drawing = drawn(scene, map, name, &points, ahead)?;
        drawings.push((file, drawing));
    }
    Ok(drawings)
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

fn drawn(
    scene: &Scene,
    map: &map::CompressorMap,
    name: &str,
    points: &[(f64, MapPoint, f64)],
    ahead: &str,
) -> Result<Drawing, PlotError> {
    let line = OperatingLine {
        name: "engine at full load, rpm".to_owned(),
        points: points
            .iter()
            .map(|(rpm, point, ratio)| OperatingPoint {
                rpm: *rpm,
                flow: point.flow.0,
                ratio: *ratio,
                inside: point.region.is_inside(),
            })
            .collect(),
    };
    let (title, subtitle) = words(map, name, points);
    let title = format!("{ahead}{title}");
    let flow = scene.to_reader(Kind::MassFlow);
    let flow_words = flow_words(scene, map);
    CompressorMap {
        title: &title,
        subtitle: &subtitle,
        note: scene.note(),
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
        operating_lines: vec![line],
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

/// The finding as title, the margins as subtitle.
fn words(
    map: &map::CompressorMap,
    name: &str,
    points: &[(f64, MapPoint, f64)],
) -> (String, String) {
    let who = if name.ends_with(char::is_numeric) {
        format!("The {name}")
    } else {
        "The compressor".to_owned()
    };
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return (
            format!("{who} has no operating point on its map"),
            String::new(),
        );
    };
    let beyond = points
        .iter()
        .find(|(_, point, _)| !point.region.is_inside());
    let title = match beyond {
        None => format!("{who} stays between surge and choke up to {}", rpm(last.0)),
        Some((at, point, _)) => format!("{who} {} {}", side(point.region), place(*at, first.0)),
    };
    (title, margins(map, points))
}

fn side(region: Region) -> &'static str {
    match region {
        Region::Inside => "stays on its map",
        Region::BeyondSurge(_) => "runs left of surge",
        Region::BeyondChoke(_) => "runs beyond choke",
        Region::OverSpeed(_) => "runs faster than its map",
        Region::UnderSpeed(_) => "runs slower than its map",
        Region::LowRatio(_) | Region::HighRatio(_) => "leaves its map",
    }
}

fn place(at: f64, first: f64) -> String {
    if at > first {
        format!("from {}", rpm(at))
    } else {
        format!("at {}", rpm(at))
    }
}

/// The smallest surge margin and the smallest choke margin, each with its place.
fn margins(map: &map::CompressorMap, points: &[(f64, MapPoint, f64)]) -> String {
    let surge = points
        .iter()
        .filter_map(|(rpm, point, _)| Some((*rpm, map.margins(point).surge_at_same_ratio?)))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let choke = points
        .iter()
        .map(|(rpm, point, _)| (*rpm, map.margins(point).choke))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let surge = surge.map(|(at, margin)| {
        format!(
            "smallest surge margin {:.1} % at {} (same ratio)",
            100.0 * margin,
            rpm(at)
        )
    });
    let choke =
        choke.map(|(at, margin)| format!("choke margin {:.1} % at {}", 100.0 * margin, rpm(at)));
    surge
        .into_iter()
        .chain(choke)
        .collect::<Vec<_>>()
        .join(", ")
}
