//! The equilibrium of the turbos' shafts: where turbine and compressor power are one.
//!
//! From rest a [`march`] steps along the climb of a shaft (turbo speed where there is a map, else the
//! logarithm of its pressure ratio). At each [`step`] every other balance is solved, and the power that
//! the turbine gives beyond what the compressor takes is watched. An equilibrium is stable where that
//! excess falls through zero ([`between_steps`]). Where the boost reaches its limit first, the gate's
//! share follows from the limit and both powers; at its largest share the gate is wide open and boost is
//! the answer again ([`wastegate`]). [`mod@from_rest`] takes whichever comes first.
//!
//! Of several turbines in series, the first in exhaust order marches; at each of its steps the others
//! find their own equilibrium.
//!
//! More than one equilibrium may be stable. [`mod@survey`] finds them all and the part of the climb from
//! which each is reached, so that an engine that comes from a neighbouring speed ends where its
//! shaft would run to. [`warm_start`] follows one of them from a neighbouring match.

mod between_steps;
mod end_of_march;
mod from_rest;
mod march;
mod power_curve;
mod rest;
mod shaft;
mod step;
mod survey;
mod turning_point;
mod warm_start;
mod wastegate;

pub(super) use from_rest::from_rest;
pub use power_curve::PowerPoint;
pub(super) use power_curve::power_curve;
pub(super) use rest::at_rest;
pub(super) use shaft::Equilibrium;
pub(super) use survey::{reached_from, survey};
pub(super) use warm_start::from_neighbour;
