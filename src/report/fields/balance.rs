//! What is left of the balances, and other stable balances at the same speed.

use super::rows::fields;
use crate::matching::{GateState, OtherBalance, Residuals};

/// Another stable balance, and the site's pressure.
#[derive(Debug, Clone, Copy)]
pub struct Other {
    /// The balance.
    pub balance: OtherBalance,
    /// Pressure of the air outside, Pa.
    pub ambient: f64,
}

fields! {
Residuals {
    flow = Number "residual of the flows",
        "What is left of the flow balance, over the flow." |r| r.flow;
    power = Number "residual of the powers",
        "What is left of the turbocharger's power balance, over the larger of the two powers."
        |r| r.power;
    pressure = Number "residual of the pressures",
        "What is left of the pressure balance, over the pressure." |r| r.pressure;
}

Other {
    pressure_ratio = Number "turbo pressure ratio",
        "Pressure ratio of the first turbine's compressor in that balance."
        |o| o.balance.pressure_ratio;
    manifold_pressure_pa = AbsolutePressure "manifold pressure",
        "Absolute manifold pressure in that balance." |o| o.balance.manifold_pressure;
    boost_pa = BoostPressure "boost",
        "Manifold pressure above the site's in that balance."
        |o| o.balance.manifold_pressure - o.ambient;
    air_mass_flow_kg_s = MassFlow "air flow",
        "Flow of moist air in that balance." |o| o.balance.air_mass_flow;
    brake_power_w ? Power "brake power",
        "Brake power in that balance." |o| o.balance.brake_power;
    wastegate ? text "wastegate",
        "What the first turbine's wastegate does there: shut, holding or wide open."
        |o| match o.balance.gate {
            GateState::None => None,
            GateState::Shut => Some("shut"),
            GateState::Holding => Some("holding"),
            GateState::WideOpen => Some("wide open"),
        };
}
}
