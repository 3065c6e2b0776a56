//! Where a setting meets a finding's limit: steps away from what there is until the limit is crossed,
//! then the crossing between, then anew at whichever speed of the line is still past it.

use super::question::Question;
use super::setting::Setting;
use crate::finding::{self, Code, Extra, Finding, LimitMet, NextStep, Severity, Subject};
use crate::matching::{Installation, Match, Neighbour, Solver};
use crate::study::solve_from;

/// Steps of the search, as logarithms of the factor on the setting: fine near what there is.
const STEPS: [f64; 10] = [0.01, 0.03, 0.07, 0.13, 0.22, 0.36, 0.6, 0.95, 1.4, 2.0];
/// Excess over a limit, a share of it, that counts as met; a finding calls more than a millionth over.
const MET: f64 = 5e-7;
/// Width of a bracket of the logarithm that counts as closed: no setting is made finer.
const CLOSED: f64 = 1e-6;
/// Trials of one crossing; halving alone closes the widest step in 20.
const TRIALS: usize = 40;
/// How often the worst speed of the line may change.
const ROUNDS: usize = 4;
/// Of a limit that is not even looked at any more: it holds.
const HOLDS: f64 = f64::NEG_INFINITY;

/// One setting tried for one finding.
pub(super) struct LimitSearch<'a> {
    question: &'a Question<'a>,
    finding: &'a Finding,
    setting: Setting,
    /// Whether the limit is passed as the build stands.
    beyond: bool,
}

/// The line with a changed setting.
struct LineCheck {
    /// The farthest past the limit: excess and speed, rpm.
    worst: Option<(f64, f64)>,
    /// What is past its limit there and was not before.
    then: [Option<Code>; 3],
}

impl<'a> LimitSearch<'a> {
    pub fn new(question: &'a Question<'a>, finding: &'a Finding, setting: Setting) -> Self {
        Self {
            question,
            finding,
            setting,
            // Held or not: there the limit is where the gate hardly moves the boost.
            beyond: finding.is_beyond() || finding.code == Code::LimitInSuperchargerBand,
        }
    }

    /// Where the limit is met over the whole line.
    pub fn step(&self) -> Option<NextStep> {
        let mut rpm = self.finding.rpm?;
        let mut from = 0.0;
        let mut to = self.crossing(from, rpm)?;
        let mut looked = None;
        for _ in 0..ROUNDS {
            // A limit that one speed never meets may be met at another.
            let at = match to {
                Err(_) if self.beyond => break,
                Ok(at) | Err(at) => at,
            };
            let line = self.look(at.exp());
            let past = line.worst.filter(|(excess, _)| *excess > 2.0 * MET);
            looked = Some(line);
            let Some((_, worse)) = past else { break };
            // Farther from where it is still past the limit; or back to where it is not yet.
            (rpm, from) = (worse, if self.beyond { at } else { 0.0 });
            to = self.crossing(from, rpm)?;
        }
        let value = |ln: f64| self.setting.now * ln.exp();
        Some(NextStep {
            lever: self.setting.lever,
            which: self.setting.which,
            now: self.setting.now,
            to: match to {
                Ok(at) => LimitMet::At(value(at)),
                Err(end) => LimitMet::NotUpTo(value(end)),
            },
            is_table: self.setting.is_table,
            then: match to {
                Ok(_) => looked.map_or([None; 3], |line| line.then),
                Err(_) => [None; 3],
            },
        })
    }

    /// What is past its limit over the line with the setting times a factor, and is not now.
    pub fn then(&self, factor: f64) -> [Option<Code>; 3] {
        self.look(factor).then
    }

    /// The crossing at one speed, as the logarithm of a factor; else how far was looked. `None`
    /// without a match at the start.
    fn crossing(&self, from: f64, rpm: f64) -> Option<Result<f64, f64>> {
        let relief = self.setting.lever.relief();
        let sign = if self.beyond { relief } else { -relief };
        let (least, most) = (self.setting.range.0.ln(), self.setting.range.1.ln());
        let now = self.question.matches.iter();
        let now = now.min_by(|a, b| (a.rpm - rpm).abs().total_cmp(&(b.rpm - rpm).abs()));
        let mut near = now.and_then(|now| now.place);
        let mut last = (from, self.excess(from, rpm, &mut near));
        if last.1.is_nan() {
            return None;
        }
        for step in STEPS {
            let x = (from + sign * step).clamp(least, most);
            if (x - last.0).abs() < CLOSED {
                break;
            }
            let there = (x, self.excess(x, rpm, &mut near));
            if there.1.is_nan() {
                break;
            }
            if (there.1 <= MET) == self.beyond {
                let (good, bad) = if self.beyond {
                    (there, last)
                } else {
                    (last, there)
                };
                return Some(Ok(self.between(good, bad, rpm, &mut near)));
            }
            last = there;
        }
        Some(Err(last.0))
    }

    /// The last place on the good side: false position (Illinois), halving where the good side says
    /// only that the limit holds.
    fn between(
        &self,
        mut good: (f64, f64),
        mut bad: (f64, f64),
        rpm: f64,
        near: &mut Option<Neighbour>,
    ) -> f64 {
        // Halved where the other end moves twice running.
        let (mut weight_good, mut weight_bad) = (1.0, 1.0);
        let mut good_moved = None;
        for _ in 0..TRIALS {
            if (good.0 - bad.0).abs() < CLOSED || good.1.abs() <= MET {
                break;
            }
            let (a, b) = (weight_good * good.1, weight_bad * bad.1);
            let share = a / (a - b);
            let is_usable = share.is_finite() && share > 1e-3 && share < 1.0 - 1e-3;
            let share = if is_usable { share } else { 0.5 };
            let x = good.0 + share * (bad.0 - good.0);
            let y = self.excess(x, rpm, near);
            // Where there is no match the limit is not met.
            if y <= MET {
                (good, weight_good) = ((x, y), 1.0);
                if good_moved == Some(true) {
                    weight_bad *= 0.5;
                }
                good_moved = Some(true);
            } else {
                (bad, weight_bad) = ((x, if y.is_nan() { bad.1 } else { y }), 1.0);
                if good_moved == Some(false) {
                    weight_good *= 0.5;
                }
                good_moved = Some(false);
            }
        }
        good.0
    }

    /// How far past the limit the value lies, a share of the limit; NaN without a match.
    fn excess(&self, x: f64, rpm: f64, near: &mut Option<Neighbour>) -> f64 {
        let other = self.setting.applied(self.question.installation, x.exp());
        if self.finding.code == Code::LimitInSuperchargerBand {
            return self.above_band(&other, rpm);
        }
        let Ok(mut solver) = Solver::new(&other) else {
            return f64::NAN;
        };
        let Some(found) = matched(&mut solver, rpm, near) else {
            return f64::NAN;
        };
        let list = self.findings(&other, &found);
        if list.iter().any(|finding| finding.code == Code::NotBalanced) {
            return f64::NAN;
        }
        self.of(&list)
    }

    fn findings(&self, other: &Installation, found: &Match) -> Vec<Finding> {
        finding::of_match(other, self.question.layout, found, &Extra::default())
    }

    /// The excess of what the finding is about, in another list of findings.
    fn of(&self, list: &[Finding]) -> f64 {
        let same = list.iter().filter(|other| self.is_same(other));
        same.map(|other| other.margin.map_or(1.0, |margin| -margin))
            .fold(HOLDS, f64::max)
    }

    /// Why a gate stands wide open may change on the way.
    fn is_same(&self, other: &Finding) -> bool {
        let is_gate = |code| {
            matches!(
                code,
                Code::SuperchargerAboveBoostLimit
                    | Code::WastegateTooSmall
                    | Code::WastegateWideOpen
            )
        };
        let same_code =
            other.code == self.finding.code || (is_gate(other.code) && is_gate(self.finding.code));
        same_code && other.subject == self.finding.subject
    }

    /// How far the supercharger alone, with the turbochargers at a pressure ratio of 1, lies above
    /// the limit that a gate should hold.
    fn above_band(&self, other: &Installation, rpm: f64) -> f64 {
        let alone = other.supercharger_alone();
        let mut found = Match::default();
        let solved = Solver::new(&alone)
            .ok()
            .and_then(|mut solver| solver.at_rest(rpm, &mut found).ok());
        match (solved, self.finding.limit) {
            (Some(()), Some(limit)) => found.manifold_pressure / limit - 1.0,
            _ => f64::NAN,
        }
    }

    /// The whole line with the setting times a factor.
    fn look(&self, factor: f64) -> LineCheck {
        let other = self.setting.applied(self.question.installation, factor);
        let mut looked = LineCheck {
            worst: None,
            then: [None; 3],
        };
        let Ok(mut solver) = Solver::new(&other) else {
            return looked;
        };
        let mut passed: Vec<Finding> = Vec::new();
        for now in self.question.matches {
            let mut near = now.place;
            let Some(found) = matched(&mut solver, now.rpm, &mut near) else {
                passed.push(Finding::remark(Code::NoMatch, Subject::Engine, now.rpm));
                continue;
            };
            let list = self.findings(&other, &found);
            let excess = self.of(&list);
            if looked.worst.is_none_or(|(worst, _)| excess > worst) {
                looked.worst = Some((excess, now.rpm));
            }
            let is_new = |finding: &&Finding| {
                finding.severity == Severity::Over
                    && !self.is_same(finding)
                    && !self
                        .question
                        .over
                        .contains(&(finding.code, finding.subject))
            };
            passed.extend(list.iter().filter(is_new));
        }
        let mut codes = finding::worst_of(passed).into_iter().map(|one| one.code);
        looked.then = [codes.next(), codes.next(), codes.next()];
        looked
    }
}

/// A match at a speed in rpm from one nearby, which it replaces.
fn matched(solver: &mut Solver, rpm: f64, near: &mut Option<Neighbour>) -> Option<Match> {
    let mut found = Match::default();
    let place = solve_from(solver, rpm, near.as_ref(), &mut found);
    *near = Some(place.ok()?);
    Some(found)
}
