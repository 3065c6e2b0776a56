//! Everything found at one match.

use super::context::Context;
use super::detail::Extra;
use super::entry::Finding;
use super::{
    against_limits, cooling, costs, drives, fuelling, gate, on_map, passages, plausible, tables,
    trust,
};
use crate::matching::{Installation, Layout, Match};

/// Everything found at one match, worst first; limits that hold are in it as `ok`.
pub fn of_match(
    installation: &Installation,
    layout: &Layout,
    found: &Match,
    extra: &Extra,
) -> Vec<Finding> {
    let context = Context {
        installation,
        layout,
        found,
        extra,
    };
    if let Some(open) = plausible::not_balanced(&context) {
        // Nothing of a state that is none is worth a word.
        return vec![open];
    }
    let mut list = Vec::new();
    plausible::find(&context, &mut list);
    passages::find(&context, &mut list);
    against_limits::find(&context, &mut list);
    costs::find(&context, &mut list);
    drives::find(&context, &mut list);
    on_map::find(&context, &mut list);
    gate::find(&context, &mut list);
    fuelling::find(&context, &mut list);
    cooling::find(&context, &mut list);
    trust::find(&context, &mut list);
    tables::find(&context, &mut list);
    list.sort_by(Finding::worse_first);
    list
}
