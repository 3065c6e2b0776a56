//! One finding, and how a value against a limit becomes its severity.

use std::cmp::Ordering;

use super::{Basis, Code, Detail, Measure, Severity, Subject};

/// Share of a limit within which a value is near it.
const NEAR: f64 = 0.05;
/// Multiple of a least margin below which a margin is near it.
const NEAR_MINIMUM: f64 = 1.25;
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
    /// What value and limit measure.
    pub measure: Measure,
    /// Where the limit comes from.
    pub basis: Basis,
    /// Numbers for the next step.
    pub detail: Detail,
    /// At how many points of the line it is not `ok`; at most 1 for a point.
    pub points: usize,
}

impl Finding {
    /// Something to say without a number.
    pub fn remark(code: Code, severity: Severity, subject: Subject, rpm: f64) -> Self {
        Self {
            code,
            severity,
            subject,
            rpm: Some(rpm),
            value: None,
            limit: None,
            margin: None,
            measure: Measure::Ratio,
            basis: Basis::Nature,
            detail: Detail::None,
            points: usize::from(severity > Severity::Ok),
        }
    }

    /// A value that should not pass `limit`. `None` where either is no finite number.
    pub fn largest(
        code: Code,
        subject: Subject,
        rpm: f64,
        (value, limit): (f64, f64),
        measure: Measure,
    ) -> Option<Self> {
        let margin = ratio(limit - value, limit)?;
        let severity = match margin {
            _ if margin < -ROUNDING => Severity::Over,
            _ if margin < NEAR => Severity::Near,
            _ => Severity::Ok,
        };
        Some(Self {
            value: Some(value),
            limit: Some(limit),
            margin: Some(margin),
            measure,
            basis: Basis::Build,
            ..Self::remark(code, severity, subject, rpm)
        })
    }

    /// A margin that should not fall below `limit`. `None` where either is no finite number.
    pub fn smallest(
        code: Code,
        subject: Subject,
        rpm: f64,
        (value, limit): (f64, f64),
        measure: Measure,
    ) -> Option<Self> {
        if !(value.is_finite() && limit.is_finite()) {
            return None;
        }
        let severity = match value {
            _ if value < limit - ROUNDING * limit.abs() => Severity::Over,
            _ if value < NEAR_MINIMUM * limit => Severity::Near,
            _ => Severity::Ok,
        };
        Some(Self {
            value: Some(value),
            limit: Some(limit),
            margin: ratio(value - limit, limit),
            measure,
            basis: Basis::Build,
            ..Self::remark(code, severity, subject, rpm)
        })
    }

    /// The same against a rule of thumb: silent up to it and `near` past it, because the builder
    /// has not said that it must not be passed.
    #[must_use]
    pub fn by_common_practice(self) -> Self {
        let severity = match self.severity {
            Severity::Over => Severity::Near,
            Severity::Near => Severity::Ok,
            other => other,
        };
        Self {
            basis: Basis::CommonPractice,
            ..self.at_severity(severity)
        }
    }

    /// The same against what the thing itself is.
    #[must_use]
    pub fn by_nature(self) -> Self {
        Self {
            basis: Basis::Nature,
            ..self
        }
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

    /// The same with numbers for the next step.
    #[must_use]
    pub fn with(self, detail: Detail) -> Self {
        Self { detail, ..self }
    }

    /// The same with a value; what is no finite number is left out.
    #[must_use]
    pub fn valued(self, value: f64, measure: Measure) -> Self {
        Self {
            value: value.is_finite().then_some(value),
            measure,
            ..self
        }
    }

    /// Orders the worse before the better: severity, then the smaller margin, then the code.
    pub fn worse_first(&self, other: &Self) -> Ordering {
        let margin = |finding: &Self| finding.margin.unwrap_or(f64::INFINITY);
        other
            .severity
            .cmp(&self.severity)
            .then(margin(self).total_cmp(&margin(other)))
            .then(self.code.cmp(&other.code))
            .then(self.subject.cmp(&other.subject))
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
        Finding::largest(
            Code::ManifoldPressure,
            Subject::Engine,
            2600.0,
            (value, limit),
            Measure::AbsolutePressure,
        )
        .unwrap()
    }

    fn surge(value: f64, limit: f64) -> Finding {
        Finding::smallest(
            Code::SurgeMargin,
            Subject::Stage(0),
            2600.0,
            (value, limit),
            Measure::Share,
        )
        .unwrap()
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
    fn a_rule_of_thumb_warns_and_never_fails() {
        let passed = manifold(110e3, 100e3).by_common_practice();
        assert_eq!((passed.severity, passed.points), (Severity::Near, 1));
        let close = manifold(99e3, 100e3).by_common_practice();
        assert_eq!((close.severity, close.points), (Severity::Ok, 0));
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
            let found =
                Finding::largest(code, Subject::Engine, 1.0, pair, Measure::AbsolutePressure);
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
