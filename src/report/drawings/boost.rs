//! Boost by the supercharger alone, by the turbo alone, and together: the drawing that explains the
//! layout.

use super::split::events;
use super::{SPEED, Scene, limit_words, remark};
use crate::matching::{Drive, Match};
use crate::plot::{Axis, Drawing, Event, LayoutBoost, Limit, PlotError};
use crate::quantity::{Kind, label, shown};
use crate::study::Answer;

/// The drawing; none unless one stage is driven by the belt and one by a turbine.
pub(super) fn draw(scene: &Scene) -> Result<Option<Drawing>, PlotError> {
    let both = scene.matches().next().is_some_and(|found| {
        let has = |drive| found.stages.iter().any(|stage| stage.drive == drive);
        has(Drive::Belt) && has(Drive::Turbine)
    });
    let Some(alone) = scene.line.alone.as_ref().filter(|_| both) else {
        return Ok(None);
    };
    let site = scene.installation.site.pressure;
    let boost = |found: &Match| found.manifold_pressure - site;
    let together: Vec<_> = scene
        .line
        .points
        .iter()
        .map(|point| (point.rpm, point.outcome.as_ref().ok().map(boost)))
        .collect();
    let mut marks = events(scene);
    if let Some(gate) = scene.line.gate_opens {
        marks.push(Event {
            at: gate,
            words: format!("wastegate {}", super::rpm(gate)),
        });
    }
    let words = scene.words("boost", Kind::BoostPressure);
    let to_reader = scene.to_reader(Kind::BoostPressure);
    LayoutBoost {
        title: &scene.title(remark::of_boost, title(scene, &together)),
        subtitle: "the supercharger alone, the turbo alone (rotors out), and both",
        note: &scene.note_with(remark::of_boost),
        speed: SPEED,
        boost: Axis {
            words: &words,
            shown: &to_reader,
        },
        supercharger_alone: alone.supercharger.clone(),
        turbo_alone: alone.turbo.clone(),
        together,
        jumps: scene.jumps(),
        events: marks,
        limits: limits(scene),
        bands: scene.bands(Answer::Boost),
    }
    .draw()
    .map(Some)
}

/// The build's limit of manifold pressure, which stands for boost here.
fn limits(scene: &Scene) -> Vec<Limit> {
    let limit = scene.installation.limits.max_manifold_pressure;
    let mark = limit.map(|pressure| {
        let boost = pressure - scene.installation.site.pressure;
        Limit {
            at: boost,
            words: limit_words(boost, Kind::BoostPressure, scene.system),
        }
    });
    mark.into_iter().collect()
}

fn title(scene: &Scene, together: &[(f64, Option<f64>)]) -> String {
    let first = together
        .iter()
        .find_map(|(rpm, boost)| Some((*rpm, (*boost)?)));
    let top = together
        .iter()
        .rev()
        .find_map(|(rpm, boost)| Some((*rpm, (*boost)?)));
    let value = |si| {
        format!(
            "{} {}",
            shown(si, Kind::BoostPressure, scene.system),
            label(Kind::BoostPressure, scene.system)
        )
    };
    match (first, top) {
        (Some((low, at_low)), Some((high, _))) if low >= high => {
            format!("Boost is {} at {}", value(at_low), super::rpm(low))
        }
        (Some((low, at_low)), Some((high, at_high))) => format!(
            "Boost is {} at {} and {} at {}",
            value(at_low),
            super::rpm(low),
            value(at_high),
            super::rpm(high)
        ),
        _ => "No boost was found".to_owned(),
    }
}
