//! What is gained against what it costs, along one line of choices: each choice a point, the one
//! that is had and the one that gains the most named.

use super::axis::{Axis, Ends, extent, show_points};
use super::canvas::Type;
use super::drawing::Drawing;
use super::error::PlotError;
use super::frame::{AxisSpec, PanelSpec, Sheet, nothing};
use super::placing::{Placer, Wish};
use super::style::{ALARM, INK, MUTED, Marker, SERIES, SMALL};

/// One choice.
#[derive(Debug, Clone)]
pub struct TradePoint {
    /// Cost (x) and gain (y), SI.
    pub at: [f64; 2],
    /// Its name; may be empty.
    pub words: String,
    /// Whether it stands out.
    pub stands_out: bool,
}

/// Gain against cost.
#[derive(Debug, Clone)]
pub struct Trade<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// What to mind; may be empty.
    pub note: &'a str,
    /// What it costs.
    pub cost: Axis<'a>,
    /// What is gained.
    pub gain: Axis<'a>,
    /// All choices as a line.
    pub line: Vec<[f64; 2]>,
    /// Choices that are named, 20 at most; the most wanted words first.
    pub points: Vec<TradePoint>,
}

const MOST_POINTS: usize = 20;
const HEIGHT: f64 = 380.0;
const WISH: Wish = Wish {
    directions: &[
        (1.0, 1.0),
        (0.0, 1.0),
        (-1.0, -1.0),
        (0.0, -1.0),
        (1.0, 0.0),
        (-1.0, 0.0),
        (-1.0, 1.0),
        (1.0, -1.0),
    ],
    gaps: &[8.0, 16.0, 30.0, 50.0],
    most: 90.0,
    order: 0.0,
    leader: true,
};

impl Trade<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        if self.points.len() > MOST_POINTS {
            return Err(PlotError::TooMany {
                what: "points",
                count: self.points.len(),
                most: MOST_POINTS,
            });
        }
        let line = show_points(&self.line, &self.cost, &self.gain, "line")?;
        let at: Vec<[f64; 2]> = self.points.iter().map(|point| point.at).collect();
        let at = show_points(&at, &self.cost, &self.gain, "points")?;
        let all = || line.iter().chain(&at);
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let spec = PanelSpec {
            x: AxisSpec {
                words: self.cost.words,
                data: extent(all().map(|point| point[0])),
                ends: Ends::Zero,
            },
            y: AxisSpec {
                words: self.gain.words,
                data: extent(all().map(|point| point[1])),
                ends: Ends::Round,
            },
            height: HEIGHT,
            right_room: 10.0,
            both_grids: true,
            marks: &[],
            least_left: 0.0,
            level_numbers: true,
        };
        let panel = sheet.panel(&spec);
        let mut placer = Placer::new(panel.rect.grown(-2.0));
        let style = SERIES[0];
        let path = panel.line(&line);
        sheet.canvas.stroke(&path, style.colour, style.width, &[]);
        placer.avoid(&path, 3.0);
        let places = panel.line(&at);
        for (point, &place) in self.points.iter().zip(&places) {
            let (marker, colour, size) = if point.stands_out {
                (Marker::Diamond, ALARM, 7.5)
            } else {
                (Marker::Disc, style.colour, 4.6)
            };
            sheet.canvas.marker(place, marker, colour, size);
            placer.avoid_marker(place, size + 2.0);
        }
        for (point, &place) in self.points.iter().zip(&places) {
            let face = if point.stands_out {
                Type::bold(SMALL, INK)
            } else {
                Type::plain(SMALL, MUTED)
            };
            if !point.words.is_empty() {
                placer.label(&mut sheet.canvas, &point.words, face, &[place], &WISH);
            }
        }
        if line.is_empty() {
            nothing(&mut sheet.canvas, panel.rect, "no point to draw");
        }
        sheet.note(self.note);
        sheet.finish()
    }
}
