//! Limits and what was found against them, as numbers and enums; words are made at the edge.

mod limit;

pub use limit::Limits;
