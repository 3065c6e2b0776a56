//! A frame: a rectangle of the sheet with a level and an upright scale, its grid and its numbers.

use super::canvas::{Canvas, Side, Type};
use super::drawing::AxisSpan;
use super::geometry::{Point, Rect};
use super::scale::{Scale, Span};
use super::style::{BEYOND, EDGE, GRID, MUTED, RULE, SHEET_WIDTH, SMALL, blend};
use super::text::text_width;

/// A rectangle of the sheet with its scales, in shown units.
#[derive(Debug, Clone)]
pub(crate) struct Frame {
    pub rect: Rect,
    pub x: Scale,
    pub y: Scale,
}

const NUMBERS: Type = Type::plain(SMALL, MUTED);
/// How far level numbers reach below the frame.
pub(crate) const NUMBERS_BELOW: f64 = 32.0;

impl Frame {
    /// The place of a point.
    pub(crate) fn at(&self, point: [f64; 2]) -> Point {
        [self.x.at(point[0]), self.y.at(point[1])]
    }

    /// The places of a line's points.
    pub(crate) fn line(&self, points: &[[f64; 2]]) -> Vec<Point> {
        points.iter().map(|&point| self.at(point)).collect()
    }

    /// A level line through the frame.
    pub(crate) fn level(&self, y: f64) -> [Point; 2] {
        [[self.rect.left, y], [self.rect.right, y]]
    }

    /// An upright line through the frame.
    pub(crate) fn upright(&self, x: f64) -> [Point; 2] {
        [[x, self.rect.top], [x, self.rect.bottom]]
    }

    /// Grid, numbers of the upright scale, and numbers of the level one where they are wanted.
    pub(crate) fn axes(&self, canvas: &mut Canvas, level_numbers: bool) {
        self.level_grid(canvas);
        for tick in self.y.ticks() {
            let y = self.y.at(tick);
            // Zero divides what helps from what takes.
            let is_zero = tick == 0.0 && self.y.from < 0.0;
            canvas.stroke(&self.level(y), if is_zero { RULE } else { GRID }, 1.2, &[]);
            let at = [self.rect.left - 8.0, y];
            canvas.words(&self.y.words(tick), at, Side::End, NUMBERS);
        }
        canvas.stroke(&self.level(self.rect.bottom), RULE, 1.6, &[]);
        if level_numbers {
            self.level_numbers(canvas);
        }
    }

    /// Upright lines at the numbers of the level scale.
    pub(crate) fn level_grid(&self, canvas: &mut Canvas) {
        for tick in self.x.ticks() {
            canvas.stroke(&self.upright(self.x.at(tick)), GRID, 1.0, &[]);
        }
    }

    /// The level scale's line with its numbers below.
    pub(crate) fn level_numbers(&self, canvas: &mut Canvas) {
        let bottom = self.rect.bottom;
        canvas.stroke(&self.level(bottom), RULE, 1.6, &[]);
        for at in self.x.ticks().into_iter().map(|tick| self.x.at(tick)) {
            canvas.stroke(&[[at, bottom], [at, bottom + 6.0]], RULE, 1.6, &[]);
        }
        let mut edge = 0.0;
        for (words, left, right) in level_rooms(&self.x) {
            if left >= edge {
                canvas.words(&words, [left, bottom + 20.0], Side::Start, NUMBERS);
                edge = right + 6.0;
            }
        }
    }

    /// Keeps what the axes cover for the checks; a name that is empty belongs to no axis.
    pub(crate) fn remember(&self, canvas: &mut Canvas, x: (&str, Span), y: (&str, Span)) {
        for ((words, data), scale) in [(x, &self.x), (y, &self.y)] {
            if !words.is_empty() {
                canvas.axes.push(AxisSpan {
                    words: words.to_owned(),
                    span: (scale.from, scale.to),
                    data,
                    places: (scale.start, scale.end),
                });
            }
        }
    }

    /// Slanting lines over the whole frame, on their own ground.
    pub(crate) fn hatch(&self, canvas: &mut Canvas) {
        let rect = self.rect;
        canvas.block(rect, BEYOND);
        let line = blend(BEYOND, RULE, 0.45);
        let (width, height) = (rect.width(), rect.height());
        let mut offset = 10.0;
        while offset < width + height {
            // From the left or lower edge up to the right, at 45 degrees.
            let start = [
                rect.left + (offset - height).max(0.0),
                rect.top + offset.min(height),
            ];
            let end = [
                rect.left + offset.min(width),
                rect.top + (offset - width).max(0.0),
            ];
            canvas.stroke(&[start, end], line, 1.0, &[]);
            offset += 10.0;
        }
    }
}

/// Where a frame starts, right of the numbers of its upright scale.
pub(crate) fn left_of(y: &Scale) -> f64 {
    let widths = y.ticks().into_iter();
    let widest = widths.map(|tick| text_width(&y.words(tick), SMALL, false));
    EDGE + widest.fold(0.0, f64::max) + 8.0
}

/// A level scale from left to right with as many numbers as have room.
pub(crate) fn spread(data: Span, from_zero: bool, left: f64, right: f64) -> Scale {
    let lay = |ticks: f64| Scale::new(data, from_zero, ticks).laid(left, right);
    let fits = |scale: &Scale| {
        let numbers = level_rooms(scale);
        numbers.windows(2).all(|pair| pair[0].2 + 14.0 <= pair[1].1)
    };
    [8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0]
        .map(lay)
        .into_iter()
        .find(fits)
        .unwrap_or_else(|| lay(0.7))
}

/// The level numbers with their left and right ends, kept on the sheet.
fn level_rooms(x: &Scale) -> Vec<(String, f64, f64)> {
    let room = |tick: f64| {
        let words = x.words(tick);
        let width = text_width(&words, SMALL, false);
        let left = (x.at(tick) - width / 2.0).clamp(3.0, SHEET_WIDTH - 3.0 - width);
        (words, left, left + width)
    };
    x.ticks().into_iter().map(room).collect()
}
