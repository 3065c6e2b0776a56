//! Pressure and temperature in the cylinder, and what they do to the head: a spread each, because no
//! cycle is like the last and no figure here is measured. Estimates only; not an approval to build:
//! detonation, pulsation and heat are left out.

use super::Engine;
use super::head::separation_factor;
use super::knock;
use super::spread::Spread;
use super::typical::COMPRESSION_EXPONENTS;
use std::f64::consts::PI;

/// Where the peak pressure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PeakBasis {
    /// Compression pressure times the pressure-rise ratio.
    RiseRatio,
    /// The limit that the builder set: fuel and timing are taken to keep it.
    Limit,
}

/// The cylinder at one match.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderState {
    /// At the end of compression, Pa.
    pub compression_pressure: Spread,
    /// At the end of compression, K.
    pub compression_temperature: Spread,
    /// Peak pressure, Pa, and where it comes from.
    pub peak: Option<(Spread, PeakBasis)>,
    /// Gas force on the head of one cylinder, above the air outside, N.
    pub gas_force: Option<Spread>,
    /// Clamp of the studs at one cylinder, N.
    pub clamp_force: Option<Spread>,
    /// What the clamp has over the gas force, as a share of it; at 0 the head lifts.
    pub clamp_margin: Option<Spread>,
    /// Compression ratio of an unblown engine as near to knocking; for spark ignition.
    pub equivalent_compression_ratio: Option<f64>,
}

/// What surrounds the cylinders at one match.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Absolute manifold pressure, Pa.
    pub manifold_pressure: f64,
    /// Manifold temperature, K.
    pub manifold_temperature: f64,
    /// Absolute pressure of the air outside, Pa.
    pub site_pressure: f64,
    /// The builder's limit of the peak pressure, Pa.
    pub peak_limit: Option<f64>,
}

impl Engine {
    /// The cylinder at an engine speed in rpm. `None` without a compression ratio.
    pub fn cylinder(&self, around: &Surroundings, rpm: f64) -> Option<CylinderState> {
        let r = self.compression_ratio?;
        let [low, _, high] = COMPRESSION_EXPONENTS;
        let (p, t) = (around.manifold_pressure, around.manifold_temperature);
        let peak = self
            .peak_spread(p, rpm)
            .map(|peak| (peak, PeakBasis::RiseRatio))
            .or_else(|| {
                let limit = around.peak_limit?;
                let (low, high) = (limit, limit);
                Some((Spread { low, high }, PeakBasis::Limit))
            });
        let gas_force = peak.and_then(|(peak, _)| self.gas_force(peak, around.site_pressure));
        let clamp_force = self.head.and_then(|head| head.clamp());
        Some(CylinderState {
            compression_pressure: Spread {
                low: p * r.powf(low),
                high: p * r.powf(high),
            },
            compression_temperature: Spread {
                low: t * r.powf(low - 1.0),
                high: t * r.powf(high - 1.0),
            },
            peak,
            gas_force,
            clamp_force,
            clamp_margin: self.clamp_margin(gas_force, clamp_force),
            equivalent_compression_ratio: self
                .is_spark_ignition()
                .then(|| knock::equivalent_compression_ratio(r, p, t))
                .flatten(),
        })
    }

    /// Peak pressure, Pa, with both exponents and the scatter of the pressure-rise ratio.
    fn peak_spread(&self, manifold_pressure: f64, rpm: f64) -> Option<Spread> {
        let table = self.combustion.as_ref()?.pressure_rise_ratio.as_ref()?;
        let r = self.compression_ratio?;
        let [low, _, high] = COMPRESSION_EXPONENTS;
        let scatter = self.typical().pressure_rise_scatter;
        let rise = table.at(rpm);
        Some(Spread {
            low: manifold_pressure * r.powf(low) * (rise * (1.0 - scatter)).max(1.0),
            high: manifold_pressure * r.powf(high) * rise * (1.0 + scatter),
        })
    }

    /// Force on the head within the gasket's ring, or the bore where that is not given, N.
    fn gas_force(&self, peak: Spread, site_pressure: f64) -> Option<Spread> {
        let sealed = self.head.and_then(|head| head.sealed_bore);
        let d = sealed.or(self.bore)?;
        let area = PI / 4.0 * d * d;
        Some(Spread {
            low: area * (peak.low - site_pressure),
            high: area * (peak.high - site_pressure),
        })
    }

    fn clamp_margin(&self, gas: Option<Spread>, clamp: Option<Spread>) -> Option<Spread> {
        let (gas, clamp, c) = (gas?, clamp?, self.head?.stud_load_share);
        (gas.low > 0.0).then(|| Spread {
            low: separation_factor(clamp.low, gas.high, c) - 1.0,
            high: separation_factor(clamp.high, gas.low, c) - 1.0,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::breathing::tests::engine;
    use super::super::{Combustion, EngineKind, Head, Preload, Strokes};
    use super::*;
    use crate::numeric::Schedule;
    use approx::assert_relative_eq;

    const AROUND: Surroundings = Surroundings {
        manifold_pressure: 250e3,
        manifold_temperature: 330.0,
        site_pressure: 83.5e3,
        peak_limit: None,
    };

    fn diesel() -> Engine {
        let mut engine = engine(4.5e-3, Strokes::Four, 0.9);
        engine.kind = Some(EngineKind::Diesel);
        engine.bore = Some(0.110);
        engine.combustion = Some(Combustion {
            gross_indicated_efficiency: Schedule::constant(0.43),
            heat_loss_share: Schedule::constant(0.19),
            pressure_rise_ratio: Some(Schedule::constant(1.45)),
        });
        engine.head = Some(Head {
            studs_per_cylinder: Some(4.0),
            preload: Some(Preload::Given(75e3)),
            sealed_bore: Some(0.114),
            stud_load_share: 0.0,
        });
        engine
    }

    /// By hand: 250 kPa × 15^1.32 = 8.919 MPa, × 15^1.37 = 10.213 MPa; × 1.45 × 0.95 and × 1.05:
    /// 12.286 and 15.549 MPa; on 114 mm 124.6 and 157.9 kN against 300 kN.
    #[test]
    fn peak_force_and_margin_by_hand() {
        let state = diesel().cylinder(&AROUND, 2400.0).unwrap();
        let (peak, basis) = state.peak.unwrap();
        assert_eq!(basis, PeakBasis::RiseRatio);
        assert_relative_eq!(peak.low, 12.286e6, max_relative = 1e-3);
        assert_relative_eq!(peak.high, 15.549e6, max_relative = 1e-3);
        let force = state.gas_force.unwrap();
        assert_relative_eq!(force.low, 124.55e3, max_relative = 1e-3);
        assert_relative_eq!(force.high, 157.86e3, max_relative = 1e-3);
        let margin = state.clamp_margin.unwrap();
        assert_relative_eq!(margin.low, 0.900, max_relative = 3e-3);
        assert_relative_eq!(margin.high, 1.409, max_relative = 3e-3);
        assert_eq!(state.equivalent_compression_ratio, None);
    }

    #[test]
    fn the_single_figure_lies_within_its_spread() {
        let engine = diesel();
        let one = engine.peak_cylinder_pressure(250e3, 2400.0).unwrap();
        let (peak, _) = engine.cylinder(&AROUND, 2400.0).unwrap().peak.unwrap();
        assert!(peak.low < one && one < peak.high);
    }

    #[test]
    fn without_a_rise_ratio_the_limit_stands_in_and_without_both_nothing() {
        let mut engine = diesel();
        if let Some(combustion) = &mut engine.combustion {
            combustion.pressure_rise_ratio = None;
        }
        assert_eq!(engine.cylinder(&AROUND, 2400.0).unwrap().peak, None);
        let around = Surroundings {
            peak_limit: Some(16e6),
            ..AROUND
        };
        let state = engine.cylinder(&around, 2400.0).unwrap();
        let (peak, basis) = state.peak.unwrap();
        assert_eq!(basis, PeakBasis::Limit);
        assert_relative_eq!(peak.low, 16e6);
        assert!(state.clamp_margin.is_some());
    }

    #[test]
    fn without_a_head_or_a_bore_there_is_no_margin() {
        let mut engine = diesel();
        engine.head = None;
        let state = engine.cylinder(&AROUND, 2400.0).unwrap();
        assert!(state.gas_force.is_some() && state.clamp_margin.is_none());
        engine.bore = None;
        assert_eq!(engine.cylinder(&AROUND, 2400.0).unwrap().gas_force, None);
    }

    #[test]
    fn a_spark_ignition_engine_has_an_equivalent_ratio() {
        let mut engine = diesel();
        engine.kind = Some(EngineKind::SparkIgnition);
        let state = engine.cylinder(&AROUND, 2400.0).unwrap();
        assert!(state.equivalent_compression_ratio.unwrap() > 15.0);
    }
}
