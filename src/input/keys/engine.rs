//! `[engine]` and its sections.

use super::row::{
    COMMON_PRACTICE, CONVENTION, Form, Key, Section, choice, key, quantity, section, table, words,
};
use super::spec::{BAR, KPA, MM, efficiency, engine_speed, number, of, share};
use crate::engine::EngineKind;
use crate::engine::typical::STUD_FRICTION;
use crate::input::sense::beside;
use crate::quantity::Kind;

/// How the charge is ignited.
pub(in crate::input) const KINDS: [(&str, EngineKind); 2] = [
    ("diesel", EngineKind::Diesel),
    ("spark_ignition", EngineKind::SparkIgnition),
];

section! {
    ENGINE: "engine", "[engine]", "Size, breathing and speeds of the engine.";
    KIND = key("kind", choice(&words(&KINDS)), "How the charge is ignited; default friction and peak pressure follow from it.").without("the fuel's own");
    CYLINDERS = key("cylinders", quantity(number("4").at_least(1.0).at_most(64.0).whole()), "Number of cylinders.").without("unknown; needed by per_stroke")
        .usual(1.0, 24.0);
    DISPLACEMENT = key("displacement", quantity(of(Kind::Volume, "\"4.5 L\"").at_least(1e-6).at_most(1.0)), "Swept volume of the whole engine.").needed("or bore, stroke and cylinders")
        .usual(1e-6, 1.0).beside(&[beside::cylinder_volume]);
    STROKE = key("stroke", quantity(of(Kind::Length, "\"118 mm\"").at_least(5e-3).at_most(2.0)), "Piston stroke; friction, and so brake power, needs it.").without("from bore, cylinders and displacement; otherwise no brake power")
        .usual(8.0 * MM, 0.7).beside(&[beside::stroke_of_volume]);
    BORE = key("bore", quantity(of(Kind::Length, "\"110 mm\"").at_least(5e-3).at_most(2.0)), "Cylinder bore; with stroke and cylinders it replaces displacement.").without("from displacement, stroke and cylinders")
        .usual(8.0 * MM, 0.7).beside(&[beside::bore_of_stroke]);
    STROKES = key("strokes", quantity(number("4").whole()), "4 for a four-stroke, 2 for a two-stroke.").default(4.0, CONVENTION, "four-stroke");
    COMPRESSION_RATIO = key("compression_ratio", quantity(number("15.5").above(1.0).at_most(40.0)), "Geometric compression ratio.").without("unknown; needed with a turbine or an exhaust")
        .usual(5.0, 24.0).beside(&[beside::compression]);
    VOLUMETRIC_EFFICIENCY = key("volumetric_efficiency", table(of(Kind::Share, "0.88").at_least(0.1).at_most(3.0)), "How well the cylinders fill from the manifold: about 0.86 with two valves per cylinder, 0.92 with four. Two-stroke: delivery ratio.").needed("")
        .usual(0.5, 1.3).slip("it is based on manifold density: boost does not raise it");
    MEASURED_AT_EXHAUST_PRESSURE_RATIO = key("measured_at_exhaust_pressure_ratio", quantity(number("1.0").above(0.0).at_most(10.0)), "Exhaust pressure over manifold pressure at which the volumetric efficiency was measured.").once("measured_at_drive_ratio").default(1.0, CONVENTION, "exhaust pressure equal to manifold pressure")
        .usual(0.5, 3.0).inverted("it is exhaust over manifold pressure, not the belt's ratio");
    RPM = key("rpm", Form::Section, "Engine speeds of the operating line, written { from = 1200, to = 3200, step = 200 }.").needed("");
    COMBUSTION = key("combustion", Form::Section, "Where the heat of the fuel goes.").without("needed with a turbine or an exhaust");
    FRICTION = key("friction", Form::Section, "Friction mean effective pressure.").without("the usual friction of the engine kind");
    HEAD = key("head", Form::Section, "What clamps the cylinder head.").without("head clamp not calculated");
}

section! {
    ENGINE_RPM: "engine.rpm", "rpm = { … } of [engine]", "Engine speeds of the operating line, written { from = 1200, to = 3200, step = 200 }.";
    RPM_FROM = key("from", quantity(engine_speed()), "First speed of the line.").needed("")
        .beside(&[beside::piston_speed]);
    RPM_TO = key("to", quantity(engine_speed()), "Last speed of the line; always included.").needed("")
        .beside(&[beside::piston_speed]);
    RPM_STEP = key("step", quantity(engine_speed()), "Distance between speeds.").needed("unless from = to")
        .usual(1.0, 5000.0);
}

section! {
    ENGINE_COMBUSTION: "engine.combustion", "[engine.combustion]", "Where the heat of the fuel goes.";
    GROSS_INDICATED_EFFICIENCY = key("gross_indicated_efficiency", table(efficiency("0.43").below(1.0)), "Work of the compression and expansion strokes over the heat of the fuel: diesel about 0.43, petrol 0.36.").needed("")
        .usual(0.25, 0.52).can(0.05, 0.65) .slip("brake efficiency is less, the ideal cycle's more");
    HEAT_LOSS_SHARE = key("heat_loss_share", table(share("0.19").below(1.0)), "Share of the fuel's heat lost to cylinder walls, ports and manifold up to the turbine: diesel about 0.19, petrol 0.27.").needed("")
        .usual(0.05, 0.4);
    PRESSURE_RISE_RATIO = key("pressure_rise_ratio", table(number("1.5").at_least(1.0).at_most(10.0)), "Peak cylinder pressure over the pressure of compression alone.").without("peak pressure not estimated")
        .usual(1.05, 4.5).slip("it is peak over compression pressure, a plain ratio");
}

section! {
    ENGINE_FRICTION: "engine.friction", "[engine.friction]", "Friction mean effective pressure; without the section the usual one of the engine kind.";
    CONSTANT = key("constant", quantity(of(Kind::PressureDifference, "\"60 kPa\"").at_least(0.0).at_most(2e6)), "Friction mean effective pressure at standstill.").needed("")
        .usual(2.0 * KPA, 250.0 * KPA).can(0.0, 10.0 * BAR);
    PEAK_PRESSURE_SHARE = key("peak_pressure_share", quantity(share("0.005")), "Part that grows with peak cylinder pressure.").default(0.0, CONVENTION, "")
        .usual(5e-4, 0.02).can(0.0, 0.1);
    LINEAR = key("linear", quantity(number("9.0e3").at_least(0.0).at_most(1e6)), "Part that grows with mean piston speed, Pa per m/s.").default(0.0, CONVENTION, "")
        .usual(100.0, 3e4).slip("it is in Pa per m/s of mean piston speed");
    QUADRATIC = key("quadratic", quantity(number("9.0e3").at_least(0.0).at_most(1e6)), "Part that grows with mean piston speed squared, Pa per (m/s)².").default(0.0, CONVENTION, "")
        .usual(5.0, 3e3).slip("it is in Pa per (m/s)² of mean piston speed");
}

section! {
    ENGINE_HEAD: "engine.head", "[engine.head]", "What clamps the cylinder head; every figure is a range.";
    STUDS_PER_CYLINDER = key("studs_per_cylinder", quantity(number("4").above(0.0).at_most(40.0)), "Studs that clamp the head at one cylinder; a stud shared by two cylinders counts half.").without("head clamp not calculated")
        .usual(1.0, 10.0).slip("count the studs of one cylinder, a shared stud as half");
    SEALED_BORE = key("sealed_bore", quantity(of(Kind::Length, "\"114 mm\"").at_least(5e-3).at_most(2.0)), "Diameter sealed by the gasket.").without("the bore")
        .beside(&[beside::sealed_bore]);
    STUD_DIAMETER = key("stud_diameter", quantity(of(Kind::Length, "\"12 mm\"").at_least(3e-3).at_most(0.1)), "Nominal stud diameter.").needed("with stud_torque")
        .usual(3.0 * MM, 0.08).beside(&[beside::stud_diameter]);
    STUD_PRELOAD = key("stud_preload", quantity(of(Kind::Force, "\"75 kN\"").above(0.0).at_most(2e6)), "Preload of one stud, as measured by its stretch.").without("from stud_torque")
        .beside(&[beside::stud_preload]);
    STUD_TORQUE = key("stud_torque", quantity(of(Kind::Torque, "\"120 N m\"").above(0.0).at_most(2e4)), "Instead of stud_preload: tightening torque at the nut.")
        .beside(&[beside::stud_torque]);
    STUD_PITCH = key("stud_pitch", quantity(of(Kind::Length, "\"1.75 mm\"").at_least(2e-4).at_most(0.01)), "Thread pitch.").without("the coarse pitch of that diameter (ISO 261)")
        .beside(&[beside::stud_pitch]);
    SMALLEST_STUD_FRICTION = key("smallest_stud_friction", quantity(number("0.13").at_least(0.02).at_most(0.5)), "Least likely friction coefficient in the thread and under the nut; the preload becomes a range.").default(STUD_FRICTION.0, COMMON_PRACTICE, "")
        .usual(0.05, 0.25);
    LARGEST_STUD_FRICTION = key("largest_stud_friction", quantity(number("0.13").at_least(0.02).at_most(0.5)), "Greatest likely friction coefficient in the thread and under the nut.").default(STUD_FRICTION.1, COMMON_PRACTICE, "")
        .usual(0.05, 0.3);
    STUD_LOAD_SHARE = key("stud_load_share", quantity(share("0.2").below(1.0)), "Share of the gas force that goes into the studs, from the stiffness of the joint.").default(0.0, COMMON_PRACTICE, "the cautious case")
        .usual(0.01, 0.5);
}
