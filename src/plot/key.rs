//! The key below a panel: a sample and a name for each entry.

use super::canvas::{Side, Type};
use super::frame::{Sheet, outline};
use super::geometry::{Point, Rect};
use super::style::{Colour, EDGE, INK, Marker, SHEET_WIDTH, SMALL, SeriesStyle};
use super::text::{clean, fit, text_width};

/// One entry of a key.
#[derive(Debug)]
pub(crate) struct KeyEntry<'a> {
    pub words: &'a str,
    pub sample: Sample,
}

/// What stands before the words of a key.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Sample {
    /// A piece of a series.
    Series(SeriesStyle),
    /// One marker alone.
    Marker(Marker, Colour),
    /// A piece of ground.
    Ground(Colour),
}

impl Sheet {
    /// A key in as many rows as it needs.
    pub(crate) fn key(&mut self, entries: &[KeyEntry]) {
        const SAMPLE: f64 = 40.0;
        let face = Type::plain(SMALL, INK);
        let row = 1.5 * SMALL;
        let mut x = EDGE;
        for (place, entry) in entries.iter().enumerate() {
            let room = SHEET_WIDTH - 2.0 * EDGE - SAMPLE - 8.0;
            let words = fit(&clean(entry.words), SMALL, false, room);
            let width = SAMPLE + 8.0 + text_width(&words, SMALL, false);
            if place > 0 && x + width > SHEET_WIDTH - EDGE {
                x = EDGE;
                self.cursor += row;
            }
            let y = self.cursor + row / 2.0;
            self.sample(entry.sample, [x, y], SAMPLE);
            self.canvas
                .words(&words, [x + SAMPLE + 8.0, y], Side::Start, face);
            x += width + 22.0;
        }
        if !entries.is_empty() {
            self.cursor += row;
        }
    }

    fn sample(&mut self, sample: Sample, [x, y]: Point, width: f64) {
        match sample {
            Sample::Series(style) => self.canvas.sample([x, y], [x + width, y], &style),
            Sample::Marker(marker, colour) => {
                self.canvas
                    .marker([x + width / 2.0, y], marker, colour, 5.0);
            }
            Sample::Ground(colour) => {
                let rect = Rect {
                    left: x,
                    top: y - 9.0,
                    right: x + width,
                    bottom: y + 9.0,
                };
                self.canvas.block(rect, colour);
                outline(&mut self.canvas, rect);
            }
        }
    }
}
