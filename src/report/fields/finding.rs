//! A limit checked, in words.

use super::rows::fields;
use crate::finding::{Finding, Severity};
use crate::matching::Layout;
use crate::quantity::UnitSystem;
use crate::report::words;

/// A finding with the name of its place.
#[derive(Debug, Clone)]
pub struct PlacedFinding {
    /// The finding.
    pub finding: Finding,
    /// The station, stage or other part that it is about; empty where it is about none.
    pub place: String,
}

impl PlacedFinding {
    /// Findings with the names of their places.
    pub fn all(layout: &Layout, findings: &[Finding]) -> Vec<Self> {
        let found = findings.iter().map(|finding| Self {
            finding: *finding,
            place: words::place(finding, layout),
        });
        found.collect()
    }
}

/// The worst of a match's findings.
#[derive(Debug, Clone, Copy)]
pub struct Worst(Finding);

impl Worst {
    /// Of findings that stand worst first.
    pub fn of(findings: &[PlacedFinding]) -> Option<Self> {
        let worst = findings.first()?.finding;
        (worst.severity != Severity::Ok).then_some(Self(worst))
    }
}

fields! {
PlacedFinding {
    code = text "code",
        "A fixed word for what was checked; airpath explain CODE tells more."
        |f| words::code(f.finding.code);
    what = text "what",
        "What it is about, in words." |f| words::what(&f.finding);
    where ? text "where",
        "The station, stage or part." |f| (!f.place.is_empty()).then(|| f.place.clone());
    rpm ? RotationalSpeed "engine speed",
        "Engine speed; absent where it holds for the whole line." |f| f.finding.rpm;
    value ? Number "value",
        "What was calculated, in unit." |f| f.finding.value;
    limit ? Number "limit",
        "The limit, in unit." |f| f.finding.limit;
    margin ? Share "margin",
        "What is left to the limit, as a share of it; negative where it is exceeded."
        |f| f.finding.margin;
    unit = text "unit",
        "SI unit of value and limit; 1 for a plain number." |f| words::unit(f.finding.measure());
    severity = text "severity",
        "ok, near, over or outside data." |f| words::severity(f.finding.severity);
    advice = text "advice",
        "The next step, in SI units." |f| words::advice(&f.finding, UnitSystem::Si);
}

Worst {
    code = text "code",
        "The fixed word of the worst finding." |w| words::code(w.0.code);
    severity = text "severity",
        "near, over or outside data." |w| words::severity(w.0.severity);
}
}
