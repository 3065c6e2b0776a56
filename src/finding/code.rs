//! What can be found, how bad it is, and what its numbers measure.

/// How bad a finding is; the worst is the greatest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Within the limit, or worth knowing and no more.
    Ok,
    /// Within 5 % of a limit or a margin below 1.25 times its minimum, whoever set it; or past a
    /// rule of thumb that is too weak to turn a build down.
    Near,
    /// Reckoned where there are no data: the number is a continuation.
    OutsideData,
    /// A limit is passed, be it the build's, a rule of thumb's or nature's.
    Over,
}

/// What was found. The order is the order in which findings of one severity and margin stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// The turbine gives more than the compressor takes at every ratio: no match.
    RunsAway,
    /// The turbine does not turn the compressor: no match.
    Stalls,
    /// No match for another reason.
    NoMatch,
    /// The balances of a match are not met: no match either.
    NotBalanced,
    /// The engine gives no power.
    NoBrakePower,
    /// The manifold lies below the air outside at full load.
    ManifoldBelowSite,
    /// The manifold lies above the air outside by more than any engine stands.
    ManifoldFarAboveSite,
    /// The exhaust is hotter than any turbine or valve stands.
    ExhaustBeyondMaterial,
    /// The exhaust is colder than that of any engine at full load.
    ExhaustTooCold,
    /// A stage compresses more than one of its kind does.
    StagePressureRatio,
    /// Part of the pressure that a part takes.
    PressureLoss,
    /// Flow through a part over the flow that its drop was rated at.
    FlowBeyondRating,
    /// Mach number in a pipe.
    DuctMach,
    /// Peak cylinder pressure against its limit.
    CylinderPressure,
    /// Clamp of the head's studs over the gas force, against its minimum.
    ClampMargin,
    /// Manifold pressure against its limit.
    ManifoldPressure,
    /// Speed of a turbocharger's shaft against its limit.
    TurboSpeed,
    /// Speed of a supercharger's shaft against its limit.
    SuperchargerSpeed,
    /// Speed of a supercharger's rotor tips against its limit.
    TipSpeed,
    /// Pull of a belt on the supercharger's shaft against its limit.
    BeltPull,
    /// Speed of a belt against what pulleys stand.
    BeltSpeed,
    /// Share of the time that the injectors stand open.
    InjectorDuty,
    /// Compression ratio of an unblown engine as near to knocking.
    Knock,
    /// Exhaust temperature against its limit.
    ExhaustTemperature,
    /// Air temperature behind a turbo compressor against its limit.
    CompressorOutletTemperature,
    /// Air temperature behind a supercharger against its limit.
    SuperchargerOutletTemperature,
    /// Charge temperature in the manifold against its limit.
    ChargeTemperature,
    /// Drive pressure over manifold pressure against its limit.
    DrivePressureRatio,
    /// Surge margin at the same pressure ratio against its minimum.
    SurgeMargin,
    /// A compressor works outside its map.
    OutsideMap,
    /// The gate is wide open because the supercharger alone delivers more than the limit.
    SuperchargerAboveBoostLimit,
    /// The gate is wide open because it is too small.
    WastegateTooSmall,
    /// The gate is wide open, and which of the two it is cannot be told apart.
    WastegateWideOpen,
    /// The boost limit lies where the gate sets the split and hardly the boost.
    LimitInSuperchargerBand,
    /// A cooler brings the charge beyond its sink: impossible.
    OutletBeyondSink,
    /// A given effectiveness asks more than the flows of charge and sink allow.
    EffectivenessAboveFlows,
    /// Water of a charge cooler against its boiling point.
    CoolantBoils,
    /// More fuel than the air can burn.
    RichMixture,
    /// A diesel with so little air that it smokes.
    DieselSmoke,
    /// The answer hangs on whether the ratio or the fuel is held.
    FuellingAssumption,
    /// A little more fuel moves the boost by much.
    Steep,
    /// A second stable balance exists.
    SecondEquilibrium,
    /// A supercharger lowers the pressure.
    SuperchargerRestricts,
    /// A turbine's flow is choked.
    TurbineChoked,
    /// The sink of a charge cooler has less capacity flow than the charge.
    SinkStarved,
    /// Water condenses out of the charge in a cooler.
    ChargeBelowDewPoint,
    /// A core lies or works outside the data behind its correlation.
    OutsideCorrelation,
    /// The engine runs beyond the ends of a table, whose end value is held.
    BeyondTable,
    /// A limit was set and what it limits is unknown.
    LimitNotChecked,
    /// What idle rotors take past the hand-over is not known and not counted.
    DragNotCounted,
    /// At a low expansion ratio the flow of a turbine hangs on the flow law taken.
    FlowLawUncertain,
    /// The smallest air–fuel ratio cuts the fuel.
    SmokeLimiterActive,
    /// The vapour's pressure holds back fuel that was meant to evaporate.
    EvaporationHeldBack,
    /// Brake power is not reckoned, because something is missing for it.
    PowerUnknown,
    /// The back-pressure correction of the breathing knows no valve overlap.
    ValveOverlapUnknown,
    /// A core stands on correlations that were not checked against anything outside.
    CoolerUnconfirmed,
}

impl Code {
    /// Every code.
    pub const ALL: [Self; 56] = [
        Self::RunsAway,
        Self::Stalls,
        Self::NoMatch,
        Self::NotBalanced,
        Self::NoBrakePower,
        Self::ManifoldBelowSite,
        Self::ManifoldFarAboveSite,
        Self::ExhaustBeyondMaterial,
        Self::ExhaustTooCold,
        Self::StagePressureRatio,
        Self::PressureLoss,
        Self::FlowBeyondRating,
        Self::DuctMach,
        Self::CylinderPressure,
        Self::ClampMargin,
        Self::ManifoldPressure,
        Self::TurboSpeed,
        Self::SuperchargerSpeed,
        Self::TipSpeed,
        Self::BeltPull,
        Self::BeltSpeed,
        Self::InjectorDuty,
        Self::Knock,
        Self::ExhaustTemperature,
        Self::CompressorOutletTemperature,
        Self::SuperchargerOutletTemperature,
        Self::ChargeTemperature,
        Self::DrivePressureRatio,
        Self::SurgeMargin,
        Self::OutsideMap,
        Self::SuperchargerAboveBoostLimit,
        Self::WastegateTooSmall,
        Self::WastegateWideOpen,
        Self::LimitInSuperchargerBand,
        Self::OutletBeyondSink,
        Self::EffectivenessAboveFlows,
        Self::CoolantBoils,
        Self::RichMixture,
        Self::DieselSmoke,
        Self::FuellingAssumption,
        Self::Steep,
        Self::SecondEquilibrium,
        Self::SuperchargerRestricts,
        Self::TurbineChoked,
        Self::SinkStarved,
        Self::ChargeBelowDewPoint,
        Self::OutsideCorrelation,
        Self::BeyondTable,
        Self::LimitNotChecked,
        Self::DragNotCounted,
        Self::FlowLawUncertain,
        Self::SmokeLimiterActive,
        Self::EvaporationHeldBack,
        Self::PowerUnknown,
        Self::ValveOverlapUnknown,
        Self::CoolerUnconfirmed,
    ];
}

/// What value and limit of a finding measure, always in SI (rpm for speeds).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Absolute pressure, Pa.
    AbsolutePressure,
    /// Temperature, K.
    Temperature,
    /// Rotational speed, rpm.
    Speed,
    /// Speed of a tip or a belt, m/s.
    SurfaceSpeed,
    /// Force, N.
    Force,
    /// Power, W.
    Power,
    /// One number over another of its like.
    Ratio,
    /// Part of a whole, 0 to 1 (a margin may be negative).
    Share,
}

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
    Passage(Passage, usize),
    /// A turbine.
    Turbine(usize),
    /// A table over engine speed.
    Table(Table),
}

/// A part that takes pressure and does nothing else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Passage {
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
pub enum Table {
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

/// Where a limit comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The build says so.
    Build,
    /// A rule of thumb where the build says nothing.
    CommonPractice,
    /// It follows from what the thing is: a map's edge, a table's end, a balance.
    Nature,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_of_codes_is_whole_and_in_order() {
        assert!(Code::ALL.windows(2).all(|pair| pair[0] < pair[1]));
        assert_eq!(Code::ALL.len(), Code::CoolerUnconfirmed as usize + 1);
    }

    #[test]
    fn a_passed_limit_is_worse_than_missing_data_and_that_worse_than_a_near_one() {
        assert!(Severity::Over > Severity::OutsideData);
        assert!(Severity::OutsideData > Severity::Near && Severity::Near > Severity::Ok);
    }
}
