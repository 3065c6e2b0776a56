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

use super::answer::{Change, Regime};
use crate::matching::{Drive, Installation, LayoutError, Match, MatchError, Neighbour, Solver};

/// Factor from one speed of the march to the next.
const STRIDE: f64 = 1.02;
/// Largest distance of two neighbouring states ([`Solver::distance`]): twice what the stride alone
/// makes of the flow. A larger one is stepped through in smaller strides.
const NEAR: f64 = 0.04;
/// Smallest stride, rpm. A state that is still far across it has jumped.
const SMALLEST_STRIDE: f64 = 0.25;
/// Width of the bracket at which an event counts as found, rpm.
const EVENT_WIDTH: f64 = 0.5;
/// Relative difference of manifold pressure or air flow that makes two states of one speed.
const ANOTHER: f64 = 1e-5;
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

/// Speeds between which an engine that comes down stands in another state than one that goes up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hysteresis {
    /// Lowest such speed, rpm.
    pub from: f64,
    /// Highest such speed, rpm.
    pub to: f64,
    /// In the middle of them, absolute manifold pressure on the way up, Pa.
    pub upward: f64,
    /// The same on the way down, Pa.
    pub downward: f64,
}

/// What happens at a speed of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// Engine speed, rpm, to half a revolution.
    pub rpm: f64,
    /// What.
    pub what: What,
}

/// What happens as the engine speeds up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum What {
    /// The supercharger's pressure ratio falls to 1 (to the turbo) or rises from it.
    HandOver {
        /// Whether the turbocharger takes over.
        to_turbo: bool,
    },
    /// A gate, a bypass, the smoke limiter, the fuel's vapour or a side of a map.
    Change(Change),
    /// The branch ends and the state jumps; absolute manifold pressures, Pa.
    Jump {
        /// Before.
        from: f64,
        /// After.
        to: f64,
    },
    /// From here on there is no match.
    Lost,
    /// From here on there is a match again.
    Found,
}

impl<'a> Branch<'a> {
    /// The branch upward from the line's first speed.
    pub fn upward(installation: &'a Installation) -> Result<Self, LayoutError> {
        let mut solver = Solver::new(installation)?;
        let first = from_rest(&mut solver, installation.engine.speeds.from);
        Ok(Self::starting(solver, first, STRIDE))
    }

    /// The branch downward from where this one stands at the line's last speed.
    fn downward(&mut self) -> Result<Self, LayoutError> {
        let installation = self.solver.installation();
        let first = self.node_at(installation.engine.speeds.to);
        Ok(Self::starting(
            Solver::new(installation)?,
            first,
            1.0 / STRIDE,
        ))
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

    /// What happens up to a speed in rpm, in the order of the way.
    pub fn events(&mut self, to: f64) -> Vec<Event> {
        self.march_past(to);
        let nodes = self.nodes.clone();
        let mut events = Vec::new();
        for pair in nodes.windows(2) {
            self.between(&pair[0], &pair[1], &mut events);
        }
        events.retain(|event| !self.is_past(event.rpm, to));
        events
    }

    /// What happens between two states, found by halving.
    fn between(&mut self, before: &Node, after: &Node, events: &mut Vec<Event>) {
        if !after.jumped && !before.differs(after) {
            return;
        }
        let rpm = 0.5 * (before.rpm + after.rpm);
        if after.jumped || (after.rpm - before.rpm).abs() <= EVENT_WIDTH {
            happened(before, after, rpm, events);
            return;
        }
        let middle = self.node_at(rpm);
        self.between(before, &middle, events);
        self.between(&middle, after, events);
    }

    /// Where an engine that comes down from the line's last speed stands in another state.
    pub fn hysteresis(&mut self) -> Result<Vec<Hysteresis>, LayoutError> {
        let speeds = self.solver.installation().engine.speeds;
        self.march_past(speeds.to);
        let mut down = self.downward()?;
        let mut bands = Vec::new();
        let mut open: Option<f64> = None;
        let mut last = speeds.from;
        let rpms: Vec<f64> = self.nodes.iter().map(|node| node.rpm).collect();
        for rpm in rpms
            .into_iter()
            .filter(|rpm| *rpm < speeds.to)
            .chain([speeds.to])
        {
            let apart = self.apart(&mut down, rpm);
            match (open, apart) {
                (None, true) => open = Some(self.edge(&mut down, last, rpm)),
                (Some(from), false) => {
                    let to = self.edge(&mut down, rpm, last);
                    bands.extend(self.band(&mut down, from, to));
                    open = None;
                }
                _ => {}
            }
            last = rpm;
        }
        if let Some(from) = open {
            bands.extend(self.band(&mut down, from, speeds.to));
        }
        Ok(bands)
    }

    /// Whether the two ways stand in different states at a speed. Where one of them has lost its
    /// branch there is nothing to compare.
    fn apart(&mut self, down: &mut Self, rpm: f64) -> bool {
        let (Some(up), Some(down)) = (self.standing(rpm), down.standing(rpm)) else {
            return false;
        };
        let far = |a: f64, b: f64| (a - b).abs() > ANOTHER * b.abs();
        far(up.0, down.0) || far(up.1, down.1)
    }

    /// Manifold pressure, Pa, and air flow, kg/s, on the branch; none where it is lost.
    fn standing(&mut self, rpm: f64) -> Option<(f64, f64)> {
        if self.is_past(self.nodes[0].rpm, rpm) {
            return None;
        }
        self.march(rpm);
        let nodes = &self.nodes;
        let last = nodes.partition_point(|node| !self.is_past(node.rpm, rpm)) - 1;
        nodes[last].state.as_ref().ok()?;
        let state = self.node_at(rpm).state.ok()?;
        Some((state.manifold_pressure, state.air_mass_flow))
    }

    /// The speed between one at which the ways are one and one at which they are apart.
    fn edge(&mut self, down: &mut Self, mut one: f64, mut apart: f64) -> f64 {
        while (apart - one).abs() > EVENT_WIDTH {
            let middle = 0.5 * (one + apart);
            if self.apart(down, middle) {
                apart = middle;
            } else {
                one = middle;
            }
        }
        0.5 * (one + apart)
    }

    fn band(&mut self, down: &mut Self, from: f64, to: f64) -> Option<Hysteresis> {
        let middle = 0.5 * (from + to);
        Some(Hysteresis {
            from,
            to,
            upward: self.standing(middle)?.0,
            downward: down.standing(middle)?.0,
        })
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

/// One step along a branch.
struct Step<'m> {
    rpm: f64,
    place: Neighbour,
    found: &'m Match,
    jumped: bool,
}

/// Goes from a state (speed in rpm, place) to another speed by strides over which it changes little,
/// and tells `each` of every one. Fails where there is no match within [`SMALLEST_STRIDE`].
fn advance(
    solver: &mut Solver,
    (mut rpm, mut place): (f64, Neighbour),
    to: f64,
    mut each: impl FnMut(&Solver, Step),
) -> Result<(), MatchError> {
    let mut found = Match::default();
    let mut stride = to - rpm;
    loop {
        let next = if stride.abs() >= (to - rpm).abs() {
            to
        } else {
            rpm + stride
        };
        let is_smallest = stride.abs() <= SMALLEST_STRIDE;
        let followed = solver.follow(next, &place, &mut found);
        let followed = followed.filter(|there| solver.distance(there, &place) <= NEAR);
        let there = match followed {
            Some(there) => Ok(there),
            None => solver.reach(next, &place, &mut found),
        };
        let is_near = (there.as_ref()).is_ok_and(|there| solver.distance(there, &place) <= NEAR);
        match there {
            Ok(there) if is_near || is_smallest => {
                let jumped = !is_near;
                place = there;
                rpm = next;
                let found = &found;
                each(
                    solver,
                    Step {
                        rpm,
                        place,
                        found,
                        jumped,
                    },
                );
            }
            Err(fault) if is_smallest => return Err(fault),
            _ => {
                stride *= 0.5;
                continue;
            }
        }
        if rpm.total_cmp(&to).is_eq() {
            return Ok(());
        }
        stride = (2.0 * stride).clamp(-(to - rpm).abs(), (to - rpm).abs());
    }
}

/// The events between two neighbouring states.
fn happened(before: &Node, after: &Node, rpm: f64, events: &mut Vec<Event>) {
    let mut add = |what| events.push(Event { rpm, what });
    let (one, other) = match (&before.state, &after.state) {
        (Ok(one), Ok(other)) => (one, other),
        (Ok(_), Err(_)) => return add(What::Lost),
        (Err(_), Ok(_)) => return add(What::Found),
        (Err(_), Err(_)) => return,
    };
    if after.jumped {
        add(What::Jump {
            from: one.manifold_pressure,
            to: other.manifold_pressure,
        });
    }
    if let (Some(worked), Some(works)) = (one.works, other.works)
        && worked != works
    {
        add(What::HandOver { to_turbo: worked });
    }
    for change in one.regime.changes_to(&other.regime) {
        add(What::Change(change));
    }
}
