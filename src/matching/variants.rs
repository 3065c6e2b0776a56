//! The same installation under another assumption, and the pulley's own boost.

use super::installation::Installation;
use super::layout::Layout;
use super::outcome::Match;
use crate::air_path::{CompressorPerformance, Part, SuperchargerKind};
use crate::engine::{Fuelling, Strokes};
use crate::exhaust::TurbineEfficiency;
use crate::numeric::Schedule;

/// Why the manifold pressure of a displacement supercharger is what it is, as a product that can be
/// checked by hand: manifold over supercharger inlet pressure = sweep ratio × supercharger
/// volumetric efficiency × (manifold over supercharger inlet temperature) ÷ volumetric efficiency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PulleyBoost {
    /// Volume swept by the supercharger over volume swept by the engine, per time.
    pub sweep_ratio: f64,
    /// Volume delivered by the supercharger, at its inlet, over volume swept.
    pub supercharger_volumetric_efficiency: f64,
    /// Manifold temperature over supercharger inlet temperature.
    pub temperature_ratio: f64,
    /// Volumetric efficiency of the engine as it acts.
    pub volumetric_efficiency: f64,
    /// Part of the manifold's pressure that is the air's, beside vapour of fuel.
    pub air_share: f64,
    /// The product: manifold pressure over supercharger inlet pressure that the pulley gives. It is
    /// the match's own where the bypass is shut, and the larger of the two else.
    pub pressure_ratio: f64,
}

impl Installation {
    /// Volume swept by the first displacement supercharger over volume swept by the engine:
    /// 2 D k/V_d for a four-stroke, D k/V_d for a two-stroke (D per revolution, belt ratio k).
    /// `None` without such a supercharger.
    pub fn sweep_ratio(&self) -> Option<f64> {
        let machine = self.air_path.iter().find_map(|part| match part {
            Part::Supercharger(stage) => match &stage.kind {
                SuperchargerKind::Displacement(machine) => Some(machine),
                _ => None,
            },
            _ => None,
        })?;
        let cycles = match self.engine.strokes {
            Strokes::Four => 2.0,
            Strokes::Two => 1.0,
        };
        Some(cycles * machine.displacement * machine.belt.ratio / self.engine.displacement)
    }

    /// The pulley's own boost at a match of this installation. `None` without a displacement
    /// supercharger, or with its clutch out.
    pub fn pulley_boost(&self, layout: &Layout, at: &Match) -> Option<PulleyBoost> {
        let sweep_ratio = self.sweep_ratio()?;
        let (name, _) = layout.stages.iter().find(|(_, part)| {
            matches!(&self.air_path[*part], Part::Supercharger(stage)
                if matches!(stage.kind, SuperchargerKind::Displacement(_)))
        })?;
        let stage = layout.stages.iter().position(|(stage, _)| stage == name)?;
        let station = |wanted: &str| {
            let place = layout.stations.iter().position(|s| s.name == wanted)?;
            at.stations.get(place)
        };
        let inlet = station(&format!("{name} inlet"))?;
        let manifold = station("manifold")?;
        let swept = sweep_ratio * self.engine.swept_flow(at.rpm) * inlet.density;
        let delivered = at.stages.get(stage)?.mass_flow;
        if delivered <= 0.0 {
            return None;
        }
        let supercharger_volumetric_efficiency = delivered / swept;
        let temperature_ratio = manifold.temperature / inlet.temperature;
        let volumetric_efficiency = at.engine.volumetric_efficiency;
        let evaporated = at.fuel.and_then(|fuel| fuel.evaporated);
        let air_share = 1.0 - evaporated.map_or(0.0, |there| there.vapour_fraction);
        Some(PulleyBoost {
            sweep_ratio,
            supercharger_volumetric_efficiency,
            temperature_ratio,
            volumetric_efficiency,
            air_share,
            pressure_ratio: sweep_ratio * supercharger_volumetric_efficiency * temperature_ratio
                / volumetric_efficiency
                / air_share,
        })
    }

    /// This installation with the supercharger alone: the wheels give nothing and the compressors that they
    /// drive rest at a pressure ratio of 1; the turbines stay in the way of the exhaust. To be asked
    /// with [`super::Solver::at_rest`].
    #[must_use]
    pub fn supercharger_alone(&self) -> Self {
        let mut alone = self.clone();
        for part in &mut alone.air_path {
            if let Part::TurboCompressor(turbo) = part
                && !matches!(turbo.performance, CompressorPerformance::Prescribed(_))
            {
                turbo.performance = CompressorPerformance::Efficiency(Schedule::constant(1.0));
                turbo.map = None;
            }
        }
        for turbine in &mut alone.turbines {
            turbine.efficiency = TurbineEfficiency::Figure(0.0);
            turbine.wastegate = None;
        }
        alone
    }

    /// This installation with the turbo alone: the superchargers and their bypasses are taken out.
    #[must_use]
    pub fn turbo_alone(&self) -> Self {
        let mut alone = self.clone();
        alone
            .air_path
            .retain(|part| !matches!(part, Part::Supercharger(_)));
        alone
    }

    /// This installation with a fuel flow in kg/s held whatever the air. Without a fuel nothing changes.
    #[must_use]
    pub fn with_fuel_flow_held(&self, fuel_flow: f64) -> Self {
        self.burning(Fuelling::Flow(Schedule::constant(fuel_flow)))
    }

    /// This installation with a mass of dry air per mass of fuel held. Without a fuel nothing changes.
    #[must_use]
    pub fn with_air_fuel_ratio_held(&self, air_fuel_ratio: f64) -> Self {
        self.burning(Fuelling::AirFuelRatio(Schedule::constant(air_fuel_ratio)))
    }

    fn burning(&self, burned: Fuelling) -> Self {
        let mut other = self.clone();
        if let Some(fuel) = &mut other.fuel {
            fuel.burned = burned;
        }
        other
    }
}
