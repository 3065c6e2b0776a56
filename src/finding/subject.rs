//! What a finding is about.

/// What a finding is about. Indices count as in the layout of the match.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// The whole installation.
    Whole,
    /// The engine.
    Engine,
    /// A station.
    Station(usize),
    /// A stage.
    Stage(usize),
    /// A charge cooler.
    Cooler(usize),
    /// A passage that is no cooler, the first of its kind in flow order being 0.
    Passive(PassivePart, usize),
    /// A turbine.
    Turbine(usize),
    /// A table over engine speed.
    Table(SpeedTable),
}

/// A part that takes pressure and does nothing else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PassivePart {
    /// An air filter.
    Filter,
    /// A pipe of the air path.
    Duct,
    /// A throttle.
    Throttle,
    /// The pipe behind engine or turbine.
    ExhaustPipe,
}

/// A table over engine speed that the match was read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpeedTable {
    /// Volumetric efficiency of the engine.
    VolumetricEfficiency,
    /// Gross indicated efficiency.
    GrossIndicatedEfficiency,
    /// Share of the heat that goes to the walls.
    HeatLossShare,
    /// Peak over compression pressure.
    PressureRiseRatio,
    /// Air–fuel ratio.
    AirFuelRatio,
    /// Air–fuel ratio over the stoichiometric one.
    Lambda,
    /// Fuel per cylinder and working cycle.
    FuelPerStroke,
    /// The smoke limiter's air–fuel ratio.
    SmallestAirFuelRatio,
    /// Fuel flow.
    FuelFlow,
    /// Given pressure ratio of a stage.
    PressureRatio(usize),
    /// Given efficiency of a stage.
    Efficiency(usize),
    /// Effectiveness of a charge cooler.
    Effectiveness(usize),
    /// Flow of what takes a charge cooler's heat.
    SinkFlow(usize),
    /// Speed of the vehicle whose wind passes a charge cooler.
    VehicleSpeed(usize),
    /// Boost limit of the gate around a turbine.
    BoostLimit(usize),
}
