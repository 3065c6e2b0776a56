//! The operating line: the matches over the engine's speeds, and where the supercharger hands over.

use crate::engine::SpeedRange;
use crate::matching::{Drive, Installation, LayoutError, Match, MatchError, Neighbour, Solver};

/// The line of an installation.
#[derive(Debug)]
pub struct Line {
    /// Its points, rising in speed.
    pub points: Vec<LinePoint>,
    /// Every speed where the supercharger's pressure ratio crosses 1.
    pub hand_over: Vec<HandOver>,
}

/// One speed of a line.
#[derive(Debug)]
pub struct LinePoint {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// The match, or why there is none.
    pub outcome: Result<Match, MatchError>,
    /// Per cent of manifold pressure per per cent of fuel, where a turbine is driven.
    pub steepness: Option<f64>,
}

/// A speed where the supercharger's pressure ratio crosses 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandOver {
    /// Engine speed, rpm, to half a revolution.
    pub rpm: f64,
    /// Which way.
    pub direction: HandOverDirection,
}

/// Who takes over as the engine speeds up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandOverDirection {
    /// The supercharger's ratio falls to 1.
    ToTurbo,
    /// It rises from 1 again.
    ToSupercharger,
}

/// Width of the bracket at which a hand-over counts as found, rpm.
const HAND_OVER_WIDTH: f64 = 0.5;
/// Above 1 by this a supercharger works.
const WORKS: f64 = 1e-9;
/// Largest change of manifold pressure between neighbours of a line.
const LARGEST_CHANGE: f64 = 0.05;
/// Steepness above which a line gets points between.
const STEEP: f64 = 2.0;
/// Smallest distance of points that are added, rpm.
const SMALLEST_DISTANCE: f64 = 5.0;

/// The speeds of a range: from, by steps, always ending on `to`.
pub fn speeds(range: SpeedRange) -> Vec<f64> {
    let SpeedRange { from, to, step } = range;
    let mut speeds = Vec::new();
    let mut k = 0.0;
    // The last step is left out where it would stand next to the end.
    while from + k * step < to - 1e-6 * step {
        speeds.push(from + k * step);
        k += 1.0;
    }
    speeds.push(to);
    speeds
}

/// Solves the line of an installation.
pub fn run(installation: &Installation) -> Result<Line, LayoutError> {
    let mut solver = Solver::new(installation)?;
    let mut places = Vec::new();
    let mut points = Vec::new();
    for rpm in speeds(installation.engine.speeds) {
        solve_into(&mut solver, rpm, &mut points, &mut places);
    }
    refine(&mut solver, &mut points, &mut places);
    let hand_over = hand_overs(&mut solver, &points, &places);
    Ok(Line { points, hand_over })
}

fn solve_into(
    solver: &mut Solver,
    rpm: f64,
    points: &mut Vec<LinePoint>,
    places: &mut Vec<Option<Neighbour>>,
) {
    let at = points.partition_point(|point| point.rpm < rpm);
    let mut found = Match::default();
    let solved = solver.solve(rpm, &mut found);
    let neighbour = solved.ok();
    let steepness = neighbour.and_then(|neighbour| solver.steepness(rpm, &neighbour));
    let outcome = solved.map(|_| found);
    points.insert(at, LinePoint { rpm, outcome, steepness });
    places.insert(at, neighbour);
}

/// Adds points where the line is steep, until neighbours differ by little.
fn refine(
    solver: &mut Solver,
    points: &mut Vec<LinePoint>,
    places: &mut Vec<Option<Neighbour>>,
) {
    let mut i = 1;
    while i < points.len() {
        let (low, high) = (&points[i - 1], &points[i]);
        let steep = low.steepness.into_iter().chain(high.steepness).any(|value| value > STEEP);
        let far = matches!((manifold(low), manifold(high)), (Some(a), Some(b)) if (b / a - 1.0).abs() > LARGEST_CHANGE);
        if steep && far && high.rpm - low.rpm > 2.0 * SMALLEST_DISTANCE {
            let middle = (0.5 * (low.rpm + high.rpm)).round();
            solve_into(solver, middle, points, places);
        } else {
            i += 1;
        }
    }
}

fn manifold(point: &LinePoint) -> Option<f64> {
    let found = point.outcome.as_ref().ok()?;
    found.stages.last()?;
    found.manifold_pressure()
}

/// Whether the supercharger of a match works, if it has one.
fn works(found: &Match) -> Option<bool> {
    let stage = found.stages.iter().find(|stage| stage.drive == Drive::Belt)?;
    Some(stage.pressure_ratio > 1.0 + WORKS)
}

fn hand_overs(
    solver: &mut Solver,
    points: &[LinePoint],
    places: &[Option<Neighbour>],
) -> Vec<HandOver> {
    let mut found = Vec::new();
    for i in 1..points.len() {
        let (Ok(low), Ok(high), Some(start)) =
            (&points[i - 1].outcome, &points[i].outcome, &places[i - 1])
        else {
            continue;
        };
        let (Some(before), Some(after)) = (works(low), works(high)) else { continue };
        if before != after {
            let rpm = crossing(solver, low.rpm, high.rpm, before, *start);
            let direction =
                if before { HandOverDirection::ToTurbo } else { HandOverDirection::ToSupercharger };
            found.push(HandOver { rpm, direction });
        }
    }
    found
}

/// Halves the speeds between two points of which only the first has `before`.
fn crossing(solver: &mut Solver, from: f64, to: f64, before: bool, start: Neighbour) -> f64 {
    let (mut low, mut high, mut near) = (from, to, start);
    let mut found = Match::default();
    while high - low > HAND_OVER_WIDTH {
        let middle = 0.5 * (low + high);
        match solver.solve_near(middle, &near, &mut found) {
            Ok(place) => {
                near = place;
                if works(&found) == Some(before) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            Err(_) => high = middle,
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_always_ends_on_its_end() {
        let range = |from, to, step| speeds(SpeedRange { from, to, step });
        assert_eq!(range(1000.0, 2000.0, 400.0), [1000.0, 1400.0, 1800.0, 2000.0]);
        assert_eq!(range(1000.0, 2000.0, 500.0), [1000.0, 1500.0, 2000.0]);
        assert_eq!(range(2000.0, 2000.0, 100.0), [2000.0]);
    }
}
