//! What a drawing hands back: the SVG text, and what a check needs to hold it against.

use super::geometry::Rect;

/// One finished drawing.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// The whole SVG document.
    pub svg: String,
    /// Width and height in sheet units.
    pub size: (f64, f64),
    /// Every written line of words with the box that is kept free for it, in sheet units.
    pub labels: Vec<Label>,
    /// Every axis with what it must cover.
    pub axes: Vec<AxisSpan>,
}

/// A line of words on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The words.
    pub words: String,
    /// The box kept free for them.
    pub room: Rect,
}

/// The range of one axis and of the data on it, in shown units.
#[derive(Debug, Clone, PartialEq)]
pub struct AxisSpan {
    /// The axis' name.
    pub words: String,
    /// Where the axis starts and ends.
    pub span: (f64, f64),
    /// Smallest and largest value drawn, with the room kept beyond them; none where there are no data.
    pub data: Option<(f64, f64)>,
    /// Where on the sheet the two ends of the span lie: x for a level axis, y for an upright one.
    pub places: (f64, f64),
}
