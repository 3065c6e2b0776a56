//! Solving an installation at one speed after the other.

use super::equations::Equations;
use super::equilibrium::{self, Equilibrium, PowerPoint};
use super::error::{LayoutError, MatchError};
use super::installation::Installation;
use super::layout::Layout;
use super::neighbour::Neighbour;
use super::outcome::{Match, OtherBalance};
use super::to_match::write_match;
use super::variables::Variable;
use crate::engine::Strokes;
use crate::gas::Gas;

/// An installation made ready to be matched at any speed.
#[derive(Debug)]
pub struct Solver<'a> {
    equations: Equations<'a>,
}

/// Share of the fuel that steepness is asked with: small against any bend of the line, large
/// against what a solution leaves.
const LITTLE_FUEL: f64 = 1e-3;

/// A match that leaves more than this of a balance, relative, is none.
const LEFT_OPEN: f64 = 1e-8;
/// Two solutions of one balance agree to this, relative: each is met to 1e-9, and a flow can be a
/// hundred times steeper.
const SAME: f64 = 1e-6;

impl<'a> Solver<'a> {
    /// Counts the unknowns of an installation.
    pub fn new(installation: &'a Installation) -> Result<Self, LayoutError> {
        Ok(Self {
            equations: Equations::new(installation)?,
        })
    }

    /// The names of everything in a match.
    pub fn layout(&self) -> &Layout {
        &self.equations.setup.layout
    }

    /// What is matched.
    pub fn installation(&self) -> &'a Installation {
        self.equations.setup.installation
    }

    /// The air at the site as a gas.
    pub fn gas(&self) -> &Gas {
        &self.equations.setup.gas
    }

    /// Multiplies the fuel of every following match.
    pub fn set_fuel_factor(&mut self, factor: f64) {
        self.equations.setup.fuel_factor = factor;
    }

    /// The match at an engine speed in rpm: the first stable equilibrium from rest, or the
    /// boost limit, whichever comes first. Fills `out` and returns where it stood.
    pub fn solve(&mut self, rpm: f64, out: &mut Match) -> Result<Neighbour, MatchError> {
        self.equations.start_at(rpm)?;
        let found = equilibrium::from_rest(&mut self.equations)?;
        self.finish(&found, out)
    }

    /// The match at an engine speed in rpm on the same branch as a neighbour's ([`Solver::follow`]);
    /// where that cannot be followed, the one that the shaft reaches from there ([`Solver::reach`]).
    pub fn solve_near(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Result<Neighbour, MatchError> {
        match self.follow(rpm, neighbour, out) {
            Some(place) => Ok(place),
            None => self.reach(rpm, neighbour, out),
        }
    }

    /// The match at an engine speed in rpm on the same branch as a neighbour's; `None` where that
    /// branch cannot be followed so far, is no longer stable there, or a gate changes beyond
    /// recognition. A small step along a smooth branch always can.
    pub fn follow(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Option<Neighbour> {
        self.equations.start_from(rpm, neighbour).ok()?;
        let found = equilibrium::from_neighbour(&mut self.equations, &neighbour.trial)?;
        self.finish(&found, out).ok()
    }

    /// The match at an engine speed in rpm that the shaft of the first turbine reaches when it is let
    /// go as fast as a neighbour's turned: it gains speed while the turbine gives more than the
    /// compressor takes and loses it while less, with each gate as its boost asks. Fails where it runs
    /// to an end of what can be balanced.
    pub fn reach(
        &mut self,
        rpm: f64,
        neighbour: &Neighbour,
        out: &mut Match,
    ) -> Result<Neighbour, MatchError> {
        self.equations.start_at(rpm)?;
        let found = equilibrium::reached_from(&mut self.equations, &neighbour.trial)?;
        self.finish(&found, out)
    }

    /// How far two states of this installation lie apart: the largest difference of the logarithms
    /// of flows and pressures and of the turbos' speeds over the top speeds of their maps.
    pub fn distance(&self, one: &Neighbour, other: &Neighbour) -> f64 {
        let pairs = one.trial.x.iter().zip(other.trial.x);
        let differences = self.equations.setup.variables.iter().zip(pairs);
        differences
            .filter(|(variable, _)| {
                !matches!(variable, Variable::Place { .. } | Variable::Gate { .. })
            })
            .fold(0.0, |largest, (_, (one, other))| {
                (one - other).abs().max(largest)
            })
    }

    /// Every stable balance at an engine speed in rpm, rising in the first turbo's speed; empty
    /// without a turbine that drives.
    pub fn balances(&mut self, rpm: f64) -> Result<Vec<Match>, MatchError> {
        self.equations.start_at(rpm)?;
        let survey = equilibrium::survey(&mut self.equations)?;
        let mut all = Vec::with_capacity(survey.stable.len());
        for (_, trial) in &survey.stable {
            let mut out = Match::default();
            if self.finish(&Equilibrium::at(*trial), &mut out).is_ok() {
                all.push(out);
            }
        }
        Ok(all)
    }

    /// Fills in the other stable balances at a match's speed.
    pub fn find_others(&mut self, found: &mut Match) {
        let Some(stage) = self
            .equations
            .setup
            .driven
            .first()
            .map(|driven| driven.stage)
        else {
            return;
        };
        let is_another = |one: &Match| {
            let same = |a: f64, b: f64| (a - b).abs() <= SAME * b.abs();
            !(same(one.air_mass_flow, found.air_mass_flow)
                && same(
                    one.stages[stage].pressure_ratio,
                    found.stages[stage].pressure_ratio,
                ))
        };
        // A match that was found stands; what else could not be looked for is not told of.
        let all = self.balances(found.rpm).unwrap_or_default();
        let others: Vec<OtherBalance> = (all.iter().filter(|one| is_another(one)))
            .map(|one| OtherBalance {
                pressure_ratio: one.stages[stage].pressure_ratio,
                manifold_pressure: one.manifold_pressure,
                air_mass_flow: one.air_mass_flow,
                brake_power: one.engine.brake_power,
                gate: one.turbines[0].gate,
            })
            .collect();
        found.others = others;
    }

    /// The state at an engine speed in rpm with every turbo held at rest and every gate shut; its
    /// power balances stay open, as `residuals.power` of a match never is. Without a turbo it is the
    /// match itself.
    pub fn at_rest(&mut self, rpm: f64, out: &mut Match) -> Result<(), MatchError> {
        self.equations.start_at(rpm)?;
        let found = equilibrium::at_rest(&mut self.equations)?;
        self.finish(&found, out).map(|_| ())
    }

    /// Percent of manifold pressure per 1 % of fuel at a match: both sides are followed by a
    /// thousandth of the fuel. `None` where no turbine is driven, or where the branch ends within that.
    pub fn steepness(&mut self, rpm: f64, at: &Neighbour) -> Option<f64> {
        if self.equations.setup.driven.is_empty() {
            return None;
        }
        let factor = self.equations.setup.fuel_factor;
        let more = self.manifold_with(rpm, factor * (1.0 + LITTLE_FUEL), at);
        let less = self.manifold_with(rpm, factor * (1.0 - LITTLE_FUEL), at);
        self.equations.setup.fuel_factor = factor;
        self.equations.work.evaluated = None;
        let (more, less) = (more?, less?);
        Some((more - less) / (0.5 * (more + less)) / (2.0 * LITTLE_FUEL))
    }

    /// Manifold pressure in Pa with another fuel, on the branch of a neighbour.
    fn manifold_with(&mut self, rpm: f64, fuel_factor: f64, at: &Neighbour) -> Option<f64> {
        self.equations.start_from(rpm, at).ok()?;
        self.equations.setup.fuel_factor = fuel_factor;
        let found = equilibrium::from_neighbour(&mut self.equations, &at.trial)?;
        if !self.equations.evaluate_at(&found.trial) {
            return None;
        }
        self.equations
            .work
            .record
            .manifold
            .map(|state| state.pressure)
    }

    /// What the first turbine gives beyond what its compressor takes, along the climb from rest:
    /// `count` equal steps, each solved by itself, ending early where that cannot be done or one
    /// step beyond the boost limit. Empty without a turbo.
    pub fn power_curve(&mut self, rpm: f64, count: u32) -> Result<Vec<PowerPoint>, MatchError> {
        self.equations.start_at(rpm)?;
        equilibrium::power_curve(&mut self.equations, count)
    }

    /// Writes an equilibrium out, and says where it stands.
    fn finish(&mut self, found: &Equilibrium, out: &mut Match) -> Result<Neighbour, MatchError> {
        if !self.equations.evaluate_at(&found.trial) {
            return Err(MatchError::Unsettled {
                flow: found.trial.x[0].exp(),
                residual: None,
            });
        }
        if let Some((manifold, exhaust)) = self.no_scavenging() {
            return Err(MatchError::NoScavenging { manifold, exhaust });
        }
        write_match(&self.equations, found, out);
        let residual = out.residuals.largest();
        if residual.is_nan() || residual > LEFT_OPEN {
            return Err(MatchError::Unsettled {
                flow: found.trial.x[0].exp(),
                residual: residual.is_finite().then_some(residual),
            });
        }
        let place = self.equations.neighbour(found.trial);
        out.place = Some(place);
        Ok(place)
    }

    /// Manifold and exhaust pressure, Pa, of a two-stroke through which nothing is driven.
    fn no_scavenging(&self) -> Option<(f64, f64)> {
        let setup = &self.equations.setup;
        if setup.installation.engine.strokes != Strokes::Two || !setup.knows_exhaust() {
            return None;
        }
        let record = &self.equations.work.record;
        let manifold = record.manifold?.pressure;
        let exhaust = match record.turbines.first() {
            Some(turbine) => turbine.inlet_pressure,
            None => record.outlet?.0,
        };
        (manifold <= exhaust).then_some((manifold, exhaust))
    }
}
