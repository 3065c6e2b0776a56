//! Shapes written as SVG through `plotters`.
//!
//! What `plotters`' SVG writer does by itself and what is done here about it: it rounds to whole
//! pixels, so everything is drawn `FINE` times larger and brought back by the view box; it writes
//! types 1.24 times smaller than asked, so that factor is put on; it sets no halo behind words and
//! no size that follows the page, so these are put into its tags. Dashes, which it does not know,
//! are cut by the canvas.

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::canvas::{Canvas, Shape, Side};
use super::drawing::Drawing;
use super::error::PlotError;
use super::geometry::Point;
use super::style::{Colour, SMALL};
use super::text::clean;

/// Drawn pixels per sheet unit.
const FINE: f64 = 10.0;
/// What `plotters-svg` divides every type size by.
const TYPE_SHRINK: f64 = 1.24;

/// The finished drawing; `name` is read out where pictures are not seen.
pub(crate) fn finish(canvas: Canvas, size: (f64, f64), name: &str) -> Result<Drawing, PlotError> {
    Ok(Drawing {
        svg: write(&canvas.shapes, size, name)?,
        size,
        labels: canvas.labels,
        axes: canvas.axes,
    })
}

/// The document with all shapes.
fn write(shapes: &[Shape], size: (f64, f64), name: &str) -> Result<String, PlotError> {
    let refused = |error: &dyn std::fmt::Display| PlotError::Backend(error.to_string());
    let mut svg = String::new();
    let pixels = (fine(size.0).unsigned_abs(), fine(size.1).unsigned_abs());
    let area = SVGBackend::with_string(&mut svg, pixels).into_drawing_area();
    area.fill(&WHITE).map_err(|error| refused(&error))?;
    for shape in shapes {
        shape.draw(&area).map_err(|error| refused(&error))?;
    }
    area.present().map_err(|error| refused(&error))?;
    drop(area);
    Ok(dressed(&svg, size, name))
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
    let halo = fine(0.3 * SMALL / 2.0);
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
    use super::super::canvas::Type;
    use super::*;

    #[test]
    fn type_is_written_in_the_size_asked_for() {
        let mut canvas = Canvas::default();
        canvas.words("x", [10.0, 10.0], Side::Start, Type::plain(20.0, (0, 0, 0)));
        let drawing = finish(canvas, (100.0, 50.0), "").unwrap();
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
        let drawing = finish(canvas, (100.0, 50.0), words).unwrap();
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
