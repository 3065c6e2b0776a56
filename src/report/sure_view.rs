//! How sure a match is, as every writer sees it: what a step of each input does, and the band of
//! each answer. SI; a change of temperature is in K.

use serde::Serialize;

use super::words::regime;
use crate::input::Input;
use crate::matching::Layout;
use crate::quantity::Words;
use crate::study::{
    self, Answer, Answers, Band, Bands, COVERAGE, MatchAnswers, Method, SensitivityRow,
};

/// What one step of an input does.
#[derive(Debug, Clone, Serialize)]
pub struct SensitivityView {
    /// The input's key, in the words of `--set`.
    pub key: String,
    /// Its value as written.
    pub written: String,
    /// The step: `+1 %`, `+1 K`, or `+1 u`, one standard uncertainty.
    pub step: &'static str,
    /// What it does; empty where there is no match.
    pub changes: ChangesView,
    /// The largest change in units of importance; absent where there is no match.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub importance: Option<f64>,
    /// What has to be said beside the numbers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remarks: Vec<Words>,
}

/// Changes of the answers.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct ChangesView {
    /// Flow of moist air.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub air_mass_flow_kg_s: Option<f64>,
    /// Absolute manifold pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub manifold_pressure_pa: Option<f64>,
    /// Manifold pressure above the site's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub boost_pa: Option<f64>,
    /// Brake power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_w: Option<f64>,
    /// Ahead of the turbine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exhaust_temperature_k: Option<f64>,
    /// Pressure ahead of the turbine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drive_pressure_pa: Option<f64>,
    /// The smallest, at the same pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin: Option<f64>,
}

impl ChangesView {
    const fn new(changes: &Answers) -> Self {
        let [air, manifold, boost, power, temperature, drive, surge] = *changes;
        Self {
            air_mass_flow_kg_s: air,
            manifold_pressure_pa: manifold,
            boost_pa: boost,
            brake_power_w: power,
            exhaust_temperature_k: temperature,
            drive_pressure_pa: drive,
            surge_margin: surge,
        }
    }

    /// The change of one answer.
    pub const fn of(&self, answer: Answer) -> Option<f64> {
        match answer {
            Answer::AirMassFlow => self.air_mass_flow_kg_s,
            Answer::ManifoldPressure => self.manifold_pressure_pa,
            Answer::Boost => self.boost_pa,
            Answer::BrakePower => self.brake_power_w,
            Answer::ExhaustTemperature => self.exhaust_temperature_k,
            Answer::DrivePressure => self.drive_pressure_pa,
            Answer::SurgeMargin => self.surge_margin,
        }
    }
}

/// The bands of one match from all uncertain inputs together.
#[derive(Debug, Clone, Serialize)]
pub struct BandsView {
    /// Share of all cases that lie between `low` and `high`.
    pub coverage: f64,
    /// Uncertain inputs that move none of the answers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without_effect: Vec<String>,
    /// Samples solved for, where the linear band does not hold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub samples: Option<usize>,
    /// Those of them without a match.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub samples_without_match: Option<usize>,
    /// Flow of moist air.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub air_mass_flow_kg_s: Option<BandView>,
    /// Absolute manifold pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub manifold_pressure_pa: Option<BandView>,
    /// Manifold pressure above the site's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub boost_pa: Option<BandView>,
    /// Brake power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brake_power_w: Option<BandView>,
    /// Ahead of the turbine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exhaust_temperature_k: Option<BandView>,
    /// Pressure ahead of the turbine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drive_pressure_pa: Option<BandView>,
    /// The smallest, at the same pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin: Option<BandView>,
}

/// The band of one answer.
#[derive(Debug, Clone, Serialize)]
pub struct BandView {
    /// The answer with every input as written.
    pub value: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Standard uncertainty.
    pub standard_uncertainty: f64,
    /// `linear` or `sampled`.
    pub method: &'static str,
    /// Why the linear band does not hold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why_not_linear: Option<Words>,
    /// The input that contributes most, to first order.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mostly_from: Option<String>,
    /// Its share of the variance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mostly_share: Option<f64>,
}

impl BandsView {
    /// The view of bands. `keys` are the uncertain inputs.
    pub fn new(layout: &Layout, keys: &[String], now: &MatchAnswers, bands: &Bands) -> Self {
        let mut views = study::Answer::ALL.into_iter().enumerate().map(|(i, _)| {
            Some(band(
                layout,
                keys,
                now.answers[i]?,
                bands.bands[i].as_ref()?,
            ))
        });
        let mut next = || views.next().flatten();
        Self {
            coverage: COVERAGE,
            without_effect: (bands.without_effect.iter())
                .filter_map(|input| keys.get(*input).cloned())
                .collect(),
            samples: bands.sampled.map(|(tried, _)| tried),
            samples_without_match: bands.sampled.map(|(_, unsolved)| unsolved),
            air_mass_flow_kg_s: next(),
            manifold_pressure_pa: next(),
            boost_pa: next(),
            brake_power_w: next(),
            exhaust_temperature_k: next(),
            drive_pressure_pa: next(),
            surge_margin: next(),
        }
    }

    /// The band of one answer.
    pub const fn of(&self, answer: Answer) -> Option<&BandView> {
        match answer {
            Answer::AirMassFlow => self.air_mass_flow_kg_s.as_ref(),
            Answer::ManifoldPressure => self.manifold_pressure_pa.as_ref(),
            Answer::Boost => self.boost_pa.as_ref(),
            Answer::BrakePower => self.brake_power_w.as_ref(),
            Answer::ExhaustTemperature => self.exhaust_temperature_k.as_ref(),
            Answer::DrivePressure => self.drive_pressure_pa.as_ref(),
            Answer::SurgeMargin => self.surge_margin.as_ref(),
        }
    }
}

fn band(layout: &Layout, keys: &[String], value: f64, band: &Band) -> BandView {
    let (method, why_not_linear) = match &band.method {
        Method::Linear => ("linear", None),
        Method::Sampled(why) => ("sampled", Some(regime::not_linear(why, keys, layout))),
    };
    BandView {
        value,
        low: band.low,
        high: band.high,
        standard_uncertainty: band.standard_uncertainty,
        method,
        why_not_linear,
        mostly_from: band.mostly.and_then(|(input, _)| keys.get(input).cloned()),
        mostly_share: band.mostly.map(|(_, share)| share),
    }
}

/// The rows of the sensitivities, the most important first.
pub fn sensitivity(
    layout: &Layout,
    inputs: &[Input],
    rows: &[SensitivityRow],
) -> Vec<SensitivityView> {
    let view = |row: &SensitivityRow| {
        let input = inputs.get(row.input)?;
        let remarks = row.remarks.iter();
        Some(SensitivityView {
            key: input.key.clone(),
            written: input.written.clone(),
            step: regime::step(row.step, row.up),
            changes: ChangesView::new(&row.changes),
            importance: row.importance,
            remarks: remarks
                .map(|remark| regime::remark(row, remark, layout))
                .collect(),
        })
    };
    rows.iter().filter_map(view).collect()
}
