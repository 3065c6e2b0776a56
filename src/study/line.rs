//! The operating line: the matches over the engine's speeds, and where the supercharger hands over.

use super::extra;
use crate::air_path::Part;
use crate::engine::SpeedRange;
use crate::finding::{self, Extra, Finding};
use crate::matching::{
    Drive, GateState, Installation, Layout, LayoutError, Match, MatchError, Neighbour, Solver,
};

/// The line of an installation.
#[derive(Debug)]
pub struct Line {
    /// Its points, rising in speed.
    pub points: Vec<LinePoint>,
    /// Every speed where the supercharger's pressure ratio crosses 1.
    pub hand_over: Vec<HandOver>,
    /// The first speed at which a wastegate opens, rpm, where one does between two points.
    pub gate_opens: Option<f64>,
    /// Boost of each stage alone, where one is driven by the belt and one by a turbine.
    pub alone: Option<Alone>,
}

impl Line {
    /// The matches, rising in speed.
    pub fn matches(&self) -> impl Iterator<Item = &Match> {
        let outcomes = self.points.iter().map(|point| &point.outcome);
        outcomes.filter_map(|outcome| outcome.as_ref().ok())
    }

    /// How many speeds have no match.
    pub fn unsolved(&self) -> usize {
        self.points.len() - self.matches().count()
    }
}

/// Boost above the site of each stage alone, Pa, over engine speed, rpm; none where there is no
/// match.
#[derive(Debug, Clone)]
pub struct Alone {
    /// The supercharger with the turbocharger at rest.
    pub supercharger: Vec<(f64, Option<f64>)>,
    /// The turbocharger with the rotors out.
    pub turbo: Vec<(f64, Option<f64>)>,
}

/// One speed of a line.
#[derive(Debug)]
pub struct LinePoint {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// The match, or why there is none.
    pub outcome: Result<Match, MatchError>,
    /// What was solved beside it; absent values where there is no match.
    pub extra: Extra,
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

/// Width of the bracket at which a hand-over or a gate's opening counts as found, rpm.
const CROSSING_WIDTH: f64 = 0.5;
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
    let gate_opens = changes(&mut solver, &points, &places, is_gate_open)
        .into_iter()
        .find(|(_, open_before)| !open_before)
        .map(|(rpm, _)| rpm);
    let alone = alone(installation, &points);
    Ok(Line {
        points,
        hand_over,
        gate_opens,
        alone,
    })
}

/// What was found along a line: the worst of each matter, worst first.
pub fn findings(installation: &Installation, layout: &Layout, line: &Line) -> Vec<Finding> {
    let mut matched = Vec::new();
    let mut failed = Vec::new();
    for point in &line.points {
        match &point.outcome {
            Ok(found) => matched.push((found, point.extra)),
            Err(fault) => failed.push((point.rpm, *fault)),
        }
    }
    finding::of_line(installation, layout, &matched, &failed)
}

fn solve_into(
    solver: &mut Solver,
    rpm: f64,
    points: &mut Vec<LinePoint>,
    places: &mut Vec<Option<Neighbour>>,
) {
    let at = points.partition_point(|point| point.rpm < rpm);
    let mut found = Match::default();
    let (outcome, place, extra) = match solver.solve(rpm, &mut found) {
        Ok(place) => {
            let extra = extra::of_match(solver, &found, &place);
            (Ok(found), Some(place), extra)
        }
        Err(fault) => (Err(fault), None, Extra::default()),
    };
    points.insert(
        at,
        LinePoint {
            rpm,
            outcome,
            extra,
        },
    );
    places.insert(at, place);
}

/// Adds points where the line is steep, until neighbours differ by little.
fn refine(solver: &mut Solver, points: &mut Vec<LinePoint>, places: &mut Vec<Option<Neighbour>>) {
    let mut i = 1;
    while i < points.len() {
        let (low, high) = (&points[i - 1], &points[i]);
        let steep = low
            .extra
            .steepness
            .into_iter()
            .chain(high.extra.steepness)
            .any(|value| value > STEEP);
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
    point
        .outcome
        .as_ref()
        .ok()
        .map(|found| found.manifold_pressure)
}

/// Whether the supercharger of a match works, if it has one.
fn works(found: &Match) -> Option<bool> {
    let stage = found
        .stages
        .iter()
        .find(|stage| stage.drive == Drive::Belt)?;
    Some(stage.pressure_ratio > 1.0 + WORKS)
}

fn hand_overs(
    solver: &mut Solver,
    points: &[LinePoint],
    places: &[Option<Neighbour>],
) -> Vec<HandOver> {
    let changes = changes(solver, points, places, works);
    changes
        .into_iter()
        .map(|(rpm, worked)| HandOver {
            rpm,
            direction: if worked {
                HandOverDirection::ToTurbo
            } else {
                HandOverDirection::ToSupercharger
            },
        })
        .collect()
}

/// Whether a wastegate of a match is open, if it has one.
fn is_gate_open(found: &Match) -> Option<bool> {
    let open = |gate| matches!(gate, GateState::Holding | GateState::WideOpen);
    let mut gates = found
        .turbines
        .iter()
        .filter(|turbine| turbine.gate != GateState::None)
        .peekable();
    gates.peek()?;
    Some(gates.any(|turbine| open(turbine.gate)))
}

/// Where an answer changes between points of the line, with the answer before it.
fn changes(
    solver: &mut Solver,
    points: &[LinePoint],
    places: &[Option<Neighbour>],
    answer: fn(&Match) -> Option<bool>,
) -> Vec<(f64, bool)> {
    let mut found = Vec::new();
    for i in 1..points.len() {
        let (Ok(low), Ok(high), Some(start)) =
            (&points[i - 1].outcome, &points[i].outcome, &places[i - 1])
        else {
            continue;
        };
        let (Some(before), Some(after)) = (answer(low), answer(high)) else {
            continue;
        };
        if before != after {
            found.push((
                crossing(solver, (low.rpm, high.rpm), before, start, answer),
                before,
            ));
        }
    }
    found
}

/// Halves the speeds between two points of which only the first has `before` for an answer.
fn crossing(
    solver: &mut Solver,
    (mut low, mut high): (f64, f64),
    before: bool,
    start: &Neighbour,
    answer: fn(&Match) -> Option<bool>,
) -> f64 {
    let mut near = *start;
    let mut found = Match::default();
    while high - low > CROSSING_WIDTH {
        let middle = 0.5 * (low + high);
        match solver.solve_near(middle, &near, &mut found) {
            Ok(place) => {
                near = place;
                if answer(&found) == Some(before) {
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

/// Boost of each stage alone at the speeds of the line.
fn alone(installation: &Installation, points: &[LinePoint]) -> Option<Alone> {
    let has_belt = installation.air_path.iter().any(is_belt_driven);
    if installation.turbines.is_empty() || !has_belt {
        return None;
    }
    let supercharger = installation.supercharger_alone();
    let turbo = installation.turbo_alone();
    let mut resting = Solver::new(&supercharger).ok()?;
    let mut rotors_out = Solver::new(&turbo).ok()?;
    let mut found = Match::default();
    let mut alone = Alone {
        supercharger: Vec::new(),
        turbo: Vec::new(),
    };
    for point in points {
        let solved = resting.at_rest(point.rpm, &mut found).is_ok();
        alone
            .supercharger
            .push((point.rpm, solved.then_some(boost(installation, &found))));
        let solved = rotors_out.solve(point.rpm, &mut found).is_ok();
        alone
            .turbo
            .push((point.rpm, solved.then_some(boost(installation, &found))));
    }
    Some(alone)
}

fn is_belt_driven(part: &Part) -> bool {
    matches!(part, Part::Supercharger(stage) if stage.belt().is_some())
}

fn boost(installation: &Installation, found: &Match) -> f64 {
    found.manifold_pressure - installation.site.pressure
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_always_ends_on_its_end() {
        let range = |from, to, step| speeds(SpeedRange { from, to, step });
        assert_eq!(
            range(1000.0, 2000.0, 400.0),
            [1000.0, 1400.0, 1800.0, 2000.0]
        );
        assert_eq!(range(1000.0, 2000.0, 500.0), [1000.0, 1500.0, 2000.0]);
        assert_eq!(range(2000.0, 2000.0, 100.0), [2000.0]);
    }
}
