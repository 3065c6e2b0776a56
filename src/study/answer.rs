//! What a match answers in numbers, and in which regime it stands: what is held, open, limited.

use super::branch::Branch;
use crate::finding::points_on_maps;
use crate::map::Region;
use crate::matching::{
    BypassState, Drive, GateState, Installation, Layout, Match, MatchError, Neighbour, Solver,
    StationPlace,
};

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

/// What moves an answer in another manner once it changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Regime {
    gates: Vec<GateState>,
    bypasses: Vec<BypassState>,
    /// Of each stage on the belt: whether it compresses.
    works: Vec<Option<bool>>,
    at_smoke_limit: bool,
    /// Whether the charge takes no more fuel as vapour.
    is_saturated: bool,
    /// Of each stage with a compressor map: its place among the stages, and whether it lies left of
    /// surge, right of choke, above the highest speed.
    outside: Vec<(usize, [bool; 3])>,
}

/// One change from a regime to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// What the wastegate of this turbine does.
    Gate(usize, GateState),
    /// What the bypass of this stage does.
    Bypass(usize, BypassState),
    /// Whether this stage on the belt compresses.
    Works(usize, bool),
    /// Whether the smoke limiter cuts the fuel.
    SmokeLimit(bool),
    /// Whether the charge takes no more fuel as vapour.
    Saturated(bool),
    /// Whether this stage lies beyond a side of its map.
    Map(usize, Side, bool),
}

/// A side of a compressor map.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left of surge.
    Surge,
    /// Right of choke.
    Choke,
    /// Above the highest speed.
    OverSpeed,
}

/// Above 1 by this a stage compresses.
const WORKS: f64 = 1e-9;

impl Regime {
    /// The regime of a match.
    pub(super) fn of(installation: &Installation, layout: &Layout, found: &Match) -> Self {
        let works = |stage: &crate::matching::StageState| {
            let open = matches!(stage.bypass, BypassState::Open | BypassState::Disengaged);
            (stage.drive == Drive::Belt && !open).then_some(stage.pressure_ratio > 1.0 + WORKS)
        };
        let sides = |region: Region, also: Region| {
            let beyond = |side: fn(Region) -> bool| side(region) || side(also);
            [
                beyond(|region| matches!(region, Region::BeyondSurge(_))),
                beyond(|region| matches!(region, Region::BeyondChoke(_))),
                beyond(|region| matches!(region, Region::OverSpeed(_))),
            ]
        };
        Self {
            gates: found.turbines.iter().map(|turbine| turbine.gate).collect(),
            bypasses: found.stages.iter().map(|stage| stage.bypass).collect(),
            works: found.stages.iter().map(works).collect(),
            at_smoke_limit: found.at_smoke_limit,
            is_saturated: found
                .fuel
                .and_then(|fuel| fuel.evaporated)
                .is_some_and(|there| there.is_held_back),
            outside: points_on_maps(installation, layout, found)
                .into_iter()
                .map(|(stage, _, point)| (stage, sides(point.region, point.also)))
                .collect(),
        }
    }

    /// What is different in another regime of the same layout.
    pub fn changes_to(&self, other: &Self) -> Vec<Change> {
        let mut changes = Vec::new();
        for (i, (a, b)) in self.gates.iter().zip(&other.gates).enumerate() {
            if a != b {
                changes.push(Change::Gate(i, *b));
            }
        }
        for (i, (a, b)) in self.bypasses.iter().zip(&other.bypasses).enumerate() {
            if a != b {
                changes.push(Change::Bypass(i, *b));
            }
        }
        for (i, pair) in self.works.iter().zip(&other.works).enumerate() {
            if let (Some(a), Some(b)) = pair
                && a != b
            {
                changes.push(Change::Works(i, *b));
            }
        }
        if self.at_smoke_limit != other.at_smoke_limit {
            changes.push(Change::SmokeLimit(other.at_smoke_limit));
        }
        if self.is_saturated != other.is_saturated {
            changes.push(Change::Saturated(other.is_saturated));
        }
        for ((stage, a), (_, b)) in self.outside.iter().zip(&other.outside) {
            for (side, name) in [Side::Surge, Side::Choke, Side::OverSpeed]
                .into_iter()
                .enumerate()
            {
                if a[side] != b[side] {
                    changes.push(Change::Map(*stage, name, b[side]));
                }
            }
        }
        changes
    }
}

/// Answers and regime of one match, and where it stands.
#[derive(Debug, Clone)]
pub struct Looked {
    /// The answers.
    pub answers: Answers,
    /// The regime.
    pub regime: Regime,
    /// To start others from.
    pub place: Neighbour,
}

impl Looked {
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
pub fn look(installation: &Installation, rpm: f64) -> Result<Looked, MatchError> {
    let mut branch = Branch::upward(installation).map_err(|_| MatchError::Speed { rpm })?;
    let mut found = Match::default();
    let place = branch.at(rpm, &mut found)?;
    Ok(Looked::at(
        installation,
        branch.solver().layout(),
        &found,
        place,
    ))
}

/// The same on the branch of a match of an installation that differs a little, as far as that goes.
pub fn look_near(
    installation: &Installation,
    rpm: f64,
    near: &Neighbour,
) -> Result<Looked, MatchError> {
    let mut solver = Solver::new(installation).map_err(|_| MatchError::Speed { rpm })?;
    let mut found = Match::default();
    match solver.follow(rpm, near, &mut found) {
        Some(place) if solver.distance(&place, near) < NO_OTHER => {
            Ok(Looked::at(installation, solver.layout(), &found, place))
        }
        _ => look(installation, rpm),
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
