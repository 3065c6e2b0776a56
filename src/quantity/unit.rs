//! Every unit by its exact factor, and all the ways in which people spell it.
//!
//! A factor is a quotient of two numbers that are both exact in `f64` wherever the definition
//! allows it, so that 4.5 L is exactly the number 0.0045 and 1728 in³ exactly one ft³.
//!
//! Definitions: pound 0.453 592 37 kg and inch 0.0254 m (international yard and pound agreement of
//! 1959), standard gravity 9.806 65 m/s² (3rd General Conference on Weights and Measures, 1901);
//! conventional mercury 13 595.1 kg/m³ and conventional water 1000 kg/m³ under standard gravity
//! (ISO 80000-4, from memory); US gallon 231 in³; imperial gallon 4.546 09 L; British thermal unit
//! per pound 2326 J/kg (International Table, exact); horsepower 550 ft lbf/s.

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
    Time,
    ThermalConductivity,
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
            Self::Time => "a time",
            Self::ThermalConductivity => "a thermal conductivity",
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

const fn unit(
    dimension: Dimension,
    numerator: f64,
    denominator: f64,
    spellings: &'static [&'static str],
) -> Unit {
    Unit {
        spellings,
        dimension,
        numerator,
        denominator,
        offset: 0.0,
    }
}

const fn scale(
    numerator: f64,
    denominator: f64,
    offset: f64,
    spellings: &'static [&'static str],
) -> Unit {
    Unit {
        spellings,
        dimension: Dimension::Temperature,
        numerator,
        denominator,
        offset,
    }
}

/// Spellings are written as [`normalised`] leaves them: no degree sign, no raised digits, no
/// multiplication dot, single spaces.
const UNITS: &[Unit] = {
    use Dimension as D;
    &[
        unit(D::Pressure, 1.0, 1.0, &["Pa", "pascal", "N/m2"]),
        unit(D::Pressure, 1e2, 1.0, &["hPa"]),
        unit(D::Pressure, 1e3, 1.0, &["kPa", "kilopascal"]),
        unit(D::Pressure, 1e6, 1.0, &["MPa", "megapascal", "N/mm2"]),
        unit(D::Pressure, 1e5, 1.0, &["bar", "bars"]),
        unit(D::Pressure, 1e2, 1.0, &["mbar", "millibar"]),
        // 0.45359237 × 9.80665 / 0.0254², numerator and denominator times 1e13.
        unit(
            D::Pressure,
            44_482_216_152_605.0,
            6_451_600_000.0,
            &["psi", "lbf/in2", "lb/in2", "lb/sq in", "lbs/in2"],
        ),
        // 13595.1 × 9.80665 × 0.0254 = 3386.388640341.
        unit(
            D::Pressure,
            3_386_388_640_341.0,
            1e9,
            &["inHg", "in Hg", "\"Hg"],
        ),
        unit(D::Pressure, 133_322_387_415.0, 1e9, &["mmHg", "mm Hg"]),
        // Conventional water: the column at 4 °C is 0.003 % lighter, at 60 °F 0.1 %.
        unit(
            D::Pressure,
            24_908_891.0,
            1e5,
            &["inH2O", "in H2O", "inWC", "in WC", "inWG", "\"H2O", "iwc"],
        ),
        unit(
            D::Pressure,
            980_665.0,
            1e5,
            &["mmH2O", "mm H2O", "mmWC", "mmWS"],
        ),
        unit(D::Pressure, 101_325.0, 1.0, &["atm"]),
        scale(1.0, 1.0, 0.0, &["K", "kelvin", "degK", "deg K"]),
        scale(
            1.0,
            1.0,
            273.15,
            &["degC", "deg C", "C", "celsius", "deg celsius"],
        ),
        scale(
            5.0,
            9.0,
            459.67,
            &["degF", "deg F", "F", "fahrenheit", "deg fahrenheit"],
        ),
        scale(5.0, 9.0, 0.0, &["degR", "deg R", "R", "rankine"]),
        unit(D::Volume, 1.0, 1.0, &["m3", "cubic metre", "cubic metres"]),
        unit(
            D::Volume,
            1.0,
            1e3,
            &["L", "l", "litre", "litres", "liter", "liters", "dm3", "ltr"],
        ),
        unit(D::Volume, 1.0, 1e6, &["cc", "ccm", "ml", "mL"]),
        unit(D::Volume, 1.0, 1e6, &["cm3"]),
        unit(
            D::Volume,
            1.0,
            1e9,
            &["mm3", "mm3/stroke", "ul", "uL", "cmm"],
        ),
        unit(
            D::Volume,
            16_387_064.0,
            1e12,
            &[
                "in3",
                "cu in",
                "cu. in.",
                "cubic inch",
                "cubic inches",
                "cuin",
                "cid",
                "CID",
                "ci",
            ],
        ),
        unit(
            D::Volume,
            28_316_846_592.0,
            1e12,
            &["ft3", "cu ft", "cubic foot", "cubic feet"],
        ),
        unit(
            D::Volume,
            3_785_411_784.0,
            1e12,
            &["US gal", "USgal", "US gallon", "US gallons"],
        ),
        unit(
            D::Volume,
            454_609.0,
            1e8,
            &["imp gal", "UK gal", "imperial gallon", "imperial gallons"],
        ),
        unit(
            D::Length,
            1.0,
            1.0,
            &["m", "metre", "metres", "meter", "meters"],
        ),
        unit(D::Length, 1e3, 1.0, &["km"]),
        unit(D::Length, 1.0, 1e2, &["cm"]),
        unit(D::Length, 1.0, 1e3, &["mm"]),
        unit(D::Length, 1.0, 1e6, &["um", "micron", "microns"]),
        unit(D::Length, 254.0, 1e4, &["in", "inch", "inches", "\""]),
        unit(D::Length, 3048.0, 1e4, &["ft", "foot", "feet", "'"]),
        unit(D::Length, 1_609_344.0, 1e3, &["mi", "mile", "miles"]),
        unit(D::Area, 1.0, 1.0, &["m2"]),
        unit(D::Area, 1.0, 1e4, &["cm2", "sq cm"]),
        unit(D::Area, 1.0, 1e6, &["mm2", "sq mm"]),
        unit(
            D::Area,
            64_516.0,
            1e8,
            &["in2", "sq in", "square inch", "square inches"],
        ),
        unit(D::Area, 9_290_304.0, 1e8, &["ft2", "sq ft", "square feet"]),
        unit(D::Mass, 1.0, 1.0, &["kg"]),
        unit(D::Mass, 1.0, 1e3, &["g", "gram", "grams"]),
        unit(D::Mass, 1.0, 1e6, &["mg", "mg/stroke"]),
        unit(
            D::Mass,
            45_359_237.0,
            1e8,
            &["lb", "lbs", "lbm", "pound", "pounds"],
        ),
        unit(D::MassFlow, 1.0, 1.0, &["kg/s", "kg/sec", "kgps"]),
        unit(D::MassFlow, 1.0, 60.0, &["kg/min"]),
        unit(D::MassFlow, 1.0, 3600.0, &["kg/h", "kg/hr", "kg/hour"]),
        unit(D::MassFlow, 1.0, 1e3, &["g/s", "g/sec"]),
        unit(
            D::MassFlow,
            45_359_237.0,
            6e9,
            &["lb/min", "lbs/min", "lbm/min", "lb/mn"],
        ),
        unit(
            D::MassFlow,
            45_359_237.0,
            1e8,
            &["lb/s", "lbs/s", "lbm/s", "lb/sec"],
        ),
        unit(
            D::MassFlow,
            45_359_237.0,
            3.6e11,
            &["lb/h", "lbs/h", "lbm/h", "lb/hr", "lbs/hr", "pph"],
        ),
        unit(D::VolumeFlow, 1.0, 1.0, &["m3/s", "m3/sec"]),
        unit(D::VolumeFlow, 1.0, 60.0, &["m3/min"]),
        unit(D::VolumeFlow, 1.0, 3600.0, &["m3/h", "m3/hr"]),
        unit(D::VolumeFlow, 1.0, 1e3, &["L/s", "l/s", "L/sec"]),
        unit(D::VolumeFlow, 1.0, 6e4, &["L/min", "l/min", "lpm", "LPM"]),
        unit(D::VolumeFlow, 1.0, 3.6e6, &["L/h", "l/h", "L/hr", "l/hr"]),
        unit(
            D::VolumeFlow,
            28_316_846_592.0,
            6e13,
            &["ft3/min", "cfm", "CFM", "cu ft/min", "cuft/min"],
        ),
        unit(
            D::VolumeFlow,
            28_316_846_592.0,
            1e12,
            &["ft3/s", "cfs", "cu ft/s"],
        ),
        unit(
            D::VolumeFlow,
            3_785_411_784.0,
            3.6e15,
            &["US gal/h", "USgal/h", "US gal/hr"],
        ),
        unit(D::Power, 1.0, 1.0, &["W", "watt", "watts"]),
        unit(D::Power, 1e3, 1.0, &["kW", "kilowatt", "kilowatts"]),
        unit(D::Power, 1e6, 1.0, &["MW"]),
        // 550 × 0.3048 × 0.45359237 × 9.80665.
        unit(
            D::Power,
            745.699_871_582_270_22,
            1.0,
            &["hp", "bhp", "horsepower"],
        ),
        // 75 kgf m/s = 75 × 9.80665.
        unit(
            D::Power,
            73_549_875.0,
            1e5,
            &["PS", "metric hp", "hp(M)", "ch"],
        ),
        unit(
            D::RotationalSpeed,
            1.0,
            1.0,
            &[
                "rpm", "rev/min", "r/min", "1/min", "min-1", "U/min", "revs/min", "RPM",
            ],
        ),
        unit(
            D::RotationalSpeed,
            1e3,
            1.0,
            &["krpm", "1000 rpm", "x1000 rpm", "rpm x1000"],
        ),
        unit(
            D::RotationalSpeed,
            60.0,
            1.0,
            &["rev/s", "1/s", "s-1", "rps"],
        ),
        unit(D::Force, 1.0, 1.0, &["N", "newton", "newtons"]),
        unit(D::Force, 1e3, 1.0, &["kN"]),
        unit(D::Force, 1e1, 1.0, &["daN"]),
        unit(
            D::Force,
            44_482_216_152_605.0,
            1e13,
            &["lbf", "lb force", "pound force", "pounds force"],
        ),
        unit(D::Force, 980_665.0, 1e5, &["kgf", "kp"]),
        unit(D::SpecificEnergy, 1.0, 1.0, &["J/kg"]),
        unit(D::SpecificEnergy, 1e3, 1.0, &["kJ/kg", "J/g"]),
        unit(D::SpecificEnergy, 1e6, 1.0, &["MJ/kg", "kJ/g"]),
        unit(D::SpecificEnergy, 3.6e6, 1.0, &["kWh/kg", "kW h/kg"]),
        unit(
            D::SpecificEnergy,
            2326.0,
            1.0,
            &["Btu/lb", "BTU/lb", "Btu/lbm"],
        ),
        unit(D::Density, 1.0, 1.0, &["kg/m3", "g/L", "g/l"]),
        unit(D::Density, 1e3, 1.0, &["kg/L", "kg/l", "kg/dm3"]),
        unit(D::Density, 1e3, 1.0, &["g/cm3", "g/cc", "g/ml", "g/mL"]),
        unit(
            D::Density,
            453_592_370_000.0,
            28_316_846_592.0,
            &["lb/ft3", "lbm/ft3", "lb/cu ft"],
        ),
        unit(
            D::Density,
            453_592_370_000.0,
            3_785_411_784.0,
            &["lb/US gal", "lb/USgal"],
        ),
        unit(D::Velocity, 1.0, 1.0, &["m/s", "m/sec"]),
        unit(D::Velocity, 10.0, 36.0, &["km/h", "km/hr", "kph", "kmh"]),
        unit(D::Velocity, 44_704.0, 1e5, &["mph", "mile/h", "mi/h"]),
        unit(D::Velocity, 3048.0, 1e4, &["ft/s", "ft/sec", "fps"]),
        unit(D::Velocity, 1852.0, 3600.0, &["kn", "knot", "knots"]),
        unit(D::Torque, 1.0, 1.0, &["N m", "Nm", "N-m", "newton metre"]),
        unit(
            D::Torque,
            1.355_817_948_331_400_4,
            1.0,
            &[
                "lbf ft", "lb ft", "ft lb", "ft lbf", "lb-ft", "ft-lb", "lbft", "ftlb", "lbf-ft",
            ],
        ),
        unit(D::Torque, 980_665.0, 1e5, &["kgf m", "kg m", "mkg", "kpm"]),
        unit(D::Time, 1.0, 1.0, &["s", "sec", "second", "seconds"]),
        unit(D::Time, 1.0, 1e3, &["ms"]),
        unit(D::Time, 60.0, 1.0, &["min", "minute", "minutes"]),
        unit(D::Time, 3600.0, 1.0, &["h", "hr", "hour", "hours"]),
        unit(
            D::ThermalConductivity,
            1.0,
            1.0,
            &["W/(m K)", "W/m/K", "W/mK", "W/(mK)"],
        ),
        // kg per joule: 1 g/kWh is 1e-3 kg over 3.6e6 J.
        unit(
            D::SpecificFuelConsumption,
            1.0,
            3.6e9,
            &["g/kWh", "g/kW h", "g/(kW h)", "g/kW/h"],
        ),
        unit(
            D::SpecificFuelConsumption,
            0.453_592_37,
            2_684_519.537_696_172_8,
            &[
                "lb/(hp h)",
                "lb/hp h",
                "lb/hph",
                "lb/hp/h",
                "lb/(hp hr)",
                "lb/hp-hr",
                "lb/hp-h",
            ],
        ),
        unit(D::Plain, 1.0, 1.0, &["-", "1", "ratio", "none"]),
        unit(D::Plain, 1.0, 1e2, &["%", "percent", "per cent", "pct"]),
    ]
};

/// Endings that say which kind of pressure a unit means. Longer ones first.
const PRESSURE_ENDINGS: &[(&str, PressureReading)] = &[
    ("difference", PressureReading::Difference),
    ("absolute", PressureReading::Absolute),
    ("(gauge)", PressureReading::Gauge),
    ("gauge", PressureReading::Gauge),
    ("gage", PressureReading::Gauge),
    ("boost", PressureReading::Gauge),
    ("(abs)", PressureReading::Absolute),
    ("abs.", PressureReading::Absolute),
    ("abs", PressureReading::Absolute),
    ("diff", PressureReading::Difference),
    ("(a)", PressureReading::Absolute),
    ("(g)", PressureReading::Gauge),
    ("_a", PressureReading::Absolute),
    ("_g", PressureReading::Gauge),
    ("a", PressureReading::Absolute),
    ("g", PressureReading::Gauge),
    ("d", PressureReading::Difference),
];

/// The unit of a spelling, and what the spelling said about a pressure. Upper and lower case are
/// told apart only where they mean something (MPa is not mPa).
pub fn unit_named(text: &str) -> Option<(&'static Unit, PressureReading)> {
    let wanted = normalised(text);
    if let Some(unit) = known(&wanted) {
        return Some((unit, PressureReading::Unsaid));
    }
    PRESSURE_ENDINGS.iter().find_map(|&(ending, reading)| {
        let cut = wanted.len().checked_sub(ending.len())?;
        if !wanted.is_char_boundary(cut) || !wanted[cut..].eq_ignore_ascii_case(ending) {
            return None;
        }
        let unit = known(wanted[..cut].trim())?;
        (unit.dimension == Dimension::Pressure).then_some((unit, reading))
    })
}

/// All units of a dimension.
pub fn units_of(dimension: Dimension) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.dimension == dimension)
}

/// The spelling of these dimensions that lies nearest to a text, where one is near: within two
/// letters and at most half of the word.
pub fn nearest_unit(text: &str, dimensions: &[Dimension]) -> Option<&'static str> {
    let wanted = normalised(text).to_lowercase();
    let reach = (wanted.chars().count() / 2).min(2);
    UNITS
        .iter()
        .filter(|unit| dimensions.contains(&unit.dimension))
        .flat_map(|unit| unit.spellings)
        .map(|spelling| {
            (
                strsim::osa_distance(&wanted, &spelling.to_lowercase()),
                *spelling,
            )
        })
        .filter(|(distance, _)| *distance <= reach)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, spelling)| spelling)
}

fn known(wanted: &str) -> Option<&'static Unit> {
    let exact = UNITS.iter().find(|unit| unit.spellings.contains(&wanted));
    exact.or_else(|| {
        UNITS.iter().find(|unit| {
            let same = |spelling: &&&str| spelling.eq_ignore_ascii_case(wanted);
            unit.spellings
                .iter()
                .find(same)
                .is_some_and(|spelling| !prefix_changed(spelling, wanted))
        })
    })
}

/// Whether the two differ by milli against mega.
fn prefix_changed(spelling: &str, wanted: &str) -> bool {
    let (a, b) = (spelling.as_bytes().first(), wanted.as_bytes().first());
    spelling.len() > 1 && matches!((a, b), (Some(b'm'), Some(b'M')) | (Some(b'M'), Some(b'm')))
}

/// One form for what people type: raised digits, degree signs, dots and blanks.
fn normalised(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.trim().chars() {
        match letter {
            '²' | '₂' => plain.push('2'),
            '³' => plain.push('3'),
            '°' | 'º' | '˚' => plain.push_str("deg"),
            '℃' => plain.push_str("degC"),
            '℉' => plain.push_str("degF"),
            'µ' | 'μ' => plain.push('u'),
            '″' | '”' | '“' => plain.push('"'),
            '′' | '’' => plain.push('\''),
            '⁻' | '−' | '–' => plain.push('-'),
            '¹' => plain.push('1'),
            '^' => {}
            '·' | '*' | '⋅' | '×' => plain.push(' '),
            blank if blank.is_whitespace() => plain.push(' '),
            other => plain.push(other),
        }
    }
    let words: Vec<&str> = plain.split(' ').filter(|word| !word.is_empty()).collect();
    words
        .join(" ")
        .replace(" / ", "/")
        .replace(" /", "/")
        .replace("/ ", "/")
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Rounding of the two operations in a conversion there and back.
    const TWO_ROUNDINGS: f64 = 4.0 * f64::EPSILON;

    fn si(value: f64, name: &str) -> f64 {
        unit_named(name).unwrap().0.to_si(value)
    }

    #[test]
    #[allow(clippy::float_cmp, reason = "the claim is exactness")]
    fn inches_cubed_make_a_foot_exactly() {
        assert_eq!(si(1728.0, "in3"), si(1.0, "ft3"));
        assert_eq!(si(231.0, "in3"), si(1.0, "US gal"));
        assert_eq!(si(144.0, "in2"), si(1.0, "ft2"));
        assert_eq!(si(12.0, "in"), si(1.0, "ft"));
        assert_eq!(si(4.5, "L"), 0.0045);
        assert_eq!(si(373.0, "in3"), 0.006112374872);
    }

    #[test]
    fn factors_follow_from_their_definitions() {
        let (pound, inch, gravity) = (0.45359237, 0.0254, 9.80665);
        let last_digits = 1e-15;
        assert_relative_eq!(
            si(1.0, "psi"),
            pound * gravity / (inch * inch),
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "inHg"),
            13595.1 * gravity * inch,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "mmHg"),
            13.5951 * gravity,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "inH2O"),
            1000.0 * gravity * inch,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "hp"),
            550.0 * 12.0 * inch * pound * gravity,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "lbf ft"),
            12.0 * inch * pound * gravity,
            max_relative = last_digits
        );
        assert_relative_eq!(si(1.0, "PS"), 75.0 * gravity, max_relative = last_digits);
        assert_relative_eq!(
            si(1.0, "lb/(hp h)"),
            pound / (si(1.0, "hp") * 3600.0),
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "mph"),
            5280.0 * 12.0 * inch / 3600.0,
            max_relative = last_digits
        );
    }

    /// Cross-check against the units library `uom`. It rounds: its `psi` is 6894.757 Pa, 4e-8 off
    /// the definition, its `pound_force_per_square_inch` 9e-8, its pound 7e-8; inch of mercury,
    /// cubic inch, pound a minute and horsepower carry seven digits. Hence 1e-7 to 1e-6.
    #[test]
    fn factors_agree_with_a_units_library() {
        use uom::si::f64 as u;
        use uom::si::{length, mass, mass_rate, power, pressure, volume};
        let psi = u::Pressure::new::<pressure::psi>(1.0).get::<pressure::pascal>();
        assert_relative_eq!(si(1.0, "psi"), psi, max_relative = 2e-7);
        let inhg = u::Pressure::new::<pressure::inch_of_mercury>(1.0).get::<pressure::pascal>();
        assert_relative_eq!(si(1.0, "inHg"), inhg, max_relative = 1e-6);
        let lb = u::Mass::new::<mass::pound>(1.0).get::<mass::kilogram>();
        assert_relative_eq!(si(1.0, "lb"), lb, max_relative = 1e-7);
        let foot = u::Length::new::<length::foot>(1.0).get::<length::meter>();
        assert_relative_eq!(si(1.0, "ft"), foot, max_relative = 1e-12);
        let in3 = u::Volume::new::<volume::cubic_inch>(1.0).get::<volume::cubic_meter>();
        assert_relative_eq!(si(1.0, "in3"), in3, max_relative = 1e-6);
        let lb_min = u::MassRate::new::<mass_rate::pound_per_minute>(1.0);
        let lb_min = lb_min.get::<mass_rate::kilogram_per_second>();
        assert_relative_eq!(si(1.0, "lb/min"), lb_min, max_relative = 1e-6);
        let hp = u::Power::new::<power::horsepower>(1.0).get::<power::watt>();
        assert_relative_eq!(si(1.0, "hp"), hp, max_relative = 1e-6);
    }

    #[test]
    fn every_unit_goes_out_and_in_without_loss() {
        for unit in UNITS {
            for value in [-40.0, 0.1, 1.0, 37.9, 1e5] {
                let back = unit.from_si(unit.to_si(value));
                let zero = unit.offset.max(1.0);
                assert_relative_eq!(
                    back,
                    value,
                    epsilon = zero * TWO_ROUNDINGS,
                    max_relative = TWO_ROUNDINGS
                );
                let back = unit.difference_from_si(unit.difference_to_si(value));
                assert_relative_eq!(back, value, max_relative = TWO_ROUNDINGS);
            }
        }
    }

    #[test]
    fn every_spelling_finds_its_unit_and_no_other() {
        for unit in UNITS {
            for spelling in unit.spellings {
                assert_eq!(*spelling, normalised(spelling), "not in normal form");
                let (found, reading) = unit_named(spelling).unwrap();
                assert_eq!(found.name(), unit.name(), "{spelling}");
                assert_eq!(reading, PressureReading::Unsaid);
            }
        }
    }

    #[test]
    fn spellings_with_signs_and_raised_digits_are_understood() {
        for (spelling, name) in [
            ("°C", "degC"),
            ("º C", "degC"),
            ("℃", "degC"),
            ("m³/s", "m3/s"),
            ("cm²", "cm2"),
            ("N·m", "N m"),
            ("lbf·ft", "lbf ft"),
            ("lb / min", "lb/min"),
            ("KPA", "kPa"),
            ("PSI", "psi"),
            ("kg/m^3", "kg/m3"),
            ("min⁻¹", "rpm"),
            ("l/min", "L/min"),
        ] {
            assert_eq!(unit_named(spelling).unwrap().0.name(), name, "{spelling}");
        }
    }

    #[test]
    fn gauge_absolute_and_difference_are_told_apart() {
        use PressureReading::{Absolute, Difference, Gauge, Unsaid};
        for (spelling, name, reading) in [
            ("psig", "psi", Gauge),
            ("psia", "psi", Absolute),
            ("psid", "psi", Difference),
            ("barg", "bar", Gauge),
            ("bar(a)", "bar", Absolute),
            ("kPag", "kPa", Gauge),
            ("kPa abs", "kPa", Absolute),
            ("kPa gauge", "kPa", Gauge),
            ("inHg", "inHg", Unsaid),
            ("bar absolute", "bar", Absolute),
            ("mbar g", "mbar", Gauge),
        ] {
            let (unit, said) = unit_named(spelling).unwrap();
            assert_eq!((unit.name(), said), (name, reading), "{spelling}");
        }
    }

    #[test]
    fn milli_is_not_taken_for_mega() {
        assert!(unit_named("mPa").is_none());
        assert!(unit_named("Mbar").is_none());
        assert!(unit_named("mW").is_none());
        assert!(unit_named("Mg").is_none());
    }
}
