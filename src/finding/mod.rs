//! Limits and what was found against them, as numbers and enums; words are made at the edge.

mod limit;

pub use limit::Limits;
/// stub
#[derive(Debug, Clone)] pub struct Finding { /// s
 pub severity: Severity }
/// stub
#[derive(Debug, Clone, Copy, PartialEq, Eq)] pub enum Severity { /// a
 Ok, /// b
 Near, /// c
 Over, /// d
 OutsideData }
/// stub
pub fn of_match(_i: &crate::matching::Installation, _l: &crate::matching::Layout, _m: &crate::matching::Match, _s: Option<f64>) -> Vec<Finding> { Vec::new() }
