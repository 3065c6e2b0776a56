//! Two stores of heat in a row, the core's metal and the water behind it, between a charge and the
//! air outside:
//!
//! ```text
//! M dTw/dt = k_c (T_charge − Tw) − k_s (Tw − T_sink)
//! W dTs/dt = (1 − β) k_s (Tw − T_sink) − k_r (T_sink − T_air)
//! ```
//!
//! β is the share of the heat that the radiator takes off the water before it is back in the tank:
//! the radiator sees the water that leaves the cooler, k_r (T_sink + Q/C − T_air), so β = k_r/C with
//! C the water's capacity flow.
//!
//! With the temperatures outside and the conductances held, the system is linear, x' = A x + b, and
//! its solution is exact: x(t) = x + t φ₁(t A)(A x + b), ∫x = t x + t² φ₂(t A)(A x + b), with
//! φ₁(z) = (eᶻ − 1)/z and φ₂(z) = (eᶻ − 1 − z)/z² (exponential integrators: Hochbruck & Ostermann,
//! Acta Numerica 19 (2010), eq. 1.6, from memory). Both eigenvalues are real: a chain of stores is a
//! symmetric matrix in disguise. A store that is not there keeps its temperature.

/// Conductances and stores of one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Network {
    /// Temperature of the charge ahead of the cooler, K.
    pub charge_temperature: f64,
    /// Temperature of the air that the water's radiator stands in, K.
    pub air_temperature: f64,
    /// Heat from the charge to the metal per kelvin between them, W/K.
    pub to_charge: f64,
    /// Heat from the metal to the sink per kelvin between them, W/K.
    pub to_sink: f64,
    /// Heat from the sink to the air outside per kelvin between them, W/K.
    pub to_air: f64,
    /// Share β of the heat into the sink that goes on to the air outside at once, 0 to 1.
    pub at_once: f64,
    /// Heat capacity of the metal, J/K; without it the heat goes straight through.
    pub metal: Option<f64>,
    /// Heat capacity of the water, J/K; without it the sink keeps its temperature.
    pub water: Option<f64>,
}

/// Temperatures of the two stores, K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stores {
    /// Of the core's metal.
    pub metal: f64,
    /// Of the sink where it enters the cooler.
    pub sink: f64,
}

/// Heat that has passed, J.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HeatPassed {
    /// Out of the charge.
    pub from_charge: f64,
    /// Into the sink.
    pub to_sink: f64,
    /// From the sink to the air outside.
    pub to_air: f64,
}

impl std::ops::AddAssign for HeatPassed {
    fn add_assign(&mut self, other: Self) {
        self.from_charge += other.from_charge;
        self.to_sink += other.to_sink;
        self.to_air += other.to_air;
    }
}

type Vector = [f64; 2];

impl Network {
    /// The stores after so many seconds, and the heat that has passed meanwhile.
    pub fn advance(&self, start: Stores, seconds: f64) -> (Stores, HeatPassed) {
        let x = [start.metal, start.sink];
        let (a, b) = self.matrix();
        let slope = [
            a[0][0] * x[0] + a[0][1] * x[1] + b[0],
            a[1][0] * x[0] + a[1][1] * x[1] + b[1],
        ];
        let eigenvalues = self.eigenvalues(&a);
        let step = of_matrix(&a, eigenvalues, seconds, phi_1, slope);
        let sum = of_matrix(&a, eigenvalues, seconds, phi_2, slope);
        let end = [x[0] + seconds * step[0], x[1] + seconds * step[1]];
        let seconds_squared = seconds * seconds;
        let integral = [
            seconds * x[0] + seconds_squared * sum[0],
            seconds * x[1] + seconds_squared * sum[1],
        ];
        let stores = Stores {
            metal: end[0],
            sink: end[1],
        };
        (stores, self.passed(integral, seconds))
    }

    /// Heat passed, from the integrals of the two temperatures over time in K s.
    fn passed(&self, [metal, sink]: Vector, seconds: f64) -> HeatPassed {
        let charge = self.charge_temperature * seconds;
        let from_tank = self.to_air * (sink - self.air_temperature * seconds);
        if self.metal.is_none() {
            let through = self.through() * (charge - sink);
            return HeatPassed {
                from_charge: through,
                to_sink: through,
                to_air: from_tank + self.at_once * through,
            };
        }
        let to_sink = self.to_sink * (metal - sink);
        HeatPassed {
            from_charge: self.to_charge * (charge - metal),
            to_sink,
            to_air: from_tank + self.at_once * to_sink,
        }
    }

    /// Heat that the sink takes at this moment, W.
    pub fn heat_to_sink(&self, stores: Stores) -> f64 {
        match self.metal {
            Some(_) => self.to_sink * (stores.metal - stores.sink),
            None => self.through() * (self.charge_temperature - stores.sink),
        }
    }

    /// Conductance from the charge to the sink, both sides in series, W/K.
    fn through(&self) -> f64 {
        let sum = self.to_charge + self.to_sink;
        if sum > 0.0 {
            self.to_charge * self.to_sink / sum
        } else {
            0.0
        }
    }

    /// A and b of x' = A x + b.
    fn matrix(&self) -> ([Vector; 2], Vector) {
        let mut a = [[0.0; 2]; 2];
        let mut b = [0.0; 2];
        if let Some(metal) = self.metal {
            a[0] = [
                -(self.to_charge + self.to_sink) / metal,
                self.to_sink / metal,
            ];
            b[0] = self.to_charge * self.charge_temperature / metal;
        }
        if let Some(water) = self.water {
            let kept = 1.0 - self.at_once;
            let (gain, from_hot) = if self.metal.is_some() {
                a[1][0] = kept * self.to_sink / water;
                (kept * self.to_sink, 0.0)
            } else {
                let gain = kept * self.through();
                (gain, gain * self.charge_temperature)
            };
            a[1][1] = -(gain + self.to_air) / water;
            b[1] = (from_hot + self.to_air * self.air_temperature) / water;
        }
        (a, b)
    }
}

impl Network {
    /// The slow and the fast eigenvalue of the matrix, 1/s; neither is above 0.
    fn eigenvalues(&self, a: &[Vector; 2]) -> (f64, f64) {
        let mean = 0.5 * (a[0][0] + a[1][1]);
        let half = 0.5 * (a[0][0] - a[1][1]);
        let root = (half * half + a[0][1] * a[1][0]).max(0.0).sqrt();
        let fast = mean - root;
        let slow = if fast < 0.0 {
            self.determinant() / fast
        } else {
            0.0
        };
        (slow, fast)
    }

    /// Of the matrix, 1/s²: written out, because the difference of products would cancel.
    fn determinant(&self) -> f64 {
        let (Some(metal), Some(water)) = (self.metal, self.water) else {
            return 0.0;
        };
        let both = self.to_charge + self.to_sink;
        let kept = (1.0 - self.at_once) * self.to_charge * self.to_sink;
        (kept + both * self.to_air) / (metal * water)
    }
}

/// f(t A) v for a matrix with real eigenvalues λ₁ and λ₂:
/// f(t λ₂) v + (f(t λ₁) − f(t λ₂))/(λ₁ − λ₂) (A − λ₂) v.
fn of_matrix(
    a: &[Vector; 2],
    (slow, fast): (f64, f64),
    t: f64,
    f: fn(f64) -> f64,
    v: Vector,
) -> Vector {
    let (at_slow, at_fast) = (f(t * slow), f(t * fast));
    let slope = if fast < slow {
        (at_slow - at_fast) / (slow - fast)
    } else {
        0.0
    };
    // A − λ₂ on its diagonal: one of the two differences would cancel, and follows from the product
    // of the other two elements.
    let half = 0.5 * (a[0][0] - a[1][1]);
    let root = 0.5 * (slow - fast);
    let product = a[0][1] * a[1][0];
    let larger = root + half.abs();
    let smaller = if larger > 0.0 { product / larger } else { 0.0 };
    let (d0, d1) = if half < 0.0 {
        (smaller, larger)
    } else {
        (larger, smaller)
    };
    let rest = [d0 * v[0] + a[0][1] * v[1], a[1][0] * v[0] + d1 * v[1]];
    [
        at_fast * v[0] + slope * rest[0],
        at_fast * v[1] + slope * rest[1],
    ]
}

/// (eᶻ − 1)/z.
fn phi_1(z: f64) -> f64 {
    if z.abs() < 1e-8 {
        1.0 + 0.5 * z
    } else {
        z.exp_m1() / z
    }
}

/// (eᶻ − 1 − z)/z²; by its series where the difference would cancel (the eleventh term is below
/// 1e-16 for |z| < 0.5).
fn phi_2(z: f64) -> f64 {
    if z.abs() < 0.5 {
        let mut term = 0.5;
        let mut sum = term;
        for k in 3..16 {
            term *= z / f64::from(k);
            sum += term;
        }
        sum
    } else {
        (z.exp_m1() - z) / (z * z)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn network(metal: Option<f64>, water: Option<f64>) -> Network {
        Network {
            charge_temperature: 430.0,
            air_temperature: 297.0,
            to_charge: 230.0,
            to_sink: 900.0,
            to_air: 60.0,
            at_once: 0.03,
            metal,
            water,
        }
    }

    const START: Stores = Stores {
        metal: 330.0,
        sink: 300.0,
    };

    #[test]
    fn metal_alone_follows_the_exact_exponential() {
        let network = network(Some(4500.0), None);
        let end = (230.0 * 430.0 + 900.0 * 300.0) / 1130.0;
        for seconds in [1e-3, 1.0, 4.0, 60.0, 3600.0] {
            let exact = end + (330.0 - end) * (-1130.0 * seconds / 4500.0_f64).exp();
            let (stores, _) = network.advance(START, seconds);
            // Rounding of temperatures of hundreds of kelvin.
            assert_relative_eq!(stores.metal, exact, max_relative = 1e-13);
            assert_relative_eq!(stores.sink, 300.0, max_relative = 1e-15);
        }
    }

    #[test]
    fn water_alone_follows_the_exact_exponential() {
        let network = network(None, Some(50e3));
        let through = 230.0 * 900.0 / 1130.0;
        let kept = 0.97 * through;
        let sum = kept + 60.0;
        let end = (kept * 430.0 + 60.0 * 297.0) / sum;
        for seconds in [0.5, 30.0, 600.0] {
            let exact = end + (300.0 - end) * (-sum * seconds / 50e3_f64).exp();
            let (stores, _) = network.advance(START, seconds);
            assert_relative_eq!(stores.sink, exact, max_relative = 1e-13);
        }
    }

    /// The classical Runge–Kutta step of fourth order, many times.
    fn by_small_steps(network: &Network, seconds: f64) -> [f64; 2] {
        let (a, b) = network.matrix();
        let slope = |x: [f64; 2]| {
            [
                a[0][0] * x[0] + a[0][1] * x[1] + b[0],
                a[1][0] * x[0] + a[1][1] * x[1] + b[1],
            ]
        };
        let along = |x: [f64; 2], k: [f64; 2], h: f64| [x[0] + h * k[0], x[1] + h * k[1]];
        let h = seconds / 20_000.0;
        let mut x = [START.metal, START.sink];
        for _ in 0..20_000 {
            let k1 = slope(x);
            let k2 = slope(along(x, k1, h / 2.0));
            let k3 = slope(along(x, k2, h / 2.0));
            let k4 = slope(along(x, k3, h));
            for i in 0..2 {
                x[i] += h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]);
            }
        }
        x
    }

    #[test]
    fn both_stores_follow_many_small_steps_of_another_method() {
        let network = network(Some(4500.0), Some(50e3));
        for seconds in [2.0, 40.0, 300.0] {
            let (stores, _) = network.advance(START, seconds);
            let steps = by_small_steps(&network, seconds);
            // 20,000 roundings of 1e-16 of the temperature.
            assert_relative_eq!(stores.metal, steps[0], max_relative = 1e-11);
            assert_relative_eq!(stores.sink, steps[1], max_relative = 1e-11);
        }
    }

    #[test]
    fn what_is_stored_is_what_came_in_less_what_went_out() {
        for (metal, water) in [
            (Some(4500.0), Some(50e3)),
            (Some(4500.0), None),
            (None, Some(50e3)),
            (Some(1e-3), Some(1e9)),
        ] {
            let network = network(metal, water);
            for seconds in [1e-4, 0.3, 25.0, 900.0] {
                let (end, passed) = network.advance(START, seconds);
                let scale = passed.from_charge.abs() + passed.to_sink.abs();
                if let Some(metal) = metal {
                    let stored = metal * (end.metal - START.metal);
                    let left = passed.from_charge - passed.to_sink - stored;
                    assert!(left.abs() < 1e-9 * scale, "{left} of {scale}");
                }
                if let Some(water) = water {
                    let stored = water * (end.sink - START.sink);
                    let left = passed.to_sink - passed.to_air - stored;
                    // A store of 1e9 J/K warms by less than a digit of its temperature holds.
                    let digit = water * END_DIGIT;
                    assert!(left.abs() < 1e-9 * scale + digit, "{left} of {scale}");
                }
            }
        }
    }

    /// Half of the last digit of a temperature of 512 K.
    const END_DIGIT: f64 = 6e-14;

    #[test]
    fn an_endless_store_stays_and_a_tiny_one_balances_with_its_radiator() {
        let (huge, _) = network(Some(4500.0), Some(1e15)).advance(START, 600.0);
        assert_relative_eq!(huge.sink, 300.0, max_relative = 1e-9);
        let (tiny, _) = network(Some(1.0), Some(1.0)).advance(START, 600.0);
        let through = 230.0 * 900.0 / 1130.0;
        let kept = 0.97 * through;
        let balance = (kept * 430.0 + 60.0 * 297.0) / (kept + 60.0);
        assert_relative_eq!(tiny.sink, balance, max_relative = 1e-12);
    }

    #[test]
    fn no_flow_and_no_store_divide_by_nothing() {
        let still = Network {
            to_charge: 0.0,
            to_sink: 0.0,
            to_air: 0.0,
            ..network(None, Some(1e3))
        };
        assert_eq!(still.advance(START, 10.0).0, START);
        let (end, passed) = network(None, None).advance(START, 10.0);
        assert_eq!(end, START);
        assert!(passed.from_charge > 0.0);
    }
}
