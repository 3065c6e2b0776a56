//! Mathematics that knows no physics: no units, no gas, no engine.

pub mod bracketed;
pub mod crossing;
pub mod dual;
pub mod monotone;
pub mod newton;
pub mod root;
pub mod sample;
mod schedule;

pub use schedule::{Schedule, ScheduleError};
