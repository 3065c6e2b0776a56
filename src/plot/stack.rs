//! Amounts stacked into areas, above and below zero.

use super::error::PlotError;
use super::jumps::{self, Jump};
use super::layer::{Area, Layer, Naming};
use super::style::Meaning;

/// One amount at every place of the level axis.
#[derive(Debug, Clone)]
pub struct Amount {
    /// Its name.
    pub name: String,
    /// What it says, which gives its ground.
    pub meaning: Meaning,
    /// SI; none where nothing was solved.
    pub values: Vec<Option<f64>>,
}

/// Places and, for each, every amount; no gap inside.
type Run = Vec<(f64, Vec<f64>)>;

/// The amounts stacked from the lowest upwards, each named at its end. An amount below zero hangs
/// below; where a value is missing and where the line jumps, all areas end.
pub fn stacked(
    places: &[f64],
    amounts: &[Amount],
    jumps: &[Jump],
) -> Result<Vec<Layer>, PlotError> {
    let runs = runs(places, amounts, jumps)?;
    let layer = |(place, amount): (usize, &Amount)| {
        Layer::Area(Area {
            name: amount.name.clone(),
            meaning: amount.meaning,
            naming: Naming::End,
            pieces: runs.iter().flat_map(|run| areas(run, place)).collect(),
        })
    };
    Ok(amounts.iter().enumerate().map(layer).collect())
}

/// The rows where everything is known, in unbroken runs.
fn runs(places: &[f64], amounts: &[Amount], jumps: &[Jump]) -> Result<Vec<Run>, PlotError> {
    let (expected, mut runs) = (places.len(), vec![Run::new()]);
    for amount in amounts {
        let found = amount.values.len();
        let what = || amount.name.clone();
        if found != expected {
            return Err(PlotError::Uneven {
                what: what(),
                found,
                expected,
            });
        }
        // A stack would carry what is no number into its neighbours.
        let mut values = amount.values.iter();
        if let Some(row) = values.position(|value| value.is_some_and(|v| !v.is_finite())) {
            return Err(PlotError::NotFinite {
                what: what(),
                place: row + 1,
            });
        }
    }
    for (row, &place) in places.iter().enumerate() {
        if row > 0 && jumps::between(jumps, places[row - 1], place) {
            runs.push(Run::new());
        }
        let known: Option<Vec<f64>> = amounts.iter().map(|amount| amount.values[row]).collect();
        match (known, runs.last_mut()) {
            (Some(known), Some(run)) => run.push((place, known)),
            _ => runs.push(Run::new()),
        }
    }
    runs.retain(|run| !run.is_empty());
    Ok(runs)
}

/// The areas of one amount above and below zero: its lower and upper line.
fn areas(run: &Run, amount: usize) -> Vec<[Vec<[f64; 2]>; 2]> {
    let run = with_crossings(run);
    let sides: [fn(f64) -> f64; 2] = [|share| share.max(0.0), |share| share.min(0.0)];
    let area = |side: fn(f64) -> f64| {
        let below =
            |row: &(f64, Vec<f64>)| -> f64 { row.1[..amount].iter().map(|&v| side(v)).sum() };
        let lower = run.iter().map(|row| [row.0, below(row)]);
        let upper = run
            .iter()
            .map(|row| [row.0, below(row) + side(row.1[amount])]);
        [lower.collect::<Vec<_>>(), upper.collect()]
    };
    let is_wide = |[lower, upper]: &[Vec<[f64; 2]>; 2]| {
        lower
            .iter()
            .zip(upper)
            .any(|(low, high)| (high[1] - low[1]).abs() > 1e-9)
    };
    sides.into_iter().map(area).filter(is_wide).collect()
}

/// The run with a row wherever an amount passes zero, so that areas end there.
fn with_crossings(run: &Run) -> Run {
    let mut rows: Run = Vec::new();
    for pair in run.windows(2) {
        let ((x0, from), (x1, to)) = (&pair[0], &pair[1]);
        rows.push(pair[0].clone());
        let pairs = || from.iter().zip(to);
        let crossings = pairs().filter(|(a, b)| *a * *b < 0.0);
        let mut cuts: Vec<f64> = crossings.map(|(a, b)| a / (a - b)).collect();
        cuts.sort_by(f64::total_cmp);
        for t in cuts {
            let between = |a: f64, b: f64| a + t * (b - a);
            let values = pairs().map(|(&a, &b)| between(a, b)).collect();
            rows.push((between(*x0, *x1), values));
        }
    }
    rows.extend(run.last().cloned());
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_above_and_below_zero_end_where_they_cross_it() {
        let run = vec![(1000.0, vec![0.5, 0.5]), (2000.0, vec![-0.5, 1.5])];
        let supercharger = areas(&run, 0);
        assert_eq!(supercharger.len(), 2);
        let [_, above] = &supercharger[0];
        assert!(
            (above[1][0] - 1500.0).abs() < 1e-9 && above[1][1].abs() < 1e-12,
            "{above:?}"
        );
        let turbo = areas(&run, 1);
        assert_eq!(turbo.len(), 1);
        let [lower, upper] = &turbo[0];
        assert!(lower[2][1].abs() < 1e-12 && (upper[2][1] - 1.5).abs() < 1e-12);
    }
}
