//! Finding speed and place from two values that determine them.
//!
//! Along a line: Newton steps from a guess straight between the points, and where these leave the
//! line or do not settle, a bracketed search. Across the map: a damped Newton step in speed and
//! place with exact gradients, and where that does not settle, a bracketed search over speed.

use super::surface::{Gradient, Surface};
use crate::numeric::bracketed;

/// Share of the slowest line's speed that counts as standing still.
const AT_REST: f64 = 1e-6;
/// Steps of the free Newton iteration along a line before the bracketed search takes over.
const FREE_STEPS: usize = 8;
/// Steps across the map before the bracketed search takes over.
const MAP_STEPS: usize = 30;
/// Relative agreement that ends a search: a few units in the last place.
const TIGHT: f64 = 4e-16;
/// Relative miss from which one more Newton step across the map needs no check.
const NEAR: f64 = 1e-12;
/// Parts into which a line is cut to find where it turns over.
const SCAN: u32 = 48;

/// Result of looking along a line for a head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Found {
    /// The choke-most place with this head.
    At(f64),
    /// No place has it; the highest head is here.
    Peak(f64),
}

impl Surface {
    /// A speed that the searches may divide by.
    pub(super) fn turning(&self, speed: f64) -> f64 {
        speed.max(AT_REST * self.speeds().0)
    }

    /// The slower of the two lines around a speed, and the share of the way to the faster.
    fn around(&self, speed: f64) -> (usize, f64) {
        let lines = self.lines();
        let faster = lines.partition_point(|line| line.speed() <= speed);
        if faster == 0 || faster == lines.len() {
            return (faster.saturating_sub(1), 0.0);
        }
        let (a, b) = (lines[faster - 1].speed(), lines[faster].speed());
        (faster - 1, (speed - a) / (b - a))
    }

    /// A guess blended from the two lines around a speed.
    fn blended_guess(&self, speed: f64, on_line: impl Fn(usize) -> f64) -> f64 {
        let (slower, share) = self.around(speed);
        let guess = on_line(slower);
        if share > 0.0 {
            guess + share * (on_line(slower + 1) - guess)
        } else {
            guess
        }
    }

    /// Place on the line of a speed (above 0) with this flow (above 0).
    pub(super) fn place_at_flow(&self, speed: f64, flow: f64) -> f64 {
        let guess = self.blended_guess(speed, |i| {
            let line = &self.lines()[i];
            line.guess_at_flow(flow * (line.speed() / speed))
        });
        let miss = |place: f64| {
            let here = self.flow(speed, place);
            (here.value - flow, here.by_place)
        };
        if let Some(place) = free_newton(miss, guess, TIGHT * flow) {
            return place;
        }
        let surge = self.flow(speed, 0.0);
        if flow < surge.value {
            return Self::place_beyond_surge(surge, flow);
        }
        let choke = self.flow(speed, 1.0);
        if flow > choke.value {
            return Self::place_beyond_choke(choke, flow);
        }
        bracketed::first_not_below(miss, (0.0, 1.0), guess, TIGHT * flow)
    }

    /// Place on the line of a speed (above 0) with this head: on the choke side of a line's peak.
    pub(super) fn place_at_head(&self, speed: f64, head: f64) -> Found {
        let guess = self.blended_guess(speed, |i| {
            let line = &self.lines()[i];
            line.guess_at_head(head * (line.speed() / speed).powi(2))
        });
        // Negated, so that the falling side of the line is a rising function of place.
        let miss = |place: f64| {
            let here = self.head(speed, place);
            (head - here.value, -here.by_place)
        };
        let enough = TIGHT * head.abs().max(0.01);
        if self.single_peaked()
            && let Some(place) = free_newton(miss, guess, enough)
        {
            return Found::At(place);
        }
        if miss(1.0).0 < 0.0 {
            return Found::At(self.choke_side(speed, miss, enough));
        }
        self.up_from_choke(speed, head, miss, enough)
    }

    /// Beyond the choke end, where head falls without end.
    fn choke_side(&self, speed: f64, miss: impl Fn(f64) -> (f64, f64), enough: f64) -> f64 {
        let mut far = 2.0;
        while miss(far).0 < 0.0 && far < 1e6 {
            far *= 2.0;
        }
        let edge = self.head(speed, 1.0);
        let straight = if edge.by_place < 0.0 {
            miss(1.0).0.abs() / -edge.by_place
        } else {
            0.5
        };
        bracketed::first_not_below(miss, (1.0, far), 1.0 + straight.min(1.0), enough)
    }

    /// From the choke end towards surge until the head is reached, else to the peak.
    fn up_from_choke(
        &self,
        speed: f64,
        head: f64,
        miss: impl Fn(f64) -> (f64, f64) + Copy,
        enough: f64,
    ) -> Found {
        let surge = self.head(speed, 0.0);
        let on_falling_surge = self.single_peaked() && surge.by_place < 0.0;
        let missing = head - surge.value;
        if on_falling_surge && missing.abs() <= enough.max(1e-14 * head.abs()) {
            return Found::At(0.0);
        }
        if on_falling_surge && missing > 0.0 {
            return Self::head_place_beyond_surge(surge, head).map_or(Found::Peak(-1.0), Found::At);
        }
        if self.single_peaked() {
            return self.falling_side(speed, head, enough);
        }
        let step = 1.0 / f64::from(SCAN);
        let mut best = (1.0, f64::INFINITY);
        for i in (0..=SCAN).rev() {
            let place = f64::from(i) * step;
            let missing = miss(place).0;
            if missing <= enough {
                let range = (place, (place + step).min(1.0));
                return Found::At(bracketed::first_not_below(miss, range, place, enough));
            }
            if missing < best.1 {
                best = (place, missing);
            }
        }
        if best.0 <= 0.0 && surge.by_place < 0.0 {
            return Self::head_place_beyond_surge(surge, head).map_or(Found::Peak(-1.0), Found::At);
        }
        // The peak lies between the neighbours of the best: where head stops rising.
        let (low, high) = ((best.0 - step).max(0.0), (best.0 + step).min(1.0));
        let falling = |place: f64| (-self.head(speed, place).by_place, 0.0);
        let peak = bracketed::first_not_below(falling, (low, high), best.0, 0.0);
        if miss(peak).0 > enough {
            return Found::Peak(peak);
        }
        Found::At(bracketed::first_not_below(miss, (peak, high), high, enough))
    }

    /// On a line with one peak: the falling side where it has the head, else the peak.
    fn falling_side(&self, speed: f64, head: f64, enough: f64) -> Found {
        // The rising side counts as not yet there, so that without a root the peak is closed in on.
        let miss = |place: f64| {
            let here = self.head(speed, place);
            if here.by_place > 0.0 {
                (-1.0, 0.0)
            } else {
                (head - here.value, -here.by_place)
            }
        };
        let place = bracketed::first_not_below(miss, (0.0, 1.0), 0.5, enough);
        let missing = head - self.head(speed, place).value;
        if missing.abs() <= 1e-12 * head.abs().max(0.01) {
            Found::At(place)
        } else {
            Found::Peak(place)
        }
    }

    /// The other place with this head, on the surge side of a line that turns over.
    pub(super) fn other_place(&self, speed: f64, head: f64, place: f64) -> Option<f64> {
        let surge = self.head(speed, 0.0);
        let below = surge.value - head;
        if surge.by_place <= 0.0 || below > 1e-12 * head.abs() || place <= 0.0 {
            return None;
        }
        if below >= 0.0 {
            return Some(0.0);
        }
        let miss = |at: f64| {
            let here = self.head(speed, at);
            (here.value - head, here.by_place)
        };
        let near = (head - surge.value) / surge.by_place;
        let enough = TIGHT * head.abs();
        let found = bracketed::first_not_below(miss, (0.0, place), near.min(0.5 * place), enough);
        (found < place * (1.0 - 1e-6)).then_some(found)
    }

    /// Speed and place with this flow (above 0) and head.
    pub(super) fn speed_and_place(&self, flow: f64, head: f64) -> (f64, f64) {
        let (mut speed, mut place) = self.map_guess(flow, head);
        let head_size = head.abs().max(0.005);
        let size = |(m, h): &(Gradient, Gradient)| {
            ((m.value - flow) / flow).abs() + ((h.value - head) / head_size).abs()
        };
        let mut spot = self.flow_and_head(speed, place);
        let mut miss = size(&spot);
        for _ in 0..MAP_STEPS {
            if miss < 4.0 * TIGHT {
                return (speed, place);
            }
            let Some((speed_step, place_step)) = newton_step(&spot, flow, head) else {
                break;
            };
            if miss < NEAR {
                // The square of such a miss is beyond the last digit.
                return (speed + speed_step, place + place_step);
            }
            let limit = (0.3 * speed / speed_step.abs())
                .min(0.3 / place_step.abs())
                .min(1.0);
            let mut share = limit;
            loop {
                let next = (speed + share * speed_step, place + share * place_step);
                let there = self.flow_and_head(next.0, next.1);
                let size_there = size(&there);
                if size_there < miss {
                    (speed, place, spot, miss) = (next.0, next.1, there, size_there);
                    break;
                }
                // No step makes it better: at the limit of rounding, or stuck.
                share *= 0.25;
                if share < 1e-3 * limit {
                    if miss < 1e-12 {
                        return (speed, place);
                    }
                    return self.speed_searched(flow, head);
                }
            }
        }
        if miss < 1e-12 {
            (speed, place)
        } else {
            self.speed_searched(flow, head)
        }
    }

    /// Bracketed search over speed: at given flow the head rises with speed.
    fn speed_searched(&self, flow: f64, head: f64) -> (f64, f64) {
        let rest = AT_REST * self.speeds().0;
        let miss = |speed: f64| {
            let place = self.place_at_flow(speed, flow);
            (self.head(speed, place).value - head, 0.0)
        };
        let mut high = self.speeds().1;
        let mut doublings = 0;
        while miss(high).0 < 0.0 && doublings < 60 {
            high *= 2.0;
            doublings += 1;
        }
        let enough = TIGHT * head.abs().max(0.01);
        let speed = if miss(rest).0 >= 0.0 {
            rest
        } else {
            bracketed::first_not_below(miss, (rest, high), self.speeds().0, enough)
        };
        (speed, self.place_at_flow(speed, flow))
    }

    /// Where the lines' own points say that flow and head meet.
    fn map_guess(&self, flow: f64, head: f64) -> (f64, f64) {
        let lines = self.lines();
        let mut slower: Option<(f64, f64, f64)> = None;
        for line in lines {
            let place = line.guess_at_flow(flow);
            let choked = flow > line.choke_flow();
            let here = line.head_near(place);
            if !choked && here >= head {
                let (Some((speed, at, below)), true) = (slower, here > head) else {
                    return first_guess(line.speed(), here, head, place);
                };
                let share = ((head - below) / (here - below)).clamp(0.0, 1.0);
                return (
                    speed + share * (line.speed() - speed),
                    at + share * (place - at),
                );
            }
            // A choked line counts as one that gives no head at this flow.
            slower = Some((
                line.speed(),
                place,
                if choked { 0.0_f64.min(head) } else { here },
            ));
        }
        let fastest = &lines[lines.len() - 1];
        let by_head = (head.max(0.0) / fastest.largest_head()).sqrt();
        let by_flow = flow / fastest.choke_flow();
        (fastest.speed() * by_head.max(by_flow).max(1.0), 0.5)
    }
}

/// A first guess below the slowest line: the speed that carries its head to the wanted one.
fn first_guess(speed: f64, here: f64, head: f64, place: f64) -> (f64, f64) {
    let ratio = (head.max(0.0) / here).sqrt().clamp(0.05, 1.0);
    (speed * ratio, place + 0.5 * (1.0 - ratio))
}

/// Newton steps inside 0..1, or `None` when they leave it or do not settle.
fn free_newton(miss: impl Fn(f64) -> (f64, f64), guess: f64, enough: f64) -> Option<f64> {
    let mut place = guess;
    let mut last_step = f64::INFINITY;
    for _ in 0..FREE_STEPS {
        let (value, slope) = miss(place);
        if value.abs() <= enough {
            return Some(place);
        }
        let step = -value / slope;
        let next = place + step;
        // A slope of the wrong sign is the wrong side of a peak.
        if slope <= 0.0 || !(0.0..=1.0).contains(&next) {
            return None;
        }
        // Once steps shrink as their squares, that of 1e-8 is beyond the last digit; where they only
        // halve (flow stops rising at a knee) the error is as large as the step itself.
        let settles = (step / last_step).abs() < 0.01;
        if step.abs() < 1e-11 || settles && step.abs() < 1e-8 {
            return Some(next);
        }
        (place, last_step) = (next, step);
    }
    None
}

/// The Newton step in speed and place, if the gradients determine one.
fn newton_step((m, h): &(Gradient, Gradient), flow: f64, head: f64) -> Option<(f64, f64)> {
    let (flow_gap, head_gap) = (flow - m.value, head - h.value);
    let determinant = m.by_speed * h.by_place - m.by_place * h.by_speed;
    let speed = (flow_gap * h.by_place - head_gap * m.by_place) / determinant;
    let place = (head_gap * m.by_speed - flow_gap * h.by_speed) / determinant;
    (speed.is_finite() && place.is_finite()).then_some((speed, place))
}
