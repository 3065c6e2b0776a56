//! Findings with their words.

use serde::Serialize;

use crate::finding::Finding;
use crate::matching::Layout;
use crate::quantity::UnitSystem;
use crate::report::words;

/// The worst of a match's findings.
#[derive(Debug, Clone, Serialize)]
pub struct WorstView {
    /// Its fixed word.
    pub code: &'static str,
    /// `near`, `over` or `outside data`.
    pub severity: &'static str,
}

/// A limit checked.
#[derive(Debug, Clone, Serialize)]
pub struct FindingView {
    /// A fixed word.
    pub code: &'static str,
    /// What it is about, in words.
    pub what: String,
    /// The station or stage.
    #[serde(rename = "where", skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Engine speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rpm: Option<f64>,
    /// The value found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The limit it is held against.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
    /// What is left to the limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin: Option<f64>,
    /// Unit of value and limit.
    pub unit: &'static str,
    /// `ok`, `near`, `over`, `outside data`.
    pub severity: &'static str,
    /// The next step.
    pub advice: String,
}

impl WorstView {
    /// Of findings that stand worst first.
    pub(super) fn of(findings: &[FindingView]) -> Option<Self> {
        let worst = findings.first().filter(|first| first.severity != "ok")?;
        Some(Self {
            code: worst.code,
            severity: worst.severity,
        })
    }
}

impl FindingView {
    /// A finding with its words, in SI.
    pub fn new(layout: &Layout, finding: &Finding) -> Self {
        let place = words::place(finding, layout);
        Self {
            code: words::code(finding.code),
            what: words::what(finding),
            place: (!place.is_empty()).then_some(place),
            rpm: finding.rpm,
            value: finding.value,
            limit: finding.limit,
            margin: finding.margin,
            unit: words::unit(finding.measure()),
            severity: words::severity(finding.severity),
            advice: words::advice(finding, UnitSystem::Si),
        }
    }
}
