//! What a match answers in numbers.

use super::branch::Branch;
use super::regime::Regime;
use crate::finding::points_on_maps;
use crate::matching::{Installation, Layout, Match, MatchError, Neighbour, Solver, StationPlace};

/// A number that a builder asks a match for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// Flow of moist air, kg/s.
    AirMassFlow,
    /// Absolute manifold pressure, Pa.
    ManifoldPressure,
    /// Manifold pressure above the site's, Pa.
    Boost,
    /// Brake power, W.
    BrakePower,
    /// Temperature ahead of the first turbine, or behind an engine without one, K.
    ExhaustTemperature,
    /// Pressure there, Pa.
    DrivePressure,
    /// The smallest surge margin at the same pressure ratio.
    SurgeMargin,
}

/// How many answers there are.
pub const ANSWERS: usize = 7;

impl Answer {
    /// All of them, in the order of every list of answers.
    pub const ALL: [Self; ANSWERS] = [
        Self::AirMassFlow,
        Self::ManifoldPressure,
        Self::Boost,
        Self::BrakePower,
        Self::ExhaustTemperature,
        Self::DrivePressure,
        Self::SurgeMargin,
    ];
}

/// The answers of one match in the order of [`Answer::ALL`], SI; absent ones do not exist there.
pub type Answers = [Option<f64>; ANSWERS];

/// Answers and regime of one match, and where it stands.
#[derive(Debug, Clone)]
pub struct MatchAnswers {
    /// The answers.
    pub answers: Answers,
    /// The regime.
    pub regime: Regime,
    /// To start others from.
    pub place: Neighbour,
}

impl MatchAnswers {
    /// Looks at a match that stands at a place.
    pub fn at(
        installation: &Installation,
        layout: &Layout,
        found: &Match,
        place: Neighbour,
    ) -> Self {
        Self {
            answers: answers(installation, layout, found),
            regime: Regime::of(installation, layout, found),
            place,
        }
    }
}

/// Solves an installation at a speed in rpm on the branch of its own line, and looks at the match.
pub fn answers_at(installation: &Installation, rpm: f64) -> Result<MatchAnswers, MatchError> {
    let mut branch = Branch::upward(installation).map_err(|_| MatchError::Speed { rpm })?;
    let mut found = Match::default();
    let place = branch.at(rpm, &mut found)?;
    Ok(MatchAnswers::at(
        installation,
        branch.solver().layout(),
        &found,
        place,
    ))
}

/// Solves an installation at a speed in rpm on the branch of a match of one that differs a little, as
/// far as that goes, and reads the answers off.
pub fn answers_near(
    installation: &Installation,
    rpm: f64,
    near: &Neighbour,
) -> Result<MatchAnswers, MatchError> {
    let mut solver = Solver::new(installation).map_err(|_| MatchError::Speed { rpm })?;
    let mut found = Match::default();
    match solver.follow(rpm, near, &mut found) {
        Some(place) if solver.distance(&place, near) < NO_OTHER => Ok(MatchAnswers::at(
            installation,
            solver.layout(),
            &found,
            place,
        )),
        _ => answers_at(installation, rpm),
    }
}

/// Two states nearer than this (see [`Solver::distance`]) are taken as one branch: inputs moved by
/// twice their uncertainty change flows and pressures by less than a fifth.
const NO_OTHER: f64 = 0.2;

fn answers(installation: &Installation, layout: &Layout, found: &Match) -> Answers {
    let exhaust = layout.stations.iter().position(|station| {
        matches!(
            station.place,
            StationPlace::TurbineInlet(0) | StationPlace::Exhaust
        )
    });
    let exhaust = exhaust.and_then(|at| found.stations.get(at));
    let margins = points_on_maps(installation, layout, found)
        .into_iter()
        .map(|(_, map, point)| map.margins(&point).surge_at_same_ratio);
    // A margin that does not exist on one map leaves the smallest of all unknown.
    let margins: Option<Vec<f64>> = margins.collect();
    let smallest = margins.and_then(|margins| margins.into_iter().min_by(f64::total_cmp));
    [
        Some(found.air_mass_flow),
        Some(found.manifold_pressure),
        Some(found.manifold_pressure - installation.site.pressure),
        found.engine.brake_power,
        exhaust.map(|station| station.temperature),
        exhaust.map(|station| station.pressure),
        smallest,
    ]
}
