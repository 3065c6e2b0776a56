//! Boost by the supercharger alone, by the turbo alone, and together: the drawing that explains the
//! layout.

use super::heading::{FrameOf, SPEED, limit_words, rpm};
use super::remark;
use super::scene::Scene;
use super::scene::event;
use crate::matching::Drive;
use crate::plot::{Drawing, Layer, Line, Mark, Meaning, PlotError};
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
    let together = scene.boost();
    let heading = scene.heading(
        remark::of_boost,
        title(scene, &together),
        "the supercharger alone, the turbo alone (supercharger removed), and both together",
    );
    let mut layers: Vec<Layer> = scene.band(Answer::Boost).into_iter().collect();
    layers.extend(scene.hand_overs());
    layers.extend(scene.line.gate_opens.map(|gate| event("wastegate", gate)));
    layers.extend(limit(scene));
    for (name, meaning, rows, jumps) in [
        ("together", Meaning::Together, together, scene.jumps()),
        (
            "turbo alone",
            Meaning::Turbo,
            alone.turbo.clone(),
            Vec::new(),
        ),
        (
            "supercharger alone",
            Meaning::Supercharger,
            alone.supercharger.clone(),
            Vec::new(),
        ),
    ] {
        layers.push(Layer::Line(Line::from_rows(name, meaning, rows, &jumps)));
    }
    let frame = FrameOf::new("boost at the manifold", Kind::BoostPressure, layers);
    heading.over(SPEED, vec![frame], scene.system).map(Some)
}

/// The build's limit of manifold pressure, which stands for boost here.
fn limit(scene: &Scene) -> Option<Layer> {
    let at = scene.installation.limits.max_manifold_pressure? - scene.installation.site.pressure;
    let words = limit_words(at, Kind::BoostPressure, scene.system);
    Some(Layer::Limit(Mark { at, words }))
}

fn title(scene: &Scene, together: &[(f64, Option<f64>)]) -> String {
    let known = || {
        together
            .iter()
            .filter_map(|&(rpm, boost)| Some((rpm, boost?)))
    };
    let value = |si| {
        let unit = label(Kind::BoostPressure, scene.system);
        format!("{} {unit}", shown(si, Kind::BoostPressure, scene.system))
    };
    match (known().next(), known().next_back()) {
        (Some((low, at_low)), Some((high, _))) if low >= high => {
            format!("Boost is {} at {}", value(at_low), rpm(low))
        }
        (Some((low, at_low)), Some((high, at_high))) => format!(
            "Boost is {} at {} and {} at {}",
            value(at_low),
            rpm(low),
            value(at_high),
            rpm(high)
        ),
        _ => "No boost to show".to_owned(),
    }
}
