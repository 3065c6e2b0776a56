//! A line: its speeds, hand-overs and findings.

use serde::Serialize;

use super::{FindingView, PointView};
use crate::quantity::Words;
use crate::report::beside_view::{SummaryView, VariantView};
use crate::report::events::{EventView, HysteresisView};

/// `line` as JSON.
#[derive(Debug, Clone, Serialize)]
pub struct LineView {
    /// Title of the build.
    pub title: String,
    /// The safety words.
    pub caution: &'static str,
    /// Where the supercharger's ratio crosses 1.
    pub hand_over: Vec<HandOverView>,
    /// What happens along the line, rising in speed.
    pub events: Vec<EventView>,
    /// Where the way down differs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hysteresis: Vec<HysteresisView>,
    /// Keys of the inputs that carry an uncertainty.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uncertain_inputs: Vec<String>,
    /// The matches, rising in speed.
    pub points: Vec<RowView>,
    /// What was found along the line, worst first.
    pub findings: Vec<FindingView>,
    /// The line in a few figures, where others stand beside it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub summary: Option<SummaryView>,
    /// The lines beside it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub variants: Vec<VariantView>,
}

/// A hand-over.
#[derive(Debug, Clone, Serialize)]
pub struct HandOverView {
    /// Engine speed.
    pub rpm: f64,
    /// `to_turbo` or `to_supercharger`.
    pub direction: &'static str,
}

/// A row of a line: a match or why there is none.
#[derive(Debug, Clone, Serialize)]
#[serde(untagged)]
pub enum RowView {
    /// A match.
    Point(Box<PointView>),
    /// No match.
    Error {
        /// Engine speed.
        rpm: f64,
        /// Why.
        error: Words,
    },
}
