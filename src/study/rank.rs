//! Which of several compressor maps suits a build: each is solved along the line.

use std::sync::Arc;

use super::line::{self, OperatingLine};
use super::on_map::{LineOnMap, ValueAtSpeed, on_maps};
use super::summary::{Summary, summary};
use crate::air_path::{CompressorPerformance, Part};
use crate::finding::{Code, Finding};
use crate::map::{CompressorMap, MapPoint, Region};
use crate::matching::{Installation, Layout, LayoutError, Solver};

/// One map against the build.
#[derive(Debug)]
pub struct Ranked {
    /// The installation with this map.
    pub installation: Installation,
    /// Names of the layout.
    pub layout: Layout,
    /// Its line.
    pub line: OperatingLine,
    /// Speeds of the line without a match.
    pub unsolved: usize,
    /// Points left of surge.
    pub beyond_surge: usize,
    /// The first point beyond choke.
    pub choke_from: Option<ValueAtSpeed>,
    /// The largest over-speed, as a share of the map's highest speed.
    pub over_speed: Option<ValueAtSpeed>,
    /// The smallest surge margin at the same pressure ratio, where it exists.
    pub surge_margin: Option<ValueAtSpeed>,
    /// The smallest choke margin.
    pub choke_margin: Option<ValueAtSpeed>,
    /// Mean efficiency, weighted by the power given to the air.
    pub mean_efficiency: Option<f64>,
    /// The hottest compressor outlet, K.
    pub hottest_outlet: Option<ValueAtSpeed>,
    /// Whether the smallest surge margin is enough.
    pub enough_surge_margin: bool,
    /// Boost, power, torque and shaft speed of the line.
    pub summary: Summary,
    /// What was found along the line, worst first.
    pub findings: Vec<Finding>,
}

/// An installation whose last turbo compressor runs on a map. `None` without a turbo compressor.
pub fn with_map(installation: &Installation, map: &Arc<CompressorMap>) -> Option<Installation> {
    let mut with = installation.clone();
    let turbo = with.air_path.iter_mut().rev().find_map(|part| match part {
        Part::TurboCompressor(turbo) => Some(turbo),
        _ => None,
    })?;
    turbo.map = Some(Arc::clone(map));
    match &mut turbo.performance {
        // Given ratios place the points, and the map gives the efficiency.
        CompressorPerformance::Prescribed(stage) => stage.efficiency = None,
        other => *other = CompressorPerformance::Map,
    }
    Some(with)
}

/// One map along the build's line.
pub fn rank_one(with: Installation) -> Result<Ranked, LayoutError> {
    let layout = Solver::new(&with)?.layout().clone();
    let line = line::run(&with)?;
    let ranked_stage = layout
        .stages
        .iter()
        .rposition(|(_, part)| matches!(with.air_path.get(*part), Some(Part::TurboCompressor(_))));
    let on = on_maps(&with, &layout, &line)
        .into_iter()
        .find(|on| Some(on.stage) == ranked_stage);
    let surge_margin = on.as_ref().and_then(LineOnMap::surge_margin);
    let choke_margin = on.as_ref().and_then(LineOnMap::choke_margin);
    let points = on.map_or_else(Vec::new, |on| on.points);
    let needed = Code::SurgeMargin.row().limit(&with.limits);
    let beyond = |side: fn(&MapPoint) -> Option<f64>| {
        points.iter().filter_map(move |placed| {
            Some(ValueAtSpeed {
                value: side(&placed.point)?,
                rpm: placed.rpm,
            })
        })
    };
    let weight: f64 = points.iter().map(|placed| placed.power_to_air).sum();
    let weighted: f64 = points
        .iter()
        .map(|placed| placed.point.efficiency * placed.power_to_air)
        .sum();
    let hottest = points.iter().map(|placed| ValueAtSpeed {
        value: placed.outlet_temperature,
        rpm: placed.rpm,
    });
    Ok(Ranked {
        unsolved: line.unsolved(),
        beyond_surge: beyond(surge_side).count(),
        choke_from: beyond(choke_side).next(),
        over_speed: beyond(over_speed).max_by(|a, b| a.value.total_cmp(&b.value)),
        enough_surge_margin: surge_margin
            .zip(needed)
            .is_none_or(|(margin, needed)| margin.value >= needed),
        surge_margin,
        choke_margin,
        mean_efficiency: (weight > 0.0).then(|| weighted / weight),
        hottest_outlet: hottest.max_by(|a, b| a.value.total_cmp(&b.value)),
        summary: summary(&with, &layout, &line),
        findings: line::findings(&with, &layout, &line),
        installation: with,
        layout,
        line,
    })
}

/// Sorts maps by suitability: first those on which every speed has a match inside the data, then
/// enough surge margin, then the mean efficiency.
pub fn sort_by_suitability<T>(ranked: &mut [T], of: impl Fn(&T) -> &Ranked) {
    ranked.sort_by(|a, b| {
        let (a, b) = (of(a), of(b));
        a.faults()
            .cmp(&b.faults())
            .then(b.enough_surge_margin.cmp(&a.enough_surge_margin))
            .then(
                b.mean_efficiency
                    .unwrap_or(0.0)
                    .total_cmp(&a.mean_efficiency.unwrap_or(0.0)),
            )
    });
}

impl Ranked {
    /// How many kinds of thing speak against the map: speeds without a match, surge, choke,
    /// over-speed.
    pub fn faults(&self) -> usize {
        usize::from(self.unsolved > 0)
            + usize::from(self.beyond_surge > 0)
            + usize::from(self.choke_from.is_some())
            + usize::from(self.over_speed.is_some())
    }
}

/// How far a point lies beyond one side, where it does. A point can be beyond two.
fn beyond(point: &MapPoint, side: fn(Region) -> Option<f64>) -> Option<f64> {
    side(point.region).or_else(|| side(point.also))
}

fn surge_side(point: &MapPoint) -> Option<f64> {
    beyond(point, |region| {
        if let Region::BeyondSurge(by) = region {
            Some(by)
        } else {
            None
        }
    })
}

fn choke_side(point: &MapPoint) -> Option<f64> {
    beyond(point, |region| {
        if let Region::BeyondChoke(by) = region {
            Some(by)
        } else {
            None
        }
    })
}

fn over_speed(point: &MapPoint) -> Option<f64> {
    beyond(point, |region| {
        if let Region::OverSpeed(by) = region {
            Some(by)
        } else {
            None
        }
    })
}
