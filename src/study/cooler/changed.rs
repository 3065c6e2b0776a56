//! The same installation with another cooler, or with none.

use super::point::{AtSpeed, EngineSide};
use crate::air_path::{Cooler, Exchange, Part, RatedDrop};
use crate::matching::{CoolerState, Installation, Match, Neighbour, Solver};
use crate::study::solve_from;

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
    /// What of this cooler can be changed: behind a given effectiveness there is nothing to turn.
    pub const fn of(cooler: &Cooler) -> &'static [Self] {
        match cooler.exchange {
            Exchange::Fixed(_) => &[Self::Effectiveness],
            Exchange::Rated(_) | Exchange::Core(_) => &[
                Self::Effectiveness,
                Self::Conductance,
                Self::Face,
                Self::SinkFlow,
            ],
        }
    }

    /// The cooler with this changed: to a value for the effectiveness, the drop at the point kept;
    /// by a factor for the others.
    pub(super) fn turned(self, cooler: &Cooler, at: &AtSpeed, to: f64) -> Cooler {
        match self {
            Self::Effectiveness => {
                let drop = drop_of(
                    cooler,
                    at.state.pressure_drop,
                    at.inlet_density,
                    at.charge_flow,
                );
                holding(cooler, to, drop)
            }
            Self::Conductance => cooler.with_conductance_scaled(to),
            Self::Face => cooler.with_face_scaled(to),
            Self::SinkFlow => cooler.with_sink_flow_scaled(to),
        }
    }
}

/// The charge's drop of a cooler as a rated one: its own, or of a core that which it has now, in Pa
/// at a density ahead in kg/m³ and a flow in kg/s.
pub(in crate::study) fn drop_of(
    cooler: &Cooler,
    pressure_drop: f64,
    density: f64,
    flow: f64,
) -> RatedDrop {
    match cooler.exchange {
        Exchange::Fixed(_) | Exchange::Rated(_) => cooler.pressure_drop,
        Exchange::Core(_) => RatedDrop {
            coefficient: pressure_drop * density / (flow * flow),
            at_flow: None,
        },
    }
}

/// The cooler with one effectiveness of its charge side at every flow, and this drop.
pub(in crate::study) fn holding(cooler: &Cooler, effectiveness: f64, drop: RatedDrop) -> Cooler {
    Cooler {
        pressure_drop: drop,
        ..cooler.with_effectiveness(effectiveness)
    }
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

/// What cooler and engine do with another cooler at a speed in rpm; none without a match. Starts from
/// a match nearby, where there is one, and leaves its own there.
pub(super) fn matched(
    installation: &Installation,
    part: usize,
    cooler: Cooler,
    rpm: f64,
    near: &mut Option<Neighbour>,
) -> Option<(CoolerState, EngineSide)> {
    let other = with_cooler(installation, part, cooler);
    let mut solver = Solver::new(&other).ok()?;
    let mut found = Match::default();
    let place = solve_from(&mut solver, rpm, near.as_ref(), &mut found);
    *near = Some(place.ok()?);
    let mut coolers = solver.layout().coolers.iter();
    let index = coolers.position(|(_, place)| *place == part)?;
    let state = *found.coolers.get(index)?;
    Some((state, EngineSide::new(solver.layout(), &found)?))
}
