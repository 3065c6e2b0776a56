//! Boost of several lines beside each other.

use super::{SPEED, Scene, remark, rpm};
use crate::plot::{Axis, Drawing, LinesBeside, PlotError, Series};
use crate::quantity::{Kind, label, shown};

/// The drawing; none without lines beside the build's own.
pub(super) fn draw(scene: &Scene, beside: &[Scene]) -> Result<Option<Drawing>, PlotError> {
    if beside.is_empty() {
        return Ok(None);
    }
    let all: Vec<&Scene> = std::iter::once(scene).chain(beside).collect();
    let words = scene.words("boost, each above its own site", Kind::BoostPressure);
    let to_reader = scene.to_reader(Kind::BoostPressure);
    LinesBeside {
        title: &title(&all),
        subtitle: "full load, lines beside each other",
        note: &remark::foot_of_several(
            all.iter().map(|one| (one.name, one.findings, one.layout)),
            remark::of_boost,
            scene.system,
            scene.note(),
        ),
        speed: SPEED,
        value: Axis {
            words: &words,
            shown: &to_reader,
        },
        lines: all
            .iter()
            .map(|one| Series::with_jumps(one.name, rows(one), &one.jumps()))
            .collect(),
    }
    .draw()
    .map(Some)
}

/// Engine speed and boost, Pa.
fn rows(scene: &Scene) -> Vec<(f64, Option<f64>)> {
    let site = scene.installation.site.pressure;
    let points = scene.line.points.iter();
    points
        .map(|point| {
            let found = point.outcome.as_ref().ok();
            (point.rpm, found.map(|found| found.manifold_pressure - site))
        })
        .collect()
}

/// Where the lines lie farthest apart, and which are the outermost there.
fn title(all: &[&Scene]) -> String {
    let lines: Vec<_> = all.iter().map(|one| (one.name, rows(one))).collect();
    let mut widest: Option<(f64, [(&str, f64); 2])> = None;
    let speeds = lines.first().into_iter().flat_map(|(_, rows)| rows);
    for &(rpm, _) in speeds {
        let there = lines.iter().filter_map(|(name, rows)| {
            let row = rows.iter().find(|row| (row.0 - rpm).abs() < 0.5)?;
            Some((*name, row.1?))
        });
        let there: Vec<(&str, f64)> = there.collect();
        let least = there.iter().copied().min_by(|a, b| a.1.total_cmp(&b.1));
        let most = there.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1));
        if let (Some(least), Some(most)) = (least, most)
            && widest.is_none_or(|(_, [low, high])| most.1 - least.1 > high.1 - low.1)
        {
            widest = Some((rpm, [least, most]));
        }
    }
    let Some((at, [low, high])) = widest else {
        return "No boost was found".to_owned();
    };
    let value = |si| shown(si, Kind::BoostPressure, all[0].system);
    let unit = label(Kind::BoostPressure, all[0].system);
    format!(
        "At {} boost runs from {} ({}) to {} {unit} ({})",
        rpm(at),
        value(low.1),
        low.0,
        value(high.1),
        high.0
    )
}
