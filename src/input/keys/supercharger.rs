//! `part = "supercharger"`.

use std::f64::consts::PI;

use super::air_path::PART;
use super::row::{
    COMMON_PRACTICE, Form, Key, Section, choice, key, quantity, section, table, words,
};
use super::spec::{BAR, KPA, MM, efficiency, number, of};
use crate::air_path::{BeltKind, BypassAt};
use crate::engine::typical::{RIBBED_FRICTION, TOOTHED_TENSION_RATIO};
use crate::input::sense::beside;
use crate::quantity::Kind;

/// How a supercharger moves air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum Machine {
    Roots,
    Screw,
    Centrifugal,
}

pub(in crate::input) const KINDS: [(&str, Machine); 3] = [
    ("roots", Machine::Roots),
    ("screw", Machine::Screw),
    ("centrifugal", Machine::Centrifugal),
];

/// What opens the path around the rotors.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum BypassKind {
    None,
    Check,
    Regulated,
}

pub(in crate::input) const BYPASSES: [(&str, BypassKind); 3] = [
    ("none", BypassKind::None),
    ("check", BypassKind::Check),
    ("regulated", BypassKind::Regulated),
];

pub(in crate::input) const BYPASS_PLACES: [(&str, BypassAt); 2] = [
    ("supercharger outlet", BypassAt::SuperchargerOutlet),
    ("manifold", BypassAt::Manifold),
];

/// Belts; a ribbed one is the usual.
pub(in crate::input) const BELTS: [(&str, BeltKind); 2] = [
    (
        "toothed",
        BeltKind::Toothed {
            tension_ratio: TOOTHED_TENSION_RATIO,
        },
    ),
    (
        "ribbed",
        BeltKind::Ribbed {
            friction: RIBBED_FRICTION,
        },
    ),
];

section! {
    SUPERCHARGER: "supercharger", "part = \"supercharger\"", "A belt-driven supercharger, or one given by its pressure ratio.";
    [PART];
    KIND = key("kind", choice(&words(&KINDS)), "Roots and screw are positive-displacement machines; centrifugal is a wheel.").needed("or pressure_ratio");
    DRIVE_RATIO = key("drive_ratio", quantity(number("2.15").above(0.0).at_most(100.0)), "Supercharger shaft turns per crank turn.").needed("or both pulleys")
        .beside(&[beside::drive_ratio]).inverted("it is turns of the supercharger per turn of the crank");
    GEAR_RATIO = key("gear_ratio", quantity(number("1.0").above(0.0).at_most(30.0)), "Shaft turns per turn of the supercharger's pulley, as in a geared centrifugal.").without("1")
        .usual(0.7, 16.0).can(0.05, 30.0) .inverted("it is turns of the driven shaft per turn of its pulley");
    PULLEY_DIAMETER = key("pulley_diameter", quantity(of(Kind::Length, "\"90 mm\"").at_least(5e-3).at_most(2.0)), "Effective diameter of the supercharger's pulley; the belt is calculated from it.").without("belt not calculated")
        .usual(30.0 * MM, 0.4).beside(&[beside::driven_pulley]).slip("it is the supercharger's; the crank's is crank_pulley_diameter: are the two swapped?");
    CRANK_PULLEY_DIAMETER = key("crank_pulley_diameter", quantity(of(Kind::Length, "\"90 mm\"").at_least(5e-3).at_most(2.0)), "Effective diameter of the crank pulley.").without("from drive_ratio")
        .usual(40.0 * MM, 0.5).beside(&[beside::belt_speed]);
    DISPLACEMENT = key("displacement", quantity(of(Kind::Volume, "\"2.1 L\"").at_least(1e-6).at_most(0.5)), "Volume swept per turn of the driven shaft.").needed("for roots and screw")
        .beside(&[beside::sweep]).slip("it is swept per turn of the driven shaft");
    SLIP_SPEED = key("slip_speed", quantity(of(Kind::RotationalSpeed, "\"170 rpm\"").at_least(0.0).at_most(1e5)), "Slip test: shaft speed that just holds 1 psi against a blocked outlet.").without("175 rpm × (2 L/displacement)^(1/3), give or take 40 % (common practice)")
        .beside(&[beside::slip_speed]);
    INTERNAL_VOLUME_RATIO = key("internal_volume_ratio", quantity(number("1.25").at_least(1.0).at_most(10.0)), "How far the screw compresses the air before its outlet opens.").needed("for a screw")
        .usual(1.0, 2.2).can(1.0, 6.0);
    INDICATED_EFFICIENCY = key("indicated_efficiency", quantity(efficiency("0.95")), "Ideal work of the rotors over power given to the air.").default(0.88, COMMON_PRACTICE, "")
        .usual(0.6, 1.0).can(0.3, 1.0);
    MECHANICAL_EFFICIENCY = key("mechanical_efficiency", quantity(efficiency("0.95")), "Efficiency of gears and bearings.").default(0.96, COMMON_PRACTICE, "")
        .usual(0.8, 1.0).can(0.4, 1.0);
    DRIVE_EFFICIENCY = key("drive_efficiency", quantity(efficiency("0.95")), "Efficiency of the belt drive.").default(0.97, COMMON_PRACTICE, "")
        .usual(0.85, 1.0).can(0.4, 1.0);
    NO_LOAD_POWER = key("no_load_power", quantity(of(Kind::Power, "\"0.9 kW\"").at_least(0.0).at_most(1e7)), "Power absorbed by the shaft at pressure ratio 1.").without("0: drag when freewheeling not included")
        .usual(5.0, 40e3);
    AT_SPEED = key("at_speed", quantity(of(Kind::RotationalSpeed, "\"140000 rpm\"").above(0.0).at_most(1e6)), "Shaft speed at which no_load_power was measured.").needed("with no_load_power")
        .usual(500.0, 2e5);
    MAX_SPEED = key("max_speed", quantity(of(Kind::RotationalSpeed, "\"140000 rpm\"").above(0.0).at_most(1e6)), "Highest permitted shaft speed.").without("not checked")
        .usual(1000.0, 2.5e5).beside(&[beside::shaft_speed]);
    ROTOR_DIAMETER = key("rotor_diameter", quantity(of(Kind::Length, "\"90 mm\"").at_least(5e-3).at_most(2.0)), "Rotor tip diameter, for the tip speed.").without("tip speed not calculated")
        .usual(25.0 * MM, 0.6).beside(&[beside::tip_speed]);
    BELT = key("belt", choice(&words(&BELTS)), "Type of belt.").without("ribbed");
    CENTER_DISTANCE = key("center_distance", quantity(of(Kind::Length, "\"320 mm\"").at_least(5e-3).at_most(5.0)), "Distance between the two pulley shafts; belt wrap follows from it.")
        .usual(60.0 * MM, 2.0);
    WRAP_ANGLE = key("wrap_angle", quantity(of(Kind::Angle, "\"170 deg\"").at_least(0.5).at_most(2.0 * PI)), "Instead of center_distance: belt wrap on the supercharger's pulley.").without("180 deg")
        .usual(1.2, 5.0);
    BELT_MASS_PER_LENGTH = key("belt_mass_per_length", quantity(of(Kind::MassPerLength, "\"0.15 kg/m\"").at_least(0.0).at_most(10.0)), "Belt mass per length, for centrifugal tension.").without("0: no centrifugal tension")
        .usual(0.01, 2.0);
    ENGAGED = key("engaged", Form::Switch, "Clutch: 1 or 0, or rows of engine speed and 1 or 0; each row holds until the next.").without("always engaged");
    BYPASS = key("bypass", choice(&words(&BYPASSES)), "Path around the rotors: check is a self-opening flap, regulated holds a set pressure.").without("none");
    BYPASS_PRESSURE = key("bypass_pressure", quantity(of(Kind::BoostPressure, "\"40 kPa\"").above(0.0).at_most(1e6)), "Boost that a regulated bypass holds.").needed("for a regulated bypass")
        .usual(2.0 * KPA, 3.0 * BAR);
    BYPASS_AT = key("bypass_at", choice(&words(&BYPASS_PLACES)), "Where a regulated bypass senses pressure.").without("supercharger outlet");
    BYPASS_DROP = key("bypass_drop", quantity(of(Kind::PressureDifference, "\"0.5 kPa\"").at_least(0.0).at_most(1e5)), "Pressure drop of the open bypass.").without("0")
        .usual(20.0, 20.0 * KPA);
    MAP = key("map", Form::File, "Map file. Centrifugal: a compressor map. Roots and screw: a supercharger map instead of slip_speed.").needed("for a centrifugal");
    PRESSURE_RATIO = key("pressure_ratio", table(number("1.7").at_least(0.3).at_most(20.0)), "Outlet over inlet pressure, both absolute; stands in for the machine's own figures until you have chosen one.")
        .usual(0.8, 3.2).can(0.3, 8.0) .slip("it is outlet over inlet pressure, both absolute");
    EFFICIENCY = key("efficiency", table(efficiency("0.6")), "Isentropic efficiency, together with pressure_ratio.").needed("with pressure_ratio")
        .usual(0.35, 0.87).can(0.05, 1.0).beside(&[beside::roots_efficiency]);
}
