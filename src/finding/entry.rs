//! One finding, and how a value against a limit becomes its severity.

use std::cmp::Ordering;

use super::catalogue::Code;
use super::detail::Detail;
use super::rule::{Basis, Bound, Grading, Measure, Passed, Rule, Severity};
use super::step::NextStep;
use super::subject::Subject;

/// Share of a limit within which a value is near it.
pub const NEAR: f64 = 0.05;
/// Multiple of a least margin below which a margin is near it.
pub const NEAR_MINIMUM: f64 = 1.25;
/// A value that a gate or bypass holds exactly at a limit is not over it: balances are met to 1e-9
/// and a limit counts as reached within 1e-7, both relative; no gauge reads a millionth.
const ROUNDING: f64 = 1e-6;

/// One limit checked, or one thing worth saying.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finding {
    /// What was found.
    pub code: Code,
    /// How bad it is.
    pub severity: Severity,
    /// What it is about.
    pub subject: Subject,
    /// Engine speed, rpm; absent where it holds for the whole line.
    pub rpm: Option<f64>,
    /// What was reckoned, SI.
    pub value: Option<f64>,
    /// What it is held against, SI.
    pub limit: Option<f64>,
    /// (limit − value)/limit for a largest, (value − limit)/limit for a smallest permitted value:
    /// positive within the limit. SI, absolute pressures and temperatures.
    pub margin: Option<f64>,
    /// Where the limit comes from.
    pub basis: Basis,
    /// Numbers for the next step.
    pub detail: Detail,
    /// At how many points of the line it is not `ok`; at most 1 for a point.
    pub points: usize,
    /// The next step that was solved for, where a study has.
    pub step: Option<NextStep>,
    /// Grows with how bad it is among findings of the same matter and severity, which tells the
    /// worst of a line; of no unit and of no meaning beside another matter's.
    pub weight: f64,
}

impl Finding {
    /// Something found, as bad as its code is at least.
    pub fn remark(code: Code, subject: Subject, rpm: f64) -> Self {
        let row = code.row();
        let severity = row.grading.least();
        Self {
            code,
            severity,
            subject,
            rpm: Some(rpm),
            value: None,
            limit: None,
            margin: None,
            basis: row.basis(),
            detail: Detail::None,
            points: usize::from(severity > Severity::Ok),
            step: None,
            weight: 0.0,
        }
    }

    /// A value against its limit, the side and the severity by the code's row. `None` where either is no
    /// finite number.
    pub fn against(
        code: Code,
        subject: Subject,
        rpm: f64,
        (value, limit): (f64, f64),
    ) -> Option<Self> {
        if !(value.is_finite() && limit.is_finite()) {
            return None;
        }
        let row = code.row();
        let margin = match row.bound {
            Bound::AtMost => Some(ratio(limit - value, limit)?),
            Bound::AtLeast => ratio(value - limit, limit),
        };
        let by_margin = match (row.bound, margin) {
            (Bound::AtMost, Some(margin)) if margin < -ROUNDING => Severity::Over,
            (Bound::AtMost, Some(margin)) if margin < NEAR => Severity::Near,
            (Bound::AtLeast, _) if value < limit - ROUNDING * limit.abs() => Severity::Over,
            (Bound::AtLeast, _) if value < NEAR_MINIMUM * limit => Severity::Near,
            _ => Severity::Ok,
        };
        let found = Self {
            value: Some(value),
            limit: Some(limit),
            margin,
            // No share of a minimum of nothing exists: what is missing is the value itself.
            weight: margin.map_or(limit - value, |margin| -margin),
            ..Self::remark(code, subject, rpm)
        };
        Some(match row.grading {
            Grading::Margin => found.at_severity(by_margin),
            _ => found,
        })
    }

    /// A value against a rule of thumb. How bad it is follows the distance, as with a limit of the
    /// build, except for a rule that only warns: that is silent up to it and `near` past it.
    pub(super) fn against_rule(
        code: Code,
        subject: Subject,
        rpm: f64,
        (value, rule): (f64, Rule),
    ) -> Option<Self> {
        if let Passed::WarnsUpTo(end, then) = rule.passed
            && value > end
        {
            let found = Self::against(code, subject, rpm, (value, end))?;
            return Some(found.by(Basis::Nature).at_severity(then));
        }
        let found = Self::against(code, subject, rpm, (value, rule.limit))?;
        let severity = match (rule.passed, found.severity) {
            (Passed::Fails, severity) => severity,
            (_, Severity::Over) => Severity::Near,
            (_, Severity::Near) => Severity::Ok,
            (_, other) => other,
        };
        Some(found.by(Basis::CommonPractice).at_severity(severity))
    }

    /// What value and limit measure.
    pub const fn measure(&self) -> Measure {
        self.code.row().measure
    }

    /// The same against a limit that came from elsewhere.
    #[must_use]
    pub fn by(self, basis: Basis) -> Self {
        Self { basis, ..self }
    }

    /// The same at another severity.
    #[must_use]
    pub fn at_severity(self, severity: Severity) -> Self {
        Self {
            severity,
            points: usize::from(severity > Severity::Ok),
            ..self
        }
    }

    /// The same as bad as its code can be, where that is so.
    #[must_use]
    pub fn worse_where(self, is_worse: bool) -> Self {
        if is_worse {
            self.at_severity(self.code.row().grading.most())
        } else {
            self
        }
    }

    /// The same where something else than its margin tells the worst of a line.
    #[must_use]
    pub fn weighing(self, weight: f64) -> Self {
        Self { weight, ..self }
    }

    /// The same with numbers for the next step.
    #[must_use]
    pub fn with(self, detail: Detail) -> Self {
        Self { detail, ..self }
    }

    /// The same with a value; what is no finite number is left out.
    #[must_use]
    pub fn valued(self, value: f64) -> Self {
        Self {
            value: value.is_finite().then_some(value),
            ..self
        }
    }

    /// Orders the worse before the better: severity, then the smaller margin whoever set the limit,
    /// then the code. What is `over` without a share of a limit (no match, power below nothing) is
    /// past every limit; what is less than that without one stands behind those that have one.
    pub fn worse_first(&self, other: &Self) -> Ordering {
        let margin = |finding: &Self| match finding.severity {
            Severity::Over => finding.margin.unwrap_or(f64::NEG_INFINITY),
            _ => finding.margin.unwrap_or(f64::INFINITY),
        };
        other
            .severity
            .cmp(&self.severity)
            .then(margin(self).total_cmp(&margin(other)))
            .then(self.code.cmp(&other.code))
            .then(self.subject.cmp(&other.subject))
    }

    /// Whether its limit is passed, by more than rounding; or there is nothing left to measure it by.
    pub fn is_beyond(&self) -> bool {
        match self.margin {
            Some(margin) => margin < -ROUNDING,
            None => self.severity > Severity::Near,
        }
    }

    /// Whether it is worse than another finding of the same matter at another speed.
    pub fn is_worse_than(&self, other: &Self) -> bool {
        let order = self.severity.cmp(&other.severity);
        order.then(self.weight.total_cmp(&other.weight)).is_gt()
    }

    /// Whether both speak of the same thing at two points of a line.
    pub fn is_same_matter(&self, other: &Self) -> bool {
        let unchecked = |finding: &Self| match finding.detail {
            Detail::Unchecked(code) => Some(code),
            _ => None,
        };
        self.code == other.code
            && self.subject == other.subject
            && unchecked(self) == unchecked(other)
    }
}

/// a/b where that is a finite number.
fn ratio(a: f64, b: f64) -> Option<f64> {
    let ratio = a / b;
    ratio.is_finite().then_some(ratio)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn manifold(value: f64, limit: f64) -> Finding {
        Finding::against(
            Code::ManifoldPressure,
            Subject::Engine,
            2600.0,
            (value, limit),
        )
        .unwrap()
    }

    fn by_rule(value: f64, rule: Rule) -> Finding {
        let code = Code::ManifoldPressure;
        Finding::against_rule(code, Subject::Engine, 2600.0, (value, rule)).unwrap()
    }

    fn surge(value: f64, limit: f64) -> Finding {
        Finding::against(Code::SurgeMargin, Subject::Stage(0), 2600.0, (value, limit)).unwrap()
    }

    #[test]
    fn a_value_within_five_per_cent_of_its_limit_is_near() {
        assert_eq!(manifold(94.9e3, 100e3).severity, Severity::Ok);
        let near = manifold(95.1e3, 100e3);
        assert_eq!(near.severity, Severity::Near);
        assert_relative_eq!(near.margin.unwrap(), 0.049, max_relative = 1e-12);
    }

    #[test]
    fn a_value_held_exactly_at_its_limit_is_near_and_not_over() {
        assert_eq!(manifold(265e3, 265e3).severity, Severity::Near);
        assert_eq!(
            manifold(265e3 * (1.0 + 1e-9), 265e3).severity,
            Severity::Near
        );
        assert_eq!(manifold(265.01e3, 265e3).severity, Severity::Over);
    }

    #[test]
    fn a_margin_below_its_minimum_is_over_and_up_to_a_quarter_above_near() {
        assert_eq!(surge(0.119, 0.12).severity, Severity::Over);
        assert_eq!(surge(0.149, 0.12).severity, Severity::Near);
        assert_eq!(surge(0.151, 0.12).severity, Severity::Ok);
        // No share of a minimum of nothing exists.
        assert_eq!(surge(0.1, 0.0).margin, None);
    }

    #[test]
    fn a_rule_of_thumb_is_as_bad_as_its_distance() {
        let rule = Rule::fails(100e3);
        for (value, severity, points) in [
            (110e3, Severity::Over, 1),
            (99e3, Severity::Near, 1),
            (90e3, Severity::Ok, 0),
        ] {
            let found = by_rule(value, rule);
            assert_eq!((found.severity, found.points), (severity, points));
            assert_eq!(found.basis, Basis::CommonPractice);
        }
    }

    #[test]
    fn a_rule_that_only_warns_is_near_past_it_and_silent_up_to_it() {
        let rule = Rule::warns(100e3);
        let passed = by_rule(110e3, rule);
        assert_eq!((passed.severity, passed.points), (Severity::Near, 1));
        let close = by_rule(99e3, rule);
        assert_eq!((close.severity, close.points), (Severity::Ok, 0));
    }

    #[test]
    fn a_rule_that_warns_up_to_an_end_is_held_against_that_end_past_it() {
        let rule = Rule::warns_up_to(100e3, 200e3, Severity::Over);
        let warned = by_rule(150e3, rule);
        assert_eq!(
            (warned.severity, warned.limit),
            (Severity::Near, Some(100e3))
        );
        assert_eq!(warned.basis, Basis::CommonPractice);
        let past = by_rule(201e3, rule);
        assert_eq!((past.severity, past.limit), (Severity::Over, Some(200e3)));
        assert_eq!(past.basis, Basis::Nature);
    }

    #[test]
    fn a_rule_of_thumb_far_behind_stands_before_a_limit_of_the_build_that_is_just_passed() {
        let rule = Rule::fails(100e3);
        let mut list = [manifold(103e3, 100e3), by_rule(160e3, rule)];
        list.sort_by(Finding::worse_first);
        assert_eq!(list[0].basis, Basis::CommonPractice);
    }

    #[test]
    fn what_is_past_every_limit_stands_first_and_what_has_none_last() {
        let remark =
            |severity| Finding::remark(Code::NoMatch, Subject::Engine, 1.0).at_severity(severity);
        let over = manifold(300e3, 100e3);
        assert!(remark(Severity::Over).worse_first(&over).is_lt());
        let near = manifold(99e3, 100e3);
        assert!(near.worse_first(&remark(Severity::Near)).is_lt());
    }

    #[test]
    fn below_a_minimum_of_nothing_the_lower_value_is_the_worse() {
        assert!(surge(-0.4, 0.0).is_worse_than(&surge(-0.1, 0.0)));
        assert!(!surge(-0.1, 0.0).is_worse_than(&surge(-0.4, 0.0)));
    }

    #[test]
    fn what_is_no_number_is_no_finding() {
        for pair in [
            (f64::NAN, 1.0),
            (1.0, f64::NAN),
            (f64::INFINITY, 1.0),
            (1.0, 0.0),
        ] {
            let code = Code::ManifoldPressure;
            let found = Finding::against(code, Subject::Engine, 1.0, pair);
            assert_eq!(found, None, "{pair:?}");
        }
    }

    #[test]
    fn the_worse_stands_first_and_at_one_severity_the_smaller_margin() {
        let mut list = [
            manifold(50e3, 100e3),
            manifold(120e3, 100e3),
            manifold(96e3, 100e3),
            manifold(101e3, 100e3),
        ];
        list.sort_by(Finding::worse_first);
        let values: Vec<_> = list.iter().map(|found| found.value.unwrap()).collect();
        assert_eq!(values, [120e3, 101e3, 96e3, 50e3]);
    }
}
