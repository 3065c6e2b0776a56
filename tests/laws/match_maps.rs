//! Matches with the map of a turbine or of a supercharger, held to sums outside the solver.
//!
//! The maps are invented: their rows come from the formulas below, so that a match can be held to the
//! formula as well as to the map.

use crate::{installations, looking};
use std::sync::Arc;

use airpath::air_path::{Bypass, Filling, Part};
use airpath::exhaust::{Swallowing, TurbineEfficiency};
use airpath::map::{
    CorrectedSpeed, Reference, SuperchargerMap, SuperchargerRow, TurbineMap, TurbineRow,
};
use airpath::matching::{Drive, Installation, Match, Solver, StageState};
use approx::assert_relative_eq;
use installations::{displacement, installation};
use looking::{solved, station};

const REFERENCE: Reference = Reference {
    temperature: 288.15,
    pressure: 101_325.0,
};
/// What a residual of 1e-9 may leave in the quantities of a match.
const ROUNDING: f64 = 1e-8;

/// R in J/(kg K) and γ of lean diesel products near 900 K (air–fuel ratio 22: cp 1210, from memory).
const GAS_CONSTANT: f64 = 287.2;
const GAMMA: f64 = 1.31;

/// m √(R T)/(p A) of a nozzle at an expansion ratio (Shapiro 1953, ch. 4), written out anew.
fn psi(expansion_ratio: f64) -> f64 {
    let critical = f64::midpoint(GAMMA, 1.0).powf(GAMMA / (GAMMA - 1.0));
    let x = 1.0 / expansion_ratio.min(critical);
    let factor = 2.0 * GAMMA / (GAMMA - 1.0);
    (factor * (x.powf(2.0 / GAMMA) - x.powf((GAMMA + 1.0) / GAMMA))).sqrt()
}

/// Corrected flow of an area, kg/s.
fn through_area(area: f64, expansion_ratio: f64) -> f64 {
    REFERENCE.pressure * area * psi(expansion_ratio) / (GAS_CONSTANT * REFERENCE.temperature).sqrt()
}

/// Efficiency of the invented wheel at a corrected speed, rpm, and an expansion ratio.
fn wheel_efficiency(speed: f64, expansion_ratio: f64) -> f64 {
    let best = 52_000.0 * (expansion_ratio - 1.0).powf(0.4);
    0.70 - 0.15 * (speed / best - 1.0).powi(2)
}

/// Corrected flow of the invented wheel: an area that closes a little as the wheel turns faster.
fn wheel_flow(speed: f64, expansion_ratio: f64) -> f64 {
    through_area(7.7e-4 * (1.03 - 0.05 * speed / 70e3), expansion_ratio)
}

fn wheel_map() -> TurbineMap {
    let mut rows = Vec::new();
    for speed in [10e3, 20e3, 30e3, 40e3, 50e3, 60e3, 70e3, 80e3] {
        for i in 0..=40 {
            let expansion_ratio = 1.1 + 0.07 * f64::from(i);
            let efficiency = wheel_efficiency(speed, expansion_ratio);
            if efficiency > 0.2 {
                rows.push(TurbineRow {
                    speed,
                    expansion_ratio,
                    flow: wheel_flow(speed, expansion_ratio),
                    efficiency,
                });
            }
        }
    }
    TurbineMap::new(REFERENCE, &rows).unwrap()
}

fn with_wheel(map: &Arc<TurbineMap>) -> Installation {
    let mut truck = installation("truck with map");
    truck.turbines[0].swallowing = Swallowing::Map(Arc::clone(map));
    truck.turbines[0].efficiency = TurbineEfficiency::Map;
    truck
}

fn turbo(found: &Match) -> &StageState {
    let mut stages = found.stages.iter();
    stages.find(|stage| stage.drive == Drive::Turbine).unwrap()
}

#[test]
fn with_a_turbine_map_the_wheel_passes_what_the_map_says_and_drives_the_compressor() {
    let map = Arc::new(wheel_map());
    let truck = with_wheel(&map);
    let mut solver = Solver::new(&truck).unwrap();
    for rpm in [1400.0, 1800.0, 2100.0, 2400.0, 2800.0, 3200.0] {
        let found = solved(&mut solver, rpm);
        assert!(found.residuals.largest() < 1e-9, "{rpm}");
        let (inlet, outlet) = (
            station(&solver, &found, "turbine inlet"),
            station(&solver, &found, "turbine outlet"),
        );
        let turbine = &found.turbines[0];
        let expansion_ratio = inlet.pressure / outlet.pressure;
        let root = (inlet.temperature / REFERENCE.temperature).sqrt();
        let speed = turbo(&found).speed.unwrap() / root;
        let passed = turbine.mass_flow * root * REFERENCE.pressure / inlet.pressure;
        let point = map.at_speed_and_ratio(CorrectedSpeed(speed), expansion_ratio);
        assert_relative_eq!(passed, point.flow.0, max_relative = ROUNDING);
        assert_relative_eq!(
            turbine.efficiency,
            point.efficiency,
            max_relative = ROUNDING
        );
        // What the map leaves of its formula between rows a tenth apart in ratio.
        let formula = wheel_flow(speed, expansion_ratio);
        assert_relative_eq!(passed, formula, max_relative = 3e-3);
        let formula = wheel_efficiency(speed, expansion_ratio);
        assert_relative_eq!(turbine.efficiency, formula, max_relative = 1e-2);
        let given = 0.96 * turbine.power;
        assert_relative_eq!(given, turbo(&found).power_to_air, max_relative = ROUNDING);
        // The isentropic drop with a constant γ. The products' cp rises by 3 % per 100 K, and the
        // inlet runs from 850 to 1000 K.
        let cp = GAMMA / (GAMMA - 1.0) * GAS_CONSTANT;
        let share = 1.0 - expansion_ratio.powf(-(GAMMA - 1.0) / GAMMA);
        let power = turbine.mass_flow * cp * inlet.temperature * share * turbine.efficiency;
        assert_relative_eq!(turbine.power, power, max_relative = 0.02);
        let behind = station(&solver, &found, "compressor outlet").pressure;
        assert!(behind > station(&solver, &found, "ambient").pressure);
    }
}

/// A map of one line, sampled from the nozzle of the truck's own area, with its efficiency.
#[test]
fn a_map_sampled_from_the_nozzle_of_an_area_matches_as_the_area() {
    let rows: Vec<TurbineRow> = (1..=120)
        .map(|i| {
            let expansion_ratio = 1.0 + 0.025 * f64::from(i);
            TurbineRow {
                speed: 1000.0,
                expansion_ratio,
                flow: through_area(7.7e-4, expansion_ratio),
                efficiency: 0.68,
            }
        })
        .collect();
    let by_area = installation("truck");
    let mut by_map = by_area.clone();
    let map = TurbineMap::new(REFERENCE, &rows).unwrap();
    by_map.turbines[0].swallowing = Swallowing::Map(Arc::new(map));
    let mut area = Solver::new(&by_area).unwrap();
    let mut sampled = Solver::new(&by_map).unwrap();
    for rpm in [1400.0, 1800.0, 2600.0, 3000.0] {
        let (a, b) = (solved(&mut area, rpm), solved(&mut sampled, rpm));
        // The map holds one γ and R; the products' own move ψ √(1/R) by 0.2 % at most, and where
        // the gate is shut the flow's error comes back as that of the drive pressure.
        let drive = |solver: &Solver, found| station(solver, found, "turbine inlet").pressure;
        assert_relative_eq!(drive(&area, &a), drive(&sampled, &b), max_relative = 5e-3);
        assert_relative_eq!(
            a.manifold_pressure,
            b.manifold_pressure,
            max_relative = 5e-3
        );
        assert_relative_eq!(
            turbo(&a).pressure_ratio,
            turbo(&b).pressure_ratio,
            max_relative = 5e-3
        );
    }
}

/// Volumetric efficiency of the invented rotors: a slip that grows with the root of the rise.
fn filling(speed: f64, pressure_ratio: f64) -> f64 {
    1.0 - (260.0 + 420.0 * (pressure_ratio - 1.0).sqrt()) / speed
}

/// Adiabatic efficiency of the invented rotors.
fn rotor_efficiency(speed: f64, pressure_ratio: f64) -> f64 {
    0.66 - 0.25 * (pressure_ratio - 1.3).powi(2) - 6e-6 * (speed - 5000.0).abs()
}

fn rotor_map() -> SuperchargerMap {
    let mut rows = Vec::new();
    for speed in [1500.0, 3000.0, 4000.0, 5000.0, 7000.0, 9000.0] {
        for i in 0..=35 {
            let pressure_ratio = 1.0 + 0.04 * f64::from(i);
            rows.push(SuperchargerRow {
                speed,
                pressure_ratio,
                volumetric_efficiency: filling(speed, pressure_ratio),
                efficiency: rotor_efficiency(speed, pressure_ratio),
            });
        }
    }
    SuperchargerMap::new(&rows).unwrap()
}

#[test]
fn with_a_supercharger_map_the_rotors_deliver_and_take_what_the_map_says() {
    let map = Arc::new(rotor_map());
    for name in ["truck", "single supercharger"] {
        let mut build = installation(name);
        let machine = displacement(&mut build);
        machine.filling = Filling::Map(Arc::clone(&map));
        let (volume, ratio) = (machine.displacement, machine.belt.ratio);
        for part in &mut build.air_path {
            if let Part::Supercharger(stage) = part {
                stage.bypass = Bypass::None;
            }
        }
        let mut solver = Solver::new(&build).unwrap();
        for rpm in [1200.0, 1500.0, 1800.0] {
            let found = solved(&mut solver, rpm);
            let stage = &found.stages[0];
            assert_eq!(stage.drive, Drive::Belt);
            assert!(stage.pressure_ratio > 1.02, "{name} {rpm}");
            let inlet = station(&solver, &found, "supercharger inlet");
            let speed = rpm * ratio;
            let point = map.at_speed_and_ratio(speed, stage.pressure_ratio);
            let swept = inlet.density * volume * speed / 60.0;
            let delivered = swept * point.volumetric_efficiency;
            assert_relative_eq!(stage.mass_flow, delivered, max_relative = ROUNDING);
            // What the map leaves of its formula between rows: the root bends most near ratio 1.
            let formula = swept * filling(speed, stage.pressure_ratio);
            assert_relative_eq!(stage.mass_flow, formula, max_relative = 2e-3);
            // Constant γ 1.4 and cp 1005 J/(kg K) of dry air (any textbook); 1 % for moisture and
            // for the heat capacity's rise up to the outlet's temperature.
            let rise = stage.pressure_ratio.powf(0.4 / 1.4) - 1.0;
            let work = 1005.0 * inlet.temperature * rise / point.efficiency;
            assert_relative_eq!(
                stage.power_to_air,
                stage.mass_flow * work,
                max_relative = 0.01
            );
            let formula = rotor_efficiency(speed, stage.pressure_ratio);
            assert_relative_eq!(point.efficiency, formula, max_relative = 5e-3);
            let shaft = stage.power_to_air / 0.96;
            assert_relative_eq!(stage.shaft_power.unwrap(), shaft, max_relative = ROUNDING);
        }
    }
}
