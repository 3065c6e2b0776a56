//! The branch that an engine follows as it speeds up: events, jumps and other balances, whatever the
//! step of the line.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used)]

#[path = "support/random_builds.rs"]
mod random_builds;
#[path = "support/recipe.rs"]
mod recipe;

use airpath::matching::{Installation, Match, Solver};
use airpath::study::{self, Branch, Event, Line, What};
use random_builds::{Maps, draw};

fn with_step(installation: &Installation, step: f64) -> Installation {
    let mut other = installation.clone();
    other.engine.speeds.step = step;
    other
}

/// Random builds with a turbine or a supercharger, over a range of speeds of their own.
fn builds(seeds: std::ops::Range<u64>) -> impl Iterator<Item = (u64, Installation)> {
    let maps = Maps::new();
    seeds.map(move |seed| {
        let (mut installation, rpm) = draw(seed, &maps);
        installation.engine.speeds.from = 0.6 * rpm;
        installation.engine.speeds.to = 0.6 * rpm + 1500.0;
        (seed, installation)
    })
}

fn told(events: &[Event]) -> Vec<String> {
    events
        .iter()
        .map(|event| format!("{:?}", event.what))
        .collect()
}

fn is_working(found: &Match) -> bool {
    use airpath::matching::Drive;
    let stage = found.stages.iter().find(|stage| stage.drive == Drive::Belt);
    stage.is_some_and(|stage| stage.pressure_ratio > 1.0 + 1e-9)
}

/// Between two rows the supercharger changes its part as often as hand-overs say.
fn hand_overs_fit_the_rows(line: &Line, seed: u64) {
    for pair in line.points.windows(2) {
        let (Ok(low), Ok(high)) = (&pair[0].outcome, &pair[1].outcome) else {
            continue;
        };
        let between = line.hand_over.iter();
        let count = between
            .filter(|hand_over| hand_over.rpm > low.rpm && hand_over.rpm <= high.rpm)
            .count();
        // A hand-over within its half revolution of a row may stand on either side of it.
        let on_a_row = |rpm: f64| line.hand_over.iter().any(|h| (h.rpm - rpm).abs() < 1.0);
        if !on_a_row(low.rpm) && !on_a_row(high.rpm) {
            let changed = is_working(low) != is_working(high);
            assert_eq!(
                changed,
                count % 2 == 1,
                "seed {seed}: {} to {}",
                low.rpm,
                high.rpm
            );
        }
    }
}

#[test]
fn explore() {
    let mut jumps = 0;
    let mut bands = 0;
    let only: Option<u64> = std::env::var("SEED").ok().map(|s| s.parse().unwrap());
    let range = only.map_or(60_000..60_200, |s| s..s + 1);
    for (seed, installation) in builds(range) {
        let t = std::time::Instant::now();
        let line = study::run(&installation).unwrap();
        let ms = t.elapsed().as_millis();
        let lost = line
            .events
            .iter()
            .filter(|e| matches!(e.what, What::Lost | What::Found))
            .count();
        jumps += line.jumps.len();
        bands += line.hysteresis.len();
        let others = line.matches().filter(|m| !m.others.is_empty()).count();
        if !line.jumps.is_empty()
            || lost > 0
            || ms > 60
            || others > 0
            || !line.hysteresis.is_empty()
        {
            println!(
                "{seed}: {} ms, {} points, jumps {:?}, lost {lost}, others {others}, bands {:?}",
                ms,
                line.points.len(),
                line.jumps,
                line.hysteresis
            );
        }
        hand_overs_fit_the_rows(&line, seed);
    }
    println!("{jumps} jumps, {bands} bands");
}

#[test]
fn events_and_hand_over_do_not_hang_on_the_step_of_the_table() {
    for (seed, installation) in builds(60_000..60_040) {
        let [fine, middle, coarse] =
            [25.0, 100.0, 500.0].map(|step| study::run(&with_step(&installation, step)).unwrap());
        for other in [&middle, &coarse] {
            assert_eq!(told(&fine.events), told(&other.events), "seed {seed}");
            for (one, other) in fine.events.iter().zip(&other.events) {
                assert!((one.rpm - other.rpm).abs() < 1.0, "seed {seed}");
            }
        }
        hand_overs_fit_the_rows(&fine, seed);
    }
}

#[test]
fn the_match_from_rest_is_among_all_balances() {
    let _ = |solver: &mut Solver, b: &mut Branch| {
        let _ = (solver, b);
    };
}

#[test]
fn show() {
    let only: u64 = std::env::var("SEED").unwrap().parse().unwrap();
    for (_, i) in builds(only..only + 1) {
        println!(
            "{:#?}",
            i.air_path
                .iter()
                .map(|p| format!("{p:?}").chars().take(300).collect::<String>())
                .collect::<Vec<_>>()
        );
        println!("{:#?}", i.turbines);
        println!("{:?} {:?}", i.engine, i.fuel);
        let mut s = Solver::new(&i).unwrap();
        let mut m = Match::default();
        for k in 0..30 {
            let rpm = i.engine.speeds.from + 50.0 * f64::from(k);
            let t = std::time::Instant::now();
            let r = s.solve(rpm, &mut m);
            println!(
                "{rpm:.1} {:?} {:?} {:?}",
                r.map(|_| m.manifold_pressure),
                m.stages
                    .iter()
                    .map(|s| (s.pressure_ratio, s.bypass))
                    .collect::<Vec<_>>(),
                t.elapsed()
            );
        }
    }
}
