//! `part = "cooler"`, its rated point and its core.

use super::air_path::{COOLER_DROP, PART};
use super::row::{
    COMMON_PRACTICE, Form, Key, Section, choice, key, quantity, section, table, words,
};
use super::spec::{BAR, KPA, LITRE, MM, Spec, ZERO_CELSIUS as ZERO, efficiency, number, of, share};
use crate::air_path::{Arrangement, SinkFluid};
use crate::input::sense::beside;
use crate::quantity::Kind;

/// Source of the usual exponent of a charge side.
const OFFSET_FINS: &str = "Manglik and Bergles 1995, from memory";

pub(in crate::input) const ARRANGEMENTS: [(&str, Arrangement); 4] = [
    ("crossflow", Arrangement::CrossflowUnmixed),
    ("charge mixed", Arrangement::ChargeMixed),
    ("sink mixed", Arrangement::SinkMixed),
    ("counterflow", Arrangement::Counterflow),
];

pub(in crate::input) const SINKS: [(&str, SinkFluid); 2] =
    [("air", SinkFluid::Air), ("water", SinkFluid::Water)];

/// Whether a core is made of tubes.
pub(in crate::input) const CONSTRUCTIONS: [(&str, bool); 2] = [("plate", false), ("tube", true)];

/// Thermal conductivity of alloys as used for cores, W/(m K) (handbooks, from memory).
pub(in crate::input) const MATERIALS: [(&str, f64); 5] = [
    ("aluminium", 180.0),
    ("copper", 380.0),
    ("brass", 110.0),
    ("steel", 50.0),
    ("stainless", 16.0),
];

/// What a side has between its walls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum FinShape {
    None,
    Plain,
    Offset,
    Louvred,
}

pub(in crate::input) const FINS: [(&str, FinShape); 4] = [
    ("none", FinShape::None),
    ("plain", FinShape::Plain),
    ("offset", FinShape::Offset),
    ("louvred", FinShape::Louvred),
];

/// A flow of water, also as a volume.
pub(in crate::input) const WATER_FLOW: Spec = of(Kind::WaterFlow, "\"30 L/min\"")
    .above(0.0)
    .at_most(500.0);
/// A row of a fan's curve.
pub(in crate::input) const FAN_FLOW: Spec = of(Kind::VolumeFlow, "\"0.4 m3/s\"")
    .at_least(0.0)
    .at_most(500.0);
pub(in crate::input) const FAN_RISE: Spec = of(Kind::PressureDifference, "\"250 Pa\"")
    .at_least(0.0)
    .at_most(1e5);

section! {
    COOLER: "cooler", "part = \"cooler\"", "A charge cooler: by effectiveness, by a rated point, or by its core.";
    [PART, COOLER_DROP.pressure_drop, COOLER_DROP.at_flow, COOLER_DROP.at_pressure, COOLER_DROP.at_temperature];
    EFFECTIVENESS = key("effectiveness", table(efficiency("0.75")), "How far the charge is cooled towards the coolant inlet temperature: 1 would be all the way.").needed("or rated, or core")
        .usual(0.2, 0.95).slip("only an infinitely large cooler reaches 1");
    RATED = key("rated", Form::Section, "One measured or published point.");
    CORE = key("core", Form::Section, "Sizes of the core.");
    ARRANGEMENT = key("arrangement", choice(&words(&ARRANGEMENTS)), "How the two flows pass each other, and which side mixes.").without("crossflow, neither side mixed");
    METAL_MASS = key("metal_mass", quantity(of(Kind::Mass, "\"6 kg\"").above(0.0).at_most(1e4)), "Mass of the core, as aluminium: its heat storage in a timed run.").without("not counted")
        .usual(0.05, 1000.0);
    SINK = key("sink", choice(&words(&SINKS)), "What carries the heat away. Antifreeze in the water is not included.").without("air");
    SINK_TEMPERATURE = key("sink_temperature", quantity(of(Kind::Temperature, "\"30 degC\"").at_least(200.0).at_most(700.0)), "Temperature at which the cooling air or water enters; with a radiator, of the air that enters the radiator.").without("the site's; needed for water; 0 °C with ice_mass")
        .usual(ZERO - 30.0, ZERO + 110.0);
    SINK_TEMPERATURE_RISE = key("sink_temperature_rise", quantity(of(Kind::TemperatureDifference, "\"12 K\"").at_least(-50.0).at_most(200.0)), "How much warmer than the site's air the cooling air is, for example after another radiator.").without("0")
        .usual(-20.0, 70.0);
    SINK_FLOW = key("sink_flow", table(of(Kind::MassFlow, "\"0.8 kg/s\"").above(0.0).at_most(500.0)), "Flow of the cooling air or water; water also as a volume flow.").of_water(WATER_FLOW).without("that of rated; needed with core")
        .beside(&[beside::sink_flow]);
    VEHICLE_SPEED = key("vehicle_speed", table(of(Kind::Velocity, "\"90 km/h\"").at_least(0.0).at_most(200.0)), "Instead of sink_flow: ram air at this vehicle speed.")
        .usual(0.3, 120.0);
    DUCT_PRESSURE_COEFFICIENT = key("duct_pressure_coefficient", quantity(share("0.3")), "Share of the ram pressure across the core: 0.2 to 0.3 behind a grille, 0.5 to 0.7 in a sealed duct.").default(0.3, COMMON_PRACTICE, "core behind a grille")
        .usual(0.05, 0.9);
    FAN = key("fan", Form::FanCurve, "Instead of sink_flow: fan curve, rows of volume flow and pressure rise.");
    SINK_PRESSURE_DROP = key("sink_pressure_drop", quantity(of(Kind::PressureDifference, "\"200 Pa\"").above(0.0).at_most(1e6)), "Pressure drop of the cooling side; with core, of everything else in its path.").needed("with vehicle_speed or fan, without core")
        .usual(5.0, 1.5 * BAR);
    SINK_DROP_FLOW = key("sink_drop_flow", quantity(of(Kind::MassFlow, "\"0.8 kg/s\"").above(0.0).at_most(500.0)), "Flow at which sink_pressure_drop was measured, air at 101.325 kPa and 20 °C.").needed("with sink_pressure_drop")
        .beside(&[beside::sink_flow]);
    RADIATOR_CONDUCTANCE = key("radiator_conductance", quantity(of(Kind::ThermalConductance, "\"900 W/K\"").above(0.0).at_most(1e6)), "Conductance (UA) of the water's own radiator.").without("unlimited water at sink_temperature")
        .usual(5.0, 50e3);
    TANK_VOLUME = key("tank_volume", quantity(of(Kind::Volume, "\"12 L\"").above(0.0).at_most(10.0)), "Water in the circuit: its heat storage in a timed run.").without("none")
        .usual(0.2 * LITRE, 1.0);
    ICE_MASS = key("ice_mass", quantity(of(Kind::Mass, "\"5 kg\"").at_least(0.0).at_most(1e4)), "Ice in the tank at the start of a timed run.").without("none")
        .usual(0.05, 200.0);
    CIRCUIT_PRESSURE = key("circuit_pressure", quantity(of(Kind::AbsolutePressure, "\"200 kPa\"").at_least(2e4).at_most(1.5e6)), "Pressure in the water circuit: sets where it boils.").without("the site's")
        .usual(70.0 * KPA, 5.0 * BAR);
}

section! {
    COOLER_RATED: "cooler.rated", "[air_path.rated]", "One measured or published point.";
    RATED_CHARGE_FLOW = key("charge_flow", quantity(of(Kind::MassFlow, "\"0.8 kg/s\"").above(0.0).at_most(500.0)), "Charge flow at the rated point.").needed("")
        .beside(&[beside::rated_charge]);
    RATED_SINK_FLOW = key("sink_flow", quantity(of(Kind::MassFlow, "\"0.8 kg/s\"").above(0.0).at_most(500.0)), "Flow of the cooling side at the rated point; water also as a volume flow.").of_water(WATER_FLOW).needed("")
        .beside(&[beside::rated_sink]);
    RATED_EFFECTIVENESS = key("effectiveness", quantity(efficiency("0.75").below(1.0)), "Effectiveness of the charge side at these flows.").needed("or heat, or charge_outlet_temperature")
        .usual(0.2, 0.95);
    RATED_HEAT = key("heat", quantity(of(Kind::Power, "\"28 kW\"").above(0.0).at_most(1e8)), "Instead of effectiveness: heat rejected at these flows.")
        .beside(&[beside::rated_heat]);
    RATED_CHARGE_OUTLET_TEMPERATURE = key("charge_outlet_temperature", quantity(of(Kind::Temperature, "\"30 degC\"").at_least(200.0).at_most(700.0)), "Instead of effectiveness: charge outlet temperature.")
        .usual(ZERO - 10.0, ZERO + 150.0);
    RATED_CHARGE_INLET_TEMPERATURE = key("charge_inlet_temperature", quantity(of(Kind::Temperature, "\"30 degC\"").at_least(200.0).at_most(700.0)), "Charge inlet temperature.").needed("150 °C with effectiveness")
        .usual(ZERO + 20.0, ZERO + 300.0);
    RATED_SINK_TEMPERATURE = key("sink_temperature", quantity(of(Kind::Temperature, "\"30 degC\"").at_least(200.0).at_most(700.0)), "Inlet temperature of the cooling side.").needed("25 °C with effectiveness")
        .usual(ZERO - 30.0, ZERO + 110.0);
    RATED_SINK_RESISTANCE_SHARE = key("sink_resistance_share", quantity(share("0.5").above(0.0).below(1.0)), "Share of the thermal resistance on the cooling side.").without("0.5 for air, 0.2 for water (common practice)")
        .usual(0.02, 0.95);
    RATED_CHARGE_EXPONENT = key("charge_exponent", quantity(number("0.6").at_least(0.0).at_most(1.0)), "Power of its flow with which the charge side's conductance grows.").default(0.6, OFFSET_FINS, "offset fins")
        .usual(0.3, 0.85);
    RATED_SINK_EXPONENT = key("sink_exponent", quantity(number("0.6").at_least(0.0).at_most(1.0)), "Power of its flow with which the cooling side's conductance grows.").without("0.5 for air, 0.8 for water")
        .usual(0.3, 0.85);
}

section! {
    COOLER_CORE: "cooler.core", "[air_path.core]", "Sizes of the core. Charge flows along the width, the cooling side along the depth, layers stack along the height.";
    CORE_WIDTH = key("width", quantity(of(Kind::Length, "\"300 mm\"").above(0.0).at_most(5.0)), "Core width: the charge flows along it.").needed("")
        .usual(30.0 * MM, 2.0);
    CORE_HEIGHT = key("height", quantity(of(Kind::Length, "\"300 mm\"").above(0.0).at_most(5.0)), "Core height: layers of charge and cooling side stack along it.").needed("")
        .usual(30.0 * MM, 2.0);
    CORE_DEPTH = key("depth", quantity(of(Kind::Length, "\"300 mm\"").above(0.0).at_most(5.0)), "Core depth: the cooling side flows along it.").needed("")
        .usual(10.0 * MM, 1.0);
    CORE_CONSTRUCTION = key("construction", choice(&words(&CONSTRUCTIONS)), "plate for bar-and-plate cores, tube for tubes, which have no fins inside unless charge_fin says so.").without("plate");
    CORE_MATERIAL = key("material", choice(&words(&MATERIALS)), "Material of fins and walls.").without("aluminium");
    CORE_FIN_CONDUCTIVITY = key("fin_conductivity", quantity(of(Kind::ThermalConductivity, "\"180 W/(m K)\"").above(0.0).at_most(500.0)), "Instead of material: its thermal conductivity.").without("the material's")
        .usual(10.0, 420.0);
    CORE_PLATE_THICKNESS = key("plate_thickness", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Thickness of a plate or tube wall.").default(0.5 * MM, COMMON_PRACTICE, "")
        .usual(0.1 * MM, 4.0 * MM);
    CORE_FIN_THICKNESS = key("fin_thickness", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Thickness of the fin sheet.").default(0.1 * MM, COMMON_PRACTICE, "")
        .usual(0.03 * MM, 0.6 * MM);
    CORE_CHARGE_FIN = key("charge_fin", choice(&words(&FINS)), "Fin type of the charge side.").without("offset; none in tubes");
    CORE_CHARGE_FIN_HEIGHT = key("charge_fin_height", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Height of one charge layer between the walls.").needed("")
        .usual(1.0 * MM, 25.0 * MM);
    CORE_CHARGE_FIN_PITCH = key("charge_fin_pitch", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Distance from one charge fin to the next.").needed("with fins")
        .usual(0.4 * MM, 8.0 * MM);
    CORE_SINK_FIN = key("sink_fin", choice(&words(&FINS)), "Fin type of the cooling side.").without("louvred; none for water");
    CORE_SINK_FIN_HEIGHT = key("sink_fin_height", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Height of one cooling layer between the walls.").needed("")
        .usual(1.0 * MM, 25.0 * MM);
    CORE_SINK_FIN_PITCH = key("sink_fin_pitch", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Distance from one cooling fin to the next.").needed("with fins")
        .usual(0.4 * MM, 8.0 * MM);
    CORE_STRIP_LENGTH = key("strip_length", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Strip length of offset fins, along the flow.").default(3.0 * MM, COMMON_PRACTICE, "")
        .usual(0.5 * MM, 30.0 * MM);
    CORE_LOUVRE_PITCH = key("louvre_pitch", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Louvre pitch, along the flow.").default(1.2 * MM, COMMON_PRACTICE, "")
        .usual(0.5 * MM, 5.0 * MM);
    CORE_LOUVRE_ANGLE = key("louvre_angle", quantity(number("27").above(0.0).below(90.0)), "Louvre angle, degrees.").default(27.0, COMMON_PRACTICE, "")
        .usual(8.0, 45.0);
    CORE_LOUVRE_LENGTH = key("louvre_length", quantity(of(Kind::Length, "\"8 mm\"").at_least(1e-5).at_most(0.1)), "Louvre length, across the flow.").without("0.85 of the fin height (common practice)")
        .usual(0.8 * MM, 30.0 * MM);
}
