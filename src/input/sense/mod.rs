//! What a build's numbers mean in metal: what cannot be, and what is hardly meant.
//!
//! The readers of the sections take what the equations bear: a positive length, a share up to one.
//! Here every key is held to what engines are: one row of [`keys::ROWS`] a key, with the range in
//! which it can be (outside it a fault) and the range that is usual (outside it a remark with the
//! likely slip), by itself and beside other keys ([`beside`]). [`agree`] holds keys to each other that
//! say one thing, [`order`] looks at the order of the parts.
//!
//! All of it sees [`AsWritten`], which is made of the written document and of values before any study
//! moves them: a band's draws never come here.

mod agree;
mod beside;
mod given;
mod keys;
mod order;
mod slip;
mod speed;
mod view;

pub(super) use given::Given;
pub use speed::{SpeedFault, judge_speed};

use super::context::Context;
use super::document::Table;
use keys::{Bounds, Range, Row};
use view::AsWritten;

/// Judges what was written: notes faults and remarks.
pub(super) fn judge(context: &Context, root: &Table) {
    let mut view = AsWritten::new(root, context.given());
    for row in keys::ROWS {
        for given in view.written(row.key) {
            if judge_one(context, &view, row, &given) == Verdict::CannotBe {
                // What cannot be is no measure for others.
                view.forget(&given.key);
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
fn judge_one(context: &Context, view: &AsWritten<'_>, row: &Row, given: &Given) -> Verdict {
    let mut worst = (Verdict::Usual, String::new());
    for (at, value) in given.values.iter().enumerate() {
        let scene = Scene {
            view,
            given,
            row: at,
            value: *value,
        };
        let found = scene.judge(row);
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

/// One value of a key among all that was written.
struct Scene<'a> {
    view: &'a AsWritten<'a>,
    given: &'a Given,
    /// Which row of its table, from 0.
    row: usize,
    /// SI.
    value: f64,
}

impl Scene<'_> {
    fn judge(&self, row: &Row) -> (Verdict, String) {
        // Nothing of a thing is always meant, where its key takes it.
        if self.value.abs() <= 0.0 {
            return (Verdict::Usual, String::new());
        }
        let beside: Vec<Bounds> = (row.beside.iter()).filter_map(|of| of(self)).collect();
        let own = Bounds {
            can: row.can,
            usual: row.usual,
            of: String::new(),
        };
        let all = || std::iter::once(&own).chain(&beside);
        let meant = |si: f64| all().all(|bounds| bounds.usual.holds(si));
        if let Some(bounds) = all().find(|bounds| !bounds.can.holds(self.value)) {
            let range = self.range(bounds.can, &bounds.of, "it has to be");
            let text = format!(
                "{} cannot be: {range}{}",
                self.shown(),
                slip::meant(self, row, meant)
            );
            return (Verdict::CannotBe, text);
        }
        // What other keys ask for says more than what is usual anywhere.
        let unlikely = |bounds: &&Bounds| !bounds.usual.holds(self.value);
        if let Some(bounds) = beside.iter().chain([&own]).find(unlikely) {
            let range = self.range(bounds.usual, &bounds.of, "it is usually");
            let text = format!(
                "{} is unlikely: {range}{}",
                self.shown(),
                slip::meant(self, row, meant)
            );
            return (Verdict::Unlikely, text);
        }
        (Verdict::Usual, String::new())
    }

    fn shown(&self) -> String {
        let shown = self.given.written(self.row);
        match self.given.speed(self.row) {
            Some(rpm) => format!("{shown} at {} rpm", given::digits(rpm)),
            None => shown,
        }
    }

    /// "for a cylinder of 1.125 L it has to be between 3 mg and 1 g".
    fn range(&self, range: Range, of: &str, what: &str) -> String {
        let show = |si: f64| self.given.show(self.row, si);
        let ends = match (range.low > f64::NEG_INFINITY, range.high < f64::INFINITY) {
            (true, true) => {
                let [low, high] = self.given.show_both(self.row, range.low, range.high);
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

    /// The value of a key beside this one.
    fn beside(&self, key: &str) -> Option<f64> {
        let section = self.given.key.rsplit_once('.').map_or("", |(path, _)| path);
        self.view.value(&format!("{section}.{key}"))
    }

    /// A word beside this key.
    fn word(&self, key: &str) -> Option<&str> {
        let section = self.given.key.rsplit_once('.').map_or("", |(path, _)| path);
        self.view.word(&format!("{section}.{key}"))
    }
}

#[cfg(test)]
mod tests;
