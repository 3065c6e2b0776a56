//! The next step of a finding, solved for: one setting of the build is changed, everything else stays,
//! and the installation is matched anew until the limit is just met over the whole line. With the
//! setting found the line is looked over once more for what would then be past its limit instead.
//!
//! [`setting`] knows the settings and which of them a finding asks for; [`limit_search`] finds where a
//! limit is met.

mod limit_search;
mod question;
mod setting;

use rayon::prelude::*;

use super::cooler::{SizeNeeded, needed_effectiveness};
use crate::finding::{Code, Finding, Lever, LimitMet, NextStep, Severity, Subject};
use crate::matching::{Installation, Layout, Match};
use limit_search::LimitSearch;
use question::Question;

/// Adds the next step to every finding of these matches that is more than `ok` and that a setting of
/// the build answers.
pub fn add(
    installation: &Installation,
    layout: &Layout,
    matches: &[&Match],
    findings: &mut [Finding],
) {
    let over = over(findings);
    let question = Question {
        installation,
        layout,
        matches,
        over: &over,
    };
    findings.par_iter_mut().for_each(|finding| {
        if finding.severity > Severity::Ok {
            finding.step = step(&question, finding);
        }
    });
}

/// The effectiveness of one cooler, counted from 0 in flow order, that a finding about the charge's
/// temperature asks for: the same number that the cooler's own sizes give. `all` is what was found
/// over the line.
pub fn of_cooler(
    installation: &Installation,
    layout: &Layout,
    matches: &[&Match],
    (cooler, finding): (usize, &Finding),
    all: &[Finding],
) -> Option<NextStep> {
    let question = Question {
        installation,
        layout,
        matches,
        over: &over(all),
    };
    charge(&question, cooler, finding)
}

/// What is past its limit.
fn over(findings: &[Finding]) -> Vec<(Code, Subject)> {
    let over = findings
        .iter()
        .filter(|finding| finding.severity == Severity::Over);
    over.map(|finding| (finding.code, finding.subject))
        .collect()
}

fn step(question: &Question, finding: &Finding) -> Option<NextStep> {
    if finding.code == Code::ChargeTemperature {
        return charge(
            question,
            question.layout.coolers.len().checked_sub(1)?,
            finding,
        );
    }
    let rpm = finding.rpm?;
    let at = question
        .matches
        .iter()
        .find(|found| found.rpm.total_cmp(&rpm).is_eq())?;
    let mut out_of_reach = None;
    for setting in setting::of(question.installation, question.layout, at, finding) {
        let step = LimitSearch::new(question, finding, setting).step();
        match step.map(|step| step.to) {
            Some(LimitMet::At(_)) => return step,
            _ => out_of_reach = out_of_reach.or(step),
        }
    }
    out_of_reach
}

/// What the cooler would need, or could do without.
fn charge(question: &Question, cooler: usize, finding: &Finding) -> Option<NextStep> {
    let target = finding.limit?;
    let (installation, layout) = (question.installation, question.layout);
    let size = needed_effectiveness(installation, layout, question.matches, cooler, target)?;
    let (to, then) = match size.answer {
        SizeNeeded::Needed { value, .. } => {
            let setting = setting::Setting::effectiveness(layout, cooler, size.have)?;
            let trials = LimitSearch::new(question, finding, setting);
            (LimitMet::At(value), trials.then(value / size.have))
        }
        SizeNeeded::Nothing => (LimitMet::NotUpTo(0.0), [None; 3]),
        SizeNeeded::OutOfReach { .. } => (LimitMet::NotUpTo(1.0), [None; 3]),
    };
    Some(NextStep {
        lever: Lever::Effectiveness,
        which: cooler,
        now: size.have,
        to,
        is_table: false,
        then,
    })
}
