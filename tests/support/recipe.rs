//! An invented compressor whose shape is exact under similarity: no measured machine.
//!
//! The formulas are made up to look like a small radial wheel with backsweep; only similarity
//! (flow with speed, head with its square at equal Mach number and place) is physics. They are the
//! same at any number of lines and points, so that they show the order of an interpolation.

#![allow(
    dead_code,
    reason = "each test program takes what it needs of the recipe"
)]

use airpath::map::{CompressorRow, Reference};

/// The reference state of the invented map.
pub const REFERENCE: Reference = Reference {
    temperature: 298.15,
    pressure: 100e3,
};
/// Places of the demo map's rows along each line.
pub const PLACES: [f64; 10] = [0.0, 0.15, 0.30, 0.45, 0.60, 0.72, 0.82, 0.90, 0.96, 1.0];
/// Speeds of the demo map's lines for a wheel of 78 mm, rpm.
pub const SPEEDS: [f64; 8] = [40e3, 55e3, 70e3, 85e3, 100e3, 112e3, 122e3, 130e3];

const SPEED_OF_SOUND: f64 = 346.1;
const DENSITY: f64 = 1.1684;
const BEST_PLACE: f64 = 0.52;

/// Surge and choke flow (kg/s) of a wheel of outlet diameter `d2` (m) at a speed (rpm).
pub fn ends(d2: f64, speed: f64) -> (f64, f64) {
    let u = std::f64::consts::PI * d2 * speed / 60.0;
    let m = u / SPEED_OF_SOUND;
    let unit = DENSITY * d2 * d2 * u;
    let surge = (0.030 + 0.0155 * m * m) * unit;
    let throat = 0.1977
        * d2
        * d2
        * DENSITY
        * SPEED_OF_SOUND
        * ((2.0 + 0.4 * (0.53 * m).powi(2)) / 2.4).powi(3);
    let incidence = 0.130 * unit;
    let choke = (throat.powi(-8) + incidence.powi(-8)).powf(-0.125);
    (surge, choke)
}

/// The row at a speed (rpm) and a share of the way from surge to choke flow.
pub fn row(d2: f64, speed: f64, share: f64) -> CompressorRow {
    let (surge, choke) = ends(d2, speed);
    let u = std::f64::consts::PI * d2 * speed / 60.0;
    let m = u / SPEED_OF_SOUND;
    let flow = if share >= 1.0 {
        choke
    } else {
        surge + share * (choke - surge)
    };
    let c = if m < 1.05 { 0.25 } else { 0.30 };
    let best = 0.775 - c * (m - 1.05).powi(2);
    let along = if share <= BEST_PLACE {
        1.0 - 0.05 * ((BEST_PLACE - share) / BEST_PLACE).powi(2)
    } else {
        let t = ((share - BEST_PLACE) / (1.0 - BEST_PLACE)).min(1.0);
        1.0 - 0.42 * (1.0 - (1.0 - t.powf(2.2)).powf(0.6))
    };
    let efficiency = best * along;
    let work = 0.74 - 0.90 * flow / (DENSITY * d2 * d2 * u);
    let pressure_ratio = (1.0 + 0.4 * m * m * work * efficiency).powf(3.5);
    CompressorRow {
        speed,
        flow,
        pressure_ratio,
        efficiency,
    }
}

/// Rows at every speed and share.
pub fn rows(d2: f64, speeds: &[f64], shares: &[f64]) -> Vec<CompressorRow> {
    let line = |&speed: &f64| shares.iter().map(move |&share| row(d2, speed, share));
    speeds.iter().flat_map(line).collect()
}

/// The demo map of a 78 mm wheel.
pub fn demo() -> Vec<CompressorRow> {
    rows(0.078, &SPEEDS, &PLACES)
}
