//! The operating line: the matches over the engine's speeds, what happens on the way, and where it
//! would differ on the way down.

use super::branch::{Branch, Event, EventKind, Hysteresis, Jump};
use super::regime::Change;
use super::{advice, extra};
use crate::air_path::Part;
use crate::engine::SpeedRange;
use crate::finding::{self, Extra, Finding};
use crate::matching::{GateState, Installation, Layout, LayoutError, Match, MatchError, Solver};

/// The line of an installation.
#[derive(Debug)]
pub struct OperatingLine {
    /// Its points, rising in speed.
    pub points: Vec<LinePoint>,
    /// What happens along it, rising in speed.
    pub events: Vec<Event>,
    /// Where its branch ends and the state jumps to another.
    pub jumps: Vec<Jump>,
    /// Between which speeds an engine that comes down stands in another state.
    pub hysteresis: Vec<Hysteresis>,
    /// Every speed where the supercharger's pressure ratio crosses 1.
    pub hand_over: Vec<HandOver>,
    /// The first speed at which a wastegate opens, rpm, where one does on the way.
    pub gate_opens: Option<f64>,
    /// Boost of each stage alone, where one is driven by the belt and one by a turbine.
    pub alone: Option<BoostAlone>,
}

impl OperatingLine {
    /// The matches, rising in speed.
    pub fn matches(&self) -> impl Iterator<Item = &Match> {
        let outcomes = self.points.iter().map(|point| &point.outcome);
        outcomes.filter_map(|outcome| outcome.as_ref().ok())
    }

    /// How many speeds have no match.
    pub fn unsolved(&self) -> usize {
        self.points.len() - self.matches().count()
    }

    /// Of each jump the speeds of the points on both sides of it, rpm.
    pub fn jumps(&self) -> Vec<(f64, f64)> {
        let sides = |jump: &Jump| {
            let below = self.points.iter().rev().find(|p| p.rpm <= jump.before)?;
            let above = self.points.iter().find(|p| p.rpm >= jump.after)?;
            Some((below.rpm, above.rpm))
        };
        self.jumps.iter().filter_map(sides).collect()
    }
}

/// Boost above the site of each stage alone, Pa, over engine speed, rpm; none where there is no
/// match.
#[derive(Debug, Clone)]
pub struct BoostAlone {
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

/// Largest relative change of manifold pressure between neighbours of a line.
const LARGEST_CHANGE: f64 = 0.05;

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
pub fn run(installation: &Installation) -> Result<OperatingLine, LayoutError> {
    let mut branch = Branch::upward(installation)?;
    let range = installation.engine.speeds;
    let mut rows = Rows::default();
    for rpm in speeds(range) {
        rows.solve(&mut branch, rpm);
    }
    let jumps = branch.jumps(range.to);
    rows.refine(&mut branch, &jumps);
    let points = rows.points;
    let events = branch.events(range.to);
    let alone = alone(installation, &points);
    Ok(OperatingLine {
        hand_over: hand_overs(&events),
        gate_opens: gate_opens(&events),
        hysteresis: branch.hysteresis()?,
        points,
        events,
        jumps,
        alone,
    })
}

/// What was found along a line: the worst of each matter, worst first.
pub fn findings(
    installation: &Installation,
    layout: &Layout,
    line: &OperatingLine,
) -> Vec<Finding> {
    let mut matched = Vec::new();
    let mut failed = Vec::new();
    for point in &line.points {
        match &point.outcome {
            Ok(found) => matched.push((found, point.extra)),
            Err(fault) => failed.push((point.rpm, *fault)),
        }
    }
    let mut findings = finding::of_line(installation, layout, &matched, &failed);
    let matches: Vec<&Match> = line.matches().collect();
    advice::add(installation, layout, &matches, &mut findings);
    findings
}

/// The points of a line as they come.
#[derive(Default)]
struct Rows {
    points: Vec<LinePoint>,
    /// Speeds at which other balances were looked for, rpm, and whether there are some.
    looked: Vec<(f64, bool)>,
}

/// Speeds as near as this, relative, have the same balances where none of them has a second: a table
/// of a thousand speeds need not look at each.
const SAME_BALANCES: f64 = 0.01;

impl Rows {
    fn solve(&mut self, branch: &mut Branch, rpm: f64) {
        let at = self.points.partition_point(|point| point.rpm < rpm);
        let mut found = Match::default();
        let (outcome, extra) = match branch.at(rpm, &mut found) {
            Ok(place) => {
                if self.may_have_others(rpm) {
                    branch.solver().find_others(&mut found);
                    self.looked.push((rpm, !found.others.is_empty()));
                }
                let extra = extra::of_match(branch.solver(), &found, &place);
                (Ok(found), extra)
            }
            Err(fault) => (Err(fault), Extra::default()),
        };
        let point = LinePoint {
            rpm,
            outcome,
            extra,
        };
        self.points.insert(at, point);
    }

    /// Whether a speed is to be looked at for other balances: unless speeds nearby have none.
    fn may_have_others(&self, rpm: f64) -> bool {
        let near = |within: f64| {
            let looked = self.looked.iter();
            looked.filter(move |(other, _)| (other / rpm - 1.0).abs() < within)
        };
        near(2.0 * SAME_BALANCES).any(|(_, some)| *some) || near(SAME_BALANCES).next().is_none()
    }

    /// Adds points until neighbours differ by little, or a jump lies between them.
    fn refine(&mut self, branch: &mut Branch, jumps: &[Jump]) {
        let mut i = 1;
        while i < self.points.len() {
            let (low, high) = (&self.points[i - 1], &self.points[i]);
            let far = matches!((manifold(low), manifold(high)), (Some(a), Some(b)) if (b / a - 1.0).abs() > LARGEST_CHANGE);
            let between = far
                .then(|| speed_between(low.rpm, high.rpm, jumps))
                .flatten();
            match between {
                Some(rpm) => self.solve(branch, rpm),
                None => i += 1,
            }
        }
    }
}

/// A speed to look at between two: beside a jump, or else in the middle; in whole revolutions.
fn speed_between(low: f64, high: f64, jumps: &[Jump]) -> Option<f64> {
    let is_inside = |rpm: &f64| *rpm > low && *rpm < high;
    let jump = jumps
        .iter()
        .find(|jump| jump.before >= low && jump.after <= high);
    match jump {
        Some(jump) => [jump.before.floor(), jump.after.ceil()]
            .into_iter()
            .find(is_inside),
        None => Some((0.5 * (low + high)).round()).filter(is_inside),
    }
}

fn manifold(point: &LinePoint) -> Option<f64> {
    point
        .outcome
        .as_ref()
        .ok()
        .map(|found| found.manifold_pressure)
}

fn hand_overs(events: &[Event]) -> Vec<HandOver> {
    let of = |event: &Event| {
        let EventKind::HandOver { to_turbo } = event.what else {
            return None;
        };
        Some(HandOver {
            rpm: event.rpm,
            direction: if to_turbo {
                HandOverDirection::ToTurbo
            } else {
                HandOverDirection::ToSupercharger
            },
        })
    };
    events.iter().filter_map(of).collect()
}

fn gate_opens(events: &[Event]) -> Option<f64> {
    let opens = |event: &&Event| {
        matches!(
            event.what,
            EventKind::Change(Change::Gate(_, GateState::Holding | GateState::WideOpen))
        )
    };
    events.iter().find(opens).map(|event| event.rpm)
}

/// Boost of each stage alone at the speeds of the line.
fn alone(installation: &Installation, points: &[LinePoint]) -> Option<BoostAlone> {
    let has_belt = installation.air_path.iter().any(is_belt_driven);
    if installation.turbines.is_empty() || !has_belt {
        return None;
    }
    let supercharger = installation.supercharger_alone();
    let turbo = installation.turbo_alone();
    let mut resting = Solver::new(&supercharger).ok()?;
    let mut rotors_out = Branch::upward(&turbo).ok()?;
    let mut found = Match::default();
    let mut alone = BoostAlone {
        supercharger: Vec::new(),
        turbo: Vec::new(),
    };
    for point in points {
        let solved = resting.at_rest(point.rpm, &mut found).is_ok();
        alone
            .supercharger
            .push((point.rpm, solved.then_some(boost(installation, &found))));
        let solved = rotors_out.at(point.rpm, &mut found).is_ok();
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
