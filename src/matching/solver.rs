//! An installation made ready to be matched: gas, names and variables are fixed once.

use super::error::{LayoutError, MatchError};
use super::layout::{ExhaustSide, Layout};
use super::outcome::Match;
use super::record::Record;
use super::variables::{MOST, Trial, Variable};
use super::{Installation, climb, fill};
use crate::air_path::{AirState, CompressorPerformance, Part, SuperchargerKind};
use crate::exhaust::TurbineEfficiency;
use crate::gas::{Gas, HumidAir, Moles};
use crate::numeric::newton::MAX_UNKNOWNS;

/// An installation made ready to be matched at any speed.
#[derive(Debug)]
pub struct Solver<'a> {
    pub(super) installation: &'a Installation,
    pub(super) layout: Layout,
    pub(super) gas: Gas,
    pub(super) moles: Moles,
    pub(super) dry_share: f64,
    pub(super) ambient: AirState,
    pub(super) variables: Vec<Variable>,
    /// By turbine: the part that it drives.
    pub(super) driven: Vec<usize>,
    pub(super) record: Record,
    /// Multiplies the fuel; 1 but for asking what a little more would do.
    pub(super) fuel_factor: f64,
    /// Engine speed of the current trial, rpm.
    pub(super) rpm: f64,
}

/// Where a neighbouring match stood, to start the next from.
#[derive(Debug, Clone, Copy)]
pub struct Neighbour {
    pub(super) trial: Trial,
}

impl<'a> Solver<'a> {
    /// Counts the unknowns of an installation.
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
        Ok(Self {
            installation,
            layout: Layout::new(&installation.air_path, side),
            gas,
            moles: air.moles_per_dry_kilogram(),
            dry_share: air.dry_share(),
            ambient,
            variables,
            driven,
            record: Record::default(),
            fuel_factor: 1.0,
            rpm: f64::NAN,
        })
    }

    /// The names of everything in a match.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// What is matched.
    pub fn installation(&self) -> &'a Installation {
        self.installation
    }

    /// The air at the site as a gas.
    pub fn gas(&self) -> &Gas {
        &self.gas
    }

    /// Multiplies the fuel of every following match.
    pub fn set_fuel_factor(&mut self, factor: f64) {
        self.fuel_factor = factor;
    }

    /// The match at an engine speed in rpm: the first stable balance climbing from rest, or the
    /// boost limit, whichever comes first. Fills `out` and returns where it stood.
    pub fn solve(&mut self, rpm: f64, out: &mut Match) -> Result<Neighbour, MatchError> {
        self.start(rpm)?;
        let found = climb::from_rest(self)?;
        fill::fill(self, &found, out);
        Ok(Neighbour { trial: found.trial })
    }

    /// The match at an engine speed in rpm on the same branch as a neighbour's; where that branch
    /// ends or a gate or bypass changes beyond recognition, as [`Solver::solve`].
    pub fn solve_near(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Result<Neighbour, MatchError> {
        self.start(rpm)?;
        match climb::from_neighbour(self, &neighbour.trial) {
            Some(found) => {
                fill::fill(self, &found, out);
                Ok(Neighbour { trial: found.trial })
            }
            None => self.solve(rpm, out),
        }
    }

    /// Per cent of manifold pressure per per cent of fuel at a match, by solving again with a
    /// thousandth more and less fuel; `None` where no turbine is driven or one of them has no match.
    pub fn steepness(&mut self, rpm: f64, at: &Neighbour) -> Option<f64> {
        if self.driven.is_empty() {
            return None;
        }
        let mut pressure = |factor: f64| {
            self.fuel_factor = factor;
            self.rpm = rpm;
            let found = climb::from_neighbour(self, &at.trial);
            self.fuel_factor = 1.0;
            let mut out = Match::default();
            fill::fill(self, &found?, &mut out);
            Some(out.manifold_pressure)
        };
        let (more, less) = (pressure(1.001)?, pressure(0.999)?);
        Some((more / less).ln() / (1.001_f64 / 0.999).ln())
    }

    fn start(&mut self, rpm: f64) -> Result<(), MatchError> {
        if !(rpm.is_finite() && rpm > 0.0) {
            return Err(MatchError::Speed { rpm });
        }
        self.rpm = rpm;
        Ok(())
    }

    /// The place of a variable in a trial.
    pub(super) fn index(&self, wanted: Variable) -> Option<usize> {
        self.variables
            .iter()
            .position(|variable| *variable == wanted)
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
        if matches!(described.efficiency, TurbineEfficiency::BladeSpeed { .. }) && !has_speed {
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
    if side != ExhaustSide::Unknown && !burns {
        return Err(LayoutError::NoCombustion);
    }
    if variables.len() > MAX_UNKNOWNS || belts > MOST || driven.len() > MOST {
        return Err(LayoutError::TooLarge);
    }
    Ok(variables)
}
