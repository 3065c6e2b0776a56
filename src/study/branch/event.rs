//! What happens along a branch: found between neighbouring states by halving.

use super::{Branch, Node};
use crate::study::Change;

/// Width of the bracket at which an event counts as found, rpm.
pub(super) const EVENT_WIDTH: f64 = 0.5;

/// What happens at a speed of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// Engine speed, rpm, to half a revolution.
    pub rpm: f64,
    /// What.
    pub what: EventKind,
}

/// What happens as the engine speeds up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EventKind {
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

impl Branch<'_> {
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
}

/// The events between two neighbouring states.
fn happened(before: &Node, after: &Node, rpm: f64, events: &mut Vec<Event>) {
    let mut add = |what| events.push(Event { rpm, what });
    let (one, other) = match (&before.state, &after.state) {
        (Ok(one), Ok(other)) => (one, other),
        (Ok(_), Err(_)) => return add(EventKind::Lost),
        (Err(_), Ok(_)) => return add(EventKind::Found),
        (Err(_), Err(_)) => return,
    };
    if after.jumped {
        add(EventKind::Jump {
            from: one.manifold_pressure,
            to: other.manifold_pressure,
        });
    }
    if let (Some(worked), Some(works)) = (one.works, other.works)
        && worked != works
    {
        add(EventKind::HandOver { to_turbo: worked });
    }
    for change in one.regime.changes_to(&other.regime) {
        add(EventKind::Change(change));
    }
}
