//! Where a point lies with respect to the data, and how far outside.

/// Inside the data, or beyond one of its edges by a share of the edge's value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Region {
    /// Within the data.
    Inside,
    /// Less flow than the surge end of the line: 1 - flow / surge flow.
    BeyondSurge(f64),
    /// More flow than the choke end of the line: flow / choke flow - 1.
    BeyondChoke(f64),
    /// Faster than the fastest line: speed / highest speed - 1.
    OverSpeed(f64),
    /// Slower than the slowest line: 1 - speed / lowest speed.
    UnderSpeed(f64),
    /// Below the lowest ratio of the line: 1 - ratio / lowest ratio (displacement machine, turbine).
    LowRatio(f64),
    /// Above the highest ratio of the line: ratio / highest ratio - 1 (displacement machine, turbine).
    HighRatio(f64),
}

/// Rounding that a point on an edge may be outside by.
pub(super) const EDGE: f64 = 1e-9;

impl Region {
    /// Distance beyond the edge, as a share; 0 inside.
    pub fn distance(self) -> f64 {
        match self {
            Self::Inside => 0.0,
            Self::BeyondSurge(far)
            | Self::BeyondChoke(far)
            | Self::OverSpeed(far)
            | Self::UnderSpeed(far)
            | Self::LowRatio(far)
            | Self::HighRatio(far) => far,
        }
    }

    /// Whether the point lies within the data.
    pub fn is_inside(self) -> bool {
        matches!(self, Self::Inside)
    }

    /// Beyond the speeds of the data.
    pub(super) fn of_speed(speed: f64, (lowest, highest): (f64, f64)) -> Self {
        if speed > highest * (1.0 + EDGE) {
            Self::OverSpeed(speed / highest - 1.0)
        } else if speed < lowest * (1.0 - EDGE) {
            Self::UnderSpeed(1.0 - speed / lowest)
        } else {
            Self::Inside
        }
    }

    /// Beyond the ratios of a line.
    pub(super) fn of_ratio(ratio: f64, (lowest, highest): (f64, f64)) -> Self {
        if ratio > highest * (1.0 + EDGE) {
            Self::HighRatio(ratio / highest - 1.0)
        } else if ratio < lowest * (1.0 - EDGE) {
            Self::LowRatio(1.0 - ratio / lowest)
        } else {
            Self::Inside
        }
    }

    /// The two of a pair, the farther one first.
    pub(super) fn sorted(a: Self, b: Self) -> (Self, Self) {
        let b_first = a.is_inside() || b.distance() > a.distance();
        if b_first && !b.is_inside() {
            (b, a)
        } else {
            (a, b)
        }
    }
}
