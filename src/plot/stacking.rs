//! Shares stacked into areas, above and below zero.

/// Speeds and, for each, every stage's share; no gap inside.
pub(crate) type Run = Vec<(f64, Vec<f64>)>;
/// A stage's area: for each speed where it starts and ends.
pub(crate) type Area = Vec<(f64, f64, f64)>;

/// The areas of one stage above and below zero.
pub(crate) fn stacked(run: &Run, stage: usize) -> Vec<Area> {
    let run = with_crossings(run);
    let sides: [fn(f64) -> f64; 2] = [|share| share.max(0.0), |share| share.min(0.0)];
    let areas = sides.into_iter().map(|side| -> Area {
        run.iter()
            .map(|(speed, shares)| {
                let start: f64 = shares[..stage].iter().map(|&share| side(share)).sum();
                (*speed, start, start + side(shares[stage]))
            })
            .collect()
    });
    areas
        .filter(|area| area.iter().any(|row| (row.2 - row.1).abs() > 1e-9))
        .collect()
}

/// The run with a row wherever a stage's share passes zero, so that areas end there.
fn with_crossings(run: &Run) -> Run {
    let mut rows: Run = Vec::new();
    for pair in run.windows(2) {
        let ((x0, from), (x1, to)) = (&pair[0], &pair[1]);
        rows.push(pair[0].clone());
        let mut cuts: Vec<f64> = from
            .iter()
            .zip(to)
            .filter(|(a, b)| *a * *b < 0.0)
            .map(|(a, b)| a / (a - b))
            .collect();
        cuts.sort_by(f64::total_cmp);
        for t in cuts {
            let between = |a: f64, b: f64| a + t * (b - a);
            let shares = from.iter().zip(to).map(|(&a, &b)| between(a, b)).collect();
            rows.push((between(*x0, *x1), shares));
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
        let supercharger = stacked(&run, 0);
        assert_eq!(supercharger.len(), 2);
        let above = &supercharger[0];
        assert!(
            (above[1].0 - 1500.0).abs() < 1e-9 && above[1].2.abs() < 1e-12,
            "{above:?}"
        );
        let turbo = stacked(&run, 1);
        assert_eq!(turbo.len(), 1);
        let (_, start, end) = turbo[0][2];
        assert!(start.abs() < 1e-12 && (end - 1.5).abs() < 1e-12);
    }
}
