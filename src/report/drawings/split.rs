//! Who makes the boost, over engine speed.

use super::heading::{FrameOf, SPEED, rpm};
use super::remark;
use super::scene::Scene;
use crate::matching::{Drive, Match};
use crate::plot::{Amount, Drawing, Meaning, PlotError, stacked};
use crate::quantity::Kind;
use crate::study::{HandOver, HandOverDirection};

/// The split; none for fewer than two stages.
pub(super) fn draw(scene: &Scene) -> Result<Option<Drawing>, PlotError> {
    if scene.layout.stages.len() < 2 {
        return Ok(None);
    }
    let rows = rows(scene);
    let speeds: Vec<f64> = rows.iter().map(|(rpm, _)| *rpm).collect();
    let stages = scene.layout.stages.iter().enumerate();
    let amount = |(place, (name, _)): (usize, &(String, _))| Amount {
        name: name.replacen("turbo compressor", "turbo", 1),
        meaning: meaning(name),
        values: rows.iter().map(|(_, shares)| shares[place]).collect(),
    };
    let amounts: Vec<Amount> = stages.map(amount).collect();
    let mut layers = stacked(&speeds, &amounts, &scene.jumps())?;
    layers.extend(scene.events_of_areas());
    let heading = scene.heading(
        remark::of_split,
        title(scene),
        "share of the total pressure ratio, by logarithm",
    );
    let frame = FrameOf {
        // Speeds without a match keep their room, and the whole is always in sight.
        covers: speeds
            .iter()
            .flat_map(|&rpm| [[rpm, 0.0], [rpm, 1.0]])
            .collect(),
        ..FrameOf::new("share", Kind::Share, layers)
    };
    heading.over(SPEED, vec![frame], scene.system).map(Some)
}

/// The meaning of a stage by its name.
fn meaning(stage: &str) -> Meaning {
    let is_first = !stage.ends_with(char::is_numeric);
    match (stage.starts_with("supercharger"), is_first) {
        (true, true) => Meaning::Supercharger,
        (true, false) => Meaning::SecondSupercharger,
        (false, true) => Meaning::Turbo,
        (false, false) => Meaning::SecondTurbo,
    }
}

/// Engine speed and share of each stage, rising in speed: at every speed of the line, and of one supercharger and
/// one turbo also at the hand-overs, where the supercharger's ratio is 1 and its share 0. Without
/// them a line between two far speeds would cross zero away from the mark.
fn rows(scene: &Scene) -> Vec<(f64, Vec<Option<f64>>)> {
    let count = scene.layout.stages.len();
    let at_speed = |(rpm, found): (f64, Option<&Match>)| {
        let shares = found.map_or_else(
            || vec![None; count],
            |found| found.stages.iter().map(|stage| stage.split_share).collect(),
        );
        (rpm, shares)
    };
    let mut rows: Vec<(f64, Vec<Option<f64>>)> = scene.speeds().map(at_speed).collect();
    let drives: Vec<Drive> = scene.matches().next().map_or_else(Vec::new, |found| {
        found.stages.iter().map(|stage| stage.drive).collect()
    });
    if let [Drive::Belt, Drive::Turbine] | [Drive::Turbine, Drive::Belt] = drives[..] {
        let jumps = scene.jumps();
        let crossed = |at: f64| jumps.iter().any(|&(a, b)| a < at && at < b);
        let hand_overs = scene.line.hand_over.iter();
        for hand_over in hand_overs.filter(|one| !crossed(one.rpm)) {
            let share = |drive: &Drive| Some(if *drive == Drive::Belt { 0.0 } else { 1.0 });
            let place = rows.partition_point(|row| row.0 < hand_over.rpm);
            rows.insert(place, (hand_over.rpm, drives.iter().map(share).collect()));
        }
    }
    rows
}

fn title(scene: &Scene) -> String {
    if let [first, rest @ ..] = &scene.line.hand_over[..] {
        let words = |hand_over: &HandOver| match hand_over.direction {
            HandOverDirection::ToTurbo => "The supercharger hands over to the turbo",
            HandOverDirection::ToSupercharger => "The supercharger takes over again",
        };
        let rest = match rest {
            [] => String::new(),
            [one] => format!(" and back at {}", rpm(one.rpm)),
            more => format!(
                " and back and forth up to {}",
                rpm(more[more.len() - 1].rpm)
            ),
        };
        return format!("{} at {}{rest}", words(first), rpm(first.rpm));
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
