//! An installation made ready: gas, names and variables, fixed once.

use super::error::LayoutError;
use super::installation::Installation;
use super::layout::{ExhaustSide, Layout};
use super::variables::{MOST_STAGES, Variable};
use crate::air_path::{
    AirState, CompressorPerformance, Part, SinkSide, Supercharger, SuperchargerKind,
};
use crate::engine::Strokes;
use crate::exhaust::{Swallowing, TurbineEfficiency};
use crate::gas::{Gas, GasError, HumidAir, Moles};
use crate::numeric::newton::MAX_UNKNOWNS;

/// What does not change from trial to trial.
#[derive(Debug)]
pub(super) struct Setup<'a> {
    pub installation: &'a Installation,
    pub layout: Layout,
    pub gas: Gas,
    pub moles: Moles,
    pub dry_share: f64,
    /// Stoichiometric ratio of the fuel; of no meaning without one.
    pub stoichiometric: f64,
    pub ambient: AirState,
    pub variables: Vec<Variable>,
    /// By turbine in exhaust order: what it drives, and where its values stand in a trial.
    pub driven: Vec<DrivenStage>,
    /// Belt-driven stages in flow order.
    pub belts: Vec<BeltDrivenStage>,
    /// Where the pressure ahead of the exhaust pipe stands in a trial.
    pub pipe: Option<usize>,
    /// Multiplies the fuel; 1 but for asking what a little more would do.
    pub fuel_factor: f64,
    /// Engine speed of the current trial, rpm.
    pub rpm: f64,
    /// The sink of each charge cooler in flow order at that speed.
    pub sinks: Vec<SinkSide>,
}

/// A turbine that drives a stage, and where its values stand in a trial.
#[derive(Debug, Clone, Copy)]
pub(super) struct DrivenStage {
    /// The stage's place among the parts.
    pub part: usize,
    /// The stage's place among the stages.
    pub stage: usize,
    pub climb: usize,
    pub inlet: usize,
    pub gate: Option<usize>,
    /// Largest share of the exhaust that the gate passes; 0 without one.
    pub largest_share: f64,
    /// Whether the stage runs on a map, so that the climb is its speed.
    pub has_map: bool,
}

/// A belt-driven stage, and where its value stands in a trial.
#[derive(Debug, Clone, Copy)]
pub(super) struct BeltDrivenStage {
    /// Its place among the parts.
    pub part: usize,
    /// Its place among the stages.
    pub stage: usize,
    pub variable: usize,
}

impl<'a> Setup<'a> {
    pub fn new(installation: &'a Installation) -> Result<Self, LayoutError> {
        let site = &installation.site;
        let air = HumidAir::new(site.pressure, site.temperature, site.relative_humidity)
            .map_err(|_| LayoutError::Air)?;
        let gas = air.gas();
        let ambient =
            AirState::new(&gas, site.pressure, site.temperature).map_err(|_| LayoutError::Air)?;
        let driven = driven_parts(installation)?;
        let side = match (driven.len(), &installation.exhaust) {
            (0, None) => ExhaustSide::Unknown,
            // A turbine that drives a given ratio stands between pipe and engine: nothing is known.
            (0, Some(_)) if !installation.turbines.is_empty() => ExhaustSide::Unknown,
            (0, Some(_)) => ExhaustSide::Pipe,
            (count, _) => ExhaustSide::Turbines(count),
        };
        let variables = variables(installation, &driven, side)?;
        let layout = Layout::new(&installation.air_path, side);
        let place = |wanted: Variable| variables.iter().position(|variable| *variable == wanted);
        let driven = (driven.iter().enumerate())
            .filter_map(|(turbine, &part)| {
                Some(DrivenStage {
                    part,
                    stage: layout.stages.iter().position(|(_, at)| *at == part)?,
                    climb: place(Variable::Climb { turbine })?,
                    inlet: place(Variable::TurbineInlet { turbine })?,
                    gate: place(Variable::Gate { turbine }),
                    largest_share: installation.turbines[turbine]
                        .largest_share()
                        .unwrap_or(0.0),
                    has_map: place(Variable::Place { part }).is_some(),
                })
            })
            .collect();
        let belts = (layout.stages.iter().enumerate())
            .filter_map(|(stage, &(_, part))| {
                belt_driven(&installation.air_path[part])?;
                let variable =
                    place(Variable::Ratio { part }).or_else(|| place(Variable::Place { part }))?;
                Some(BeltDrivenStage {
                    part,
                    stage,
                    variable,
                })
            })
            .collect();
        let fuel = installation.fuel.as_ref();
        Ok(Self {
            installation,
            gas,
            moles: air.moles_per_dry_kilogram(),
            dry_share: air.dry_share(),
            stoichiometric: fuel.map_or(1.0, |fuel| fuel.formula().stoichiometric_ratio()),
            ambient,
            driven,
            belts,
            pipe: place(Variable::Pipe),
            layout,
            variables,
            fuel_factor: 1.0,
            rpm: f64::NAN,
            sinks: Vec::new(),
        })
    }

    /// Makes ready for an engine speed in rpm. Fails where a cooler's sink is outside the gas's range.
    pub fn at_speed(&mut self, rpm: f64) -> Result<(), GasError> {
        self.rpm = rpm;
        self.sinks.clear();
        for part in &self.installation.air_path {
            if let Part::Cooler(cooler) = part {
                self.sinks.push(cooler.sink_side(&self.gas, rpm)?);
            }
        }
        Ok(())
    }

    /// Whether the pressure behind the engine is known.
    pub fn knows_exhaust(&self) -> bool {
        self.pipe.is_some() || !self.driven.is_empty()
    }

    /// The belt-driven supercharger of a belt.
    pub fn supercharger(&self, belt: &BeltDrivenStage) -> Option<&Supercharger> {
        belt_driven(&self.installation.air_path[belt.part])
    }
}

/// The supercharger of a part that a belt drives.
fn belt_driven(part: &Part) -> Option<&Supercharger> {
    match part {
        Part::Supercharger(supercharger) if supercharger.belt().is_some() => Some(supercharger),
        _ => None,
    }
}

/// For each turbine the part that it drives. Empty where nothing is driven.
fn driven_parts(installation: &Installation) -> Result<Vec<usize>, LayoutError> {
    let compressors: Vec<(usize, bool)> = installation
        .air_path
        .iter()
        .enumerate()
        .filter_map(|(part, kind)| match kind {
            Part::TurboCompressor(turbo) => Some((
                part,
                matches!(turbo.performance, CompressorPerformance::Prescribed(_)),
            )),
            _ => None,
        })
        .collect();
    let all_given = compressors.iter().all(|(_, given)| *given);
    if all_given && !compressors.is_empty() {
        return Ok(Vec::new());
    }
    let mut driven = Vec::new();
    for (turbine, described) in installation.turbines.iter().enumerate() {
        let (part, given) = *compressors
            .get(described.drives)
            .ok_or(LayoutError::Driver(turbine + 1))?;
        if given {
            return Err(LayoutError::Mixed(turbine + 1));
        }
        if driven.contains(&part) {
            return Err(LayoutError::Driver(turbine + 1));
        }
        driven.push(part);
    }
    for (count, (part, given)) in compressors.iter().enumerate() {
        if !given && !driven.contains(part) {
            return Err(LayoutError::Undriven(count + 1));
        }
    }
    Ok(driven)
}

/// Counts the degrees of freedom from the build.
fn variables(
    installation: &Installation,
    driven: &[usize],
    side: ExhaustSide,
) -> Result<Vec<Variable>, LayoutError> {
    let mut variables = vec![Variable::Flow];
    let mut belts = 0;
    for (part, kind) in installation.air_path.iter().enumerate() {
        match kind {
            Part::Supercharger(supercharger) => match supercharger.kind {
                SuperchargerKind::Prescribed(_) => {}
                SuperchargerKind::Displacement(_) => {
                    belts += 1;
                    variables.push(Variable::Ratio { part });
                }
                SuperchargerKind::Centrifugal(_) => {
                    belts += 1;
                    variables.push(Variable::Place { part });
                }
            },
            Part::TurboCompressor(turbo) => {
                if matches!(turbo.performance, CompressorPerformance::Map) {
                    if turbo.map.is_none() {
                        return Err(LayoutError::MapMissing(part));
                    }
                    variables.push(Variable::Place { part });
                }
            }
            _ => {}
        }
    }
    for (turbine, part) in driven.iter().enumerate() {
        let described = &installation.turbines[turbine];
        let has_speed = matches!(
            &installation.air_path[*part],
            Part::TurboCompressor(turbo) if matches!(turbo.performance, CompressorPerformance::Map)
        );
        let many_lines =
            matches!(&described.swallowing, Swallowing::Map(map) if map.lines().len() > 1);
        let by_blades = matches!(described.efficiency, TurbineEfficiency::BladeSpeed { .. });
        if (by_blades || many_lines) && !has_speed {
            return Err(LayoutError::SpeedUnknown(turbine + 1));
        }
        variables.push(Variable::Climb { turbine });
        variables.push(Variable::TurbineInlet { turbine });
        if described.wastegate.is_some() {
            variables.push(Variable::Gate { turbine });
        }
    }
    if side != ExhaustSide::Unknown && installation.exhaust.is_some() {
        variables.push(Variable::Pipe);
    }
    let burns = installation.fuel.is_some() && installation.engine.combustion.is_some();
    let engine = &installation.engine;
    let breathes_alone = engine.strokes == Strokes::Four && engine.compression_ratio.is_none();
    if side != ExhaustSide::Unknown && (!burns || breathes_alone && !driven.is_empty()) {
        return Err(LayoutError::NoCombustion);
    }
    if variables.len() > MAX_UNKNOWNS || belts > MOST_STAGES || driven.len() > MOST_STAGES {
        return Err(LayoutError::TooLarge);
    }
    Ok(variables)
}
