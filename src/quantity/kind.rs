//! The kinds of quantity that a key can ask for.

use super::unit::Dimension;

/// What a value is, beyond its dimension: an absolute pressure is not a pressure difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Pressure above vacuum, Pa.
    AbsolutePressure,
    /// Pressure above the site's, Pa.
    BoostPressure,
    /// Difference of two pressures: a drop, a rise, a stress-like coefficient, Pa.
    PressureDifference,
    /// Temperature, K.
    Temperature,
    /// Difference of two temperatures, K. Never carries the zero point of a scale.
    TemperatureDifference,
    /// Volume, m³.
    Volume,
    /// Length, m.
    Length,
    /// Area, m².
    Area,
    /// Mass, kg.
    Mass,
    /// Fuel of one working cycle: a mass in kg or a volume in m³.
    FuelPerStroke,
    /// Mass flow, kg/s.
    MassFlow,
    /// Fuel flow: a mass flow in kg/s or a volume flow in m³/s.
    FuelFlow,
    /// Volume flow, m³/s.
    VolumeFlow,
    /// Power, W.
    Power,
    /// Rotational speed, rpm.
    RotationalSpeed,
    /// Force, N.
    Force,
    /// Force of a belt and its like, N.
    SmallForce,
    /// Energy per mass, J/kg.
    SpecificEnergy,
    /// Mass per volume, kg/m³.
    Density,
    /// Speed of a vehicle or of air, m/s.
    Velocity,
    /// Speed of a rotor's tip or of a belt, m/s.
    SurfaceSpeed,
    /// Torque, N m.
    Torque,
    /// Mean effective pressure: work of a cycle over swept volume, Pa. Neither absolute nor gauge.
    MeanEffectivePressure,
    /// Fuel of one working cycle as a volume, m³.
    FuelVolume,
    /// Angle, rad.
    Angle,
    /// Mass per length, kg/m.
    MassPerLength,
    /// Time, s.
    Time,
    /// Thermal conductivity, W/(m K).
    ThermalConductivity,
    /// Heat flow per difference of temperature, W/K.
    ThermalConductance,
    /// Flow of water: a mass flow in kg/s or a volume flow in m³/s.
    WaterFlow,
    /// Fuel mass per work, kg/J.
    SpecificFuelConsumption,
    /// Part of a whole: a number or text in per cent.
    Share,
    /// A plain number: a count, a ratio.
    Number,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 33] = [
        Self::AbsolutePressure,
        Self::BoostPressure,
        Self::PressureDifference,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Volume,
        Self::Length,
        Self::Area,
        Self::Mass,
        Self::FuelPerStroke,
        Self::MassFlow,
        Self::FuelFlow,
        Self::VolumeFlow,
        Self::Power,
        Self::RotationalSpeed,
        Self::Force,
        Self::SmallForce,
        Self::SpecificEnergy,
        Self::Density,
        Self::Velocity,
        Self::SurfaceSpeed,
        Self::Torque,
        Self::MeanEffectivePressure,
        Self::FuelVolume,
        Self::Angle,
        Self::MassPerLength,
        Self::Time,
        Self::ThermalConductivity,
        Self::ThermalConductance,
        Self::WaterFlow,
        Self::SpecificFuelConsumption,
        Self::Share,
        Self::Number,
    ];

    /// The dimensions whose units can express it.
    pub const fn dimensions(self) -> &'static [Dimension] {
        use Dimension as D;
        match self {
            Self::AbsolutePressure
            | Self::BoostPressure
            | Self::PressureDifference
            | Self::MeanEffectivePressure => &[D::Pressure],
            Self::Temperature | Self::TemperatureDifference => &[D::Temperature],
            Self::Volume | Self::FuelVolume => &[D::Volume],
            Self::Length => &[D::Length],
            Self::Area => &[D::Area],
            Self::Mass => &[D::Mass],
            Self::FuelPerStroke => &[D::Mass, D::Volume],
            Self::MassFlow => &[D::MassFlow],
            Self::FuelFlow | Self::WaterFlow => &[D::MassFlow, D::VolumeFlow],
            Self::VolumeFlow => &[D::VolumeFlow],
            Self::Power => &[D::Power],
            Self::RotationalSpeed => &[D::RotationalSpeed],
            Self::Force | Self::SmallForce => &[D::Force],
            Self::SpecificEnergy => &[D::SpecificEnergy],
            Self::Density => &[D::Density],
            Self::Velocity | Self::SurfaceSpeed => &[D::Velocity],
            Self::Angle => &[D::Angle],
            Self::MassPerLength => &[D::MassPerLength],
            Self::Torque => &[D::Torque],
            Self::Time => &[D::Time],
            Self::ThermalConductivity => &[D::ThermalConductivity],
            Self::ThermalConductance => &[D::ThermalConductance],
            Self::SpecificFuelConsumption => &[D::SpecificFuelConsumption],
            Self::Share | Self::Number => &[D::Plain],
        }
    }

    /// Its name with the article, as a sentence needs it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::AbsolutePressure => "an absolute pressure",
            Self::BoostPressure => "a pressure above the site's",
            Self::PressureDifference => "a pressure difference",
            Self::Temperature => "a temperature",
            Self::TemperatureDifference => "a temperature difference",
            Self::Volume => "a volume",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Mass => "a mass",
            Self::FuelPerStroke => "a mass or volume of fuel",
            Self::MassFlow => "a mass flow",
            Self::FuelFlow => "a mass or volume flow of fuel",
            Self::VolumeFlow => "a volume flow",
            Self::Power => "a power",
            Self::RotationalSpeed => "a rotational speed",
            Self::Force | Self::SmallForce => "a force",
            Self::SpecificEnergy => "an energy per mass",
            Self::Density => "a density",
            Self::Velocity => "a speed",
            Self::SurfaceSpeed => "a surface speed",
            Self::MeanEffectivePressure => "a mean effective pressure",
            Self::FuelVolume => "a volume of fuel",
            Self::Angle => "an angle",
            Self::MassPerLength => "a mass per length",
            Self::Torque => "a torque",
            Self::Time => "a time",
            Self::ThermalConductivity => "a thermal conductivity",
            Self::ThermalConductance => "a thermal conductance",
            Self::WaterFlow => "a mass or volume flow of water",
            Self::SpecificFuelConsumption => "a fuel consumption per work",
            Self::Share => "a share",
            Self::Number => "a plain number",
        }
    }

    /// The units to name where another was met, the commonest metric one first.
    pub(crate) const fn usual_units(self) -> &'static [&'static str] {
        match self {
            Self::AbsolutePressure | Self::BoostPressure => &["kPa", "bar", "psi", "inHg"],
            Self::PressureDifference => &["kPa", "mbar", "psi", "inH2O"],
            Self::Temperature => &["degC", "degF", "K"],
            Self::TemperatureDifference => &["K", "degC", "degF"],
            Self::Volume => &["L", "cc", "in3"],
            Self::Length => &["mm", "m", "in", "ft"],
            Self::Area => &["cm2", "mm2", "in2"],
            Self::Mass => &["kg", "g", "lb"],
            Self::FuelPerStroke => &["mg", "mm3"],
            Self::MassFlow => &["kg/s", "kg/h", "lb/min"],
            Self::FuelFlow => &["kg/h", "g/s", "lb/h", "cc/min"],
            Self::VolumeFlow => &["m3/s", "L/s", "ft3/min"],
            Self::Power => &["kW", "hp"],
            Self::RotationalSpeed => &["rpm"],
            Self::Force => &["kN", "lbf"],
            Self::SmallForce => &["N", "lbf"],
            Self::SpecificEnergy => &["MJ/kg", "kJ/kg", "Btu/lb"],
            Self::Density => &["kg/m3", "kg/L", "lb/ft3"],
            Self::Velocity => &["km/h", "m/s", "mph"],
            Self::SurfaceSpeed => &["m/s", "ft/s"],
            Self::MeanEffectivePressure => &["kPa", "bar", "psi"],
            Self::FuelVolume => &["mm3"],
            Self::Angle => &["deg", "rad"],
            Self::MassPerLength => &["kg/m", "g/m", "lb/ft"],
            Self::Torque => &["N m", "lbf ft"],
            Self::Time => &["s", "min"],
            Self::ThermalConductivity => &["W/(m K)", "Btu/(h ft degF)"],
            Self::ThermalConductance => &["W/K", "kW/K", "Btu/(h degF)"],
            Self::WaterFlow => &["kg/s", "L/min", "gal/min"],
            Self::SpecificFuelConsumption => &["g/kWh", "lb/(hp h)"],
            Self::Share => &["%"],
            Self::Number => &[],
        }
    }
}
