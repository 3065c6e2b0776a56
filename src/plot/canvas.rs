//! Shapes in sheet units, in the order in which they cover each other; `svg` writes them out.

use super::drawing::{AxisSpan, Label};
use super::geometry::{Point, Rect, dashes, thin};
use super::style::{Colour, Dash, Look, Marker, PAPER, RULE};
use super::text::text_width;

/// Which point of a line of words stands at its place; always the middle of its height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Start,
    Middle,
    End,
}

/// How words are written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Type {
    pub size: f64,
    pub bold: bool,
    pub colour: Colour,
}

impl Type {
    pub(crate) const fn plain(size: f64, colour: Colour) -> Self {
        Self {
            size,
            bold: false,
            colour,
        }
    }

    pub(crate) const fn bold(size: f64, colour: Colour) -> Self {
        Self {
            size,
            bold: true,
            colour,
        }
    }

    /// The box of a line of words with its anchor at a place.
    pub(crate) fn room(&self, words: &str, at: Point, side: Side) -> Rect {
        let width = text_width(words, self.size, self.bold);
        let centre = match side {
            Side::Start => at[0] + width / 2.0,
            Side::Middle => at[0],
            Side::End => at[0] - width / 2.0,
        };
        Rect::around([centre, at[1]], width, self.size)
    }
}

/// One shape, in sheet units.
#[derive(Debug)]
pub(crate) enum Shape {
    Stroke {
        points: Vec<Point>,
        colour: Colour,
        width: f64,
    },
    Fill {
        points: Vec<Point>,
        colour: Colour,
    },
    Circle {
        centre: Point,
        radius: f64,
        colour: Colour,
    },
    Words {
        words: String,
        at: Point,
        side: Side,
        face: Type,
    },
}

/// Shapes in the order in which they cover each other.
#[derive(Debug, Default)]
pub(crate) struct Canvas {
    pub shapes: Vec<Shape>,
    pub labels: Vec<Label>,
    pub axes: Vec<AxisSpan>,
}

impl Canvas {
    pub(crate) fn stroke(&mut self, points: &[Point], colour: Colour, width: f64, dash: Dash) {
        let points = thin(points, 0.4);
        let strokes = if dash.is_empty() {
            vec![points]
        } else {
            dashes(&points, dash)
        };
        for points in strokes {
            self.shapes.push(Shape::Stroke {
                points,
                colour,
                width,
            });
        }
    }

    pub(crate) fn fill(&mut self, points: &[Point], colour: Colour) {
        self.shapes.push(Shape::Fill {
            points: thin(points, 0.4),
            colour,
        });
    }

    pub(crate) fn block(&mut self, rect: Rect, colour: Colour) {
        self.fill(&rect.corners(), colour);
    }

    /// A thin frame.
    pub(crate) fn outline(&mut self, rect: Rect) {
        let mut corners = rect.corners().to_vec();
        corners.push(corners[0]);
        self.stroke(&corners, RULE, 1.2, &[]);
    }

    /// Lines of words below each other around a middle, all starting at one place.
    pub(crate) fn column(
        &mut self,
        lines: &[String],
        [left, middle]: Point,
        face: Type,
        step: f64,
    ) {
        let first = middle - 0.5 * step * (lines.len() as f64 - 1.0);
        for (row, words) in lines.iter().enumerate() {
            let at = [left, first + step * row as f64];
            self.words(words, at, Side::Start, face);
        }
    }

    /// Words on one line, as `text` made them fit; their box is remembered.
    pub(crate) fn words(&mut self, words: &str, at: Point, side: Side, face: Type) {
        if words.is_empty() {
            return;
        }
        self.labels.push(Label {
            words: words.to_owned(),
            room: face.room(words, at, side),
        });
        self.shapes.push(Shape::Words {
            words: words.to_owned(),
            at,
            side,
            face,
        });
    }

    /// A point of a line, with a rim of paper that lifts it off what lies below.
    pub(crate) fn marker(&mut self, at: Point, marker: Marker, colour: Colour, radius: f64) {
        let around = |angles: &[f64], r: f64| -> Vec<Point> {
            let corner = |degrees: &f64| {
                let (sin, cos) = degrees.to_radians().sin_cos();
                [at[0] + r * cos, at[1] + r * sin]
            };
            angles.iter().map(corner).collect()
        };
        let shape = |canvas: &mut Self, angles: &[f64], size: f64| {
            canvas.fill(&around(angles, size + 1.8), PAPER);
            canvas.fill(&around(angles, size), colour);
        };
        match marker {
            Marker::Disc => {
                self.circle(at, radius + 1.3, PAPER);
                self.circle(at, radius, colour);
            }
            Marker::Ring => {
                self.circle(at, radius + 0.6, colour);
                self.circle(at, radius - 1.6, PAPER);
            }
            Marker::Square => shape(self, &[45.0, 135.0, 225.0, 315.0], radius * 1.25),
            Marker::Triangle => shape(self, &[-90.0, 30.0, 150.0], radius * 1.4),
            Marker::Diamond => shape(self, &[0.0, 90.0, 180.0, 270.0], radius * 1.35),
            Marker::None => {}
            Marker::Cross => {
                for (width, ink) in [(5.6, PAPER), (2.8, colour)] {
                    for angles in [[45.0, 225.0], [135.0, 315.0]] {
                        self.stroke(&around(&angles, radius * 1.45), ink, width, &[]);
                    }
                }
            }
        }
    }

    /// A piece of a line with its marker, as a legend shows it.
    pub(crate) fn sample(&mut self, from: Point, to: Point, look: &Look) {
        self.stroke(&[from, to], look.colour, look.width, look.dash);
        let middle = [f64::midpoint(from[0], to[0]), f64::midpoint(from[1], to[1])];
        self.marker(middle, look.marker, look.colour, 5.0);
    }

    fn circle(&mut self, centre: Point, radius: f64, colour: Colour) {
        self.shapes.push(Shape::Circle {
            centre,
            radius,
            colour,
        });
    }

    /// Lowest place of anything written so far.
    pub(crate) fn lowest_label(&self) -> f64 {
        let bottoms = self.labels.iter().map(|label| label.room.bottom);
        bottoms.fold(0.0, f64::max)
    }
}
