//! What of a cooler, changed alone, would just meet the target.

use super::rows::fields;
use crate::study::cooler::{Knob, Size, SizeNeeded};

/// A size, and the core's face area in m² where it is known.
#[derive(Debug, Clone, Copy)]
pub struct NeededSize {
    /// The size.
    pub size: Size,
    /// Face area of the core, m².
    pub face: Option<f64>,
}

fields! { NeededSize {
    what = text "what",
        "What is changed: effectiveness, conductance, face or sink flow."
        |s| match s.size.knob {
            Knob::Effectiveness => "effectiveness",
            Knob::Conductance => "conductance",
            Knob::Face => "face",
            Knob::SinkFlow => "sink flow",
        };
    unit = text "unit",
        "SI unit of the two values; 1 for a plain number."
        |s| match (s.size.knob, s.face) {
            (Knob::Conductance, _) => "W/K",
            (Knob::Face, Some(_)) => "m2",
            (Knob::SinkFlow, _) => "kg/s",
            _ => "1",
        };
    have = Number "present",
        "Its present value, at the most demanding speed." |s| s.have();
    needed ? Number "needed",
        "What just meets the target; absent where nothing or no finite size does."
        |s| Some(s.needed()?.0);
    factor ? Number "factor",
        "Needed over present." |s| s.size.factor();
    rpm ? RotationalSpeed "set by",
        "The most demanding speed."
        |s| match s.size.answer {
            SizeNeeded::Needed { rpm, .. } | SizeNeeded::OutOfReach { rpm, .. } => Some(rpm),
            SizeNeeded::Nothing => None,
        };
    answer = text "answer",
        "needed, nothing needed or out of reach."
        |s| match s.size.answer {
            SizeNeeded::Needed { .. } => "needed",
            SizeNeeded::Nothing => "nothing needed",
            SizeNeeded::OutOfReach { .. } => "out of reach",
        };
    coldest_k ? Temperature "coldest charge",
        "The charge with as much of it as was tried, where that is not enough."
        |s| Some(s.coldest()?.0);
} }

impl NeededSize {
    /// What it is now.
    pub fn have(&self) -> f64 {
        self.times() * self.size.have
    }

    /// What just meets the target, and the speed that asks it, rpm.
    pub fn needed(&self) -> Option<(f64, f64)> {
        match self.size.answer {
            SizeNeeded::Needed { value, rpm } => Some((self.times() * value, rpm)),
            _ => None,
        }
    }

    /// The coldest charge in K where no size is enough, and its speed, rpm.
    pub const fn coldest(&self) -> Option<(f64, f64)> {
        match self.size.answer {
            SizeNeeded::OutOfReach { coldest, rpm } => Some((coldest, rpm)),
            _ => None,
        }
    }

    /// A face is an area where the core's sizes are known, else a factor.
    fn times(&self) -> f64 {
        match self.size.knob {
            Knob::Face => self.face.unwrap_or(1.0),
            _ => 1.0,
        }
    }
}
