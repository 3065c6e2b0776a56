//! What is asked of many matches: the operating line and what is found along it, maps ranked, the
//! charge cooler's size and how it warms over a run. Knows installations and matches, no files and
//! no words.

pub mod cooler;
pub mod extra;
mod line;
mod on_map;
mod rank;
pub mod soak;
mod summary;

pub use line::{Alone, HandOver, HandOverDirection, Line, LinePoint, findings, run, speeds};
pub use on_map::At;
pub use rank::{Ranked, rank_one, sort_by_suitability, with_map};
pub use summary::{Summary, summary};
