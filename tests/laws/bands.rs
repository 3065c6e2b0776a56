//! The bands of `point --sensitivity` against 100,000 matches with all inputs drawn at random.
//!
//! The draws, the moved installations and the statistics here share nothing with the bands: the
//! tool is run from outside, the inputs are written into the installation's own fields, and every
//! draw is solved by itself.
//!
//! The standard error of a standard deviation s of N draws is s √((κ − 1)/(4 N)), κ the kurtosis
//! (from the variance of a sample variance, μ4/N − σ⁴ (N − 3)/(N (N − 1)): Kenney and Keeping,
//! Mathematics of Statistics II, 1951, §7.7; from memory); for a normal distribution, κ = 3, it is
//! s/√(2 (N − 1)), 0.22 % of s at N = 100,000. That of a quantile is √(p (1 − p)/N)/f, f the density
//! there (Kendall and Stuart I, §10.10; from memory).

use crate::run;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use airpath::air_path::{Filling, Part, SuperchargerKind};
use airpath::engine::Fuelling;
use airpath::exhaust::{Swallowing, TurbineEfficiency};
use airpath::input::{self, Document, map_file};
use airpath::map::CorrectedFlow;
use airpath::matching::{Installation, Match, Neighbour, Solver};
use rayon::prelude::*;
use run::{Scratch, kept};
use serde_json::Value;

const DRAWS: u64 = 100_000;
/// Sampling errors that are allowed: 30 comparisons, each outside four of its standard errors once
/// in 16,000 times.
const ERRORS: f64 = 4.0;

/// One uncertain input: its key, its value with +-, and the same by hand for a normal value z.
type Uncertain = (&'static str, &'static str, fn(&mut Installation, f64));

struct Case {
    /// A kept build; empty for the demo.
    build: &'static str,
    rpm: f64,
    inputs: &'static [Uncertain],
}

fn turbine_area(installation: &mut Installation, by: f64) {
    let Swallowing::Area { effective_area, .. } = &mut installation.turbines[0].swallowing else {
        panic!("an area");
    };
    *effective_area += by;
}

fn turbine_efficiency(installation: &mut Installation, by: f64) {
    let TurbineEfficiency::Figure(figure) = &mut installation.turbines[0].efficiency else {
        panic!("a figure");
    };
    *figure += by;
}

fn slip(installation: &mut Installation, by: f64) {
    for part in &mut installation.air_path {
        if let Part::Supercharger(stage) = part
            && let SuperchargerKind::Displacement(machine) = &mut stage.kind
            && let Filling::SlipSpeed(slip) = &mut machine.filling
        {
            *slip += by;
        }
    }
}

fn heating_value(installation: &mut Installation, by: f64) {
    installation.fuel.as_mut().unwrap().lower_heating_value += by;
}

fn filling(installation: &mut Installation, factor: f64) {
    let filling = &mut installation.engine.volumetric_efficiency;
    *filling = filling.scaled(factor);
}

const DEMO: &[Uncertain] = &[
    ("engine.displacement", "4.5 L +- 0.2 %", |i, z| {
        i.engine.displacement *= 1.0 + 0.002 * z;
    }),
    ("turbine.effective_area", "7.7 cm2 +- 0.03 cm2", |i, z| {
        turbine_area(i, 0.03e-4 * z);
    }),
    ("turbine.efficiency", "0.68 +- 0.003", |i, z| {
        turbine_efficiency(i, 0.003 * z);
    }),
    ("supercharger.slip_speed", "170 rpm +- 3 rpm", |i, z| {
        slip(i, 3.0 * z);
    }),
    ("fuel.lower_heating_value", "42.8 +- 0.1 MJ/kg", |i, z| {
        heating_value(i, 0.1e6 * z);
    }),
];
const MARINE: &[Uncertain] = &[
    ("site.temperature", "28 degC +- 1 K", |i, z| {
        i.site.temperature += z;
    }),
    (
        "engine.volumetric_efficiency",
        "[[700, \"0.88 +- 0.5 %\"], [1200, \"0.91 +- 0.5 %\"], [1900, \"0.88 +- 0.5 %\"]]",
        |i, z| filling(i, 1.0 + 0.005 * z),
    ),
    ("turbine.effective_area", "19.0 cm2 ± 0.085 cm2", |i, z| {
        turbine_area(i, 0.085e-4 * z);
    }),
    ("turbine.efficiency", "0.70 +/- 0.004", |i, z| {
        turbine_efficiency(i, 0.004 * z);
    }),
    ("supercharger.slip_speed", "95 +- 2 rpm", |i, z| {
        slip(i, 2.0 * z);
    }),
];
const PETROL: &[Uncertain] = &[
    ("fuel.lambda", "0.90 +- 0.005", |i, z| {
        let Fuelling::Lambda(lambda) = &mut i.fuel.as_mut().unwrap().burned else {
            panic!("lambda");
        };
        *lambda = lambda.scaled(1.0 + 0.005 / 0.9 * z);
    }),
    ("turbine.effective_area", "5.65 cm2 +- 0.5 %", |i, z| {
        turbine_area(i, 0.005 * 5.65e-4 * z);
    }),
    ("turbine.efficiency", "66 % +- 0.4", |i, z| {
        turbine_efficiency(i, 0.004 * z);
    }),
    ("engine.displacement", "1.82 L +- 0.005 L", |i, z| {
        i.engine.displacement += 0.005e-3 * z;
    }),
];

impl Case {
    /// The tool's bands.
    fn bands(&self) -> Value {
        let path = kept(self.build);
        let rpm = self.rpm.to_string();
        let mut arguments = vec!["point", "--rpm", &rpm, "--sensitivity", "--format", "json"];
        if !self.build.is_empty() {
            arguments.push(&path);
        }
        let set: Vec<String> = self
            .inputs
            .iter()
            .map(|one| format!("{}={}", one.0, one.1))
            .collect();
        arguments.extend(set.iter().flat_map(|set| ["--set", set.as_str()]));
        Scratch::new().run(&arguments).json()["bands"].clone()
    }

    fn installation(&self) -> Installation {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let document = if self.build.is_empty() {
            Document::from_text("demo", input::DEMO)
        } else {
            Document::from_bytes("build", &fs::read(kept(self.build)).unwrap())
        };
        let outcome = input::read(&document, &[], &|reference| {
            let bytes = fs::read(root.join("maps").join(&reference.path)).unwrap();
            map_file::read(&reference.path, &bytes).map(Arc::new)
        });
        outcome.installation.unwrap()
    }

    fn moved(&self, nominal: &Installation, z: &[f64]) -> Installation {
        let mut moved = nominal.clone();
        for ((.., by_hand), z) in self.inputs.iter().zip(z) {
            by_hand(&mut moved, *z);
        }
        moved
    }

    /// Every answer of all draws. Draws start from the nominal match; every fiftieth is solved from
    /// rest too, and has to be the same match.
    fn draws(&self) -> Vec<Answers> {
        let nominal = self.installation();
        let mut out = Match::default();
        let near = Solver::new(&nominal)
            .unwrap()
            .solve(self.rpm, &mut out)
            .unwrap();
        (0..DRAWS)
            .into_par_iter()
            .map(|draw| {
                let z = normals(draw, self.inputs.len());
                let moved = self.moved(&nominal, &z);
                let found = solve(&moved, self.rpm, Some(&near));
                if draw % 50 == 0 {
                    let from_rest = solve(&moved, self.rpm, None);
                    // Both meet their balances to 1e-9, and an answer can be a hundred times steeper.
                    for (a, b) in found.iter().zip(from_rest) {
                        let same = a.zip(b).is_none_or(|(a, b)| (a / b - 1.0).abs() < 1e-7);
                        assert!(same, "{} rpm, draw {draw}: {a:?} and {b:?}", self.rpm);
                    }
                }
                found
            })
            .collect()
    }

    /// Standard deviation by first order, central differences solved by hand.
    fn linear(&self, answer: usize) -> f64 {
        let nominal = self.installation();
        let side = |input: usize, z: f64| {
            let mut all = vec![0.0; self.inputs.len()];
            all[input] = z;
            solve(&self.moved(&nominal, &all), self.rpm, None)[answer].unwrap()
        };
        let effects = (0..self.inputs.len()).map(|i| 0.5 * (side(i, 1.0) - side(i, -1.0)));
        effects.map(|effect| effect * effect).sum::<f64>().sqrt()
    }
}

/// Names in the JSON, in the order of [`solve`].
const NAMES: [&str; 7] = [
    "air_mass_flow_kg_s",
    "manifold_pressure_pa",
    "boost_pa",
    "brake_power_w",
    "exhaust_temperature_k",
    "drive_pressure_pa",
    "surge_margin",
];

type Answers = [Option<f64>; 7];

fn solve(installation: &Installation, rpm: f64, near: Option<&Neighbour>) -> Answers {
    let mut solver = Solver::new(installation).unwrap();
    let mut found = Match::default();
    match near {
        Some(near) => solver.solve_near(rpm, near, &mut found),
        None => solver.solve(rpm, &mut found),
    }
    .unwrap();
    let layout = solver.layout();
    let at = layout
        .stations
        .iter()
        .position(|station| station.name == "turbine inlet")
        .unwrap();
    let margin = layout
        .stages
        .iter()
        .zip(&found.stages)
        .find_map(|((_, part), stage)| {
            let Part::TurboCompressor(turbo) = &installation.air_path[*part] else {
                return None;
            };
            let surge = turbo
                .map
                .as_ref()?
                .surge_flow_at_ratio(stage.pressure_ratio)?;
            let flow = CorrectedFlow(stage.corrected_flow?).0;
            Some((flow - surge) / flow)
        });
    [
        Some(found.air_mass_flow),
        Some(found.manifold_pressure),
        Some(found.manifold_pressure - installation.site.pressure),
        found.engine.brake_power,
        Some(found.stations[at].temperature),
        Some(found.stations[at].pressure),
        margin,
    ]
}

/// Standard normal values by Box and Muller's formula from xorshift64* (Vigna 2016; from memory).
fn normals(draw: u64, count: usize) -> Vec<f64> {
    let mut state = (draw + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut even = || {
        state ^= state >> 12;
        state ^= state << 25;
        state ^= state >> 27;
        let bits = state.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 11;
        (bits as f64 + 0.5) / (1_u64 << 53) as f64
    };
    // The first values of neighbouring seeds are alike.
    for _ in 0..20 {
        even();
    }
    let mut pair = || (-2.0 * even().ln()).sqrt() * (std::f64::consts::TAU * even()).cos();
    (0..count).map(|_| pair()).collect()
}

/// What the draws of one answer say.
struct Statistics {
    deviation: f64,
    /// Its standard error.
    deviation_error: f64,
    sorted: Vec<f64>,
}

impl Statistics {
    fn of(mut values: Vec<f64>) -> Self {
        values.sort_by(f64::total_cmp);
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let moment = |power| values.iter().map(|v| (v - mean).powi(power)).sum::<f64>() / count;
        let variance = moment(2);
        let kurtosis = moment(4) / (variance * variance);
        let deviation = (variance * count / (count - 1.0)).sqrt();
        Self {
            deviation,
            deviation_error: deviation * ((kurtosis - 1.0) / (4.0 * count)).sqrt(),
            sorted: values,
        }
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a place in a list"
    )]
    fn quantile(&self, p: f64) -> f64 {
        let at = (p * self.sorted.len() as f64).round() as usize;
        self.sorted[at.min(self.sorted.len() - 1)]
    }

    /// Standard error of the p-quantile of `count` draws; the density from a slice around it.
    fn quantile_error(&self, p: f64, count: f64) -> f64 {
        let slice = self.quantile(p + 0.01) - self.quantile(p - 0.01);
        (p * (1.0 - p) / count).sqrt() * slice / 0.02
    }
}

/// An answer that all inputs leave as it is, such as the boost that a gate holds.
const STANDS: f64 = 1e-7;

/// Holds the bands of a case to the draws; returns how many answers are linear and sampled.
fn compare(case: &Case) -> (usize, usize) {
    let bands = case.bands();
    let draws = case.draws();
    let (mut linear, mut sampled) = (0, 0);
    for (i, name) in NAMES.into_iter().enumerate() {
        let band = &bands[name];
        let values: Vec<f64> = draws.iter().filter_map(|all| all[i]).collect();
        if band.is_null() {
            assert!(values.is_empty(), "{name} has no band");
            continue;
        }
        assert_eq!(values.len(), draws.len(), "{name}");
        let number = |key: &str| band[key].as_f64().unwrap();
        let drawn = Statistics::of(values);
        let u = number("standard_uncertainty");
        let is_linear = band["method"] == "linear";
        if drawn.deviation < STANDS * number("value").abs() {
            assert!(u < STANDS * number("value").abs(), "{name} stands: {u}");
            continue;
        }
        let place = format!("{} {} rpm {name}", case.build, case.rpm);
        println!(
            "{place}: {} u {u:.6e}, drawn {:.6e}, {:+.2} % ({:.2} % is one error); low {:+.3}, high {:+.3} u off",
            band["method"],
            drawn.deviation,
            100.0 * (u / drawn.deviation - 1.0),
            100.0 * drawn.deviation_error / drawn.deviation,
            (number("low") - drawn.quantile(0.025)) / u,
            (number("high") - drawn.quantile(0.975)) / u
        );
        // A sampled band has the error of its own draws too.
        let own = if is_linear {
            f64::INFINITY
        } else {
            bands["samples"].as_f64().unwrap()
        };
        let more = (1.0 + draws.len() as f64 / own).sqrt();
        assert!(
            (u - drawn.deviation).abs() <= ERRORS * drawn.deviation_error * more,
            "{place}: {u} and {}",
            drawn.deviation
        );
        for (key, p) in [("low", 0.025), ("high", 0.975)] {
            let all = draws.len() as f64;
            let error = drawn
                .quantile_error(p, all)
                .hypot(drawn.quantile_error(p, own));
            // A linear band's end may lie 10 % of its half width off; that is what it promises.
            let promised = if is_linear { 0.10 * 1.96 * u } else { 0.0 };
            // What a gate holds is held to what the solver leaves.
            let promised = promised + STANDS * number("value").abs();
            let off = (number(key) - drawn.quantile(p)).abs();
            assert!(
                off <= ERRORS * error + promised,
                "{place}: {key} is {off} off, error {error}"
            );
        }
        if is_linear {
            linear += 1;
        } else {
            sampled += 1;
        }
    }
    (linear, sampled)
}

#[test]
fn linear_bands_of_three_builds_agree_with_100_000_matches_within_their_sampling_error() {
    for case in [
        Case {
            build: "",
            rpm: 1600.0,
            inputs: DEMO,
        },
        Case {
            build: "builds/marine_diesel.toml",
            rpm: 1200.0,
            inputs: MARINE,
        },
        Case {
            build: "builds/petrol_screw.toml",
            rpm: 5000.0,
            inputs: PETROL,
        },
    ] {
        let (linear, sampled) = compare(&case);
        assert!(
            linear >= 4 && sampled == 0,
            "{}: {linear} linear, {sampled} sampled",
            case.build
        );
    }
}

/// The demo's gate opens at 2598 rpm: 8 rpm below it the gate holds in many draws and not in others.
#[test]
fn just_below_a_gate_the_linear_band_says_that_it_does_not_hold_and_samples_agree() {
    let case = Case {
        build: "",
        rpm: 2590.0,
        inputs: DEMO,
    };
    let bands = case.bands();
    for name in NAMES {
        assert_eq!(bands[name]["method"], "sampled", "{name}");
        let why = bands[name]["why_not_linear"].as_str().unwrap();
        assert!(why.contains("the wastegate holds the boost"), "{why}");
    }
    let (linear, sampled) = compare(&case);
    assert_eq!((linear, sampled), (0, NAMES.len()));
    // It is right to say so: first order is off by far more than the sampling error.
    let drawn = Statistics::of(case.draws().iter().map(|all| all[1].unwrap()).collect());
    let first_order = case.linear(1);
    println!(
        "manifold: first order {first_order:.1}, drawn {:.1} Pa",
        drawn.deviation
    );
    assert!((first_order - drawn.deviation).abs() > 20.0 * drawn.deviation_error);
}

/// At 1543 rpm the marine diesel's rotors, which have no bypass, are just about to be in the way.
#[test]
fn at_a_hand_over_the_linear_band_says_that_it_does_not_hold_and_samples_agree() {
    let case = Case {
        build: "builds/marine_diesel.toml",
        rpm: 1543.0,
        inputs: MARINE,
    };
    let bands = case.bands();
    let why = bands["manifold_pressure_pa"]["why_not_linear"]
        .as_str()
        .unwrap();
    assert!(why.contains("the supercharger"), "{why}");
    let (linear, sampled) = compare(&case);
    assert!(
        linear == 0 && sampled >= 5,
        "{linear} linear, {sampled} sampled"
    );
}
