//! What is asked of many matches: the operating line and what is found along it, maps ranked, the
//! charge cooler's size and how it warms over a run. Knows installations and matches, no files and
//! no words.
//!
//! How sure an answer is: [`rows`] moves each input by a small step, [`Fan`] puts all uncertain
//! inputs together into bands, first by first order, by samples where that does not hold.

pub mod advice;
mod answer;
mod band;
mod branch;
pub mod cooler;
pub mod extra;
mod line;
mod on_map;
mod rank;
mod regime;
mod sampled;
mod sensitivity;
pub mod soak;
mod summary;

pub use answer::{ANSWERS, Answer, Answers, Looked};
pub use band::{
    Band, Bands, COVERAGE, COVERAGE_FACTOR, Fan, LINEAR_WITHIN, Method, NotLinear, Place,
};
pub use branch::{Branch, Event, Hysteresis, Jump, What, solve_from};
pub use line::{Alone, HandOver, HandOverDirection, Line, LinePoint, findings, run, speeds};
pub use on_map::{At, NEARLY_CHOKED, OnMap, Placed, on_maps};
pub use rank::{Ranked, rank_one, sort_by_suitability, with_map};
pub use regime::{Change, Regime, Side};
pub use sensitivity::{MOST_ROWS, Read, Remark, Row, Step, rows};
pub use summary::{Margin, Summary, summary};
