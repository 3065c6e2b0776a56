//! Filter, duct, throttle, turbo compressor, and the rated pressure drop that many parts have.

use super::row::{Beside, CONVENTION, Form, Key, Section, choice, key, quantity, section, table};
use super::spec::{BAR, KPA, MM, ZERO_CELSIUS as ZERO, efficiency, number, of};
use crate::air_path::RatedDrop;
use crate::input::part_words::PART_WORDS;
use crate::input::sense::beside;
use crate::quantity::Kind;

pub(in crate::input) static PART: Key =
    key("part", choice(&PART_WORDS), "Which part this is.").needed("");

/// The keys of a rated pressure drop.
#[derive(Debug)]
pub(in crate::input) struct DropKeys {
    pub pressure_drop: Key,
    pub at_flow: Key,
    pub at_pressure: Key,
    pub at_temperature: Key,
}

/// What is built: usual ranges of drop, pressure and temperature, and what the flow is held to.
const fn rated(
    drop: (f64, f64),
    flow: &'static [Beside],
    pressure: (f64, f64),
    temperature: (f64, f64),
) -> DropKeys {
    DropKeys {
        pressure_drop: key(
            "pressure_drop",
            quantity(
                of(Kind::PressureDifference, "\"1.5 kPa\"")
                    .at_least(0.0)
                    .at_most(1e6),
            ),
            "Pressure drop at at_flow; it grows with the square of the flow.",
        )
        .needed("unless the part is described otherwise; a cooler: none")
        .usual(drop.0, drop.1),
        at_flow: key(
            "at_flow",
            quantity(
                of(Kind::MassFlow, "\"0.25 kg/s\"")
                    .above(0.0)
                    .at_most(100.0),
            ),
            "Flow at which the pressure drop was measured.",
        )
        .needed("with pressure_drop")
        .beside(flow),
        at_pressure: key(
            "at_pressure",
            quantity(
                of(Kind::AbsolutePressure, "\"250 kPa\"")
                    .at_least(1e4)
                    .at_most(3e6),
            ),
            "Inlet pressure at which the pressure drop was measured.",
        )
        .default(RatedDrop::RATING_PRESSURE, CONVENTION, "")
        .usual(pressure.0, pressure.1),
        at_temperature: key(
            "at_temperature",
            quantity(
                of(Kind::Temperature, "\"160 degC\"")
                    .at_least(200.0)
                    .at_most(1500.0),
            ),
            "Inlet temperature at which the pressure drop was measured.",
        )
        .default(RatedDrop::RATING_TEMPERATURE, CONVENTION, "")
        .usual(temperature.0, temperature.1),
    }
}

pub(in crate::input) static FILTER_DROP: DropKeys = rated(
    (20.0, 15.0 * KPA),
    &[beside::rated_flow],
    (50.0 * KPA, 10.0 * BAR),
    (ZERO - 30.0, ZERO + 80.0),
);
pub(in crate::input) static DUCT_DROP: DropKeys = rated(
    (10.0, 30.0 * KPA),
    &[beside::rated_flow],
    (50.0 * KPA, 12.0 * BAR),
    (ZERO - 30.0, ZERO + 250.0),
);
pub(in crate::input) static THROTTLE_DROP: DropKeys = rated(
    (10.0, 100.0 * KPA),
    &[beside::throttled_flow],
    (50.0 * KPA, 12.0 * BAR),
    (ZERO - 30.0, ZERO + 250.0),
);
pub(in crate::input) static COOLER_DROP: DropKeys = rated(
    (20.0, 50.0 * KPA),
    &[beside::rated_flow],
    (50.0 * KPA, 12.0 * BAR),
    (ZERO - 30.0, ZERO + 300.0),
);
pub(in crate::input) static EXHAUST_DROP: DropKeys = rated(
    (20.0, 60.0 * KPA),
    &[beside::exhaust_flow],
    (50.0 * KPA, 5.0 * BAR),
    (ZERO - 30.0, ZERO + 1000.0),
);

/// An air filter, by its pressure drop.
pub(in crate::input) static FILTER: Section = Section {
    path: "filter",
    heading: "part = \"filter\"",
    doc: "An air filter, by its pressure drop.",
    keys: &[
        &PART,
        &FILTER_DROP.pressure_drop,
        &FILTER_DROP.at_flow,
        &FILTER_DROP.at_pressure,
        &FILTER_DROP.at_temperature,
    ],
};

/// A throttle, by its pressure drop.
pub(in crate::input) static THROTTLE: Section = Section {
    path: "throttle",
    heading: "part = \"throttle\"",
    doc: "A throttle, by its pressure drop.",
    keys: &[
        &PART,
        &THROTTLE_DROP.pressure_drop,
        &THROTTLE_DROP.at_flow,
        &THROTTLE_DROP.at_pressure,
        &THROTTLE_DROP.at_temperature,
    ],
};

section! {
    DUCT: "duct", "part = \"duct\"", "A pipe, by its sizes or by a rated pressure drop.";
    [PART, DUCT_DROP.pressure_drop, DUCT_DROP.at_flow, DUCT_DROP.at_pressure, DUCT_DROP.at_temperature];
    DIAMETER = key("diameter", quantity(of(Kind::Length, "\"70 mm\"").at_least(1e-3).at_most(5.0)), "Inside diameter.").needed("or pressure_drop")
        .beside(&[beside::duct_diameter]);
    LENGTH = key("length", quantity(of(Kind::Length, "\"0.8 m\"").at_least(0.0).at_most(100.0)), "Length along the centre line.").needed("or pressure_drop")
        .usual(20.0 * MM, 10.0);
    BENDS = key("bends", quantity(number("2").at_least(0.0).at_most(100.0)), "Number of right-angle bends.").default(0.0, CONVENTION, "a straight duct")
        .usual(0.2, 12.0).slip("it is the number of right-angle bends");
}

section! {
    TURBO_COMPRESSOR: "turbo_compressor", "part = \"turbo_compressor\"", "The compressor of a turbocharger.";
    [PART];
    MAP = key("map", Form::File, "The compressor's map file.").needed("or efficiency");
    PRESSURE_RATIO = key("pressure_ratio", table(number("1.7").at_least(0.3).at_most(20.0)), "Outlet over inlet pressure, both absolute; given, no turbine is needed and a map is only drawn and checked.").without("solved; a turbine must drive it")
        .usual(0.8, 5.5).can(0.3, 12.0) .slip("it is outlet over inlet pressure, both absolute");
    EFFICIENCY = key("efficiency", table(efficiency("0.72")), "Isentropic efficiency.").without("the map's")
        .usual(0.45, 0.87).can(0.05, 1.0);
    MAX_SPEED = key("max_speed", quantity(of(Kind::RotationalSpeed, "\"140000 rpm\"").above(0.0).at_most(1e6)), "Highest permitted shaft speed of the turbocharger.").without("not checked")
        .usual(10e3, 350e3);
}
