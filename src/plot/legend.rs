//! The legend: a sample and a name for each entry, in rows.

use super::canvas::{Canvas, Side, Type};
use super::geometry::{Point, Rect};
use super::style::{EDGE, INK, Marker, Meaning, SHEET_WIDTH, SMALL, island_tint};
use super::text::{fit, text_width};

/// One entry of a legend.
#[derive(Debug, Clone)]
pub struct Entry {
    /// What stands before the words.
    pub sample: Sample,
    /// The words.
    pub words: String,
}

/// What stands before the words of a legend.
#[derive(Debug, Clone, Copy)]
pub enum Sample {
    /// A piece of a line.
    Line(Meaning),
    /// A point that no data cover.
    Outside,
    /// The ground of the innermost contour.
    Contours,
}

const SAMPLE: f64 = 40.0;
const GAP: f64 = 8.0;
const ROW: f64 = 1.5 * SMALL;

/// Writes the legend from `top` downwards in as many rows as it needs; returns where it ends.
pub(crate) fn write(canvas: &mut Canvas, entries: &[Entry], top: f64) -> f64 {
    let (mut x, mut y) = (EDGE, top + ROW / 2.0);
    for (place, entry) in entries.iter().enumerate() {
        let room = SHEET_WIDTH - 2.0 * EDGE - SAMPLE - GAP;
        let words = fit(&entry.words, SMALL, false, room);
        let width = SAMPLE + GAP + text_width(&words, SMALL, false);
        if place > 0 && x + width > SHEET_WIDTH - EDGE {
            (x, y) = (EDGE, y + ROW);
        }
        sample(canvas, entry.sample, [x, y]);
        let at = [x + SAMPLE + GAP, y];
        canvas.words(&words, at, Side::Start, Type::plain(SMALL, INK));
        x += width + 22.0;
    }
    if entries.is_empty() {
        top
    } else {
        y + ROW / 2.0
    }
}

fn sample(canvas: &mut Canvas, sample: Sample, [x, y]: Point) {
    let middle = [x + SAMPLE / 2.0, y];
    match sample {
        Sample::Line(meaning) => canvas.sample([x, y], [x + SAMPLE, y], &meaning.look()),
        Sample::Outside => canvas.marker(middle, Marker::Cross, INK, 5.0),
        Sample::Contours => {
            let rect = Rect::around(middle, SAMPLE, 18.0);
            canvas.block(rect, island_tint(1.0));
            canvas.outline(rect);
        }
    }
}
