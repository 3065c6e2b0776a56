//! Boost of several builds.

use super::heading::{FrameOf, Heading, SPEED, rpm};
use super::remark;
use super::scene::Scene;
use super::track::meaning;
use crate::plot::{Drawing, Layer, Line, PlotError};
use crate::quantity::{Kind, label, shown};

/// The drawing; none without others to compare with.
pub(super) fn draw(scene: &Scene, others: &[Scene]) -> Result<Option<Drawing>, PlotError> {
    if others.is_empty() {
        return Ok(None);
    }
    let all: Vec<&Scene> = std::iter::once(scene).chain(others).collect();
    let findings = all.iter().map(|one| (one.name, one.findings, one.layout));
    let findings: Vec<_> = findings.collect();
    let heading = Heading {
        title: title(&all),
        subtitle: "full load, comparison of builds".to_owned(),
        note: remark::foot(&findings, remark::of_boost, scene.system, scene.standing()),
    };
    let line = |(place, one): (usize, &&Scene)| {
        Layer::Line(Line::from_rows(
            one.name,
            meaning(place),
            one.boost(),
            &one.jumps(),
        ))
    };
    let layers = all.iter().enumerate().map(line).collect();
    let name = "boost above each build's own site";
    let frame = FrameOf::new(name, Kind::BoostPressure, layers);
    heading.over(SPEED, vec![frame], scene.system).map(Some)
}

/// An engine speed, rpm, with the lines of least and most boost there, Pa.
type Ends<'a> = (f64, (&'a str, f64), (&'a str, f64));

/// The one of two speeds at which the lines lie farther apart, the first of equals.
fn wider<'a>(a: Ends<'a>, b: Ends<'a>) -> Ends<'a> {
    let apart = |(_, low, high): &Ends| high.1 - low.1;
    if apart(&b) > apart(&a) { b } else { a }
}

/// Where the lines lie farthest apart, and which are the outermost there.
fn title(all: &[&Scene]) -> String {
    let lines: Vec<_> = all.iter().map(|one| (one.name, one.boost())).collect();
    let speeds = lines.first().into_iter().flat_map(|(_, rows)| rows);
    let ends = speeds.filter_map(|&(rpm, _)| {
        let there = lines.iter().filter_map(|(name, rows)| {
            let row = rows.iter().find(|row| (row.0 - rpm).abs() < 0.5)?;
            Some((*name, row.1?))
        });
        let there: Vec<(&str, f64)> = there.collect();
        let by_boost = |a: &&(&str, f64), b: &&(&str, f64)| a.1.total_cmp(&b.1);
        Some((
            rpm,
            *there.iter().min_by(by_boost)?,
            *there.iter().max_by(by_boost)?,
        ))
    });
    let Some((at, low, high)) = ends.reduce(wider) else {
        return "No boost to show".to_owned();
    };
    let value = |si| shown(si, Kind::BoostPressure, all[0].system);
    format!(
        "At {} boost runs from {} ({}) to {} {} ({})",
        rpm(at),
        value(low.1),
        low.0,
        value(high.1),
        label(Kind::BoostPressure, all[0].system),
        high.0
    )
}
