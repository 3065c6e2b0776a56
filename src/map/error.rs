//! What can be wrong with a set of rows, and what was done to rows that are right.
//!
//! Rows are named by their index in the slice that was given, counted from 0; the reader of a file
//! turns that into a line.

/// The columns of a map, for naming one that is at fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// Corrected or shaft speed, rpm.
    Speed,
    /// Corrected flow, kg/s.
    Flow,
    /// Pressure ratio of a compressor.
    PressureRatio,
    /// Expansion ratio of a turbine.
    ExpansionRatio,
    /// Efficiency as a fraction.
    Efficiency,
    /// Volumetric efficiency as a fraction.
    VolumetricEfficiency,
}

/// One fault in the rows of a map.
#[derive(Debug, Clone, PartialEq)]
pub enum MapError {
    /// There are no rows at all.
    NoRows,
    /// The reference temperature (K) or pressure (Pa) is not a positive number.
    Reference {
        /// Temperature as given, K.
        temperature: f64,
        /// Pressure as given, Pa.
        pressure: f64,
    },
    /// A value is NaN or infinite.
    NotFinite {
        /// Index of the row.
        row: usize,
        /// The column at fault.
        column: Column,
    },
    /// A value lies outside what is possible in its column.
    OutOfRange {
        /// Index of the row.
        row: usize,
        /// The column at fault.
        column: Column,
        /// The value as given.
        value: f64,
        /// What it must exceed.
        above: f64,
        /// What it may reach.
        at_most: f64,
    },
    /// A speed line has too few points to be a curve.
    TooFewPoints {
        /// Speed of the line, rpm.
        speed: f64,
        /// Rows of the line.
        rows: Vec<usize>,
        /// How many it needs.
        needed: usize,
    },
    /// Two rows give different answers for one place.
    Contradiction {
        /// The earlier row.
        first: usize,
        /// The later row.
        second: usize,
    },
    /// A line has no extent in flow: every row has the same.
    UprightLine {
        /// Speed of the line, rpm.
        speed: f64,
        /// Rows of the line.
        rows: Vec<usize>,
    },
    /// Two speed lines cross, so that flow and pressure ratio no longer tell the speed.
    LinesCross {
        /// Speed of the slower line, rpm.
        slower: f64,
        /// Speed of the faster line, rpm.
        faster: f64,
        /// Where they cross, kg/s.
        flow: f64,
        /// Where they cross.
        pressure_ratio: f64,
        /// Rows at either end of the two pieces that cross: slower line first.
        rows: [usize; 4],
    },
}

/// Something that was done to the rows and that the reader should be told.
#[derive(Debug, Clone, PartialEq)]
pub enum Remark {
    /// A row repeated another exactly and was dropped.
    RepeatDropped {
        /// The row that stays.
        kept: usize,
        /// The row that was dropped.
        dropped: usize,
    },
    /// Rows of scattered speed were read as one line and carried to its median by similarity.
    SpeedsGrouped {
        /// Median speed, now that of the line, rpm.
        speed: f64,
        /// Lowest speed in the group, rpm.
        lowest: f64,
        /// Highest speed in the group, rpm.
        highest: f64,
        /// The rows, from surge to choke.
        rows: Vec<usize>,
    },
    /// At an upright choke end flows scattered backwards and were evened out.
    FlowsEvened {
        /// Speed of the line, rpm.
        speed: f64,
        /// The rows whose flow was changed.
        rows: Vec<usize>,
        /// The largest change of flow, kg/s.
        largest_change: f64,
    },
}

impl MapError {
    /// The fault of one value, if it has one: `(column, value, above, at_most)`.
    pub(super) fn of_value(
        row: usize,
        (column, value, above, at_most): (Column, f64, f64, f64),
    ) -> Option<Self> {
        if !value.is_finite() {
            return Some(Self::NotFinite { row, column });
        }
        let possible = value > above && value <= at_most;
        (!possible).then_some(Self::OutOfRange {
            row,
            column,
            value,
            above,
            at_most,
        })
    }
}
