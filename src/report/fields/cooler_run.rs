//! A timed run of a cooler that stores heat.

use super::rows::fields;
use crate::report::words::run_ended;
use crate::study::soak::{SoakRequest, SoakRow, SoakRun, Speed, Stop};

/// A run with what was asked.
#[derive(Debug, Clone)]
pub struct TimedRun {
    /// The run.
    pub run: SoakRun,
    /// What was asked.
    pub asked: SoakRequest,
}

fields! {
TimedRun {
    seconds = Time "length",
        "Planned duration." |t| t.asked.seconds;
    speed = text "speed",
        "held or swept."
        |t| match t.asked.speed {
            Speed::Held(_) => "held",
            Speed::Swept { .. } => "swept",
        };
    target_passed_at_s ? Time "target exceeded at",
        "When the charge first exceeded the target; absent where it never did." |t| t.run.passed_at;
    hottest_charge_temperature_k = Temperature "hottest charge",
        "The hottest charge in the manifold." |t| t.run.hottest;
    hottest_at_s = Time "hottest at",
        "When that was." |t| t.run.hottest_at;
    heat_from_charge_j = Number "heat from charge",
        "Heat that the charge gave, J." |t| t.run.heat.from_charge;
    heat_to_sink_j = Number "heat to cooling side",
        "Heat that went from the metal into the coolant, J." |t| t.run.heat.to_sink;
    heat_to_air_j ? Number "heat to air",
        "Heat that the water's radiator rejected to the ambient air, J."
        |t| t.run.stored_in_water.map(|_| t.run.heat.to_air);
    stored_in_metal_j ? Number "stored in metal",
        "Heat stored by the core's metal, J." |t| t.run.stored_in_metal;
    stored_in_water_j ? Number "stored in water",
        "Heat stored by water and ice, J." |t| t.run.stored_in_water;
    ice_gone_at_s ? Time "last ice at",
        "When the last ice melted." |t| t.run.ice_gone_at;
    stopped ? one "stopped",
        "Why it ended early, where it did." |t| t.run.stopped;
    rows = each "rows",
        "Moments from 0 to the end." |t| &t.run.rows;
}

Stop {
    time_s = Time "time",
        "When." |s| s.seconds;
    rpm = RotationalSpeed "engine speed",
        "Engine speed." |s| s.rpm;
    error = text "error",
        "Why." |s| run_ended(&s.reason).to_string();
}

SoakRow {
    time_s = Time "time",
        "Time from the start." |r| r.seconds;
    rpm = RotationalSpeed "engine",
        "Engine speed." |r| r.rpm;
    core_temperature_k ? Temperature "core",
        "Temperature of the core's metal." |r| r.metal_temperature;
    water_temperature_k ? Temperature "water",
        "Temperature of the water in the tank." |r| r.water_temperature;
    ice_kg ? Mass "ice",
        "Ice left." |r| r.ice;
    outlet_temperature_k = Temperature "charge out" / "charge\nout",
        "Temperature of the charge at the cooler's outlet." |r| r.outlet_temperature;
    charge_temperature_k = Temperature "charge in the manifold" / "mani-\nfold",
        "Temperature of the charge in the manifold." |r| r.charge_temperature;
    manifold_pressure_pa = AbsolutePressure "manifold" / "mani-\nfold",
        "Absolute manifold pressure." |r| r.manifold_pressure;
    brake_power_w ? Power "brake power" / "brake\npower",
        "Brake power." |r| r.brake_power;
    heat_w = Power "heat",
        "Heat out of the charge." |r| r.heat;
}
}
