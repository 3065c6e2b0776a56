//! One quantity of several lines over engine speed, in the looks that they have on the map.

use super::axis::Axis;
use super::curves::{Curves, Series};
use super::drawing::Drawing;
use super::error::PlotError;
use super::map_layers::LINE_STYLES;

/// Lines beside each other.
#[derive(Debug, Clone)]
pub struct LinesBeside<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// What to mind; may be empty.
    pub note: &'a str,
    /// Engine speed, rpm.
    pub speed: Axis<'a>,
    /// The quantity.
    pub value: Axis<'a>,
    /// The lines, four at most.
    pub lines: Vec<Series>,
}

impl LinesBeside<'_> {
    /// Draws them.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        Curves {
            title: self.title,
            subtitle: self.subtitle,
            note: self.note,
            x: self.speed,
            y: self.value,
            series: self.lines.clone(),
            events: Vec::new(),
            limits: Vec::new(),
            bands: Vec::new(),
        }
        .draw_as(&LINE_STYLES)
    }
}
