//! Mathematics that knows no physics: no units, no gas, no engine.

pub mod newton;
pub mod root;
mod schedule;

pub use schedule::{Schedule, ScheduleError};
