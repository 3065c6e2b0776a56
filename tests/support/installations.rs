//! Invented installations, built by hand so that no reading of files is involved.

// A helper of a test may stop at the first surprise, as a test may; not every program that takes
// this file in uses all of it.
#![allow(clippy::unwrap_used, dead_code)]

use std::sync::Arc;

use airpath::air_path::{
    Arrangement, BeltDrive, Bypass, Centrifugal, CompressorPerformance, Cooler, Core, CorePassage,
    CoreSizes, Displacement, Exchange, FanCurve, Filling, Fin, FinKind, Part, PrescribedStage,
    Rated, RatedDrop, RatedFigure, RatedPoint, Sink, SinkFlow, SinkFluid, Supercharger,
    SuperchargerKind, TurboCompressor,
};
use airpath::engine::{
    Combustion, Engine, Friction, Fuel, FuelKind, Fuelling, SpeedRange, Strokes,
};
use airpath::exhaust::{
    BoostAt, ExhaustPipe, FlowLaw, GateOpening, Swallowing, Turbine, TurbineEfficiency, Wastegate,
};
use airpath::map::CompressorMap;
use airpath::matching::Installation;
use airpath::matching::Limits;
use airpath::numeric::Schedule;
use airpath::site::{Site, standard_air};

use crate::recipe;

/// An invented installation by its name.
///
/// `truck`: supercharger before a turbo with one compressor efficiency; `truck with map`: the same
/// with a compressor map; `given stages`: the same with both pressure ratios given; `single turbo`,
/// `single supercharger`, `breathing alone`: without the other parts; `turbo first`: the turbo ahead
/// of the supercharger; `two turbos`: in series, each with a gate; `centrifugal`: a wheel on the belt
/// ahead of the turbo; `rated cooler`, `core`: the truck's cooler from a rated point with a given flow,
/// and from a core behind a fan; `two-stroke`: the truck as one with a faster supercharger.
pub fn installation(name: &str) -> Installation {
    let mut truck = truck();
    match name {
        "truck with map" => {
            let map = CompressorMap::new(recipe::REFERENCE, &recipe::demo()).unwrap();
            truck.air_path[2] = Part::TurboCompressor(TurboCompressor {
                performance: CompressorPerformance::Map,
                map: Some(Arc::new(map)),
                max_speed: Some(130_000.0),
            });
        }
        "given stages" => {
            let given = |ratio: f64, efficiency: f64| PrescribedStage {
                pressure_ratio: Schedule::constant(ratio),
                efficiency: Some(Schedule::constant(efficiency)),
            };
            truck.air_path[1] = Part::Supercharger(Box::new(Supercharger {
                kind: SuperchargerKind::Prescribed(given(1.4, 0.6)),
                max_speed: None,
                rotor_diameter: None,
                belt_path: None,
                bypass: Bypass::None,
                engaged: None,
            }));
            truck.air_path[2] = Part::TurboCompressor(TurboCompressor {
                performance: CompressorPerformance::Prescribed(given(1.8, 0.73)),
                map: None,
                max_speed: None,
            });
            truck.turbines.clear();
        }
        "single turbo" => {
            truck.air_path.remove(1);
        }
        "single supercharger" => {
            truck.air_path.remove(2);
            truck.turbines.clear();
        }
        "breathing alone" => {
            truck.air_path.truncate(1);
            truck.turbines.clear();
        }
        "turbo first" => truck.air_path.swap(1, 2),
        "two turbos" => {
            truck.air_path[1] = truck.air_path[2].clone();
            let mut second = truck.turbines[0].clone();
            truck.turbines[0].drives = 1;
            second.swallowing = Swallowing::Area {
                effective_area: 14e-4,
                law: FlowLaw::TwoThroats,
            };
            truck.turbines.push(second);
        }
        "centrifugal" => {
            let map = CompressorMap::new(recipe::REFERENCE, &recipe::demo()).unwrap();
            truck.air_path[1] = Part::Supercharger(Box::new(Supercharger {
                kind: SuperchargerKind::Centrifugal(Centrifugal {
                    map: Arc::new(map),
                    belt: BeltDrive {
                        ratio: 30.0,
                        efficiency: 0.96,
                    },
                    mechanical_efficiency: 0.95,
                }),
                max_speed: None,
                rotor_diameter: None,
                belt_path: None,
                bypass: Bypass::Check { drop: 0.0 },
                engaged: None,
            }));
        }
        "rated cooler" => *cooler(&mut truck) = rated_cooler(),
        "core" => *cooler(&mut truck) = core_cooler(),
        "two-stroke" => {
            truck.engine.strokes = Strokes::Two;
            truck.engine.volumetric_efficiency = Schedule::constant(1.3);
            let supercharger = displacement(&mut truck);
            supercharger.belt.ratio = 7.0;
            truck.turbines[0].swallowing = Swallowing::Area {
                effective_area: 30e-4,
                law: FlowLaw::Nozzle,
            };
        }
        _ => assert_eq!(name, "truck", "no installation of this name"),
    }
    truck
}

/// The first charge cooler.
pub fn cooler(installation: &mut Installation) -> &mut Cooler {
    let found = installation
        .air_path
        .iter_mut()
        .find_map(|part| match part {
            Part::Cooler(cooler) => Some(cooler),
            _ => None,
        });
    found.unwrap()
}

fn rated_cooler() -> Cooler {
    let point = RatedPoint {
        arrangement: Arrangement::CrossflowUnmixed,
        sink: SinkFluid::Air,
        charge_flow: 0.25,
        sink_flow: 0.9,
        charge_inlet: 423.15,
        sink_inlet: 298.15,
        figure: RatedFigure::Effectiveness(0.75),
        sink_share: 0.5,
        exponents: (0.6, 0.5),
    };
    Cooler {
        exchange: Exchange::Rated(Rated::new(&point).unwrap()),
        pressure_drop: RatedDrop::rated(5000.0, 0.25, 250e3, 433.15),
        sink: Sink::air(297.15).flowing(0.9),
        metal: None,
    }
}

fn core_cooler() -> Cooler {
    let fin = |pitch, kind| {
        Some(Fin {
            pitch,
            thickness: 0.1e-3,
            kind,
        })
    };
    let louvres = FinKind::Louvred {
        pitch: 1.2e-3,
        angle: 27.0,
        length: 6.8e-3,
    };
    let sizes = CoreSizes {
        arrangement: Arrangement::CrossflowUnmixed,
        width: 0.45,
        height: 0.30,
        depth: 0.055,
        wall: 0.5e-3,
        conductivity: 180.0,
        charge: CorePassage {
            height: 6.5e-3,
            fin: fin(2e-3, FinKind::Offset { length: 3e-3 }),
        },
        sink: CorePassage {
            height: 8e-3,
            fin: fin(1.8e-3, louvres),
        },
        beside: 1.0,
        conductance_factor: 1.0,
    };
    let fan = FanCurve::new(vec![(0.1, 350.0), (0.6, 220.0), (1.3, 0.0)]).unwrap();
    Cooler {
        exchange: Exchange::Core(Box::new(Core::new(&sizes).unwrap())),
        pressure_drop: RatedDrop::NONE,
        sink: Sink {
            pressure: 83.5e3,
            flow: SinkFlow::Fan(fan),
            ..Sink::air(297.15)
        },
        metal: None,
    }
}

/// The displacement machine of the first supercharger.
pub fn displacement(installation: &mut Installation) -> &mut Displacement {
    let found = installation
        .air_path
        .iter_mut()
        .find_map(|part| match part {
            Part::Supercharger(stage) => match &mut stage.kind {
                SuperchargerKind::Displacement(machine) => Some(machine),
                _ => None,
            },
            _ => None,
        });
    found.unwrap()
}

/// The invented truck with a constant compressor efficiency.
#[allow(
    clippy::too_many_lines,
    reason = "a build written out, one value a line"
)]
fn truck() -> Installation {
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
            kind: None,
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
            measured_at_exhaust_pressure_ratio: 1.0,
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
            burned: Fuelling::AirFuelRatio(
                Schedule::new(vec![
                    (1200.0, 22.0),
                    (2000.0, 20.5),
                    (2300.0, 21.3),
                    (2700.0, 22.5),
                    (3200.0, 22.5),
                ])
                .unwrap(),
            ),
            evaporation: None,
            injectors: None,
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
                rotor_diameter: None,
                belt_path: None,
                bypass: Bypass::Check { drop: 0.0 },
                engaged: None,
            })),
            Part::TurboCompressor(TurboCompressor {
                performance: CompressorPerformance::Efficiency(fixed(0.73)),
                map: None,
                max_speed: Some(140_000.0),
            }),
            Part::Cooler(Cooler::fixed(
                fixed(0.75),
                RatedDrop::rated(5000.0, 0.25, 250e3, 433.15),
                297.15,
            )),
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
