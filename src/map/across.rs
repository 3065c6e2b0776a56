//! Across the speed lines at one place: cubics in speed, blended by similarity.
//!
//! At equal place flow grows nearly with speed and head with its square, so slopes are taken of
//! flow/N and head/N² and turned back into slopes of flow and head. What is exactly similar is
//! reproduced exactly. Slopes are then limited softly where the data rise or fall in one direction;
//! efficiency is bounded in its overshoot only.
//!
//! Below the slowest line: similarity, value/N^k constant, joined with its slope. Above the fastest:
//! the slope of value/N^k dies away over a tenth of the speed ([`FADE`]), then similarity.

use super::line::{EFFICIENCY_OVERSHOOT, Line, Triple};
use crate::numeric::dual::Dual;
use crate::numeric::monotone::{end_point, hermite, leaning, limited_softly, slack};

/// Share of the end line's speed over which a slope that is not similarity dies away.
const FADE: f64 = 0.1;
/// Share of the quantity over its speed below which a difference of secants counts as none.
const LEAN: f64 = 0.05;
/// Share of the similarity slope below which a monotone bound closes smoothly.
const EASE: f64 = 0.05;

/// A value at a speed with all its derivatives: `value` and `by_speed` carry the slope along the line.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Field {
    /// The value and its derivative with respect to place.
    pub value: Dual,
    /// Its derivative with respect to speed, and the mixed one.
    pub by_speed: Dual,
}

/// The three quantities at a speed and place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct State {
    /// Corrected flow, kg/s.
    pub flow: Field,
    /// Isentropic head over cp T_ref.
    pub head: Field,
    /// Isentropic efficiency.
    pub efficiency: Field,
}

/// How one quantity goes across speed.
#[derive(Debug, Clone, Copy)]
struct Law {
    /// Power of speed it is similar to.
    power: i32,
    /// What it may overshoot by.
    overshoot: f64,
}

const FLOW: Law = Law {
    power: 1,
    overshoot: 0.0,
};
const HEAD: Law = Law {
    power: 2,
    overshoot: 0.0,
};
const EFFICIENCY: Law = Law {
    power: 0,
    overshoot: EFFICIENCY_OVERSHOOT,
};

/// What a line says at the place, and the size of its flow and head.
#[derive(Debug, Clone, Copy, Default)]
struct Station {
    speed: f64,
    flow_size: f64,
    head_size: f64,
    at: Triple,
}

/// Up to six lines around an interval of speed, which runs from number 2 to number 3.
#[derive(Debug, Clone, Copy)]
struct Window {
    stations: [Station; 6],
    first: usize,
    last: usize,
}

impl Window {
    /// Around the interval from line `slower` to the next.
    fn around(lines: &[Line], slower: usize, place: f64) -> Self {
        let mut stations = [Station::default(); 6];
        let first = 2_usize.saturating_sub(slower);
        let last = (lines.len() + 1 - slower).min(5);
        for k in first..=last {
            stations[k] = station(&lines[slower + k - 2], place);
        }
        Self {
            stations,
            first,
            last,
        }
    }

    /// Secant of y between number `k` and the next.
    fn secant(&self, of: Of, k: usize) -> Dual {
        let (a, b) = (&self.stations[k], &self.stations[k + 1]);
        (of(&b.at) - of(&a.at)) * (1.0 / (b.speed - a.speed))
    }

    /// Secants of y/N^k of all five intervals; what lies outside the map goes on in a straight line.
    fn shape_secants(&self, law: Law, of: Of) -> [Dual; 5] {
        let shape = |k: usize| {
            let station = &self.stations[k];
            of(&station.at) * station.speed.powi(-law.power)
        };
        let mut secants = [Dual::default(); 5];
        for (k, secant) in secants
            .iter_mut()
            .enumerate()
            .take(self.last)
            .skip(self.first)
        {
            *secant = (shape(k + 1) - shape(k)) * (1.0 / self.width(k));
        }
        let is_one = self.last - self.first < 2;
        for k in (0..self.first).rev() {
            let further = if is_one {
                secants[k + 1]
            } else {
                secants[k + 2]
            };
            secants[k] = secants[k + 1] * 2.0 - further;
        }
        for k in self.last..5 {
            let further = if is_one {
                secants[k - 1]
            } else {
                secants[k - 2]
            };
            secants[k] = secants[k - 1] * 2.0 - further;
        }
        secants
    }

    fn width(&self, k: usize) -> f64 {
        self.stations[k + 1].speed - self.stations[k].speed
    }

    /// Slope of y at number `k` (2 or 3).
    fn slope(&self, (law, of, size): Quantity, shapes: &[Dual; 5], k: usize) -> Dual {
        let here = &self.stations[k];
        let unit = size(here) / here.speed;
        let (before, after) = (k.max(self.first + 1) - 1, k.min(self.last - 1));
        let shape = if k == self.first {
            Dual::default()
        } else if k == self.last {
            let far = before.max(self.first + 1) - 1;
            end_point(
                shapes[before],
                shapes[far],
                self.width(before),
                self.width(far),
            )
        } else {
            let around = [shapes[k - 2], shapes[k - 1], shapes[k], shapes[k + 1]];
            let ease = LEAN * unit * here.speed.powi(-law.power);
            leaning(around, self.width(before), self.width(after), ease)
        };
        let slope = similar(law, here, of) + shape * here.speed.powi(law.power);
        let widest = self.width(before).max(self.width(after));
        let ease = EASE * f64::from(law.power.max(1)) * unit;
        let (before, after) = (self.secant(of, before), self.secant(of, after));
        limited_softly(slope, before, after, slack(law.overshoot, widest), ease)
    }
}

/// Flow, head and efficiency at a speed, rpm (not negative), and a place in 0..1.
pub fn at(lines: &[Line], speed: f64, place: f64) -> State {
    let last = lines.len() - 1;
    if last == 0 {
        let only = station(&lines[0], place);
        return each(|quantity| alone(quantity, &only, speed));
    }
    let faster = lines.partition_point(|line| line.speed() <= speed);
    let window = Window::around(lines, faster.clamp(1, last) - 1, place);
    let (a, b) = (&window.stations[2], &window.stations[3]);
    each(|quantity| {
        let (law, of, _) = quantity;
        let shapes = window.shape_secants(law, of);
        if faster == 0 {
            return beyond(
                law,
                a.speed,
                of(&a.at),
                window.slope(quantity, &shapes, 2),
                speed,
            );
        }
        let end = window.slope(quantity, &shapes, 3);
        if faster > last {
            return beyond(law, b.speed, of(&b.at), end, speed);
        }
        let start = window.slope(quantity, &shapes, 2);
        let width = b.speed - a.speed;
        let u = (speed - a.speed) / width;
        let (value, by_speed) = hermite(of(&a.at), of(&b.at), start, end, width, u);
        Field { value, by_speed }
    })
}

type Of = fn(&Triple) -> Dual;
type Quantity = (Law, Of, fn(&Station) -> f64);

fn station(line: &Line, place: f64) -> Station {
    Station {
        speed: line.speed(),
        flow_size: line.choke_flow(),
        head_size: line.largest_head(),
        at: line.at(place),
    }
}

/// Does one thing for each of the three quantities.
fn each(mut work: impl FnMut(Quantity) -> Field) -> State {
    State {
        flow: work((FLOW, |t| t.flow, |s| s.flow_size)),
        head: work((HEAD, |t| t.head, |s| s.head_size)),
        efficiency: work((EFFICIENCY, |t| t.efficiency, |_| 1.0)),
    }
}

/// Slope of similarity, k y/N.
fn similar(law: Law, here: &Station, of: Of) -> Dual {
    of(&here.at) * (f64::from(law.power) / here.speed)
}

/// A single line carried by similarity.
fn alone((law, of, _): Quantity, only: &Station, speed: f64) -> Field {
    beyond(law, only.speed, of(&only.at), similar(law, only, of), speed)
}

/// Beyond the end line at `end` rpm with `value` and `slope` there; see the module's text.
fn beyond(law: Law, end: f64, value: Dual, slope: Dual, speed: f64) -> Field {
    let power = f64::from(law.power);
    let shape_slope = slope - value * (power / end);
    let away = speed - end;
    let room = 1.0 + away.abs() / (FADE * end);
    let change = shape_slope * (away / room);
    let change_by_speed = shape_slope * (1.0 / (room * room));
    if law.power == 0 {
        let (value, share) = share_changed(value, change);
        return Field {
            value,
            by_speed: share * change_by_speed,
        };
    }
    // Counted in units of N^k at the end line.
    let shape = value + change;
    let ratio = speed / end;
    let scale = ratio.powi(law.power);
    let scale_slope = power * ratio.powi(law.power - 1) / end;
    Field {
        value: shape * scale,
        by_speed: change_by_speed * scale + shape * scale_slope,
    }
}

/// A share (0..1) changed by an amount, but never to 0 or past 1, and the part of the change that is
/// passed on: 1 for small changes, dying away towards the bounds.
pub fn share_changed(share: Dual, change: Dual) -> (Dual, Dual) {
    if change.value <= 0.0 {
        let left = (change / share).exp();
        return (share * left, left);
    }
    let gap = Dual::constant(1.0) - share;
    if gap.value < 1e-9 {
        return (share, Dual::default());
    }
    let left = (-change / gap).exp();
    (Dual::constant(1.0) - gap * left, left)
}
