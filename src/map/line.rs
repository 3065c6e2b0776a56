//! One speed line of a compressor along its running coordinate.
//!
//! The coordinate is the length of the line in flow and pressure ratio, each scaled to the line's
//! own range, from 0 at surge to 1 at choke: it serves lines that lie flat, turn over or stand
//! upright alike. Flow and head are monotone cubics of it where the data are; efficiency may leave
//! the range of two neighbouring points by [`EFFICIENCY_OVERSHOOT`].

use crate::numeric::dual::Dual;
use crate::numeric::monotone;

/// What the curve of efficiency may overshoot along a line, and again across lines.
pub const EFFICIENCY_OVERSHOOT: f64 = 0.0025;

/// The three quantities a map knows at a place, each with its slope along the line.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Triple {
    /// Corrected flow, kg/s.
    pub flow: Dual,
    /// Isentropic head over cp T_ref.
    pub head: Dual,
    /// Isentropic efficiency.
    pub efficiency: Dual,
}

/// A data point on a line, in the running order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Corrected flow, kg/s.
    pub flow: f64,
    /// Pressure ratio.
    pub pressure_ratio: f64,
    /// Isentropic head over cp T_ref.
    pub head: f64,
    /// Isentropic efficiency.
    pub efficiency: f64,
    /// Index of the row it came from.
    pub row: usize,
}

/// A knot of the three cubics: values and slopes.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    flow: Dual,
    head: Dual,
    efficiency: Dual,
}

/// A speed line; see the module's text.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    speed: f64,
    largest_head: f64,
    points: Vec<Point>,
    place: Vec<f64>,
    knots: Vec<Knot>,
}

impl Line {
    /// Through points in running order; flows must not fall, and the first must rise.
    pub fn new(speed: f64, points: Vec<Point>) -> Self {
        let place = running_coordinate(&points);
        let column = |of: fn(&Point) -> f64| points.iter().map(of).collect::<Vec<f64>>();
        let flow = column(|p| p.flow);
        let head = column(|p| p.head);
        let efficiency = column(|p| p.efficiency);
        let mut flow_slope = monotone::slopes(&place, &flow, 0.0);
        // The continuation towards zero flow needs a way to go: a fifth of the secant at least.
        let first_secant = (flow[1] - flow[0]) / (place[1] - place[0]);
        flow_slope[0] = flow_slope[0].max(0.2 * first_secant);
        let head_slope = monotone::slopes(&place, &head, 0.0);
        let efficiency_slope = monotone::slopes(&place, &efficiency, EFFICIENCY_OVERSHOOT);
        let knots = (0..points.len())
            .map(|i| Knot {
                flow: Dual::new(flow[i], flow_slope[i]),
                head: Dual::new(head[i], head_slope[i]),
                efficiency: Dual::new(efficiency[i], efficiency_slope[i]),
            })
            .collect();
        let largest_head = head.iter().fold(0.0_f64, |a, b| a.max(*b));
        Self {
            speed,
            largest_head,
            points,
            place,
            knots,
        }
    }

    /// Corrected speed, rpm.
    pub fn speed(&self) -> f64 {
        self.speed
    }

    /// Flow at the choke end, kg/s.
    pub fn choke_flow(&self) -> f64 {
        self.points[self.points.len() - 1].flow
    }

    /// The largest head of the data, over cp T_ref.
    pub fn largest_head(&self) -> f64 {
        self.largest_head
    }

    /// The data points from surge to choke.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The running coordinate of each data point.
    pub fn places(&self) -> &[f64] {
        &self.place
    }

    /// Flow, head and efficiency at a place in 0..1.
    pub fn at(&self, place: f64) -> Triple {
        let i = monotone::segment(&self.place, place);
        let (a, b) = (&self.knots[i], &self.knots[i + 1]);
        let width = self.place[i + 1] - self.place[i];
        let u = (place - self.place[i]) / width;
        let cubic = |a: Dual, b: Dual| {
            let (value, slope) = monotone::hermite(a.value, b.value, a.slope, b.slope, width, u);
            Dual::new(value, slope)
        };
        Triple {
            flow: cubic(a.flow, b.flow),
            head: cubic(a.head, b.head),
            efficiency: cubic(a.efficiency, b.efficiency),
        }
    }

    /// Head straight between the points, at a place in 0..1.
    pub fn head_near(&self, place: f64) -> f64 {
        let i = monotone::segment(&self.place, place);
        let share = (place - self.place[i]) / (self.place[i + 1] - self.place[i]);
        self.points[i].head + share * (self.points[i + 1].head - self.points[i].head)
    }

    /// Whether the head of the points rises to one peak at most and falls from there.
    pub fn is_single_peaked(&self) -> bool {
        let mut falling = false;
        self.points.windows(2).all(|pair| {
            let falls = pair[1].head < pair[0].head;
            let peaked_again = falling && !falls;
            falling = falls;
            !peaked_again
        })
    }

    /// First guess of the place with this flow (straight between the points), in 0..1.
    pub fn guess_at_flow(&self, flow: f64) -> f64 {
        let after = self.points.partition_point(|p| p.flow < flow);
        self.guess(after, |p| p.flow, flow)
    }

    /// First guess of the choke-most place with this head (straight between the points), in 0..1.
    pub fn guess_at_head(&self, head: f64) -> f64 {
        let before = self.points.iter().rposition(|p| p.head >= head);
        self.guess(before.map_or(0, |i| i + 1), |p| p.head, head)
    }

    /// Straight between the points before and at `after`.
    fn guess(&self, after: usize, of: fn(&Point) -> f64, wanted: f64) -> f64 {
        if after == 0 {
            return 0.0;
        }
        if after == self.points.len() {
            return 1.0;
        }
        let (a, b) = (of(&self.points[after - 1]), of(&self.points[after]));
        let share = if (b - a).abs() > 0.0 {
            (wanted - a) / (b - a)
        } else {
            1.0
        };
        let from = self.place[after - 1];
        if share >= 1.0 {
            return self.place[after];
        }
        from + share.max(0.0) * (self.place[after] - from)
    }
}

/// Length along the line up to each point, over the whole length.
fn running_coordinate(points: &[Point]) -> Vec<f64> {
    let range = |of: fn(&Point) -> f64| {
        let (low, high) = points
            .iter()
            .map(of)
            .fold((f64::MAX, f64::MIN), |(low, high), v| {
                (low.min(v), high.max(v))
            });
        (high - low).max(1e-9 * high.abs())
    };
    let flow_range = range(|p| p.flow);
    let ratio_range = range(|p| p.pressure_ratio);
    let mut length = 0.0;
    let mut along = vec![0.0];
    for pair in points.windows(2) {
        let flow = (pair[1].flow - pair[0].flow) / flow_range;
        let ratio = (pair[1].pressure_ratio - pair[0].pressure_ratio) / ratio_range;
        length += flow.hypot(ratio);
        along.push(length);
    }
    for value in &mut along {
        *value /= length;
    }
    along
}
