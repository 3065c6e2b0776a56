//! From rows in any order to speed lines: which rows belong together, and at what speed.

use super::error::{MapError, Remark};

/// Rows whose speeds lie within this share of each other are one line.
pub const SPEED_SCATTER: f64 = 0.01;

/// One group of rows, as indices into the rows given, and the speed of the line they make.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Speed of the line, rpm: the common one, or the median.
    pub speed: f64,
    /// Indices of the rows.
    pub rows: Vec<usize>,
    /// Lowest and highest speed that were put together, rpm.
    pub range: (f64, f64),
}

impl Group {
    /// Whether rows of different speed were put together.
    pub fn is_scattered(&self) -> bool {
        self.range.0 < self.range.1
    }

    /// The remark that says so.
    pub fn remark(&self, rows: Vec<usize>) -> Option<Remark> {
        let (lowest, highest) = self.range;
        self.is_scattered().then_some(Remark::SpeedsGrouped {
            speed: self.speed,
            lowest,
            highest,
            rows,
        })
    }
}

/// Sorts rows into lines by their speeds, slowest first.
///
/// Where every speed occurs often enough to be a line of its own (`needed` rows), the speeds are
/// taken as exact. Otherwise rows within [`SPEED_SCATTER`] of the slowest of their group are one line
/// at the median speed.
pub fn by_speed(speeds: &[(usize, f64)], needed: usize) -> Vec<Group> {
    let mut sorted = speeds.to_vec();
    sorted.sort_by(|a, b| a.1.total_cmp(&b.1));
    let exact = split(&sorted, 0.0);
    if exact.iter().all(|group| group.rows.len() >= needed) {
        return exact;
    }
    split(&sorted, SPEED_SCATTER)
}

/// Cuts a sorted row of speeds where a speed exceeds the first of its group by more than `scatter`.
fn split(sorted: &[(usize, f64)], scatter: f64) -> Vec<Group> {
    let mut groups = Vec::new();
    let mut rest = sorted;
    while let Some(&(_, first)) = rest.first() {
        let count = rest.partition_point(|&(_, speed)| speed <= first * (1.0 + scatter));
        let (members, after) = rest.split_at(count);
        let upper_middle = members[count / 2].1;
        let lower_middle = members[(count - 1) / 2].1;
        groups.push(Group {
            speed: lower_middle + 0.5 * (upper_middle - lower_middle),
            rows: members.iter().map(|&(row, _)| row).collect(),
            range: (first, members[count - 1].1),
        });
        rest = after;
    }
    groups
}

/// Drops exact repeats and reports contradictions.
///
/// `place` are the values that say where a row stands, `answer` those that must then agree.
/// Returns the rows to keep, in the order given.
pub fn without_repeats<const P: usize, const A: usize>(
    rows: &[(usize, [f64; P], [f64; A])],
    remarks: &mut Vec<Remark>,
    errors: &mut Vec<MapError>,
) -> Vec<usize> {
    let mut sorted: Vec<_> = rows.to_vec();
    sorted.sort_by(|a, b| lexical(&a.1, &b.1).then(a.0.cmp(&b.0)));
    let mut kept: Vec<usize> = Vec::with_capacity(rows.len());
    let mut last: Option<(usize, [f64; P], [f64; A])> = None;
    for row in sorted {
        match &last {
            Some(first) if lexical(&first.1, &row.1).is_eq() => {
                if lexical(&first.2, &row.2).is_eq() {
                    remarks.push(Remark::RepeatDropped {
                        kept: first.0,
                        dropped: row.0,
                    });
                } else {
                    errors.push(MapError::Contradiction {
                        first: first.0,
                        second: row.0,
                    });
                }
            }
            _ => {
                kept.push(row.0);
                last = Some(row);
            }
        }
    }
    kept.sort_unstable();
    kept
}

/// Order of two tuples by their first differing value.
fn lexical(a: &[f64], b: &[f64]) -> std::cmp::Ordering {
    let differing = a
        .iter()
        .zip(b)
        .map(|(x, y)| x.total_cmp(y))
        .find(|order| order.is_ne());
    differing.unwrap_or(std::cmp::Ordering::Equal)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_lines_stay_apart_even_when_they_are_close() {
        let speeds: Vec<_> = [1000.0, 1000.0, 1000.0, 1005.0, 1005.0, 1005.0]
            .into_iter()
            .enumerate()
            .collect();
        assert_eq!(by_speed(&speeds, 3).len(), 2);
    }

    #[test]
    fn scattered_readings_become_one_line_at_the_median() {
        let speeds: Vec<_> = [2001.0, 1003.0, 999.0, 2000.0, 1000.0, 1996.0]
            .into_iter()
            .enumerate()
            .collect();
        let groups = by_speed(&speeds, 3);
        assert_eq!(groups.len(), 2);
        assert_eq!(groups[0].rows, vec![2, 4, 1]);
        assert!((groups[0].speed - 1000.0).abs() < 1e-12);
        assert!((groups[1].speed - 2000.0).abs() < 1e-12);
        assert!(groups[0].is_scattered());
    }

    #[test]
    fn a_repeat_is_dropped_and_a_contradiction_names_both_rows() {
        let rows = [
            (0, [1.0, 2.0], [0.7]),
            (1, [1.0, 3.0], [0.8]),
            (2, [1.0, 2.0], [0.7]),
            (3, [1.0, 3.0], [0.6]),
        ];
        let (mut remarks, mut errors) = (Vec::new(), Vec::new());
        assert_eq!(
            without_repeats(&rows, &mut remarks, &mut errors),
            vec![0, 1]
        );
        assert_eq!(
            remarks,
            vec![Remark::RepeatDropped {
                kept: 0,
                dropped: 2
            }]
        );
        assert_eq!(
            errors,
            vec![MapError::Contradiction {
                first: 1,
                second: 3
            }]
        );
    }
}
