//! Labels: every layer hands its words here, and all find their places together.
//!
//! A label never lies on another label or a firm line and never leaves its bounds. Lines that only help
//! to read off may be covered, at a cost. The most wanted labels choose first; one without room is
//! not written, and its layer hears of it.

use super::canvas::{Canvas, Side, Type};
use super::geometry::{Point, Rect, cross, distance, thin};
use super::style::MUTED;
use super::text::fit;
use super::towards::Towards;

/// One label that wants a place.
#[derive(Debug, Clone)]
pub(crate) struct Label {
    pub words: String,
    pub face: Type,
    /// Points that it may stand at, the most wanted first.
    pub places: Vec<Point>,
    pub wish: Wish,
    /// The lower, the earlier it chooses.
    pub rank: u8,
    /// Where the same words stand already no farther off than this (x, y), it is not written again.
    pub once_within: (f64, f64),
    /// What stands below the drawing in its place where it has no room; without it nothing.
    pub note: Option<String>,
}

/// Where a label would like to stand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wish {
    /// Directions from the point, the best first.
    pub directions: &'static [Towards],
    /// Distances tried, from the point to the box.
    pub gaps: &'static [f64],
    /// The most that the place may cost (about the length of covered line); dearer means no label.
    pub most: f64,
    /// What each step down the list of points costs: 0 where all are equally good.
    pub order: f64,
    /// Whether a far label is joined to its point.
    pub leader: bool,
}

/// What stands on a part of the sheet already.
#[derive(Debug)]
pub(crate) struct Placer {
    bounds: Rect,
    taken: Vec<Rect>,
    firm: Vec<(Point, Point)>,
    soft: Vec<(Point, Point)>,
    written: Vec<(String, Point)>,
    /// The points that labels belong to.
    points: Vec<Point>,
}

/// A label this near to its point needs no leader.
const NEAR: f64 = 14.0;
/// Free edge around every label.
const GAP: f64 = 2.5;
/// What a leader over a line or a label costs, and a place nearer to another label's point.
const CROSSING: f64 = 15.0;
const MISTAKEN: f64 = 40.0;

impl Placer {
    pub(crate) fn new(bounds: Rect) -> Self {
        Self {
            bounds,
            taken: Vec::new(),
            firm: Vec::new(),
            soft: Vec::new(),
            written: Vec::new(),
            points: Vec::new(),
        }
    }

    /// A line that no label may cover.
    pub(crate) fn keep_off(&mut self, points: &[Point]) {
        let line = thin(points, 2.0);
        self.firm
            .extend(line.windows(2).map(|pair| (pair[0], pair[1])));
    }

    /// A line that labels had better leave free.
    pub(crate) fn avoid(&mut self, points: &[Point]) {
        let line = thin(points, 2.0);
        self.soft
            .extend(line.windows(2).map(|pair| (pair[0], pair[1])));
    }

    /// Writes all labels that find room, the lowest ranks first; returns the notes of those that do not.
    pub(crate) fn write(&mut self, canvas: &mut Canvas, mut labels: Vec<Label>) -> Vec<String> {
        labels.sort_by_key(|label| label.rank);
        let alone = labels.iter().filter(|label| label.places.len() == 1);
        self.points = alone.map(|label| label.places[0]).collect();
        let mut left_out = Vec::new();
        for label in labels {
            if !self.label(canvas, &label) {
                left_out.extend(label.note);
            }
        }
        left_out
    }

    /// Writes one label where it costs least; returns whether it stands there, or stood near already.
    fn label(&mut self, canvas: &mut Canvas, label: &Label) -> bool {
        let face = label.face;
        let words = fit(
            &label.words,
            face.size,
            face.bold,
            self.bounds.width() * 0.7,
        );
        let Some(&first) = label.places.first().filter(|_| !words.is_empty()) else {
            return true;
        };
        if self.is_written(&words, first, label.once_within) {
            return true;
        }
        let size = face.room(&words, [0.0, 0.0], Side::Middle);
        let Some((room, point)) = self.cheapest(label, (size.width(), size.height())) else {
            return false;
        };
        let end = room.grown(1.0).nearest(point);
        if label.wish.leader && distance(point, end) > NEAR {
            canvas.stroke(&[point, end], MUTED, 1.3, &[]);
            self.keep_off(&[point, end]);
        }
        canvas.words(&words, room.centre(), Side::Middle, face);
        self.taken.push(room);
        self.written.push((words, first));
        true
    }

    fn is_written(&self, words: &str, at: Point, (x, y): (f64, f64)) -> bool {
        let near = |other: Point| (other[0] - at[0]).abs() < x && (other[1] - at[1]).abs() < y;
        let mut written = self.written.iter();
        written.any(|(other, place)| other == words && near(*place))
    }

    /// The cheapest box of a size near one of the label's points, with that point.
    fn cheapest(&self, label: &Label, size: (f64, f64)) -> Option<(Rect, Point)> {
        let wish = label.wish;
        let mut best: Option<(Rect, Point)> = None;
        let mut least = wish.most;
        for (place, &point) in label.places.iter().enumerate() {
            let late = wish.order * place as f64;
            for (room, own) in around(point, size, &wish) {
                let own = own + late;
                // Most boxes are dearer before anything is looked at.
                if own >= least {
                    continue;
                }
                let Some(cost) = self.cost(&room) else {
                    continue;
                };
                let mut cost = own + cost;
                if wish.leader {
                    cost += CROSSING * self.crossings(point, &room) as f64;
                }
                if self.is_mistaken(point, &room) {
                    cost += MISTAKEN;
                }
                if cost < least {
                    least = cost;
                    best = Some((room, point));
                }
            }
        }
        best
    }

    /// Cost of a label in this box: none where it may not stand.
    fn cost(&self, room: &Rect) -> Option<f64> {
        let wide = room.grown(GAP);
        let covers = |&(a, b): &(Point, Point)| wide.crossed(a, b) > 0.0;
        if !self.bounds.holds(room)
            || self.taken.iter().any(|taken| taken.overlaps(&wide))
            || self.firm.iter().any(covers)
        {
            return None;
        }
        Some(self.soft.iter().map(|&(a, b)| wide.crossed(a, b)).sum())
    }

    /// Whether a label there would be taken for that of another point.
    fn is_mistaken(&self, point: Point, room: &Rect) -> bool {
        let away = |from: Point| distance(from, room.nearest(from));
        let own = away(point);
        let mut others = self
            .points
            .iter()
            .filter(|&&other| distance(other, point) > 1.0);
        self.points.contains(&point) && others.any(|&other| away(other) < own + 2.0)
    }

    /// How many firm lines and labels a leader from the point to the box would cross, the lines at the
    /// point itself left aside.
    fn crossings(&self, point: Point, room: &Rect) -> usize {
        let end = room.nearest(point);
        let length = distance(point, end);
        if length <= NEAR {
            return 0;
        }
        let start = 9.0 / length;
        let from = [
            point[0] + start * (end[0] - point[0]),
            point[1] + start * (end[1] - point[1]),
        ];
        let lines = self.firm.iter().filter(|line| cross(**line, (from, end)));
        let taken = self.taken.iter();
        lines.count() + taken.filter(|one| one.crossed(from, end) > 0.0).count()
    }
}

/// All boxes of a size around a point, each with what it costs in itself.
fn around(
    point: Point,
    (width, height): (f64, f64),
    wish: &Wish,
) -> impl Iterator<Item = (Rect, f64)> {
    let Wish {
        directions, gaps, ..
    } = *wish;
    gaps.iter().flat_map(move |&gap| {
        let boxes = directions.iter().enumerate();
        boxes.map(move |(place, &(x, y))| {
            let centre = [
                point[0] + x * (width / 2.0 + gap),
                point[1] + y * (height / 2.0 + gap),
            ];
            let room = Rect::around(centre, width, height);
            (room, 3.0 * place as f64 + 0.8 * gap)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::towards;

    const BOUNDS: Rect = Rect {
        left: 0.0,
        top: 0.0,
        right: 200.0,
        bottom: 100.0,
    };

    fn label(words: &str) -> Label {
        Label {
            words: words.to_owned(),
            face: Type::plain(16.0, (0, 0, 0)),
            places: vec![[100.0, 50.0]],
            wish: Wish {
                directions: &[towards::E, towards::W, towards::S, towards::N],
                gaps: &[4.0, 20.0],
                most: 1e9,
                order: 4.0,
                leader: true,
            },
            rank: 0,
            once_within: (0.0, 0.0),
            note: Some(words.to_owned()),
        }
    }

    #[test]
    fn labels_of_one_point_move_apart_until_there_is_no_room() {
        let mut canvas = Canvas::default();
        let left_out = Placer::new(BOUNDS).write(&mut canvas, vec![label("2,000"); 30]);
        let written = canvas.labels.len();
        assert!((3..30).contains(&written), "{written}");
        assert_eq!(left_out.len(), 30 - written);
        let rooms: Vec<Rect> = canvas.labels.iter().map(|label| label.room).collect();
        for (place, room) in rooms.iter().enumerate() {
            assert!(BOUNDS.holds(room));
            assert!(rooms[place + 1..].iter().all(|other| !other.overlaps(room)));
        }
    }

    #[test]
    fn a_label_leaves_a_line_free_and_where_it_cannot_it_is_not_written() {
        let mut placer = Placer::new(BOUNDS);
        placer.keep_off(&[[100.0, 50.0], [200.0, 50.0]]);
        let mut canvas = Canvas::default();
        placer.write(&mut canvas, vec![label("2,000")]);
        assert!(canvas.labels[0].room.right <= 100.0);
        let mut placer = Placer::new(BOUNDS);
        for row in 0..20_u32 {
            let y = 5.0 * f64::from(row);
            placer.keep_off(&[[0.0, y], [200.0, y]]);
        }
        assert_eq!(placer.write(&mut canvas, vec![label("x")]), ["x"]);
    }

    #[test]
    fn the_lowest_rank_chooses_first_and_equal_words_stand_once() {
        let mut canvas = Canvas::default();
        let late = Label {
            rank: 1,
            ..label("late")
        };
        let twice = Label {
            once_within: (20.0, 20.0),
            ..label("first")
        };
        Placer::new(BOUNDS).write(&mut canvas, vec![late, label("first"), twice]);
        let words: Vec<&str> = canvas.labels.iter().map(|one| one.words.as_str()).collect();
        assert_eq!(words, ["first", "late"]);
    }
}
