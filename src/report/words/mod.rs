//! Findings and errors in plain words: what, where, in which unit, and what to do next.
//!
//! The core hands over numbers and enums; here they become one line of text in the reader's units,
//! or the fields of the JSON, whose units are always SI. Every word about a code stands in its row of
//! `catalogue`; `advice/` says how the numbers of a finding come into its advice.

mod advice;
mod catalogue;
mod error;
mod explain;
mod figure;
mod hand_over;
mod line;
mod missing;
mod name;
mod next_step;
pub mod regime;
mod short;

pub use catalogue::{Advice, FindingWords, words};
pub use error::{match_error, no_run, run_ended};
pub use explain::{Explanation, explain};
pub(super) use figure::with_unit;
pub use figure::{kind, unit};
pub use hand_over::no_hand_over;
pub use line::line;
pub use name::{code, limit_name, place, severity, what};
pub(super) use name::{is_minimum, is_quantity, says_place};
pub use next_step::advice;
pub use short::short;
