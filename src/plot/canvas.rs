//! A list of shapes in sheet units, and its writing as SVG through `plotters`.
//!
//! What `plotters`' SVG writer does by itself and what is done here about it: it rounds to whole
//! pixels, so everything is drawn `FINE` times larger and brought back by the view box; it writes
//! types 1.24 times smaller than asked, so that factor is put on; it knows no dashes, so they are
//! cut here; it sets no halo behind words and no size that follows the page, so these are put into
//! its tags.

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::axis::extent;
use super::error::PlotError;
use super::geometry::{Point, Rect, dashes, thin};
use super::style::{Colour, Dash, Marker, PAPER, SeriesStyle};
use super::text::{clean, text_width};

/// Drawn pixels per sheet unit.
const FINE: f64 = 10.0;
/// What `plotters-svg` divides every type size by.
const TYPE_SHRINK: f64 = 1.24;

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
    /// Smallest and largest value drawn; none where there are no data.
    pub data: Option<(f64, f64)>,
}

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

#[derive(Debug)]
enum Shape {
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
    shapes: Vec<Shape>,
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
        let Rect {
            left,
            top,
            right,
            bottom,
        } = rect;
        self.fill(
            &[[left, top], [right, top], [right, bottom], [left, bottom]],
            colour,
        );
    }

    /// Words on one line; their box is remembered.
    pub(crate) fn words(&mut self, words: &str, at: Point, side: Side, face: Type) {
        let words = clean(words);
        if words.is_empty() {
            return;
        }
        let room = face.room(&words, at, side);
        self.labels.push(Label {
            words: words.clone(),
            room,
        });
        self.shapes.push(Shape::Words {
            words,
            at,
            side,
            face,
        });
    }

    /// A series' point, with a rim of paper that lifts it off what lies below.
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

    /// A piece of a series with its marker, as a key.
    pub(crate) fn sample(&mut self, from: Point, to: Point, style: &SeriesStyle) {
        self.stroke(&[from, to], style.colour, style.width, style.dash);
        let middle = [f64::midpoint(from[0], to[0]), f64::midpoint(from[1], to[1])];
        self.marker(middle, style.marker, style.colour, 5.0);
    }

    fn circle(&mut self, centre: Point, radius: f64, colour: Colour) {
        self.shapes.push(Shape::Circle {
            centre,
            radius,
            colour,
        });
    }

    /// The finished drawing; `name` is read out where pictures are not seen.
    pub(crate) fn finish(self, size: (f64, f64), name: &str) -> Result<Drawing, PlotError> {
        let raw = self.write(size)?;
        Ok(Drawing {
            svg: dressed(&raw, size, name),
            size,
            labels: self.labels,
            axes: self.axes,
        })
    }

    fn write(&self, size: (f64, f64)) -> Result<String, PlotError> {
        let refused = |error: &dyn std::fmt::Display| PlotError::Backend(error.to_string());
        let mut svg = String::new();
        let pixels = (fine(size.0).unsigned_abs(), fine(size.1).unsigned_abs());
        let area = SVGBackend::with_string(&mut svg, pixels).into_drawing_area();
        area.fill(&WHITE).map_err(|error| refused(&error))?;
        for shape in &self.shapes {
            shape.draw(&area).map_err(|error| refused(&error))?;
        }
        area.present().map_err(|error| refused(&error))?;
        drop(area);
        Ok(svg)
    }

    /// Lowest place of anything written so far.
    pub(crate) fn lowest_label(&self) -> f64 {
        extent(self.labels.iter().map(|label| label.room.bottom)).map_or(0.0, |range| range.1)
    }
}

/// Sheet units to drawn pixels; a place far off the sheet (there is none) would stay at its edge.
fn fine(value: f64) -> i32 {
    // Bounded to well inside the type.
    #[allow(clippy::cast_possible_truncation)]
    let pixel = (value * FINE).round().clamp(-1e6, 1e6) as i32;
    pixel
}

fn pixel(point: Point) -> (i32, i32) {
    (fine(point[0]), fine(point[1]))
}

type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;
type Refusal<'a> = DrawingAreaErrorKind<<SVGBackend<'a> as DrawingBackend>::ErrorType>;

impl Shape {
    fn draw<'a>(&self, area: &Area<'a>) -> Result<(), Refusal<'a>> {
        match self {
            Self::Stroke {
                points,
                colour,
                width,
            } => {
                let path: Vec<_> = points.iter().map(|&point| pixel(point)).collect();
                area.draw(&PathElement::new(
                    path,
                    ink(*colour).stroke_width(fine(*width).unsigned_abs()),
                ))
            }
            Self::Fill { points, colour } => {
                let path: Vec<_> = points.iter().map(|&point| pixel(point)).collect();
                area.draw(&Polygon::new(path, ink(*colour).filled()))
            }
            Self::Circle {
                centre,
                radius,
                colour,
            } => area.draw(&Circle::new(
                pixel(*centre),
                fine(*radius),
                ink(*colour).filled(),
            )),
            Self::Words {
                words,
                at,
                side,
                face,
            } => {
                let side = match side {
                    Side::Start => HPos::Left,
                    Side::Middle => HPos::Center,
                    Side::End => HPos::Right,
                };
                let weight = if face.bold {
                    FontStyle::Bold
                } else {
                    FontStyle::Normal
                };
                let font = (
                    FontFamily::SansSerif,
                    face.size * FINE * TYPE_SHRINK,
                    weight,
                )
                    .into_font();
                let style = font
                    .color(&ink(face.colour))
                    .pos(Pos::new(side, VPos::Center));
                area.draw(&Text::new(words.clone(), pixel(*at), style))
            }
        }
    }
}

fn ink((red, green, blue): Colour) -> RGBColor {
    RGBColor(red, green, blue)
}

/// The document with a first tag that scales with its page and has a name, and a halo of paper
/// behind the words. Words of the user's cannot be met by the replacement: their `<` is escaped.
fn dressed(raw: &str, (width, height): (f64, f64), name: &str) -> String {
    let body = raw.split_once('>').map_or("", |(_, rest)| rest);
    let halo = fine(0.3 * super::style::SMALL / 2.0);
    let name = clean(name)
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;");
    let first = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {} {}\" \
         role=\"img\" style=\"max-width:100%;height:auto\" stroke-linejoin=\"round\">\n<title>{name}</title>",
        fine(width * 1.5) / 10,
        fine(height * 1.5) / 10,
        fine(width),
        fine(height),
    );
    let words = format!(
        "<text paint-order=\"stroke\" stroke=\"#FFFFFF\" stroke-width=\"{halo}\" stroke-linejoin=\"round\" "
    );
    first + &body.replace("<text ", &words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn type_is_written_in_the_size_asked_for() {
        let mut canvas = Canvas::default();
        canvas.words("x", [10.0, 10.0], Side::Start, Type::plain(20.0, (0, 0, 0)));
        let drawing = canvas.finish((100.0, 50.0), "").unwrap();
        assert!(drawing.svg.contains("font-size=\"200\""), "{}", drawing.svg);
        assert!(
            drawing.svg.contains("font-family=\"sans-serif\""),
            "{}",
            drawing.svg
        );
    }

    #[test]
    fn hostile_words_stay_words() {
        let mut canvas = Canvas::default();
        let words = "<text x='1'>&\"</text></svg><script>";
        canvas.words(
            words,
            [10.0, 10.0],
            Side::Start,
            Type::plain(20.0, (0, 0, 0)),
        );
        let drawing = canvas.finish((100.0, 50.0), words).unwrap();
        let document = roxmltree::Document::parse(&drawing.svg).unwrap();
        let texts = document
            .descendants()
            .filter(|node| node.has_tag_name("text"));
        let read: Vec<_> = texts
            .map(|node| node.text().unwrap().trim().to_owned())
            .collect();
        assert_eq!(read, [words]);
    }
}
