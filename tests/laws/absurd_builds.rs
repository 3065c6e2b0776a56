//! Builds drawn from ranges far wider than any engine: whatever balances and is not flagged is an
//! engine that could exist.

use crate::random_builds;
use std::collections::BTreeMap;

use airpath::air_path::{Duct, DuctPressureDrop, Part, RatedDrop, SuperchargerKind};
use airpath::engine::Fuelling;
use airpath::exhaust::Swallowing;
use airpath::finding::{Code, Extra, Finding, Severity, of_match};
use airpath::matching::{Installation, Layout, Match, Solver, StationPlace};
use airpath::numeric::Schedule;
use random_builds::{Draw, Maps, draw};
use rayon::prelude::*;

const BUILDS: u64 = 20_000;
/// Keeps these builds apart from those that other tests draw.
const SEEDS_FROM: u64 = 7_000_000;

/// A random build with some of its figures moved by up to two orders of magnitude.
fn absurd(seed: u64, maps: &Maps) -> (Installation, f64) {
    let (mut build, mut rpm) = draw(seed, maps);
    let d = &mut Draw::new(seed ^ 0x5EED_AB5D);
    rpm *= wide(d, 0.3, 3.0);
    let engine = &mut build.engine;
    engine.displacement *= wide(d, 0.2, 10.0);
    if d.chance(0.3) {
        engine.volumetric_efficiency = Schedule::constant(d.from(0.1, 2.5));
    }
    if let Some(combustion) = &mut engine.combustion
        && d.chance(0.3)
    {
        combustion.gross_indicated_efficiency = Schedule::constant(d.from(0.02, 0.75));
        combustion.heat_loss_share = Schedule::constant(d.from(0.0, 0.9));
    }
    if d.chance(0.3) {
        engine.friction.constant *= d.from(0.0, 30.0);
    }
    if let Some(fuel) = &mut build.fuel {
        let factor = wide(d, 0.1, 10.0);
        match &mut fuel.burned {
            Fuelling::AirFuelRatio(table)
            | Fuelling::Lambda(table)
            | Fuelling::Flow(table)
            | Fuelling::PerStroke { mass: table, .. } => *table = table.mapped(|x| x * factor),
        }
    }
    for part in &mut build.air_path {
        distort(part, d);
    }
    for turbine in &mut build.turbines {
        if let Swallowing::Area { effective_area, .. } = &mut turbine.swallowing {
            *effective_area *= wide(d, 0.05, 20.0);
        }
        if let Some(gate) = &mut turbine.wastegate {
            let factor = wide(d, 0.1, 10.0);
            gate.boost_limit = gate.boost_limit.mapped(|x| x * factor);
        }
    }
    if let Some(pipe) = &mut build.exhaust {
        thicken(&mut pipe.pressure_drop, d);
    }
    (build, rpm)
}

/// 1 two times of three, else log-uniform between two ends.
fn wide(d: &mut Draw, low: f64, high: f64) -> f64 {
    if d.chance(0.67) {
        1.0
    } else {
        d.from(low.ln(), high.ln()).exp()
    }
}

/// As if rated at a fraction or a multiple of its flow.
fn thicken(drop: &mut RatedDrop, d: &mut Draw) {
    drop.coefficient *= wide(d, 0.01, 1000.0);
    let flow = wide(d, 0.02, 5.0);
    drop.coefficient /= flow * flow;
    drop.at_flow = drop.at_flow.map(|at| at * flow);
}

fn distort(part: &mut Part, d: &mut Draw) {
    match part {
        Part::Filter(drop)
        | Part::Throttle(drop)
        | Part::Duct(Duct {
            pressure_drop: DuctPressureDrop::Rated(drop),
        }) => thicken(drop, d),
        Part::Duct(Duct {
            pressure_drop: DuctPressureDrop::Pipe { diameter, .. },
        }) => *diameter *= wide(d, 0.15, 3.0),
        Part::Cooler(cooler) => thicken(&mut cooler.pressure_drop, d),
        Part::Supercharger(stage) => match &mut stage.kind {
            SuperchargerKind::Displacement(machine) => {
                machine.displacement *= wide(d, 0.1, 10.0);
                machine.indicated_efficiency *= wide(d, 0.2, 1.0);
            }
            SuperchargerKind::Centrifugal(machine) => machine.belt.ratio *= wide(d, 0.3, 2.0),
            SuperchargerKind::Prescribed(_) => {}
        },
        Part::TurboCompressor(_) => {}
    }
}

/// Why a match that nothing is held against is no engine; `None` where it is one.
fn impossible(build: &Installation, layout: &Layout, found: &Match) -> Option<String> {
    let site = build.site.pressure;
    let manifold = found.station(layout, StationPlace::Manifold)?.pressure / site;
    let inlet = found.station(layout, StationPlace::TurbineInlet(0));
    let exhaust = inlet.or_else(|| found.station(layout, StationPlace::Exhaust));
    let celsius = exhaust.map(|state| state.temperature - 273.15);
    let power = found.engine.brake_power;
    let left = found.residuals;
    let checks = [
        ("brake power", power.is_none_or(|power| power > 0.0)),
        ("manifold", (0.5..=8.0).contains(&manifold)),
        (
            "exhaust",
            celsius.is_none_or(|t| (400.0..=1300.0).contains(&t)),
        ),
        (
            "residuals",
            left.flow < 1e-8 && left.power < 1e-8 && left.pressure < 1e-8,
        ),
    ];
    let (what, _) = checks.iter().find(|(_, holds)| !holds)?;
    Some(format!(
        "{what}: power {power:?} W, manifold {manifold:.2} of the site, exhaust {celsius:?} °C, {left:?}"
    ))
}

/// What came of one build: no match, flagged with these codes, or clean, with what is wrong with it.
enum Came {
    NoMatch,
    Flagged(Vec<Code>),
    Clean(Option<String>),
}

fn look(seed: u64, maps: &Maps) -> Came {
    let (build, rpm) = absurd(seed, maps);
    let Ok(mut solver) = Solver::new(&build) else {
        return Came::NoMatch;
    };
    let mut found = Match::default();
    if solver.solve(rpm, &mut found).is_err() {
        return Came::NoMatch;
    }
    let list = of_match(&build, solver.layout(), &found, &Extra::default());
    let flags =
        |finding: &&Finding| matches!(finding.severity, Severity::Over | Severity::OutsideData);
    let codes: Vec<_> = list.iter().filter(flags).map(|one| one.code).collect();
    if codes.is_empty() {
        Came::Clean(impossible(&build, solver.layout(), &found))
    } else {
        Came::Flagged(codes)
    }
}

#[test]
fn what_balances_and_is_not_flagged_could_exist() {
    let maps = Maps::new();
    let all: Vec<(u64, Came)> = (SEEDS_FROM..SEEDS_FROM + BUILDS)
        .into_par_iter()
        .map(|seed| (seed, look(seed, &maps)))
        .collect();
    let (mut clean, mut flagged) = (0, 0);
    let mut counts: BTreeMap<Code, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    for (seed, came) in all {
        match came {
            Came::NoMatch => {}
            Came::Flagged(codes) => {
                flagged += 1;
                for code in codes {
                    *counts.entry(code).or_default() += 1;
                }
            }
            Came::Clean(why) => {
                clean += 1;
                wrong.extend(why.map(|why| format!("build {seed}: {why}")));
            }
        }
    }
    println!("{clean} clean, {flagged} flagged: {counts:?}");
    assert!(
        wrong.is_empty(),
        "{} of {clean}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    // The draw is worth something only where it reaches both sides and every such check.
    assert!(
        clean > 500 && flagged > 2000,
        "{clean} clean, {flagged} flagged"
    );
    for code in [
        Code::NoBrakePower,
        Code::ManifoldBelowSite,
        Code::ExhaustBeyondMaterial,
        Code::ExhaustTooCold,
        Code::StagePressureRatio,
        Code::PressureLoss,
        Code::FlowBeyondRating,
        Code::DuctMach,
    ] {
        assert!(
            counts.contains_key(&code),
            "{code:?} never found: {counts:?}"
        );
    }
}
