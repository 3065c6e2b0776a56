//! What is asked of many matches: the operating line and what is found along it. Knows
//! installations and matches, no files and no words.

pub mod extra;
mod line;
mod rank;

pub use line::{Alone, HandOver, HandOverDirection, Line, LinePoint, findings, run, speeds};
pub use rank::{At, Ranked, rank_one, sort_by_suitability, with_map};
