//! Whether the figures of a map can be a machine's: the wheel that they imply, and rows that their
//! neighbours contradict.
//!
//! Nothing here mends a figure. [`wheel`] holds speed, flow and ratio of a whole map against each
//! other, so that a column in the wrong unit is found; [`range`] says what is possible and what is
//! usual; [`outlier`] finds single rows that stand a factor away from their neighbours, and [`lines`]
//! whole lines that do. The limits are wide: a measured map is noisy, and every machine between the
//! smallest turbocharger and a wheel of 400 mm has to pass.

pub mod lines;
pub mod outlier;
pub mod range;
pub mod sequence;
pub mod tolerance;
pub mod wheel;

use super::error::Column;

pub use lines::{OddLine, odd_lines};
pub use outlier::doubts;
pub use range::{Range, Standing};
pub use wheel::Wheel;

/// The kinds of map, by what runs along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Head and efficiency over flow.
    Compressor,
    /// Volumetric efficiency and efficiency over pressure ratio.
    Displacement,
    /// Flow and efficiency over expansion ratio.
    Turbine,
}

impl Shape {
    /// The columns of what runs along a line and of its two values.
    pub const fn columns(self) -> [Column; 3] {
        match self {
            Self::Compressor => [Column::Flow, Column::PressureRatio, Column::Efficiency],
            Self::Displacement => [
                Column::PressureRatio,
                Column::VolumetricEfficiency,
                Column::Efficiency,
            ],
            Self::Turbine => [Column::ExpansionRatio, Column::Flow, Column::Efficiency],
        }
    }

    /// Rows that a speed line needs.
    pub const fn rows_per_line(self) -> usize {
        match self {
            Self::Compressor => super::compressor::POINTS_PER_LINE,
            Self::Displacement | Self::Turbine => 2,
        }
    }
}

/// A row as these checks see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// Index of the row; rising in the order of the file.
    pub row: usize,
    /// Speed, rpm.
    pub speed: f64,
    /// What runs along a line: flow in kg/s, pressure ratio, expansion ratio.
    pub along: f64,
    /// The two values over it: see [`Shape::columns`].
    pub values: [f64; 2],
}

/// A row that its neighbours contradict.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubt {
    /// Index of the row.
    pub row: usize,
    /// The column that stands out.
    pub column: Column,
    /// What would fit the neighbours, in the column's SI unit.
    pub fitting: f64,
    /// How far the value is from what would fit, as a factor of 1 or more.
    pub factor: f64,
    /// Whether the row cannot be meant; else it is only odd.
    pub is_certain: bool,
}

impl Entry {
    /// This row with the isentropic head (over cp T) in place of a pressure ratio.
    #[must_use]
    pub fn with_head(self) -> Self {
        let [ratio, efficiency] = self.values;
        Self {
            values: [super::head::from_ratio(ratio), efficiency],
            ..self
        }
    }
}
