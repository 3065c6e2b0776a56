//! Across the speed lines at one place: cubics in speed, blended by similarity.
//!
//! At equal place flow grows nearly with speed and head with its square, so slopes are taken of
//! flow/N and head/N² and turned back into slopes of flow and head. What is exactly similar is
//! reproduced exactly. Slopes are then limited softly where the data rise or fall in one direction;
//! efficiency keeps its three-point slope but for a bound on overshoot.
//!
//! Below the slowest line: similarity, value/N^k constant, joined with its slope. Above the fastest:
//! the slope of value/N^k dies away over a tenth of the speed ([`FADE`]), then similarity.

use super::line::{EFFICIENCY_OVERSHOOT, Line, Triple};
use crate::numeric::dual::Dual;
use crate::numeric::monotone::{end_point, hermite, limited_softly, slack, three_point};

/// Share of the end line's speed over which a slope that is not similarity dies away.
const FADE: f64 = 0.1;
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

/// What is known of a line before the place: its speed and the size of its flow and head.
#[derive(Debug, Clone, Copy, Default)]
struct Station {
    speed: f64,
    flow_size: f64,
    head_size: f64,
    at: Triple,
}

/// Flow, head and efficiency at a speed, rpm (not negative), and a place in 0..1.
pub fn at(lines: &[Line], speed: f64, place: f64) -> State {
    let last = lines.len() - 1;
    let station = |i: usize| Station {
        speed: lines[i].speed(),
        flow_size: lines[i].choke_flow(),
        head_size: lines[i].largest_head(),
        at: lines[i].at(place),
    };
    let i = lines.partition_point(|line| line.speed() <= speed);
    if i == 0 {
        let (first, next) = (station(0), (last > 0).then(|| station(1)));
        return each(|law, of, size| {
            let slope = next.map_or_else(
                || similar(law, &first, of),
                |next| first_slope(law, &first, &next, of, size),
            );
            beyond(law, first.speed, of(&first.at), slope, speed)
        });
    }
    if i > last {
        let here = station(last);
        let before = (last > 0).then(|| station(last - 1));
        let further = (last > 1).then(|| station(last - 2));
        return each(|law, of, size| {
            let slope = before.as_ref().map_or_else(
                || similar(law, &here, of),
                |before| last_slope(law, further.as_ref(), before, &here, of, size),
            );
            beyond(law, here.speed, of(&here.at), slope, speed)
        });
    }
    let (a, b) = (station(i - 1), station(i));
    let before = (i > 1).then(|| station(i - 2));
    let after = (i < last).then(|| station(i + 1));
    each(|law, of, size| {
        let start = before.as_ref().map_or_else(
            || first_slope(law, &a, &b, of, size),
            |before| middle_slope(law, before, &a, &b, of, size),
        );
        let end = after.as_ref().map_or_else(
            || last_slope(law, before.as_ref(), &a, &b, of, size),
            |after| middle_slope(law, &a, &b, after, of, size),
        );
        let width = b.speed - a.speed;
        let u = (speed - a.speed) / width;
        let (value, by_speed) = hermite(of(&a.at), of(&b.at), start, end, width, u);
        Field { value, by_speed }
    })
}

type Of = fn(&Triple) -> Dual;
type Size = fn(&Station) -> f64;

/// Does one thing for each of the three quantities.
fn each(mut work: impl FnMut(Law, Of, Size) -> Field) -> State {
    State {
        flow: work(FLOW, |t| t.flow, |s| s.flow_size),
        head: work(HEAD, |t| t.head, |s| s.head_size),
        efficiency: work(EFFICIENCY, |t| t.efficiency, |_| 1.0),
    }
}

/// Slope of similarity, k y/N.
fn similar(law: Law, here: &Station, of: Of) -> Dual {
    of(&here.at) * (f64::from(law.power) / here.speed)
}

/// Secant of y, and of y/N^k, between two lines.
fn secants(law: Law, a: &Station, b: &Station, of: Of) -> (Dual, Dual) {
    let per_width = 1.0 / (b.speed - a.speed);
    let (ya, yb) = (of(&a.at), of(&b.at));
    let plain = (yb - ya) * per_width;
    let shape = (yb * b.speed.powi(-law.power) - ya * a.speed.powi(-law.power)) * per_width;
    (plain, shape)
}

/// The slope of y at a line from the slope of y/N^k, within the bounds of its secants.
fn slope_from_shape(
    law: Law,
    here: &Station,
    shape: Dual,
    (before, after): (Dual, Dual),
    (of, size): (Of, Size),
    widest: f64,
) -> Dual {
    let slope = similar(law, here, of) + shape * here.speed.powi(law.power);
    let ease = EASE * f64::from(law.power.max(1)) * size(here) / here.speed;
    limited_softly(slope, before, after, slack(law.overshoot, widest), ease)
}

/// Slope at the slowest line: that of similarity.
fn first_slope(law: Law, here: &Station, next: &Station, of: Of, size: Size) -> Dual {
    let (secant, _) = secants(law, here, next, of);
    let width = next.speed - here.speed;
    slope_from_shape(
        law,
        here,
        Dual::default(),
        (secant, secant),
        (of, size),
        width,
    )
}

/// Slope at a line between two others.
fn middle_slope(
    law: Law,
    before: &Station,
    here: &Station,
    after: &Station,
    of: Of,
    size: Size,
) -> Dual {
    let (plain_before, shape_before) = secants(law, before, here, of);
    let (plain_after, shape_after) = secants(law, here, after, of);
    let (wide_before, wide_after) = (here.speed - before.speed, after.speed - here.speed);
    let shape = three_point(shape_before, shape_after, wide_before, wide_after);
    let widest = wide_before.max(wide_after);
    slope_from_shape(
        law,
        here,
        shape,
        (plain_before, plain_after),
        (of, size),
        widest,
    )
}

/// Slope at the fastest line: that of the parabola through the last three, or of the last secant.
fn last_slope(
    law: Law,
    further: Option<&Station>,
    before: &Station,
    here: &Station,
    of: Of,
    size: Size,
) -> Dual {
    let (plain, shape) = secants(law, before, here, of);
    let width = here.speed - before.speed;
    let shape = further.map_or(shape, |further| {
        let (_, far) = secants(law, further, before, of);
        end_point(shape, far, width, before.speed - further.speed)
    });
    slope_from_shape(law, here, shape, (plain, plain), (of, size), width)
}

/// Beyond the end line at `end` rpm with `value` and `slope` there; see the module's text.
fn beyond(law: Law, end: f64, value: Dual, slope: Dual, speed: f64) -> Field {
    let power = f64::from(law.power);
    // Shape y/N^k and its slope, counted in units of N^k at the end line.
    let shape_slope = slope - value * (power / end);
    let fade = FADE * end;
    let away = speed - end;
    let room = 1.0 + away.abs() / fade;
    let shape = value + shape_slope * (away / room);
    let by_speed = shape_slope * (1.0 / (room * room));
    let ratio = speed / end;
    let scale = ratio.powi(law.power);
    let scale_slope = if law.power == 0 {
        0.0
    } else {
        power * ratio.powi(law.power - 1) / end
    };
    Field {
        value: shape * scale,
        by_speed: by_speed * scale + shape * scale_slope,
    }
}
