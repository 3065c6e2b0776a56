//! Seeded draws of the normal distribution, the same on every machine.

/// Density of the standard normal distribution.
fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// Chance of a standard normal value below `z`: Φ = ½ + φ(z) Σ z^(2k+1)/(1·3·5…(2k+1))
/// (Marsaglia, Evaluating the normal distribution, J. Stat. Software 11(4), 2004; from memory, held
/// to tabled values by a test). Beyond ±8 it is 0 or 1.
pub fn normal_share(z: f64) -> f64 {
    if z.abs() > 8.0 {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    let (mut term, mut sum, mut k) = (z, z, 1.0);
    while term.abs() > 1e-17 * sum.abs() {
        k += 2.0;
        term *= z * z / k;
        sum += term;
    }
    0.5 + density(z) * sum
}

/// The standard normal value below which a share of all lies; the share is held within 1e-12 of 0
/// and 1. Newton's method on [`normal_share`], each step at most 1: Φ is convex on one side of 0
/// and concave on the other, so that the steps settle.
pub fn normal_quantile(share: f64) -> f64 {
    let share = share.clamp(1e-12, 1.0 - 1e-12);
    let mut z = 0.0;
    for _ in 0..100 {
        let step = ((normal_share(z) - share) / density(z)).clamp(-1.0, 1.0);
        z -= step;
        if step.abs() < 1e-13 {
            break;
        }
    }
    z
}

/// SplitMix64 (Steele, Lea, Flood 2014; constants from memory): small, seeded, good enough to
/// shuffle and to draw.
#[derive(Debug, Clone)]
pub struct Draws(u64);

impl Draws {
    /// Draws from a seed.
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    const fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// Evenly from 0 up to 1.
    pub fn even(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number below `count`, which is above 0.
    fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.bits() % count as u64).unwrap_or(0)
    }
}

/// A Latin hypercube of standard normal values (`McKay`, Beckman, Conover, Technometrics 21, 1979):
/// for each of `inputs` the range is cut into `count` parts of equal chance, each part is drawn from
/// once, and the parts of the inputs are paired at random. `count` rows of `inputs` values.
pub fn latin_normals(count: usize, inputs: usize, seed: u64) -> Vec<Vec<f64>> {
    let mut draws = Draws::new(seed);
    let mut rows = vec![Vec::with_capacity(inputs); count];
    for _ in 0..inputs {
        let mut order: Vec<usize> = (0..count).collect();
        for i in (1..count).rev() {
            order.swap(i, draws.below(i + 1));
        }
        for (row, part) in rows.iter_mut().zip(order) {
            row.push(normal_quantile((part as f64 + draws.even()) / count as f64));
        }
    }
    rows
}

/// The value below which a share of sorted values lies, straight between neighbours (the k-th of n
/// stands at (k − 1)/(n − 1)); `None` of an empty list.
pub fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = share.clamp(0.0, 1.0) * last as f64;
    let below = (0..last).rev().find(|k| *k as f64 <= place).unwrap_or(0);
    let (low, high) = (sorted[below], sorted[(below + 1).min(last)]);
    Some(low + (high - low) * (place - below as f64))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_normal_distribution_meets_its_table() {
        // Abramowitz and Stegun, table 26.1 and 26.5, as printed.
        for (z, share) in [
            (0.0, 0.5),
            (1.0, 0.841_344_746_068_543),
            (2.0, 0.977_249_868_051_821),
            (-3.0, 0.001_349_898_031_63),
        ] {
            assert_relative_eq!(normal_share(z), share, epsilon = 1e-14);
            assert_relative_eq!(normal_quantile(share), z, epsilon = 1e-11);
        }
        assert_relative_eq!(normal_quantile(0.975), 1.959_963_984_540, epsilon = 1e-12);
        assert!(normal_quantile(0.0).is_finite() && normal_quantile(1.0).is_finite());
    }

    #[test]
    fn a_latin_hypercube_draws_once_from_each_part() {
        let rows = latin_normals(500, 3, 7);
        for input in 0..3 {
            let mut shares: Vec<f64> = rows.iter().map(|row| normal_share(row[input])).collect();
            shares.sort_by(f64::total_cmp);
            for (part, share) in shares.iter().enumerate() {
                let (low, high) = (part as f64 / 500.0, (part as f64 + 1.0) / 500.0);
                assert!((low - 1e-12..=high + 1e-12).contains(share));
            }
        }
        assert_eq!(rows, latin_normals(500, 3, 7));
        assert_ne!(rows, latin_normals(500, 3, 8));
        // Two inputs are paired at random: their correlation lies within four times 1/√500.
        let product: f64 = rows.iter().map(|row| row[0] * row[1]).sum();
        assert!((product / 500.0).abs() < 4.0 / 500_f64.sqrt());
    }

    #[test]
    fn a_quantile_stands_between_its_neighbours() {
        assert_eq!(quantile(&[], 0.5), None);
        assert_relative_eq!(quantile(&[3.0], 0.9).unwrap(), 3.0);
        let values = [0.0, 1.0, 2.0, 3.0, 4.0];
        assert_relative_eq!(quantile(&values, 0.5).unwrap(), 2.0);
        assert_relative_eq!(quantile(&values, 0.125).unwrap(), 0.5);
        assert_relative_eq!(quantile(&values, 1.0).unwrap(), 4.0);
    }
}
