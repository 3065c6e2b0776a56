//! The reader's units: kPa, °C, kg/s, kW for one, psi, °F, lb/min, hp for the other.

use super::kind::Kind;
use super::spelling::unit_named;
use super::unit::Unit;

/// The two sets of units that a reader can choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// kPa, °C, kg/m³, kg/s, kW, N·m, g/kWh.
    #[default]
    Si,
    /// psi, °F, lb/ft³, lb/min, hp, lbf·ft, lb/(hp·h).
    Us,
}

/// What a reader of US units gets in place of a metric unit; any other unit stays as it is. Shots of
/// fuel in mg or mm³ and injectors in cc/min are named so on both sides.
const US_IN_PLACE_OF: &[(&str, &str)] = &[
    ("Pa", "inH2O"),
    ("hPa", "inHg"),
    ("kPa", "psi"),
    ("MPa", "psi"),
    ("bar", "psi"),
    ("mbar", "inH2O"),
    ("mmHg", "inHg"),
    ("mmH2O", "inH2O"),
    ("atm", "psi"),
    ("K", "degF"),
    ("degC", "degF"),
    ("m3", "ft3"),
    ("L", "in3"),
    ("cc", "in3"),
    ("cm3", "in3"),
    ("m", "ft"),
    ("km", "mi"),
    ("cm", "in"),
    ("mm", "in"),
    ("um", "in"),
    ("m2", "ft2"),
    ("cm2", "in2"),
    ("mm2", "in2"),
    ("kg", "lb"),
    ("g", "oz"),
    ("kg/s", "lb/min"),
    ("kg/min", "lb/min"),
    ("g/s", "lb/min"),
    ("kg/h", "lb/h"),
    ("m3/s", "ft3/min"),
    ("m3/min", "ft3/min"),
    ("m3/h", "ft3/min"),
    ("L/s", "ft3/min"),
    ("L/min", "gal/min"),
    ("L/h", "gal/h"),
    ("W", "hp"),
    ("kW", "hp"),
    ("MW", "hp"),
    ("PS", "hp"),
    ("N", "lbf"),
    ("daN", "lbf"),
    ("kN", "lbf"),
    ("kgf", "lbf"),
    ("J/kg", "Btu/lb"),
    ("kJ/kg", "Btu/lb"),
    ("MJ/kg", "Btu/lb"),
    ("kWh/kg", "Btu/lb"),
    ("kg/m3", "lb/ft3"),
    ("kg/L", "lb/gal"),
    ("g/cm3", "lb/gal"),
    ("m/s", "ft/s"),
    ("km/h", "mph"),
    ("N m", "lbf ft"),
    ("kgf m", "lbf ft"),
    ("kg/m", "lb/ft"),
    ("g/m", "lb/ft"),
    ("W/(m K)", "Btu/(h ft degF)"),
    ("W/K", "Btu/(h degF)"),
    ("kW/K", "Btu/(h degF)"),
    ("g/kWh", "lb/(hp h)"),
];

/// The unit in which a reader gets what was given in a unit.
pub(super) fn in_reader_units(unit: &'static Unit, system: UnitSystem) -> &'static Unit {
    match system {
        UnitSystem::Si => unit,
        UnitSystem::Us => us_in_place_of(unit.name())
            .and_then(unit_named)
            .map_or(unit, |(other, _)| other),
    }
}

fn us_in_place_of(metric: &str) -> Option<&'static str> {
    let row = US_IN_PLACE_OF.iter().find(|(name, _)| *name == metric);
    row.map(|(_, us)| *us)
}

/// The units to name where another was met, the reader's own first.
pub fn usual_units(kind: Kind, system: UnitSystem) -> Vec<&'static str> {
    let mut units = kind.usual_units().to_vec();
    if system == UnitSystem::Us {
        units.sort_by_key(|name| us_in_place_of(name).is_some());
    }
    units
}

/// How one kind is shown: the unit's key in the table, how it is printed, decimals; SI then US.
struct Shown {
    si: (&'static str, &'static str, usize),
    us: (&'static str, &'static str, usize),
}

const fn shown_as(kind: Kind) -> Shown {
    let (si, us) = match kind {
        Kind::AbsolutePressure => (("kPa", "kPa absolute", 1), ("psi", "psi absolute", 2)),
        Kind::BoostPressure => (("kPa", "kPa gauge", 1), ("psi", "psi gauge", 2)),
        Kind::PressureDifference => (("kPa", "kPa difference", 2), ("psi", "psi difference", 3)),
        Kind::Temperature => (("degC", "°C", 1), ("degF", "°F", 1)),
        Kind::TemperatureDifference => (("K", "K difference", 1), ("degF", "°F difference", 1)),
        Kind::Volume => (("L", "L", 3), ("in3", "in³", 1)),
        Kind::Length => (("mm", "mm", 1), ("in", "in", 3)),
        Kind::Area => (("cm2", "cm²", 2), ("in2", "in²", 3)),
        Kind::Mass => (("kg", "kg", 3), ("lb", "lb", 3)),
        Kind::FuelPerStroke => (("mg", "mg", 1), ("mg", "mg", 1)),
        Kind::MassFlow | Kind::WaterFlow => (("kg/s", "kg/s", 4), ("lb/min", "lb/min", 2)),
        Kind::FuelFlow => (("kg/h", "kg/h", 2), ("lb/h", "lb/h", 2)),
        Kind::VolumeFlow => (("m3/s", "m³/s", 4), ("ft3/min", "ft³/min", 1)),
        Kind::Power => (("kW", "kW", 1), ("hp", "hp", 1)),
        Kind::RotationalSpeed => (("rpm", "rpm", 0), ("rpm", "rpm", 0)),
        Kind::Force => (("kN", "kN", 1), ("lbf", "lbf", 0)),
        Kind::SmallForce => (("N", "N", 0), ("lbf", "lbf", 0)),
        Kind::SpecificEnergy => (("MJ/kg", "MJ/kg", 2), ("Btu/lb", "Btu/lb", 0)),
        Kind::Density => (("kg/m3", "kg/m³", 3), ("lb/ft3", "lb/ft³", 4)),
        Kind::Velocity => (("km/h", "km/h", 0), ("mph", "mph", 0)),
        Kind::SurfaceSpeed => (("m/s", "m/s", 1), ("ft/s", "ft/s", 0)),
        Kind::MeanEffectivePressure => (
            ("kPa", "kPa mean effective", 1),
            ("psi", "psi mean effective", 2),
        ),
        Kind::FuelVolume => (("mm3", "mm³", 1), ("mm3", "mm³", 1)),
        Kind::Angle => (("deg", "°", 0), ("deg", "°", 0)),
        Kind::MassPerLength => (("kg/m", "kg/m", 3), ("lb/ft", "lb/ft", 3)),
        Kind::Torque => (("N m", "N·m", 0), ("lbf ft", "lbf·ft", 0)),
        Kind::Time => (("s", "s", 1), ("s", "s", 1)),
        Kind::ThermalConductivity => (
            ("W/(m K)", "W/(m·K)", 1),
            ("Btu/(h ft degF)", "Btu/(h·ft·°F)", 1),
        ),
        Kind::ThermalConductance => (("W/K", "W/K", 0), ("Btu/(h degF)", "Btu/(h·°F)", 0)),
        Kind::SpecificFuelConsumption => (("g/kWh", "g/kWh", 1), ("lb/(hp h)", "lb/(hp·h)", 3)),
        Kind::Share => (("%", "%", 1), ("%", "%", 1)),
        Kind::Number => (("-", "", 3), ("-", "", 3)),
    };
    Shown { si, us }
}

const fn chosen(kind: Kind, system: UnitSystem) -> (&'static str, &'static str, usize) {
    let shown = shown_as(kind);
    match system {
        UnitSystem::Si => shown.si,
        UnitSystem::Us => shown.us,
    }
}

/// The unit as a heading prints it: "kPa absolute", "lbf·ft"; empty for a plain number.
pub const fn label(kind: Kind, system: UnitSystem) -> &'static str {
    chosen(kind, system).1
}

/// How many decimals make sense for a value of the kind in the reader's unit.
pub const fn decimals(kind: Kind, system: UnitSystem) -> usize {
    chosen(kind, system).2
}

/// A heading: "pressure [kPa absolute]", and the bare name for a plain number.
pub fn header(name: &str, kind: Kind, system: UnitSystem) -> String {
    match label(kind, system) {
        "" => name.to_owned(),
        unit => format!("{name} [{unit}]"),
    }
}

/// An SI value (rpm for rotational speed) in the reader's unit, unrounded.
pub fn reader_value(si: f64, kind: Kind, system: UnitSystem) -> f64 {
    let Some(unit) = unit_of(kind, system) else {
        return si;
    };
    match kind {
        Kind::TemperatureDifference => unit.difference_from_si(si),
        _ => unit.from_si(si),
    }
}

/// An SI value as text in the reader's unit, without the unit: rounded to sensible decimals, and
/// never "-0".
pub fn shown(si: f64, kind: Kind, system: UnitSystem) -> String {
    plain(reader_value(si, kind, system), decimals(kind, system))
}

/// The same to three significant figures, for what a model knows to several per cent only.
pub fn shown_roughly(si: f64, kind: Kind, system: UnitSystem) -> String {
    let value = reader_value(si, kind, system);
    let rounded: f64 = format!("{value:.2e}").parse().unwrap_or(value);
    let places = match rounded.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        _ => 2,
    };
    plain(rounded, places.min(decimals(kind, system)))
}

fn plain(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.bytes().all(|b| matches!(b, b'0' | b'.')) => digits.to_owned(),
        _ => text,
    }
}

/// The unit of the table. Every name of the list above is in it, which a test holds.
fn unit_of(kind: Kind, system: UnitSystem) -> Option<&'static Unit> {
    unit_named(chosen(kind, system).0).map(|(unit, _)| unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const BOTH: [UnitSystem; 2] = [UnitSystem::Si, UnitSystem::Us];

    #[test]
    fn every_kind_is_shown_in_a_unit_that_can_express_it() {
        for kind in Kind::ALL {
            for system in BOTH {
                let unit = unit_of(kind, system).expect("in the table");
                assert!(kind.dimensions().contains(&unit.dimension), "{kind:?}");
            }
        }
    }

    #[test]
    fn every_metric_unit_has_one_of_the_same_dimension_in_its_place() {
        for (metric, us) in US_IN_PLACE_OF {
            let (from, to) = (unit_named(metric).unwrap().0, unit_named(us).unwrap().0);
            assert_eq!((from.name(), to.name()), (*metric, *us));
            assert_eq!(from.dimension, to.dimension, "{metric}");
            assert_eq!(us_in_place_of(us), None, "{us} is no unit of US readers");
        }
        // The units of reports and those of faults are the same two sets.
        for kind in Kind::ALL {
            let us = unit_of(kind, UnitSystem::Us).unwrap();
            assert_eq!(us_in_place_of(us.name()), None, "{kind:?}");
            let own_first = usual_units(kind, UnitSystem::Us).first().copied();
            assert_eq!(own_first.and_then(us_in_place_of), None, "{kind:?}");
        }
    }

    #[test]
    fn both_systems_show_one_value() {
        // From one reader's unit over SI to the other's and back: four operations.
        for kind in Kind::ALL {
            let (si, us) = (
                unit_of(kind, UnitSystem::Si).unwrap(),
                unit_of(kind, UnitSystem::Us).unwrap(),
            );
            for value in [-3.0, 0.25, 101.325] {
                let over = us.to_si(us.from_si(si.to_si(value)));
                // The zero of the Fahrenheit scale, 459.67, is rounded twice.
                let epsilon = if us.offset > 0.0 { 2e-13 } else { 0.0 };
                assert_relative_eq!(
                    over,
                    si.to_si(value),
                    epsilon = epsilon,
                    max_relative = 1e-15
                );
            }
        }
    }

    #[test]
    fn known_values_read_as_expected() {
        let us = UnitSystem::Us;
        assert_eq!(shown(101_325.0, Kind::AbsolutePressure, us), "14.70");
        assert_eq!(shown(411.15, Kind::Temperature, us), "280.4");
        assert_eq!(shown(110.0, Kind::TemperatureDifference, us), "198.0");
        assert_eq!(
            shown(110.0, Kind::TemperatureDifference, UnitSystem::Si),
            "110.0"
        );
        assert_eq!(shown(1.225, Kind::Density, us), "0.0765");
        assert_eq!(
            shown(213.0 / 3.6e9, Kind::SpecificFuelConsumption, us),
            "0.350"
        );
        assert_eq!(shown(-0.01, Kind::AbsolutePressure, UnitSystem::Si), "0.0");
        assert_relative_eq!(
            reader_value(0.145, Kind::MassFlow, us),
            19.1802,
            max_relative = 1e-5
        );
        assert_relative_eq!(
            reader_value(1.0, Kind::Torque, us),
            0.737_562_149,
            max_relative = 1e-9
        );
    }

    #[test]
    fn a_rough_value_has_three_figures_and_no_more_decimals_than_its_kind() {
        let si = |value, kind| shown_roughly(value, kind, UnitSystem::Si);
        assert_eq!(si(14_608.5e3, Kind::AbsolutePressure), "14600");
        assert_eq!(si(109.26e3, Kind::Force), "109");
        assert_eq!(si(85.94e3, Kind::Force), "85.9");
        assert_eq!(si(9.996e3, Kind::Force), "10.0");
        assert_eq!(si(-0.0001, Kind::Share), "0.0");
        let us = shown_roughly(14_608.5e3, Kind::AbsolutePressure, UnitSystem::Us);
        assert_eq!(us, "2120");
    }

    #[test]
    fn a_pressure_heading_says_absolute_gauge_or_difference() {
        let header = |kind| header("pressure", kind, UnitSystem::Si);
        assert_eq!(header(Kind::AbsolutePressure), "pressure [kPa absolute]");
        assert_eq!(header(Kind::BoostPressure), "pressure [kPa gauge]");
        assert_eq!(
            header(Kind::PressureDifference),
            "pressure [kPa difference]"
        );
        assert_eq!(
            super::header("ratio", Kind::Number, UnitSystem::Us),
            "ratio"
        );
    }
}
