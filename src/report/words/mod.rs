//! Findings in plain words: what, where, in which unit, and what to do next.
//!
//! The core hands over numbers and enums; here they become one line of text in the reader's units,
//! or the fields of the JSON, whose units are always SI.

mod advice;
mod figure;
mod hand_over;
mod line;
mod name;
pub mod regime;
mod short;

pub use advice::advice;
pub(super) use figure::with_unit;
pub use hand_over::no_hand_over;
pub use line::line;
pub(super) use line::{is_minimum, says_place};
pub use name::{code, limit_name, place, severity, what};
pub use short::short;

use crate::finding::Measure;
use crate::quantity::Kind;

/// The SI unit of a finding's value and limit; "1" for a plain number.
pub const fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::AbsolutePressure => "Pa",
        Measure::Temperature => "K",
        Measure::Speed => "rpm",
        Measure::SurfaceSpeed => "m/s",
        Measure::Force => "N",
        Measure::Power => "W",
        Measure::Ratio | Measure::Share => "1",
    }
}

/// The kind of quantity of a finding's value and limit, for the reader's units.
pub const fn kind(measure: Measure) -> Kind {
    match measure {
        Measure::AbsolutePressure => Kind::AbsolutePressure,
        Measure::Temperature => Kind::Temperature,
        Measure::Speed => Kind::RotationalSpeed,
        Measure::SurfaceSpeed => Kind::SurfaceSpeed,
        Measure::Force => Kind::SmallForce,
        Measure::Power => Kind::Power,
        Measure::Ratio => Kind::Number,
        Measure::Share => Kind::Share,
    }
}
