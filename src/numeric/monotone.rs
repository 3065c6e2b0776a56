//! Cubic Hermite interpolation with three-point slopes that are limited where the data is monotone.
//!
//! A cubic on one interval is monotone when both end slopes lie between 0 and three times the
//! secant (Fritsch and Carlson, SIAM J. Numer. Anal. 17, 1980; the square inside their region).
//! Two limiters keep to that: [`limited`] cuts hard, [`limited_softly`] bends into the bound with a
//! continuous derivative, for slopes that themselves vary with a second coordinate.

use std::ops::{Add, Mul, Sub};

use super::dual::Dual;

/// What a slope may be made of: plain numbers, or numbers that carry a derivative.
pub trait Number: Copy + Add<Output = Self> + Sub<Output = Self> + Mul<f64, Output = Self> {}
impl Number for f64 {}
impl Number for Dual {}

/// Slope of the parabola through three points, taken at the middle one.
///
/// `before` and `after` are the secants of the two intervals, of widths `width_before` and
/// `width_after`. Exact for a parabola; error of second order for anything smooth.
pub fn three_point<T: Number>(before: T, after: T, width_before: f64, width_after: f64) -> T {
    let both = width_before + width_after;
    before * (width_after / both) + after * (width_before / both)
}

/// Slope at a point from the four secants around it, leaning to the side that bends less.
///
/// `secants` are those of the second and first interval before, and of the first and second after.
/// The parabola's weights are multiplied by those of Akima's method (J. ACM 17, 1970) in the form
/// that also counts the size of the secants (known as modified Akima), with the magnitudes smoothed
/// by `ease` so that the slope itself varies smoothly. Second order, as the parabola; a single line
/// that stands out pulls its neighbours less.
pub fn leaning(
    [d0, d1, d2, d3]: [Dual; 4],
    width_before: f64,
    width_after: f64,
    ease: f64,
) -> Dual {
    let unrest =
        |a: Dual, b: Dual| (a - b).soft_magnitude(ease) + (a + b).soft_magnitude(ease) * 0.5;
    let before = unrest(d3, d2) * width_after;
    let after = unrest(d1, d0) * width_before;
    (before * d1 + after * d2) / (before + after)
}

/// Slope of the same parabola, taken at the outer end of the interval `near`.
///
/// `near` is the secant of the end interval, `far` that of its neighbour.
pub fn end_point<T: Number>(near: T, far: T, width_near: f64, width_far: f64) -> T {
    near + (near - far) * (width_near / (width_near + width_far))
}

/// A slope cut back so that both neighbouring cubics stay monotone.
///
/// With secants of opposite sign the result is 0 (a data extremum stays one). `slack` widens the
/// permitted range on either side, for quantities that may overshoot a little.
pub fn limited(slope: f64, before: f64, after: f64, slack: f64) -> f64 {
    let upper = 3.0 * before.min(after).max(0.0) + slack;
    let lower = 3.0 * before.max(after).min(0.0) - slack;
    slope.clamp(lower, upper)
}

/// As [`limited`], but with a continuous derivative in every argument.
///
/// `ease` is a small secant, by the order of magnitude of the data: below it the bound closes
/// smoothly rather than with a kink. Slopes below two thirds of the bound pass unchanged.
pub fn limited_softly(slope: Dual, before: Dual, after: Dual, slack: f64, ease: f64) -> Dual {
    // Well inside: nothing to bend. (slope below two thirds of both bounds, without the divisions.)
    let (low, high) = (before.value.min(after.value), before.value.max(after.value));
    let least = if low > 0.0 { low } else { -high };
    let rise = if low > 0.0 { slope.value } else { -slope.value };
    if least > 0.0 && rise >= 0.0 && rise * (least + ease) <= 2.0 * least * least {
        return slope;
    }
    let upper = |secant| positive_part(secant, ease) * 3.0 + Dual::constant(slack);
    let capped = below(below(slope, upper(before)), upper(after));
    -below(below(-capped, upper(-before)), upper(-after))
}

/// a² / (a + ease) for a > 0, else 0: tends to a, leaves zero without a kink.
fn positive_part(a: Dual, ease: f64) -> Dual {
    if a.value <= 0.0 {
        return Dual::constant(0.0);
    }
    let sum = a.value + ease;
    let value = a.value * a.value / sum;
    Dual::new(
        value,
        a.slope * a.value * (a.value + 2.0 * ease) / (sum * sum),
    )
}

/// The smaller of `y` and `cap` (cap not negative), joined by a parabola from 2/3 to 4/3 of the cap.
fn below(y: Dual, cap: Dual) -> Dual {
    let knee = cap.value * (2.0 / 3.0);
    if y.value <= knee {
        return y;
    }
    if y.value >= 2.0 * knee {
        return cap;
    }
    // y - (y - k)²/(2k) with k = 2/3 cap; k > 0 because knee < y < 2 knee.
    let over = (y.value - knee) / knee;
    let slope_knee = cap.slope * (2.0 / 3.0);
    Dual::new(
        y.value - 0.5 * over * over * knee,
        y.slope - over * (y.slope - slope_knee) + 0.5 * over * over * slope_knee,
    )
}

/// What the ends of one interval count for in value and slope of the cubic, at a share of the way.
///
/// The four Hermite polynomials. At either end they are 0 and 1 to the last bit, and so is the datum.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Weights {
    /// Value: of the end values and, times the width, of the end slopes.
    value: [f64; 4],
    /// Slope: of the difference of the end values and of the end slopes.
    slope: [f64; 3],
}

impl Weights {
    /// At `u` = 0..1 of an interval of this `width`.
    pub fn new(width: f64, u: f64) -> Self {
        Self::scaled(width, width.recip(), u)
    }

    /// At `u` = 0..1 of an interval of this width and its reciprocal.
    #[inline]
    pub fn scaled(width: f64, per_width: f64, u: f64) -> Self {
        let v = 1.0 - u;
        Self {
            value: [
                (1.0 + 2.0 * u) * v * v,
                (1.0 + 2.0 * v) * u * u,
                u * v * v * width,
                -v * u * u * width,
            ],
            slope: [
                6.0 * u * v * per_width,
                v * (1.0 - 3.0 * u),
                u * (1.0 - 3.0 * v),
            ],
        }
    }

    /// Value and slope from the values `y` and slopes `s` at the two ends.
    pub fn cubic<T: Number>(&self, (y0, y1): (T, T), (s0, s1): (T, T)) -> (T, T) {
        let [a, b, c, d] = self.value;
        let [rise, e, f] = self.slope;
        (
            y0 * a + y1 * b + s0 * c + s1 * d,
            (y1 - y0) * rise + s0 * e + s1 * f,
        )
    }
}

/// Three-point slopes for a row of data, not limited; `x` strictly rising, at least two points.
pub fn free_slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let (widths, secants) = intervals(x, y);
    let last = secants.len() - 1;
    let mut result = vec![secants[0]; x.len()];
    if last == 0 {
        return result;
    }
    result[0] = end_point(secants[0], secants[1], widths[0], widths[1]);
    result[last + 1] = end_point(
        secants[last],
        secants[last - 1],
        widths[last],
        widths[last - 1],
    );
    for i in 1..=last {
        result[i] = three_point(secants[i - 1], secants[i], widths[i - 1], widths[i]);
    }
    result
}

/// The slopes, limited; `overshoot` is what the curve may leave the range of two neighbouring data
/// by, 0 for none.
pub fn limit_slopes(x: &[f64], y: &[f64], slopes: &mut [f64], overshoot: f64) {
    let (widths, secants) = intervals(x, y);
    let last = secants.len() - 1;
    for (i, slope) in slopes.iter_mut().enumerate() {
        let (before, after) = (i.max(1) - 1, i.min(last));
        let widest = widths[before].max(widths[after]);
        *slope = limited(
            *slope,
            secants[before],
            secants[after],
            slack(overshoot, widest),
        );
    }
}

/// Width and secant of every interval.
fn intervals(x: &[f64], y: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let widths: Vec<f64> = x.windows(2).map(|w| w[1] - w[0]).collect();
    let secants = y
        .windows(2)
        .zip(&widths)
        .map(|(w, h)| (w[1] - w[0]) / h)
        .collect();
    (widths, secants)
}

/// The extra slope that lets a cubic overshoot by no more than `overshoot`.
///
/// The two slope terms of a Hermite cubic reach 4/27 of width × slope each.
pub fn slack(overshoot: f64, width: f64) -> f64 {
    overshoot * 27.0 / (8.0 * width)
}

/// A cubic through given points, monotone where they are.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
}

impl Curve {
    /// Through the points (`x`, `y`), at least two, `x` strictly rising; `None` otherwise.
    pub fn new(x: Vec<f64>, y: Vec<f64>, overshoot: f64) -> Option<Self> {
        let rising = x.windows(2).all(|w| w[0] < w[1]);
        let finite = x.iter().chain(&y).all(|v| v.is_finite());
        if x.len() < 2 || x.len() != y.len() || !rising || !finite {
            return None;
        }
        let mut slope = free_slopes(&x, &y);
        limit_slopes(&x, &y, &mut slope, overshoot);
        Some(Self { x, y, slope })
    }

    /// First and last abscissa.
    pub fn range(&self) -> (f64, f64) {
        (self.x[0], self.x[self.x.len() - 1])
    }

    /// Value and slope at `x`; beyond the ends those of the end.
    pub fn at(&self, x: f64) -> (f64, f64) {
        let (first, last) = self.range();
        let x = x.clamp(first, last);
        let i = segment(&self.x, x);
        let width = self.x[i + 1] - self.x[i];
        let u = (x - self.x[i]) / width;
        Weights::new(width, u).cubic(
            (self.y[i], self.y[i + 1]),
            (self.slope[i], self.slope[i + 1]),
        )
    }
}

/// Index of the interval of a rising row that holds `x`; the end intervals beyond its ends.
pub fn segment(rising: &[f64], x: f64) -> usize {
    rising
        .partition_point(|knot| *knot <= x)
        .clamp(1, rising.len() - 1)
        - 1
}
