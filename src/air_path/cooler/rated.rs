//! A cooler from one measured or published point, carried to other flows.
//!
//! The point gives UA; 1/UA = 1/hA_charge + 1/hA_sink (the wall left out), and each hA grows with
//! a power of its own mass flow: Nu ∝ Re^n gives h ∝ m^n (any textbook of heat transfer). The
//! change of properties with temperature is left out. How the resistance divides between the sides
//! at the rated point is not in the point: it is given or taken from practice.

use super::effectiveness::{Arrangement, Capacities};
use super::fluid::Fluid;
use super::sink::SinkFluid;
use crate::gas::{GasError, HumidAir};

/// What is known of the rated point: which of three figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RatedFigure {
    /// (T_in − T_out)/(T_in − T_sink) of the charge.
    Effectiveness(f64),
    /// Heat, W.
    Heat(f64),
    /// Temperature of the charge where it leaves, K.
    ChargeOutlet(f64),
}

/// A measured or published point, with dry air as the charge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedPoint {
    /// How the flows pass each other.
    pub arrangement: Arrangement,
    /// Air or water.
    pub sink: SinkFluid,
    /// Mass flow of the charge, kg/s.
    pub charge_flow: f64,
    /// Mass flow of the sink, kg/s.
    pub sink_flow: f64,
    /// Temperature of the charge where it enters, K.
    pub charge_inlet: f64,
    /// Temperature of the sink where it enters, K.
    pub sink_inlet: f64,
    /// The figure.
    pub figure: RatedFigure,
    /// Share of the thermal resistance that lies on the sink's side, between 0 and 1.
    pub sink_share: f64,
    /// Exponents of the conductances over the mass flow: charge, sink.
    pub exponents: (f64, f64),
}

/// Why a rated point is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RatedError {
    /// A temperature leaves the gas's range.
    Gas(GasError),
    /// No exchanger of any size does that at these flows: what it would need, and the most there is,
    /// as effectiveness of the charge side.
    OutOfReach {
        /// What it would need.
        needed: f64,
        /// The most there is.
        most: f64,
    },
}

impl From<GasError> for RatedError {
    fn from(error: GasError) -> Self {
        Self::Gas(error)
    }
}

/// hA of one side: that at a flow, growing with a power of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideConductance {
    /// hA, W/K, at that flow.
    pub conductance: f64,
    /// The flow, kg/s.
    pub at_flow: f64,
    /// Exponent of the flow.
    pub exponent: f64,
}

impl SideConductance {
    /// hA in W/K at a mass flow in kg/s.
    pub fn at(&self, mass_flow: f64) -> f64 {
        self.conductance * (mass_flow / self.at_flow).powf(self.exponent)
    }

    /// As many of it side by side, each with its part of the flow.
    pub(super) fn beside(self, count: f64) -> Self {
        Self {
            conductance: self.conductance * count,
            at_flow: self.at_flow * count,
            ..self
        }
    }

    /// As much more of it one after the other.
    pub(super) fn behind(self, count: f64) -> Self {
        Self {
            conductance: self.conductance * count,
            ..self
        }
    }
}

/// A cooler from its rated point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rated {
    /// How the flows pass each other.
    pub arrangement: Arrangement,
    /// The charge's side.
    pub charge: SideConductance,
    /// The sink's side.
    pub sink: SideConductance,
}

impl Rated {
    /// From a point: UA by the inverse of ε(NTU), divided between the sides.
    pub fn new(point: &RatedPoint) -> Result<Self, RatedError> {
        let gas = HumidAir::dry().gas();
        let (t_in, t_sink) = (point.charge_inlet, point.sink_inlet);
        let (h_in, h_sink) = (gas.enthalpy(t_in)?, gas.enthalpy(t_sink)?);
        let heat = match point.figure {
            RatedFigure::Heat(heat) => heat,
            RatedFigure::ChargeOutlet(t) => point.charge_flow * (h_in - gas.enthalpy(t)?),
            RatedFigure::Effectiveness(e) => {
                let t = t_in - e * (t_in - t_sink);
                point.charge_flow * (h_in - gas.enthalpy(t)?)
            }
        };
        let charge_capacity = point.charge_flow * (h_in - h_sink) / (t_in - t_sink);
        let sink_capacity = point.sink_flow
            * match point.sink {
                SinkFluid::Air => gas.cp(t_sink)?,
                SinkFluid::Water => Fluid::water(t_sink).heat_capacity,
            };
        let flows = Capacities::new(charge_capacity, sink_capacity);
        let effectiveness = heat / (flows.smaller * (t_in - t_sink));
        let out_of_reach = RatedError::OutOfReach {
            needed: heat / (charge_capacity * (t_in - t_sink)),
            most: flows.charge_limit()
                * point
                    .arrangement
                    .effectiveness(f64::INFINITY, flows.ratio, flows.side),
        };
        let units = (point.arrangement)
            .transfer_units(effectiveness, flows.ratio, flows.side)
            .ok_or(out_of_reach)?;
        let conductance = units * flows.smaller;
        let side = |share: f64, at_flow: f64, exponent: f64| SideConductance {
            conductance: conductance / share,
            at_flow,
            exponent,
        };
        Ok(Self {
            arrangement: point.arrangement,
            charge: side(1.0 - point.sink_share, point.charge_flow, point.exponents.0),
            sink: side(point.sink_share, point.sink_flow, point.exponents.1),
        })
    }

    /// UA in W/K at mass flows of charge and sink in kg/s; 0 where either stands.
    pub fn conductance(&self, charge_flow: f64, sink_flow: f64) -> f64 {
        self.conductance_with(charge_flow, self.sink.at(sink_flow))
    }

    /// UA in W/K at a charge flow in kg/s and the sink side's hA in W/K.
    pub(super) fn conductance_with(&self, charge_flow: f64, sink: f64) -> f64 {
        let charge = self.charge.at(charge_flow);
        if charge <= 0.0 || sink <= 0.0 {
            return 0.0;
        }
        1.0 / (1.0 / charge + 1.0 / sink)
    }
}
