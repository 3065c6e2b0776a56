//! The band of each answer from all uncertain inputs together.
//!
//! First order (JCGM 100:2008, 5.1.2, eq. 10, inputs uncorrelated; the sensitivities by eq. in note 2
//! of 5.1.3): Z_i = ½ [f(x_i + u_i) − f(x_i − u_i)], u² = Σ Z_i², band y ± 1.96 u (95 % of a normal
//! distribution, table G.1). The band is believed only where re-solving bears it out:
//!
//! 1. every input at ±1 u and ±2 u, and all inputs together at ±2 u of the answer in the direction
//!    of its sensitivities (z_i = ±2 Z_i/u), have a match,
//! 2. they stand in the regime of the match itself,
//! 3. there the answer lies within 10 % of u (of 2 u) of what first order says.
//!
//! Elsewhere the band is that of a sampled run ([`super::sampled`]).

use rayon::prelude::*;

use super::answer::{ANSWERS, Answer, Answers, MatchAnswers, answers_near};
use super::regime::Change;
use super::sampled::{SampledSpread, Samples};
use super::sensitivity::ReadShifted;
use crate::input::{By, Input, Shift};
use crate::matching::{Installation, MatchError};

/// Share of all cases that a band covers.
pub const COVERAGE: f64 = 0.95;
/// Standard uncertainties to each side that cover it (JCGM 100:2008, table G.1).
pub const COVERAGE_FACTOR: f64 = 1.96;
/// Largest departure from first order, as a share of the band at the place looked at.
pub const LINEAR_WITHIN: f64 = 0.10;
/// An uncertainty below this share of the value is what the solver leaves (balances to 1e-9).
const NO_EFFECT: f64 = 1e-7;

/// Which inputs stand where, in standard uncertainties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MovedInputs {
    /// One input, by its place among the uncertain ones, alone.
    One(usize, f64),
    /// All inputs in the direction that moves this answer most, to so many of its uncertainties.
    Together(Answer, f64),
}

/// Why a band is not the linear one.
#[derive(Debug, Clone, PartialEq)]
pub enum NotLinear {
    /// The moved values do not fit each other.
    NotPermitted(MovedInputs),
    /// There is no match.
    NoMatch(MovedInputs, MatchError),
    /// The match stands in another regime.
    Regime(MovedInputs, Vec<Change>),
    /// The answer lies off the straight line by this share of the band.
    Bends(MovedInputs, f64),
    /// The answer does not exist everywhere.
    Absent(MovedInputs),
}

/// How a band was found.
#[derive(Debug, Clone, PartialEq)]
pub enum Method {
    /// First order holds.
    Linear,
    /// From samples, because first order does not hold.
    Sampled(NotLinear),
}

/// The band of one answer, SI.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Standard uncertainty; of samples their standard deviation.
    pub standard_uncertainty: f64,
    /// How it was found.
    pub method: Method,
    /// The uncertain input that contributes most by first order, and its share of the variance.
    pub mostly: Option<(usize, f64)>,
}

/// The bands of one match.
#[derive(Debug, Clone, PartialEq)]
pub struct Bands {
    /// Of each answer in the order of [`Answer::ALL`]; absent where the answer does not exist.
    pub bands: [Option<Band>; ANSWERS],
    /// The uncertain inputs that move none of the answers by 2 u to either side.
    pub without_effect: Vec<usize>,
    /// Samples tried and those without a match, where samples were needed.
    pub sampled: Option<(usize, usize)>,
}

/// What the bands of one build need at every speed.
pub struct InputSpread<'r> {
    read: &'r ReadShifted<'r>,
    /// Keys of the uncertain inputs.
    pub keys: Vec<String>,
    /// Of each input at −2, −1, 1, 2 u.
    singles: Vec<[Option<Installation>; 4]>,
    samples: Samples,
}

const SINGLES: [f64; 4] = [-2.0, -1.0, 1.0, 2.0];

impl<'r> InputSpread<'r> {
    /// Reads the build with each uncertain input moved; `None` without such an input. `samples` are
    /// drawn where they are needed.
    pub fn new(read: &'r ReadShifted<'r>, inputs: &[Input], samples: usize) -> Option<Self> {
        let uncertain = inputs.iter().filter(|input| input.is_uncertain);
        let keys: Vec<String> = uncertain.map(|input| input.key.clone()).collect();
        if keys.is_empty() {
            return None;
        }
        let single = |key: &String| {
            SINGLES.map(|count| {
                read(&[Shift {
                    key: key.clone(),
                    by: By::Uncertainties(count),
                }])
            })
        };
        Some(Self {
            singles: keys.iter().map(single).collect(),
            samples: Samples::new(samples),
            keys,
            read,
        })
    }

    /// The bands of the match at a speed in rpm.
    pub fn bands(&mut self, rpm: f64, now: &MatchAnswers) -> Bands {
        let first = self.first_order(rpm, now);
        let bad = first.not_linear.iter().zip(&now.answers);
        let needed = bad
            .into_iter()
            .any(|(bad, now)| bad.is_some() && now.is_some());
        let spread = needed.then(|| self.samples.spread(self.read, &self.keys, rpm, &now.place));
        let mut bands = [const { None }; ANSWERS];
        for (i, band) in bands.iter_mut().enumerate() {
            let Some(value) = now.answers[i] else {
                continue;
            };
            *band = match (&first.not_linear[i], &spread) {
                (Some(why), Some(spread)) => sampled(i, spread, why, first.mostly[i]),
                _ => first.uncertainty[i].map(|u| Band {
                    low: value - COVERAGE_FACTOR * u,
                    high: value + COVERAGE_FACTOR * u,
                    standard_uncertainty: u,
                    method: Method::Linear,
                    mostly: first.mostly[i],
                }),
            };
        }
        Bands {
            bands,
            without_effect: first.without_effect,
            sampled: spread.map(|spread| (spread.tried, spread.unsolved)),
        }
    }

    fn first_order(&self, rpm: f64, now: &MatchAnswers) -> FirstOrder {
        let tried: Vec<Vec<MovedMatch>> = self
            .singles
            .par_iter()
            .map(|moved| {
                moved
                    .iter()
                    .map(|installation| match_moved(installation.as_ref(), rpm, now))
                    .collect()
            })
            .collect();
        let mut first = FirstOrder::default();
        for i in 0..ANSWERS {
            first.sum(i, &tried);
        }
        for (input, moved_matches) in tried.iter().enumerate() {
            for (moved_match, count) in moved_matches.iter().zip(SINGLES) {
                first.check(moved_match, MovedInputs::One(input, count), now);
            }
            if moved_matches
                .iter()
                .all(|moved_match| is_unmoved(moved_match, now))
            {
                first.without_effect.push(input);
            }
        }
        if self.keys.len() > 1 && first.not_linear.iter().any(Option::is_none) {
            self.try_together(rpm, now, &mut first);
        }
        first
    }

    /// Holds the whole against re-solving where all inputs move together.
    fn try_together(&self, rpm: f64, now: &MatchAnswers, first: &mut FirstOrder) {
        let mut moved = Vec::new();
        for (i, answer) in Answer::ALL.into_iter().enumerate() {
            let u = match (first.uncertainty[i], now.answers[i]) {
                (Some(u), Some(value)) if u > NO_EFFECT * value.abs() => u,
                _ => continue,
            };
            if first.not_linear[i].is_some() {
                continue;
            }
            for count in [-2.0, 2.0] {
                let shift = |(key, effect): (&String, &Answers)| Shift {
                    key: key.clone(),
                    by: By::Uncertainties(count * effect[i].unwrap_or(0.0) / u),
                };
                let shifts: Vec<Shift> = self.keys.iter().zip(&first.effects).map(shift).collect();
                moved.push((MovedInputs::Together(answer, count), (self.read)(&shifts)));
            }
        }
        let moved_matches: Vec<(MovedInputs, MovedMatch)> = moved
            .par_iter()
            .map(|(place, installation)| (*place, match_moved(installation.as_ref(), rpm, now)))
            .collect();
        for (place, moved_match) in &moved_matches {
            first.check(moved_match, *place, now);
        }
    }
}

/// One re-solved match; `None` where the values are not permitted.
type MovedMatch = Option<Result<MatchAnswers, MatchError>>;

fn match_moved(installation: Option<&Installation>, rpm: f64, now: &MatchAnswers) -> MovedMatch {
    installation.map(|installation| answers_near(installation, rpm, &now.place))
}

/// First order at one speed.
#[derive(Default)]
struct FirstOrder {
    /// Of each input, its effect on each answer: Z_i.
    effects: Vec<Answers>,
    /// Of each answer its standard uncertainty.
    uncertainty: Answers,
    mostly: [Option<(usize, f64)>; ANSWERS],
    not_linear: [Option<NotLinear>; ANSWERS],
    without_effect: Vec<usize>,
}

/// Whether a re-solved match is the match itself, to what the solver leaves.
fn is_unmoved(moved_match: &MovedMatch, now: &MatchAnswers) -> bool {
    let Some(Ok(looked)) = moved_match else {
        return false;
    };
    let is_same = |pair: (&Option<f64>, &Option<f64>)| match pair {
        (Some(now), Some(found)) => (found - now).abs() <= NO_EFFECT * now.abs(),
        (now, found) => now.is_none() && found.is_none(),
    };
    let mut pairs = now.answers.iter().zip(&looked.answers);
    looked.regime == now.regime && pairs.all(is_same)
}

impl FirstOrder {
    /// u² = Σ Z_i² of one answer; nothing where a side is missing.
    fn sum(&mut self, i: usize, tried: &[Vec<MovedMatch>]) {
        self.effects.resize(tried.len(), [None; ANSWERS]);
        let value = |moved_match: &MovedMatch| match moved_match {
            Some(Ok(looked)) => looked.answers[i],
            _ => None,
        };
        let mut variance = Some(0.0);
        let mut most: Option<(usize, f64)> = None;
        for (input, moved_matches) in tried.iter().enumerate() {
            let effect = match (value(&moved_matches[1]), value(&moved_matches[2])) {
                (Some(below), Some(above)) => Some(0.5 * (above - below)),
                _ => None,
            };
            self.effects[input][i] = effect;
            variance = variance.zip(effect).map(|(sum, z)| sum + z * z);
            if let Some(z) = effect
                && most.is_none_or(|(_, largest)| z * z > largest)
            {
                most = Some((input, z * z));
            }
        }
        self.uncertainty[i] = variance.map(f64::sqrt);
        self.mostly[i] = variance
            .zip(most)
            .filter(|(variance, _)| *variance > 0.0)
            .map(|(variance, (input, largest))| (input, largest / variance));
    }

    /// Notes what speaks against first order at one place; the first reason of each answer stays.
    fn check(&mut self, moved_match: &MovedMatch, place: MovedInputs, now: &MatchAnswers) {
        let looked = match moved_match {
            None => return self.all(&NotLinear::NotPermitted(place)),
            Some(Err(fault)) => return self.all(&NotLinear::NoMatch(place, *fault)),
            Some(Ok(looked)) => looked,
        };
        let changes = now.regime.changes_to(&looked.regime);
        if !changes.is_empty() {
            return self.all(&NotLinear::Regime(place, changes));
        }
        for i in 0..ANSWERS {
            if self.not_linear[i].is_some() {
                continue;
            }
            self.not_linear[i] = match (now.answers[i], looked.answers[i]) {
                (None, _) => None,
                (Some(_), None) => Some(NotLinear::Absent(place)),
                (Some(now), Some(found)) => self.bend(i, place, now, found),
            };
        }
    }

    fn all(&mut self, why: &NotLinear) {
        for reason in &mut self.not_linear {
            reason.get_or_insert_with(|| why.clone());
        }
    }

    fn bend(&self, i: usize, place: MovedInputs, now: f64, found: f64) -> Option<NotLinear> {
        let u = self.uncertainty[i]?;
        if u <= NO_EFFECT * now.abs() {
            return None;
        }
        let (count, expected) = match place {
            MovedInputs::One(input, count) => (count, now + count * self.effects[input][i]?),
            MovedInputs::Together(answer, count) => {
                // Along this answer's own direction alone first order has a figure at hand.
                if Answer::ALL[i] != answer {
                    return None;
                }
                (count, now + count * u)
            }
        };
        let share = (found - expected).abs() / (count.abs() * u);
        (share > LINEAR_WITHIN).then_some(NotLinear::Bends(place, share))
    }
}

/// The band of one answer from samples; none where fewer than two have it.
fn sampled(
    i: usize,
    spread: &SampledSpread,
    why: &NotLinear,
    mostly: Option<(usize, f64)>,
) -> Option<Band> {
    let (low, high, standard_uncertainty) = spread.of(i, COVERAGE)?;
    Some(Band {
        low,
        high,
        standard_uncertainty,
        method: Method::Sampled(why.clone()),
        mostly,
    })
}
