//! A line: its speeds, hand-overs, events and findings, alone or with others to compare.

use super::event::EventInWords;
use super::finding::PlacedFinding;
use super::point::Point;
use super::rows::{fields, filled};
use super::summary::LineSummary;
use crate::quantity::Words;
use crate::report::caution::CAUTION;
use crate::study::{HandOver, Hysteresis};

/// The name of the build's own line among others.
pub const THE_BUILD: &str = "the build";

/// A speed without a match.
#[derive(Debug, Clone)]
pub struct NoMatch {
    /// Engine speed.
    pub rpm: f64,
    /// Why.
    pub error: Words,
}

/// A row of a line: a match or why there is none.
pub type Row = Result<Point, NoMatch>;

/// `line`: the build's own, or one to compare with it.
#[derive(Debug, Clone)]
pub struct LineReport {
    /// Title of the build; of a line to compare its name.
    pub title: String,
    /// Of a line to compare: what it changes, as written (`KEY=VALUE`).
    pub settings: Vec<String>,
    /// Where the supercharger's ratio crosses 1.
    pub hand_over: Vec<HandOver>,
    /// What happens along the line, rising in speed.
    pub events: Vec<EventInWords>,
    /// Where the way down differs.
    pub hysteresis: Vec<Hysteresis>,
    /// Keys of the inputs that carry an uncertainty.
    pub uncertain_inputs: Vec<String>,
    /// The matches, rising in speed.
    pub points: Vec<Row>,
    /// What was found along the line, worst first.
    pub findings: Vec<PlacedFinding>,
    /// The line in a few figures.
    pub summary: LineSummary,
    /// Lines to compare with it.
    pub variants: Vec<Variant>,
}

/// A line to compare.
#[derive(Debug, Clone)]
pub struct Variant(pub LineReport);

/// A row of a CSV that holds several lines.
#[derive(Debug)]
pub struct NamedRow {
    variant: String,
    row: Row,
}

fields! {
NoMatch {
    rpm = RotationalSpeed "engine speed",
        "Engine speed." |n| n.rpm;
    error = text "error",
        "Why there is no match." |n| n.error.to_string();
}

LineReport {
    title = text "title",
        "Title of the build." |l| l.title.clone();
    caution = text "caution",
        "The safety words." |_l| CAUTION;
    hand_over = each "hand-over",
        "Speeds at which the supercharger's pressure ratio crosses 1." |l| &l.hand_over;
    events = each "events",
        "What happens along the line, rising in speed." |l| &l.events;
    hysteresis ? each "hysteresis",
        "Speeds between which an engine that comes down runs in another state."
        |l| filled(&l.hysteresis[..]);
    uncertain_inputs ? texts "uncertain inputs",
        "Keys of the inputs that carry an uncertainty." |l| filled(l.uncertain_inputs.clone());
    points = each "points",
        "The matches, rising in speed, or why there is none." |l| &l.points;
    findings = each "findings",
        "What was found along the line, worst first." |l| &l.findings;
    summary ? one "summary",
        "The line in a few figures, where others are compared with it."
        |l| (!l.variants.is_empty()).then(|| l.summary.clone());
    variants ? each "variants",
        "Lines with values changed, to compare." |l| filled(&l.variants[..]);
}

Variant {
    title = text "title",
        "Name of the line." |v| v.0.title.clone();
    settings = texts "settings",
        "What it changes, as written: KEY=VALUE." |v| v.0.settings.clone();
    summary = one "summary",
        "The line in a few figures." |v| v.0.summary.clone();
    hand_over = each "hand-over",
        "Speeds at which the supercharger's pressure ratio crosses 1." |v| &v.0.hand_over;
    events = each "events",
        "What happens along the line, rising in speed." |v| &v.0.events;
    hysteresis ? each "hysteresis",
        "Speeds between which an engine that comes down runs in another state."
        |v| filled(&v.0.hysteresis[..]);
    points = each "points",
        "The matches, rising in speed, or why there is none." |v| &v.0.points;
    findings = each "findings",
        "What was found along the line, worst first." |v| &v.0.findings;
}

NamedRow {
    variant = text "variant",
        "Name of the line." |n| n.variant.clone();
    point ? flat "point",
        "The match." |n| n.row.as_ref().ok().cloned();
    none ? flat "no match",
        "Why there is none." |n| n.row.as_ref().err().cloned();
}
}

impl LineReport {
    /// The matches.
    pub fn matches(&self) -> impl Iterator<Item = &Point> {
        self.points.iter().filter_map(|row| row.as_ref().ok())
    }

    /// The speeds without a match.
    pub fn unsolved(&self) -> impl Iterator<Item = &NoMatch> {
        self.points.iter().filter_map(|row| row.as_ref().err())
    }

    /// All rows with the names of their lines, the build's own first.
    pub fn named_rows(&self) -> Vec<NamedRow> {
        let own = (THE_BUILD, &self.points);
        let others = self.variants.iter();
        let others = others.map(|one| (one.0.title.as_str(), &one.0.points));
        let named = |(variant, rows): (&str, &Vec<Row>)| -> Vec<NamedRow> {
            let rows = rows.iter();
            rows.map(|row| NamedRow {
                variant: variant.to_owned(),
                row: row.clone(),
            })
            .collect()
        };
        std::iter::once(own).chain(others).flat_map(named).collect()
    }
}
