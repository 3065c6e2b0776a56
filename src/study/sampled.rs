//! Bands by sampling: every uncertain input drawn from its normal distribution, every draw solved.

use rayon::prelude::*;

use super::answer::{Answers, answers_at, answers_near};
use super::sensitivity::ReadShifted;
use crate::input::{By, Shift};
use crate::matching::{Installation, Neighbour};
use crate::numeric::sample::{latin_normals, quantile};

/// Seed of the draws, one for every run, so that the same build gives the same band.
const SEED: u64 = 20_080_901;

/// Of so many draws one is solved along the branch of its own line as well as from the match itself.
/// Where the two differ, all are solved along their lines, which is a hundred times slower.
const ALSO_ALONG_ITS_LINE: usize = 10;
/// Two ways to one match agree to this: balances are met to 1e-9, and an answer can be a hundred
/// times steeper.
const SAME: f64 = 1e-7;

/// Installations with drawn inputs, read when they are first needed.
#[derive(Debug)]
pub struct Samples {
    count: usize,
    drawn: Option<Vec<Option<Installation>>>,
}

/// The answers of all samples at one speed.
#[derive(Debug)]
pub struct SampledSpread {
    /// Samples tried.
    pub tried: usize,
    /// Those whose values do not fit each other or that have no match.
    pub unsolved: usize,
    answers: Vec<Answers>,
}

impl Samples {
    /// So many samples.
    pub const fn new(count: usize) -> Self {
        Self { count, drawn: None }
    }

    /// Solves all samples at a speed in rpm. A draw beyond an input's permitted range is taken at
    /// the range's end.
    pub fn spread(
        &mut self,
        read: &ReadShifted<'_>,
        keys: &[String],
        rpm: f64,
        near: &Neighbour,
    ) -> SampledSpread {
        let count = self.count;
        let drawn = self.drawn.get_or_insert_with(|| {
            let rows = latin_normals(count, keys.len(), SEED);
            rows.iter()
                .map(|row| {
                    let shifts: Vec<Shift> = keys
                        .iter()
                        .zip(row)
                        .map(|(key, z)| Shift {
                            key: key.clone(),
                            by: By::Uncertainties(*z),
                        })
                        .collect();
                    read(&shifts)
                })
                .collect()
        });
        let answers = solved(drawn, rpm, near);
        SampledSpread {
            tried: drawn.len(),
            unsolved: drawn.len() - answers.len(),
            answers,
        }
    }
}

/// The answers of all that have a match.
fn solved(drawn: &[Option<Installation>], rpm: f64, near: &Neighbour) -> Vec<Answers> {
    let all = |near: Option<&Neighbour>| -> Vec<(usize, Answers)> {
        let of = |(i, installation): (usize, &Option<Installation>)| {
            let installation = installation.as_ref()?;
            let found = match near {
                Some(near) => answers_near(installation, rpm, near),
                None => answers_at(installation, rpm),
            };
            Some((i, found.ok()?.answers))
        };
        drawn.par_iter().enumerate().filter_map(of).collect()
    };
    let mut found = all(Some(near));
    let differs = |(i, answers): &(usize, Answers)| {
        if i % ALSO_ALONG_ITS_LINE != 0 {
            return false;
        }
        let installation = drawn.get(*i).and_then(Option::as_ref);
        let again = installation.and_then(|installation| answers_at(installation, rpm).ok());
        again.is_none_or(|again| !same(answers, &again.answers))
    };
    if found.par_iter().any(differs) {
        found = all(None);
    }
    found.into_iter().map(|(_, answers)| answers).collect()
}

fn same(one: &Answers, other: &Answers) -> bool {
    one.iter().zip(other).all(|pair| match pair {
        (Some(one), Some(other)) => (one - other).abs() <= SAME * one.abs().max(other.abs()),
        (one, other) => one.is_none() && other.is_none(),
    })
}

impl SampledSpread {
    /// Ends of the middle `coverage` of an answer, and its standard deviation; `None` where fewer
    /// than two samples have the answer.
    pub fn of(&self, answer: usize, coverage: f64) -> Option<(f64, f64, f64)> {
        let mut values: Vec<f64> = self.answers.iter().filter_map(|all| all[answer]).collect();
        if values.len() < 2 {
            return None;
        }
        values.sort_by(f64::total_cmp);
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
        let outside = 0.5 * (1.0 - coverage);
        Some((
            quantile(&values, outside)?,
            quantile(&values, 1.0 - outside)?,
            (squares / (count - 1.0)).sqrt(),
        ))
    }
}
