//! Finding speed and place from flow and head: a damped Newton step in both with exact gradients, and
//! where that does not settle, a bracketed search over speed.

use super::lookup::{AT_REST, CARRIED, FoundPlace, LANDINGS, STEEP, TIGHT};
use super::surface::{Gradient, Surface};
use crate::numeric::bracketed;

/// Steps across the map before the bracketed search takes over.
const MAP_STEPS: usize = 30;
/// Relative miss from which one more Newton step across the map needs no check.
const NEAR: f64 = 1e-12;
/// Step of a search across the map after which the whole point is looked at.
const NEARLY: f64 = 1e-4;

impl Surface {
    /// Speed and place with this flow (above 0) and head.
    pub(super) fn speed_and_place(&self, flow: f64, head: f64) -> FoundPlace {
        let (mut speed, mut place) = self.map_guess(flow, head);
        let head_size = head.abs().max(0.005);
        let size = |(m, h): &(Gradient, Gradient)| {
            ((m.value - flow) / flow).abs() + ((h.value - head) / head_size).abs()
        };
        let mut spot = self.flow_and_head(speed, place);
        let mut miss = size(&spot);
        for _ in 0..MAP_STEPS {
            if miss < 4.0 * TIGHT {
                return FoundPlace::at(speed, place);
            }
            let Some((speed_step, place_step)) = newton_step(&spot, flow, head) else {
                break;
            };
            if miss < NEAR {
                // The square of such a miss is beyond the last digit.
                return FoundPlace::at(speed + speed_step, place + place_step);
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
                        return FoundPlace::at(speed, place);
                    }
                    return self.speed_searched(flow, head);
                }
            }
        }
        if miss < 1e-12 {
            FoundPlace::at(speed, place)
        } else {
            self.speed_searched(flow, head)
        }
    }

    /// From a speed and place within the data that are nearly right to the right ones, carried.
    fn landed_on_map(
        &self,
        (mut speed, mut place): (f64, f64),
        (flow, head): (f64, f64),
    ) -> Option<FoundPlace> {
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
                return Some(FoundPlace {
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
    fn speed_searched(&self, flow: f64, head: f64) -> FoundPlace {
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
