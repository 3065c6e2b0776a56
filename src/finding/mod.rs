//! Limits and what was found against them, as numbers and enums; words and units are made at the
//! edge. SI, absolute pressures.
//!
//! `catalogue` holds one row a code: what it measures, where its limit comes from, how bad it is.
//! [`of_match()`] looks at one match, [`of_line()`] keeps the worst of each matter over an operating
//! line. What a match alone cannot tell (how steep it is, which pulley would hold the limit) comes
//! in as [`Extra`] from whoever solved for it.
//!
//! `plausible` asks whether such an engine exists, `passages` looks at filters, pipes and drops,
//! `against_limits` holds the limits of the build, `costs` head, injectors, knocking and power that is
//! not known, `drives` shafts and belts, `on_map` surge and the edges of maps, `gate` wastegate and
//! turbine, `fuelling` the mixture, `cooling` charge coolers, `trust` what makes an answer
//! doubtful, `tables` the ends of the build's tables.

mod against_limits;
mod catalogue;
mod context;
mod cooling;
mod costs;
mod detail;
mod drives;
mod entry;
#[cfg(test)]
pub(crate) mod fixture;
mod fuelling;
mod gate;
mod line;
mod of_match;
mod on_map;
mod passages;
mod plausible;
mod rule;
mod step;
mod subject;
mod tables;
mod trust;

pub use catalogue::{CatalogueRow, Code};
pub use detail::{
    BoostSource, Detail, Extra, FixedFuelling, KnockGrade, MissingForPower, OtherFuelling,
    SuperchargerAlone,
};
pub use entry::{Finding, NEAR, NEAR_MINIMUM};
pub use line::{of_line, worst_of};
pub use of_match::of_match;
pub use on_map::{LOW_END_RATIO, points_on_maps};
pub use rule::{Basis, Bound, Grading, Measure, Origin, Passed, Rule, Severity, Usual};
pub use step::{Lever, LimitMet, NextStep};
pub use subject::{PassivePart, SpeedTable, Subject};
