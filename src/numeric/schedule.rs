//! A value that may vary with speed: straight between its rows, the end value held beyond them.

use thiserror::Error;

/// A value over speed. Rows rise strictly in speed; beyond the ends the end value holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    rows: Vec<(f64, f64)>,
    stepped: bool,
}

/// Why rows do not make a schedule. `row` counts from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ScheduleError {
    /// There is no row.
    #[error("the table has no row")]
    Empty,
    /// A number of this row is not finite.
    #[error("row {row} holds a value that is not a finite number")]
    NotFinite {
        /// The row.
        row: usize,
    },
    /// The speed of this row is not above the speed of the row before it.
    #[error("the speed of row {row} does not rise above that of the row before")]
    NotRising {
        /// The row.
        row: usize,
    },
}

impl Schedule {
    /// The same value at every speed. A value that is not finite is the caller's fault and is
    /// refused by [`Schedule::new`]; here it is taken as checked.
    pub fn constant(value: f64) -> Self {
        Self {
            rows: vec![(0.0, value)],
            stepped: false,
        }
    }

    /// A table of (speed, value), straight between its rows.
    pub fn new(rows: Vec<(f64, f64)>) -> Result<Self, ScheduleError> {
        check(&rows)?;
        Ok(Self {
            rows,
            stepped: false,
        })
    }

    /// A table of (speed, value) where each value holds from its speed up to the next row's.
    pub fn steps(rows: Vec<(f64, f64)>) -> Result<Self, ScheduleError> {
        check(&rows)?;
        Ok(Self {
            rows,
            stepped: true,
        })
    }

    /// The value at a speed.
    pub fn at(&self, speed: f64) -> f64 {
        let above = self.rows.partition_point(|row| row.0 <= speed);
        if above == 0 {
            return self.rows[0].1;
        }
        let (x0, y0) = self.rows[above - 1];
        match self.rows.get(above) {
            Some(&(x1, y1)) if !self.stepped => y0 + (y1 - y0) * (speed - x0) / (x1 - x0),
            _ => y0,
        }
    }

    /// Whether the speed lies within the rows. A constant covers every speed.
    pub fn covers(&self, speed: f64) -> bool {
        self.rows.len() == 1
            || (self.rows[0].0 <= speed && speed <= self.rows[self.rows.len() - 1].0)
    }

    /// The rows as given, (speed, value).
    pub fn rows(&self) -> &[(f64, f64)] {
        &self.rows
    }

    /// The same schedule with every value multiplied.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        self.mapped(|value| value * factor)
    }

    /// The same schedule with every value changed; the change gives finite values.
    #[must_use]
    pub fn mapped(&self, change: impl Fn(f64) -> f64) -> Self {
        let rows = self
            .rows
            .iter()
            .map(|&(speed, value)| (speed, change(value)))
            .collect();
        Self {
            rows,
            stepped: self.stepped,
        }
    }
}

fn check(rows: &[(f64, f64)]) -> Result<(), ScheduleError> {
    if rows.is_empty() {
        return Err(ScheduleError::Empty);
    }
    for (row, &(speed, value)) in rows.iter().enumerate() {
        if !(speed.is_finite() && value.is_finite()) {
            return Err(ScheduleError::NotFinite { row });
        }
        if row > 0 && speed <= rows[row - 1].0 {
            return Err(ScheduleError::NotRising { row });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn values_are_straight_between_rows_and_held_beyond_them() {
        let table = Schedule::new(vec![(1000.0, 0.8), (2000.0, 0.9)]).unwrap();
        assert_relative_eq!(table.at(1250.0), 0.825);
        assert_relative_eq!(table.at(500.0), 0.8);
        assert_relative_eq!(table.at(2500.0), 0.9);
        assert!(!table.covers(999.0) && table.covers(1000.0));
    }

    #[test]
    fn a_stepped_table_holds_each_value_up_to_the_next_row() {
        let table = Schedule::steps(vec![(0.0, 1.0), (2500.0, 0.0)]).unwrap();
        assert_relative_eq!(table.at(2499.0), 1.0);
        assert_relative_eq!(table.at(2500.0), 0.0);
    }

    #[test]
    fn equal_speeds_in_two_rows_are_refused() {
        let rows = vec![(1000.0, 0.8), (1000.0, 0.9)];
        assert_eq!(
            Schedule::new(rows),
            Err(ScheduleError::NotRising { row: 1 })
        );
        let rows = vec![(1000.0, f64::NAN)];
        assert_eq!(
            Schedule::new(rows),
            Err(ScheduleError::NotFinite { row: 0 })
        );
    }
}
