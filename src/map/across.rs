//! Across the speed lines at one place: cubics in speed, blended by similarity.
//!
//! At equal place flow grows nearly with speed and head with its square, so slopes are taken of
//! flow/N and head/N² and turned back into slopes of flow and head. What is exactly similar is
//! reproduced exactly. Slopes are then limited softly where the data rise or fall in one direction;
//! efficiency is bounded in its overshoot only.
//!
//! Below the slowest line: similarity, value/N^k constant, joined with its slope. Above the fastest:
//! the slope of value/N^k dies away over a tenth of the speed ([`FADE`]), then similarity.

use super::line::{EFFICIENCY_OVERSHOOT, Line, Locus, Quantity};
use crate::numeric::dual::Dual;
use crate::numeric::monotone::{Weights, end_point, leaning, limited_softly, slack};

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

/// How one quantity goes across speed.
#[derive(Debug, Clone, Copy)]
struct Law {
    quantity: Quantity,
    /// Power of speed it is similar to.
    power: usize,
    /// What it may overshoot by.
    overshoot: f64,
}

impl Law {
    const fn of(quantity: Quantity) -> Self {
        match quantity {
            Quantity::Flow => Self {
                quantity,
                power: 1,
                overshoot: 0.0,
            },
            Quantity::Head => Self {
                quantity,
                power: 2,
                overshoot: 0.0,
            },
            Quantity::Efficiency => Self {
                quantity,
                power: 0,
                overshoot: EFFICIENCY_OVERSHOOT,
            },
        }
    }

    /// Size of the quantity on a line, to tell small from large.
    fn size(self, line: &Line) -> f64 {
        match self.quantity {
            Quantity::Flow => line.choke_flow(),
            Quantity::Head => line.largest_head(),
            Quantity::Efficiency => 1.0,
        }
    }
}

/// A speed and place found once among the lines.
///
/// Up to six lines around an interval of speed count; it runs from number 2 to number 3.
#[derive(Debug, Clone, Copy)]
pub struct Across<'a> {
    /// The lines that count; the first is number `first`.
    lines: &'a [Line],
    first: usize,
    loci: [Locus; 6],
    /// Reciprocal widths between number k and the next.
    per_width: [f64; 5],
    speed: f64,
}

impl<'a> Across<'a> {
    /// At a speed, rpm (not negative), and a place in 0..1, among lines with the slowest first.
    pub fn new(lines: &'a [Line], speed: f64, place: f64) -> Self {
        let last = lines.len() - 1;
        let faster = lines.partition_point(|line| line.speed() <= speed);
        let slower = faster.clamp(1, last.max(1)) - 1;
        let from = slower.saturating_sub(2);
        let lines = &lines[from..(slower + 4).min(last + 1)];
        let first = 2 - (slower - from);
        let mut loci = [Locus::default(); 6];
        for (locus, line) in loci[first..].iter_mut().zip(lines) {
            *locus = line.locate(place);
        }
        let mut per_width = [0.0; 5];
        for (inverse, pair) in per_width[first..].iter_mut().zip(lines.windows(2)) {
            *inverse = (pair[1].speed() - pair[0].speed()).recip();
        }
        Self {
            lines,
            first,
            loci,
            per_width,
            speed,
        }
    }

    /// One quantity with all its derivatives.
    #[inline]
    pub fn field(&self, quantity: Quantity) -> Field {
        let law = Law::of(quantity);
        let mut values = [Dual::default(); 6];
        for (k, line) in (self.first..).zip(self.lines) {
            values[k] = line.at(quantity, &self.loci[k]);
        }
        let a = self.line(2);
        if self.lines.len() == 1 {
            return beyond(
                law,
                a.speed(),
                values[2],
                similar(law, a, values[2]),
                self.speed,
            );
        }
        let b = self.line(3);
        let shapes = self.shape_secants(law, &values);
        if self.speed < a.speed() {
            return beyond(
                law,
                a.speed(),
                values[2],
                self.slope(law, &values, &shapes, 2),
                self.speed,
            );
        }
        let end = self.slope(law, &values, &shapes, 3);
        if self.speed >= b.speed() {
            return beyond(law, b.speed(), values[3], end, self.speed);
        }
        let start = self.slope(law, &values, &shapes, 2);
        let width = b.speed() - a.speed();
        let u = (self.speed - a.speed()) * self.per_width[2];
        let (value, by_speed) = Weights::new(width, u).cubic((values[2], values[3]), (start, end));
        Field { value, by_speed }
    }

    fn line(&self, k: usize) -> &Line {
        &self.lines[k - self.first]
    }

    fn last(&self) -> usize {
        self.first + self.lines.len() - 1
    }

    /// Secants of y/N^k of all five intervals; what lies outside the map goes on in a straight line.
    fn shape_secants(&self, law: Law, values: &[Dual; 6]) -> [Dual; 5] {
        let (first, last) = (self.first, self.last());
        let mut shapes = [Dual::default(); 6];
        for (k, line) in (first..).zip(self.lines) {
            shapes[k] = values[k] * line.power(law.power).1;
        }
        let mut secants = [Dual::default(); 5];
        for k in first..last {
            secants[k] = (shapes[k + 1] - shapes[k]) * self.per_width[k];
        }
        let is_one = last - first < 2;
        for k in (0..first).rev() {
            let further = if is_one {
                secants[k + 1]
            } else {
                secants[k + 2]
            };
            secants[k] = secants[k + 1] * 2.0 - further;
        }
        for k in last..5 {
            let further = if is_one {
                secants[k - 1]
            } else {
                secants[k - 2]
            };
            secants[k] = secants[k - 1] * 2.0 - further;
        }
        secants
    }

    /// Slope of y at number `k` (2 or 3).
    fn slope(&self, law: Law, values: &[Dual; 6], shapes: &[Dual; 5], k: usize) -> Dual {
        let here = self.line(k);
        let (power, inverse) = here.power(law.power);
        let unit = law.size(here) * here.power(1).1;
        // The intervals before and after; at an end of the map the only one.
        let (before, after) = (k.max(self.first + 1) - 1, k.min(self.last() - 1));
        let width = |k: usize| self.line(k + 1).speed() - self.line(k).speed();
        let shape = if k == self.first {
            Dual::default()
        } else if k == self.last() {
            let far = before.max(self.first + 1) - 1;
            end_point(shapes[before], shapes[far], width(before), width(far))
        } else {
            let around = [shapes[k - 2], shapes[k - 1], shapes[k], shapes[k + 1]];
            leaning(around, width(before), width(after), LEAN * unit * inverse)
        };
        let slope = similar(law, here, values[k]) + shape * power;
        let secant = |k: usize| (values[k + 1] - values[k]) * self.per_width[k];
        let slack = slack(law.overshoot, width(before).max(width(after)));
        let ease = EASE * law.power.max(1) as f64 * unit;
        limited_softly(slope, secant(before), secant(after), slack, ease)
    }
}

/// Slope of similarity, k y/N.
fn similar(law: Law, line: &Line, value: Dual) -> Dual {
    value * (law.power as f64 * line.power(1).1)
}

/// Beyond the end line at `end` rpm with `value` and `slope` there; see the module's text.
fn beyond(law: Law, end: f64, value: Dual, slope: Dual, speed: f64) -> Field {
    let power = law.power as f64;
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
    let (scale, scale_slope) = if law.power == 1 {
        (ratio, end.recip())
    } else {
        (ratio * ratio, 2.0 * ratio / end)
    };
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
