//! Mathematics that knows no physics: no units, no gas, no engine.

mod schedule;

pub use schedule::{Schedule, ScheduleError};
