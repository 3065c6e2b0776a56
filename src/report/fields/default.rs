//! Values that the build does not give.

use super::rows::fields;
use crate::finding::{Basis, Finding, Measure};
use crate::input::Taken;
use crate::quantity::UnitSystem;
use crate::report::words;

/// A value that the build does not give, in words.
#[derive(Debug, Clone)]
pub struct DefaultUsed {
    /// Its dotted key.
    pub key: String,
    /// What was used.
    pub value: String,
    /// Where that comes from.
    pub source: &'static str,
}

fields! { DefaultUsed {
    key = text "key",
        "Dotted key of the build." |d| d.key.clone();
    value = text "value",
        "What was used." |d| d.value.clone();
    source = text "source",
        "Where that comes from." |d| d.source;
} }

/// What was used because the build does not give it, and the rules of thumb that stood in for
/// limits, each once, in the reader's units.
pub fn defaults(taken: &[Taken], findings: &[Finding], system: UnitSystem) -> Vec<DefaultUsed> {
    let written = |one: &Taken| DefaultUsed {
        key: one.key.clone(),
        value: one.value.in_units(system),
        source: one.source,
    };
    let mut list: Vec<DefaultUsed> = taken.iter().map(written).collect();
    for rule in findings.iter().filter_map(|one| rule_of(one, system)) {
        if list.iter().all(|known| known.key != rule.key) {
            list.push(rule);
        }
    }
    list
}

/// A rule of thumb that stood in for a limit; `None` where the finding has another limit.
fn rule_of(finding: &Finding, system: UnitSystem) -> Option<DefaultUsed> {
    if finding.basis != Basis::CommonPractice {
        return None;
    }
    let limit = finding.limit?;
    let value = match finding.measure() {
        Measure::Ratio => format!("{limit}"),
        measure => words::with_unit(limit, words::kind(measure), system),
    };
    Some(DefaultUsed {
        key: words::limit_name(finding.code).to_owned(),
        value,
        source: "common practice",
    })
}
