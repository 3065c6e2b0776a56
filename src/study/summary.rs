//! A line in a few figures, for lines that are compared and maps that are ranked.

use super::line::OperatingLine;
use super::on_map::{ValueAtSpeed, on_maps};
use crate::matching::{Drive, Installation, Layout, Match, StationPlace};

/// Relative difference below which two values are one, as the solver leaves them.
const SAME: f64 = 1e-9;

/// A line in a few figures; what it does not have is absent.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Summary {
    /// Smallest surge margin at the same pressure ratio, of all stages with a compressor map.
    pub surge_margin: Option<Margin>,
    /// Smallest choke margin, of all stages with a compressor map.
    pub choke_margin: Option<Margin>,
    /// How many stages have a compressor map: of several, a margin needs the name of its own.
    pub maps: usize,
    /// Highest speed of a turbocharger's shaft, rpm.
    pub shaft_speed: Option<ValueAtSpeed>,
    /// Largest boost above the line's own site, Pa.
    pub boost: Option<ValueAtSpeed>,
    /// Largest brake power, W.
    pub power: Option<ValueAtSpeed>,
    /// Largest torque, N m.
    pub torque: Option<ValueAtSpeed>,
    /// Hottest charge in the manifold, K.
    pub charge_temperature: Option<ValueAtSpeed>,
    /// Hottest exhaust ahead of the first turbine, or behind the engine without one, K.
    pub exhaust_temperature: Option<ValueAtSpeed>,
}

/// A margin of one stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Margin and engine speed.
    pub at: ValueAtSpeed,
    /// The stage's place in the layout.
    pub stage: usize,
}

/// The figures of a line.
pub fn summary(installation: &Installation, layout: &Layout, line: &OperatingLine) -> Summary {
    let mut out = Summary::default();
    for on in on_maps(installation, layout, line) {
        let margin = |at| Margin {
            at,
            stage: on.stage,
        };
        out.maps += 1;
        out.surge_margin = smaller(out.surge_margin, on.surge_margin().map(margin));
        out.choke_margin = smaller(out.choke_margin, on.choke_margin().map(margin));
    }
    for found in line.matches() {
        let boost = found.manifold_pressure - installation.site.pressure;
        let temperature = |place| Some(found.station(layout, place)?.temperature);
        let exhaust = temperature(StationPlace::TurbineInlet(0))
            .or_else(|| temperature(StationPlace::Exhaust));
        for (known, new) in [
            (&mut out.boost, Some(boost)),
            (&mut out.power, found.engine.brake_power),
            (&mut out.torque, found.engine.torque),
            (
                &mut out.charge_temperature,
                temperature(StationPlace::Manifold),
            ),
            (&mut out.exhaust_temperature, exhaust),
            (&mut out.shaft_speed, fastest_turbo(found)),
        ] {
            *known = larger(*known, new, found.rpm);
        }
    }
    out
}

fn fastest_turbo(found: &Match) -> Option<f64> {
    let turbos = found
        .stages
        .iter()
        .filter(|stage| stage.drive == Drive::Turbine);
    turbos.filter_map(|stage| stage.speed).reduce(f64::max)
}

fn smaller(known: Option<Margin>, new: Option<Margin>) -> Option<Margin> {
    match (known, new) {
        (Some(known), Some(new)) if new.at.value < known.at.value => Some(new),
        (None, new) => new,
        (known, _) => known,
    }
}

fn larger(known: Option<ValueAtSpeed>, new: Option<f64>, rpm: f64) -> Option<ValueAtSpeed> {
    match (known, new) {
        // What is held at one value stays where it was first reached.
        (Some(known), Some(value)) if value <= known.value + SAME * known.value.abs() => {
            Some(known)
        }
        (known, None) => known,
        (_, Some(value)) => Some(ValueAtSpeed { value, rpm }),
    }
}
