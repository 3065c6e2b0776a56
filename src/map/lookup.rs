//! Finding speed and place from two values that determine them.
//!
//! Along a line: Newton steps from a guess straight between the points, and where these leave the
//! line or do not settle, a bracketed search. Across the map: a damped Newton step in speed and
//! place with exact gradients, and where that does not settle, a bracketed search over speed.
//!
//! The last step needs no look of its own: everything is evaluated just before it, and carried over
//! it by the gradients, once it is so short that its square is beyond the last digit ([`CARRIED`]).

use super::surface::{Gradient, Spot, Surface, Whole};
use crate::numeric::bracketed;

/// Share of the slowest line's speed that counts as standing still.
const AT_REST: f64 = 1e-6;
/// Newton steps along a line before the bracketed search takes over.
const FREE_STEPS: usize = 8;
/// Steps across the map before the bracketed search takes over.
const MAP_STEPS: usize = 30;
/// Relative agreement that ends a search: a few units in the last place.
const TIGHT: f64 = 4e-16;
/// Relative miss from which one more Newton step across the map needs no check.
const NEAR: f64 = 1e-12;
/// Step (in places, or as a share of the speed) over which values are carried by their gradients.
const CARRIED: f64 = 1e-8;
/// Smallest relative gradient over which they are: with relative curvatures below 100 the place is
/// then right to 100/2e-3 × 1e-16 < 1e-11. Where a line peaks or stands upright steps tell nothing.
const STEEP: f64 = 1e-3;
/// Step of a search across the map after which the whole point is looked at.
const NEARLY: f64 = 1e-4;
/// Error at which a search along a line goes over to the whole point.
const CLOSE: f64 = 3e-9;
/// What a Newton step leaves of the square of the error, where nothing else is known: about half the
/// curvature over the slope of a line, in places.
const LEAVES: f64 = 3.0;
/// Evaluations of the whole point before the slow and sure search.
const LANDINGS: usize = 2;
/// Parts into which a line is cut to find where it turns over.
const SCAN: u32 = 48;

/// A place that was found, with what stands there where it was looked at on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landing {
    /// Speed, rpm.
    pub speed: f64,
    /// Place.
    pub place: f64,
    /// What the surface gives there; none where it has still to be asked.
    pub spot: Option<Spot>,
}

impl Landing {
    const fn at(speed: f64, place: f64) -> Self {
        Self {
            speed,
            place,
            spot: None,
        }
    }
}

/// What is looked for along a line.
#[derive(Debug, Clone, Copy)]
enum Wanted {
    Flow(f64),
    Head(f64),
}

impl Wanted {
    /// The Newton step towards it: none needed where it is met, none known where the slope does not
    /// have the sign of a line's main side.
    fn step(self, flow: &Gradient, head: &Gradient) -> Option<f64> {
        let (wanted, here, sign) = match self {
            Self::Flow(wanted) => (wanted, flow, 1.0),
            Self::Head(wanted) => (wanted, head, -1.0),
        };
        let gap = wanted - here.value;
        if gap.abs() <= TIGHT * wanted.abs() {
            return Some(0.0);
        }
        (sign * here.by_place > 0.0).then_some(gap / here.by_place)
    }

    /// Whether the line is steep enough there for a step to tell how far away its end is.
    fn is_steep(self, whole: &Whole) -> bool {
        let at = match self {
            Self::Flow(_) => &whole.flow,
            Self::Head(_) => &whole.head,
        };
        at.by_place.abs() > STEEP * at.value.abs()
    }
}

/// Result of looking along a line for a head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Found {
    /// The choke-most place with this head.
    At(Landing),
    /// No place has it; the highest head is here.
    Peak(f64),
}

impl Found {
    const fn at(speed: f64, place: f64) -> Self {
        Self::At(Landing::at(speed, place))
    }
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

    /// From a guess within the data to the place by Newton steps, the last one carried; `None` where
    /// they leave the data or do not settle.
    fn landed(&self, speed: f64, guess: f64, wanted: Wanted) -> Option<Landing> {
        let within = |place: f64| (0.0..=1.0).contains(&place).then_some(place);
        let nothing = Gradient::default();
        let (mut place, mut before) = (guess, f64::INFINITY);
        for _ in 0..FREE_STEPS {
            let step = match wanted {
                Wanted::Flow(_) => wanted.step(&self.flow(speed, place), &nothing)?,
                Wanted::Head(_) => wanted.step(&nothing, &self.head(speed, place))?,
            };
            place = within(place + step)?;
            // Errors shrink as their squares, by a factor that the last two steps tell.
            let size = step.abs();
            let factor = if before.is_finite() {
                size / (before * before)
            } else {
                LEAVES
            };
            before = size;
            if factor * size * size < CLOSE {
                break;
            }
        }
        for _ in 0..LANDINGS {
            let whole = self.within(speed, place);
            let step = wanted.step(&whole.flow, &whole.head)?;
            let next = within(place + step)?;
            let is_met = step.abs() <= 0.0;
            if is_met || step.abs() < CARRIED && wanted.is_steep(&whole) {
                return Some(Landing {
                    speed,
                    place: next,
                    spot: Some(whole.carried(0.0, step)),
                });
            }
            place = next;
        }
        None
    }

    /// Place on the line of a speed (above 0) with this flow (above 0).
    pub(super) fn place_at_flow(&self, speed: f64, flow: f64) -> Landing {
        let guess = self.blended_guess(speed, |i| {
            let line = &self.lines()[i];
            line.guess_at_flow(flow * (line.speed() / speed))
        });
        if let Some(landing) = self.landed(speed, guess, Wanted::Flow(flow)) {
            return landing;
        }
        Landing::at(speed, self.place_at_flow_searched(speed, flow, guess))
    }

    /// The same by a slow and sure search.
    fn place_at_flow_searched(&self, speed: f64, flow: f64, guess: f64) -> f64 {
        let surge = self.flow(speed, 0.0);
        if flow < surge.value {
            return Self::place_beyond_surge(surge, flow);
        }
        let choke = self.flow(speed, 1.0);
        if flow > choke.value {
            return Self::place_beyond_choke(choke, flow);
        }
        let miss = |place: f64| {
            let here = self.flow(speed, place);
            (here.value - flow, here.by_place)
        };
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
            && let Some(landing) = self.landed(speed, guess, Wanted::Head(head))
        {
            return Found::At(landing);
        }
        if miss(1.0).0 < 0.0 {
            return Found::at(speed, self.choke_side(speed, miss, enough));
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
            return Found::at(speed, 0.0);
        }
        if on_falling_surge && missing > 0.0 {
            return Self::head_place_beyond_surge(surge, head)
                .map_or(Found::Peak(-1.0), |place| Found::at(speed, place));
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
                return Found::at(
                    speed,
                    bracketed::first_not_below(miss, range, place, enough),
                );
            }
            if missing < best.1 {
                best = (place, missing);
            }
        }
        if best.0 <= 0.0 && surge.by_place < 0.0 {
            return Self::head_place_beyond_surge(surge, head)
                .map_or(Found::Peak(-1.0), |place| Found::at(speed, place));
        }
        // The peak lies between the neighbours of the best: where head stops rising.
        let (low, high) = ((best.0 - step).max(0.0), (best.0 + step).min(1.0));
        let falling = |place: f64| (-self.head(speed, place).by_place, 0.0);
        let peak = bracketed::first_not_below(falling, (low, high), best.0, 0.0);
        if miss(peak).0 > enough {
            return Found::Peak(peak);
        }
        Found::at(
            speed,
            bracketed::first_not_below(miss, (peak, high), high, enough),
        )
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
            Found::at(speed, place)
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
        // The other root of the parabola with the surge end's value and slope and this root.
        let bend = (below.abs() - surge.by_place * place) / (place * place);
        let near = if bend < 0.0 {
            below / (bend * place)
        } else {
            -below / surge.by_place
        };
        let enough = TIGHT * head.abs();
        let found = bracketed::first_not_below(miss, (0.0, place), near.min(0.9 * place), enough);
        (found < place * (1.0 - 1e-6)).then_some(found)
    }

    /// Speed and place with this flow (above 0) and head.
    pub(super) fn speed_and_place(&self, flow: f64, head: f64) -> Landing {
        let (mut speed, mut place) = self.map_guess(flow, head);
        let head_size = head.abs().max(0.005);
        let size = |(m, h): &(Gradient, Gradient)| {
            ((m.value - flow) / flow).abs() + ((h.value - head) / head_size).abs()
        };
        let mut spot = self.flow_and_head(speed, place);
        let mut miss = size(&spot);
        for _ in 0..MAP_STEPS {
            if miss < 4.0 * TIGHT {
                return Landing::at(speed, place);
            }
            let Some((speed_step, place_step)) = newton_step(&spot, flow, head) else {
                break;
            };
            if miss < NEAR {
                // The square of such a miss is beyond the last digit.
                return Landing::at(speed + speed_step, place + place_step);
            }
            let next = (speed + speed_step, place + place_step);
            let length = (speed_step / speed).abs().max(place_step.abs());
            if length < NEARLY
                && let Some(landing) = self.landed_on_map(next, (flow, head))
            {
                return landing;
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
                        return Landing::at(speed, place);
                    }
                    return self.speed_searched(flow, head);
                }
            }
        }
        if miss < 1e-12 {
            Landing::at(speed, place)
        } else {
            self.speed_searched(flow, head)
        }
    }

    /// From a speed and place within the data that are nearly right to the right ones, carried.
    fn landed_on_map(
        &self,
        (mut speed, mut place): (f64, f64),
        (flow, head): (f64, f64),
    ) -> Option<Landing> {
        for _ in 0..LANDINGS {
            if !(0.0..=1.0).contains(&place) {
                return None;
            }
            let whole = self.within(speed, place);
            let (speed_step, place_step) = newton_step(&(whole.flow, whole.head), flow, head)?;
            let next = (speed + speed_step, place + place_step);
            let (m, h) = (&whole.flow, &whole.head);
            let determinant = m.by_speed * h.by_place - m.by_place * h.by_speed;
            if (speed_step / speed).abs().max(place_step.abs()) < CARRIED
                && (determinant * speed).abs() > STEEP * (flow * head).abs()
                && (0.0..=1.0).contains(&next.1)
            {
                return Some(Landing {
                    speed: next.0,
                    place: next.1,
                    spot: Some(whole.carried(speed_step, place_step)),
                });
            }
            (speed, place) = next;
        }
        None
    }

    /// Bracketed search over speed: at given flow the head rises with speed.
    fn speed_searched(&self, flow: f64, head: f64) -> Landing {
        let rest = AT_REST * self.speeds().0;
        let miss = |speed: f64| {
            let place = self.place_at_flow(speed, flow).place;
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
        self.place_at_flow(speed, flow)
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

/// The Newton step in speed and place, if the gradients determine one.
fn newton_step((m, h): &(Gradient, Gradient), flow: f64, head: f64) -> Option<(f64, f64)> {
    let (flow_gap, head_gap) = (flow - m.value, head - h.value);
    let determinant = m.by_speed * h.by_place - m.by_place * h.by_speed;
    let speed = (flow_gap * h.by_place - head_gap * m.by_place) / determinant;
    let place = (head_gap * m.by_speed - flow_gap * h.by_speed) / determinant;
    (speed.is_finite() && place.is_finite()).then_some((speed, place))
}
