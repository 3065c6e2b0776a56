//! How far a value may stand away from its neighbours on a line before it is doubted.
//!
//! Factors, and wide ones: common practice is that a measured map scatters by one or two per cent, and
//! that lines fall steeply towards choke and flat elsewhere. A slip is a factor of 2.2 (pounds), 10
//! (a decimal point) or more.

use super::Shape;

/// Factors that a value may differ by from the nearer of its two neighbours' values.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tolerance {
    /// Above the higher neighbour, between the ends.
    pub(super) up: f64,
    /// Below the lower neighbour, between the ends.
    pub(super) down: f64,
    /// Above and below at the line's first row, where what runs along is lowest.
    pub(super) first: (f64, f64),
    /// Above and below at the line's last row.
    pub(super) last: (f64, f64),
    /// Share of the line's largest value below which differences do not count.
    pub(super) floor: f64,
}

/// No bound.
const ANY: f64 = f64::INFINITY;

/// Head falls to nothing at choke and lies flat at surge.
const HEAD: Tolerance = Tolerance {
    up: 1.4,
    down: 2.0,
    first: (1.4, 2.5),
    last: (1.4, ANY),
    floor: 0.3,
};
/// A compressor's efficiency falls at choke and is flat elsewhere.
const COMPRESSOR_EFFICIENCY: Tolerance = Tolerance {
    up: 1.35,
    down: 1.8,
    first: (1.35, 2.5),
    last: (1.35, 4.0),
    floor: 0.02,
};
/// What is delivered falls with the ratio, steeply at a low speed.
const FILLING: Tolerance = Tolerance {
    up: 1.35,
    down: 1.8,
    first: (2.0, 1.8),
    last: (1.35, 3.5),
    floor: 0.02,
};
/// The efficiency of rotors is nothing at ratio 1.
const ROTOR_EFFICIENCY: Tolerance = Tolerance {
    up: 1.5,
    down: 1.8,
    first: (1.8, 8.0),
    last: (1.5, 3.5),
    floor: 0.02,
};
/// A turbine's flow rises from nothing and then stays.
const TURBINE_FLOW: Tolerance = Tolerance {
    up: 1.35,
    down: 1.4,
    first: (1.35, 8.0),
    last: (1.8, 1.35),
    floor: 0.02,
};
/// A turbine's efficiency has a flat top and falls to nothing at a low expansion ratio.
const TURBINE_EFFICIENCY: Tolerance = Tolerance {
    up: 1.5,
    down: 1.8,
    first: (1.5, 8.0),
    last: (1.5, 3.5),
    floor: 0.02,
};

impl Tolerance {
    /// Those of the two values of a shape.
    pub(super) const fn of(shape: Shape) -> [Self; 2] {
        match shape {
            Shape::Compressor => [HEAD, COMPRESSOR_EFFICIENCY],
            Shape::Displacement => [FILLING, ROTOR_EFFICIENCY],
            Shape::Turbine => [TURBINE_FLOW, TURBINE_EFFICIENCY],
        }
    }
}

/// The larger over the smaller.
pub(super) fn factor(a: f64, b: f64) -> f64 {
    (a / b).max(b / a)
}
