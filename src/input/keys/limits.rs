//! `[limits]`: what must not be exceeded.

use super::row::{Key, Section, key, quantity, section};
use super::spec::{BAR, ZERO_CELSIUS as ZERO, efficiency, number, of, share};
use crate::input::sense::beside;
use crate::quantity::Kind;

section! {
    LIMITS: "limits", "[limits]", "What must not be exceeded.";
    MAX_MANIFOLD_PRESSURE = key("max_manifold_pressure", quantity(of(Kind::AbsolutePressure, "\"275 kPa\"").above(0.0).at_most(3e6)), "Manifold pressure.").without("not checked")
        .usual(1.1 * BAR, 10.0 * BAR).beside(&[beside::above_the_gate]);
    MAX_CHARGE_TEMPERATURE = key("max_charge_temperature", quantity(of(Kind::Temperature, "\"60 degC\"").at_least(223.15).at_most(773.15)), "Charge temperature in the manifold.").without("not checked")
        .usual(ZERO + 15.0, ZERO + 200.0);
    MAX_EXHAUST_TEMPERATURE = key("max_exhaust_temperature", quantity(of(Kind::Temperature, "\"750 degC\"").at_least(373.15).at_most(1773.15)), "Exhaust temperature at the turbine inlet.").without("not checked")
        .usual(ZERO + 450.0, ZERO + 1150.0);
    MAX_CYLINDER_PRESSURE = key("max_cylinder_pressure", quantity(of(Kind::AbsolutePressure, "\"16 MPa\"").above(1e5).at_most(2e8)), "Peak cylinder pressure; needs pressure_rise_ratio.").without("not checked")
        .usual(40.0 * BAR, 400.0 * BAR).can(5.0 * BAR, 2000.0 * BAR);
    MAX_DRIVE_PRESSURE_RATIO = key("max_drive_pressure_ratio", quantity(number("1.2").above(0.0).at_most(10.0)), "Drive pressure over manifold pressure, both absolute.").without("not checked")
        .usual(0.6, 5.0).inverted("it is drive pressure over manifold pressure");
    MAX_SUPERCHARGER_OUTLET_TEMPERATURE = key("max_supercharger_outlet_temperature", quantity(of(Kind::Temperature, "\"60 degC\"").at_least(223.15).at_most(773.15)), "Supercharger outlet temperature.").without("rule of thumb, 150 °C")
        .usual(ZERO + 50.0, ZERO + 260.0);
    MAX_COMPRESSOR_OUTLET_TEMPERATURE = key("max_compressor_outlet_temperature", quantity(of(Kind::Temperature, "\"60 degC\"").at_least(223.15).at_most(773.15)), "Turbo compressor outlet temperature.").without("rule of thumb, 200 °C")
        .usual(ZERO + 70.0, ZERO + 320.0);
    MIN_SURGE_MARGIN = key("min_surge_margin", quantity(share("0.12").below(1.0)), "Surge margin at the same pressure ratio.").without("rule of thumb, 0.10")
        .usual(0.01, 0.4);
    MIN_CLAMP_MARGIN = key("min_clamp_margin", quantity(of(Kind::Share, "0.5").at_least(0.0).at_most(10.0)), "Head clamp margin: stud clamp force over gas force, less 1, at the unfavourable end; below 0 the head lifts.").without("rule of thumb, 0.5")
        .usual(0.01, 4.0);
    MAX_INJECTOR_DUTY = key("max_injector_duty", quantity(efficiency("0.85")), "Injector duty cycle.").without("rule of thumb, 0.85")
        .usual(0.3, 1.0);
    MAX_BELT_PULL = key("max_belt_pull", quantity(of(Kind::Force, "\"2 kN\"").above(0.0).at_most(1e6)), "Belt load on the supercharger's shaft.").without("not checked")
        .usual(50.0, 50e3);
    MAX_ROTOR_TIP_SPEED = key("max_rotor_tip_speed", quantity(of(Kind::SurfaceSpeed, "\"60 m/s\"").above(0.0).at_most(1000.0)), "Rotor tip speed.").without("not checked")
        .usual(15.0, 650.0);
    MAX_PISTON_SPEED = key("max_piston_speed", quantity(of(Kind::SurfaceSpeed, "\"24 m/s\"").above(0.0).at_most(100.0)), "Mean piston speed.").without("not checked")
        .usual(5.0, 30.0);
}
