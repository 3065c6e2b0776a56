//! Limits and what was found against them, as numbers and enums; words and units are made at the
//! edge. SI, absolute pressures.
//!
//! [`of_match`] looks at one match, [`of_line`] keeps the worst of each matter over an operating
//! line. What a match alone cannot tell (how steep it is, which pulley would hold the limit) comes
//! in as [`Extra`] from whoever solved for it.
//!
//! `plausible` asks whether such an engine exists, `passages` looks at filters, pipes and drops,
//! `against_limits` holds the limits of the build, `costs` head, injectors, knocking and power that is
//! not known, `drives` shafts and belts, `on_map` surge and the edges of maps, `gate` wastegate and
//! turbine, `fuelling` the mixture, `cooling` charge coolers, `trust` what makes an answer
//! doubtful, `tables` the ends of the build's tables.

mod against_limits;
mod code;
mod cooling;
mod costs;
mod detail;
mod drives;
mod entry;
#[cfg(test)]
pub(crate) mod fixture;
mod fuelling;
mod gate;
mod limit;
mod line;
mod on_map;
mod passages;
mod plausible;
mod seen;
mod step;
mod tables;
mod trust;

pub use code::{Basis, Code, Measure, Passage, Severity, Subject, Table};
pub use detail::{Detail, Extra, Grade, Held, Maker, Missing, OtherFuelling, SuperchargerAlone};
pub use entry::Finding;
pub use line::{of_line, worst_of};
pub use on_map::{LOW_END_RATIO, outside_map, points_on_maps};
pub use step::{Lever, Reach, Step};

use crate::matching::{Installation, Layout, Match};
use seen::Seen;

/// Everything found at one match, worst first; limits that hold are in it as `ok`.
pub fn of_match(
    installation: &Installation,
    layout: &Layout,
    found: &Match,
    extra: &Extra,
) -> Vec<Finding> {
    let seen = Seen {
        installation,
        layout,
        found,
        extra,
    };
    if let Some(open) = plausible::not_balanced(&seen) {
        // Nothing of a state that is none is worth a word.
        return vec![open];
    }
    let mut list = Vec::new();
    plausible::find(&seen, &mut list);
    passages::find(&seen, &mut list);
    against_limits::find(&seen, &mut list);
    costs::find(&seen, &mut list);
    drives::find(&seen, &mut list);
    on_map::find(&seen, &mut list);
    gate::find(&seen, &mut list);
    fuelling::find(&seen, &mut list);
    cooling::find(&seen, &mut list);
    trust::find(&seen, &mut list);
    tables::find(&seen, &mut list);
    list.sort_by(Finding::worse_first);
    list
}
