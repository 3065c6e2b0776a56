//! The table: one row a key, with the range in which it can be and the range that is usual.
//!
//! SI throughout. Usual ranges take in what is built, from a model engine of 2 cm³ to a ship's
//! cylinder of 50 L (common practice); what lies outside can still be right, so it is a remark.
//! Where a range hangs on other keys it stands in [`super::beside`]. What the equations bear stands
//! with the reader of each section and is not said again: a row without `can` adds nothing to it.

use super::Scene;
use super::beside;

/// From a low to a high end, both in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Range {
    pub low: f64,
    pub high: f64,
}

impl Range {
    /// Everything.
    pub const ANY: Self = Self {
        low: f64::NEG_INFINITY,
        high: f64::INFINITY,
    };

    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Whether a value is in it, give or take the rounding of its unit.
    pub fn holds(self, value: f64) -> bool {
        const ROUNDING: f64 = 1e-9;
        let slack = ROUNDING * value.abs();
        value >= self.low - slack && value <= self.high + slack
    }
}

/// What a key can be and usually is, and for what.
#[derive(Debug, Clone)]
pub(super) struct Bounds {
    pub can: Range,
    pub usual: Range,
    /// For what: "a cylinder of 1.125 L"; empty for any engine.
    pub of: String,
}

/// A slip to ask about where the value does not tell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slip {
    /// Another unit or a moved decimal point: the value itself tells.
    OfSize,
    /// A ratio that may stand upside down, with what is over what.
    Inverted(&'static str),
    /// Another meaning of the key, in words.
    Words(&'static str),
}

/// Bounds of a key beside others; none where they are not known.
pub(super) type Beside = fn(&Scene<'_>) -> Option<Bounds>;

/// What a key can be.
pub(super) struct Row {
    /// The dotted key without numbers.
    pub key: &'static str,
    pub can: Range,
    pub usual: Range,
    pub slip: Slip,
    pub beside: &'static [Beside],
}

const fn row(key: &'static str, low: f64, high: f64) -> Row {
    Row {
        key,
        can: Range::ANY,
        usual: Range::new(low, high),
        slip: Slip::OfSize,
        beside: &[],
    }
}

/// A key that only other keys give a size to.
const fn rel(key: &'static str, beside: &'static [Beside]) -> Row {
    row(key, f64::NEG_INFINITY, f64::INFINITY).beside(beside)
}

impl Row {
    const fn can(mut self, low: f64, high: f64) -> Self {
        self.can = Range::new(low, high);
        self
    }

    const fn slip(mut self, words: &'static str) -> Self {
        self.slip = Slip::Words(words);
        self
    }

    const fn inverted(mut self, words: &'static str) -> Self {
        self.slip = Slip::Inverted(words);
        self
    }

    const fn beside(mut self, beside: &'static [Beside]) -> Self {
        self.beside = beside;
        self
    }
}

/// 0 °C, K.
const ZERO: f64 = 273.15;
const MM: f64 = 1e-3;
const LITRE: f64 = 1e-3;
const KPA: f64 = 1e3;
const BAR: f64 = 1e5;

/// Every number of a build. Sizes of the engine come first: a key that cannot be is no measure for
/// those after it.
pub(super) const ROWS: &[Row] = &[
    row("site.altitude", -430.0, 5200.0).slip("a height in feet wants its unit: \"5200 ft\""),
    row("site.pressure", 50.0 * KPA, 108.0 * KPA),
    row("site.temperature", ZERO - 45.0, ZERO + 55.0),
    row("site.temperature_offset", -45.0, 45.0)
        .slip("it counts from the standard temperature at the altitude"),
    row("site.relative_humidity", 0.01, 1.0),
    // ------------------------------------------------------------------ engine
    row("engine.cylinders", 1.0, 24.0),
    row("engine.displacement", 1e-6, 1.0).beside(&[beside::cylinder_volume]),
    row("engine.stroke", 8.0 * MM, 0.7).beside(&[beside::stroke_of_volume]),
    row("engine.bore", 8.0 * MM, 0.7).beside(&[beside::bore_of_stroke]),
    row("engine.compression_ratio", 5.0, 24.0).beside(&[beside::compression]),
    row("engine.volumetric_efficiency", 0.5, 1.3)
        .slip("it counts on the manifold's density: boost does not raise it"),
    row("engine.measured_at_drive_ratio", 0.5, 3.0)
        .inverted("it is exhaust over manifold pressure, not the belt's ratio"),
    rel("engine.rpm.to", &[beside::piston_speed]),
    rel("engine.rpm.from", &[beside::piston_speed]),
    row("engine.rpm.step", 1.0, 5000.0),
    row("engine.combustion.gross_indicated_efficiency", 0.25, 0.52)
        .can(0.05, 0.65)
        .slip("brake efficiency is less, the ideal cycle's more"),
    row("engine.combustion.heat_loss_share", 0.05, 0.4),
    row("engine.combustion.pressure_rise_ratio", 1.05, 4.5)
        .slip("it is peak over compression pressure, a plain ratio"),
    row("engine.friction.constant", 2.0 * KPA, 250.0 * KPA).can(0.0, 10.0 * BAR),
    row("engine.friction.peak_pressure_share", 5e-4, 0.02).can(0.0, 0.1),
    row("engine.friction.linear", 100.0, 3e4).slip("it is in Pa per m/s of mean piston speed"),
    row("engine.friction.quadratic", 5.0, 3e3).slip("it is in Pa per (m/s)² of mean piston speed"),
    row("engine.head.studs_per_cylinder", 1.0, 10.0)
        .slip("it counts the studs of one cylinder, a shared one half"),
    rel("engine.head.sealed_bore", &[beside::sealed_bore]),
    row("engine.head.stud_diameter", 3.0 * MM, 0.08).beside(&[beside::stud_diameter]),
    rel("engine.head.stud_preload", &[beside::stud_preload]),
    rel("engine.head.stud_torque", &[beside::stud_torque]),
    rel("engine.head.stud_pitch", &[beside::stud_pitch]),
    row("engine.head.smallest_stud_friction", 0.05, 0.25),
    row("engine.head.largest_stud_friction", 0.05, 0.3),
    row("engine.head.stud_load_share", 0.01, 0.5),
    // -------------------------------------------------------------------- fuel
    row("fuel.lower_heating_value", 15e6, 55e6).can(5e6, 125e6),
    row("fuel.hydrogen_carbon_ratio", 0.3, 4.1)
        .slip("it counts atoms, not masses"),
    row("fuel.oxygen_carbon_ratio", 0.01, 1.1).slip("it counts atoms, not masses"),
    row("fuel.density", 580.0, 1150.0),
    rel("fuel.air_fuel_ratio", &[beside::air_fuel_ratio]).slip("it is mass of air per mass of fuel"),
    rel("fuel.lambda", &[beside::lambda]).inverted("lambda is air over what burns the fuel"),
    rel("fuel.per_stroke", &[beside::fuel_per_stroke]),
    rel("fuel.smallest_air_fuel_ratio", &[beside::air_fuel_ratio]),
    rel("fuel.flow", &[beside::fuel_flow]),
    rel("fuel.injectors", &[beside::injectors]),
    rel("fuel.injector_flow", &[beside::injector_flow]),
    row("fuel.injector_rated_pressure_drop", 0.5 * BAR, 3500.0 * BAR),
    row("fuel.injector_pressure_drop", 0.5 * BAR, 3500.0 * BAR),
    row("fuel.evaporated_before_manifold", 0.01, 1.0),
    row("fuel.latent_heat", 0.2e6, 1.3e6),
    // ------------------------------------------------- filters, ducts, throttles
    row("filter.pressure_drop", 20.0, 15.0 * KPA),
    rel("filter.at_flow", &[beside::rated_flow]),
    row("filter.at_pressure", 50.0 * KPA, 10.0 * BAR),
    row("filter.at_temperature", ZERO - 30.0, ZERO + 80.0),
    rel("duct.diameter", &[beside::duct_diameter]),
    row("duct.length", 20.0 * MM, 10.0),
    row("duct.bends", 0.2, 12.0).slip("it counts right angles"),
    row("duct.pressure_drop", 10.0, 30.0 * KPA),
    rel("duct.at_flow", &[beside::rated_flow]),
    row("duct.at_pressure", 50.0 * KPA, 12.0 * BAR),
    row("duct.at_temperature", ZERO - 30.0, ZERO + 250.0),
    row("throttle.pressure_drop", 10.0, 100.0 * KPA),
    rel("throttle.at_flow", &[beside::throttled_flow]),
    row("throttle.at_pressure", 50.0 * KPA, 12.0 * BAR),
    row("throttle.at_temperature", ZERO - 30.0, ZERO + 250.0),
    // ------------------------------------------------------------ supercharger
    rel("supercharger.drive_ratio", &[beside::drive_ratio])
        .inverted("it is turns of the supercharger per turn of the crank"),
    row("supercharger.gear_ratio", 0.7, 16.0)
        .can(0.05, 30.0)
        .inverted("it is turns of the driven shaft per turn of its pulley"),
    row("supercharger.pulley_diameter", 30.0 * MM, 0.4).beside(&[beside::driven_pulley]).slip(
        "it is the supercharger's; the crank's is crank_pulley_diameter: are the two exchanged?",
    ),
    row("supercharger.crank_pulley_diameter", 40.0 * MM, 0.5).beside(&[beside::belt_speed]),
    rel("supercharger.displacement", &[beside::sweep]).slip("it is swept per turn of the driven shaft"),
    rel("supercharger.slip_speed", &[beside::slip_speed]),
    row("supercharger.internal_volume_ratio", 1.0, 2.2).can(1.0, 6.0),
    row("supercharger.indicated_efficiency", 0.6, 1.0).can(0.3, 1.0),
    row("supercharger.mechanical_efficiency", 0.8, 1.0).can(0.4, 1.0),
    row("supercharger.drive_efficiency", 0.85, 1.0).can(0.4, 1.0),
    row("supercharger.no_load_power", 5.0, 40e3),
    row("supercharger.at_speed", 500.0, 2e5),
    row("supercharger.max_speed", 1000.0, 2.5e5).beside(&[beside::shaft_speed]),
    row("supercharger.rotor_diameter", 25.0 * MM, 0.6).beside(&[beside::tip_speed]),
    row("supercharger.center_distance", 60.0 * MM, 2.0),
    row("supercharger.wrap_angle", 1.2, 5.0),
    row("supercharger.belt_mass_per_length", 0.01, 2.0),
    row("supercharger.bypass_pressure", 2.0 * KPA, 3.0 * BAR),
    row("supercharger.bypass_drop", 20.0, 20.0 * KPA),
    row("supercharger.pressure_ratio", 0.8, 3.2).can(0.3, 8.0)
        .slip("it is outlet over inlet pressure, both absolute"),
    row("supercharger.efficiency", 0.35, 0.87).can(0.05, 1.0).beside(&[beside::roots_efficiency]),
    // -------------------------------------------------------- turbo compressor
    row("turbo_compressor.pressure_ratio", 0.8, 5.5).can(0.3, 12.0)
        .slip("it is outlet over inlet pressure, both absolute"),
    row("turbo_compressor.efficiency", 0.45, 0.87).can(0.05, 1.0),
    row("turbo_compressor.max_speed", 10e3, 350e3),
    // ------------------------------------------------------------------ cooler
    row("cooler.effectiveness", 0.2, 0.95).slip("only an endless cooler reaches 1"),
    row("cooler.pressure_drop", 20.0, 50.0 * KPA),
    rel("cooler.at_flow", &[beside::rated_flow]),
    row("cooler.at_pressure", 50.0 * KPA, 12.0 * BAR),
    row("cooler.at_temperature", ZERO - 30.0, ZERO + 300.0),
    row("cooler.metal_mass", 0.05, 1000.0),
    row("cooler.sink_temperature", ZERO - 30.0, ZERO + 110.0),
    row("cooler.sink_temperature_rise", -20.0, 70.0),
    rel("cooler.sink_flow", &[beside::sink_flow]),
    row("cooler.vehicle_speed", 0.3, 120.0),
    row("cooler.duct_pressure_coefficient", 0.05, 0.9),
    row("cooler.sink_pressure_drop", 5.0, 1.5 * BAR),
    rel("cooler.sink_drop_flow", &[beside::sink_flow]),
    row("cooler.radiator_conductance", 5.0, 50e3),
    row("cooler.tank_volume", 0.2 * LITRE, 1.0),
    row("cooler.ice_mass", 0.05, 200.0),
    row("cooler.circuit_pressure", 70.0 * KPA, 5.0 * BAR),
    rel("cooler.rated.charge_flow", &[beside::rated_charge]),
    rel("cooler.rated.sink_flow", &[beside::rated_sink]),
    row("cooler.rated.effectiveness", 0.2, 0.95),
    rel("cooler.rated.heat", &[beside::rated_heat]),
    row("cooler.rated.charge_outlet_temperature", ZERO - 10.0, ZERO + 150.0),
    row("cooler.rated.charge_inlet_temperature", ZERO + 20.0, ZERO + 300.0),
    row("cooler.rated.sink_temperature", ZERO - 30.0, ZERO + 110.0),
    row("cooler.rated.sink_resistance_share", 0.02, 0.95),
    row("cooler.rated.charge_exponent", 0.3, 0.85),
    row("cooler.rated.sink_exponent", 0.3, 0.85),
    row("cooler.core.width", 30.0 * MM, 2.0),
    row("cooler.core.height", 30.0 * MM, 2.0),
    row("cooler.core.depth", 10.0 * MM, 1.0),
    row("cooler.core.plate_thickness", 0.1 * MM, 4.0 * MM),
    row("cooler.core.fin_conductivity", 10.0, 420.0),
    row("cooler.core.fin_thickness", 0.03 * MM, 0.6 * MM),
    row("cooler.core.charge_fin_height", 1.0 * MM, 25.0 * MM),
    row("cooler.core.charge_fin_pitch", 0.4 * MM, 8.0 * MM),
    row("cooler.core.sink_fin_height", 1.0 * MM, 25.0 * MM),
    row("cooler.core.sink_fin_pitch", 0.4 * MM, 8.0 * MM),
    row("cooler.core.strip_length", 0.5 * MM, 30.0 * MM),
    row("cooler.core.louvre_pitch", 0.5 * MM, 5.0 * MM),
    row("cooler.core.louvre_angle", 8.0, 45.0),
    row("cooler.core.louvre_length", 0.8 * MM, 30.0 * MM),
    // ----------------------------------------------------- turbine and exhaust
    rel("turbine.effective_area", &[beside::turbine_area])
        .slip("it is the one nozzle that would pass the turbine's flow, not the housing's A/R"),
    rel("turbine.choked_corrected_flow", &[beside::choked_flow]),
    row("turbine.reference_temperature", ZERO - 15.0, ZERO + 850.0),
    row("turbine.reference_pressure", 80.0 * KPA, 2.5 * BAR),
    row("turbine.efficiency", 0.35, 0.87),
    row("turbine.mechanical_efficiency", 0.8, 1.0).can(0.3, 1.0),
    row("turbine.wheel_diameter", 15.0 * MM, 0.5),
    row("turbine.wastegate.boost_limit", 10.0 * KPA, 5.0 * BAR).can(0.0, 12.0 * BAR)
        .slip("it counts above the air outside"),
    row("turbine.wastegate.largest_share", 0.05, 0.85),
    row("turbine.wastegate.valve_diameter", 8.0 * MM, 0.15),
    row("exhaust.pressure_drop", 20.0, 60.0 * KPA),
    rel("exhaust.at_flow", &[beside::exhaust_flow]),
    row("exhaust.at_pressure", 50.0 * KPA, 5.0 * BAR),
    row("exhaust.at_temperature", ZERO - 30.0, ZERO + 1000.0),
    // ------------------------------------------------------------------ limits
    row("limits.max_manifold_pressure", 1.1 * BAR, 10.0 * BAR).beside(&[beside::above_the_gate]),
    row("limits.max_charge_temperature", ZERO + 15.0, ZERO + 200.0),
    row("limits.max_exhaust_temperature", ZERO + 450.0, ZERO + 1150.0),
    row("limits.max_cylinder_pressure", 40.0 * BAR, 400.0 * BAR).can(5.0 * BAR, 2000.0 * BAR),
    row("limits.max_drive_pressure_ratio", 0.6, 5.0)
        .inverted("it is drive pressure over manifold pressure"),
    row("limits.max_supercharger_outlet_temperature", ZERO + 50.0, ZERO + 260.0),
    row("limits.max_compressor_outlet_temperature", ZERO + 70.0, ZERO + 320.0),
    row("limits.min_surge_margin", 0.01, 0.4),
    row("limits.min_clamp_margin", 0.01, 4.0),
    row("limits.max_injector_duty", 0.3, 1.0),
    row("limits.max_belt_pull", 50.0, 50e3),
    row("limits.max_rotor_tip_speed", 15.0, 650.0),
];
