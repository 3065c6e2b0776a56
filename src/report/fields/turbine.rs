//! A turbine and its wastegate.

use super::named::Named;
use super::rows::fields;
use crate::matching::TurbineState;

fields! { Named<TurbineState> {
    name = text "turbine",
        "Name of the turbine, in exhaust order." |t| t.name.clone();
    expansion_ratio = Number "expansion ratio" / "expansion\nratio",
        "Total inlet pressure over outlet pressure." |t| t.state.expansion_ratio;
    mass_flow_kg_s = MassFlow "wheel flow",
        "Exhaust flow through the wheel, without the wastegate's." |t| t.state.mass_flow;
    power_w = Power "power",
        "Power of the wheel: flow times efficiency times isentropic enthalpy drop."
        |t| t.state.power;
    wastegate_share ? Share "wastegate",
        "Share of the exhaust flow that passes the wastegate." |t| t.state.wastegate_share;
    efficiency = Share "efficiency",
        "Total to static, on the isentropic drop to the outlet pressure." |t| t.state.efficiency;
} }
