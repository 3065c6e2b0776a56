//! Where the power goes, over engine speed.

use super::heading::{FrameOf, SPEED, rpm};
use super::remark;
use super::scene::Scene;
use crate::matching::Match;
use crate::plot::{Amount, Drawing, Layer, Line, Meaning, PlotError, stacked};
use crate::quantity::{Kind, label, shown};

/// An amount of a match, W.
type Power = fn(&Match) -> Option<f64>;

/// An engine speed, rpm, with its match where it has one.
type Speed<'m> = (f64, Option<&'m Match>);

/// The amounts from the crank upwards: the brake power, then what takes some of the gross indicated.
const AMOUNTS: [(&str, Meaning, Power); 4] = [
    ("brake", Meaning::Together, |found| found.engine.brake_power),
    ("supercharger drive", Meaning::Supercharger, |found| {
        found.engine.drive_power
    }),
    ("friction", Meaning::Friction, |found| {
        found.engine.friction_power
    }),
    ("pumping", Meaning::Pumping, |found| {
        Some((0.0 - found.engine.pumping_power?).max(0.0))
    }),
];

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
    let helps = |found: &&Match| found.engine.pumping_power.is_some_and(|power| power > 0.0);
    let subtitle = if matches.iter().any(helps) {
        "from gross indicated power to brake power; what lies above the line is pumping gain"
    } else {
        "from gross indicated power to brake power"
    };
    let places: Vec<f64> = speeds.iter().map(|(rpm, _)| *rpm).collect();
    let mut layers = stacked(&places, &amounts(&speeds), &scene.jumps())?;
    // What is gross is drawn where all below it is known.
    let gross = |found: &Match| {
        found
            .engine
            .brake_power
            .and(found.engine.gross_indicated_power)
    };
    let rows = speeds
        .iter()
        .map(|(rpm, found)| (*rpm, found.and_then(gross)));
    layers.push(Layer::Line(Line {
        has_markers: false,
        // A mark of its own says where it jumps.
        connectors: Vec::new(),
        ..Line::from_rows("gross indicated", Meaning::Together, rows, &scene.jumps())
    }));
    layers.extend(scene.events_of_areas());
    let heading = scene.heading(remark::of_power, title(scene, &matches), subtitle);
    let frame = FrameOf {
        covers: places.iter().map(|&rpm| [rpm, 0.0]).collect(),
        ..FrameOf::new("power", Kind::Power, layers)
    };
    heading.over(SPEED, vec![frame], scene.system).map(Some)
}

/// Brake power, and above it each amount that takes any.
fn amounts(speeds: &[Speed]) -> Vec<Amount> {
    let takes = |power: Power| {
        let mut known = speeds.iter().filter_map(|(_, found)| power((*found)?));
        known.any(|power| power > 1.0)
    };
    let amounts = AMOUNTS.iter().enumerate();
    let amounts = amounts.filter(|(place, (_, _, power))| *place == 0 || takes(*power));
    let amount = |(_, &(name, meaning, power)): (usize, &(&str, Meaning, Power))| Amount {
        name: name.to_owned(),
        meaning,
        values: speeds.iter().map(|(_, found)| power((*found)?)).collect(),
    };
    amounts.map(amount).collect()
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
    let value = |si| shown(si, Kind::Power, scene.system);
    match known.max_by(|a, b| a.2.total_cmp(&b.2)) {
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
