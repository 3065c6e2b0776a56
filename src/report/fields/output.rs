//! The outputs that have a published form.

use super::check::CheckReport;
use super::cooler_report::CoolerReport;
use super::inner::Writable;
use super::line::LineReport;
use super::point::PointReport;
use super::rank::RankReport;
use super::shape::Shape;

/// An output of a command.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Output {
    /// Of `point`.
    Point,
    /// Of `line`.
    Line,
    /// Of `cooler`.
    Cooler,
    /// Of `rank`.
    Rank,
    /// Of `check`.
    Check,
}

impl Output {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Point,
        Self::Line,
        Self::Cooler,
        Self::Rank,
        Self::Check,
    ];

    /// The command's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Point => "point",
            Self::Line => "line",
            Self::Cooler => "cooler",
            Self::Rank => "rank",
            Self::Check => "check",
        }
    }

    /// The output of a command.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|output| output.name() == name)
    }

    /// Its rows.
    pub fn shapes(self) -> Vec<Shape> {
        let forms = match self {
            Self::Point => PointReport::forms(),
            Self::Line => LineReport::forms(),
            Self::Cooler => CoolerReport::forms(),
            Self::Rank => RankReport::forms(),
            Self::Check => CheckReport::forms(),
        };
        forms.into_iter().flatten().collect()
    }
}
