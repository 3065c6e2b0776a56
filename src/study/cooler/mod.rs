//! The charge cooler along the line: what it does at the hardest point, whether that is enough,
//! what size would be, and what its pressure drop costs.
//!
//! Two points matter. The *hardest* is the one at which the cooler takes the most heat; the
//! *hottest* the one at which the charge reaches the engine warmest. A target is held against the
//! whole line, so against the hottest; mostly the two are one. What would do is found by matching
//! anew with the changed cooler, because flow and temperatures move with it.

mod changed;
mod depth;
mod point;
mod sizing;

pub use changed::{Knob, cooler_at, with_cooler};
pub(in crate::study) use changed::{drop_of, holding};
pub use depth::{DepthPoint, Depths, PaysTo, WORTH};
pub use point::{CoolerPoint, EngineSide, least_transfer_units};
pub(in crate::study) use sizing::needed_effectiveness;
pub use sizing::{Size, SizeNeeded, Verdict, least_size_factor};

use super::branch::Branch;
use super::line::OperatingLine;
use crate::matching::{Installation, Layout, LayoutError, Match, MatchError};

/// The cooler at a speed, or the speed in rpm and why there is no match.
pub type Row = Result<CoolerPoint, (f64, MatchError)>;

/// One cooler along the line.
#[derive(Debug)]
pub struct Assessment {
    /// Which cooler, counted from 0 in flow order.
    pub cooler: usize,
    /// Its place among the parts.
    pub part: usize,
    /// Face area in m² and depth in m of its core, where they are known.
    pub core: Option<(f64, f64)>,
    /// The speeds of the line: the cooler there, or why there is no match.
    pub points: Vec<Row>,
    /// The point at which it takes the most heat.
    pub hardest: CoolerPoint,
    /// The point at which the charge reaches the engine hottest.
    pub hottest: CoolerPoint,
    /// Against the target, where there is one.
    pub verdict: Option<Verdict>,
    /// Density gain against pressure drop over the core's depth, where there is a drop.
    pub depths: Option<Depths>,
}

/// Assesses a cooler, counted from 0 in flow order, against a charge temperature in K. `None` where
/// there is no such cooler, or no speed of the line has a match.
pub fn assess(
    installation: &Installation,
    layout: &Layout,
    line: &OperatingLine,
    cooler: usize,
    target: Option<f64>,
) -> Result<Option<Assessment>, LayoutError> {
    let Some(&(_, part)) = layout.coolers.get(cooler) else {
        return Ok(None);
    };
    let points = points(installation, layout, line, cooler)?;
    let solved = || points.iter().filter_map(|point| point.as_ref().ok());
    let largest = |value: fn(&CoolerPoint) -> f64| {
        solved()
            .max_by(|a, b| value(a).total_cmp(&value(b)))
            .cloned()
    };
    let (Some(hardest), Some(hottest)) = (
        largest(|point| point.state.heat),
        largest(|point| point.engine.charge_temperature),
    ) else {
        return Ok(None);
    };
    let matched: Vec<&CoolerPoint> = solved().collect();
    let verdict = target.map(|target| sizing::verdict(installation, part, &matched, target));
    let depths = depth::depths(installation, part, &hardest)?;
    Ok(Some(Assessment {
        cooler,
        part,
        core: cooler_at(installation, part)
            .and_then(|cooler| cooler.core())
            .map(|core| (core.face_area(), core.sizes().depth)),
        points,
        hardest,
        hottest,
        verdict,
        depths,
    }))
}

/// Which cooler is meant where none is named: the last ahead of the manifold.
pub fn last(layout: &Layout) -> Option<usize> {
    layout.coolers.len().checked_sub(1)
}

/// The cooler at every speed of the line, each matched again without it: both as an engine stands
/// that came up through the speeds.
fn points(
    installation: &Installation,
    layout: &Layout,
    line: &OperatingLine,
    cooler: usize,
) -> Result<Vec<Row>, LayoutError> {
    let bare = changed::without(installation, layout.coolers[cooler].1);
    let mut branch = Branch::upward(&bare)?;
    let mut points = Vec::with_capacity(line.points.len());
    for point in &line.points {
        let found = match &point.outcome {
            Ok(found) => found,
            Err(fault) => {
                points.push(Err((point.rpm, *fault)));
                continue;
            }
        };
        let mut other = Match::default();
        let without = match branch.at(point.rpm, &mut other) {
            Ok(_) => EngineSide::new(branch.solver().layout(), &other)
                .ok_or(MatchError::Speed { rpm: point.rpm }),
            Err(fault) => Err(fault),
        };
        points.extend(CoolerPoint::new(layout, found, cooler, without).map(Ok));
    }
    Ok(points)
}
