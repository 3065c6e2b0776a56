//! Effectiveness of a heat exchanger from its number of transfer units, and back.
//!
//! Symbols as in Kays and London, Compact Heat Exchangers: N = UA/C_min, C the smaller over the
//! larger capacity flow (mass flow times heat capacity), ε the heat over the most that the
//! smaller capacity flow could take. Valid for constant heat capacities and a constant U.

use crate::numeric::root;

/// Most transfer units that are told apart: many times what any exchanger has.
const MOST_UNITS: f64 = 1e4;
/// Below this capacity ratio the larger flow keeps its temperature.
const NO_RATIO: f64 = 1e-200;

/// How the two flows pass each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Arrangement {
    /// Crossflow, both sides in channels that do not mix: fins on both sides.
    #[default]
    CrossflowUnmixed,
    /// Crossflow, the charge mixes across its own direction.
    ChargeMixed,
    /// Crossflow, the sink mixes across its own direction: a core without fins on that side.
    SinkMixed,
    /// The flows run against each other.
    Counterflow,
}

/// One of the two sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The charge.
    Charge,
    /// What takes the heat.
    Sink,
}

impl Arrangement {
    /// ε, 0 to 1, of N (0 or more) and C (0 to 1); `smaller` is the side with the smaller
    /// capacity flow, which counts where one side is mixed.
    pub fn effectiveness(self, transfer_units: f64, capacity_ratio: f64, smaller: Side) -> f64 {
        let n = transfer_units.clamp(0.0, MOST_UNITS);
        let c = capacity_ratio.clamp(0.0, 1.0);
        if c < NO_RATIO {
            return -(-n).exp_m1();
        }
        let effectiveness = match (self, smaller) {
            (Self::CrossflowUnmixed, _) => both_unmixed(n, c),
            (Self::Counterflow, _) => counterflow(n, c),
            (Self::ChargeMixed, Side::Charge) | (Self::SinkMixed, Side::Sink) => {
                smaller_mixed(n, c)
            }
            (Self::ChargeMixed, Side::Sink) | (Self::SinkMixed, Side::Charge) => larger_mixed(n, c),
        };
        effectiveness.clamp(0.0, 1.0)
    }

    /// N of ε and C; `None` where no finite exchanger reaches it.
    pub fn transfer_units(
        self,
        effectiveness: f64,
        capacity_ratio: f64,
        smaller: Side,
    ) -> Option<f64> {
        if effectiveness.is_nan() || effectiveness < 0.0 {
            return None;
        }
        let short = |n: f64| self.effectiveness(n, capacity_ratio, smaller) - effectiveness;
        // ε ≤ N always, so that the first end is below the answer.
        let low = effectiveness;
        let mut high = 2.0 * effectiveness.max(1e-9);
        while short(high) <= 0.0 {
            high *= 2.0;
            if high > MOST_UNITS {
                return None;
            }
        }
        let found = root::between(low, high, short, 0.0, f64::EPSILON * high);
        found.place().filter(|n| n.is_finite())
    }
}

/// Crossflow, both sides unmixed, exact: Mason's double series (1955; after Kays and London),
/// ε = 1/(C N) Σ_n P(N, n) P(C N, n), P(x, n) = 1 − e^−x Σ_{m ≤ n} x^m/m!, summed as it stands:
/// no term is negative. The sum is the mean of the smaller of two Poisson numbers.
fn both_unmixed(n: f64, c: f64) -> f64 {
    let x = c * n;
    if x < NO_RATIO {
        return -(-n).exp_m1();
    }
    // Ten standard deviations below the smaller mean both tails are 1 to rounding.
    let start = (x - 10.0 * x.sqrt()).floor().max(0.0);
    let (mut weight_n, mut weight_x) = (poisson(n, start), poisson(x, start));
    let (mut tail_n, mut tail_x) = if start > 0.0 {
        (1.0 - weight_n, 1.0 - weight_x)
    } else {
        (-(-n).exp_m1(), -(-x).exp_m1())
    };
    let mut sum = start + tail_n * tail_x;
    let mut k = start;
    while k <= x || weight_x > 1e-17 * x.min(1.0) {
        k += 1.0;
        let step = 1.0 / k;
        weight_n *= n * step;
        weight_x *= x * step;
        tail_n = (tail_n - weight_n).max(0.0);
        tail_x = (tail_x - weight_x).max(0.0);
        sum += tail_n * tail_x;
    }
    sum / x
}

/// Poisson's e^−x x^k/k!; above k = 0 by Stirling's series, for large k.
fn poisson(x: f64, k: f64) -> f64 {
    if k <= 0.0 {
        return (-x).exp();
    }
    let stirling = 1.0 / (12.0 * k) - 1.0 / (360.0 * k.powi(3));
    (k - x + k * (x / k).ln() - stirling).exp() / (std::f64::consts::TAU * k).sqrt()
}

/// ε = (1 − e^−N(1−C))/(1 − C e^−N(1−C)), N/(1 + N) at C = 1 (Kays and London; Incropera,
/// table 11.3).
fn counterflow(n: f64, c: f64) -> f64 {
    let gap = 1.0 - c;
    if gap * n < 1e-14 {
        return n / (1.0 + n);
    }
    let used = -(-n * gap).exp_m1();
    used / (gap + c * used)
}

/// ε = 1 − exp(−(1 − e^−CN)/C) (Kays and London; Incropera, table 11.3).
fn smaller_mixed(n: f64, c: f64) -> f64 {
    -((-c * n).exp_m1() / c).exp_m1()
}

/// ε = (1 − exp(−C (1 − e^−N)))/C (Kays and London; Incropera, table 11.3).
fn larger_mixed(n: f64, c: f64) -> f64 {
    -(c * (-n).exp_m1()).exp_m1() / c
}

/// The two capacity flows, sorted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Capacities {
    /// The smaller, W/K.
    pub smaller: f64,
    /// Smaller over larger, 0 to 1.
    pub ratio: f64,
    /// Which side has the smaller.
    pub side: Side,
}

impl Capacities {
    /// Of the charge's and the sink's, W/K, the charge's above 0.
    pub fn new(charge: f64, sink: f64) -> Self {
        let (smaller, larger, side) = if charge <= sink {
            (charge, sink, Side::Charge)
        } else {
            (sink, charge, Side::Sink)
        };
        Self {
            smaller,
            ratio: smaller / larger,
            side,
        }
    }

    /// Most effectiveness of the charge side that an endless exchanger in counterflow could have.
    pub fn charge_limit(&self) -> f64 {
        match self.side {
            Side::Charge => 1.0,
            Side::Sink => self.ratio,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const ALL: [Arrangement; 4] = [
        Arrangement::CrossflowUnmixed,
        Arrangement::ChargeMixed,
        Arrangement::SinkMixed,
        Arrangement::Counterflow,
    ];

    fn unmixed(n: f64, c: f64) -> f64 {
        Arrangement::CrossflowUnmixed.effectiveness(n, c, Side::Charge)
    }

    #[test]
    fn no_exchange_and_an_endless_one_are_the_limits() {
        for arrangement in ALL {
            for c in [0.0, 1e-250, 1e-12, 0.3, 1.0 - 1e-15, 1.0] {
                for side in [Side::Charge, Side::Sink] {
                    let of = |n| arrangement.effectiveness(n, c, side);
                    assert!(of(0.0).abs() < 1e-15, "{arrangement:?} {c}");
                    // The first transfer units take their whole share.
                    assert_relative_eq!(of(1e-9), 1e-9, max_relative = 3e-9);
                    assert!(of(40.0) <= 1.0 && of(1e9) <= 1.0 && of(1e9) >= of(40.0));
                }
            }
        }
        assert_relative_eq!(unmixed(1e4, 0.9), 1.0, epsilon = 1e-12);
    }

    /// Continuous through both ends: the step of C is 1e-9, and dε/dC is at most 1.
    #[test]
    fn capacity_ratios_of_nothing_and_of_one_are_no_places_of_their_own() {
        for arrangement in ALL {
            for n in [0.1, 1.0, 3.0, 30.0] {
                for side in [Side::Charge, Side::Sink] {
                    let of = |c| arrangement.effectiveness(n, c, side);
                    assert_relative_eq!(of(0.0), of(1e-9), epsilon = 2e-9);
                    assert_relative_eq!(of(1.0), of(1.0 - 1e-9), epsilon = 2e-9 * n.max(1.0));
                }
            }
        }
    }

    /// Both starts of the sum agree, and so do they with 1 − 1/√(πN) (1 − 1/(16 N)), what remains
    /// of the mean of the smaller of two equal Poisson numbers for large N (to 1/N²).
    #[test]
    fn the_sum_may_start_late() {
        let (below, above) = (unmixed(100.0 - 1e-9, 1.0), unmixed(100.0 + 1e-6, 1.0));
        assert!(above > below && above - below < 1e-9);
        let n = 400.0_f64;
        let left = (1.0 - 1.0 / (16.0 * n)) / (std::f64::consts::PI * n).sqrt();
        assert_relative_eq!(unmixed(n, 1.0), 1.0 - left, epsilon = 1e-8);
    }

    #[test]
    fn transfer_units_come_back_from_the_effectiveness() {
        for arrangement in ALL {
            for side in [Side::Charge, Side::Sink] {
                for c in [0.0, 0.2, 0.8, 1.0] {
                    for n in [1e-6, 0.05, 0.7, 2.0, 4.0] {
                        let e = arrangement.effectiveness(n, c, side);
                        let back = arrangement.transfer_units(e, c, side).unwrap();
                        // ε is flat at its end: what is left of it holds N to this.
                        assert_relative_eq!(back, n, max_relative = 1e-9);
                    }
                }
            }
        }
    }

    #[test]
    fn what_no_exchanger_reaches_has_no_transfer_units() {
        for arrangement in ALL {
            assert_eq!(arrangement.transfer_units(1.0, 0.25, Side::Charge), None);
            assert_eq!(arrangement.transfer_units(1.05, 0.0, Side::Charge), None);
            assert_eq!(arrangement.transfer_units(f64::NAN, 0.5, Side::Sink), None);
            assert_eq!(arrangement.transfer_units(-0.1, 0.5, Side::Sink), None);
        }
        // The mixed side alone keeps 1 out of reach: its limit is 1 − e^−1 at equal flows.
        let mixed = Arrangement::ChargeMixed;
        assert_eq!(mixed.transfer_units(0.64, 1.0, Side::Charge), None);
        assert!(mixed.transfer_units(0.63, 1.0, Side::Charge).is_some());
        let wanted = Arrangement::default().transfer_units(0.95, 0.25, Side::Charge);
        assert_relative_eq!(unmixed(wanted.unwrap(), 0.25), 0.95, max_relative = 1e-12);
    }
}
