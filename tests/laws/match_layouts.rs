//! Every layout and every way of driving, on invented installations: what acts, what holds, and what
//! is said where there is no match.

use crate::{installations, looking};
use airpath::air_path::{Bypass, BypassAt, Filling, Part, Supercharger};
use airpath::engine::Fuelling;
use airpath::exhaust::{BoostAt, FlowLaw, GateOpening, Swallowing, TurbineEfficiency};
use airpath::matching::{
    BypassState, Drive, GateState, Installation, LayoutError, Match, MatchError, Solver,
};
use airpath::numeric::Schedule;
use approx::assert_relative_eq;
use installations::{displacement, installation};
use looking::{solved, station};

fn supercharger(installation: &mut Installation) -> &mut Supercharger {
    let found = installation
        .air_path
        .iter_mut()
        .find_map(|part| match part {
            Part::Supercharger(stage) => Some(&mut **stage),
            _ => None,
        });
    found.unwrap()
}

fn set_area(installation: &mut Installation, turbine: usize, effective_area: f64) {
    installation.turbines[turbine].swallowing = Swallowing::Area {
        effective_area,
        law: FlowLaw::Nozzle,
    };
}

fn set_limit(installation: &mut Installation, turbine: usize, limit: f64) {
    let gate = installation.turbines[turbine].wastegate.as_mut().unwrap();
    gate.boost_limit = Schedule::constant(limit);
}

fn boost(installation: &Installation, m: &Match) -> f64 {
    m.manifold_pressure - installation.site.pressure
}

fn said(error: &MatchError) -> String {
    airpath::report::words::match_error(error).to_string()
}

fn fault(installation: &Installation, rpm: f64) -> MatchError {
    let mut solver = Solver::new(installation).unwrap();
    solver.solve(rpm, &mut Match::default()).unwrap_err()
}

#[test]
fn the_truck_hands_over_from_the_belt_to_the_turbo_and_its_gate_holds_the_top() {
    let truck = installation("truck");
    let mut solver = Solver::new(&truck).unwrap();
    let low = solved(&mut solver, 1200.0);
    assert!(low.stages[0].pressure_ratio > 1.5 && low.stages[1].pressure_ratio < 1.3);
    assert_eq!(low.stages[0].bypass, BypassState::Shut);
    let middle = solved(&mut solver, 2350.0);
    assert_eq!(middle.stages[0].bypass, BypassState::Open);
    assert!(middle.stages[0].bypass_share.unwrap() > 0.05);
    assert_eq!(middle.turbines[0].gate, GateState::Shut);
    let high = solved(&mut solver, 3000.0);
    assert_eq!(high.turbines[0].gate, GateState::Holding);
    assert_relative_eq!(boost(&truck, &high), 185e3, max_relative = 1e-9);
    assert!(low.stages[0].drive == Drive::Belt && low.stages[1].drive == Drive::Turbine);
}

#[test]
fn an_engine_that_breathes_alone_is_solved_with_and_without_its_exhaust() {
    let mut engine = installation("breathing alone");
    let with = solved(&mut Solver::new(&engine).unwrap(), 2400.0);
    assert!(with.engine.brake_power.unwrap() > 0.0);
    engine.exhaust = None;
    let mut solver = Solver::new(&engine).unwrap();
    let without = solved(&mut solver, 2400.0);
    assert_eq!(without.engine.brake_power, None);
    // By hand: VE × manifold density × swept flow, with VE as given.
    let manifold = station(&solver, &without, "manifold");
    let flow = 0.90 * manifold.density * 4.5e-3 * 20.0;
    assert_relative_eq!(without.air_mass_flow, flow, max_relative = 1e-9);
    // Back pressure takes room.
    assert!(with.air_mass_flow < without.air_mass_flow);
}

#[test]
fn a_single_turbo_and_a_single_supercharger_each_make_their_boost() {
    for (name, drive) in [
        ("single turbo", Drive::Turbine),
        ("single supercharger", Drive::Belt),
    ] {
        let one = installation(name);
        let m = solved(&mut Solver::new(&one).unwrap(), 1800.0);
        assert_eq!(m.stages.len(), 1);
        assert_eq!(m.stages[0].drive, drive);
        assert!(m.stages[0].pressure_ratio > 1.1, "{name}");
        assert_relative_eq!(m.stages[0].split_share.unwrap(), 1.0, max_relative = 1e-12);
    }
}

#[test]
fn a_turbo_may_blow_into_the_supercharger() {
    let first = installation("turbo first");
    let m = solved(&mut Solver::new(&first).unwrap(), 1200.0);
    assert_eq!(m.stages[0].drive, Drive::Turbine);
    assert!(m.stages.iter().all(|stage| stage.pressure_ratio > 1.2));
    let together = m.stages[0].split_share.unwrap() + m.stages[1].split_share.unwrap();
    assert_relative_eq!(together, 1.0, max_relative = 1e-12);
}

#[test]
fn two_turbos_in_series_share_the_work_and_the_later_gate_moves_first_on_equal_limits() {
    let mut pair = installation("two turbos");
    let m = solved(&mut Solver::new(&pair).unwrap(), 1800.0);
    assert!(m.stages.iter().all(|stage| stage.pressure_ratio > 1.05));
    for (turbine, stage) in [(0, 1), (1, 0)] {
        let given = 0.96 * m.turbines[turbine].power;
        assert_relative_eq!(given, m.stages[stage].power_to_air, max_relative = 1e-8);
    }
    for turbine in 0..2 {
        set_limit(&mut pair, turbine, 90e3);
    }
    let mut solver = Solver::new(&pair).unwrap();
    for (rpm, gates) in [
        (2000.0, [GateState::Shut, GateState::Holding]),
        (2400.0, [GateState::Holding, GateState::WideOpen]),
    ] {
        let held = solved(&mut solver, rpm);
        assert_relative_eq!(boost(&pair, &held), 90e3, max_relative = 1e-6);
        assert_eq!(
            [held.turbines[0].gate, held.turbines[1].gate],
            gates,
            "{rpm}"
        );
    }
}

#[test]
fn a_wheel_on_the_belt_runs_on_its_map() {
    let wheel = installation("centrifugal");
    let mut solver = Solver::new(&wheel).unwrap();
    for rpm in [1800.0, 2400.0] {
        let m = solved(&mut solver, rpm);
        assert_eq!(m.stages[0].drive, Drive::Belt);
        assert_relative_eq!(m.stages[0].speed.unwrap(), 30.0 * rpm, max_relative = 1e-12);
        let (shaft, power) = (m.stages[0].shaft_power.unwrap(), m.stages[0].power_to_air);
        assert_relative_eq!(shaft, power / 0.95, max_relative = 1e-12);
    }
}

#[test]
fn a_wheel_whose_bypass_holds_a_pressure_returns_the_rest() {
    for at in [BypassAt::SuperchargerOutlet, BypassAt::Manifold] {
        let mut wheel = installation("centrifugal");
        wheel.turbines[0].efficiency = TurbineEfficiency::Figure(0.4);
        supercharger(&mut wheel).bypass = Bypass::Regulated {
            pressure: 25e3,
            at,
            drop: 0.0,
        };
        let mut solver = Solver::new(&wheel).unwrap();
        let m = solved(&mut solver, 2000.0);
        assert_eq!(m.stages[0].bypass, BypassState::Holding, "{at:?}");
        assert!(m.stages[0].bypass_share.unwrap() < 0.0);
        let place = match at {
            BypassAt::SuperchargerOutlet => "supercharger outlet",
            BypassAt::Manifold => "manifold",
        };
        let felt = station(&solver, &m, place).pressure;
        assert_relative_eq!(felt, wheel.site.pressure + 25e3, max_relative = 1e-9);
    }
}

#[test]
fn zero_slip_is_solved_on_both_sides_of_the_hand_over() {
    for name in [
        "truck",
        "truck with map",
        "single supercharger",
        "turbo first",
    ] {
        let mut tight = installation(name);
        displacement(&mut tight).filling = Filling::SlipSpeed(0.0);
        let mut solver = Solver::new(&tight).unwrap();
        for rpm in [1200.0, 1700.0, 2300.0, 3000.0] {
            let m = solved(&mut solver, rpm);
            assert!(m.residuals.largest() < 1e-9, "{name} {rpm}");
        }
    }
}

#[test]
fn the_regulator_moves_before_a_gate_on_the_same_pressure() {
    let mut both = installation("truck");
    supercharger(&mut both).bypass = Bypass::Regulated {
        pressure: 70e3,
        at: BypassAt::Manifold,
        drop: 0.0,
    };
    set_limit(&mut both, 0, 70e3);
    let mut solver = Solver::new(&both).unwrap();
    let m = solved(&mut solver, 1400.0);
    assert_eq!(m.stages[0].bypass, BypassState::Holding);
    assert_eq!(m.turbines[0].gate, GateState::Shut);
    assert_relative_eq!(boost(&both, &m), 70e3, max_relative = 1e-8);
    // Where the turbo alone would pass it, the regulator stands wide open and the gate holds.
    let m = solved(&mut solver, 3000.0);
    assert_eq!(m.stages[0].bypass, BypassState::Open);
    assert_eq!(m.turbines[0].gate, GateState::Holding);
    assert_relative_eq!(boost(&both, &m), 70e3, max_relative = 1e-8);
}

#[test]
fn an_open_flap_takes_its_drop() {
    let mut truck = installation("truck");
    supercharger(&mut truck).bypass = Bypass::Check { drop: 900.0 };
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 2600.0);
    assert_eq!(m.stages[0].bypass, BypassState::Open);
    let before = station(&solver, &m, "supercharger inlet").pressure;
    let behind = station(&solver, &m, "supercharger outlet").pressure;
    assert_relative_eq!(before - behind, 900.0, max_relative = 1e-9);
}

#[test]
fn without_a_bypass_the_supercharger_becomes_a_restriction() {
    let mut truck = installation("truck");
    supercharger(&mut truck).bypass = Bypass::None;
    let m = solved(&mut Solver::new(&truck).unwrap(), 2600.0);
    assert!(m.stages[0].pressure_ratio < 0.99);
    assert_eq!(m.stages[0].bypass_share, None);
    let power = m.stages[0].power_to_air;
    assert!(
        power.abs() < f64::EPSILON,
        "an expanding machine takes nothing"
    );
}

#[test]
fn with_the_clutch_out_all_air_goes_around() {
    let mut truck = installation("truck");
    let clutch = Schedule::steps(vec![(0.0, 1.0), (2000.0, 0.0)]).unwrap();
    supercharger(&mut truck).engaged = Some(clutch);
    let mut solver = Solver::new(&truck).unwrap();
    let engaged = solved(&mut solver, 1990.0);
    assert!(engaged.stages[0].pressure_ratio > 1.1);
    let out = solved(&mut solver, 2010.0);
    assert_eq!(out.stages[0].bypass, BypassState::Disengaged);
    assert_relative_eq!(
        out.stages[0].bypass_share.unwrap(),
        1.0,
        max_relative = 1e-12
    );
    assert!(out.stages[0].crank_power.unwrap().abs() < f64::EPSILON);
    assert_relative_eq!(out.stages[0].pressure_ratio, 1.0, max_relative = 1e-12);
    // A warm start across the clutch gives what a cold one gives.
    let near = solver.solve(1990.0, &mut Match::default()).unwrap();
    let mut warm = Match::default();
    solver.solve_near(2010.0, &near, &mut warm).unwrap();
    assert_relative_eq!(warm.air_mass_flow, out.air_mass_flow, max_relative = 1e-8);
}

#[test]
fn a_gate_that_is_too_small_stands_wide_open_and_both_balances_hold() {
    let mut truck = installation("truck");
    let gate = truck.turbines[0].wastegate.as_mut().unwrap();
    gate.opening = GateOpening::LargestShare(0.02);
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 3200.0);
    assert_eq!(m.turbines[0].gate, GateState::WideOpen);
    assert_relative_eq!(
        m.turbines[0].wastegate_share.unwrap(),
        0.02,
        max_relative = 1e-12
    );
    assert!(boost(&truck, &m) > 186e3);
    assert!(m.residuals.largest() < 1e-9);
    // On the next speed down the line the warm start finds the held gate again.
    let near = solver.solve(3200.0, &mut Match::default()).unwrap();
    let mut warm = Match::default();
    solver.solve_near(2500.0, &near, &mut warm).unwrap();
    assert_eq!(warm.turbines[0].gate, GateState::Holding);
}

#[test]
fn a_gate_cannot_hold_less_than_the_supercharger_alone_delivers() {
    let mut truck = installation("truck");
    set_limit(&mut truck, 0, 50e3);
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 1500.0);
    assert_eq!(m.turbines[0].gate, GateState::WideOpen);
    assert!(boost(&truck, &m) > 80e3, "the belt sets the boost");
}

#[test]
fn a_gate_may_feel_the_compressor_s_outlet() {
    let mut truck = installation("truck");
    let gate = truck.turbines[0].wastegate.as_mut().unwrap();
    gate.boost_at = BoostAt::CompressorOutlet;
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 2900.0);
    let felt = station(&solver, &m, "compressor outlet").pressure;
    assert_relative_eq!(felt, truck.site.pressure + 185e3, max_relative = 1e-9);
    assert!(boost(&truck, &m) < 184e3);
}

#[test]
fn a_two_stroke_needs_its_manifold_above_its_exhaust() {
    let blown = installation("two-stroke");
    let m = solved(&mut Solver::new(&blown).unwrap(), 1800.0);
    let pumping = m.engine.pumping_power.unwrap();
    assert!(pumping.abs() < f64::EPSILON, "{pumping}");
    let mut throttled = blown.clone();
    set_area(&mut throttled, 0, 6e-4);
    displacement(&mut throttled).belt.ratio = 4.0;
    let fault = fault(&throttled, 1800.0);
    let MatchError::NoScavenging { manifold, exhaust } = fault else {
        panic!("{fault:?}")
    };
    assert!(manifold <= exhaust && said(&fault).contains("no scavenging"));
}

#[test]
fn faults_name_the_balance_and_what_to_change() {
    let mut wild = installation("single turbo");
    wild.turbines[0].wastegate = None;
    set_area(&mut wild, 0, 3e-4);
    let runs_away = fault(&wild, 2600.0);
    assert!(
        matches!(
            runs_away,
            MatchError::RunsAway { .. } | MatchError::NoWay { .. }
        ),
        "{runs_away:?}"
    );
    assert!(said(&runs_away).starts_with("power balance of turbine 1"));
    assert!(said(&runs_away).contains("larger turbine"));

    let mut sooty = installation("breathing alone");
    sooty.fuel.as_mut().unwrap().burned = Fuelling::Flow(Schedule::constant(0.03));
    let soot = fault(&sooty, 1500.0);
    assert!(matches!(soot, MatchError::Soot { .. }) && said(&soot).contains("less fuel"));

    for rpm in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(fault(&sooty, rpm), MatchError::Speed { .. }));
    }
}

#[test]
fn layouts_that_cannot_be_matched_are_refused_at_once() {
    let mut undriven = installation("single turbo");
    undriven.turbines.clear();
    let refused = |installation: &Installation| Solver::new(installation).unwrap_err();
    assert_eq!(refused(&undriven), LayoutError::Undriven(1));
    let mut nothing_to_drive = installation("single turbo");
    nothing_to_drive.turbines[0].drives = 1;
    assert_eq!(refused(&nothing_to_drive), LayoutError::Driver(1));
    let mut blades = installation("truck");
    blades.turbines[0].efficiency = TurbineEfficiency::BladeSpeed {
        best: 0.7,
        wheel_diameter: 0.07,
    };
    assert_eq!(refused(&blades), LayoutError::SpeedUnknown(1));
    let mut cold = installation("truck");
    cold.fuel = None;
    assert_eq!(refused(&cold), LayoutError::NoCombustion);
    let mut mapless = installation("truck with map");
    if let Part::TurboCompressor(turbo) = &mut mapless.air_path[2] {
        turbo.map = None;
    }
    assert!(matches!(refused(&mapless), LayoutError::MapMissing(_)));
}

#[test]
fn a_wheel_judged_by_its_blade_speed_loses_away_from_the_best() {
    let mut blades = installation("truck with map");
    blades.turbines[0].efficiency = TurbineEfficiency::BladeSpeed {
        best: 0.70,
        wheel_diameter: 0.075,
    };
    let mut solver = Solver::new(&blades).unwrap();
    for rpm in [1300.0, 2100.0, 2900.0] {
        let m = solved(&mut solver, rpm);
        assert!(
            m.turbines[0].efficiency > 0.2 && m.turbines[0].efficiency <= 0.70,
            "{rpm}"
        );
    }
}

#[test]
fn the_pulley_s_own_boost_is_the_product_that_it_says() {
    let truck = installation("truck");
    // By hand: 2 × 2.15 L × 2.15 / 4.5 L.
    let ratio = 2.0 * 2.15 * 2.15 / 4.5;
    assert_relative_eq!(truck.sweep_ratio().unwrap(), ratio, max_relative = 1e-12);
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 1500.0);
    let pulley = truck.pulley_boost(solver.layout(), &m).unwrap();
    let ahead = station(&solver, &m, "supercharger inlet").pressure;
    assert_relative_eq!(
        pulley.pressure_ratio,
        m.manifold_pressure / ahead,
        max_relative = 1e-8
    );
    assert!(pulley.supercharger_volumetric_efficiency < 1.0);
}

#[test]
fn each_stage_alone_gives_less_than_both_together() {
    let truck = installation("truck");
    let rpm = 1500.0;
    let both = boost(&truck, &solved(&mut Solver::new(&truck).unwrap(), rpm));
    let belt = truck.supercharger_alone();
    let mut alone = Match::default();
    Solver::new(&belt)
        .unwrap()
        .at_rest(rpm, &mut alone)
        .unwrap();
    assert_relative_eq!(alone.stages[1].pressure_ratio, 1.0, max_relative = 1e-12);
    let by_belt = boost(&truck, &alone);
    let turbo = truck.turbo_alone();
    let by_turbo = boost(&truck, &solved(&mut Solver::new(&turbo).unwrap(), rpm));
    assert!(
        by_belt > 0.0 && by_turbo > 0.0 && by_turbo < both,
        "{by_belt} {by_turbo} {both}"
    );
    // Before the hand-over the pulley sets the boost: the turbo takes load off the belt instead.
    assert_relative_eq!(by_belt, both, max_relative = 0.25);
}

#[test]
fn past_the_hand_over_the_line_is_steep_and_a_held_limit_is_not() {
    let truck = installation("truck");
    let mut solver = Solver::new(&truck).unwrap();
    let steepness = |solver: &mut Solver, rpm: f64| {
        let near = solver.solve(rpm, &mut Match::default()).unwrap();
        solver.steepness(rpm, &near).unwrap()
    };
    let before = steepness(&mut solver, 1800.0);
    let past = steepness(&mut solver, 2350.0);
    let held = steepness(&mut solver, 3000.0);
    assert!(past > 2.0 && past > 3.0 * before, "{before} {past}");
    assert!(held.abs() < 1e-6, "{held}");
    // Asking leaves the solver as it was.
    let again = solved(&mut solver, 1800.0);
    let anew = solved(&mut Solver::new(&truck).unwrap(), 1800.0);
    assert_relative_eq!(
        again.air_mass_flow,
        anew.air_mass_flow,
        max_relative = 1e-12
    );
}

#[test]
fn holding_what_a_match_burns_gives_the_same_match() {
    let truck = installation("truck");
    let rpm = 1700.0;
    let m = solved(&mut Solver::new(&truck).unwrap(), rpm);
    let fuel_held = truck.with_fuel_flow_held(m.fuel_mass_flow.unwrap());
    let other = solved(&mut Solver::new(&fuel_held).unwrap(), rpm);
    assert_relative_eq!(m.air_mass_flow, other.air_mass_flow, max_relative = 1e-8);
    let ratio_held = fuel_held.with_air_fuel_ratio_held(m.air_fuel_ratio.unwrap());
    let back = solved(&mut Solver::new(&ratio_held).unwrap(), rpm);
    assert_relative_eq!(m.air_mass_flow, back.air_mass_flow, max_relative = 1e-8);
}
