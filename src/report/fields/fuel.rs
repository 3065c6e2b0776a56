//! How the fuel is delivered.

use super::rows::fields;
use crate::matching::FuelState;

fields! { FuelState {
    per_stroke_kg ? FuelPerStroke "fuel per stroke",
        "Fuel per cylinder and working cycle." |f| f.per_stroke;
    per_stroke_m3 ? FuelVolume "fuel per stroke (volume)",
        "The same as a volume, where the fuel's density is known." |f| f.volume_per_stroke;
    injector_duty ? Share "injector duty",
        "Share of the time for which the injectors are open." |f| f.injector_duty;
    evaporated_share ? Share "fuel evaporated before the valves",
        "Share of the fuel that is vapour when the charge passes the inlet valves."
        |f| Some(f.evaporated?.share);
    vapour_mole_fraction ? Share "fuel vapour in the charge",
        "Mole fraction of fuel vapour in the charge." |f| Some(f.evaporated?.vapour_fraction);
    charge_cooling_k ? TemperatureDifference "charge cooling by evaporation",
        "How far the evaporating fuel cools the charge." |f| f.charge_cooling;
} }

/// Whether anything beside the flow is known.
pub fn is_known(state: &FuelState) -> bool {
    state.per_stroke.is_some() || state.injector_duty.is_some() || state.evaporated.is_some()
}
