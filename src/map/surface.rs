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

use super::across::{Across, Field, share_changed};
use super::line::{Line, LineQuantity};
use crate::numeric::dual::Dual;

/// Length in places over which a slope levels out beyond an edge.
const LEVEL: f64 = 0.25;
/// The smallest efficiency that is divided by.
const LEAST_EFFICIENCY: f64 = 1e-4;

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
pub struct SurfacePoint {
    /// Corrected flow, kg/s.
    pub flow: f64,
    /// Isentropic head over cp T_ref.
    pub head: f64,
    /// Work over cp T_ref.
    pub work: f64,
    /// Isentropic efficiency; 0 where the ratio is 1 or less.
    pub efficiency: f64,
}

/// All quantities of a spot within the data's places, with their gradients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointWithGradients {
    /// Corrected flow, kg/s.
    pub flow: Gradient,
    /// Isentropic head over cp T_ref.
    pub head: Gradient,
    /// Isentropic efficiency.
    pub efficiency: Gradient,
}

impl PointWithGradients {
    /// What stands a short step in speed (rpm) and place away.
    pub fn carried(&self, speed_step: f64, place_step: f64) -> SurfacePoint {
        let carry = |at: &Gradient| at.value + at.by_speed * speed_step + at.by_place * place_step;
        let head = carry(&self.head);
        let efficiency = carry(&self.efficiency).clamp(LEAST_EFFICIENCY, 1.0);
        SurfacePoint {
            flow: carry(&self.flow),
            head,
            work: head / efficiency,
            efficiency,
        }
    }
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

    /// Flow at a speed, rpm (not negative), and any place.
    pub fn flow(&self, speed: f64, place: f64) -> Gradient {
        let edge = Across::new(&self.lines, speed, place.clamp(0.0, 1.0));
        flow(&edge.field(LineQuantity::Flow), place)
    }

    /// Head over cp T_ref at a speed, rpm (not negative), and any place.
    pub fn head(&self, speed: f64, place: f64) -> Gradient {
        let edge = Across::new(&self.lines, speed, place.clamp(0.0, 1.0));
        head(&edge.field(LineQuantity::Head), place, self.fall(speed))
    }

    /// Flow and head at a speed, rpm (not negative), and any place.
    pub fn flow_and_head(&self, speed: f64, place: f64) -> (Gradient, Gradient) {
        let edge = Across::new(&self.lines, speed, place.clamp(0.0, 1.0));
        let flow = flow(&edge.field(LineQuantity::Flow), place);
        (
            flow,
            head(&edge.field(LineQuantity::Head), place, self.fall(speed)),
        )
    }

    /// Everything with its gradients at a speed, rpm (not negative), and a place within 0..1.
    pub fn within(&self, speed: f64, place: f64) -> PointWithGradients {
        let edge = Across::new(&self.lines, speed, place);
        let of = |quantity| Gradient::from(&edge.field(quantity));
        PointWithGradients {
            flow: of(LineQuantity::Flow),
            head: of(LineQuantity::Head),
            efficiency: of(LineQuantity::Efficiency),
        }
    }

    /// Everything at a speed, rpm (not negative), and any place.
    pub fn at(&self, speed: f64, place: f64) -> SurfacePoint {
        let edge = Across::new(&self.lines, speed, place.clamp(0.0, 1.0));
        let edge_flow = edge.field(LineQuantity::Flow);
        let edge_head = edge.field(LineQuantity::Head);
        let edge_efficiency = edge.field(LineQuantity::Efficiency);
        let head = head(&edge_head, place, self.fall(speed)).value;
        let (work, efficiency) = work(&edge_head, &edge_efficiency, place, head);
        SurfacePoint {
            flow: flow(&edge_flow, place).value,
            head,
            work,
            efficiency,
        }
    }

    /// Size of the fall of head beyond choke at a speed, and its derivative by speed.
    fn fall(&self, speed: f64) -> (f64, f64) {
        (self.head_size * speed * speed, 2.0 * self.head_size * speed)
    }

    /// Place beyond choke where the flow is reached, from the edge at place 1.
    pub fn place_beyond_choke(edge: Gradient, flow: f64) -> f64 {
        // m x²/2 + m' x - (flow - m) = 0, the root that is not negative.
        let (m, slope) = (edge.value, edge.by_place.max(0.0));
        let over = (flow - m).max(0.0);
        let root = (slope * slope + 2.0 * m * over).sqrt();
        1.0 + if over > 0.0 {
            2.0 * over / (slope + root)
        } else {
            0.0
        }
    }

    /// Place beyond surge where the flow is reached, from the edge at place 0.
    pub fn place_beyond_surge(edge: Gradient, flow: f64) -> f64 {
        let m = edge.value;
        (1.0 - m / flow) * m / surge_slope(m, edge.by_place)
    }

    /// Place beyond surge where the head is reached, if the continuation gets there before -1.
    pub fn head_place_beyond_surge(edge: Gradient, head: f64) -> Option<f64> {
        if edge.by_place >= 0.0 {
            return None;
        }
        let levelled = (edge.value - head) / edge.by_place;
        let x = levelled / (1.0 - levelled / LEVEL);
        (levelled < LEVEL && x <= 1.0).then_some(-x)
    }
}

/// Slope of flow along place that the continuation beyond surge may start with.
fn surge_slope(flow: f64, slope: f64) -> f64 {
    slope.max(0.05 * flow)
}

/// a/b where b is positive, else 0: at rest everything vanishes together.
fn over(a: f64, b: f64) -> f64 {
    if b > 0.0 { a / b } else { 0.0 }
}

/// e^x for a fall, 1 for a rise: what is left of a positive value that keeps falling.
fn left_of(change: f64) -> f64 {
    change.min(0.0).exp()
}

/// Flow from its value and slopes at the nearest place within 0..1.
fn flow(edge: &Field, place: f64) -> Gradient {
    let at = Gradient::from(edge);
    if place < 0.0 {
        let x = -place;
        let slope = surge_slope(at.value, at.by_place);
        let ratio = 1.0 / (1.0 + over(slope, at.value) * x);
        let sum_by_speed = at.by_speed + edge.by_speed.slope * x;
        return Gradient {
            value: at.value * ratio,
            by_place: slope * ratio * ratio,
            by_speed: ratio * (2.0 * at.by_speed - ratio * sum_by_speed),
        };
    }
    if place > 1.0 {
        let x = place - 1.0;
        let square = 1.0 + 0.5 * x * x;
        // Lines of very unlike shape can blend into a flow that falls towards the edge.
        let slope = at.by_place.max(0.0);
        return Gradient {
            value: at.value * square + slope * x,
            by_place: at.value * x + slope,
            by_speed: at.by_speed * square + edge.by_speed.slope * x,
        };
    }
    at
}

/// Head from its value and slopes at the nearest place within 0..1; `fall` scales its fall.
fn head(edge: &Field, place: f64, (size, size_by_speed): (f64, f64)) -> Gradient {
    if place < 0.0 {
        return surge_head(edge, -place);
    }
    let at = Gradient::from(edge);
    if place > 1.0 {
        let x = place - 1.0;
        let fall = 0.5 * x * x + 0.25 * x.powi(4);
        return Gradient {
            value: at.value + at.by_place * x - size * fall,
            by_place: at.by_place - size * (x + x.powi(3)),
            by_speed: at.by_speed + edge.by_speed.slope * x - size_by_speed * fall,
        };
    }
    at
}

/// Head beyond surge: on with its slope, levelling out; a fall never reaches 0.
fn surge_head(edge: &Field, x: f64) -> Gradient {
    let head = Gradient::from(edge);
    let room = 1.0 + x / LEVEL;
    let levelled = x / room;
    let fall = head.by_place * levelled;
    if fall <= 0.0 {
        return Gradient {
            value: head.value - fall,
            by_place: head.by_place / (room * room),
            by_speed: head.by_speed - edge.by_speed.slope * levelled,
        };
    }
    let relative = over(fall, head.value);
    let left = left_of(-relative);
    Gradient {
        value: head.value * left,
        by_place: head.by_place * left / (room * room),
        by_speed: left * (head.by_speed * (1.0 + relative) - edge.by_speed.slope * levelled),
    }
}

/// Work over cp T_ref and efficiency, from the edge and the head at the place itself.
fn work(edge_head: &Field, edge_efficiency: &Field, place: f64, head: f64) -> (f64, f64) {
    let eta = edge_efficiency.value.value.clamp(LEAST_EFFICIENCY, 1.0);
    let eta_slope = edge_efficiency.value.slope;
    if place < 0.0 {
        let change = Dual::constant(eta_slope * place / (1.0 - place / LEVEL));
        let eta = share_changed(Dual::constant(eta), change)
            .0
            .value
            .max(LEAST_EFFICIENCY);
        return (head / eta, eta);
    }
    if place > 1.0 {
        let x = place - 1.0;
        let edge = edge_head.value.value / eta;
        let slope = (edge_head.value.slope - edge * eta_slope) / eta;
        let change = slope * x / (1.0 + x / LEVEL);
        let risen = edge + change;
        let work = if change > 0.0 {
            risen
        } else {
            edge * left_of(over(change, edge))
        };
        return (work, over(head, work).clamp(0.0, 1.0));
    }
    (head / eta, eta)
}
