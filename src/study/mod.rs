//! What is asked of many matches: the operating line and what is found along it, maps ranked, the
//! charge cooler's size and how it warms over a run. Knows installations and matches, no files and
//! no words.
//!
//! How sure an answer is: [`rows`] moves each input by a small step, [`InputSpread`] puts all uncertain
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

pub use answer::{ANSWERS, Answer, Answers, MatchAnswers};
pub use band::{
    Band, Bands, COVERAGE, COVERAGE_FACTOR, InputSpread, LINEAR_WITHIN, Method, MovedInputs,
    NotLinear,
};
pub use branch::{Branch, Event, EventKind, Hysteresis, Jump, solve_from};
pub use line::{
    BoostAlone, HandOver, HandOverDirection, LinePoint, OperatingLine, findings, run, speeds,
};
pub use on_map::{LineOnMap, MatchOnMap, NEARLY_CHOKED, ValueAtSpeed, on_maps};
pub use rank::{Ranked, rank_one, sort_by_suitability, with_map};
pub use regime::{Change, MapSide, Regime};
pub use sensitivity::{InputStep, MOST_ROWS, ReadShifted, RowRemark, SensitivityRow, rows};
pub use summary::{Margin, Summary, summary};
