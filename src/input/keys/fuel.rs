//! `[fuel]`: what burns, and how much of it.

use super::row::{Key, Section, choice, key, quantity, section, table, words};
use super::spec::{BAR, number, of, share};
use crate::engine::FuelKind;
use crate::input::sense::beside;
use crate::quantity::Kind;

/// Fuels that have a name.
pub(in crate::input) const KINDS: [(&str, FuelKind); 5] = [
    ("diesel", FuelKind::Diesel),
    ("petrol", FuelKind::Petrol),
    ("ethanol", FuelKind::Ethanol),
    ("methanol", FuelKind::Methanol),
    ("e85", FuelKind::E85),
];

section! {
    FUEL: "fuel", "[fuel]", "What burns, and how much of it.";
    KIND = key("kind", choice(&words(&KINDS)), "The fuel by name; its properties follow.").needed("or the three properties below");
    LOWER_HEATING_VALUE = key("lower_heating_value", quantity(of(Kind::SpecificEnergy, "\"42.8 MJ/kg\"").at_least(1e6).at_most(130e6)), "Lower heating value.").without("the kind's")
        .usual(15e6, 55e6).can(5e6, 125e6);
    HYDROGEN_CARBON_RATIO = key("hydrogen_carbon_ratio", quantity(number("1.8").at_least(0.0).at_most(8.0)), "Hydrogen atoms per carbon atom.").without("the kind's")
        .usual(0.3, 4.1).slip("it is a ratio of atoms, not of masses");
    OXYGEN_CARBON_RATIO = key("oxygen_carbon_ratio", quantity(number("0").at_least(0.0).at_most(4.0)), "Oxygen atoms per carbon atom.").without("the kind's")
        .usual(0.01, 1.1).slip("it is a ratio of atoms, not of masses");
    DENSITY = key("density", quantity(of(Kind::Density, "\"835 kg/m3\"").at_least(100.0).at_most(2000.0)), "Fuel density; turns a volume of fuel into a mass.").without("the kind's")
        .usual(580.0, 1150.0);
    AIR_FUEL_RATIO = key("air_fuel_ratio", table(number("21").at_least(1.0).at_most(200.0)), "Mass of dry air per mass of fuel.").needed("or lambda, per_stroke or flow")
        .beside(&[beside::air_fuel_ratio]).slip("it is mass of air per mass of fuel");
    LAMBDA = key("lambda", table(number("1.4").at_least(0.3).at_most(20.0)), "Air-fuel ratio over the stoichiometric one.")
        .beside(&[beside::lambda]).inverted("lambda is actual air over stoichiometric air");
    PER_STROKE = key("per_stroke", table(of(Kind::FuelPerStroke, "\"120 mg\"").above(0.0)), "Fuel per cylinder and working cycle, as measured on an injection pump test bench.")
        .beside(&[beside::fuel_per_stroke]);
    SMALLEST_AIR_FUEL_RATIO = key("smallest_air_fuel_ratio", table(number("21").at_least(1.0).at_most(200.0)), "Smoke limiter: with less air than this the fuel of per_stroke is cut back.").without("no limiter")
        .beside(&[beside::air_fuel_ratio]);
    FLOW = key("flow", table(of(Kind::FuelFlow, "\"40 kg/h\"").above(0.0)), "Fuel flow of the whole engine.")
        .beside(&[beside::fuel_flow]);
    INJECTORS = key("injectors", quantity(number("4").at_least(1.0).at_most(128.0).whole()), "Number of injectors that open for part of the cycle.").without("injector duty not calculated")
        .beside(&[beside::injectors]);
    INJECTOR_FLOW = key("injector_flow", quantity(of(Kind::FuelFlow, "\"0.55 L/min\"").above(0.0)), "Flow of one injector held open.").needed("with injectors")
        .beside(&[beside::injector_flow]);
    INJECTOR_RATED_PRESSURE_DROP = key("injector_rated_pressure_drop", quantity(of(Kind::PressureDifference, "\"300 kPa\"").above(0.0).at_most(5e8)), "Pressure across the injector when its flow was measured.").without("runs at the rated pressure")
        .usual(0.5 * BAR, 3500.0 * BAR);
    INJECTOR_PRESSURE_DROP = key("injector_pressure_drop", quantity(of(Kind::PressureDifference, "\"300 kPa\"").above(0.0).at_most(5e8)), "Pressure across the injector as it runs; flow goes with the square root.").without("runs at the rated pressure")
        .usual(0.5 * BAR, 3500.0 * BAR);
    EVAPORATED_BEFORE_MANIFOLD = key("evaporated_before_manifold", quantity(share("0.3")), "Share of the fuel that evaporates before the valves and cools the charge: carburettor or port injection.").without("0")
        .usual(0.01, 1.0);
    LATENT_HEAT = key("latent_heat", quantity(of(Kind::SpecificEnergy, "\"0.92 MJ/kg\"").above(0.0).at_most(3e6)), "Heat of evaporation at 25 °C.").without("the kind's")
        .usual(0.2e6, 1.3e6);
}
