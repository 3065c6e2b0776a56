//! A line on one map.

use super::scene::Scene;
use crate::finding::Finding;
use crate::plot::{Jump, Meaning};
use crate::study::{LineOnMap, MatchOnMap, ValueAtSpeed};

/// A line on one map.
pub(super) struct Track<'a> {
    /// The line's name.
    pub name: &'a str,
    /// Place among the build's line and those compared with it, which gives the look in every drawing.
    pub look: usize,
    /// The stage's place in the line's layout.
    pub stage: usize,
    /// The matches on the map.
    pub points: Vec<MatchOnMap>,
    /// Neighbouring speeds between which the line jumps, rpm.
    pub jumps: Vec<Jump>,
    /// Speeds of the line at which the stage has no point on its map, rpm.
    pub gaps: Vec<f64>,
    /// What was found along the line.
    pub findings: &'a [Finding],
    /// The smallest choke margin.
    pub choke_margin: Option<ValueAtSpeed>,
    /// Speeds of the line without a match.
    pub unsolved: usize,
}

impl<'a> Track<'a> {
    pub(super) fn new(scene: &Scene<'a>, look: usize, on: LineOnMap<'a>) -> Self {
        let has = |rpm: f64| {
            on.points
                .iter()
                .any(|placed| (placed.rpm - rpm).abs() < 1e-6)
        };
        let speeds = scene.line.points.iter().map(|point| point.rpm);
        Self {
            gaps: speeds.filter(|rpm| !has(*rpm)).collect(),
            name: scene.name,
            look,
            stage: on.stage,
            choke_margin: on.choke_margin(),
            points: on.points,
            jumps: scene.jumps(),
            findings: scene.findings,
            unsolved: scene.line.unsolved(),
        }
    }
}

/// What the line of the build (0) and those compared with it (from 1) say in every drawing.
pub(super) fn meaning(place: usize) -> Meaning {
    match place {
        0 => Meaning::Together,
        other => Meaning::Compared(other),
    }
}
