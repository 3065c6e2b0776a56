//! What a unit is: its factor to SI, and what it measures.

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the names say it all")]
pub enum Dimension {
    Pressure,
    Temperature,
    Volume,
    Length,
    Area,
    Mass,
    MassFlow,
    VolumeFlow,
    Power,
    RotationalSpeed,
    Force,
    SpecificEnergy,
    Density,
    Velocity,
    Torque,
    Angle,
    MassPerLength,
    Time,
    ThermalConductivity,
    /// Heat flow per difference of temperature, W/K.
    ThermalConductance,
    SpecificFuelConsumption,
    Plain,
}

impl Dimension {
    /// Its name with the article, as a sentence needs it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pressure => "a pressure",
            Self::Temperature => "a temperature",
            Self::Volume => "a volume",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Mass => "a mass",
            Self::MassFlow => "a mass flow",
            Self::VolumeFlow => "a volume flow",
            Self::Power => "a power",
            Self::RotationalSpeed => "a rotational speed",
            Self::Force => "a force",
            Self::SpecificEnergy => "an energy per mass",
            Self::Density => "a density",
            Self::Velocity => "a speed",
            Self::Torque => "a torque",
            Self::Angle => "an angle",
            Self::MassPerLength => "a mass per length",
            Self::Time => "a time",
            Self::ThermalConductivity => "a thermal conductivity",
            Self::ThermalConductance => "a thermal conductance",
            Self::SpecificFuelConsumption => "a fuel consumption per work",
            Self::Plain => "a plain number or share",
        }
    }
}

/// A unit: SI value = (value + offset) × numerator / denominator.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// All spellings, the one to show first.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Numerator of the factor to SI.
    pub numerator: f64,
    /// Denominator of the factor to SI.
    pub denominator: f64,
    /// Added to the value before the factor: where the scale's zero lies, in the unit itself.
    pub offset: f64,
}

impl Unit {
    /// The spelling to show.
    pub const fn name(&self) -> &'static str {
        self.spellings[0]
    }

    /// From this unit to SI, with the scale's zero point.
    pub fn to_si(&self, value: f64) -> f64 {
        (value + self.offset) * self.numerator / self.denominator
    }

    /// From SI to this unit, with the scale's zero point.
    pub fn from_si(&self, value: f64) -> f64 {
        value * self.denominator / self.numerator - self.offset
    }

    /// From this unit to SI for a difference: no zero point.
    pub fn difference_to_si(&self, value: f64) -> f64 {
        value * self.numerator / self.denominator
    }

    /// From SI to this unit for a difference: no zero point.
    pub fn difference_from_si(&self, value: f64) -> f64 {
        value * self.denominator / self.numerator
    }
}

/// What the text itself said about a pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PressureReading {
    /// Nothing: the key decides.
    Unsaid,
    /// "psia", "bar absolute".
    Absolute,
    /// "psig", "kPa gauge".
    Gauge,
    /// "psid", "kPa difference".
    Difference,
}
