//! A charge cooler in a match.

use super::field::{Field, Get};
use super::named::Named;
use super::rows::fields;
use crate::matching::CoolerState;

fields! { Named<CoolerState> {
    name = text "cooler",
        "Name of the cooler, in flow order." |c| c.name.clone();
    effectiveness = Share "effectiveness",
        "Of the charge side: (T_in - T_out)/(T_in - T_sink)." |c| c.state.effectiveness;
    heat_w = Power "heat",
        "Heat taken from the charge." |c| c.state.heat;
    pressure_drop_pa = PressureDifference "pressure drop",
        "Pressure that the charge loses in the cooler." |c| c.state.pressure_drop;
    density_gain = Number "density gain" / "density gain\n(out/in)",
        "Density at the outlet over density at the inlet, the pressure drop included."
        |c| c.state.density_gain;
    inlet_temperature_k = Temperature "charge in" / "enters",
        "Temperature of the charge at the cooler's inlet." |c| c.state.inlet_temperature;
    outlet_temperature_k = Temperature "charge out" / "leaves",
        "Temperature of the charge at the cooler's outlet." |c| c.state.outlet_temperature;
    sink_inlet_temperature_k = Temperature "cooling side in" / "enters",
        "Temperature of the cooling air or water where it enters." |c| c.state.sink_temperature;
    sink_outlet_temperature_k ? Temperature "cooling side out" / "leaves",
        "Temperature of the cooling air or water where it leaves."
        |c| Some(c.state.exchanger?.sink_outlet_temperature);
    sink_mass_flow_kg_s ? MassFlow "cooling side flow" / "flow",
        "Flow of the cooling air or water." |c| Some(c.state.exchanger?.sink_flow);
    sink_pressure_drop_pa ? PressureDifference "cooling side pressure drop" / "pressure drop",
        "Pressure that the cooling air or water loses." |c| c.state.exchanger?.sink_pressure_drop;
    ntu ? Number "NTU",
        "Number of transfer units: UA over the smaller capacity flow."
        |c| Some(c.state.exchanger?.transfer_units);
    conductance_w_k ? ThermalConductance "UA",
        "Heat flow per kelvin of mean temperature difference."
        |c| Some(c.state.exchanger?.conductance);
    capacity_ratio ? Number "capacity ratio" / "capacity\nratio",
        "Smaller over larger capacity flow (flow times specific heat)."
        |c| Some(c.state.exchanger?.capacity_ratio);
    heat_effectiveness ? Share "heat effectiveness q/q_max" / "heat eff.\nq/q_max",
        "Heat over the most that the smaller capacity flow could carry (effectiveness-NTU method)."
        |c| Some(c.state.exchanger?.heat_effectiveness);
    charge_reynolds ? Number "Reynolds number, charge",
        "Reynolds number of the charge in the core's passages."
        |c| Some(c.state.exchanger?.reynolds?.0);
    sink_reynolds ? Number "Reynolds number, cooling side",
        "Reynolds number of the cooling side in the core's passages."
        |c| Some(c.state.exchanger?.reynolds?.1);
    unconfirmed ? flag "unconfirmed",
        "True where the fins follow a correlation that was not checked against measurements."
        |c| c.state.unconfirmed.then_some(true);
} }

/// The cooler's name over what cools it.
pub const COOLING_SIDE: Field<Named<CoolerState>> = Field::in_text(
    "cooling side",
    "The cooler whose cooling air or water the row shows.",
    Get::Text(|c| Some(c.name.clone())),
);
