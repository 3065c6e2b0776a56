//! Lines over one quantity, mostly engine speed: each named at its end, with marks where something
//! happens, limits, and bands of uncertainty.

use super::axis::{Axis, Ends, extent, show_points};
use super::canvas::{Canvas, Type};
use super::drawing::Drawing;
use super::end_names::{self, NAME_ROOM};
use super::error::PlotError;
use super::frame::{AxisSpec, Panel, PanelSpec, Sheet, nothing};
use super::geometry::{Point, Rect, distance, thin};
use super::jumps::{self, Connectors, Jump};
use super::marks;
use super::placing::{Placer, Wish};
use super::style::{ALARM, Colour, MUTED, PAPER, RULE, SERIES, SMALL, SeriesStyle, blend};

/// One line. A row without a value ends a piece; the next begins a new one.
#[derive(Debug, Clone, Default)]
pub struct Series {
    /// Its name, written at its end.
    pub name: String,
    /// Unbroken runs of points (x, y), SI.
    pub pieces: Vec<Vec<[f64; 2]>>,
    /// Where the line jumps: the end of one run and the start of the next, SI.
    pub connectors: Vec<[[f64; 2]; 2]>,
}

impl Series {
    /// A line from rows of which some have no value.
    pub fn from_rows(name: &str, rows: impl IntoIterator<Item = (f64, Option<f64>)>) -> Self {
        Self::with_jumps(name, rows, &[])
    }

    /// A line from rows of which some have no value, and that jumps between some neighbours.
    pub fn with_jumps(
        name: &str,
        rows: impl IntoIterator<Item = (f64, Option<f64>)>,
        jumps: &[Jump],
    ) -> Self {
        let mut pieces: Vec<Vec<[f64; 2]>> = vec![Vec::new()];
        let mut connectors = Vec::new();
        for (x, value) in rows {
            let before = pieces.last().and_then(|piece| piece.last()).copied();
            match (value, before) {
                (Some(y), Some(before)) if jumps::between(jumps, before[0], x) => {
                    connectors.push([before, [x, y]]);
                    pieces.push(vec![[x, y]]);
                }
                (Some(y), _) => pieces.last_mut().into_iter().for_each(|p| p.push([x, y])),
                (None, _) => pieces.push(Vec::new()),
            }
        }
        pieces.retain(|piece| !piece.is_empty());
        Self {
            name: name.to_owned(),
            pieces,
            connectors,
        }
    }
}

/// Something that happens at one place of the x axis, such as the hand-over.
#[derive(Debug, Clone)]
pub struct Event {
    /// Where, SI of the x axis.
    pub at: f64,
    /// What, in few words with the number.
    pub words: String,
}

/// A level that must not be passed.
#[derive(Debug, Clone)]
pub struct Limit {
    /// Where, SI of the y axis.
    pub at: f64,
    /// What, in few words with the number.
    pub words: String,
}

/// The room between two lines, such as an uncertainty.
#[derive(Debug, Clone, Default)]
pub struct Band {
    /// What it is.
    pub words: String,
    /// Its lower line, SI.
    pub lower: Vec<[f64; 2]>,
    /// Its upper line, SI.
    pub upper: Vec<[f64; 2]>,
}

/// Lines over one quantity.
#[derive(Debug, Clone)]
pub struct Curves<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// Where the data come from, or what to mind; may be empty.
    pub note: &'a str,
    /// The level axis.
    pub x: Axis<'a>,
    /// The upright axis.
    pub y: Axis<'a>,
    /// The lines, six at most.
    pub series: Vec<Series>,
    /// Marks, eight at most.
    pub events: Vec<Event>,
    /// Limits, six at most.
    pub limits: Vec<Limit>,
    /// Bands, below the lines, three at most.
    pub bands: Vec<Band>,
}

const MOST_EVENTS: usize = 8;
const MOST_LIMITS: usize = 6;
const MOST_BANDS: usize = 3;
const HEIGHT: f64 = 350.0;

/// A band's lower and upper line.
type Edges = (Vec<[f64; 2]>, Vec<[f64; 2]>);

/// The same in shown units, checked.
pub(crate) struct Shown {
    series: Vec<Vec<Vec<[f64; 2]>>>,
    /// For each line where it jumps.
    connectors: Vec<Vec<[[f64; 2]; 2]>>,
    pub events: Vec<(f64, String)>,
    limits: Vec<f64>,
    bands: Vec<Edges>,
}

impl Curves<'_> {
    /// Draws them.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        self.draw_as(&SERIES)
    }

    /// Draws them with looks of their own, as many as there may be lines.
    pub(crate) fn draw_as(&self, styles: &[SeriesStyle]) -> Result<Drawing, PlotError> {
        let shown = self.shown(styles.len())?;
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let spec = PanelSpec {
            x: AxisSpec {
                words: self.x.words,
                data: shown.extent(0),
                ends: Ends::Close,
            },
            y: AxisSpec {
                words: self.y.words,
                data: shown.extent(1),
                ends: Ends::Zero,
            },
            height: HEIGHT,
            right_room: if self.series.is_empty() {
                8.0
            } else {
                NAME_ROOM
            },
            both_grids: false,
            marks: &shown.events,
            least_left: 0.0,
            level_numbers: true,
        };
        let panel = sheet.panel(&spec);
        let left_out = self.fill(&mut sheet.canvas, &panel, &shown, styles);
        for words in left_out {
            sheet.note(words);
        }
        sheet.note(self.note);
        sheet.finish()
    }

    /// Its numbers in shown units.
    pub(crate) fn shown(&self, most_lines: usize) -> Result<Shown, PlotError> {
        for (what, count, most) in [
            ("lines", self.series.len(), most_lines),
            ("marks", self.events.len(), MOST_EVENTS),
            ("limits", self.limits.len(), MOST_LIMITS),
            ("bands", self.bands.len(), MOST_BANDS),
        ] {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        let points =
            |points: &Vec<[f64; 2]>, what: &str| show_points(points, &self.x, &self.y, what);
        let point = |[x, y]: [f64; 2], what: &str| -> Result<[f64; 2], PlotError> {
            Ok([self.x.show(x, what, 0)?, self.y.show(y, what, 0)?])
        };
        let series = self.series.iter().map(|one| {
            one.pieces
                .iter()
                .map(|piece| points(piece, &one.name))
                .collect::<Result<Vec<_>, _>>()
        });
        let connectors = self.series.iter().map(|one| {
            let ends = one.connectors.iter();
            ends.map(|&[from, to]| Ok([point(from, &one.name)?, point(to, &one.name)?]))
                .collect::<Result<Vec<_>, _>>()
        });
        let events = self.events.iter().enumerate();
        let limits = self.limits.iter().enumerate();
        let bands = self.bands.iter();
        Ok(Shown {
            series: series.collect::<Result<_, _>>()?,
            connectors: connectors.collect::<Result<_, _>>()?,
            events: events
                .map(|(place, one)| {
                    Ok((self.x.show(one.at, &one.words, place)?, one.words.clone()))
                })
                .collect::<Result<_, _>>()?,
            limits: limits
                .map(|(place, one)| self.y.show(one.at, &one.words, place))
                .collect::<Result<_, _>>()?,
            bands: bands
                .map(|one| {
                    Ok((
                        points(&one.lower, &one.words)?,
                        points(&one.upper, &one.words)?,
                    ))
                })
                .collect::<Result<_, _>>()?,
        })
    }

    /// Draws into the panel; returns the words for which it had no room.
    pub(crate) fn fill(
        &self,
        canvas: &mut Canvas,
        panel: &Panel,
        shown: &Shown,
        styles: &[SeriesStyle],
    ) -> Vec<&str> {
        let mut placer = Placer::new(panel.rect.grown(-2.0));
        for (lower, upper) in &shown.bands {
            let mut outline = panel.line(lower);
            outline.extend(panel.line(upper).into_iter().rev());
            canvas.fill(&outline, blend(PAPER, RULE, 0.35));
            for edge in [lower, upper] {
                placer.avoid(&panel.line(edge), 1.0);
            }
        }
        let uprights: Vec<f64> = shown
            .events
            .iter()
            .map(|event| panel.x.at(event.0))
            .collect();
        marks::lines(canvas, &uprights, panel.rect);
        for &x in &uprights {
            placer.avoid(&[[x, panel.rect.top], [x, panel.rect.bottom]], 1.0);
        }
        let levels: Vec<f64> = shown
            .limits
            .iter()
            .map(|&limit| panel.y.at(limit))
            .collect();
        for &y in &levels {
            let level = [[panel.rect.left, y], [panel.rect.right, y]];
            canvas.stroke(&level, ALARM, 2.6, &[2.0, 3.0]);
            placer.avoid(&level, 1.0);
        }
        let lines: Vec<Vec<Vec<Point>>> = shown
            .series
            .iter()
            .map(|pieces| {
                pieces
                    .iter()
                    .map(|piece| thin(&panel.line(piece), 0.4))
                    .collect()
            })
            .collect();
        end_names::write(canvas, panel.rect, &self.series, &lines, styles);
        let joints: Vec<(Connectors, Colour)> = shown
            .connectors
            .iter()
            .zip(styles)
            .map(|(ends, style)| {
                let ends = ends.iter();
                let ends = ends.map(|ends| ends.map(|end| panel.at(end))).collect();
                (ends, style.colour)
            })
            .collect();
        for (ends, colour) in &joints {
            jumps::connect(canvas, &mut placer, ends, *colour);
        }
        for (pieces, style) in lines.iter().zip(styles) {
            draw_series(canvas, &mut placer, pieces, style);
        }
        jumps::words(canvas, &mut placer, &joints);
        let is_empty = lines.iter().all(Vec::is_empty);
        if is_empty {
            // Where the words about it will stand.
            placer.take(Rect::around(panel.rect.centre(), 200.0, 30.0));
        }
        let mut left_out = self.limit_words(canvas, &mut placer, panel.rect, &levels);
        left_out.extend(self.band_words(canvas, &mut placer, panel, shown));
        if is_empty {
            nothing(canvas, panel.rect, "no point to draw");
        }
        left_out
    }

    fn limit_words(
        &self,
        canvas: &mut Canvas,
        placer: &mut Placer,
        rect: Rect,
        levels: &[f64],
    ) -> Vec<&str> {
        const WISH: Wish = Wish {
            directions: &[
                (1.0, -1.0),
                (0.0, -1.0),
                (-1.0, -1.0),
                (1.0, 1.0),
                (0.0, 1.0),
                (-1.0, 1.0),
            ],
            gaps: &[4.0],
            most: 1e9,
            order: 4.0,
            leader: false,
        };
        let mut left_out = Vec::new();
        for (limit, &y) in self.limits.iter().zip(levels) {
            let places: Vec<Point> = (0..=6)
                .map(|part| [rect.left + 4.0 + rect.width() * f64::from(part) / 6.0, y])
                .collect();
            if !placer.label(
                canvas,
                &limit.words,
                Type::plain(SMALL, ALARM),
                &places,
                &WISH,
            ) {
                left_out.push(limit.words.as_str());
            }
        }
        left_out
    }

    fn band_words(
        &self,
        canvas: &mut Canvas,
        placer: &mut Placer,
        panel: &Panel,
        shown: &Shown,
    ) -> Vec<&str> {
        const WISH: Wish = Wish {
            directions: &[
                (0.0, -1.0),
                (-1.0, -1.0),
                (1.0, 1.0),
                (0.0, 1.0),
                (1.0, 0.0),
                (-1.0, 0.0),
            ],
            gaps: &[4.0, 16.0, 40.0],
            most: 60.0,
            order: 4.0,
            leader: true,
        };
        let mut left_out = Vec::new();
        for (band, (lower, upper)) in self.bands.iter().zip(&shown.bands) {
            let places = spaced(&wide(&panel.line(lower), &panel.line(upper)), 40.0);
            if !placer.label(
                canvas,
                &band.words,
                Type::plain(SMALL, MUTED),
                &places,
                &WISH,
            ) {
                left_out.push(band.words.as_str());
            }
        }
        left_out
    }
}

impl Shown {
    /// Range of everything drawn along one axis (0 is x, 1 is y).
    pub(crate) fn extent(&self, axis: usize) -> Option<(f64, f64)> {
        let lines = self.series.iter().flatten().flatten();
        let bands = self
            .bands
            .iter()
            .flat_map(|(lower, upper)| lower.iter().chain(upper));
        let own = lines.chain(bands).map(|point| point[axis]);
        if axis == 0 {
            extent(own.chain(self.events.iter().map(|event| event.0)))
        } else {
            extent(own.chain(self.limits.iter().copied()))
        }
    }
}

/// Draws one series with markers that do not crowd, and keeps labels off it.
pub(crate) fn draw_series(
    canvas: &mut Canvas,
    placer: &mut Placer,
    pieces: &[Vec<Point>],
    style: &SeriesStyle,
) {
    for piece in pieces {
        canvas.stroke(piece, style.colour, style.width, style.dash);
        placer.avoid(piece, 1.0);
    }
    for at in pieces.iter().flat_map(|piece| spaced(piece, 42.0)) {
        canvas.marker(at, style.marker, style.colour, 4.6);
        placer.avoid_marker(at, 6.0);
    }
}

/// The points of a band's upper line where it is at least half as high as anywhere: elsewhere its
/// name would point at nothing.
fn wide(lower: &[Point], upper: &[Point]) -> Vec<Point> {
    let heights = || lower.iter().zip(upper).map(|(low, high)| low[1] - high[1]);
    let highest = heights().fold(0.0, f64::max);
    let points = upper.iter().zip(heights());
    points
        .filter(|(_, height)| *height >= 0.5 * highest)
        .map(|(point, _)| *point)
        .collect()
}

/// The line's points that are at least `gap` apart.
pub(crate) fn spaced(points: &[Point], gap: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for &point in points {
        if kept.iter().all(|&other| distance(other, point) >= gap) {
            kept.push(point);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_is_named_where_it_is_wide() {
        let lower = [[0.0, 100.0], [1.0, 90.0], [2.0, 50.0]];
        let upper = [[0.0, 80.0], [1.0, 50.0], [2.0, 50.0]];
        assert_eq!(wide(&lower, &upper), [[0.0, 80.0], [1.0, 50.0]]);
    }

    #[test]
    fn a_jump_ends_a_piece_and_leaves_a_connector() {
        let rows = [(1.0, 1.0), (2.0, 2.0), (2.01, 5.0), (3.0, 6.0)].map(|(x, y)| (x, Some(y)));
        let series = Series::with_jumps("x", rows, &[(2.0, 2.01)]);
        let pieces = [vec![[1.0, 1.0], [2.0, 2.0]], vec![[2.01, 5.0], [3.0, 6.0]]];
        assert_eq!(series.pieces, pieces);
        assert_eq!(series.connectors, [[[2.0, 2.0], [2.01, 5.0]]]);
    }

    #[test]
    fn a_row_without_a_value_breaks_the_line() {
        let series = Series::from_rows("x", [(1.0, Some(2.0)), (2.0, None), (3.0, Some(4.0))]);
        assert_eq!(series.pieces, [vec![[1.0, 2.0]], vec![[3.0, 4.0]]]);
    }
}
