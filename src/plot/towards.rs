//! Directions on the sheet by the compass; `ON` is the place itself.

/// A direction on the sheet: right and down, -1 to 1; at 1 a label lies wholly to that side.
pub(crate) type Towards = (f64, f64);

pub(crate) const ON: Towards = (0.0, 0.0);
pub(crate) const N: Towards = (0.0, -1.0);
pub(crate) const NE: Towards = (1.0, -1.0);
pub(crate) const ENE: Towards = (1.0, -0.5);
pub(crate) const E: Towards = (1.0, 0.0);
pub(crate) const ESE: Towards = (1.0, 0.5);
pub(crate) const SE: Towards = (1.0, 1.0);
pub(crate) const SSE: Towards = (0.5, 1.0);
pub(crate) const S: Towards = (0.0, 1.0);
pub(crate) const SSW: Towards = (-0.5, 1.0);
pub(crate) const SW: Towards = (-1.0, 1.0);
pub(crate) const WSW: Towards = (-1.0, 0.5);
pub(crate) const W: Towards = (-1.0, 0.0);
pub(crate) const WNW: Towards = (-1.0, -0.5);
pub(crate) const NW: Towards = (-1.0, -1.0);
pub(crate) const NNW: Towards = (-0.5, -1.0);
