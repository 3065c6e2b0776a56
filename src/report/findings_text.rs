//! What was found, for reading: worst first, what holds in one line at the end.

use std::fmt::Write;

use super::words;
use crate::finding::{Finding, Severity};
use crate::matching::Layout;
use crate::quantity::UnitSystem;

/// The findings as lines of text.
pub fn findings_text(layout: &Layout, findings: &[Finding], system: UnitSystem) -> String {
    let (fine, worth_saying): (Vec<_>, Vec<_>) = findings
        .iter()
        .partition(|finding| finding.severity == Severity::Ok);
    let mut out = String::from("\nFindings, worst first:\n");
    if worth_saying.is_empty() {
        out.push_str("  none\n");
    }
    for finding in worth_saying {
        let _ = writeln!(out, "  {}", words::line(finding, layout, system));
    }
    if !fine.is_empty() {
        let names: Vec<_> = fine.iter().map(|finding| words::what(finding)).collect();
        let _ = writeln!(out, "  within limits: {}", names.join(", "));
    }
    out.push('\n');
    out
}
