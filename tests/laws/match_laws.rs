//! Laws that hold exactly, whatever the installation. The installations are invented.

use crate::{installations, looking, recipe};
use airpath::air_path::{Bypass, BypassAt, Filling, Part};
use airpath::engine::Friction;
use airpath::exhaust::{GateOpening, Swallowing, TurbineEfficiency, flow_function};
use airpath::map::{CorrectedFlow, CorrectedSpeed};
use airpath::matching::{BypassState, GateState, Installation, Match, Solver};
use airpath::numeric::Schedule;
use approx::assert_relative_eq;
use installations::{displacement, installation};
use looking::{solved, station};

const ALL: [&str; 10] = [
    "truck",
    "truck with map",
    "given stages",
    "single turbo",
    "single supercharger",
    "breathing alone",
    "turbo first",
    "two turbos",
    "centrifugal",
    "two-stroke",
];

/// What a residual of 1e-9 may leave in the quantities of a match.
const ROUNDING: f64 = 1e-8;

fn set_bypass(installation: &mut Installation, bypass: Bypass) {
    for part in &mut installation.air_path {
        if let Part::Supercharger(stage) = part {
            stage.bypass = bypass;
        }
    }
}

/// Everything that a factor on the site's pressure must leave as it is.
fn shapes(m: &Match) -> Vec<f64> {
    let mut all = vec![m.engine.volumetric_efficiency, m.air_fuel_ratio.unwrap()];
    all.extend(m.stations.iter().map(|s| s.temperature));
    for s in &m.stages {
        all.extend([s.pressure_ratio, s.bypass_share.unwrap_or(0.0)]);
    }
    all.extend(m.turbines.iter().map(|t| t.expansion_ratio));
    all
}

/// The truck without limits, at its site and at another pressure; humidity ratio kept by a relative
/// humidity in proportion. Friction pressures are fixed and no gas power: taken out.
fn at_two_pressures(change: impl Fn(&mut Installation), k: f64, rpm: f64) -> (Match, Match) {
    let mut here = installation("truck");
    here.turbines[0].wastegate = None;
    here.engine.friction = Friction {
        constant: 0.0,
        peak_pressure_share: 0.0,
        linear: 0.0,
        quadratic: 0.0,
    };
    change(&mut here);
    let mut there = here.clone();
    there.site.pressure *= k;
    there.site.relative_humidity *= k;
    let one = solved(&mut Solver::new(&here).unwrap(), rpm);
    let other = solved(&mut Solver::new(&there).unwrap(), rpm);
    (one, other)
}

#[test]
fn site_pressure_leaves_every_ratio_and_multiplies_every_flow_and_power() {
    for rpm in [1400.0, 2000.0, 2350.0] {
        let k = 0.8;
        let (here, there) = at_two_pressures(|_| {}, k, rpm);
        for (a, b) in shapes(&here).into_iter().zip(shapes(&there)) {
            assert_relative_eq!(a, b, max_relative = ROUNDING, epsilon = 1e-10);
        }
        let sizes = |m: &Match| {
            let mut all = vec![m.air_mass_flow, m.fuel_mass_flow.unwrap()];
            all.extend([
                m.engine.brake_power.unwrap(),
                m.engine.pumping_power.unwrap(),
            ]);
            all.extend(m.stages.iter().map(|s| s.power_to_air));
            all.extend(m.turbines.iter().map(|t| t.power));
            all
        };
        for (a, b) in sizes(&here).into_iter().zip(sizes(&there)) {
            assert_relative_eq!(k * a, b, max_relative = 10.0 * ROUNDING);
        }
    }
}

#[test]
fn with_fuel_held_or_a_boost_limit_the_site_s_pressure_matters() {
    let differ = |change: &dyn Fn(&mut Installation), rpm: f64| {
        let (here, there) = at_two_pressures(change, 0.9, rpm);
        let apart = here.stages[1].pressure_ratio / there.stages[1].pressure_ratio - 1.0;
        assert!(apart.abs() > 1e-3, "{apart}");
    };
    differ(&|truck| *truck = truck.with_fuel_flow_held(6e-3), 2000.0);
    differ(
        &|truck| truck.turbines[0].wastegate = installation("truck").turbines[0].wastegate.clone(),
        3000.0,
    );
}

#[test]
fn without_slip_and_internal_compression_the_work_is_the_pressure_rise_times_the_volume() {
    let mut truck = installation("truck");
    displacement(&mut truck).filling = Filling::SlipSpeed(0.0);
    let machine = displacement(&mut truck).clone();
    let mut solver = Solver::new(&truck).unwrap();
    for rpm in [1200.0, 1700.0] {
        let m = solved(&mut solver, rpm);
        let (inlet, outlet) = (
            station(&solver, &m, "supercharger inlet"),
            station(&solver, &m, "supercharger outlet"),
        );
        let n = machine.belt.ratio * rpm / 60.0;
        let work = (outlet.pressure - inlet.pressure) * machine.displacement;
        let power = work * n / machine.indicated_efficiency;
        assert_relative_eq!(m.stages[0].power_to_air, power, max_relative = ROUNDING);
        let swept = inlet.density * machine.displacement * n;
        assert_relative_eq!(m.air_mass_flow, swept, max_relative = ROUNDING);
    }
}

#[test]
fn returned_flow_leaves_the_enthalpy_rise_of_the_power_over_the_flow_that_goes_on() {
    for at in [BypassAt::SuperchargerOutlet, BypassAt::Manifold] {
        let mut truck = installation("truck");
        set_bypass(
            &mut truck,
            Bypass::Regulated {
                pressure: 35e3,
                at,
                drop: 0.0,
            },
        );
        let mut solver = Solver::new(&truck).unwrap();
        let m = solved(&mut solver, 1500.0);
        let stage = &m.stages[0];
        assert_eq!(stage.bypass, BypassState::Holding);
        assert!(stage.mass_flow > m.air_mass_flow && stage.bypass_share.unwrap() < -0.05);
        let (inlet, outlet) = (
            station(&solver, &m, "supercharger inlet"),
            station(&solver, &m, "supercharger outlet"),
        );
        let rise = outlet.enthalpy - inlet.enthalpy;
        assert_relative_eq!(
            rise,
            stage.power_to_air / m.air_mass_flow,
            max_relative = ROUNDING
        );
        let felt = match at {
            BypassAt::SuperchargerOutlet => outlet,
            BypassAt::Manifold => station(&solver, &m, "manifold"),
        };
        let held = truck.site.pressure + 35e3;
        assert_relative_eq!(felt.pressure, held, max_relative = 1e-9);
    }
}

#[test]
fn a_regulated_bypass_that_returns_next_to_nothing_meets_none() {
    let mut truck = installation("truck");
    set_bypass(&mut truck, Bypass::None);
    let mut solver = Solver::new(&truck).unwrap();
    let none = solved(&mut solver, 1500.0);
    let own = station(&solver, &none, "supercharger outlet").pressure - truck.site.pressure;
    let mut returning = truck.clone();
    set_bypass(
        &mut returning,
        Bypass::Regulated {
            pressure: own - 0.1,
            at: BypassAt::SuperchargerOutlet,
            drop: 0.0,
        },
    );
    let held = solved(&mut Solver::new(&returning).unwrap(), 1500.0);
    assert_eq!(held.stages[0].bypass, BypassState::Holding);
    // 0.1 Pa of some 150 kPa.
    assert_relative_eq!(held.air_mass_flow, none.air_mass_flow, max_relative = 1e-5);
    let (a, b) = (held.stages[0].power_to_air, none.stages[0].power_to_air);
    assert_relative_eq!(a, b, max_relative = 1e-5);
}

/// With share x = A_g/(A + A_g) past the wheel, one nozzle of A + A_g whose wheel makes (1 − x) as
/// much of each kilogram is the same in everything.
#[test]
fn gate_and_turbine_on_one_outlet_are_one_turbine_of_both_areas() {
    let mut gated = installation("truck");
    let (area, diameter) = (7.7e-4, 0.030);
    let gate = gated.turbines[0].wastegate.as_mut().unwrap();
    gate.opening = GateOpening::ValveDiameter(diameter);
    gate.boost_limit = Schedule::constant(60e3);
    let mut solver = Solver::new(&gated).unwrap();
    let open = solved(&mut solver, 2700.0);
    assert_eq!(open.turbines[0].gate, GateState::WideOpen);
    let gate_area = 0.7 * std::f64::consts::PI * diameter * diameter / 4.0;
    let share = gate_area / (area + gate_area);
    assert_relative_eq!(
        open.turbines[0].wastegate_share.unwrap(),
        share,
        max_relative = 1e-12
    );
    let mut one = gated.clone();
    one.turbines[0].wastegate = None;
    one.turbines[0].efficiency = TurbineEfficiency::Figure(0.68 * (1.0 - share));
    let Swallowing::Area { effective_area, .. } = &mut one.turbines[0].swallowing else {
        unreachable!("the truck's turbine is an area")
    };
    *effective_area = area + gate_area;
    let mut single_solver = Solver::new(&one).unwrap();
    let single = solved(&mut single_solver, 2700.0);
    let drive = |solver: &Solver, m: &Match| station(solver, m, "turbine inlet").pressure;
    let (a, b) = (drive(&solver, &open), drive(&single_solver, &single));
    assert_relative_eq!(a, b, max_relative = ROUNDING);
    assert_relative_eq!(
        open.air_mass_flow,
        single.air_mass_flow,
        max_relative = ROUNDING
    );
}

#[test]
fn the_energy_list_closes_and_residuals_are_small_everywhere() {
    for name in ALL {
        let installation = installation(name);
        let mut solver = Solver::new(&installation).unwrap();
        for rpm in [1300.0, 1900.0, 2300.0, 2600.0, 3200.0] {
            let m = solved(&mut solver, rpm);
            assert!(
                m.residuals.largest() < 1e-9,
                "{name} {rpm}: {:?}",
                m.residuals
            );
            if let Some(energy) = m.energy {
                assert!(energy.imbalance().abs() < 1e-9, "{name} {rpm}: {energy:?}");
            } else {
                assert_eq!(
                    name, "given stages",
                    "only there the belt's take is unknown"
                );
            }
        }
    }
}

#[test]
fn at_a_pressure_ratio_of_one_both_sides_of_the_flap_give_the_same_match() {
    let truck = installation("truck");
    let mut solver = Solver::new(&truck).unwrap();
    let (mut shut, mut open) = (2000.0, 2400.0);
    for _ in 0..50 {
        let middle = 0.5 * (shut + open);
        let way = solved(&mut solver, middle).stages[0].bypass;
        if way == BypassState::Shut {
            shut = middle;
        } else {
            open = middle;
        }
    }
    let (below, above) = (solved(&mut solver, shut), solved(&mut solver, open));
    assert_eq!(above.stages[0].bypass, BypassState::Open);
    assert_relative_eq!(below.stages[0].pressure_ratio, 1.0, epsilon = 1e-6);
    assert_relative_eq!(
        below.air_mass_flow,
        above.air_mass_flow,
        max_relative = 1e-6
    );
    for (a, b) in below.stations.iter().zip(&above.stations) {
        assert_relative_eq!(a.pressure, b.pressure, max_relative = 1e-6);
        assert_relative_eq!(a.temperature, b.temperature, max_relative = 1e-6);
    }
}

#[test]
fn a_wheel_that_gives_nothing_leaves_a_turbo_at_rest_and_a_nozzle_in_the_exhaust() {
    let mut truck = installation("truck");
    truck.turbines[0].efficiency = TurbineEfficiency::Figure(0.0);
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 1800.0);
    assert_relative_eq!(m.stages[1].pressure_ratio, 1.0, max_relative = 1e-12);
    let inlet = station(&solver, &m, "turbine inlet");
    let outlet = station(&solver, &m, "turbine outlet");
    let r = inlet.pressure / (inlet.density * inlet.temperature);
    let formula = truck.fuel.as_ref().unwrap().formula();
    let site = &truck.site;
    let air = airpath::gas::HumidAir::new(site.pressure, site.temperature, site.relative_humidity);
    let products = formula
        .burn(&air.unwrap(), m.air_fuel_ratio.unwrap())
        .unwrap();
    let gamma = products.gas.gamma(inlet.temperature).unwrap();
    let expansion = inlet.pressure / outlet.pressure;
    let psi = flow_function(gamma, expansion, airpath::exhaust::FlowLaw::Nozzle);
    let passed = inlet.pressure * 7.7e-4 * psi / (r * inlet.temperature).sqrt();
    assert_relative_eq!(inlet.mass_flow, passed, max_relative = ROUNDING);
}

#[test]
fn stage_power_and_cooler_heat_are_enthalpy_between_their_own_stations() {
    for name in ALL {
        let installation = installation(name);
        let mut solver = Solver::new(&installation).unwrap();
        for rpm in [1500.0, 2300.0, 3000.0] {
            let m = solved(&mut solver, rpm);
            let layout = solver.layout().clone();
            let mut before = station(&solver, &m, "ambient");
            for (place, here) in m.stations.iter().enumerate() {
                let name = &layout.stations[place].name;
                let stage = layout.stages.iter().position(|(stage, _)| {
                    name == &format!("{} outlet", stage.replacen("turbo ", "", 1))
                });
                let rise = here.mass_flow * (here.enthalpy - before.enthalpy);
                if let Some(stage) = stage {
                    let power = m.stages[stage].power_to_air;
                    assert_relative_eq!(power, rise, max_relative = ROUNDING, epsilon = 1e-6);
                }
                if name == "cooler outlet" {
                    assert_relative_eq!(m.coolers[0].heat, -rise, max_relative = ROUNDING);
                }
                before = *here;
            }
        }
    }
}

#[test]
fn a_stage_is_corrected_with_its_own_inlet() {
    for (name, stage, inlet) in [
        ("truck with map", 1, "compressor inlet"),
        ("centrifugal", 0, "supercharger inlet"),
    ] {
        let installation = installation(name);
        let mut solver = Solver::new(&installation).unwrap();
        for rpm in [1500.0, 2000.0] {
            let m = solved(&mut solver, rpm);
            let inlet = station(&solver, &m, inlet);
            let (flow, t, p) = (m.stages[stage].mass_flow, inlet.temperature, inlet.pressure);
            let flow = CorrectedFlow::from_actual(flow, p, t, recipe::REFERENCE).0;
            assert_relative_eq!(
                m.stages[stage].corrected_flow.unwrap(),
                flow,
                max_relative = 1e-9
            );
            let speed = m.stages[stage].speed.unwrap();
            let speed = CorrectedSpeed::from_actual(speed, t, recipe::REFERENCE).0;
            let noted = m.stages[stage].corrected_speed.unwrap();
            assert_relative_eq!(noted, speed, max_relative = 1e-9);
        }
    }
}

#[test]
fn drive_pressure_stands_above_the_turbine_s_outlet_and_that_above_the_site() {
    for name in [
        "truck",
        "truck with map",
        "single turbo",
        "turbo first",
        "two-stroke",
    ] {
        let installation = installation(name);
        let mut solver = Solver::new(&installation).unwrap();
        for rpm in [600.0, 1200.0, 2300.0, 3200.0] {
            let m = solved(&mut solver, rpm);
            let drive = station(&solver, &m, "turbine inlet").pressure;
            let outlet = station(&solver, &m, "turbine outlet").pressure;
            assert!(
                drive >= outlet && outlet >= installation.site.pressure,
                "{name} {rpm}"
            );
        }
    }
}

#[test]
fn a_larger_turbine_lowers_the_drive_pressure() {
    for name in ["truck", "truck with map", "single turbo"] {
        for rpm in [1400.0, 1900.0, 2200.0] {
            let mut last = f64::INFINITY;
            for area in [7.2e-4, 8e-4, 9e-4, 11e-4, 14e-4] {
                let mut changed = installation(name);
                changed.turbines[0].wastegate = None;
                changed.turbines[0].swallowing = Swallowing::Area {
                    effective_area: area,
                    law: airpath::exhaust::FlowLaw::Nozzle,
                };
                let mut solver = Solver::new(&changed).unwrap();
                let m = solved(&mut solver, rpm);
                let drive = station(&solver, &m, "turbine inlet").pressure;
                assert!(drive < last, "{name} {rpm} {area}: {drive} after {last}");
                last = drive;
            }
        }
    }
}

#[test]
fn a_faster_belt_raises_the_flow_before_the_hand_over() {
    for name in [
        "truck",
        "truck with map",
        "single supercharger",
        "turbo first",
    ] {
        let mut last = 0.0;
        for ratio in [2.0, 2.1, 2.2, 2.4, 2.6] {
            let mut changed = installation(name);
            displacement(&mut changed).belt.ratio = ratio;
            let mut solver = Solver::new(&changed).unwrap();
            let m = solved(&mut solver, 1200.0);
            assert!(
                m.stages.iter().all(|stage| stage.pressure_ratio > 1.0),
                "{name} {ratio}"
            );
            assert!(m.air_mass_flow > last, "{name} {ratio}");
            last = m.air_mass_flow;
        }
    }
}

/// 24 kW at the compressor take 25 kW at the wheel through 0.96; 11.4 kW at a shaft take 12 kW at the
/// crank through 0.95, by division.
#[test]
fn a_mechanical_efficiency_costs_and_never_gives() {
    let mut truck = installation("truck");
    let mut solver = Solver::new(&truck).unwrap();
    let m = solved(&mut solver, 1700.0);
    let wheel = m.turbines[0].power;
    assert_relative_eq!(
        0.96 * wheel,
        m.stages[1].power_to_air,
        max_relative = ROUNDING
    );
    let (shaft, crank) = (
        m.stages[0].shaft_power.unwrap(),
        m.stages[0].crank_power.unwrap(),
    );
    assert_relative_eq!(crank, shaft / 0.97, max_relative = 1e-12);
    assert_relative_eq!(shaft, m.stages[0].power_to_air / 0.96, max_relative = 1e-12);
    for rpm in [1400.0, 1900.0, 2250.0, 2400.0] {
        let results = [0.97, 0.93, 0.89].map(|efficiency| {
            truck.turbines[0].mechanical_efficiency = efficiency;
            displacement(&mut truck).mechanical_efficiency = efficiency;
            displacement(&mut truck).belt.efficiency = efficiency;
            let mut solver = Solver::new(&truck).unwrap();
            let m = solved(&mut solver, rpm);
            (m.engine.brake_power.unwrap(), m.air_mass_flow)
        });
        for pair in results.windows(2) {
            assert!(
                pair[1].0 < pair[0].0 && pair[1].1 <= pair[0].1 * 1.000_000_1,
                "{results:?}"
            );
        }
    }
}
