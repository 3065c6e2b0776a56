//! From solved matches to the views that the writers render.

use super::failure::Failure;
use crate::finding::{Finding, Severity};
use crate::matching::{Layout, Match};
use crate::report::{FindingView, PointView};

/// The view of one match with its findings.
pub(super) fn point(
    layout: &Layout,
    found: &Match,
    steepness: Option<f64>,
    findings: &[Finding],
) -> Result<PointView, Failure> {
    let findings = views(layout, findings);
    Ok(PointView::new(layout, found, steepness, findings)?)
}

/// Findings in words.
pub(super) fn views(layout: &Layout, findings: &[Finding]) -> Vec<FindingView> {
    findings
        .iter()
        .map(|finding| FindingView::new(layout, finding))
        .collect()
}

/// Whether `--strict` has something to object to.
pub(super) fn is_strict_failure(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| matches!(finding.severity, Severity::Over | Severity::OutsideData))
}
