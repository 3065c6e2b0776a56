//! Where the power goes, over engine speed.

use super::split::events;
use super::{SPEED, Scene, remark, rpm};
use crate::matching::Match;
use crate::plot::{Axis, Drawing, Layer, PlotError, Stack};
use crate::quantity::{Kind, label, shown};

/// An amount of a match, W.
type Amount = fn(&Match) -> Option<f64>;

/// An engine speed, rpm, with its match where it has one.
type Speed<'m> = (f64, Option<&'m Match>);

/// The drawing; none where brake power is not known anywhere.
pub(super) fn draw(scene: &Scene) -> Result<Option<Drawing>, PlotError> {
    let matches: Vec<&Match> = scene.matches().collect();
    if matches
        .iter()
        .all(|found| found.engine.brake_power.is_none())
    {
        return Ok(None);
    }
    let speeds: Vec<Speed> = scene.speeds().collect();
    let words = scene.words("power", Kind::Power);
    let to_reader = scene.to_reader(Kind::Power);
    let helps = |found: &&Match| found.engine.pumping_power.is_some_and(|power| power > 0.0);
    let subtitle = if matches.iter().any(helps) {
        "from gross indicated down to brake; above the line the gas exchange helps"
    } else {
        "from gross indicated down to brake"
    };
    Stack {
        title: &scene.title(remark::of_power, title(scene, &matches)),
        subtitle,
        note: &scene.note_with(remark::of_power),
        speed: SPEED,
        amount: Axis {
            words: &words,
            shown: &to_reader,
        },
        speeds: speeds.iter().map(|(rpm, _)| *rpm).collect(),
        layers: layers(&speeds),
        whole: layer(&speeds, ("gross indicated", 0), |found| {
            found.engine.brake_power?;
            found.engine.gross_indicated_power
        }),
        events: events(scene),
        jumps: scene.jumps(),
    }
    .draw()
    .map(Some)
}

/// Brake power and above it what takes some of the gross indicated, where it takes any.
fn layers(speeds: &[Speed]) -> Vec<Layer> {
    let takers: [(&str, usize, Amount); 3] = [
        ("supercharger drive", 1, |found| found.engine.drive_power),
        ("friction", 2, |found| found.engine.friction_power),
        ("pumping", 3, |found| {
            Some((0.0 - found.engine.pumping_power?).max(0.0))
        }),
    ];
    let takes = |amount: Amount| {
        let mut amounts = speeds.iter().filter_map(|(_, found)| amount((*found)?));
        amounts.any(|power| power > 1.0)
    };
    let above = takers
        .into_iter()
        .filter(|(_, _, amount)| takes(*amount))
        .map(|(name, ground, amount)| layer(speeds, (name, ground), amount));
    let brake = layer(speeds, ("brake", 0), |found| found.engine.brake_power);
    std::iter::once(brake).chain(above).collect()
}

fn layer(speeds: &[Speed], (name, ground): (&str, usize), amount: Amount) -> Layer {
    Layer {
        name: name.to_owned(),
        ground,
        amounts: speeds.iter().map(|(_, found)| amount((*found)?)).collect(),
    }
}

/// What reaches the crank where it is most.
fn title(scene: &Scene, matches: &[&Match]) -> String {
    let known = matches.iter().filter_map(|found| {
        let engine = &found.engine;
        Some((
            found.rpm,
            engine.gross_indicated_power?,
            engine.brake_power?,
        ))
    });
    let most = known.max_by(|a, b| a.2.total_cmp(&b.2));
    let value = |si| shown(si, Kind::Power, scene.system);
    match most {
        Some((speed, gross, brake)) => format!(
            "{} of {} {} reach the crank at {}",
            value(brake),
            value(gross),
            label(Kind::Power, scene.system),
            rpm(speed)
        ),
        None => "Brake power is not known".to_owned(),
    }
}
