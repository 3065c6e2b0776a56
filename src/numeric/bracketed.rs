//! A root between two ends by Newton steps that a shrinking bracket keeps honest.

/// Most steps before the bracket counts as small enough; bisection alone halves it to 1e-18 in 60.
const MOST_STEPS: usize = 120;

/// The place between `low` and `high` where a function first stops being negative.
///
/// `f` returns value and slope (0 when it knows none), is negative at `low` and not at `high`; both
/// are taken on trust. Steps that leave the bracket, or shrink it too little, become bisections, so
/// that a flat stretch of zeros gives its near end. Ends where |value| is at most `enough`, or where
/// the bracket has no number left inside.
pub fn first_not_below(
    f: impl Fn(f64) -> (f64, f64),
    (mut low, mut high): (f64, f64),
    guess: f64,
    enough: f64,
) -> f64 {
    let mut x = if guess > low && guess < high {
        guess
    } else {
        0.5 * (low + high)
    };
    let mut last_width = f64::INFINITY;
    for _ in 0..MOST_STEPS {
        let (value, slope) = f(x);
        let newton = x - value / slope;
        if value < 0.0 {
            low = x;
        } else {
            high = x;
        }
        if slope > 0.0 && value.abs() <= enough {
            return x;
        }
        // The square of such a step is beyond the last digit.
        if slope > 0.0 && (newton - x).abs() <= 1e-11 * x.abs() {
            return newton.clamp(low, high);
        }
        let width = high - low;
        let slow = width > 0.5 * last_width;
        last_width = width;
        let usable = newton.is_finite() && newton > low && newton < high && slope > 0.0;
        let next = if usable && (!slow || (newton - x).abs() < 0.25 * width) {
            newton
        } else {
            0.5 * (low + high)
        };
        if next <= low || next >= high {
            return high;
        }
        x = next;
    }
    high
}

#[cfg(test)]
mod tests {
    use super::first_not_below;

    #[test]
    fn a_plain_root_is_found_to_the_last_digits() {
        let root = first_not_below(|x| (x * x - 2.0, 2.0 * x), (0.0, 2.0), 1.0, 1e-16);
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-15);
    }

    #[test]
    fn without_a_slope_it_bisects() {
        let root = first_not_below(|x| (x.powi(3) - 0.3, 0.0), (0.0, 1.0), 0.9, 0.0);
        assert!((root - 0.3_f64.cbrt()).abs() < 1e-15);
    }

    #[test]
    fn a_stretch_of_zeros_gives_its_near_end() {
        let ramp = |x: f64| {
            if x < 0.7 {
                (-(0.7 - x).powi(2), 2.0 * (0.7 - x))
            } else {
                (0.0, 0.0)
            }
        };
        let root = first_not_below(ramp, (0.0, 1.0), 0.9, 0.0);
        // At a double root the error is as large as the last step, 1e-11 of the place.
        assert!((root - 0.7).abs() < 1e-10, "{root}");
    }
}
