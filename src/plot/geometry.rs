//! Points, rectangles and polylines on the sheet; y grows downwards.

/// A place on the sheet or in the data: x, y.
pub(crate) type Point = [f64; 2];

/// An upright rectangle on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Left edge, sheet units.
    pub left: f64,
    /// Upper edge, sheet units.
    pub top: f64,
    /// Right edge, sheet units.
    pub right: f64,
    /// Lower edge, sheet units.
    pub bottom: f64,
}

impl Rect {
    /// The rectangle of this width and height around a centre.
    pub(crate) fn around(centre: Point, width: f64, height: f64) -> Self {
        Self {
            left: centre[0] - width / 2.0,
            top: centre[1] - height / 2.0,
            right: centre[0] + width / 2.0,
            bottom: centre[1] + height / 2.0,
        }
    }

    /// Width, sheet units.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height, sheet units.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn centre(&self) -> Point {
        [
            f64::midpoint(self.left, self.right),
            f64::midpoint(self.top, self.bottom),
        ]
    }

    /// Whether the two share more than an edge.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether `other` lies wholly inside.
    pub fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.top <= other.top
            && other.bottom <= self.bottom
    }

    /// The corners in turn, from the upper left to the right.
    pub(crate) fn corners(&self) -> [Point; 4] {
        let Self {
            left,
            top,
            right,
            bottom,
        } = *self;
        [[left, top], [right, top], [right, bottom], [left, bottom]]
    }

    pub(crate) fn grown(&self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// The point of the rectangle that is nearest to `from`.
    pub(crate) fn nearest(&self, from: Point) -> Point {
        [
            from[0].clamp(self.left, self.right),
            from[1].clamp(self.top, self.bottom),
        ]
    }

    /// Length of the piece of a-b inside the rectangle (Liang–Barsky clipping).
    pub(crate) fn crossed(&self, a: Point, b: Point) -> f64 {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (step, room) in [
            (-dx, a[0] - self.left),
            (dx, self.right - a[0]),
            (-dy, a[1] - self.top),
            (dy, self.bottom - a[1]),
        ] {
            if step.abs() < 1e-12 {
                if room < 0.0 {
                    return 0.0;
                }
            } else if step < 0.0 {
                enter = enter.max(room / step);
            } else {
                leave = leave.min(room / step);
            }
        }
        (leave - enter).max(0.0) * dx.hypot(dy)
    }
}

/// Distance between two points.
pub(crate) fn distance(a: Point, b: Point) -> f64 {
    (b[0] - a[0]).hypot(b[1] - a[1])
}

/// Whether two straight pieces cross (each has the other's ends on both sides).
pub(crate) fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| {
        (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// Most points that a drawn line keeps.
const MOST_POINTS: usize = 4000;

/// The line without points nearer than `gap` to the one kept before; both ends stay.
///
/// A line that is still too long (a scribble that fills the sheet) keeps, of each run of neighbours,
/// the highest and the lowest point: its outline.
pub(crate) fn thin(points: &[Point], gap: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for &point in points {
        if kept.last().is_none_or(|&last| distance(last, point) >= gap) {
            kept.push(point);
        }
    }
    if let (Some(&end), Some(&last)) = (points.last(), kept.last())
        && distance(end, last) > 0.0
    {
        kept.push(end);
    }
    if kept.len() <= MOST_POINTS {
        return kept;
    }
    let run = kept.len().div_ceil(MOST_POINTS / 2);
    let mut outline: Vec<Point> = kept.chunks(run).flat_map(extremes).collect();
    outline.extend(kept.last());
    outline
}

/// The highest and the lowest point of a run, in the order in which they stand.
fn extremes(run: &[Point]) -> Vec<Point> {
    let by_height = |&a: &usize, &b: &usize| run[a][1].total_cmp(&run[b][1]);
    let low = (0..run.len()).min_by(by_height);
    let high = (0..run.len()).max_by(by_height);
    let mut places: Vec<usize> = low.into_iter().chain(high).collect();
    places.sort_unstable();
    places.dedup();
    places.into_iter().map(|place| run[place]).collect()
}

/// The strokes of a dashed line: `pattern` is on, off, on, off, … in sheet units.
pub(crate) fn dashes(points: &[Point], pattern: &[f64]) -> Vec<Vec<Point>> {
    let mut strokes = Vec::new();
    let Some(&start) = points.first() else {
        return strokes;
    };
    let (mut place, mut left) = (0, pattern[0]);
    let mut stroke = vec![start];
    for pair in points.windows(2) {
        let mut from = pair[0];
        loop {
            let length = distance(from, pair[1]);
            if length <= left {
                left -= length;
                stroke.push(pair[1]);
                break;
            }
            let share = left / length;
            from = [
                from[0] + share * (pair[1][0] - from[0]),
                from[1] + share * (pair[1][1] - from[1]),
            ];
            stroke.push(from);
            if place % 2 == 0 {
                strokes.push(std::mem::take(&mut stroke));
            }
            stroke = vec![from];
            place = (place + 1) % pattern.len();
            left = pattern[place];
        }
    }
    if place % 2 == 0 && stroke.len() > 1 {
        strokes.push(stroke);
    }
    strokes
}

/// Whether a point lies inside a closed outline (even–odd rule).
pub(crate) fn inside(point: Point, outline: &[Point]) -> bool {
    let mut inside = false;
    let ends = outline.iter().cycle().skip(1);
    for (a, b) in outline.iter().zip(ends) {
        let spans = (a[1] > point[1]) != (b[1] > point[1]);
        if spans && point[0] < a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
            inside = !inside;
        }
    }
    inside
}

/// The point at a share (0 to 1) of the line's length.
pub(crate) fn along(points: &[Point], share: f64) -> Option<Point> {
    let total: f64 = points
        .windows(2)
        .map(|pair| distance(pair[0], pair[1]))
        .sum();
    let mut left = share.clamp(0.0, 1.0) * total;
    for pair in points.windows(2) {
        let length = distance(pair[0], pair[1]);
        if left <= length && length > 0.0 {
            let t = left / length;
            return Some([
                pair[0][0] + t * (pair[1][0] - pair[0][0]),
                pair[0][1] + t * (pair[1][1] - pair[0][1]),
            ]);
        }
        left -= length;
    }
    points.last().copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: Rect = Rect {
        left: 0.0,
        top: 0.0,
        right: 10.0,
        bottom: 10.0,
    };

    #[test]
    fn a_line_through_a_box_is_measured_inside_it_only() {
        assert!((SQUARE.crossed([-5.0, 5.0], [15.0, 5.0]) - 10.0).abs() < 1e-12);
        assert!((SQUARE.crossed([2.0, 2.0], [2.0, 6.0]) - 4.0).abs() < 1e-12);
        assert!(SQUARE.crossed([-5.0, -1.0], [15.0, -1.0]) < 1e-12);
        assert!(SQUARE.crossed([20.0, 0.0], [20.0, 10.0]) < 1e-12);
    }

    #[test]
    fn boxes_that_share_an_edge_do_not_overlap() {
        let neighbour = Rect {
            left: 10.0,
            top: 0.0,
            right: 20.0,
            bottom: 10.0,
        };
        assert!(!SQUARE.overlaps(&neighbour));
        assert!(SQUARE.overlaps(&neighbour.grown(0.1)));
    }

    #[test]
    fn a_scribble_of_a_million_points_keeps_its_ends_and_its_outline() {
        let points: Vec<Point> = (0..1_000_000_u32)
            .map(|i| [f64::from(i) * 5e-4, if i % 2 == 0 { 0.0 } else { 300.0 }])
            .collect();
        let kept = thin(&points, 0.4);
        assert!(kept.len() <= MOST_POINTS + 1, "{}", kept.len());
        assert_eq!(kept.first(), points.first());
        assert_eq!(kept.last(), points.last());
        assert!(kept.iter().any(|p| p[1] > 299.0) && kept.iter().any(|p| p[1] < 1.0));
    }

    #[test]
    fn dashes_cover_their_share_of_the_line() {
        let strokes = dashes(&[[0.0, 0.0], [30.0, 0.0], [30.0, 70.0]], &[6.0, 4.0]);
        let drawn: f64 = strokes
            .iter()
            .flat_map(|s| s.windows(2))
            .map(|p| distance(p[0], p[1]))
            .sum();
        assert!((drawn - 60.0).abs() < 1e-9, "{drawn}");
    }

    #[test]
    fn a_line_of_equal_points_gives_no_dash_and_does_not_hang() {
        assert!(dashes(&[], &[6.0, 4.0]).is_empty());
        assert_eq!(dashes(&[[1.0, 1.0], [1.0, 1.0]], &[6.0, 4.0]).len(), 1);
    }
}
