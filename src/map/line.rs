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

/// The quantities that a line carries, as columns of its knots.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineQuantity {
    /// Corrected flow, kg/s.
    Flow,
    /// Isentropic head over cp T_ref.
    Head,
    /// Isentropic efficiency.
    Efficiency,
}

/// A place on a line found once: the interval between two points and the way into it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Locus {
    interval: usize,
    along: f64,
}

/// The coefficients of a cubic in the way into its interval, lowest power first.
type Cubic = [f64; 4];

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

/// A speed line; see the module's text.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    speed: f64,
    largest_head: f64,
    points: Vec<Point>,
    place: Vec<f64>,
    /// Flow, head and efficiency between each point and the next.
    pieces: Vec<[Cubic; 3]>,
    /// Speed to the powers 0, 1 and 2, and their reciprocals.
    powers: [(f64, f64); 3],
    /// Size of each quantity over speed, to tell small slopes from large.
    units: [f64; 3],
}

impl Line {
    /// Through points in running order; flows must not fall, and the first must rise.
    ///
    /// `knee` is the place that an upright end is to begin at; see [`common_knee`].
    pub fn new(speed: f64, points: Vec<Point>, knee: Option<f64>) -> Self {
        let (parameter, place) = running_coordinate(&points, knee);
        let column = |of: fn(&Point) -> f64| points.iter().map(of).collect::<Vec<f64>>();
        let flow = column(|p| p.flow);
        let head = column(|p| p.head);
        let efficiency = column(|p| p.efficiency);
        let along = monotone::free_slopes(&parameter, &place);
        let slopes = |y: &[f64], overshoot: f64| {
            let raw = monotone::free_slopes(&parameter, y);
            let mut slopes: Vec<f64> = raw.iter().zip(&along).map(|(dy, dt)| dy / dt).collect();
            monotone::limit_slopes(&place, y, &mut slopes, overshoot);
            slopes
        };
        let mut flow_slope = slopes(&flow, 0.0);
        // The continuation towards zero flow needs a way to go: a fifth of the secant at least.
        let first_secant = (flow[1] - flow[0]) / (place[1] - place[0]);
        flow_slope[0] = flow_slope[0].max(0.2 * first_secant);
        let head_slope = slopes(&head, 0.0);
        let efficiency_slope = slopes(&efficiency, EFFICIENCY_OVERSHOOT);
        let columns = [
            (&flow, &flow_slope),
            (&head, &head_slope),
            (&efficiency, &efficiency_slope),
        ];
        let piece = |i: usize| {
            let width = place[i + 1] - place[i];
            columns.map(|(y, s)| cubic((y[i], y[i + 1]), (s[i], s[i + 1]), width))
        };
        let pieces = (0..points.len() - 1).map(piece).collect();
        let largest_head = head.iter().fold(0.0_f64, |a, b| a.max(*b));
        let powers = [1.0, speed, speed * speed].map(|power| (power, power.recip()));
        let choke_flow = flow[flow.len() - 1];
        let units = [choke_flow, largest_head, 1.0].map(|size| size * powers[1].1);
        Self {
            speed,
            largest_head,
            points,
            place,
            pieces,
            powers,
            units,
        }
    }

    /// Speed to a power (0, 1 or 2) and its reciprocal.
    pub fn power(&self, power: usize) -> (f64, f64) {
        self.powers[power]
    }

    /// Size of a quantity on the line over its speed: choke flow, largest head, an efficiency of 1.
    pub fn unit(&self, quantity: LineQuantity) -> f64 {
        self.units[quantity as usize]
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

    /// Finds a place in 0..1.
    pub fn locate(&self, place: f64) -> Locus {
        // Counted rather than searched: a dozen comparisons without a branch.
        let inner = &self.place[1..self.place.len() - 1];
        let interval = inner
            .iter()
            .map(|knot| usize::from(*knot <= place))
            .sum::<usize>();
        Locus {
            interval,
            along: place - self.place[interval],
        }
    }

    /// Value and slope of one quantity at a place that was found.
    #[inline]
    pub fn at(&self, quantity: LineQuantity, Locus { interval, along }: &Locus) -> Dual {
        let [a, b, c, d] = self.pieces[*interval][quantity as usize];
        Dual::new(
            a + along * (b + along * (c + along * d)),
            b + along * (2.0 * c + along * (3.0 * d)),
        )
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

/// The cubic with the values `y` and slopes `s` at the ends of an interval.
fn cubic((y0, y1): (f64, f64), (s0, s1): (f64, f64), width: f64) -> Cubic {
    let secant = (y1 - y0) / width;
    [
        y0,
        s0,
        (3.0 * secant - 2.0 * s0 - s1) / width,
        (s0 + s1 - 2.0 * secant) / (width * width),
    ]
}

/// The place at which the upright ends of all lines begin, if every line has one: their mean.
///
/// Put at one place, upright ends blend across speed into upright ends. Otherwise one line would
/// still gain flow where the next already stands, and the blend could lean backwards.
pub fn common_knee(lines: &[Vec<Point>]) -> Option<f64> {
    let place = |points: &Vec<Point>| {
        let knee = knee_index(points)?;
        Some(running_coordinate(points, None).1[knee])
    };
    let sum: Option<f64> = lines.iter().map(place).sum();
    sum.map(|sum| sum / lines.len() as f64)
}

/// Index of the first point of an upright end.
fn knee_index(points: &[Point]) -> Option<usize> {
    let choke = points[points.len() - 1].flow;
    let knee = points.partition_point(|p| p.flow < choke);
    (knee + 1 < points.len()).then_some(knee)
}

/// Parameter and place of each point: sums of the root of the chords, and of the chords themselves
/// over the whole length, the two sides of a `knee` each scaled to its share.
///
/// Slopes are taken along the root of the chord (the centripetal parameter of Lee, Computer-Aided
/// Design 21, 1989): it bends less between chords of unequal length. It never turns the end slope of
/// place negative: with d the root of a chord, the end parabola gives d0 + (d0 - d1) d0/(d0 + d1) > 0.
fn running_coordinate(points: &[Point], knee: Option<f64>) -> (Vec<f64>, Vec<f64>) {
    let range = |of: fn(&Point) -> f64| {
        let ends = points
            .iter()
            .map(of)
            .fold((f64::MAX, f64::MIN), |(low, high), v| {
                (low.min(v), high.max(v))
            });
        (ends.1 - ends.0).max(1e-9 * ends.1.abs())
    };
    let flow_range = range(|p| p.flow);
    let ratio_range = range(|p| p.pressure_ratio);
    let chord = |pair: &[Point]| {
        let flow = (pair[1].flow - pair[0].flow) / flow_range;
        let ratio = (pair[1].pressure_ratio - pair[0].pressure_ratio) / ratio_range;
        flow.hypot(ratio)
    };
    let mut chords: Vec<f64> = points.windows(2).map(chord).collect();
    let all = chords.len();
    let (before, share) = knee_index(points).zip(knee).unwrap_or((all, 1.0));
    for (part, share) in [(0..before, share), (before..all, 1.0 - share)] {
        let length: f64 = chords[part.clone()].iter().sum();
        chords[part]
            .iter_mut()
            .for_each(|chord| *chord *= share / length);
    }
    let sums = |of: fn(f64) -> f64| {
        let sum = |sum: &mut f64, chord: &f64| {
            *sum += of(*chord);
            Some(*sum)
        };
        std::iter::once(0.0)
            .chain(chords.iter().scan(0.0, sum))
            .collect::<Vec<f64>>()
    };
    let mut place = sums(|chord| chord);
    // Both to the last bit, so that all lines agree in them.
    place[before] = share;
    place[all] = 1.0;
    (sums(f64::sqrt), place)
}
