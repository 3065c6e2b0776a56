//! From values to places: an axis as the caller names it, and its scale with round numbers.

use super::error::PlotError;

/// How an axis is named and how its SI values become shown ones (`kPa gauge` wants the site's
/// pressure, hence a closure). The words carry the unit, and absolute or gauge for a pressure.
#[derive(Clone, Copy)]
pub struct Axis<'a> {
    /// Name with unit, such as `boost, kPa (gauge)`.
    pub words: &'a str,
    /// From SI to the shown unit; rising.
    pub shown: &'a dyn Fn(f64) -> f64,
}

impl std::fmt::Debug for Axis<'_> {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_struct("Axis")
            .field("words", &self.words)
            .finish_non_exhaustive()
    }
}

/// Largest magnitude that an axis shows; ten digits are more than anybody reads.
const LARGEST: f64 = 1e10;

impl Axis<'_> {
    /// One value in the shown unit, or the reason why it cannot be drawn.
    pub(crate) fn show(&self, value: f64, what: &str, place: usize) -> Result<f64, PlotError> {
        let shown = if value.is_finite() {
            (self.shown)(value)
        } else {
            value
        };
        if !shown.is_finite() {
            return Err(PlotError::NotFinite {
                what: what.to_owned(),
                place: place + 1,
            });
        }
        if shown.abs() > LARGEST {
            return Err(PlotError::TooLarge {
                what: what.to_owned(),
                place: place + 1,
                value: shown,
            });
        }
        Ok(shown)
    }
}

/// Smallest and largest of the values; none where there is no value.
pub(crate) fn extent(values: impl Iterator<Item = f64>) -> Span {
    values.fold(None, |range, value| match range {
        None => Some((value, value)),
        Some((low, high)) => Some((low.min(value), high.max(value))),
    })
}

/// Smallest and largest of some values; none where there is no value.
pub(crate) type Span = Option<(f64, f64)>;

/// A straight scale from a range of values to a range of places.
#[derive(Debug, Clone)]
pub(crate) struct Scale {
    pub from: f64,
    pub to: f64,
    step: f64,
    pub start: f64,
    pub end: f64,
}

impl Scale {
    /// A scale that covers the data with at most about `ticks` round numbers and ends on them or
    /// midway between two; one that shall start at zero does where the data lie near it, else on a number.
    pub(crate) fn new(data: Span, from_zero: bool, ticks: f64) -> Self {
        let (low, high) = widened(data.unwrap_or((0.0, 1.0)));
        let zero = from_zero && low > 0.0 && low < 0.3 * high;
        let from = if zero { 0.0 } else { low };
        let step = round_step((high - from) / ticks);
        let half = step / 2.0;
        let start = if from_zero { step } else { half };
        Self {
            // The 1e-6 may leave a value outside by a millionth of a step.
            from: ((from / start + 1e-6).floor() * start).min(low),
            to: ((high / half - 1e-6).ceil() * half).max(high),
            step,
            start: 0.0,
            end: 1.0,
        }
    }

    /// A scale from one value to another, for rows that have names in place of numbers.
    pub(crate) fn between(from: f64, to: f64) -> Self {
        Self {
            from,
            to,
            step: to - from,
            start: 0.0,
            end: 1.0,
        }
    }

    /// The same scale laid from one place to another.
    pub(crate) fn laid(mut self, start: f64, end: f64) -> Self {
        (self.start, self.end) = (start, end);
        self
    }

    /// The place of a value.
    pub(crate) fn at(&self, value: f64) -> f64 {
        self.start + (value - self.from) / (self.to - self.from) * (self.end - self.start)
    }

    /// The round numbers inside the range.
    pub(crate) fn ticks(&self) -> Vec<f64> {
        let first = (self.from / self.step - 1e-6).ceil();
        (0..60_u32)
            .map(|count| (first + f64::from(count)) * self.step)
            .take_while(|&tick| tick <= self.to + 1e-6 * self.step)
            // 0 and not -0.
            .map(|tick| tick + 0.0)
            .collect()
    }

    /// A number of this axis in words, with the digits that its step needs.
    pub(crate) fn words(&self, value: f64) -> String {
        number(value, self.step)
    }
}

/// A range that has a width, also where all values are equal.
fn widened((from, to): (f64, f64)) -> (f64, f64) {
    let size = from.abs().max(to.abs());
    if to - from > 1e-6 * size && to - from > 1e-9 {
        return (from, to);
    }
    let room = if size > 1e-6 { 0.05 * size } else { 1.0 };
    (from - room, to + room)
}

/// The smallest of 1, 2, 2.5, 5 × a power of ten that is not below `least`.
fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    [1.0, 2.0, 2.5, 5.0]
        .into_iter()
        .map(|factor| factor * power)
        .find(|&step| step >= least * (1.0 - 1e-9))
        .unwrap_or(10.0 * power)
}

/// A number with as many decimals as `step` has, and with commas between thousands.
pub fn number(value: f64, step: f64) -> String {
    let decimals = (0..=12_usize).find(|&digits| {
        let scaled = step * 10_f64.powi(i32::try_from(digits).unwrap_or(0));
        (scaled - scaled.round()).abs() < 1e-6 * scaled
    });
    let text = format!("{:.*}", decimals.unwrap_or(12), value.abs());
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let mut grouped = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place) % 3 == 0 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let zero = text.chars().all(|sign| sign == '0' || sign == '.');
    // The minus sign is as wide as a digit and does not break.
    let sign = if value < 0.0 && !zero { "\u{2212}" } else { "" };
    format!("{sign}{grouped}{rest}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_have_the_digits_of_their_step() {
        assert_eq!(number(3200.0, 400.0), "3,200");
        assert_eq!(number(0.30000000000000004, 0.05), "0.30");
        assert_eq!(number(-12.5, 2.5), "\u{2212}12.5");
        assert_eq!(number(-1e-17, 0.5), "0.0");
        assert_eq!(number(1_234_567.0, 1.0), "1,234,567");
    }

    #[test]
    fn a_scale_ends_on_round_numbers_and_leaves_no_third_empty() {
        for (data, from_zero, span) in [
            ((1200.0, 3200.0), false, (1000.0, 3250.0)),
            ((1.08, 3.55), false, (1.0, 3.75)),
            ((7.0, 185.0), true, (0.0, 200.0)),
            ((97.0, 99.0), true, (97.0, 99.0)),
        ] {
            let scale = Scale::new(Some(data), from_zero, 6.0);
            let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
            assert!(
                near(scale.from, span.0) && near(scale.to, span.1),
                "{scale:?}"
            );
        }
    }

    #[test]
    fn equal_values_get_an_axis_with_a_width() {
        for value in [0.0, 5.0, -3.0, 1e10, 1e-9] {
            let scale = Scale::new(Some((value, value)), false, 6.0);
            assert!(
                scale.from < scale.to && !scale.ticks().is_empty(),
                "{value}: {scale:?}"
            );
        }
    }

    #[test]
    fn a_value_that_is_no_number_is_named_by_its_place() {
        let axis = Axis {
            words: "x",
            shown: &|v| v,
        };
        let error = axis.show(f64::INFINITY, "boost", 2);
        assert_eq!(
            error,
            Err(PlotError::NotFinite {
                what: "boost".to_owned(),
                place: 3
            })
        );
        let overflow = Axis {
            words: "x",
            shown: &|v| v * 1e300,
        };
        assert!(matches!(
            overflow.show(1e200, "boost", 0),
            Err(PlotError::NotFinite { .. })
        ));
        assert!(matches!(
            axis.show(1e300, "boost", 0),
            Err(PlotError::TooLarge { .. })
        ));
    }

    proptest! {
        #[test]
        fn every_scale_covers_its_data_with_a_few_distinct_numbers(
            a in -1e10..1e10_f64, width in 0.0..1e10_f64, shrink in 0..20_i32
        ) {
            let (a, width) = (a * 10_f64.powi(-shrink), width * 10_f64.powi(-shrink));
            for from_zero in [false, true] {
                let scale = Scale::new(Some((a, a + width)), from_zero, 6.0);
                prop_assert!(scale.from <= a && scale.to >= a + width);
                let ticks = scale.ticks();
                prop_assert!((1..=16).contains(&ticks.len()), "{:?}", ticks);
                let words: std::collections::BTreeSet<String> =
                    ticks.iter().map(|&tick| scale.words(tick)).collect();
                prop_assert_eq!(words.len(), ticks.len(), "{:?} {:?}", ticks, words);
            }
        }
    }
}
