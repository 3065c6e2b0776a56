//! What can keep a drawing from being made.

/// Why there is no drawing. The words name the data as the caller called them.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlotError {
    /// A value, as handed in or after conversion to the shown unit, is not a number or is infinite.
    #[error("{what}: value {place} is not a finite number")]
    NotFinite {
        /// The data it belongs to.
        what: String,
        /// Its place in those data, counted from 1.
        place: usize,
    },
    /// A value so large that an axis over it means nothing (and its span may overflow).
    #[error("{what}: value {place} is {value:e}, beyond what an axis can show")]
    TooLarge {
        /// The data it belongs to.
        what: String,
        /// Its place in those data, counted from 1.
        place: usize,
        /// The value in the shown unit.
        value: f64,
    },
    /// More of something than a reader can tell apart.
    #[error("{count} {what}, a drawing holds {most}")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many were handed in.
        count: usize,
        /// How many can be drawn.
        most: usize,
    },
    /// The list of values does not fit the list it belongs to.
    #[error("{what}: {found} values for {expected}")]
    Uneven {
        /// The data it belongs to.
        what: String,
        /// Values handed in.
        found: usize,
        /// Values there should be.
        expected: usize,
    },
    /// The drawing library refused.
    #[error("the drawing could not be written: {0}")]
    Backend(String),
}
