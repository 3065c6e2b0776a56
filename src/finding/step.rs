//! A next step that was solved for: one setting of the build changed, the rest as it is.

use super::catalogue::Code;

/// One setting, and where it brings a value to its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextStep {
    /// Which setting.
    pub lever: Lever,
    /// Of several of a kind which one, counted from 0 in flow or exhaust order.
    pub which: usize,
    /// As it is, in the lever's unit; of a table the value at the finding's speed.
    pub now: f64,
    /// Where the limit is met.
    pub to: LimitMet,
    /// Whether it is a table over engine speed, of which every row moves in proportion.
    pub is_table: bool,
    /// What else would then be past its limit and is not now, worst first.
    pub then: [Option<Code>; 3],
}

/// Where a setting meets a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LimitMet {
    /// Here, in the lever's unit.
    At(f64),
    /// Nowhere as far as this, beyond which it was not looked or there is no match.
    NotUpTo(f64),
}

/// A setting of the build.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lever {
    /// Drive ratio of a supercharger.
    DriveRatio,
    /// Given pressure ratio of a stage.
    PressureRatio,
    /// Pressure that a regulated bypass holds, Pa above the site.
    BypassPressure,
    /// Boost limit of a wastegate, Pa above the site.
    BoostLimit,
    /// Largest share of the exhaust that a wastegate passes.
    GateShare,
    /// Diameter of a wastegate's valve, m.
    ValveDiameter,
    /// Effective area of a turbine, m².
    TurbineArea,
    /// Effectiveness of a charge cooler.
    Effectiveness,
    /// Mass of dry air per mass of fuel.
    AirFuelRatio,
    /// Air–fuel ratio over the stoichiometric one.
    Lambda,
    /// Fuel per cylinder and working cycle, kg.
    FuelPerStroke,
    /// Fuel flow, kg/s.
    FuelFlow,
    /// The smoke limiter's air–fuel ratio.
    SmallestAirFuelRatio,
}

impl Lever {
    /// Which way less comes of boost, heat and load: 1 upwards, −1 downwards.
    pub const fn relief(self) -> f64 {
        match self {
            Self::DriveRatio
            | Self::PressureRatio
            | Self::BypassPressure
            | Self::BoostLimit
            | Self::FuelPerStroke
            | Self::FuelFlow => -1.0,
            Self::GateShare
            | Self::ValveDiameter
            | Self::TurbineArea
            | Self::Effectiveness
            | Self::AirFuelRatio
            | Self::Lambda
            | Self::SmallestAirFuelRatio => 1.0,
        }
    }
}
