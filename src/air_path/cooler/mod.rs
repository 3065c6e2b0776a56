//! The charge cooler: from the charge's state and flow, and the sink's, to what leaves it. SI; total
//! states, absolute pressures.
//!
//! Effectiveness–NTU (Kays and London): UA from a rated point or from the core's geometry, both
//! capacity flows, ε(NTU) of the arrangement. The charge's heat capacity is its mean from the inlet
//! down to the sink, (h_in − h_sink)/(T_in − T_sink), so that an endless cooler ends exactly at the
//! sink; the sink's is that where it enters. Heat is m (h_in − h_out), exactly. Water that condenses
//! is left out.

mod change;
mod charge_cooler;
mod charge_side;
mod cooling;
mod core;
mod driven_flow;
mod effectiveness;
mod fluid;
mod needed;
mod rated;
mod sink;

pub use self::core::{
    Core, CoreError, CorePassage, CoreSizes, Correlated, Fin, FinKind, OutOfRange,
};
pub use charge_cooler::{Cooled, Cooler, Exchange, Exchanger};
pub use driven_flow::{FanCurve, FanError};
pub use effectiveness::{Arrangement, Side};
pub use fluid::Fluid;
pub(super) use fluid::air_viscosity;
pub use rated::{Rated, RatedError, RatedFigure, RatedPoint, SideConductance};
pub use sink::{Sink, SinkFlow, SinkFluid, SinkSide, WaterCircuit};
