//! The whole map as a surface over speed and place, continued beyond surge and choke.
//!
//! Place runs from 0 at surge to 1 at choke and on to either side. The continuations start with the
//! value and slope of the edge, so that the surface is smooth across it; they are a way on, not
//! physics of stall or of a choked throat:
//!
//! - Beyond surge (x = -place): flow falls towards 0 as m/(1 + m' x/m); head and efficiency keep
//!   their slope and level out.
//! - Beyond choke (x = place - 1): m (1 + x²/2) + m' x and h + h' x - H (x²/2 + x⁴/4), H the largest
//!   head of the slowest line carried to the speed. Far out head falls with the square of flow, so
//!   that at rest the machine is a plain resistance. Work keeps its slope and levels out, since
//!   efficiency has no meaning where the ratio falls to 1.

use super::across::{self, Field};
use super::line::Line;

/// Length in places over which a slope levels out beyond an edge.
const LEVEL: f64 = 0.25;
/// The smallest efficiency a continuation goes to.
const LEAST_EFFICIENCY: f64 = 0.05;
/// The smallest share of its edge value that head (surge) or work (choke) goes to.
const LEAST_SHARE: f64 = 0.1;

/// A value with its derivatives along place and speed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Gradient {
    /// The value.
    pub value: f64,
    /// Its derivative with respect to place.
    pub by_place: f64,
    /// Its derivative with respect to speed, per rpm.
    pub by_speed: f64,
}

/// What the surface gives at a speed and place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spot {
    /// Corrected flow, kg/s.
    pub flow: Gradient,
    /// Isentropic head over cp T_ref.
    pub head: Gradient,
    /// Work over cp T_ref.
    pub work: f64,
    /// Isentropic efficiency; 0 where the ratio is 1 or less.
    pub efficiency: f64,
}

/// Speed lines and what joins them.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    lines: Vec<Line>,
    /// Largest head of the slowest line over its speed squared.
    head_size: f64,
    single_peaked: bool,
}

impl From<&Field> for Gradient {
    fn from(field: &Field) -> Self {
        Self {
            value: field.value.value,
            by_place: field.value.slope,
            by_speed: field.by_speed.value,
        }
    }
}

impl Surface {
    /// Over at least one line, slowest first.
    pub fn new(lines: Vec<Line>) -> Self {
        let slowest = &lines[0];
        let head_size = slowest.largest_head() / slowest.speed().powi(2);
        let single_peaked = lines.iter().all(Line::is_single_peaked);
        Self {
            lines,
            head_size,
            single_peaked,
        }
    }

    /// Whether every line's head has one peak at most.
    pub fn single_peaked(&self) -> bool {
        self.single_peaked
    }

    /// The speed lines, slowest first.
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// Lowest and highest speed of the data, rpm.
    pub fn speeds(&self) -> (f64, f64) {
        (
            self.lines[0].speed(),
            self.lines[self.lines.len() - 1].speed(),
        )
    }

    /// The surface at a speed, rpm (not negative), and any place.
    pub fn at(&self, speed: f64, place: f64) -> Spot {
        let edge = across::at(&self.lines, speed, place.clamp(0.0, 1.0));
        if place < 0.0 {
            return beyond_surge(&edge, -place);
        }
        if place > 1.0 {
            let size = self.head_size * speed * speed;
            let size_slope = 2.0 * self.head_size * speed;
            return beyond_choke(&edge, place - 1.0, size, size_slope);
        }
        let efficiency = edge.efficiency.value.value.clamp(LEAST_EFFICIENCY, 1.0);
        let head = Gradient::from(&edge.head);
        Spot {
            flow: Gradient::from(&edge.flow),
            head,
            work: head.value / efficiency,
            efficiency,
        }
    }

    /// Place beyond choke where the flow is reached, from the edge at place 1.
    pub fn place_beyond_choke(edge: &Spot, flow: f64) -> f64 {
        // m x²/2 + m' x - (flow - m) = 0, the root that is not negative.
        let (m, slope) = (edge.flow.value, edge.flow.by_place.max(0.0));
        let over = (flow - m).max(0.0);
        let root = (slope * slope + 2.0 * m * over).sqrt();
        1.0 + if over > 0.0 {
            2.0 * over / (slope + root)
        } else {
            0.0
        }
    }

    /// Place beyond surge where the flow is reached, from the edge at place 0.
    pub fn place_beyond_surge(edge: &Spot, flow: f64) -> f64 {
        let m = edge.flow.value;
        (1.0 - m / flow) * m / surge_slope(m, edge.flow.by_place)
    }

    /// Place beyond surge where the head is reached, if the continuation gets there before -1.
    pub fn head_place_beyond_surge(edge: &Spot, head: f64) -> Option<f64> {
        if edge.head.by_place >= 0.0 {
            return None;
        }
        let levelled = (edge.head.value - head) / edge.head.by_place;
        let x = levelled / (1.0 - levelled / LEVEL);
        (levelled < LEVEL && x <= 1.0).then_some(-x)
    }
}

/// Slope of flow along place that the continuation beyond surge may start with.
fn surge_slope(flow: f64, slope: f64) -> f64 {
    slope.max(0.05 * flow)
}

fn beyond_surge(edge: &across::State, x: f64) -> Spot {
    let flow = Gradient::from(&edge.flow);
    let slope = surge_slope(flow.value, flow.by_place);
    let sum = flow.value + slope * x;
    let ratio = flow.value / sum;
    let sum_by_speed = flow.by_speed + edge.flow.by_speed.slope * x;
    let head = Gradient::from(&edge.head);
    let room = 1.0 + x / LEVEL;
    let levelled = x / room;
    let least = LEAST_SHARE * head.value;
    let efficiency = edge.efficiency.value.value - edge.efficiency.value.slope * levelled;
    let efficiency = efficiency.clamp(LEAST_EFFICIENCY, 1.0);
    let head = Gradient {
        value: (head.value - head.by_place * levelled).max(least),
        by_place: head.by_place / (room * room),
        by_speed: head.by_speed - edge.head.by_speed.slope * levelled,
    };
    Spot {
        flow: Gradient {
            value: flow.value * ratio,
            by_place: slope * ratio * ratio,
            by_speed: ratio * (2.0 * flow.by_speed - ratio * sum_by_speed),
        },
        head,
        work: head.value / efficiency,
        efficiency,
    }
}

fn beyond_choke(edge: &across::State, x: f64, size: f64, size_slope: f64) -> Spot {
    let flow = Gradient::from(&edge.flow);
    let head = Gradient::from(&edge.head);
    let (square, fall) = (0.5 * x * x, 0.5 * x * x + 0.25 * x.powi(4));
    let eta = edge.efficiency.value.value.clamp(LEAST_EFFICIENCY, 1.0);
    let edge_work = head.value / eta;
    let work_slope = (head.by_place - edge_work * edge.efficiency.value.slope) / eta;
    let work = (edge_work + work_slope * x / (1.0 + x / LEVEL)).max(LEAST_SHARE * edge_work);
    let head = Gradient {
        value: head.value + head.by_place * x - size * fall,
        by_place: head.by_place - size * (x + x.powi(3)),
        by_speed: head.by_speed + edge.head.by_speed.slope * x - size_slope * fall,
    };
    let efficiency = if work > 0.0 {
        (head.value / work).clamp(0.0, 1.0)
    } else {
        0.0
    };
    Spot {
        flow: Gradient {
            value: flow.value * (1.0 + square) + flow.by_place * x,
            by_place: flow.value * x + flow.by_place,
            by_speed: flow.by_speed * (1.0 + square) + edge.flow.by_speed.slope * x,
        },
        head,
        work,
        efficiency,
    }
}
