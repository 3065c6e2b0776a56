//! What is asked of many matches: the operating line and what is found along it. Knows
//! installations and matches, no files and no words.

mod line;

pub use line::{Alone, HandOver, HandOverDirection, Line, LinePoint, findings, run, speeds};
