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

use super::unit::{Dimension, Unit};

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

/// Spellings are written as the recogniser leaves them: no degree sign, no raised digits, no
/// multiplication dot, single spaces.
pub(super) const UNITS: &[Unit] = {
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
            1.0,
            6e7,
            &["cc/min", "ccm/min", "cm3/min", "mL/min", "ml/min"],
        ),
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
        unit(
            D::Angle,
            std::f64::consts::PI,
            180.0,
            &["deg", "degree", "degrees"],
        ),
        unit(D::Angle, 1.0, 1.0, &["rad", "radian", "radians"]),
        unit(D::MassPerLength, 1.0, 1.0, &["kg/m"]),
        unit(D::MassPerLength, 1.0, 1e3, &["g/m"]),
        unit(D::MassPerLength, 453_592.37, 304_800.0, &["lb/ft"]),
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
        unit(D::ThermalConductance, 1.0, 1.0, &["W/K", "W/degC"]),
        unit(D::ThermalConductance, 1e3, 1.0, &["kW/K", "kW/degC"]),
        // 1 Btu (international table, 1055.05585262 J) in 3600 s over 5/9 K.
        unit(
            D::ThermalConductance,
            1_055.055_852_62 * 9.0,
            3600.0 * 5.0,
            &["Btu/(h degF)", "Btu/h/degF", "Btu/hr/degF", "Btu/(hr degF)"],
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
