//! The numbers that a next step is made of, and those that need further solving.

use super::catalogue::Code;
use crate::air_path::{OutOfRange, Side};
use crate::exhaust::FlowLaw;
use crate::map::Region;
use crate::matching::GateState;

/// What else is known of a finding, for the advice. SI, pressures absolute unless named boost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Detail {
    /// Nothing else.
    None,
    /// What makes the manifold pressure.
    Boost(BoostSource),
    /// Peak cylinder pressure: the upper end of its spread, Pa, where that is known.
    Peak(Option<f64>),
    /// Water, kg/s, that could condense.
    Condensate(f64),
    /// What left the range of a core's correlation.
    Correlation {
        /// On which side.
        side: Side,
        /// What, and how far.
        out: OutOfRange,
    },
    /// There is no charge cooler, and one would help.
    NoCooler,
    /// Where the point lies with respect to a map.
    Map {
        /// The farther of the edges passed.
        region: Region,
        /// The nearer of two edges passed; `Inside` otherwise.
        also: Region,
        /// Below the lowest speed at a pressure ratio under 1.25, where little is at stake.
        low_end: bool,
    },
    /// Margins to surge.
    Surge {
        /// (m − m_surge)/m at the same speed.
        at_same_speed: f64,
    },
    /// A gate that is wide open.
    Gate {
        /// Share of the exhaust that it passes.
        share: f64,
    },
    /// The balance reported beside the second, whose manifold pressure is the value.
    OtherBalance {
        /// Absolute manifold pressure at the balance reported, Pa.
        here: f64,
        /// Brake power there, W.
        brake_power: Option<f64>,
        /// Brake power at the second, W.
        other_brake_power: Option<f64>,
        /// What the first turbine's gate does at the balance reported.
        gate: GateState,
        /// The same at the second.
        other_gate: GateState,
    },
    /// What the supercharger alone makes of the manifold, Pa.
    Band(SuperchargerAlone),
    /// What of the fuelling is fixed, and what would come out if the other were.
    Fuelling {
        /// What the build fixes.
        held: FixedFuelling,
        /// What the other gives.
        other: OtherFuelling,
    },
    /// Fuel asked for and fuel burned, kg per cylinder and working cycle.
    FuelCut {
        /// Asked for.
        asked: f64,
        /// Burned.
        burned: f64,
    },
    /// The turbine's flow law, its drive pressure, and that of the other law, Pa.
    FlowLaw {
        /// The law taken.
        law: FlowLaw,
        /// Drive pressure with it.
        drive_pressure: f64,
        /// Drive pressure with the other, where it was solved for.
        other: Option<f64>,
    },
    /// Clamp at one cylinder at the unfavourable end, N, and what would hold the minimum.
    Clamp {
        /// As it is.
        now: f64,
        /// As it would have to be.
        needed: f64,
        /// Peak pressure, Pa, that would do with the clamp as it is, where the build's limit stands for
        /// an estimate of the peak.
        allowed_peak: Option<f64>,
    },
    /// Flow of one injector over what it is now, that would bring the duty to its limit.
    InjectorFactor(f64),
    /// How near to knocking.
    Knock(KnockGrade),
    /// What is missing for brake power.
    Missing(MissingForPower),
    /// The limit that could not be checked.
    Unchecked(Code),
    /// Drive pressure over manifold pressure, and the ratio that the breathing was measured at.
    DriveRatio {
        /// As it is.
        now: f64,
        /// As measured.
        measured_at: f64,
    },
}

/// How near a charge is to knocking.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KnockGrade {
    /// What the fuel stands without much care.
    Easy,
    /// It takes care: spark, mixture, temperatures.
    Care,
    /// Mostly too much.
    TooMuch,
}

/// What is missing for brake power.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MissingForPower {
    /// No fuel.
    Fuel,
    /// No `[engine.combustion]`.
    Combustion,
    /// Nothing that tells the pressure behind the engine.
    Exhaust,
    /// A turbine whose compressor has a given ratio: the exhaust is not solved.
    DrivenTurbine,
    /// A supercharger with a given ratio: what drives it is unknown.
    Drive,
    /// The stroke, on which friction hangs.
    Stroke,
}

/// What makes the manifold pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoostSource {
    /// A gate, counted in exhaust order, that holds its limit.
    Gate(usize),
    /// The bypass of a stage that holds its pressure.
    Bypass(usize),
    /// A displacement machine that sets the flow, by its stage.
    Supercharger(usize),
    /// A turbocharger.
    Turbo {
        /// Its stage.
        stage: usize,
        /// Whether a gate is there, which is shut or wide open.
        has_gate: bool,
    },
    /// A given pressure ratio, or a supercharger that does not set the flow.
    Other,
}

/// What of the fuelling the build fixes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FixedFuelling {
    /// Air–fuel ratio or lambda: more air brings more fuel.
    Ratio,
    /// Fuel per stroke or fuel flow.
    Quantity,
}

/// What comes out where the other of ratio and quantity is fixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OtherFuelling {
    /// A match with this absolute manifold pressure, Pa.
    ManifoldPressure(f64),
    /// No match: it runs away.
    RunsAway,
}

/// What a match alone does not know and a study may have solved for. All absent by default: then
/// the findings that need them are left out or say less.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Extra {
    /// Per cent of manifold pressure per 1 % of fuel.
    pub steepness: Option<f64>,
    /// What the supercharger alone makes of the manifold.
    pub supercharger_alone: Option<SuperchargerAlone>,
    /// What comes out where the other of ratio and quantity is fixed.
    pub other_fuelling: Option<OtherFuelling>,
    /// Drive pressure of the first turbine under the other flow law, Pa.
    pub other_law_drive_pressure: Option<f64>,
}

/// Absolute manifold pressure that the supercharger alone makes, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SuperchargerAlone {
    /// With the turbocharger at rest, in the way of the air.
    pub at_rest: f64,
    /// With the turbocharger at a pressure ratio of 1.
    pub at_unity: f64,
}
