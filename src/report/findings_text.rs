//! What was found, for reading: worst first, what holds in one line at the end.

use super::words;
use super::wrap::hanging;
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
        out.push_str(&hanging(
            &words::line(finding, layout, system),
            "  ",
            "    ",
        ));
    }
    let (within, remarks): (Vec<_>, Vec<_>) = fine
        .into_iter()
        .partition(|finding| finding.limit.is_some() && finding.margin.is_some());
    for (heading, list) in [("within limits", within), ("also noted", remarks)] {
        if !list.is_empty() {
            let text = format!("{heading}: {}", names(layout, &list));
            out.push_str(&hanging(&text, "  ", "    "));
        }
    }
    out.push('\n');
    out
}

/// What was found, each with its place where the same was found at several.
fn names(layout: &Layout, list: &[&Finding]) -> String {
    let phrases: Vec<_> = list.iter().map(|finding| words::what(finding)).collect();
    let named = list.iter().zip(&phrases).map(|(finding, phrase)| {
        let is_shared = phrases.iter().filter(|other| *other == phrase).count() > 1;
        let place = words::place(finding, layout);
        if is_shared && !place.is_empty() {
            format!("{phrase} ({place})")
        } else {
            phrase.clone()
        }
    });
    named.collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use crate::finding::{Code, Subject};

    fn margin(stage: usize) -> Finding {
        let (code, subject) = (Code::SurgeMargin, Subject::Stage(stage));
        Finding::against(code, subject, 2600.0, (0.3, 0.1)).unwrap()
    }

    #[test]
    fn what_holds_at_several_stages_is_listed_with_the_stage() {
        let case = Case::truck();
        let text = findings_text(&case.layout, &[margin(0), margin(1)], UnitSystem::Si);
        let wanted =
            "  within limits: surge margin (supercharger); surge margin (turbo compressor)\n";
        assert!(text.contains(wanted), "{text}");
    }

    #[test]
    fn what_holds_at_one_stage_needs_no_place() {
        let text = findings_text(&Case::truck().layout, &[margin(1)], UnitSystem::Si);
        assert!(text.contains("  within limits: surge margin\n"), "{text}");
    }
}
