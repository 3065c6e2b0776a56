//! Lines held beside the build's own: their figures, and a CSV that names the line of each row.

use serde::Serialize;

use super::events::{EventView, HysteresisView};
use super::view::{FindingView, HandOverView, LineView, RowView};
use crate::study::{At, Summary};

/// The name of the build's own line beside others.
pub const THE_BUILD: &str = "the build";

/// A line in a few figures.
#[derive(Debug, Clone, Default, Serialize)]
pub struct SummaryView {
    /// Smallest surge margin at the same pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin_rpm: Option<f64>,
    /// Smallest choke margin.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_margin: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_margin_rpm: Option<f64>,
    /// Highest speed of a turbocharger's shaft.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub highest_shaft_speed_rpm: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub highest_shaft_speed_engine_rpm: Option<f64>,
    /// Largest boost above the line's own site.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_boost_pa: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_boost_rpm: Option<f64>,
}

impl SummaryView {
    /// The view of a line's figures.
    pub fn new(summary: &Summary) -> Self {
        let value = |at: Option<At>| at.map(|at| at.value);
        let rpm = |at: Option<At>| at.map(|at| at.rpm);
        Self {
            surge_margin: value(summary.surge_margin),
            surge_margin_rpm: rpm(summary.surge_margin),
            choke_margin: value(summary.choke_margin),
            choke_margin_rpm: rpm(summary.choke_margin),
            highest_shaft_speed_rpm: value(summary.shaft_speed),
            highest_shaft_speed_engine_rpm: rpm(summary.shaft_speed),
            largest_boost_pa: value(summary.boost),
            largest_boost_rpm: rpm(summary.boost),
        }
    }
}

/// A line beside the build's own.
#[derive(Debug, Clone, Serialize)]
pub struct VariantView {
    /// Its name.
    pub title: String,
    /// What it changes, as written: `KEY=VALUE`.
    pub settings: Vec<String>,
    /// Its figures.
    pub summary: SummaryView,
    /// Where the supercharger's ratio crosses 1.
    pub hand_over: Vec<HandOverView>,
    /// What happens along the line, rising in speed.
    pub events: Vec<EventView>,
    /// Where the way down differs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hysteresis: Vec<HysteresisView>,
    /// The matches, rising in speed.
    pub points: Vec<RowView>,
    /// What was found along the line, worst first.
    pub findings: Vec<FindingView>,
}

/// A row of a CSV that holds several lines.
#[derive(Debug, Serialize)]
pub struct NamedRow<'a> {
    /// The line's name.
    variant: &'a str,
    #[serde(flatten)]
    row: &'a RowView,
}

impl LineView {
    /// All rows with the names of their lines, the build's own first.
    pub fn named_rows(&self) -> Vec<NamedRow<'_>> {
        let own = (THE_BUILD, &self.points);
        let beside = self.variants.iter().map(|one| (&*one.title, &one.points));
        let lines = std::iter::once(own).chain(beside);
        lines
            .flat_map(|(variant, rows)| rows.iter().map(move |row| NamedRow { variant, row }))
            .collect()
    }
}
