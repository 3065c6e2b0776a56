//! What a match alone does not know of itself, solved for beside it where a finding may hang on it.

use crate::engine::Fuelling;
use crate::exhaust::{FlowLaw, Swallowing};
use crate::finding::{Extra, OtherFuelling, SuperchargerAlone};
use crate::matching::{
    GateState, Installation, Match, MatchError, Neighbour, Solver, StationPlace,
};

/// Below this expansion ratio the two flow laws part.
const LAWS_PART: f64 = 1.8;
/// Per cent of manifold pressure per per cent of fuel above which the answer hangs on what the fuel
/// holds.
const HANGS_ON_FUEL: f64 = 1.0;

/// Solves for what the findings of a match may need.
pub fn of_match(solver: &mut Solver, found: &Match, place: &Neighbour) -> Extra {
    let installation = solver.installation();
    let steepness = solver.steepness(found.rpm, place);
    let hangs = steepness.is_some_and(|steepness| !(0.0..HANGS_ON_FUEL).contains(&steepness));
    Extra {
        steepness,
        supercharger_alone: alone(installation, found),
        other_fuelling: if hangs {
            other_fuelling(installation, found)
        } else {
            None
        },
        other_law_drive_pressure: other_law(installation, found, place),
    }
}

/// What the supercharger alone makes, where a gate is at work.
fn alone(installation: &Installation, found: &Match) -> Option<SuperchargerAlone> {
    let at_work = |gate| matches!(gate, GateState::Holding | GateState::WideOpen);
    if !found.turbines.iter().any(|turbine| at_work(turbine.gate)) {
        return None;
    }
    let at_unity = installation.supercharger_alone();
    let pressure = |installation: &Installation| {
        let mut out = Match::default();
        Solver::new(installation)
            .ok()?
            .at_rest(found.rpm, &mut out)
            .ok()?;
        Some(out.manifold_pressure)
    };
    Some(SuperchargerAlone {
        at_rest: pressure(installation)?,
        at_unity: pressure(&at_unity)?,
    })
}

/// The manifold pressure where the fuel holds the other of ratio and mass, each as it is with the
/// turbochargers at rest: there the boost has not yet brought fuel, or the fuel boost. (Held at the
/// match's own values it would give the same match again.)
fn other_fuelling(installation: &Installation, found: &Match) -> Option<OtherFuelling> {
    let mut resting = Match::default();
    Solver::new(installation)
        .ok()?
        .at_rest(found.rpm, &mut resting)
        .ok()?;
    let other = match installation.fuel.as_ref()?.burned {
        Fuelling::AirFuelRatio(_) | Fuelling::Lambda(_) => {
            installation.with_fuel_flow_held(resting.fuel_mass_flow?)
        }
        Fuelling::PerStroke { .. } | Fuelling::Flow(_) => {
            installation.with_air_fuel_ratio_held(resting.air_fuel_ratio?)
        }
    };
    let mut out = Match::default();
    match Solver::new(&other).ok()?.solve(found.rpm, &mut out) {
        Ok(_) => Some(OtherFuelling::ManifoldPressure(out.manifold_pressure)),
        Err(MatchError::RunsAway { .. } | MatchError::NoWay { .. }) => {
            Some(OtherFuelling::RunsAway)
        }
        Err(_) => None,
    }
}

/// Drive pressure of the first turbine under the other flow law, Pa.
fn other_law(installation: &Installation, found: &Match, place: &Neighbour) -> Option<f64> {
    if found.turbines.first()?.expansion_ratio >= LAWS_PART {
        return None;
    }
    let mut other = installation.clone();
    match &mut other.turbines.first_mut()?.swallowing {
        Swallowing::Area { law, .. } => {
            *law = match law {
                FlowLaw::Nozzle => FlowLaw::TwoThroats,
                FlowLaw::TwoThroats => FlowLaw::Nozzle,
            };
        }
        Swallowing::Map(_) => return None,
    }
    let mut out = Match::default();
    let mut solver = Solver::new(&other).ok()?;
    solver.solve_near(found.rpm, place, &mut out).ok()?;
    let inlet = out.station(solver.layout(), StationPlace::TurbineInlet(0))?;
    Some(inlet.pressure)
}
