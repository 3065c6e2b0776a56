//! Who makes the boost, over engine speed.

use super::{SPEED, Scene, rpm};
use crate::plot::{Axis, Drawing, Event, PlotError, Split, StageShare};
use crate::study::HandOverDirection;

/// The split; none for fewer than two stages.
pub(super) fn draw(scene: &Scene) -> Result<Option<Drawing>, PlotError> {
    if scene.layout.stages.len() < 2 {
        return Ok(None);
    }
    let matches: Vec<_> = scene.matches().collect();
    let stages = scene
        .layout
        .stages
        .iter()
        .enumerate()
        .map(|(i, (name, _))| StageShare {
            name: name.replacen("turbo compressor", "turbo", 1),
            shares: matches
                .iter()
                .map(|found| found.stages[i].split_share)
                .collect(),
        });
    Split {
        title: &title(scene),
        subtitle: "share of the total pressure ratio, by logarithm",
        note: scene.note(),
        speed: SPEED,
        share: Axis {
            words: "share, %",
            shown: &|share| 100.0 * share,
        },
        speeds: matches.iter().map(|found| found.rpm).collect(),
        stages: stages.collect(),
        events: events(scene),
    }
    .draw()
    .map(Some)
}

/// Marks of the hand-overs.
pub(super) fn events(scene: &Scene) -> Vec<Event> {
    let marks = scene.line.hand_over.iter().map(|hand_over| Event {
        at: hand_over.rpm,
        words: match hand_over.direction {
            HandOverDirection::ToTurbo => format!("hand-over {}", rpm(hand_over.rpm)),
            HandOverDirection::ToSupercharger => format!("back {}", rpm(hand_over.rpm)),
        },
    });
    marks.collect()
}

fn title(scene: &Scene) -> String {
    if let Some(first) = scene.line.hand_over.first() {
        return match first.direction {
            HandOverDirection::ToTurbo => {
                format!(
                    "The supercharger hands over to the turbo at {}",
                    rpm(first.rpm)
                )
            }
            HandOverDirection::ToSupercharger => {
                format!("The supercharger takes over again at {}", rpm(first.rpm))
            }
        };
    }
    let first = scene.matches().next();
    let share = first.and_then(|found| Some((found.rpm, found.stages.first()?.split_share?)));
    let name = scene
        .layout
        .stages
        .first()
        .map_or("first stage", |(name, _)| name.as_str());
    match share {
        Some((at, share)) => {
            format!(
                "The {name} makes {:.0} % of the pressure ratio at {}",
                100.0 * share,
                rpm(at)
            )
        }
        None => "Neither stage raises the pressure".to_owned(),
    }
}
