//! Random builds: most match, the rest end in a named reason, and nothing is ever NaN.

use crate::{random_builds, random_coolers};
use std::collections::BTreeMap;

use airpath::exhaust::BoostAt;
use airpath::matching::{GateState, Installation, Match, MatchError, Solver};
use airpath::numeric::crossing::crossings;
use random_builds::{Maps, draw};
use random_coolers::draw_coolers;

/// Every number of a match.
fn numbers(m: &Match) -> Vec<f64> {
    let mut all = vec![m.rpm, m.air_mass_flow];
    all.extend(
        [m.fuel_mass_flow, m.air_fuel_ratio, m.lambda]
            .into_iter()
            .flatten(),
    );
    for s in &m.stations {
        all.extend([
            s.pressure,
            s.temperature,
            s.density,
            s.enthalpy,
            s.mass_flow,
        ]);
    }
    for s in &m.coolers {
        all.extend([s.effectiveness, s.heat, s.pressure_drop, s.sink_temperature]);
        all.extend(s.flow_limit);
        if let Some(it) = &s.exchanger {
            all.extend([it.conductance, it.transfer_units, it.heat_effectiveness]);
            all.extend([it.sink_flow, it.sink_outlet_temperature]);
        }
    }
    for s in &m.stages {
        all.extend([s.pressure_ratio, s.mass_flow, s.power_to_air]);
        all.extend(
            [s.efficiency, s.shaft_power, s.crank_power, s.speed]
                .into_iter()
                .flatten(),
        );
        all.extend([s.corrected_flow, s.corrected_speed].into_iter().flatten());
        all.extend([s.split_share, s.bypass_share].into_iter().flatten());
    }
    for c in &m.coolers {
        all.extend([c.effectiveness, c.heat, c.pressure_drop, c.density_gain]);
    }
    for t in &m.turbines {
        all.extend([t.expansion_ratio, t.mass_flow, t.power, t.efficiency]);
        all.extend(t.wastegate_share);
    }
    let e = &m.engine;
    all.push(e.volumetric_efficiency);
    all.extend(
        [e.gross_indicated_power, e.pumping_power, e.friction_power]
            .into_iter()
            .flatten(),
    );
    all.extend(
        [e.brake_power, e.torque, e.specific_consumption]
            .into_iter()
            .flatten(),
    );
    all.extend(e.peak_cylinder_pressure);
    all.extend([m.residuals.flow, m.residuals.power, m.residuals.pressure]);
    all.extend(m.energy.map(|energy| energy.imbalance()));
    for other in &m.others {
        all.extend([
            other.pressure_ratio,
            other.manifold_pressure,
            other.air_mass_flow,
        ]);
        all.extend(other.brake_power);
    }
    all
}

fn reason(error: &MatchError) -> &'static str {
    match error {
        MatchError::Speed { .. } => "speed",
        MatchError::Flow { .. } => "no flow balances",
        MatchError::Sink(_) => "sink of a cooler",
        MatchError::Soot { .. } => "held fuel leaves soot",
        MatchError::Unsettled { .. } => "balances do not meet",
        MatchError::RunsAway { .. } => "runs away",
        MatchError::NoWay { .. } => "runs away to where no flow balances",
        MatchError::NoScavenging { .. } => "no scavenging",
        MatchError::Stalls { .. } => "stalls",
        MatchError::Gate { .. } => "gate",
    }
}

/// A shut gate passes nothing below its limit, one that holds is at its limit, one that is wide open
/// passes its largest share at or above the limit.
fn gates_do_what_they_say(installation: &Installation, solver: &Solver, m: &Match, seed: u64) {
    let compressors: Vec<_> = (solver.layout().stages.iter().zip(&m.stages))
        .filter(|((name, _), _)| name.starts_with("turbo"))
        .map(|((name, _), _)| format!("{} outlet", name.replacen("turbo ", "", 1)))
        .collect();
    for (turbine, state) in installation.turbines.iter().zip(&m.turbines) {
        let Some(gate) = &turbine.wastegate else {
            assert_eq!(state.gate, GateState::None);
            continue;
        };
        let name = match gate.boost_at {
            BoostAt::Manifold => "manifold",
            BoostAt::CompressorOutlet => &compressors[turbine.drives],
        };
        let place = solver
            .layout()
            .stations
            .iter()
            .position(|s| s.name == name)
            .unwrap();
        let limit = installation.site.pressure + gate.boost_limit.at(m.rpm);
        let beyond = m.stations[place].pressure / limit - 1.0;
        let share = state.wastegate_share.unwrap();
        let largest = turbine.largest_share().unwrap();
        let agrees = match state.gate {
            GateState::None => false,
            GateState::Shut => share.abs() < f64::EPSILON && beyond < 2e-7,
            GateState::Holding => share <= largest && beyond.abs() < 1e-9,
            GateState::WideOpen => (share - largest).abs() < 1e-12 && beyond > -2e-7,
        };
        assert!(
            agrees,
            "seed {seed}: {:?} share {share} of {largest}, {beyond:e}",
            state.gate
        );
    }
}

#[test]
fn of_ten_thousand_random_builds_most_match_and_the_rest_say_why_not() {
    let maps = Maps::new();
    let mut out = Match::default();
    let mut counts: BTreeMap<&str, Vec<u64>> = BTreeMap::new();
    for seed in 0..10_000 {
        let (mut installation, rpm) = draw(seed, &maps);
        if seed % 2 == 1 {
            let flow = 1.2 * installation.engine.swept_flow(rpm);
            draw_coolers(&mut installation, seed, flow);
        }
        let mut solver = Solver::new(&installation).unwrap();
        match solver.solve(rpm, &mut out) {
            Ok(_) => {
                counts.entry("match").or_default().push(seed);
                assert!(
                    numbers(&out).iter().all(|x| x.is_finite()),
                    "seed {seed}: {out:?}"
                );
                assert!(
                    out.residuals.largest() < 1e-9,
                    "seed {seed}: {:?}",
                    out.residuals
                );
                let open = out.energy.map_or(0.0, |energy| energy.imbalance());
                assert!(open.abs() < 1e-9, "seed {seed}: {open:e}");
                gates_do_what_they_say(&installation, &solver, &out, seed);
                for t in 0..out.turbines.len() {
                    let inlet = out.stations[out.stations.len() - 2 * (out.turbines.len() - t)];
                    let outlet =
                        out.stations[out.stations.len() - 2 * (out.turbines.len() - t) + 1];
                    let rounding = 1.0 + 1e-9;
                    assert!(inlet.pressure * rounding >= outlet.pressure, "seed {seed}");
                    assert!(outlet.pressure * rounding >= installation.site.pressure);
                }
            }
            Err(error) => {
                let said = airpath::report::words::match_error(&error).to_string();
                assert!(!said.contains("NaN"), "seed {seed}: {said}");
                counts.entry(reason(&error)).or_default().push(seed);
            }
        }
    }
    for (what, seeds) in &counts {
        let first: Vec<_> = seeds.iter().take(8).collect();
        println!("{what}: {} (first seeds {first:?})", seeds.len());
    }
    assert!(
        counts["match"].len() >= 7_000,
        "{:?}",
        counts["match"].len()
    );
}

/// Random builds that have more than one balance, found by looking through 80,000.
const SEVERAL: [u64; 5] = [10_420, 31_208, 31_374, 40_316, 42_747];

/// A plain scan, ten times finer than the climb's, counts the changes of sign of the power balance
/// as far as the climb looked: to the limit, or to the end.
#[test]
fn on_two_hundred_random_builds_a_fine_scan_counts_the_same_equilibria() {
    let maps = Maps::new();
    let mut out = Match::default();
    let (mut looked, mut several) = (0, 0);
    for seed in SEVERAL.into_iter().chain(20_000..) {
        let (installation, rpm) = draw(seed, &maps);
        if installation.turbines.len() != 1 {
            continue;
        }
        let mut solver = Solver::new(&installation).unwrap();
        if solver.solve(rpm, &mut out).is_err() {
            continue;
        }
        let curve = solver.power_curve(rpm, 320).unwrap();
        let within = curve.iter().take_while(|point| point.beyond_limit < 1e-4);
        let counted = crossings(within.map(|point| (point.climb, point.excess))).len();
        assert_eq!(counted, out.equilibria, "seed {seed}");
        several += usize::from(counted > 1);
        looked += 1;
        if looked == 200 {
            break;
        }
    }
    println!("{several} of {looked} have more than one balance");
    assert!(several >= SEVERAL.len());
}

/// From 10 rpm below, a warm start gives what a climb from rest gives, but where a balance has come
/// up nearer to rest, which a warm start cannot see.
#[test]
fn a_warm_start_gives_what_a_cold_one_gives() {
    let maps = Maps::new();
    let (mut cold, mut warm) = (Match::default(), Match::default());
    let (mut compared, mut other_branch) = (0, 0);
    for seed in 40_000..41_500 {
        let (mut installation, rpm) = draw(seed, &maps);
        if seed % 2 == 1 {
            let flow = 1.2 * installation.engine.swept_flow(rpm);
            draw_coolers(&mut installation, seed, flow);
        }
        let mut solver = Solver::new(&installation).unwrap();
        let Ok(near) = solver.solve(rpm - 10.0, &mut warm) else {
            continue;
        };
        let followed = solver.solve_near(rpm, &near, &mut warm);
        let anew = solver.solve(rpm, &mut cold);
        if let (Ok(_), Ok(_)) = (followed, anew) {
            compared += 1;
            let apart = warm.air_mass_flow / cold.air_mass_flow - 1.0;
            if apart.abs() > 1e-8 {
                other_branch += 1;
                println!(
                    "seed {seed}: warm {} cold {}",
                    warm.air_mass_flow, cold.air_mass_flow
                );
            }
        }
    }
    println!("{compared} compared, {other_branch} on another branch");
    assert!(compared > 1200 && other_branch * 200 < compared);
}
