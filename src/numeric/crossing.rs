//! Changes of sign along a row of samples.

/// A change of sign between two neighbouring samples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// Index of the sample above it.
    pub above: usize,
    /// Where a straight line between the two samples is 0.
    pub at: f64,
    /// Whether the values fall through 0.
    pub falls: bool,
}

/// Every change of sign along samples (x, y) in rising x. A sample of exactly 0 is passed over, so
/// that touching 0 is no change, and 0 at the first sample is none either.
pub fn crossings(samples: impl IntoIterator<Item = (f64, f64)>) -> Vec<Crossing> {
    let mut found = Vec::new();
    let mut last: Option<(f64, f64)> = None;
    for (above, (x, y)) in samples.into_iter().enumerate() {
        if let Some((x0, y0)) = last {
            let falls = y0 > 0.0 && y < 0.0;
            let rises = y0 < 0.0 && y > 0.0;
            if falls || rises {
                found.push(Crossing {
                    above,
                    at: x0 + (x - x0) * y0 / (y0 - y),
                    falls,
                });
            }
        }
        // A zero in between leaves the sign that was there standing.
        if y.abs() > 0.0 || last.is_none() {
            last = Some((x, y));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Engines have been seen to hold a high boost only once they had been blown up to it. An
    /// invented table of turbine less compressor power over pressure ratio with that shape, whose
    /// zeros by hand are 1.3125, 1.6714 and 2.1.
    #[test]
    fn of_three_balances_the_first_and_the_last_are_stable() {
        let table = [
            (1.0, 0.8),
            (1.2, 0.3),
            (1.35, -0.1),
            (1.5, -0.3),
            (1.7, 0.05),
            (1.9, 0.4),
            (2.2, -0.2),
        ];
        let found = crossings(table);
        let at: Vec<_> = found.iter().map(|crossing| crossing.at).collect();
        let falls: Vec<_> = found.iter().map(|crossing| crossing.falls).collect();
        assert_eq!(falls, [true, false, true]);
        for (at, right) in at.iter().zip([1.3125, 1.671_428_6, 2.1]) {
            assert_relative_eq!(*at, right, epsilon = 1e-6);
        }
    }

    #[test]
    fn touching_zero_is_no_change_of_sign() {
        assert!(crossings([(0.0, 1.0), (1.0, 0.0), (2.0, 1.0)]).is_empty());
        assert!(crossings([(0.0, 0.0), (1.0, 1.0)]).is_empty());
    }

    #[test]
    fn a_sample_of_zero_on_the_way_down_is_one_change() {
        let found = crossings([(0.0, 1.0), (1.0, 0.0), (2.0, -1.0)]);
        assert_eq!(found.len(), 1);
        assert_relative_eq!(found[0].at, 1.0);
    }
}
