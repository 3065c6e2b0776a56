//! What was reckoned, put into words.

pub mod caution;
pub mod words;
