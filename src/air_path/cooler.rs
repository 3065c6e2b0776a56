//! The charge cooler.

use super::RatedDrop;
use crate::numeric::Schedule;

/// A charge cooler described by the effectiveness of its charge side.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooler {
    /// (T_in − T_out)/(T_in − T_sink) of the charge, 0 to 1, over engine speed in rpm.
    pub effectiveness: Schedule,
    /// Pressure drop of the charge side.
    pub pressure_drop: RatedDrop,
    /// Temperature of the air or water that takes the heat, K.
    pub sink_temperature: f64,
}
