//! The branch of matches that an engine follows as it speeds up.
//!
//! At one speed there may be several stable balances. An engine comes up through the speeds under
//! load, so at the lowest speed of its line it stands where a turbo climbing from rest first
//! balances. From there it stays on its branch as long as that exists: small steps of speed, each
//! started from the one before, change the state by little. Where the branch folds back, or a gate
//! opens or shuts for good, the shaft is let go as it turns there and runs to the balance that it
//! reaches. That is a *jump*. On the way down it may jump elsewhere: between the two an engine can
//! stand in either state (hysteresis).
//!
//! The speeds marched through are those of a geometric series from the line's first, whatever the
//! step of its table, so that what is found does not hang on that step.

mod advance;
mod event;
mod hysteresis;

pub use event::{Event, EventKind};
pub use hysteresis::Hysteresis;

use super::regime::Regime;
use crate::matching::{Drive, Installation, LayoutError, Match, MatchError, Neighbour, Solver};
use advance::{SMALLEST_STRIDE, advance};

/// Factor from one speed of the march to the next.
const STRIDE: f64 = 1.02;
/// Above 1 by this a supercharger works.
const WORKS: f64 = 1e-9;

/// The branch of one installation, marched as far as it was asked for.
#[derive(Debug)]
pub struct Branch<'a> {
    solver: Solver<'a>,
    nodes: Vec<Node>,
    /// Factor from one speed to the next: above 1 upward, below 1 downward.
    factor: f64,
    /// How many strides were marched from the first speed.
    strides: i32,
}

/// A state on the branch.
#[derive(Debug, Clone)]
struct Node {
    rpm: f64,
    state: Result<State, MatchError>,
    /// Whether the state jumped here from that of the node before.
    jumped: bool,
}

#[derive(Debug, Clone)]
struct State {
    place: Neighbour,
    manifold_pressure: f64,
    air_mass_flow: f64,
    regime: Regime,
    works: Option<bool>,
}

/// A speed at which the state jumps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jump {
    /// The last speed before it on the way, rpm.
    pub before: f64,
    /// The first speed after it, rpm.
    pub after: f64,
    /// Absolute manifold pressure before it, Pa.
    pub from: f64,
    /// Absolute manifold pressure after it, Pa.
    pub to: f64,
}

impl<'a> Branch<'a> {
    /// The branch upward from the line's first speed.
    pub fn upward(installation: &'a Installation) -> Result<Self, LayoutError> {
        let mut solver = Solver::new(installation)?;
        let first = from_rest(&mut solver, installation.engine.speeds.from);
        Ok(Self::starting(solver, first, STRIDE))
    }

    fn starting(solver: Solver<'a>, first: Node, factor: f64) -> Self {
        Self {
            solver,
            nodes: vec![first],
            factor,
            strides: 0,
        }
    }

    /// The solver, to ask more of a match.
    pub fn solver(&mut self) -> &mut Solver<'a> {
        &mut self.solver
    }

    /// The match at an engine speed in rpm. Ahead of the branch's first speed it is that from rest.
    pub fn at(&mut self, rpm: f64, out: &mut Match) -> Result<Neighbour, MatchError> {
        if !(rpm.is_finite() && rpm > 0.0) || self.is_past(self.nodes[0].rpm, rpm) {
            return self.solver.solve(rpm, out);
        }
        self.march(rpm);
        let nodes = &self.nodes;
        let last = nodes.partition_point(|node| !self.is_past(node.rpm, rpm)) - 1;
        let Ok(state) = &nodes[last].state else {
            return self.solver.solve(rpm, out);
        };
        let start = (nodes[last].rpm, state.place);
        let mut ended = Err(MatchError::Speed { rpm });
        advance(&mut self.solver, start, rpm, |_, step| {
            if step.rpm.total_cmp(&rpm).is_eq() {
                out.clone_from(step.found);
                ended = Ok(step.place);
            }
        })?;
        ended
    }

    /// Whether the first speed lies past the second on the way.
    fn is_past(&self, one: f64, other: f64) -> bool {
        if self.factor > 1.0 {
            one > other
        } else {
            one < other
        }
    }

    /// The next speed of the series.
    fn next(&self) -> f64 {
        self.nodes[0].rpm * self.factor.powi(self.strides + 1)
    }

    /// Marches on to the last speed of the series that does not lie past this one.
    fn march(&mut self, to: f64) {
        while !self.is_past(self.next(), to) {
            self.stride();
        }
    }

    fn stride(&mut self) {
        let to = self.next();
        self.strides += 1;
        let last = &self.nodes[self.nodes.len() - 1];
        let Ok(state) = &last.state else {
            let anew = from_rest(&mut self.solver, to);
            self.nodes.push(anew);
            return;
        };
        let start = (last.rpm, state.place);
        let nodes = &mut self.nodes;
        let ended = advance(&mut self.solver, start, to, |solver, step| {
            let mut node = Node::new(solver, step.found, &step.place);
            node.jumped = step.jumped;
            nodes.push(node);
        });
        if let Err(fault) = ended {
            let last = nodes.last().map_or(to, |node| node.rpm);
            let past = SMALLEST_STRIDE.copysign(self.factor - 1.0);
            nodes.push(Node::lost(last + past, fault));
            // An engine that is started at this speed may stand all the same.
            let anew = from_rest(&mut self.solver, to);
            self.nodes.push(anew);
        }
    }

    fn node_at(&mut self, rpm: f64) -> Node {
        let mut found = Match::default();
        match self.at(rpm, &mut found) {
            Ok(place) => Node::new(&self.solver, &found, &place),
            Err(fault) => Node::lost(rpm, fault),
        }
    }

    /// Marches on past a speed in rpm by one stride.
    fn march_past(&mut self, to: f64) {
        self.march(to);
        if self.is_past(to, self.nodes[self.nodes.len() - 1].rpm) {
            self.stride();
        }
    }

    /// Every jump up to a speed in rpm.
    pub fn jumps(&mut self, to: f64) -> Vec<Jump> {
        self.march_past(to);
        let jumped = |pair: &[Node]| {
            let (Ok(before), Ok(after)) = (&pair[0].state, &pair[1].state) else {
                return None;
            };
            pair[1].jumped.then_some(Jump {
                before: pair[0].rpm,
                after: pair[1].rpm,
                from: before.manifold_pressure,
                to: after.manifold_pressure,
            })
        };
        let jumps = self.nodes.windows(2).filter_map(jumped);
        jumps.filter(|jump| !self.is_past(jump.after, to)).collect()
    }
}

impl Node {
    fn new(solver: &Solver, found: &Match, place: &Neighbour) -> Self {
        let regime = Regime::of(solver.installation(), solver.layout(), found);
        Self {
            rpm: found.rpm,
            state: Ok(State {
                place: *place,
                manifold_pressure: found.manifold_pressure,
                air_mass_flow: found.air_mass_flow,
                regime,
                works: works(found),
            }),
            jumped: false,
        }
    }

    fn lost(rpm: f64, fault: MatchError) -> Self {
        Self {
            rpm,
            state: Err(fault),
            jumped: false,
        }
    }

    fn differs(&self, other: &Self) -> bool {
        match (&self.state, &other.state) {
            (Err(_), Err(_)) => false,
            (Ok(one), Ok(other)) => one.regime != other.regime || one.works != other.works,
            _ => true,
        }
    }
}

/// Whether the first supercharger on the belt of a match works, if it has one.
fn works(found: &Match) -> Option<bool> {
    let mut stages = found.stages.iter();
    let stage = stages.find(|stage| stage.drive == Drive::Belt)?;
    Some(stage.pressure_ratio > 1.0 + WORKS)
}

/// The match at a speed in rpm from near another of this installation or of one that differs a
/// little; without one nearby on the branch of its own line.
pub fn solve_from(
    solver: &mut Solver,
    rpm: f64,
    near: Option<&Neighbour>,
    out: &mut Match,
) -> Result<Neighbour, MatchError> {
    if let Some(place) = near {
        return solver.solve_near(rpm, place, out);
    }
    let branch = Branch::upward(solver.installation());
    branch.map_err(|_| MatchError::Speed { rpm })?.at(rpm, out)
}

/// The match from rest, as a node.
fn from_rest(solver: &mut Solver, rpm: f64) -> Node {
    let mut found = Match::default();
    match solver.solve(rpm, &mut found) {
        Ok(place) => Node::new(solver, &found, &place),
        Err(fault) => Node::lost(rpm, fault),
    }
}
