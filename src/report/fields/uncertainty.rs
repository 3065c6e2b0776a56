//! How sure a match is: what a step of each input does, and the band of each answer.

use super::rows::{fields, filled};
use crate::input::Input;
use crate::matching::Layout;
use crate::quantity::{Kind, Words};
use crate::report::words::regime;
use crate::study::{Answer, Answers, Band, Bands, COVERAGE, MatchAnswers, Method, SensitivityRow};

/// What one step of an input does, in words where it has to be said.
#[derive(Debug, Clone)]
pub struct Sensitivity {
    /// The input's key, as `--set` takes it.
    pub key: String,
    /// Its value as written.
    pub written: String,
    /// `+1 %`, `+1 K`, or `+1 u`, one standard uncertainty.
    pub step: &'static str,
    /// Change of each answer, SI.
    pub changes: Changes,
    /// The largest change in units of importance.
    pub importance: Option<f64>,
    /// What has to be said beside the numbers.
    pub remarks: Vec<Words>,
}

/// Changes of the answers, in their order.
#[derive(Debug, Clone, Copy)]
pub struct Changes(pub Answers);

impl Changes {
    /// The change of one answer.
    pub const fn of(&self, answer: Answer) -> Option<f64> {
        self.0[answer as usize]
    }
}

/// The bands of one match from all uncertain inputs together.
#[derive(Debug, Clone)]
pub struct BandsOfMatch {
    /// Uncertain inputs that move none of the answers.
    pub without_effect: Vec<String>,
    /// Samples solved and those without a match, where the linear band does not hold.
    pub sampled: Option<(usize, usize)>,
    /// The band of each answer, in their order.
    bands: Vec<Option<BandOfAnswer>>,
}

/// The band of one answer, with the keys of the inputs.
#[derive(Debug, Clone)]
pub struct BandOfAnswer {
    /// The answer with every input as written.
    pub value: f64,
    /// Its band.
    pub band: Band,
    /// Why the linear band does not hold.
    pub why_not_linear: Option<Words>,
    /// The input that contributes most, to first order.
    pub mostly_from: Option<String>,
}

fields! {
Sensitivity {
    key = text "input",
        "Key of the input, as used with --set." |s| s.key.clone();
    written = text "as built",
        "Its value as written in the build." |s| s.written.clone();
    step = text "step",
        "+1 %, +1 K, or +1 u: one standard uncertainty; - where only a step down has a match."
        |s| s.step;
    changes = one "changes",
        "Change of each result; empty where the step has no match." |s| s.changes;
    importance ? Number "importance",
        "Largest change in units of 1 % of flow, pressure or power, 10 K of exhaust temperature, 1 point of surge margin."
        |s| s.importance;
    remarks ? texts "remarks",
        "Notes on the numbers." |s| filled(s.remarks.iter().map(ToString::to_string).collect());
}

Changes {
    air_mass_flow_kg_s ? MassFlow "air",
        "Change of the air flow." |c| c.of(Answer::AirMassFlow);
    manifold_pressure_pa ? PressureDifference "manifold pressure" / "manifold\npressure",
        "Change of the manifold pressure." |c| c.of(Answer::ManifoldPressure);
    boost_pa ? PressureDifference "boost",
        "Change of the manifold pressure above the site's." |c| c.of(Answer::Boost);
    brake_power_w ? Power "brake power" / "brake\npower",
        "Change of the brake power." |c| c.of(Answer::BrakePower);
    exhaust_temperature_k ? TemperatureDifference "exhaust temperature" / "exhaust\ntemperature",
        "Change of the temperature at the turbine inlet." |c| c.of(Answer::ExhaustTemperature);
    drive_pressure_pa ? PressureDifference "drive pressure" / "drive\npressure",
        "Change of the pressure at the turbine inlet." |c| c.of(Answer::DrivePressure);
    surge_margin ? Share "surge margin" / "surge\nmargin",
        "Change of the smallest surge margin at the same pressure ratio."
        |c| c.of(Answer::SurgeMargin);
}

BandsOfMatch {
    coverage = Share "coverage",
        "Share of all cases that lie between low and high." |_b| COVERAGE;
    without_effect ? texts "without effect",
        "Uncertain inputs that move none of the results." |b| filled(b.without_effect.clone());
    samples ? count "samples",
        "Draws of all uncertain inputs, each solved, where the linear band does not hold."
        |b| Some(b.sampled?.0);
    samples_without_match ? count "samples without match",
        "Draws that have no match; they are not in the bands." |b| Some(b.sampled?.1);
    air_mass_flow_kg_s ? one "air",
        "Band of the air flow, kg/s." |b| b.of(Answer::AirMassFlow).cloned();
    manifold_pressure_pa ? one "manifold pressure",
        "Band of the absolute manifold pressure, Pa." |b| b.of(Answer::ManifoldPressure).cloned();
    boost_pa ? one "boost",
        "Band of the manifold pressure above the site's, Pa." |b| b.of(Answer::Boost).cloned();
    brake_power_w ? one "brake power",
        "Band of the brake power, W." |b| b.of(Answer::BrakePower).cloned();
    exhaust_temperature_k ? one "exhaust temperature",
        "Band of the temperature at the turbine inlet, K."
        |b| b.of(Answer::ExhaustTemperature).cloned();
    drive_pressure_pa ? one "drive pressure",
        "Band of the absolute pressure at the turbine inlet, Pa."
        |b| b.of(Answer::DrivePressure).cloned();
    surge_margin ? one "surge margin",
        "Band of the smallest surge margin at the same pressure ratio."
        |b| b.of(Answer::SurgeMargin).cloned();
}

BandOfAnswer {
    value = Number "value",
        "The result with every input as written, in the unit of its key." |b| b.value;
    low = Number "low",
        "Lower end of the band." |b| b.band.low;
    high = Number "high",
        "Upper end of the band." |b| b.band.high;
    standard_uncertainty = Number "standard uncertainty" / "standard\nuncertainty",
        "Standard uncertainty of the result (GUM, law of propagation), or of samples their deviation."
        |b| b.band.standard_uncertainty;
    method = text "method",
        "linear: first order; sampled: Latin hypercube samples, each solved."
        |b| match b.band.method {
            Method::Linear => "linear",
            Method::Sampled(_) => "sampled",
        };
    why_not_linear ? text "why not linear",
        "Why the linear band does not hold." |b| b.why_not_linear.as_ref().map(ToString::to_string);
    mostly_from ? text "mainly due to",
        "The input that contributes most, to first order." |b| b.mostly_from.clone();
    mostly_share ? Share "share",
        "Its share of the variance." |b| Some(b.band.mostly?.1);
}
}

impl BandsOfMatch {
    /// The bands of a match, in words where needed. `keys` are the uncertain inputs.
    pub fn new(layout: &Layout, keys: &[String], now: &MatchAnswers, bands: &Bands) -> Self {
        let key = |input: usize| keys.get(input).cloned();
        let of = |(value, band): (&Option<f64>, &Option<Band>)| {
            let (value, band) = ((*value)?, band.clone()?);
            Some(BandOfAnswer {
                value,
                why_not_linear: match &band.method {
                    Method::Linear => None,
                    Method::Sampled(why) => Some(regime::not_linear(why, keys, layout)),
                },
                mostly_from: band.mostly.and_then(|(input, _)| key(input)),
                band,
            })
        };
        let without = bands.without_effect.iter();
        Self {
            without_effect: without.filter_map(|input| key(*input)).collect(),
            sampled: bands.sampled,
            bands: now.answers.iter().zip(&bands.bands).map(of).collect(),
        }
    }

    /// The band of one answer.
    pub fn of(&self, answer: Answer) -> Option<&BandOfAnswer> {
        self.bands.get(answer as usize)?.as_ref()
    }
}

/// The rows of the sensitivities, the most important first.
pub fn sensitivity(layout: &Layout, inputs: &[Input], rows: &[SensitivityRow]) -> Vec<Sensitivity> {
    let told = |row: &SensitivityRow| {
        let input = inputs.get(row.input)?;
        let remarks = row.remarks.iter();
        Some(Sensitivity {
            key: input.key.clone(),
            written: input.written.clone(),
            step: regime::step(row.step, row.up),
            changes: Changes(row.changes),
            importance: row.importance,
            remarks: remarks
                .map(|remark| regime::remark(row, remark, layout))
                .collect(),
        })
    };
    rows.iter().filter_map(told).collect()
}

/// The kind of an answer itself; its row in [`Changes`] has that of a change.
pub const fn kind(answer: Answer) -> Kind {
    match answer {
        Answer::AirMassFlow => Kind::MassFlow,
        Answer::ManifoldPressure | Answer::DrivePressure => Kind::AbsolutePressure,
        Answer::Boost => Kind::BoostPressure,
        Answer::BrakePower => Kind::Power,
        Answer::ExhaustTemperature => Kind::Temperature,
        Answer::SurgeMargin => Kind::Share,
    }
}
