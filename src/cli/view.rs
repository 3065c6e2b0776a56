//! From solved matches to what the writers take.

use super::failure::Failure;
use crate::finding::{Finding, Severity};
use crate::matching::{Layout, Match};
use crate::report::{PlacedFinding, Point};

/// One match with its findings.
pub(super) fn point(
    layout: &Layout,
    found: &Match,
    steepness: Option<f64>,
    findings: &[Finding],
) -> Result<Point, Failure> {
    let findings = PlacedFinding::all(layout, findings);
    Ok(Point::new(layout, found, steepness, findings)?)
}

/// Whether `--strict` has something to object to.
pub(super) fn is_strict_failure(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| matches!(finding.severity, Severity::Over | Severity::OutsideData))
}
