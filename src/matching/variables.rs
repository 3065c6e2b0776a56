//! Which values are free in this layout, and the state that carries them.
//!
//! Every variable owns one balance: the flow that of the engine, a displacement machine's ratio
//! that of its delivered flow (or of the pressure that a bypass holds), a place on a map that of
//! its flow, a turbo's climb that of its shaft's power, a turbine's inlet pressure that of what it
//! swallows, the pressure ahead of the exhaust pipe that of its drop, a gate's share the boost
//! limit.
//!
//! A turbo's *climb* tells how far it has come from rest: its speed over the top speed of its map, or
//! the logarithm of its pressure ratio where it has no map.

use crate::numeric::newton::MAX_UNKNOWNS;

/// What a variable is. Indices: `part` in the air path, `turbine` in exhaust order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Variable {
    /// ln of the flow into the engine, kg/s.
    Flow,
    /// ln of the pressure ratio of a displacement machine.
    Ratio { part: usize },
    /// Place on the map's line.
    Place { part: usize },
    /// Turbo speed over the speed of its map's top line, or ln of its pressure ratio without map.
    Climb { turbine: usize },
    /// ln of the pressure ahead of a turbine over the site's.
    TurbineInlet { turbine: usize },
    /// ln of the pressure ahead of the exhaust pipe over the site's.
    Pipe,
    /// Share of the exhaust through the gate.
    Gate { turbine: usize },
}

/// What the bypass of a belt-driven supercharger does in a trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BypassMode {
    /// Shut, or none there.
    Shut,
    /// Open.
    Open,
    /// Returning air to hold the pressure behind the rotors.
    HoldingOutlet,
    /// Returning air to hold the pressure in the manifold.
    HoldingManifold,
}

/// What a gate does in a trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum GateMode {
    /// Its share is as it stands.
    Fixed,
    /// Its share follows from the limit.
    Holding,
    /// Its share is the largest.
    WideOpen,
}

/// Most belt-driven stages, and most turbines, of one layout.
pub(super) const MOST_STAGES: usize = 4;

/// A trial: values of all variables, and what bypasses and gates do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Trial {
    /// Values, in the order of the solver's variables.
    pub x: [f64; MAX_UNKNOWNS],
    /// By belt-driven stage in flow order.
    pub bypasses: [BypassMode; MOST_STAGES],
    /// By turbine.
    pub gates: [GateMode; MOST_STAGES],
    /// By turbine: whether the climb is held instead of solved.
    pub held: [bool; MOST_STAGES],
}

impl Trial {
    /// A trial with nothing known.
    pub fn empty() -> Self {
        Self {
            x: [0.0; MAX_UNKNOWNS],
            bypasses: [BypassMode::Shut; MOST_STAGES],
            gates: [GateMode::Fixed; MOST_STAGES],
            held: [true; MOST_STAGES],
        }
    }

    /// Whether bypasses, gates and held climbs are the same, so that the same balances are solved.
    pub fn is_like(&self, other: &Self) -> bool {
        self.bypasses == other.bypasses && self.gates == other.gates && self.held == other.held
    }

    /// Values between two trials, with the rest as in `self`.
    pub fn towards(&self, other: &Self, share: f64) -> Self {
        let mut between = *self;
        for (x, y) in between.x.iter_mut().zip(other.x) {
            *x += share * (y - *x);
        }
        between
    }
}
