//! A station: a place between two parts.

use super::field::{Field, Get};
use super::named::Station;
use super::rows::fields;
use crate::quantity::Kind;

fields! { Station {
    name = text "station",
        "Name of the place, in flow order." |s| s.name.clone();
    pressure_pa = AbsolutePressure "pressure",
        "Absolute total pressure." |s| s.state.pressure;
    temperature_k = Temperature "temperature",
        "Total temperature." |s| s.state.temperature;
    density_kg_m3 = Density "density",
        "Density at that pressure and temperature, p/(R T) of the moist mixture."
        |s| s.state.density;
    mass_flow_kg_s = MassFlow "flow",
        "Mass flow through this place; a stage's own flow is given with the stage."
        |s| s.state.mass_flow;
} }

/// Pressure above the air outside, which text shows at every station.
pub const BOOST: Field<Station> = Field::in_text(
    "boost",
    "Pressure above the site's.",
    Get::Number(Kind::BoostPressure, |s| Some(s.state.pressure - s.ambient)),
);
