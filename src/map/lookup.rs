//! Finding the place on the line of a speed that has a flow or a head.
//!
//! Newton steps from a guess straight between the points, and where these leave the line or do not
//! settle, a bracketed search.
//!
//! The last step needs no look of its own: everything is evaluated just before it, and carried over
//! it by the gradients, once it is so short that its square is beyond the last digit ([`CARRIED`]).

use super::surface::{Gradient, PointWithGradients, Surface, SurfacePoint};
use crate::numeric::bracketed;

/// Share of the slowest line's speed that counts as standing still.
pub(super) const AT_REST: f64 = 1e-6;
/// Newton steps along a line before the bracketed search takes over.
const FREE_STEPS: usize = 8;
/// Relative agreement that ends a search: a few units in the last place.
pub(super) const TIGHT: f64 = 4e-16;
/// Step (in places, or as a share of the speed) over which values are carried by their gradients.
pub(super) const CARRIED: f64 = 1e-8;
/// Smallest relative gradient over which they are: with relative curvatures below 100 the place is
/// then right to 100/2e-3 × 1e-16 < 1e-11. Where a line peaks or stands upright steps tell nothing.
pub(super) const STEEP: f64 = 1e-3;
/// Error at which a search along a line goes over to the whole point.
const CLOSE: f64 = 3e-9;
/// What a Newton step leaves of the square of the error, where nothing else is known: about half the
/// curvature over the slope of a line, in places.
const LEAVES: f64 = 3.0;
/// Evaluations of the whole point before the slow and sure search.
pub(super) const LANDINGS: usize = 2;
/// Parts into which a line is cut to find where it turns over.
const SCAN: u32 = 48;

/// A place that was found, with what stands there where it was looked at on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundPlace {
    /// Speed, rpm.
    pub speed: f64,
    /// Place.
    pub place: f64,
    /// What the surface gives there; none where it has still to be asked.
    pub spot: Option<SurfacePoint>,
}

impl FoundPlace {
    /// Where the surface has still to be asked.
    pub(super) const fn at(speed: f64, place: f64) -> Self {
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
    fn is_steep(self, whole: &PointWithGradients) -> bool {
        let at = match self {
            Self::Flow(_) => &whole.flow,
            Self::Head(_) => &whole.head,
        };
        at.by_place.abs() > STEEP * at.value.abs()
    }
}

/// Result of looking along a line for a head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeadFound {
    /// The choke-most place with this head.
    At(FoundPlace),
    /// No place has it; the highest head is here.
    Peak(f64),
}

impl HeadFound {
    const fn at(speed: f64, place: f64) -> Self {
        Self::At(FoundPlace::at(speed, place))
    }
}

impl Surface {
    /// A speed that the searches may divide by.
    pub(super) fn nonzero_speed(&self, speed: f64) -> f64 {
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
    fn landed(&self, speed: f64, guess: f64, wanted: Wanted) -> Option<FoundPlace> {
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
                return Some(FoundPlace {
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
    pub(super) fn place_at_flow(&self, speed: f64, flow: f64) -> FoundPlace {
        let guess = self.blended_guess(speed, |i| {
            let line = &self.lines()[i];
            line.guess_at_flow(flow * (line.speed() / speed))
        });
        if let Some(landing) = self.landed(speed, guess, Wanted::Flow(flow)) {
            return landing;
        }
        FoundPlace::at(speed, self.place_at_flow_searched(speed, flow, guess))
    }

    /// The place on the line of a speed that has a flow, by a slow and sure search from a guess.
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
    pub(super) fn place_at_head(&self, speed: f64, head: f64) -> HeadFound {
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
            return HeadFound::At(landing);
        }
        if miss(1.0).0 < 0.0 {
            return HeadFound::at(speed, self.choke_side(speed, miss, enough));
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
    ) -> HeadFound {
        let surge = self.head(speed, 0.0);
        let on_falling_surge = self.single_peaked() && surge.by_place < 0.0;
        let missing = head - surge.value;
        if on_falling_surge && missing.abs() <= enough.max(1e-14 * head.abs()) {
            return HeadFound::at(speed, 0.0);
        }
        if on_falling_surge && missing > 0.0 {
            return Self::head_place_beyond_surge(surge, head)
                .map_or(HeadFound::Peak(-1.0), |place| HeadFound::at(speed, place));
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
                return HeadFound::at(
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
                .map_or(HeadFound::Peak(-1.0), |place| HeadFound::at(speed, place));
        }
        // The peak lies between the neighbours of the best: where head stops rising.
        let (low, high) = ((best.0 - step).max(0.0), (best.0 + step).min(1.0));
        let falling = |place: f64| (-self.head(speed, place).by_place, 0.0);
        let peak = bracketed::first_not_below(falling, (low, high), best.0, 0.0);
        if miss(peak).0 > enough {
            return HeadFound::Peak(peak);
        }
        HeadFound::at(
            speed,
            bracketed::first_not_below(miss, (peak, high), high, enough),
        )
    }

    /// On a line with one peak: the falling side where it has the head, else the peak.
    fn falling_side(&self, speed: f64, head: f64, enough: f64) -> HeadFound {
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
            HeadFound::at(speed, place)
        } else {
            HeadFound::Peak(place)
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
}
