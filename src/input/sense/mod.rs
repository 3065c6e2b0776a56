//! What a build's numbers mean in metal: what cannot be, and what is hardly meant.
//!
//! The readers of the sections take what the equations bear: a positive length, a share up to one.
//! Here every key is held to what engines are by its row of the key table: the range in which it can
//! be (outside it a fault) and the range that is usual (outside it a remark with the likely slip), by
//! itself and beside other keys ([`beside`]). [`agree`] holds keys to each other that
//! say one thing, [`order`] looks at the order of the parts.
//!
//! All of it sees [`AsWritten`], which is made of the written document and of values before any study
//! moves them: a band's draws never come here.

mod agree;
pub(super) mod beside;
mod given;
mod order;
mod scene;
mod slip;
mod speed;
mod view;

pub(super) use given::Given;
pub(super) use scene::Scene;
pub use speed::{SpeedFault, judge_speed};
pub(super) use view::without_numbers;

use super::context::Context;
use super::document::Table;
use super::keys::SECTIONS;
use super::keys::row::{Bounds, Built, Range};
use view::AsWritten;

/// Judges what was written: notes faults and remarks.
pub(super) fn judge(context: &Context, root: &Table) {
    let mut view = AsWritten::new(root, context.given());
    for section in SECTIONS {
        for key in section.keys.iter().filter(|key| key.spec().is_some()) {
            for given in view.written(&section.path_of(key)) {
                if judge_one(context, &view, &key.built, &given) == Verdict::CannotBe {
                    // What cannot be is no measure for others.
                    view.forget(&given.key);
                }
            }
        }
    }
    agree::judge(context, &view);
    order::judge(context, &view);
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Verdict {
    Usual,
    Unlikely,
    CannotBe,
}

/// Judges one key by the row of its values that is furthest off.
fn judge_one(context: &Context, view: &AsWritten<'_>, built: &Built, given: &Given) -> Verdict {
    let mut worst = (Verdict::Usual, String::new());
    for (at, value) in given.values.iter().enumerate() {
        let scene = Scene {
            view,
            given,
            row: at,
            value: *value,
        };
        let found = judge_value(&scene, built);
        if found.0 > worst.0 {
            worst = found;
        }
    }
    let (verdict, text) = worst;
    match verdict {
        Verdict::Usual => {}
        Verdict::Unlikely => context.remark(given.place(), &given.key, text),
        Verdict::CannotBe => context.fault(given.place(), &given.key, text),
    }
    verdict
}

fn judge_value(scene: &Scene<'_>, built: &Built) -> (Verdict, String) {
    // Nothing of a thing is always meant, where its key takes it.
    if scene.value.abs() <= 0.0 {
        return (Verdict::Usual, String::new());
    }
    let beside: Vec<Bounds> = (built.beside.iter()).filter_map(|of| of(scene)).collect();
    let own = Bounds {
        can: built.can,
        usual: built.usual,
        of: String::new(),
    };
    let all = || std::iter::once(&own).chain(&beside);
    let meant = |si: f64| all().all(|bounds| bounds.usual.holds(si));
    if let Some(bounds) = all().find(|bounds| !bounds.can.holds(scene.value)) {
        let range = range(scene, bounds.can, &bounds.of, "it must be");
        let text = format!(
            "{} cannot be right: {range}{}",
            shown(scene),
            slip::meant(scene, built.slip, meant)
        );
        return (Verdict::CannotBe, text);
    }
    // What other keys ask for says more than what is usual anywhere.
    let unlikely = |bounds: &&Bounds| !bounds.usual.holds(scene.value);
    if let Some(bounds) = beside.iter().chain([&own]).find(unlikely) {
        let range = range(scene, bounds.usual, &bounds.of, "it is usually");
        let text = format!(
            "{} is unlikely: {range}{}",
            shown(scene),
            slip::meant(scene, built.slip, meant)
        );
        return (Verdict::Unlikely, text);
    }
    (Verdict::Usual, String::new())
}

fn shown(scene: &Scene<'_>) -> String {
    let shown = scene.given.written(scene.row);
    match scene.given.speed(scene.row) {
        Some(rpm) => format!("{shown} at {} rpm", given::digits(rpm)),
        None => shown,
    }
}

/// "for a cylinder of 1.125 L it must be between 3 mg and 1 g".
fn range(scene: &Scene<'_>, range: Range, of: &str, what: &str) -> String {
    let show = |si: f64| scene.given.show(scene.row, si);
    let ends = match (range.low > f64::NEG_INFINITY, range.high < f64::INFINITY) {
        (true, true) => {
            let [low, high] = scene.given.show_both(scene.row, range.low, range.high);
            format!("between {low} and {high}")
        }
        (false, _) => format!("at most {}", show(range.high)),
        (true, false) => format!("at least {}", show(range.low)),
    };
    match of {
        "" => format!("{what} {ends}"),
        of => format!("for {of} {what} {ends}"),
    }
}

#[cfg(test)]
mod tests;
