//! `cooler`: the charge cooler at the hardest point and along the line, and over a timed run.

mod depth_text;
mod run_text;
mod size_text;
mod tables;
mod text;
pub(super) mod words;

pub use text::cooler_text;
