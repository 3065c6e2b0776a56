//! Panels of lines below each other over one level axis, so that what happens at one place is read
//! straight down.

use super::axis::{Axis, Ends, extent};
use super::curves::{Curves, Event, Limit, Series};
use super::drawing::Drawing;
use super::end_names::NAME_ROOM;
use super::error::PlotError;
use super::frame::{AxisSpec, PanelSpec, Sheet, left_of};
use super::style::SERIES;

/// One panel.
#[derive(Debug, Clone)]
pub struct PanelLines<'a> {
    /// The upright axis.
    pub y: Axis<'a>,
    /// The lines, six at most.
    pub series: Vec<Series>,
    /// Limits, six at most.
    pub limits: Vec<Limit>,
}

/// Panels over one level axis.
#[derive(Debug, Clone)]
pub struct Panels<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// Where the data come from, or what to mind; may be empty.
    pub note: &'a str,
    /// The level axis.
    pub x: Axis<'a>,
    /// From the top down, four at most.
    pub panels: Vec<PanelLines<'a>>,
    /// Marks through all panels, eight at most.
    pub events: Vec<Event>,
}

const MOST_PANELS: usize = 4;
/// Height of all panels together, and the least of one.
const HEIGHT: f64 = 470.0;
const LEAST_HEIGHT: f64 = 170.0;

impl Panels<'_> {
    /// Draws them.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        if self.panels.len() > MOST_PANELS {
            return Err(PlotError::TooMany {
                what: "panels",
                count: self.panels.len(),
                most: MOST_PANELS,
            });
        }
        let curves: Vec<Curves> = self.panels.iter().map(|lines| self.curves(lines)).collect();
        let shown = curves.iter().map(|one| one.shown(SERIES.len()));
        let shown = shown.collect::<Result<Vec<_>, _>>()?;
        let ends = shown.iter().filter_map(|one| one.extent(0));
        let level = extent(ends.flat_map(|(low, high)| [low, high]));
        let height = (HEIGHT / self.panels.len().max(1) as f64).max(LEAST_HEIGHT);
        let mut specs: Vec<PanelSpec> = curves
            .iter()
            .zip(&shown)
            .enumerate()
            .map(|(place, (curves, shown))| PanelSpec {
                x: AxisSpec {
                    words: self.x.words,
                    data: level,
                    ends: Ends::Close,
                },
                y: AxisSpec {
                    words: curves.y.words,
                    data: shown.extent(1),
                    ends: Ends::Zero,
                },
                height,
                right_room: NAME_ROOM,
                both_grids: false,
                marks: if place == 0 { &shown.events } else { &[] },
                least_left: 0.0,
                level_numbers: place + 1 == self.panels.len(),
            })
            .collect();
        let left = specs.iter().map(left_of).fold(0.0, f64::max);
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let mut left_out = Vec::new();
        for ((curves, shown), spec) in curves.iter().zip(&shown).zip(&mut specs) {
            spec.least_left = left;
            let panel = sheet.panel(spec);
            left_out.extend(curves.fill(&mut sheet.canvas, &panel, shown, &SERIES));
        }
        for words in left_out {
            sheet.note(words);
        }
        sheet.note(self.note);
        sheet.finish()
    }

    /// One panel as lines of their own, with the marks of all.
    fn curves<'b>(&'b self, lines: &'b PanelLines) -> Curves<'b> {
        Curves {
            title: self.title,
            subtitle: self.subtitle,
            note: "",
            x: self.x,
            y: lines.y,
            series: lines.series.clone(),
            events: self.events.clone(),
            limits: lines.limits.clone(),
            bands: Vec::new(),
        }
    }
}
