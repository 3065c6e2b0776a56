//! Layers: what a frame shows, as plain numbers in SI. A drawing is a list of them.

use super::error::PlotError;
use super::jumps::{self, Jump};
use super::scale::{Axis, Span, extent};
use super::style::Meaning;

/// One thing that a frame shows.
#[derive(Debug, Clone)]
pub enum Layer {
    /// A line, such as boost over engine speed.
    Line(Line),
    /// The room between two lines, such as a stacked amount or a band.
    Area(Area),
    /// Points of a line, marked and named.
    Points(Points),
    /// A level that must not be passed.
    Limit(Mark),
    /// Something that happens at one place of the level axis, such as the hand-over.
    Event(Mark),
    /// The outline of what the data cover; all else is hatched.
    Covered(Vec<[f64; 2]>),
    /// Regions inside each other, the outermost first.
    Contours(Vec<Contour>),
}

/// Where a line's or an area's name stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Naming {
    /// Right of the frame, at its end.
    End,
    /// Elsewhere, such as in the legend.
    Elsewhere,
    /// Inside the frame, at its last point or else its first.
    Tip,
    /// Inside the frame, at its left or upper side.
    Left,
    /// Inside the frame, at its right or lower side.
    Right,
    /// Inside the frame, on whichever side is free; where none is, below the drawing.
    Beside,
}

/// A line. A row without a value ends a piece; the next begins a new one.
#[derive(Debug, Clone)]
pub struct Line {
    /// Its name.
    pub name: String,
    /// What it says, which gives its look.
    pub meaning: Meaning,
    /// Where its name stands.
    pub naming: Naming,
    /// Whether its points are marked along the way.
    pub has_markers: bool,
    /// Unbroken runs of points (x, y), SI.
    pub pieces: Vec<Vec<[f64; 2]>>,
    /// Where the line jumps: the end of one run and the start of the next, SI.
    pub connectors: Vec<[[f64; 2]; 2]>,
}

impl Line {
    /// A line named at its end, from rows of which some have no value and that jumps between some
    /// neighbours.
    pub fn from_rows(
        name: &str,
        meaning: Meaning,
        rows: impl IntoIterator<Item = (f64, Option<f64>)>,
        jumps: &[Jump],
    ) -> Self {
        let mut line = Self {
            has_markers: true,
            ..Self::plain(name, meaning, Naming::End, Vec::new())
        };
        line.pieces = vec![Vec::new()];
        for (x, value) in rows {
            let before = line.pieces.last().and_then(|piece| piece.last()).copied();
            match (value, before) {
                (Some(y), Some(before)) if jumps::between(jumps, before[0], x) => {
                    line.connectors.push([before, [x, y]]);
                    line.pieces.push(vec![[x, y]]);
                }
                (Some(y), _) => line
                    .pieces
                    .last_mut()
                    .into_iter()
                    .for_each(|p| p.push([x, y])),
                (None, _) => line.pieces.push(Vec::new()),
            }
        }
        line.pieces.retain(|piece| !piece.is_empty());
        line
    }

    /// One unbroken line without markers.
    pub fn plain(name: &str, meaning: Meaning, naming: Naming, points: Vec<[f64; 2]>) -> Self {
        Self {
            name: name.to_owned(),
            meaning,
            naming,
            has_markers: false,
            pieces: vec![points],
            connectors: Vec::new(),
        }
    }
}

/// The room between two lines, in unbroken pieces.
#[derive(Debug, Clone)]
pub struct Area {
    /// Its name.
    pub name: String,
    /// What it says, which gives its ground.
    pub meaning: Meaning,
    /// Where its name stands.
    pub naming: Naming,
    /// The lower and the upper line of each piece, SI.
    pub pieces: Vec<[Vec<[f64; 2]>; 2]>,
}

/// Points that are marked, some of them named.
#[derive(Debug, Clone)]
pub struct Points {
    /// What they say, which gives their look.
    pub meaning: Meaning,
    /// How far apart on the sheet they are marked at least; one that stands out or lies outside is
    /// always marked.
    pub gap: f64,
    /// How far apart on the sheet they are named at least.
    pub name_gap: f64,
    /// The points in order.
    pub points: Vec<Point>,
}

/// A point that is marked.
#[derive(Debug, Clone)]
pub struct Point {
    /// Where, SI.
    pub at: [f64; 2],
    /// Its name; may be empty.
    pub words: String,
    /// What it is.
    pub kind: PointKind,
}

/// What a marked point is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PointKind {
    /// One of many.
    Plain,
    /// The one that matters.
    StandsOut,
    /// One that no data cover.
    Outside,
}

/// A level or an upright through the whole frame.
#[derive(Debug, Clone)]
pub struct Mark {
    /// Where, SI of its axis.
    pub at: f64,
    /// What, in few words with the number.
    pub words: String,
}

/// The region above one level.
#[derive(Debug, Clone)]
pub struct Contour {
    /// The level.
    pub level: f64,
    /// The level in words: `76 %`.
    pub label: String,
    /// Closed outlines, SI.
    pub rings: Vec<Vec<[f64; 2]>>,
}

impl Layer {
    /// The same in shown units, or the first value that cannot be drawn.
    pub(crate) fn shown(&self, x: &Axis, y: &Axis) -> Result<Self, PlotError> {
        let mut shown = self.clone();
        match &mut shown {
            Self::Limit(mark) => mark.at = y.show(mark.at, &mark.words, 0)?,
            Self::Event(mark) => mark.at = x.show(mark.at, &mark.words, 0)?,
            Self::Contours(contours) => {
                if let Some(bad) = contours.iter().find(|one| !one.level.is_finite()) {
                    let what = bad.label.clone();
                    return Err(PlotError::NotFinite { what, place: 1 });
                }
            }
            _ => {}
        }
        for (what, points) in shown.lists() {
            for (place, point) in points.iter_mut().enumerate() {
                *point = [
                    x.show(point[0], what, place)?,
                    y.show(point[1], what, place)?,
                ];
            }
        }
        Ok(shown)
    }

    /// Range along one axis (0 is level, 1 upright) of what is drawn.
    pub(crate) fn extent(&mut self, axis: usize) -> Span {
        match self {
            Self::Limit(mark) => (axis == 1).then_some((mark.at, mark.at)),
            Self::Event(mark) => (axis == 0).then_some((mark.at, mark.at)),
            _ => {
                let lists = self.lists();
                extent(
                    lists
                        .iter()
                        .flat_map(|(_, points)| points.iter().map(|point| point[axis])),
                )
            }
        }
    }

    /// All its points, each list with the name of the data.
    fn lists(&mut self) -> Vec<(&str, &mut [[f64; 2]])> {
        match self {
            Self::Line(line) => {
                let pieces = line.pieces.iter_mut().map(Vec::as_mut_slice);
                let ends = line.connectors.iter_mut().map(<[_; 2]>::as_mut_slice);
                pieces
                    .chain(ends)
                    .map(|list| (line.name.as_str(), list))
                    .collect()
            }
            Self::Area(area) => {
                let edges = area.pieces.iter_mut().flatten();
                edges
                    .map(|list| (area.name.as_str(), list.as_mut_slice()))
                    .collect()
            }
            Self::Points(all) => {
                let points = all.points.iter_mut();
                let one =
                    points.map(|point| (point.words.as_str(), std::slice::from_mut(&mut point.at)));
                one.collect()
            }
            Self::Covered(outline) => vec![("edge of the data", outline.as_mut_slice())],
            Self::Contours(contours) => contours
                .iter_mut()
                .flat_map(|one| {
                    let label = one.label.as_str();
                    one.rings
                        .iter_mut()
                        .map(move |ring| (label, ring.as_mut_slice()))
                })
                .collect(),
            Self::Limit(_) | Self::Event(_) => Vec::new(),
        }
    }

    /// Of which kind it is, and how many of that kind a reader can tell apart in one frame.
    pub(crate) fn kind(&self) -> (&'static str, usize) {
        match self {
            Self::Line(line) if line.meaning.is_help() => ("speed lines", 62),
            Self::Line(_) => ("lines", 6),
            Self::Area(area) if area.meaning == Meaning::Spread => ("bands", 3),
            Self::Area(_) => ("areas", 4),
            Self::Limit(_) => ("limits", 6),
            Self::Event(_) => ("marks", 8),
            Self::Points(_) => ("rows of points", 6),
            Self::Covered(_) | Self::Contours(_) => ("maps", 2),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jump_ends_a_piece_and_leaves_a_connector() {
        let rows = [(1.0, 1.0), (2.0, 2.0), (2.01, 5.0), (3.0, 6.0)].map(|(x, y)| (x, Some(y)));
        let line = Line::from_rows("x", Meaning::Together, rows, &[(2.0, 2.01)]);
        let pieces = [vec![[1.0, 1.0], [2.0, 2.0]], vec![[2.01, 5.0], [3.0, 6.0]]];
        assert_eq!(line.pieces, pieces);
        assert_eq!(line.connectors, [[[2.0, 2.0], [2.01, 5.0]]]);
    }

    #[test]
    fn a_row_without_a_value_breaks_the_line() {
        let rows = [(1.0, Some(2.0)), (2.0, None), (3.0, Some(4.0))];
        let line = Line::from_rows("x", Meaning::Together, rows, &[]);
        assert_eq!(line.pieces, [vec![[1.0, 2.0]], vec![[3.0, 4.0]]]);
    }
}
