//! Finding room for words: never on other words, off the lines where there is a way.

use super::canvas::{Canvas, Side, Type};
use super::geometry::{Point, Rect, cross, distance, thin};
use super::style::{Colour, MUTED};
use super::text::{clean, fit};

/// What stands on a part of the sheet already.
#[derive(Debug)]
pub(crate) struct Placer {
    bounds: Rect,
    taken: Vec<Rect>,
    lines: Vec<(Point, Point, f64)>,
}

/// A label this near to its point needs no leader.
const NEAR: f64 = 14.0;
const LEADER: Colour = MUTED;
/// Free edge around every label.
const GAP: f64 = 2.5;

impl Placer {
    pub(crate) fn new(bounds: Rect) -> Self {
        Self {
            bounds,
            taken: Vec::new(),
            lines: Vec::new(),
        }
    }

    /// A place that no words may cover.
    pub(crate) fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// A line that words should leave free; `weight` is the cost of a covered unit of length.
    pub(crate) fn avoid(&mut self, points: &[Point], weight: f64) {
        let line = thin(points, 2.0);
        let pieces = line.windows(2);
        self.lines
            .extend(pieces.map(|pair| (pair[0], pair[1], weight)));
    }

    /// A marker that words should leave free.
    pub(crate) fn avoid_marker(&mut self, at: Point, radius: f64) {
        let [x, y] = at;
        self.avoid(&[[x - radius, y - radius], [x + radius, y + radius]], 6.0);
        self.avoid(&[[x + radius, y - radius], [x - radius, y + radius]], 6.0);
    }

    /// Cost of words in this box: none where they may not stand.
    fn cost(&self, room: &Rect) -> Option<f64> {
        let wide = room.grown(GAP);
        if !self.bounds.holds(room) || self.taken.iter().any(|taken| taken.overlaps(&wide)) {
            return None;
        }
        Some(
            self.lines
                .iter()
                .map(|(a, b, weight)| weight * wide.crossed(*a, *b))
                .sum(),
        )
    }

    /// How many heavy lines and words a leader from the point to the box would cross, the lines at the
    /// point itself left aside.
    fn leader_crossings(&self, point: Point, room: &Rect) -> usize {
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
        let heavy = self.lines.iter().filter(|line| line.2 >= 3.0);
        let lines = heavy.filter(|(a, b, _)| cross((*a, *b), (from, end)));
        let words = self
            .taken
            .iter()
            .filter(|taken| taken.crossed(from, end) > 0.0);
        lines.count() + words.count()
    }

    /// The cheapest of the boxes (each with what it costs in itself), if one costs at most `most`.
    fn best(&self, boxes: impl Iterator<Item = (Rect, f64)>, most: f64) -> Option<Rect> {
        let mut best: Option<(Rect, f64)> = None;
        for (room, own) in boxes {
            let dearest = best.map_or(most, |(_, cost)| cost);
            if own < dearest
                && let Some(cost) = self.cost(&room).map(|cost| cost + own)
                && cost < dearest
            {
                best = Some((room, cost));
            }
        }
        best.map(|(room, _)| room)
    }

    /// Writes words near one of the points, the first being the most wanted, and returns whether
    /// there was room. Far from its point a label gets a leader.
    pub(crate) fn label(
        &mut self,
        canvas: &mut Canvas,
        words: &str,
        face: Type,
        points: &[Point],
        wish: &Wish,
    ) -> bool {
        let words = fit(
            &clean(words),
            face.size,
            face.bold,
            self.bounds.width() * 0.7,
        );
        let size = face.room(&words, [0.0, 0.0], Side::Middle);
        let boxes = points.iter().enumerate().flat_map(|(place, &point)| {
            let late = wish.order * place as f64;
            around(point, (size.width(), size.height()), wish)
                .map(move |(room, own)| (room, own + late, point))
        });
        let boxes = boxes.map(|(room, own, point)| {
            let crossings = if wish.leader {
                self.leader_crossings(point, &room)
            } else {
                0
            };
            (room, own + 15.0 * crossings as f64, point)
        });
        let boxes: Vec<(Rect, f64, Point)> = boxes.collect();
        let Some(room) = self.best(boxes.iter().map(|&(room, own, _)| (room, own)), wish.most)
        else {
            return false;
        };
        let point = boxes.iter().find(|one| one.0 == room).map(|one| one.2);
        if let Some(point) = point
            && wish.leader
        {
            let end = room.grown(1.0).nearest(point);
            if distance(point, end) > NEAR {
                canvas.stroke(&[point, end], LEADER, 1.3, &[]);
            }
        }
        canvas.words(&words, room.centre(), Side::Middle, face);
        self.take(room);
        true
    }
}

/// Where a label would like to stand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wish {
    /// Directions from the point, the best first: x to the right, y downwards, -1 to 1.
    pub directions: &'static [(f64, f64)],
    /// Distances tried, from the point to the box.
    pub gaps: &'static [f64],
    /// The most that the place may cost (about the length of covered line); dearer means no label.
    pub most: f64,
    /// What each step down the list of points costs: 0 where all are equally good.
    pub order: f64,
    /// Whether a far label is joined to its point.
    pub leader: bool,
}

/// All boxes of a size around a point, each with what it costs in itself.
fn around(
    point: Point,
    (width, height): (f64, f64),
    wish: &Wish,
) -> impl Iterator<Item = (Rect, f64)> {
    let wish = *wish;
    wish.gaps.iter().flat_map(move |&gap| {
        wish.directions
            .iter()
            .enumerate()
            .map(move |(place, &(x, y))| {
                let centre = [
                    point[0] + x * (width / 2.0 + gap),
                    point[1] + y * (height / 2.0 + gap),
                ];
                (
                    Rect::around(centre, width, height),
                    3.0 * place as f64 + 0.8 * gap,
                )
            })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOUNDS: Rect = Rect {
        left: 0.0,
        top: 0.0,
        right: 200.0,
        bottom: 100.0,
    };
    const WISH: Wish = Wish {
        directions: &[(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)],
        gaps: &[4.0, 20.0],
        most: 1e9,
        order: 4.0,
        leader: true,
    };

    #[test]
    fn labels_of_one_point_move_apart_until_there_is_no_room() {
        let mut placer = Placer::new(BOUNDS);
        let mut canvas = Canvas::default();
        let face = Type::plain(16.0, (0, 0, 0));
        let written = (0..30)
            .filter(|_| placer.label(&mut canvas, "2,000", face, &[[100.0, 50.0]], &WISH))
            .count();
        assert!((3..30).contains(&written), "{written}");
        let rooms: Vec<Rect> = canvas.labels.iter().map(|label| label.room).collect();
        for (place, room) in rooms.iter().enumerate() {
            assert!(BOUNDS.holds(room));
            assert!(rooms[place + 1..].iter().all(|other| !other.overlaps(room)));
        }
    }

    #[test]
    fn a_label_leaves_a_line_free_when_it_can() {
        let mut placer = Placer::new(BOUNDS);
        placer.avoid(&[[100.0, 50.0], [200.0, 50.0]], 1.0);
        let mut canvas = Canvas::default();
        placer.label(
            &mut canvas,
            "2,000",
            Type::plain(16.0, (0, 0, 0)),
            &[[100.0, 50.0]],
            &WISH,
        );
        assert!(canvas.labels[0].room.right <= 100.0);
    }
}
