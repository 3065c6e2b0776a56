//! A figure that is known from one end to the other.

/// From what is likely at least to what is likely at most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Smallest.
    pub low: f64,
    /// Largest.
    pub high: f64,
}
