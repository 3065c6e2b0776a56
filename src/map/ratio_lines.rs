//! Lines of values over a ratio, one line a speed: what supercharger and turbine maps have in common.
//!
//! Along a line cubics over the ratio, across speed cubics at equal ratio. Beyond its first and last
//! ratio each line goes on by a rule of its owner, so that lines of unequal length can be joined.

use super::error::{Column, MapError, Remark};
use super::grouping::{self, Group};
use super::region::Region;
use crate::numeric::dual::Dual;
use crate::numeric::monotone::{self, Weights, end_point, limited_softly, slack, three_point};

/// Points that a line needs.
const POINTS_PER_LINE: usize = 2;
/// Share of a secant's size below which a monotone bound closes smoothly.
const EASE: f64 = 0.05;
/// What efficiency may overshoot by, along a line and again across lines.
pub const EFFICIENCY_OVERSHOOT: f64 = 0.0025;

/// A row as the sheet sees it: speed, ratio, and two values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatioRow {
    /// Speed, rpm.
    pub speed: f64,
    /// The ratio that the line runs over.
    pub ratio: f64,
    /// What flows: slip, flow.
    pub main: f64,
    /// Efficiency.
    pub efficiency: f64,
}

/// One line: a column of ratios with two cubics.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    speed: f64,
    ratio: Vec<f64>,
    /// Value and slope of the main quantity and of efficiency.
    knots: Vec<[Dual; 2]>,
}

impl Profile {
    fn new(speed: f64, entries: &[RatioRow]) -> Self {
        let column = |of: fn(&RatioRow) -> f64| entries.iter().map(of).collect::<Vec<f64>>();
        let ratio = column(|e| e.ratio);
        let cubic = |values: Vec<f64>, overshoot: f64| -> Vec<Dual> {
            let mut slopes = monotone::free_slopes(&ratio, &values);
            monotone::limit_slopes(&ratio, &values, &mut slopes, overshoot);
            values
                .into_iter()
                .zip(slopes)
                .map(|(value, slope)| Dual::new(value, slope))
                .collect()
        };
        let main = cubic(column(|e| e.main), 0.0);
        let efficiency = cubic(column(|e| e.efficiency), EFFICIENCY_OVERSHOOT);
        let knots = main
            .into_iter()
            .zip(efficiency)
            .map(|(m, e)| [m, e])
            .collect();
        Self {
            speed,
            ratio,
            knots,
        }
    }

    /// Speed, rpm.
    pub fn speed(&self) -> f64 {
        self.speed
    }

    /// Ratio, main quantity and efficiency of each point.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        let points = self.ratio.iter().zip(&self.knots);
        points.map(|(ratio, [main, efficiency])| (*ratio, main.value, efficiency.value))
    }

    /// First and last ratio.
    pub fn range(&self) -> (f64, f64) {
        (self.ratio[0], self.ratio[self.ratio.len() - 1])
    }

    /// Value and slope at a ratio; beyond the ends those of the end.
    fn at(&self, column: usize, ratio: f64) -> Dual {
        let (first, last) = self.range();
        let ratio = ratio.clamp(first, last);
        let i = monotone::segment(&self.ratio, ratio);
        let width = self.ratio[i + 1] - self.ratio[i];
        let (a, b) = (self.knots[i][column], self.knots[i + 1][column]);
        let u = (ratio - self.ratio[i]) / width;
        let (value, slope) = Weights::new(width, u).cubic((a.value, b.value), (a.slope, b.slope));
        Dual::new(value, slope)
    }

    /// The main quantity, and how far the ratio lies beyond the line's end (signed).
    pub fn main(&self, ratio: f64) -> (Dual, f64) {
        (self.at(0, ratio), self.beyond(ratio))
    }

    /// Efficiency, and how far the ratio lies beyond the line's end (signed).
    pub fn efficiency(&self, ratio: f64) -> (Dual, f64) {
        (self.at(1, ratio), self.beyond(ratio))
    }

    fn beyond(&self, ratio: f64) -> f64 {
        let (first, last) = self.range();
        ratio - ratio.clamp(first, last)
    }
}

/// A value between or beyond the speeds of the lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Blend {
    /// Between two lines, or on the only one.
    Between(f64),
    /// Below the slowest: its value and slope by speed.
    Below(f64, f64),
    /// Above the fastest: its value and slope by speed.
    Above(f64, f64),
}

/// Lines by rising speed.
#[derive(Debug, Clone, PartialEq)]
pub struct RatioLines {
    profiles: Vec<Profile>,
}

impl RatioLines {
    /// Groups entries into lines; `checks` gives what each column of a row must satisfy.
    pub fn new(
        entries: &[RatioRow],
        checks: impl Fn(&RatioRow) -> [(Column, f64, f64, f64); 4],
        remarks: &mut Vec<Remark>,
        mut errors: Vec<MapError>,
        carry: fn(RatioRow, f64) -> RatioRow,
    ) -> Result<Self, Vec<MapError>> {
        if entries.is_empty() {
            errors.push(MapError::NoRows);
        }
        for (row, entry) in entries.iter().enumerate() {
            errors.extend(
                checks(entry)
                    .into_iter()
                    .filter_map(|c| MapError::of_value(row, c)),
            );
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let keyed: Vec<_> = entries
            .iter()
            .enumerate()
            .map(|(i, e)| (i, [e.speed, e.ratio], [e.main, e.efficiency]))
            .collect();
        let kept = grouping::without_repeats(&keyed, remarks, &mut errors);
        let speeds: Vec<_> = kept.iter().map(|&row| (row, entries[row].speed)).collect();
        let mut profiles = Vec::new();
        for group in grouping::by_speed(&speeds, POINTS_PER_LINE) {
            match profile(entries, &group, carry) {
                Ok((profile, rows)) => {
                    remarks.extend(group.remark(rows));
                    profiles.push(profile);
                }
                Err(error) => errors.push(error),
            }
        }
        if errors.is_empty() {
            Ok(Self { profiles })
        } else {
            Err(errors)
        }
    }

    /// The lines, slowest first.
    pub fn profiles(&self) -> &[Profile] {
        &self.profiles
    }

    /// Lowest and highest speed, rpm.
    pub fn speeds(&self) -> (f64, f64) {
        (
            self.profiles[0].speed,
            self.profiles[self.profiles.len() - 1].speed,
        )
    }

    /// Where a speed and ratio lie with respect to the data; of two edges the farther first.
    pub fn region(&self, speed: f64, ratio: f64) -> (Region, Region) {
        let i = self.interval(speed);
        let (a, b) = (
            &self.profiles[i],
            &self.profiles[(i + 1).min(self.profiles.len() - 1)],
        );
        let width = b.speed - a.speed;
        let share = if width > 0.0 {
            ((speed - a.speed) / width).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let between = |a: f64, b: f64| a + share * (b - a);
        let ends = (
            between(a.range().0, b.range().0),
            between(a.range().1, b.range().1),
        );
        let across = Region::of_speed(speed, self.speeds());
        Region::sorted(across, Region::of_ratio(ratio, ends))
    }

    /// The slower line of the interval around a speed.
    fn interval(&self, speed: f64) -> usize {
        let faster = self.profiles.partition_point(|p| p.speed <= speed);
        faster.clamp(1, self.profiles.len().max(2) - 1) - 1
    }

    /// Joins what the lines give at one ratio across speed.
    ///
    /// Three-point slopes, limited softly where the lines rise or fall in one direction.
    pub fn blend(&self, speed: f64, overshoot: f64, value: impl Fn(&Profile) -> Dual) -> Blend {
        let last = self.profiles.len() - 1;
        if last == 0 {
            return Blend::Between(value(&self.profiles[0]).value);
        }
        let i = self.interval(speed);
        let line = |k: usize| (self.profiles[k].speed, value(&self.profiles[k]));
        let (a, b) = (line(i), line(i + 1));
        let before = (i > 0).then(|| line(i - 1));
        let after = (i + 1 < last).then(|| line(i + 2));
        if speed >= b.0 && i + 1 == last {
            return Blend::Above(b.1.value, slope_at(b, Some(a), None, before, overshoot));
        }
        let start = slope_at(a, before, Some(b), after, overshoot);
        if speed < a.0 {
            return Blend::Below(a.1.value, start);
        }
        let end = slope_at(b, Some(a), after, before, overshoot);
        let u = (speed - a.0) / (b.0 - a.0);
        Blend::Between(
            Weights::new(b.0 - a.0, u)
                .cubic((a.1.value, b.1.value), (start, end))
                .0,
        )
    }
}

type Here = (f64, Dual);

/// Slope by speed at a line from its neighbours; at an end of the map from the two on one side.
fn slope_at(
    here: Here,
    before: Option<Here>,
    after: Option<Here>,
    further: Option<Here>,
    overshoot: f64,
) -> f64 {
    let secant = |a: Here, b: Here| (b.1 - a.1) * (1.0 / (b.0 - a.0));
    let width = |a: Here, b: Here| (b.0 - a.0).abs();
    let ease = EASE * here.1.value.abs() / here.0;
    match (before, after) {
        (Some(a), Some(b)) => {
            let (low, high) = (secant(a, here), secant(here, b));
            let raw = three_point(low, high, width(a, here), width(here, b));
            let slack = slack(overshoot, width(a, here).max(width(here, b)));
            limited_softly(raw, low, high, slack, ease).value
        }
        (Some(near), None) | (None, Some(near)) => {
            let secant_near = secant(near, here);
            let raw = further.map_or(secant_near, |far| {
                end_point(
                    secant_near,
                    secant(far, near),
                    width(near, here),
                    width(far, near),
                )
            });
            let slack = slack(overshoot, width(near, here));
            limited_softly(raw, secant_near, secant_near, slack, ease).value
        }
        (None, None) => 0.0,
    }
}

/// A line from its group, rows carried to its speed and sorted by ratio.
fn profile(
    entries: &[RatioRow],
    group: &Group,
    carry: fn(RatioRow, f64) -> RatioRow,
) -> Result<(Profile, Vec<usize>), MapError> {
    let speed = group.speed;
    let mut rows = group.rows.clone();
    if rows.len() < POINTS_PER_LINE {
        return Err(MapError::TooFewPoints {
            speed,
            rows,
            needed: POINTS_PER_LINE,
        });
    }
    rows.sort_by(|&a, &b| entries[a].ratio.total_cmp(&entries[b].ratio));
    for pair in rows.windows(2) {
        if entries[pair[0]].ratio >= entries[pair[1]].ratio {
            let (first, second) = (pair[0].min(pair[1]), pair[0].max(pair[1]));
            return Err(MapError::Contradiction { first, second });
        }
    }
    let carried: Vec<RatioRow> = rows.iter().map(|&row| carry(entries[row], speed)).collect();
    Ok((Profile::new(speed, &carried), rows))
}
