//! The sheet: the finding on top, then what it holds, downwards. It grows with that, so rows never
//! meet.

use super::canvas::{Canvas, Side, Type};
use super::drawing::Drawing;
use super::error::PlotError;
use super::legend::{self, Entry};
use super::style::{EDGE, INK, LEADING, MUTED, SHEET_WIDTH, SMALL, TEXT, TITLE};
use super::svg;
use super::text::{clean, fit, text_width, wrap};

/// A sheet in the making.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub canvas: Canvas,
    /// Where the next row starts.
    pub cursor: f64,
    title: String,
}

impl Sheet {
    /// A sheet with its finding and a second line below it.
    pub(crate) fn new(title: &str, subtitle: &str) -> Self {
        let mut sheet = Self {
            canvas: Canvas::default(),
            cursor: EDGE,
            title: clean(title),
        };
        sheet.lines(title, Type::bold(TITLE, INK), 4);
        if !subtitle.is_empty() {
            sheet.cursor += 2.0;
            sheet.lines(subtitle, Type::plain(TEXT, MUTED), 3);
        }
        sheet.cursor += 10.0;
        sheet
    }

    /// Words from edge to edge, wrapped.
    fn lines(&mut self, words: &str, face: Type, most: usize) {
        let lines = wrap(words, face.size, face.bold, SHEET_WIDTH - 2.0 * EDGE, most);
        let step = LEADING * face.size;
        let middle = self.cursor + 0.5 * step * lines.len() as f64;
        self.canvas.column(&lines, [EDGE, middle], face, step);
        self.cursor += step * lines.len() as f64;
    }

    /// The name of an upright axis, above its frame, where a reader on a phone looks first.
    pub(crate) fn upright_name(&mut self, words: &str) {
        self.lines(words, Type::plain(TEXT, MUTED), 2);
    }

    /// The name of a level axis, below the middle of its frame.
    pub(crate) fn level_name(&mut self, words: &str, middle: f64) {
        let words = fit(words, TEXT, false, SHEET_WIDTH - 2.0 * EDGE);
        let half = text_width(&words, TEXT, false) / 2.0;
        let middle = middle.clamp(EDGE + half, SHEET_WIDTH - EDGE - half);
        let at = [middle, self.cursor + 0.5 * LEADING * TEXT];
        self.canvas
            .words(&words, at, Side::Middle, Type::plain(TEXT, MUTED));
        self.cursor += LEADING * TEXT + 6.0;
    }

    /// The legend.
    pub(crate) fn legend(&mut self, entries: &[Entry]) {
        self.cursor = legend::write(&mut self.canvas, entries, self.cursor);
    }

    /// Remarks below everything, such as where the data come from. A line break sets them apart; all
    /// but the last, which stands under every drawing, are written in full ink.
    pub(crate) fn note(&mut self, words: &str) {
        let mut remarks = words.lines().filter(|line| !line.is_empty()).peekable();
        while let Some(remark) = remarks.next() {
            let ink = if remarks.peek().is_some() { INK } else { MUTED };
            self.cursor += 4.0;
            self.lines(remark, Type::plain(SMALL, ink), 4);
        }
    }

    /// The drawing, below it first the words that found no room in it, then the note.
    pub(crate) fn finish(mut self, left_out: &[String], note: &str) -> Result<Drawing, PlotError> {
        for words in left_out {
            self.note(words);
        }
        self.note(note);
        let height = self.cursor.max(self.canvas.lowest_label()) + EDGE;
        svg::finish(self.canvas, (SHEET_WIDTH, height), &self.title)
    }
}
