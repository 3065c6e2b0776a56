//! In which regime a match stands: what is held, open, limited.

use crate::finding::points_on_maps;
use crate::map::Region;
use crate::matching::{BypassState, Drive, GateState, Installation, Layout, Match, StageState};

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
    Map(usize, MapSide, bool),
}

/// A side of a compressor map.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MapSide {
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
        let works = |stage: &StageState| {
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
            for (side, name) in [MapSide::Surge, MapSide::Choke, MapSide::OverSpeed]
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
