//! The sheet: finding on top, then panels with their axes, keys and notes, downwards.
//!
//! Nothing is rotated: the name of the upright axis stands above it, where a reader on a phone
//! looks first. The sheet grows with what it holds, so rows never meet.

use super::axis::{Ends, Scale};
use super::canvas::{Canvas, Side, Type};
use super::drawing::{AxisSpan, Drawing};
use super::error::PlotError;
use super::geometry::{Point, Rect};
use super::marks::{self, Mark};
use super::style::{EDGE, GRID, INK, MUTED, PAPER, RULE, SHEET_WIDTH, SMALL, TEXT, TITLE};
use super::text::{clean, fit, text_width, wrap};

/// Distance of lines of words, in sizes of the type.
pub(crate) const LEADING: f64 = 1.24;

/// A sheet in the making.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub canvas: Canvas,
    /// Where the next row starts.
    pub cursor: f64,
    title: String,
}

/// One axis of a panel, in shown units.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AxisSpec<'a> {
    pub words: &'a str,
    pub data: Option<(f64, f64)>,
    pub ends: Ends,
}

/// What a panel needs to be laid out.
#[derive(Debug)]
pub(crate) struct PanelSpec<'a> {
    pub x: AxisSpec<'a>,
    pub y: AxisSpec<'a>,
    pub height: f64,
    /// Room kept free to the right of the panel.
    pub right_room: f64,
    /// Whether upright grid lines help to read off.
    pub both_grids: bool,
    /// Upright marks with words above the panel: place in shown units, words.
    pub marks: &'a [(f64, String)],
    /// Where the panel starts at least, so that panels below each other share a level scale; 0
    /// leaves it to the panel's own numbers.
    pub least_left: f64,
    /// Whether the level axis carries numbers and name; else a panel below does.
    pub level_numbers: bool,
}

/// A panel with its axes.
#[derive(Debug)]
pub(crate) struct Panel {
    pub rect: Rect,
    pub x: Scale,
    pub y: Scale,
}

impl Panel {
    /// The place of a point in shown units.
    pub(crate) fn at(&self, point: [f64; 2]) -> Point {
        [self.x.at(point[0]), self.y.at(point[1])]
    }

    pub(crate) fn line(&self, points: &[[f64; 2]]) -> Vec<Point> {
        points.iter().map(|&point| self.at(point)).collect()
    }
}

impl Sheet {
    /// A sheet with its finding, which wraps to three lines, and a second line below it.
    pub(crate) fn new(title: &str, subtitle: &str) -> Self {
        let mut sheet = Self {
            canvas: Canvas::default(),
            cursor: EDGE,
            title: clean(title),
        };
        sheet.lines(title, Type::bold(TITLE, INK), 3);
        if !subtitle.is_empty() {
            sheet.cursor += 2.0;
            sheet.lines(subtitle, Type::plain(TEXT, MUTED), 3);
        }
        sheet.cursor += 10.0;
        sheet
    }

    /// Words from edge to edge, wrapped.
    pub(crate) fn lines(&mut self, words: &str, face: Type, most: usize) {
        for line in wrap(words, face.size, face.bold, SHEET_WIDTH - 2.0 * EDGE, most) {
            let middle = self.cursor + 0.5 * LEADING * face.size;
            self.canvas.words(&line, [EDGE, middle], Side::Start, face);
            self.cursor += LEADING * face.size;
        }
    }

    /// A panel over the sheet's width with its axes drawn; the cursor ends below its x axis' name.
    pub(crate) fn panel(&mut self, spec: &PanelSpec) -> Panel {
        let panel = self.lay(spec);
        self.axes(&panel, spec);
        panel
    }

    /// The place of a panel, with all words above it written.
    pub(crate) fn lay(&mut self, spec: &PanelSpec) -> Panel {
        let y = upright(spec);
        let left = left_of(spec).max(spec.least_left);
        let right = SHEET_WIDTH - EDGE - spec.right_room;
        let x = spread(&spec.x, left, right);

        self.lines(spec.y.words, Type::plain(TEXT, MUTED), 2);
        let places: Vec<Mark> = spec
            .marks
            .iter()
            .map(|(at, words)| Mark::new(x.at(*at), words))
            .collect();
        let top = marks::write(&mut self.canvas, &places, self.cursor + 4.0) + 8.0;
        let rect = Rect {
            left,
            top,
            right,
            bottom: top + spec.height,
        };
        Panel {
            rect,
            x,
            y: y.laid(rect.bottom, top),
        }
    }

    /// Grid, numbers and the level axis' name; the cursor ends below them.
    pub(crate) fn axes(&mut self, panel: &Panel, spec: &PanelSpec) {
        let Rect {
            left,
            top,
            right,
            bottom,
        } = panel.rect;
        upright_numbers(&mut self.canvas, panel);
        if spec.both_grids {
            for x in panel.x.ticks().into_iter().map(|tick| panel.x.at(tick)) {
                self.canvas.stroke(&[[x, top], [x, bottom]], GRID, 1.0, &[]);
            }
        }
        if !spec.level_numbers {
            let floor = [[left, bottom], [right, bottom]];
            self.canvas.stroke(&floor, RULE, 1.6, &[]);
            self.cursor = bottom + 18.0;
            self.span(spec.y.words, &panel.y, spec.y.data);
            return;
        }
        self.cursor = level_numbers(&mut self.canvas, &panel.x, panel.rect);
        let words = fit(&clean(spec.x.words), TEXT, false, SHEET_WIDTH - 2.0 * EDGE);
        let half = text_width(&words, TEXT, false) / 2.0;
        let middle = f64::midpoint(left, right).clamp(EDGE + half, SHEET_WIDTH - EDGE - half);
        let at = [middle, self.cursor + 0.5 * LEADING * TEXT];
        self.canvas
            .words(&words, at, Side::Middle, Type::plain(TEXT, MUTED));
        self.cursor += LEADING * TEXT + 6.0;
        for (axis, scale) in [(&spec.x, &panel.x), (&spec.y, &panel.y)] {
            self.span(axis.words, scale, axis.data);
        }
    }

    /// Keeps what an axis covers for the checks.
    pub(crate) fn span(&mut self, words: &str, scale: &Scale, data: Option<(f64, f64)>) {
        let span = (scale.from, scale.to);
        self.canvas.axes.push(AxisSpan {
            words: words.to_owned(),
            span,
            data,
        });
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

    /// The drawing.
    pub(crate) fn finish(self) -> Result<Drawing, PlotError> {
        let height = self.cursor.max(self.canvas.lowest_label()) + EDGE;
        self.canvas.finish((SHEET_WIDTH, height), &self.title)
    }
}

/// The upright scale of a panel, not laid yet.
fn upright(spec: &PanelSpec) -> Scale {
    Scale::new(spec.y.data, spec.y.ends, (spec.height / 52.0).max(3.0))
}

/// Where a panel starts, right of the numbers of its upright axis.
pub(crate) fn left_of(spec: &PanelSpec) -> f64 {
    let y = upright(spec);
    let widths = y.ticks().into_iter();
    let widest = widths.map(|tick| text_width(&y.words(tick), SMALL, false));
    EDGE + widest.fold(0.0, f64::max) + 8.0
}

/// The level scale with as many numbers as have room.
pub(crate) fn spread(axis: &AxisSpec, left: f64, right: f64) -> Scale {
    let lay = |ticks: f64| Scale::new(axis.data, axis.ends, ticks).laid(left, right);
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

/// The level axis' numbers with their left and right ends, kept on the sheet.
fn level_rooms(x: &Scale) -> Vec<(String, f64, f64)> {
    let room = |tick: f64| {
        let words = x.words(tick);
        let width = text_width(&words, SMALL, false);
        let left = (x.at(tick) - width / 2.0).clamp(3.0, SHEET_WIDTH - 3.0 - width);
        (words, left, left + width)
    };
    x.ticks().into_iter().map(room).collect()
}

/// Level grid lines and their numbers to the left.
fn upright_numbers(canvas: &mut Canvas, panel: &Panel) {
    for tick in panel.y.ticks() {
        let y = panel.y.at(tick);
        canvas.stroke(
            &[[panel.rect.left, y], [panel.rect.right, y]],
            GRID,
            1.2,
            &[],
        );
        let at = [panel.rect.left - 8.0, y];
        canvas.words(
            &panel.y.words(tick),
            at,
            Side::End,
            Type::plain(SMALL, MUTED),
        );
    }
}

/// The level axis' line with its numbers below; returns where they end.
pub(crate) fn level_numbers(canvas: &mut Canvas, x: &Scale, rect: Rect) -> f64 {
    canvas.stroke(
        &[[rect.left, rect.bottom], [rect.right, rect.bottom]],
        RULE,
        1.6,
        &[],
    );
    let middle = rect.bottom + 20.0;
    for at in x.ticks().into_iter().map(|tick| x.at(tick)) {
        canvas.stroke(
            &[[at, rect.bottom], [at, rect.bottom + 6.0]],
            RULE,
            1.6,
            &[],
        );
    }
    let mut edge = 0.0;
    for (words, left, right) in level_rooms(x) {
        if left >= edge {
            canvas.words(
                &words,
                [left, middle],
                Side::Start,
                Type::plain(SMALL, MUTED),
            );
            edge = right + 6.0;
        }
    }
    middle + 12.0
}

/// A thin frame.
pub(crate) fn outline(canvas: &mut Canvas, rect: Rect) {
    let Rect {
        left,
        top,
        right,
        bottom,
    } = rect;
    let corners = [
        [left, top],
        [right, top],
        [right, bottom],
        [left, bottom],
        [left, top],
    ];
    canvas.stroke(&corners, RULE, 1.2, &[]);
}

/// Slanting lines over a rectangle, on its own ground.
pub(crate) fn hatch(canvas: &mut Canvas, rect: Rect, ground: super::style::Colour) {
    canvas.block(rect, ground);
    let line = super::style::blend(ground, super::style::RULE, 0.45);
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

/// Words in the middle of a panel that has nothing to show.
pub(crate) fn nothing(canvas: &mut Canvas, rect: Rect, words: &str) {
    canvas.block(Rect::around(rect.centre(), 10.0, 10.0), PAPER);
    canvas.words(words, rect.centre(), Side::Middle, Type::plain(TEXT, MUTED));
}
