//! Across the speed lines at one place: cubics in speed, blended by similarity.
//!
//! At equal place flow grows nearly with speed and head with its square, so slopes are taken of
//! flow/N and head/N² and turned back into slopes of flow and head. What is exactly similar is
//! reproduced exactly. Slopes are then limited softly where the data rise or fall in one direction;
//! efficiency is bounded in its overshoot only.
//!
//! Below the slowest line: similarity, value/N^k constant, joined with its slope. Above the fastest:
//! the slope of value/N^k dies away over a tenth of the speed ([`FADE`]), then similarity.

use super::line::{EFFICIENCY_OVERSHOOT, Line, LineQuantity, Locus};
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
    quantity: LineQuantity,
    /// Power of speed it is similar to.
    power: usize,
    /// What it may overshoot by.
    overshoot: f64,
}

impl Law {
    const fn of(quantity: LineQuantity) -> Self {
        match quantity {
            LineQuantity::Flow => Self {
                quantity,
                power: 1,
                overshoot: 0.0,
            },
            LineQuantity::Head => Self {
                quantity,
                power: 2,
                overshoot: 0.0,
            },
            LineQuantity::Efficiency => Self {
                quantity,
                power: 0,
                overshoot: EFFICIENCY_OVERSHOOT,
            },
        }
    }
}

/// A speed and place found once among the lines.
///
/// Up to six lines around an interval of speed count; it runs from number 2 to number 3. Numbers
/// without a line repeat the end line: all loops have one length, which makes them quick.
#[derive(Debug, Clone, Copy)]
pub struct Across<'a> {
    lines: [&'a Line; 6],
    /// The numbers that have a line of their own.
    first: usize,
    last: usize,
    loci: [Locus; 6],
    /// Widths between number k and the next, and their reciprocals; 0 where there is no next.
    widths: [f64; 5],
    per_width: [f64; 5],
    speed: f64,
}

impl<'a> Across<'a> {
    /// At a speed, rpm (not negative), and a place in 0..1, among lines with the slowest first.
    pub fn new(lines: &'a [Line], speed: f64, place: f64) -> Self {
        let end = lines.len() - 1;
        let faster = lines.partition_point(|line| line.speed() <= speed);
        let slower = faster.clamp(1, end.max(1)) - 1;
        let around: [&Line; 6] =
            std::array::from_fn(|k| &lines[(slower + k).saturating_sub(2).min(end)]);
        let (first, last) = (2 - slower.min(2), 2 + (end - slower).min(3));
        let mut loci = [Locus::default(); 6];
        for k in first..=last {
            loci[k] = around[k].locate(place);
        }
        let (slowest, fastest) = (loci[first], loci[last]);
        loci[..first].fill(slowest);
        loci[last + 1..].fill(fastest);
        let mut widths = [0.0; 5];
        let mut per_width = [0.0; 5];
        for k in first..last {
            widths[k] = around[k + 1].speed() - around[k].speed();
            per_width[k] = widths[k].recip();
        }
        Self {
            lines: around,
            first,
            last,
            loci,
            widths,
            per_width,
            speed,
        }
    }

    /// One quantity with all its derivatives.
    #[inline]
    pub fn field(&self, quantity: LineQuantity) -> Field {
        let law = Law::of(quantity);
        let [_, _, a, b, ..] = self.lines;
        let values: [Dual; 6] = std::array::from_fn(|k| self.lines[k].at(quantity, &self.loci[k]));
        if self.first == self.last {
            let slope = similar(law, a, values[2]);
            return beyond(law, a.speed(), values[2], slope, self.speed);
        }
        let shapes = self.shape_secants(law, &values);
        if self.speed < a.speed() {
            let slope = self.slope::<2>(law, &values, &shapes);
            return beyond(law, a.speed(), values[2], slope, self.speed);
        }
        let end = self.slope::<3>(law, &values, &shapes);
        if self.speed >= b.speed() {
            return beyond(law, b.speed(), values[3], end, self.speed);
        }
        let start = self.slope::<2>(law, &values, &shapes);
        let u = (self.speed - a.speed()) * self.per_width[2];
        let weights = Weights::scaled(self.widths[2], self.per_width[2], u);
        let (value, by_speed) = weights.cubic((values[2], values[3]), (start, end));
        Field { value, by_speed }
    }

    /// Secants of y/N^k of all five intervals; what lies outside the map goes on in a straight line.
    #[inline]
    fn shape_secants(&self, law: Law, values: &[Dual; 6]) -> [Dual; 5] {
        let (first, last) = (self.first, self.last);
        let shapes: [Dual; 6] =
            std::array::from_fn(|k| values[k] * self.lines[k].power(law.power).1);
        let mut secants: [Dual; 5] =
            std::array::from_fn(|k| (shapes[k + 1] - shapes[k]) * self.per_width[k]);
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

    /// Slope of y at number `K` (2 or 3).
    #[inline]
    fn slope<const K: usize>(&self, law: Law, values: &[Dual; 6], shapes: &[Dual; 5]) -> Dual {
        let here = self.lines[K];
        let (power, inverse) = here.power(law.power);
        let unit = here.unit(law.quantity);
        // The intervals before and after; at an end of the map the only one.
        let before = if K == self.first { K } else { K - 1 };
        let after = if K == self.last { K - 1 } else { K };
        let (before_width, after_width) = (self.widths[before], self.widths[after]);
        let shape = if K == self.first {
            Dual::default()
        } else if K == self.last {
            let far = before.max(self.first + 1) - 1;
            end_point(shapes[before], shapes[far], before_width, self.widths[far])
        } else {
            let around = [shapes[K - 2], shapes[K - 1], shapes[K], shapes[K + 1]];
            leaning(around, before_width, after_width, LEAN * unit * inverse)
        };
        let slope = similar(law, here, values[K]) + shape * power;
        let secant = |k: usize| (values[k + 1] - values[k]) * self.per_width[k];
        let slack = if law.overshoot > 0.0 {
            slack(law.overshoot, before_width.max(after_width))
        } else {
            0.0
        };
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
