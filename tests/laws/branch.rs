//! The branch that an engine follows as it speeds up: events, jumps and other balances, whatever the
//! step of the line; and the way down.

use crate::{random_builds, table};
use std::path::Path;
use std::sync::Arc;

use airpath::input::{self, Document, Override, map_file};
use airpath::matching::{Drive, GateState, Installation, Match, Solver};
use airpath::study::{self, Branch, Event, EventKind, OperatingLine};
use random_builds::{Maps, draw};
use rayon::prelude::*;

/// An invented build of tests/builds/, with values laid over it.
fn built(name: &str, set: &[&str]) -> Installation {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/builds");
    let path = folder.join(format!("{name}.toml"));
    let text = std::fs::read_to_string(path).unwrap();
    read(&Document::from_text(name, &text), set)
}

fn demo(set: &[&str]) -> Installation {
    read(&Document::from_text(input::DEMO_NAME, input::DEMO), set)
}

fn read(document: &Document, set: &[&str]) -> Installation {
    let overrides: Vec<_> = set
        .iter()
        .map(|one| Override::parse(one).unwrap())
        .collect();
    let map = |_: &input::MapReference| {
        map_file::read("map.csv", input::STARTER_MAP.as_bytes()).map(Arc::new)
    };
    input::read(document, &overrides, &map)
        .installation
        .unwrap()
}

/// Random builds, each over a range of speeds of its own.
fn random(seeds: std::ops::Range<u64>) -> Vec<(u64, Installation)> {
    let maps = Maps::new();
    let one = |seed: u64| {
        let (mut installation, rpm) = draw(seed, &maps);
        installation.engine.speeds.from = 0.6 * rpm;
        installation.engine.speeds.to = 0.6 * rpm + 1500.0;
        (seed, installation)
    };
    seeds.map(one).collect()
}

fn with_step(installation: &Installation, step: f64) -> OperatingLine {
    let mut other = installation.clone();
    other.engine.speeds.step = step;
    study::run(&other).unwrap()
}

fn what(events: &[Event]) -> Vec<std::mem::Discriminant<EventKind>> {
    events
        .iter()
        .map(|event| std::mem::discriminant(&event.what))
        .collect()
}

fn is_working(found: &Match) -> bool {
    let stage = found.stages.iter().find(|stage| stage.drive == Drive::Belt);
    stage.is_some_and(|stage| stage.pressure_ratio > 1.0 + 1e-9)
}

/// Between two rows the supercharger's ratio crosses 1 as often as hand-overs say, counted odd or
/// even; a hand-over within a revolution of a row may stand on either side of it.
fn hand_overs_fit_the_rows(line: &OperatingLine, seed: u64) {
    let beside = |rpm: f64| line.hand_over.iter().any(|one| (one.rpm - rpm).abs() < 1.0);
    for pair in line.points.windows(2) {
        let (Ok(low), Ok(high)) = (&pair[0].outcome, &pair[1].outcome) else {
            continue;
        };
        let is_lost = |event: &Event| {
            matches!(event.what, EventKind::Lost | EventKind::Found)
                && event.rpm > low.rpm
                && event.rpm < high.rpm
        };
        if beside(low.rpm) || beside(high.rpm) || line.events.iter().any(is_lost) {
            continue;
        }
        let between = line
            .hand_over
            .iter()
            .filter(|one| one.rpm > low.rpm && one.rpm < high.rpm);
        let changed = is_working(low) != is_working(high);
        assert_eq!(
            changed,
            between.count() % 2 == 1,
            "seed {seed}: {} to {}",
            low.rpm,
            high.rpm
        );
    }
}

/// Neighbouring rows differ by under 5 % of manifold pressure, or a jump lies between them, or they
/// stand within a revolution.
fn rows_are_close(line: &OperatingLine, seed: u64) {
    let jumps = line.jumps();
    for pair in line.points.windows(2) {
        if let (Ok(low), Ok(high)) = (&pair[0].outcome, &pair[1].outcome) {
            let change = (high.manifold_pressure / low.manifold_pressure - 1.0).abs();
            let is_jump = jumps.contains(&(low.rpm, high.rpm));
            let is_close = change <= 0.05 || is_jump || high.rpm - low.rpm <= 1.0;
            assert!(
                is_close,
                "seed {seed}: {change:.3} from {} to {}",
                low.rpm, high.rpm
            );
        }
    }
}

#[test]
fn events_and_rows_do_not_hang_on_the_step_of_the_table() {
    let one = |(seed, installation): &(u64, Installation)| {
        let lines = [25.0, 100.0, 500.0].map(|step| with_step(installation, step));
        for line in &lines {
            rows_are_close(line, *seed);
            hand_overs_fit_the_rows(line, *seed);
            assert_eq!(what(&line.events), what(&lines[0].events), "seed {seed}");
            for (one, other) in line.events.iter().zip(&lines[0].events) {
                assert!((one.rpm - other.rpm).abs() < 1.0, "seed {seed}");
            }
        }
        lines[0].events.len()
    };
    let events: usize = random(60_000..60_200).par_iter().map(one).sum();
    assert!(events > 100, "only {events} events were seen");
}

#[test]
fn a_point_is_the_row_of_the_line_at_its_speed() {
    let one = |(seed, installation): &(u64, Installation)| {
        let line = with_step(installation, 300.0);
        for found in line.matches() {
            let mut alone = Match::default();
            let mut branch = Branch::upward(installation).unwrap();
            branch.at(found.rpm, &mut alone).unwrap();
            let apart = (alone.air_mass_flow / found.air_mass_flow - 1.0).abs();
            assert!(apart < 1e-7, "seed {seed} at {}: {apart:e}", found.rpm);
        }
    };
    random(61_000..61_060).par_iter().for_each(one);
}

#[test]
fn the_match_from_rest_is_among_all_balances_and_each_is_met() {
    let one = |(seed, installation): &(u64, Installation)| {
        let mut solver = Solver::new(installation).unwrap();
        let rpm = installation.engine.speeds.from + 400.0;
        let mut found = Match::default();
        if installation.turbines.len() != 1 || solver.solve(rpm, &mut found).is_err() {
            return 0;
        }
        let all = solver.balances(rpm).unwrap();
        let same = |one: &&Match| (one.air_mass_flow / found.air_mass_flow - 1.0).abs() < 1e-6;
        assert!(
            all.iter().any(|one| same(&one)),
            "seed {seed}: {} balances",
            all.len()
        );
        for one in &all {
            assert!(one.residuals.largest() < 1e-9, "seed {seed}");
        }
        1
    };
    let compared: usize = random(62_000..62_300).par_iter().map(one).sum();
    assert!(compared > 150, "only {compared} were compared");
}

/// The march is a solution of its own (tests/reference/match/march.py): a shaft that is let go, with
/// a gate that does at once what its boost asks. Pressures within the 0.2 % of the other reference
/// matches; both find a jump within a revolution, and a fold's own speed moves by 0.1 % with the gas
/// data, because it stands where the balance is singular.
fn agrees_with_the_march(name: &str) {
    let installation = built(name, &[]);
    let line = study::run(&installation).unwrap();
    let mut branch = Branch::upward(&installation).unwrap();
    let rows = table::rows("match/march.csv");
    let of = |direction: &'static str| {
        let rows = rows.iter();
        rows.filter(move |row| row.text("build") == name && row.text("direction") == direction)
    };
    let jump = |direction| {
        let mut jumped = of(direction).filter(|row| row.text("jumped") == "yes");
        jumped.next().unwrap().number("rpm")
    };
    let (up, down) = (jump("up"), jump("down"));
    let close = |one: f64, other: f64| (one - other).abs() < 2e-3 * other;
    assert_eq!(line.jumps.len(), 1, "{:?}", line.jumps);
    assert!(close(line.jumps[0].after, up), "{:?} for {up}", line.jumps);
    let [band] = line.hysteresis.as_slice() else {
        panic!("{:?}", line.hysteresis);
    };
    assert!(
        close(band.from, down) && close(band.to, up),
        "{band:?} for {down} to {up}"
    );
    assert!(band.to - band.from > 300.0);
    let mut compared = 0;
    for row in of("up") {
        let rpm = row.number("rpm");
        if (rpm / up - 1.0).abs() < 3e-3 {
            continue;
        }
        let mut found = Match::default();
        branch.at(rpm, &mut found).unwrap();
        let wanted = row.number("manifold_pa");
        assert!(
            close(found.manifold_pressure, wanted),
            "{rpm}: {} for {wanted}",
            found.manifold_pressure
        );
        let gate = match row.text("gate") {
            "shut" => GateState::Shut,
            "holding" => GateState::Holding,
            "wide open" => GateState::WideOpen,
            _ => GateState::None,
        };
        assert_eq!(found.turbines[0].gate, gate, "{rpm}");
        compared += 1;
    }
    assert!(compared > 20);
    // Where the ways differ, the way down stands in another balance of those named.
    for row in of("down") {
        let rpm = row.number("rpm");
        if rpm < 1.01 * down || rpm > 0.99 * up {
            continue;
        }
        let mut found = Match::default();
        branch.at(rpm, &mut found).unwrap();
        branch.solver().find_others(&mut found);
        let wanted = row.number("manifold_pa");
        let named = found
            .others
            .iter()
            .any(|other| close(other.manifold_pressure, wanted));
        assert!(named, "{rpm}: {:?} for {wanted}", found.others);
    }
}

#[test]
fn a_gate_with_two_balances_is_followed_as_a_shaft_goes() {
    agrees_with_the_march("two_balances_gate");
}

#[test]
fn a_fold_below_a_limit_is_followed_as_a_shaft_goes() {
    agrees_with_the_march("two_balances_fold");
}

#[test]
fn a_fold_without_a_gate_is_followed_as_a_shaft_goes() {
    agrees_with_the_march("two_balances_rack");
}

#[test]
fn a_way_down_that_does_not_differ_is_no_hysteresis() {
    let line = study::run(&demo(&[])).unwrap();
    assert!(line.hysteresis.is_empty() && line.jumps.is_empty());
}

/// Steps of the climb are solved loosely; where one stands on the balance itself its excess may
/// have either sign, and then the bracket around the balance closed on nothing. The altitude puts
/// the balance of this build onto a step of the climb.
#[test]
fn a_balance_on_a_step_of_the_climb_is_found() {
    let mut found = Match::default();
    for step in 0..400 {
        let altitude = 327.0 + 0.004 * f64::from(step);
        let set = format!("site.altitude={altitude} m");
        let installation = demo(&["supercharger.drive_ratio=2.005", &set]);
        let mut solver = Solver::new(&installation).unwrap();
        let solved = solver.solve(1200.0, &mut found);
        assert!(solved.is_ok(), "{altitude} m: {solved:?}");
    }
}

/// Two gates on one pressure and one limit leave open which of them moves; the rule says the later.
#[test]
fn which_of_two_equal_gates_holds_does_not_hang_on_where_the_solver_comes_from() {
    let installation = built(
        "two_turbos",
        &[
            "turbine.1.wastegate.boost_limit=90 kPa",
            "turbine.1.wastegate.largest_share=0.5",
            "turbine.2.wastegate.boost_limit=90 kPa",
            "turbine.2.wastegate.largest_share=0.3",
        ],
    );
    let mut solver = Solver::new(&installation).unwrap();
    let (mut cold, mut warm) = (Match::default(), Match::default());
    let gates = |found: &Match| {
        found
            .turbines
            .iter()
            .map(|one| one.gate)
            .collect::<Vec<_>>()
    };
    let mut held = 0;
    for rpm in [1600.0, 1800.0, 2000.0, 2200.0, 2400.0, 2600.0] {
        if solver.solve(rpm, &mut cold).is_err() {
            continue;
        }
        for from in [-300.0, -60.0, 60.0, 300.0] {
            let Ok(near) = solver.solve(rpm + from, &mut warm) else {
                continue;
            };
            solver.solve_near(rpm, &near, &mut warm).unwrap();
            assert_eq!(gates(&warm), gates(&cold), "{rpm} from {from:+}");
            let apart = (warm.air_mass_flow / cold.air_mass_flow - 1.0).abs();
            assert!(apart < 1e-7, "{rpm} from {from:+}: {apart:e}");
        }
        held += usize::from(gates(&cold).contains(&GateState::Holding));
    }
    assert!(held > 1, "no gate held");
}
