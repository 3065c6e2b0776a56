//! `[turbine]`, its wastegate, and `[exhaust]`.

use super::air_path::EXHAUST_DROP;
use super::row::{
    COMMON_PRACTICE, CONVENTION, Form, Key, Section, choice, key, quantity, section, table, words,
};
use super::spec::{BAR, KPA, MM, ZERO_CELSIUS as ZERO, efficiency, number, of};
use crate::exhaust::{BoostAt, FlowLaw};
use crate::input::sense::beside;
use crate::quantity::Kind;

pub(in crate::input) const FLOW_LAWS: [(&str, FlowLaw); 2] = [
    ("nozzle", FlowLaw::Nozzle),
    ("two_throats", FlowLaw::TwoThroats),
];

/// Where a wastegate senses boost.
pub(in crate::input) const BOOST_PLACES: [(&str, BoostAt); 2] = [
    ("manifold", BoostAt::Manifold),
    ("compressor outlet", BoostAt::CompressorOutlet),
];

section! {
    TURBINE: "turbine", "[turbine]", "The turbine; several each under [[turbine]], in exhaust order.";
    EFFECTIVE_AREA = key("effective_area", quantity(of(Kind::Area, "\"7.7 cm2\"").above(0.0).at_most(0.1)), "Area of the one ideal nozzle that passes the turbine's flow; not the housing's A/R.").needed("or choked_corrected_flow, or map")
        .beside(&[beside::turbine_area]).slip("it is the one nozzle that would pass the turbine's flow, not the housing's A/R");
    CHOKED_CORRECTED_FLOW = key("choked_corrected_flow", quantity(of(Kind::MassFlow, "\"0.2 kg/s\"").above(0.0).at_most(50.0)), "Instead of the area: corrected flow at the flat end of a turbine chart.")
        .beside(&[beside::choked_flow]);
    REFERENCE_TEMPERATURE = key("reference_temperature", quantity(of(Kind::Temperature, "\"288.15 K\"").at_least(200.0).at_most(1500.0)), "Temperature to which that chart is corrected.").needed("with choked_corrected_flow")
        .usual(ZERO - 15.0, ZERO + 850.0);
    REFERENCE_PRESSURE = key("reference_pressure", quantity(of(Kind::AbsolutePressure, "\"101.325 kPa\"").at_least(1e4).at_most(1e6)), "Pressure to which that chart is corrected.").needed("with choked_corrected_flow")
        .usual(80.0 * KPA, 2.5 * BAR);
    MAP = key("map", Form::File, "Instead of the area: a turbine map file.");
    FLOW_LAW = key("flow_law", choice(&words(&FLOW_LAWS)), "Shape of the flow curve: one nozzle, or two throats in series, softer, as vaneless radial wheels are.").without("nozzle");
    EFFICIENCY = key("efficiency", quantity(efficiency("0.66")), "Total-to-static efficiency of the wheel.").needed("or the map's; 0.64 is usual, bearing included")
        .usual(0.35, 0.87);
    MECHANICAL_EFFICIENCY = key("mechanical_efficiency", quantity(efficiency("0.97")), "Bearing efficiency; published turbine efficiencies mostly contain it.").default(1.0, CONVENTION, "bearing losses are in the turbine efficiency")
        .usual(0.8, 1.0).can(0.3, 1.0);
    WHEEL_DIAMETER = key("wheel_diameter", quantity(of(Kind::Length, "\"70 mm\"").at_least(5e-3).at_most(1.0)), "Turbine wheel diameter; with a compressor map the efficiency then follows blade speed.").without("one efficiency at all speeds")
        .usual(15.0 * MM, 0.5);
    DRIVES = key("drives", quantity(number("1").at_least(1.0).at_most(64.0).whole()), "Which turbo compressor it drives, counted from 1 in flow order.").without("the first drives the last compressor");
    WASTEGATE = key("wastegate", Form::Section, "Bypass of the turbine that holds a boost.").without("no wastegate");
}

section! {
    TURBINE_WASTEGATE: "turbine.wastegate", "[turbine.wastegate]", "Bypass of the turbine that holds a boost.";
    GATE_BOOST_LIMIT = key("boost_limit", table(of(Kind::BoostPressure, "\"185 kPa\"").above(0.0).at_most(2e6)), "Boost that the wastegate holds.").needed("")
        .usual(10.0 * KPA, 5.0 * BAR).can(0.0, 12.0 * BAR) .slip("it is measured from ambient pressure");
    GATE_BOOST_AT = key("boost_at", choice(&words(&BOOST_PLACES)), "Where the wastegate senses boost.").without("manifold");
    GATE_LARGEST_SHARE = key("largest_share", quantity(efficiency("0.5").below(1.0)), "Share of the exhaust that passes the gate wide open.").default(0.5, COMMON_PRACTICE, "")
        .usual(0.05, 0.85);
    GATE_VALVE_DIAMETER = key("valve_diameter", quantity(of(Kind::Length, "\"70 mm\"").at_least(5e-3).at_most(1.0)), "Instead of largest_share: valve diameter of the gate.")
        .usual(8.0 * MM, 0.15);
}

/// The pipe after the turbine, by its pressure drop.
pub(in crate::input) static EXHAUST: Section = Section {
    path: "exhaust",
    heading: "[exhaust]",
    doc: "The pipe after the turbine, by its pressure drop.",
    keys: &[
        &EXHAUST_DROP.pressure_drop,
        &EXHAUST_DROP.at_flow,
        &EXHAUST_DROP.at_pressure,
        &EXHAUST_DROP.at_temperature,
    ],
};
