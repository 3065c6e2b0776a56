//! Timed runs: they settle where the match stands, keep their energy, and follow their limits.

use crate::{coolers, installations};
use airpath::air_path::{Cooler, Sink, SinkFluid, WaterCircuit};
use airpath::matching::{Installation, Match, Solver};
use airpath::study::soak::{SoakError, SoakRequest, SoakRun, Speed, StopReason, run};
use approx::assert_relative_eq;
use coolers::{core, rated, rated_with_water, set_cooler};
use installations::installation;

const RPM: f64 = 2400.0;
const CIRCUIT: WaterCircuit = WaterCircuit {
    tank_volume: 0.020,
    ice_mass: 0.0,
    radiator_conductance: 0.0,
    pressure: 200e3,
};

/// The truck with its last cooler changed.
fn truck(change: impl FnOnce(&mut Cooler)) -> Installation {
    let mut build = installation("truck");
    set_cooler(&mut build, change);
    build
}

fn water(circuit: WaterCircuit) -> Sink {
    let sink = Sink {
        fluid: SinkFluid::Water,
        circuit: Some(circuit),
        ..Sink::air(300.0)
    };
    sink.flowing(0.5)
}

/// The match takes the water's heat capacity 20 K above the radiator's air, a run where it stands:
/// 0.05 % of it, and so about as much of the 15 K between them.
const WATER: f64 = 0.01;

/// Long against every store here.
const LONG: SoakRequest = SoakRequest {
    seconds: 1200.0,
    ..HELD
};

const HELD: SoakRequest = SoakRequest {
    cooler: 0,
    seconds: 60.0,
    speed: Speed::Held(RPM),
    start: None,
    target: None,
};

fn soaked(build: &Installation, asked: &SoakRequest) -> SoakRun {
    let layout = Solver::new(build).unwrap().layout().clone();
    let found = run(build, &layout, asked).unwrap();
    assert_eq!(found.stopped, None);
    found
}

fn matched(build: &Installation, rpm: f64) -> Match {
    let mut found = Match::default();
    Solver::new(build).unwrap().solve(rpm, &mut found).unwrap();
    found
}

/// What is stored against what came in and went out, over what came in.
fn imbalance(found: &SoakRun) -> f64 {
    let heat = found.heat;
    let stored = found.stored_in_metal.unwrap_or(0.0) + found.stored_in_water.unwrap_or(0.0);
    let out = match found.stored_in_water {
        Some(_) => heat.to_air,
        None => heat.to_sink,
    };
    (heat.from_charge - out - stored) / heat.from_charge
}

#[test]
fn metal_settles_where_the_match_stands_whatever_gives_the_effectiveness() {
    let mut cases = vec![truck(|cooler| cooler.metal = Some(4000.0))];
    for exchange in [rated(), core()] {
        cases.push(truck(|cooler| {
            cooler.exchange = exchange;
            cooler.sink = Sink::air(297.0).flowing(0.6);
            cooler.metal = Some(4000.0);
        }));
    }
    for build in cases {
        let settled = matched(&build, RPM);
        for start in [None, Some(400.0)] {
            let found = soaked(&build, &SoakRequest { start, ..LONG });
            let last = found.rows.last().unwrap();
            assert_relative_eq!(
                last.outlet_temperature,
                settled.coolers[0].outlet_temperature,
                max_relative = 1e-7
            );
            assert_relative_eq!(
                last.manifold_pressure,
                settled.manifold_pressure,
                max_relative = 1e-6
            );
            assert_relative_eq!(last.heat, settled.coolers[0].heat, max_relative = 1e-5);
            assert!(imbalance(&found).abs() < 1e-6, "{}", imbalance(&found));
        }
    }
}

/// Nothing takes the heat away: the charge warms the metal alone, up to its own temperature. The
/// match stays near the one before, and need not end where the climb from rest does.
#[test]
fn without_wind_the_charge_warms_the_core_to_its_own_temperature() {
    for exchange in [rated(), core()] {
        let build = truck(|cooler| {
            cooler.exchange = exchange;
            cooler.sink = Sink::air(297.0).flowing(0.0);
            cooler.metal = Some(4000.0);
        });
        let settled = matched(&build, RPM).coolers[0];
        assert_eq!((settled.heat, settled.effectiveness), (0.0, 0.0));
        let found = soaked(&build, &LONG);
        let (first, last) = (found.rows[0], found.rows.last().unwrap());
        assert_eq!(first.metal_temperature, Some(297.0));
        assert!(first.outlet_temperature < settled.outlet_temperature - 50.0);
        let metal = last.metal_temperature.unwrap();
        assert_relative_eq!(metal, last.outlet_temperature, max_relative = 1e-6);
        assert!(last.heat.abs() < 1e-3 * first.heat, "{}", last.heat);
        assert!(found.heat.to_sink.abs() < 1e-9, "{:?}", found.heat);
        assert!(imbalance(&found).abs() < 1e-6, "{}", imbalance(&found));
    }
}

#[test]
fn a_cold_core_cools_better_and_a_hot_one_worse_than_the_settled_one() {
    let build = truck(|cooler| cooler.metal = Some(4000.0));
    let settled = matched(&build, RPM).coolers[0].outlet_temperature;
    let first = |start| soaked(&build, &SoakRequest { start, ..HELD }).rows[0].outlet_temperature;
    let sink = 297.15;
    assert!(first(None) < settled && first(None) > sink - 5.0);
    assert!(first(Some(380.0)) > settled);
}

#[test]
fn an_endless_tank_is_a_supply_and_a_tiny_one_balances_with_its_radiator_as_the_match_does() {
    let with = |circuit: WaterCircuit, metal| {
        truck(|cooler| {
            cooler.exchange = rated_with_water();
            cooler.sink = water(circuit);
            cooler.metal = metal;
        })
    };
    for metal in [None, Some(3000.0)] {
        let huge = with(
            WaterCircuit {
                tank_volume: 1e9,
                ..CIRCUIT
            },
            metal,
        );
        // Without a radiator the match takes the water as it enters.
        let found = soaked(&huge, &HELD);
        assert_relative_eq!(
            found.rows.last().unwrap().outlet_temperature,
            matched(&huge, RPM).coolers[0].outlet_temperature,
            max_relative = 1e-7
        );
        let tiny = with(
            WaterCircuit {
                tank_volume: 1e-5,
                radiator_conductance: 900.0,
                ..CIRCUIT
            },
            metal,
        );
        let found = soaked(&tiny, &LONG);
        let settled = matched(&tiny, RPM).coolers[0];
        let last = found.rows.last().unwrap();
        assert_relative_eq!(
            last.water_temperature.unwrap(),
            settled.sink_temperature,
            epsilon = WATER
        );
        assert_relative_eq!(
            last.outlet_temperature,
            settled.outlet_temperature,
            epsilon = WATER
        );
        assert!(imbalance(&found).abs() < 1e-6, "{}", imbalance(&found));
    }
}

#[test]
fn a_tank_without_radiator_warms_by_all_the_heat() {
    let build = truck(|cooler| {
        cooler.exchange = rated_with_water();
        cooler.sink = water(CIRCUIT);
    });
    let found = soaked(
        &build,
        &SoakRequest {
            seconds: 120.0,
            ..HELD
        },
    );
    let (first, last) = (&found.rows[0], found.rows.last().unwrap());
    let warmed = last.water_temperature.unwrap() - first.water_temperature.unwrap();
    // 20 L of 998.21 kg/m³ and 4184.1 J/(kg K).
    let stored = 0.020 * 998.21 * 4184.1 * warmed;
    assert_relative_eq!(stored, found.heat.from_charge, max_relative = 1e-6);
    assert!(warmed > 5.0, "{warmed}");
    // The heat of the rows, by the trapezoidal rule: its error is that of 5 s steps.
    let sum: f64 = found
        .rows
        .windows(2)
        .map(|pair| 0.5 * (pair[0].heat + pair[1].heat) * (pair[1].seconds - pair[0].seconds))
        .sum();
    assert_relative_eq!(sum, found.heat.from_charge, max_relative = 1e-3);
}

#[test]
fn ice_holds_the_water_until_it_is_gone() {
    let build = truck(|cooler| {
        cooler.exchange = rated_with_water();
        cooler.sink = water(WaterCircuit {
            ice_mass: 3.0,
            ..CIRCUIT
        });
        cooler.metal = Some(3000.0);
    });
    let found = soaked(
        &build,
        &SoakRequest {
            seconds: 90.0,
            ..HELD
        },
    );
    let gone = found.ice_gone_at.unwrap();
    for row in &found.rows {
        let (water, ice) = (row.water_temperature.unwrap(), row.ice.unwrap());
        if row.seconds < gone {
            assert_relative_eq!(water, 273.15, max_relative = 1e-12);
            assert!(ice > 0.0);
        } else {
            assert!(water >= 273.15 && ice.abs() < 1e-12, "{water} {ice}");
        }
    }
    // All ice takes its heat of melting: 3 kg × 333.55 kJ/kg.
    let until: f64 = found
        .rows
        .windows(2)
        .take_while(|pair| pair[1].seconds < gone)
        .map(|pair| pair[0].ice.unwrap() - pair[1].ice.unwrap())
        .sum();
    assert!(until < 3.0);
    assert!(found.heat.to_sink > 3.0 * 333.55e3);
    assert!(imbalance(&found).abs() < 1e-6, "{}", imbalance(&found));
}

#[test]
fn the_time_at_which_the_target_is_passed_does_not_hang_on_the_steps() {
    let build = truck(|cooler| {
        cooler.exchange = rated_with_water();
        cooler.sink = water(CIRCUIT);
        cooler.metal = Some(3000.0);
    });
    let cold = soaked(&build, &HELD).rows[0].charge_temperature;
    let target = Some(cold + 8.0);
    let passed = |seconds| {
        soaked(
            &build,
            &SoakRequest {
                seconds,
                target,
                ..HELD
            },
        )
        .passed_at
        .unwrap()
    };
    let (short, long) = (passed(100.0), passed(600.0));
    // Straight between the ends of steps.
    assert!((short - long).abs() < 0.02 * long, "{short} {long}");
    let hot = SoakRequest {
        start: Some(370.0),
        target,
        ..HELD
    };
    assert_relative_eq!(soaked(&build, &hot).passed_at.unwrap(), 0.0);
}

#[test]
fn rows_of_runs_of_different_length_agree_at_the_same_time() {
    let build = truck(|cooler| cooler.metal = Some(20e3));
    let at_ten = |seconds: f64| {
        let found = soaked(&build, &SoakRequest { seconds, ..HELD });
        let row = found
            .rows
            .iter()
            .find(|row| (row.seconds - 10.0).abs() < 1e-9);
        row.unwrap().metal_temperature.unwrap()
    };
    // Two courses of steps, each held to 0.02 K a step between first and second order.
    assert!((at_ten(10.0) - at_ten(40.0)).abs() < 0.02);
}

#[test]
fn a_swept_run_goes_from_the_first_to_the_last_speed() {
    let build = truck(|cooler| cooler.metal = Some(4000.0));
    let speed = Speed::Swept {
        from: 1400.0,
        to: 3000.0,
    };
    let found = soaked(&build, &SoakRequest { speed, ..HELD });
    assert_relative_eq!(found.rows[0].rpm, 1400.0);
    assert_relative_eq!(found.rows.last().unwrap().rpm, 3000.0);
    assert!(found.rows.windows(2).all(|pair| pair[1].rpm > pair[0].rpm));
    assert!(imbalance(&found).abs() < 1e-6, "{}", imbalance(&found));
}

#[test]
fn without_a_store_there_is_no_run() {
    let build = installation("truck");
    let layout = Solver::new(&build).unwrap().layout().clone();
    assert_eq!(run(&build, &layout, &HELD), Err(SoakError::NothingStores));
    let speed = Speed::Held(1.0);
    let build = truck(|cooler| cooler.metal = Some(4000.0));
    let refused = run(&build, &layout, &SoakRequest { speed, ..HELD });
    assert!(
        matches!(refused, Err(SoakError::NoStart { .. })),
        "{refused:?}"
    );
}

#[test]
fn a_run_ends_where_the_water_boils() {
    let build = truck(|cooler| {
        cooler.exchange = rated_with_water();
        cooler.sink = water(WaterCircuit {
            tank_volume: 0.002,
            ..CIRCUIT
        });
    });
    let layout = Solver::new(&build).unwrap().layout().clone();
    let found = run(&build, &layout, &LONG).unwrap();
    let stop = found.stopped.unwrap();
    let StopReason::Boils(at) = stop.reason else {
        panic!("{stop:?}")
    };
    // Water at 200 kPa boils at 120.2 °C (steam tables); no row is hotter.
    assert!((at - 393.35).abs() < 0.1, "{at}");
    assert!(stop.seconds > 0.0 && stop.seconds < LONG.seconds);
    let hottest = found.rows.last().unwrap().water_temperature.unwrap();
    assert!(hottest < at, "{hottest}");
    assert!(imbalance(&found).abs() < 1e-6, "{}", imbalance(&found));
}
