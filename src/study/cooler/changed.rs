//! The same installation with another cooler, or with none.

use crate::air_path::{Cooler, Exchange, Part};
use crate::matching::{Installation, Match, Solver};
use crate::numeric::Schedule;

/// What of a cooler is changed to reach a target.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Knob {
    /// Its effectiveness, whatever gives it.
    Effectiveness,
    /// UA at the given flows.
    Conductance,
    /// Face area at the given depth.
    Face,
    /// Flow of the sink.
    SinkFlow,
}

impl Knob {
    /// The cooler with this changed: to a value for the effectiveness, by a factor for the others.
    /// `None` where this cooler has no such thing.
    pub fn turned(self, cooler: &Cooler, to: f64) -> Option<Cooler> {
        match self {
            Self::Effectiveness => Some(with_effectiveness(cooler, to)),
            Self::Conductance | Self::Face | Self::SinkFlow => None,
        }
    }
}

/// The cooler with one effectiveness of its charge side at every flow.
pub fn with_effectiveness(cooler: &Cooler, effectiveness: f64) -> Cooler {
    Cooler {
        exchange: Exchange::Fixed(Schedule::constant(effectiveness)),
        ..cooler.clone()
    }
}

/// The cooler with its core deeper by a factor.
pub(super) fn with_depth(cooler: &Cooler, factor: f64) -> Cooler {
    let Exchange::Fixed(effectiveness) = &cooler.exchange;
    let rows = effectiveness.rows().iter();
    let deeper = rows.map(|&(rpm, e)| (rpm, 1.0 - (1.0 - e).powf(factor)));
    let mut other = cooler.clone();
    if let Ok(schedule) = Schedule::new(deeper.collect()) {
        other.exchange = Exchange::Fixed(schedule);
    }
    other.pressure_drop.coefficient /= factor * factor;
    other
}

/// The cooler with its sink entering at another temperature, K.
pub fn with_sink_temperature(cooler: &Cooler, temperature: f64) -> Cooler {
    let mut other = cooler.clone();
    other.sink.temperature = temperature;
    other
}

/// The installation with another cooler at the place of this part.
pub fn with_cooler(installation: &Installation, part: usize, cooler: Cooler) -> Installation {
    let mut other = installation.clone();
    if let Some(place) = other.air_path.get_mut(part) {
        *place = Part::Cooler(cooler);
    }
    other
}

/// The installation without this part.
pub fn without(installation: &Installation, part: usize) -> Installation {
    let mut other = installation.clone();
    if part < other.air_path.len() {
        other.air_path.remove(part);
    }
    other
}

/// The cooler of this part.
pub fn cooler_at(installation: &Installation, part: usize) -> Option<&Cooler> {
    match installation.air_path.get(part)? {
        Part::Cooler(cooler) => Some(cooler),
        _ => None,
    }
}

/// Charge temperature in the manifold with another cooler at a speed in rpm, K; none without a
/// match.
pub(super) fn charge_temperature(
    installation: &Installation,
    part: usize,
    cooler: Cooler,
    rpm: f64,
) -> Option<f64> {
    let other = with_cooler(installation, part, cooler);
    let mut solver = Solver::new(&other).ok()?;
    let mut found = Match::default();
    solver.solve(rpm, &mut found).ok()?;
    Some(super::point::manifold(solver.layout(), &found)?.temperature)
}
