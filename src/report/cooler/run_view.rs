//! A timed run as every writer sees it. SI; what does not exist is left out.

use serde::Serialize;

use crate::quantity::Words;
use crate::report::words::run_ended;
use crate::study::soak::{SoakRow, SoakRun, Speed};

/// A timed run.
#[derive(Debug, Clone, Serialize)]
pub struct RunView {
    /// How long it was to be.
    pub seconds: f64,
    /// `held` or `swept`.
    pub speed: &'static str,
    /// When the charge first passed the target; left out where it never did.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub target_passed_at_s: Option<f64>,
    /// The hottest charge in the manifold.
    pub hottest_charge_temperature_k: f64,
    /// When that was.
    pub hottest_at_s: f64,
    /// Heat that the charge gave.
    pub heat_from_charge_j: f64,
    /// Heat that went from the metal into what cools it.
    pub heat_to_sink_j: f64,
    /// Heat that the water's radiator gave to the air outside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat_to_air_j: Option<f64>,
    /// Heat stored by the core's metal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stored_in_metal_j: Option<f64>,
    /// Heat stored by water and ice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stored_in_water_j: Option<f64>,
    /// When the last ice melted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ice_gone_at_s: Option<f64>,
    /// Why it ended early, where it did.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stopped: Option<StopView>,
    /// Moments from 0 to the end.
    pub rows: Vec<RunRowView>,
}

/// Where a run ended early.
#[derive(Debug, Clone, Serialize)]
pub struct StopView {
    /// When.
    pub time_s: f64,
    /// Engine speed.
    pub rpm: f64,
    /// Why.
    pub error: Words,
}

/// One moment.
#[derive(Debug, Clone, Serialize)]
pub struct RunRowView {
    /// From the start.
    pub time_s: f64,
    /// Engine speed.
    pub rpm: f64,
    /// Of the core's metal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub core_temperature_k: Option<f64>,
    /// Of the water in the tank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water_temperature_k: Option<f64>,
    /// Ice left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ice_kg: Option<f64>,
    /// Of the charge behind the cooler.
    pub outlet_temperature_k: f64,
    /// Of the charge in the manifold.
    pub charge_temperature_k: f64,
    /// Absolute.
    pub manifold_pressure_pa: f64,
    /// Brake power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_w: Option<f64>,
    /// Heat out of the charge.
    pub heat_w: f64,
}

impl RunView {
    /// The view of a run.
    pub fn new(run: &SoakRun, seconds: f64, speed: Speed) -> Self {
        Self {
            seconds,
            speed: match speed {
                Speed::Held(_) => "held",
                Speed::Swept { .. } => "swept",
            },
            target_passed_at_s: run.passed_at,
            hottest_charge_temperature_k: run.hottest,
            hottest_at_s: run.hottest_at,
            heat_from_charge_j: run.heat.from_charge,
            heat_to_sink_j: run.heat.to_sink,
            heat_to_air_j: run.stored_in_water.map(|_| run.heat.to_air),
            stored_in_metal_j: run.stored_in_metal,
            stored_in_water_j: run.stored_in_water,
            ice_gone_at_s: run.ice_gone_at,
            stopped: run.stopped.map(|stop| StopView {
                time_s: stop.seconds,
                rpm: stop.rpm,
                error: run_ended(&stop.reason),
            }),
            rows: run.rows.iter().map(RunRowView::new).collect(),
        }
    }
}

impl RunRowView {
    fn new(row: &SoakRow) -> Self {
        Self {
            time_s: row.seconds,
            rpm: row.rpm,
            core_temperature_k: row.metal_temperature,
            water_temperature_k: row.water_temperature,
            ice_kg: row.ice,
            outlet_temperature_k: row.outlet_temperature,
            charge_temperature_k: row.charge_temperature,
            manifold_pressure_pa: row.manifold_pressure,
            brake_power_w: row.brake_power,
            heat_w: row.heat,
        }
    }
}
