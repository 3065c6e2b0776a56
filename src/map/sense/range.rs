//! What a quantity of a map can be, and what it usually is.
//!
//! The limits are common practice, from memory, and wide. "Cannot be" is beyond anything that turns;
//! "usual" holds what a builder of an engine meets.

/// What can be, and within it what is usual. SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Lowest and highest value that can be.
    pub possible: (f64, f64),
    /// Lowest and highest usual value.
    pub usual: (f64, f64),
}

/// How a value stands to its range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// As met with every day.
    Usual,
    /// Possible, but hardly meant.
    Odd,
    /// It cannot be.
    Impossible,
}

impl Range {
    /// How a value stands to it; what is no number cannot be.
    pub fn standing(&self, value: f64) -> Standing {
        let within = |(low, high): (f64, f64)| value >= low && value <= high;
        if within(self.usual) {
            Standing::Usual
        } else if within(self.possible) {
            Standing::Odd
        } else {
            Standing::Impossible
        }
    }
}

/// Reference temperature of a compressor or supercharger map, K. Sheets are corrected to 0 to 30 °C:
/// 273.15, 288.15, 293.15, 298.15, 302.6, 303.15 K.
pub const REFERENCE_TEMPERATURE: Range = Range {
    possible: (243.0, 333.0),
    usual: (270.0, 313.0),
};
/// Reference temperature of a turbine map, K: that of the air, or of the hot gas of the stand.
pub const TURBINE_REFERENCE_TEMPERATURE: Range = Range {
    possible: (243.0, 1500.0),
    usual: (270.0, 313.0),
};
/// Hot gas of a turbine stand, K, as usual as air.
pub const HOT_GAS: (f64, f64) = (750.0, 1400.0);
/// Reference pressure, Pa: 100 and 101.325 kPa, 96.2 kPa (28.4 inHg), 98.07 kPa (1 at).
pub const REFERENCE_PRESSURE: Range = Range {
    possible: (70e3, 130e3),
    usual: (90e3, 106e3),
};
/// Reference pressure of a turbine map, Pa; hot stands run at more than the air's.
pub const TURBINE_REFERENCE_PRESSURE: Range = Range {
    possible: (70e3, 600e3),
    usual: (90e3, 106e3),
};
/// Temperature at the inlet of a machine as measured, K: a second stage is fed hot air.
pub const INLET_TEMPERATURE: Range = Range {
    possible: (213.0, 540.0),
    usual: (240.0, 430.0),
};
/// Pressure at the inlet of a machine as measured, Pa: from high altitude to a second stage.
pub const INLET_PRESSURE: Range = Range {
    possible: (15e3, 800e3),
    usual: (45e3, 350e3),
};
/// Swept volume of a displacement supercharger per revolution, m³.
pub const DISPLACEMENT: Range = Range {
    possible: (0.02e-3, 60e-3),
    usual: (0.1e-3, 15e-3),
};
/// Highest pressure ratio of one radial stage: about 6 with light alloy, about 10 in aviation.
pub const LARGEST_RADIAL_RATIO: f64 = 15.0;
/// Highest pressure ratio of an axial compressor of many stages.
pub const LARGEST_AXIAL_RATIO: f64 = 60.0;
/// Highest pressure ratio of one displacement supercharger: roots to 2.5, screw to 4.
pub const LARGEST_DISPLACEMENT_RATIO: f64 = 8.0;
/// Highest expansion ratio of a turbine map, several stages in aviation.
pub const LARGEST_EXPANSION_RATIO: f64 = 30.0;
/// The best efficiency of a map. Nothing above 0.92 has been measured on a radial wheel.
pub const BEST_EFFICIENCY: Range = Range {
    possible: (0.15, 1.0),
    usual: (0.35, 0.92),
};
/// The best efficiency of a turbine's map.
pub const BEST_TURBINE_EFFICIENCY: Range = Range {
    possible: (0.15, 1.0),
    usual: (0.35, 0.95),
};
/// The best volumetric efficiency of a map.
pub const BEST_FILLING: Range = Range {
    possible: (0.3, 1.2),
    usual: (0.5, 1.1),
};
/// The highest speed of a displacement supercharger's map, rpm.
pub const DISPLACEMENT_SPEED: Range = Range {
    possible: (400.0, 80e3),
    usual: (1500.0, 30e3),
};
/// Tip speed of displacement rotors, m/s; screw rotors run to about 130.
pub const ROTOR_TIP_SPEED: Range = Range {
    possible: (3.0, 350.0),
    usual: (10.0, 180.0),
};
