//! The engine: breathing, powers at the crank and their mean effective pressures.

use super::rows::fields;
use crate::engine::{PeakBasis, Spread};
use crate::matching::EngineState;

fields! { EngineState {
    volumetric_efficiency = Share "volumetric efficiency",
        "Air flow over swept flow times manifold density, after the correction for exhaust pressure."
        |e| e.volumetric_efficiency;
    brake_power_w ? Power "brake power" / "brake\npower",
        "Power at the crank: gross indicated + pumping - friction - supercharger drive."
        |e| e.brake_power;
    torque_n_m ? Torque "torque",
        "Torque at the crank: brake power over angular speed." |e| e.torque;
    bsfc_g_kwh ? SpecificFuelConsumption "BSFC",
        "Brake specific fuel consumption: fuel flow over brake power." |e| e.specific_consumption;
    peak_cylinder_pressure_pa ? AbsolutePressure "peak cylinder pressure",
        "Pressure at the end of compression times the pressure-rise ratio."
        |e| e.peak_cylinder_pressure;
    peak_cylinder_pressure_low_pa ? AbsolutePressure "peak cylinder pressure, low",
        "The lowest that the peak is likely to be." |e| estimated_peak(e).map(|peak| peak.low);
    peak_cylinder_pressure_high_pa ? AbsolutePressure "peak cylinder pressure, high",
        "The highest that the peak is likely to be." |e| estimated_peak(e).map(|peak| peak.high);
    brake_mean_effective_pressure_pa ? MeanEffectivePressure "BMEP",
        "Brake mean effective pressure: brake power over swept flow." |e| mean(e, e.brake_power);
    gross_indicated_mean_effective_pressure_pa ? MeanEffectivePressure "gross IMEP",
        "Gross indicated mean effective pressure, compression and expansion strokes only."
        |e| mean(e, e.gross_indicated_power);
    pumping_mean_effective_pressure_pa ? MeanEffectivePressure "PMEP (+ = gain)",
        "Pumping mean effective pressure: manifold less exhaust pressure."
        |e| mean(e, e.pumping_power);
    friction_mean_effective_pressure_pa ? MeanEffectivePressure "FMEP",
        "Friction mean effective pressure (Chen-Flynn)." |e| mean(e, e.friction_power);
    gross_indicated_power_w ? Power "gross indicated power",
        "Work of the compression and expansion strokes: gross indicated efficiency times fuel heat."
        |e| e.gross_indicated_power;
    pumping_power_w ? Power "pumping power (+ = gain)",
        "Manifold less exhaust pressure times swept flow; positive where it helps the crank."
        |e| e.pumping_power;
    friction_power_w ? Power "friction power",
        "FMEP times swept flow." |e| e.friction_power;
    mean_piston_speed_m_s ? SurfaceSpeed "mean piston speed",
        "Twice the stroke times engine speed." |e| e.mean_piston_speed;
    supercharger_drive_power_w ? Power "supercharger drive power",
        "Power that all superchargers together draw from the crank." |e| e.drive_power;
} }

/// A power over the swept flow.
fn mean(engine: &EngineState, power: Option<f64>) -> Option<f64> {
    power.map(|power| power / engine.swept_flow)
}

/// The peak pressure's spread, where it is an estimate and not the limit that stands in for one.
pub fn estimated_peak(engine: &EngineState) -> Option<Spread> {
    let (peak, basis) = engine.cylinder?.peak?;
    (basis == PeakBasis::RiseRatio).then_some(peak)
}
