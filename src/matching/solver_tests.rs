//! Matches of an invented hill-climb truck, built by hand so that no reading of files is involved.

use std::time::Instant;

use super::*;
use crate::air_path::*;
use crate::engine::*;
use crate::exhaust::*;
use crate::finding::Limits;
use crate::numeric::Schedule;
use crate::site::{Site, standard_air};

/// The invented truck with a constant compressor efficiency.
pub(crate) fn truck() -> Installation {
    let fixed = Schedule::constant;
    Installation {
        title: "hill-climb truck (invented)".to_owned(),
        site: Site {
            pressure: standard_air(1600.0).unwrap().pressure,
            temperature: 297.15,
            relative_humidity: 0.35,
            altitude: Some(1600.0),
        },
        engine: Engine {
            displacement: 4.5e-3,
            cylinders: Some(4),
            bore: None,
            stroke: Some(0.118),
            strokes: Strokes::Four,
            compression_ratio: Some(15.0),
            volumetric_efficiency: Schedule::new(vec![
                (1200.0, 0.86),
                (1800.0, 0.89),
                (2400.0, 0.90),
                (3200.0, 0.87),
            ])
            .unwrap(),
            measured_at_drive_ratio: 1.0,
            speeds: SpeedRange {
                from: 1200.0,
                to: 3200.0,
                step: 200.0,
            },
            combustion: Some(Combustion {
                gross_indicated_efficiency: fixed(0.435),
                heat_loss_share: fixed(0.19),
                pressure_rise_ratio: Some(fixed(1.45)),
            }),
            friction: Friction {
                constant: 60e3,
                peak_pressure_share: 0.0,
                linear: 9.0e3,
                quadratic: 500.0,
            },
            head: None,
        },
        fuel: Some(Fuel {
            kind: Some(FuelKind::Diesel),
            lower_heating_value: 42.8e6,
            hydrogen_carbon_ratio: 1.80,
            oxygen_carbon_ratio: 0.0,
            density: Some(835.0),
            burned: Burned::AirFuelRatio(
                Schedule::new(vec![
                    (1200.0, 22.0),
                    (2000.0, 20.5),
                    (2300.0, 21.3),
                    (2700.0, 22.5),
                    (3200.0, 22.5),
                ])
                .unwrap(),
            ),
        }),
        air_path: vec![
            Part::Filter(RatedDrop::rated(1500.0, 0.25, 101_325.0, 293.15)),
            Part::Supercharger(Box::new(Supercharger {
                kind: SuperchargerKind::Displacement(Displacement {
                    displacement: 2.15e-3,
                    belt: BeltDrive {
                        ratio: 2.15,
                        efficiency: 0.97,
                    },
                    filling: Filling::SlipSpeed(170.0),
                    internal_volume_ratio: 1.0,
                    indicated_efficiency: 0.88,
                    mechanical_efficiency: 0.96,
                    no_load: None,
                }),
                max_speed: Some(9000.0),
                bypass: Bypass::Check { drop: 0.0 },
                engaged: None,
            })),
            Part::TurboCompressor(TurboCompressor {
                performance: CompressorPerformance::Efficiency(fixed(0.73)),
                map: None,
                max_speed: Some(140_000.0),
            }),
            Part::Cooler(Cooler {
                effectiveness: fixed(0.75),
                pressure_drop: RatedDrop::rated(5000.0, 0.25, 250e3, 433.15),
                sink_temperature: 297.15,
            }),
        ],
        turbines: vec![Turbine {
            swallowing: Swallowing::Area {
                effective_area: 7.7e-4,
                law: FlowLaw::Nozzle,
            },
            efficiency: TurbineEfficiency::Figure(0.68),
            mechanical_efficiency: 0.96,
            drives: 0,
            wastegate: Some(Wastegate {
                boost_limit: fixed(185e3),
                boost_at: BoostAt::Manifold,
                opening: GateOpening::LargestShare(0.45),
            }),
        }],
        exhaust: Some(ExhaustPipe {
            pressure_drop: RatedDrop::rated(1200.0, 0.25, 101_325.0, 293.15),
        }),
        limits: Limits::default(),
    }
}

#[test]
fn quick_look() {
    let installation = truck();
    let mut solver = Solver::new(&installation).unwrap();
    let mut out = Match::default();
    let mut rpm = 1200.0;
    while rpm < 3201.0 {
        let t = Instant::now();
        let result = solver.solve(rpm, &mut out);
        let us = t.elapsed().as_secs_f64() * 1e6;
        match result {
            Ok(near) => {
                let s = &out.stages;
                let man = out.stations.iter().rev().nth(2).unwrap();
                let t = Instant::now();
                let again = solver.solve_near(rpm + 20.0, &near, &mut out.clone());
                let warm = t.elapsed().as_secs_f64() * 1e6;
                println!(
                    "{rpm} m {:.4} sc {:.4} t {:.4} boost {:.2} drive {:.2} byp {:.4} gate {:.4} brake {:.2} T {:.1} egt {:.1} res {:.1e} eq {} imb {:.1e} {us:.0} us warm {warm:.1} {:?}",
                    out.air_mass_flow,
                    s[0].pressure_ratio,
                    s[1].pressure_ratio,
                    (man.pressure - installation.site.pressure) / 1e3,
                    out.stations[out.stations.len() - 2].pressure / 1e3,
                    s[0].bypass_share.unwrap(),
                    out.turbines[0].wastegate_share.unwrap(),
                    out.engine.brake_power.unwrap() / 1e3,
                    man.temperature - 273.15,
                    out.stations[out.stations.len() - 2].temperature,
                    out.residuals.largest(),
                    out.equilibria,
                    out.energy.unwrap().imbalance(),
                    again.is_ok()
                );
            }
            Err(e) => println!("{rpm} {e}"),
        }
        rpm += 100.0;
    }
}
