//! Where the power goes, from the gas to the crank.

use super::rows::fields;
use crate::matching::EngineState;

/// One item of the power balance.
#[derive(Debug, Clone, Copy)]
pub struct PowerItem {
    /// `gross indicated`, `pumping`, `friction`, `supercharger drive` or `brake`.
    pub name: &'static str,
    /// What it adds, negative where it takes, W.
    pub power: f64,
    /// Over the gross indicated power.
    pub share: f64,
}

fields! { PowerItem {
    name = text "where the power goes",
        "Each gain or loss of power; all but the last add up to the last, brake." |i| i.name;
    power_w = Power "power",
        "What it adds; losses are negative." |i| i.power;
    share = Share "share of gross indicated" / "of gross\nindicated",
        "Over the gross indicated power." |i| i.share;
} }

/// Where the power goes; empty where part of it is unknown.
pub fn power_items(engine: &EngineState) -> Vec<PowerItem> {
    let known = (
        engine.gross_indicated_power,
        engine.pumping_power,
        engine.friction_power,
        engine.drive_power,
        engine.brake_power,
    );
    let (Some(gross), Some(pumping), Some(friction), Some(drive), Some(brake)) = known else {
        return Vec::new();
    };
    let item = |name, power| PowerItem {
        name,
        power,
        share: power / gross,
    };
    vec![
        item("gross indicated", gross),
        item("pumping", pumping),
        item("friction", -friction),
        item("supercharger drive", 0.0 - drive),
        item("brake", brake),
    ]
}
