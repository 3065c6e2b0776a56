//! Random installations, drawn from ranges that stand here. All of them are invented.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used)]

use std::sync::Arc;

use airpath::air_path::{
    BeltDrive, Bypass, BypassAt, Centrifugal, CompressorPerformance, Cooler, Displacement, Duct,
    DuctPressureDrop, Filling, NoLoad, Part, RatedDrop, Supercharger, SuperchargerKind,
    TurboCompressor,
};
use airpath::engine::{
    Combustion, Engine, Evaporation, Friction, Fuel, FuelKind, Fuelling, SpeedRange, Strokes,
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

/// Random numbers by splitmix64 (Steele, Lea and Flood 2014, from memory): the same on every
/// machine.
pub struct Draw(u64);

impl Draw {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Between two ends.
    pub fn from(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// With a chance of 0 to 1.
    pub fn chance(&mut self, share: f64) -> bool {
        self.from(0.0, 1.0) < share
    }
}

fn fixed(value: f64) -> Schedule {
    Schedule::constant(value)
}

/// Maps of three sizes of invented wheels, made once.
pub struct Maps(Vec<(f64, Arc<CompressorMap>)>);

impl Maps {
    /// Wheels of 52 to 92 mm.
    pub fn new() -> Self {
        let wheel = |d2: f64| {
            let speeds = recipe::SPEEDS.map(|speed| speed * 0.078 / d2);
            let rows = recipe::rows(d2, &speeds, &recipe::PLACES);
            (
                d2,
                Arc::new(CompressorMap::new(recipe::REFERENCE, &rows).unwrap()),
            )
        };
        Self(vec![wheel(0.052), wheel(0.066), wheel(0.078), wheel(0.092)])
    }

    /// The smallest wheel that passes a corrected flow in kg/s at its top speed.
    fn passing(&self, flow: f64) -> (f64, Arc<CompressorMap>) {
        let fits = |d2: f64| recipe::ends(d2, 130e3 * 0.078 / d2).1 > flow;
        let found = self.0.iter().find(|(d2, _)| fits(*d2));
        found.unwrap_or(&self.0[self.0.len() - 1]).clone()
    }
}

/// One installation and the speed to match it at, rpm.
pub fn draw(seed: u64, maps: &Maps) -> (Installation, f64) {
    let d = &mut Draw::new(seed);
    let two_stroke = d.chance(0.06);
    let engine = engine(d, two_stroke);
    let rpm = d.from(1000.0, 5000.0);
    let altitude = d.from(0.0, 4500.0);
    let standard = standard_air(altitude).unwrap();
    let site = Site {
        pressure: standard.pressure,
        temperature: standard.temperature + d.from(-20.0, 30.0),
        relative_humidity: d.from(0.0, 1.0),
        altitude: Some(altitude),
    };
    let (mut superchargers_first, mut turbos, mut superchargers_behind) = (0, 0, 0);
    match d.from(0.0, 100.0) {
        x if x < 45.0 || two_stroke => (superchargers_first, turbos) = (1, 1),
        x if x < 55.0 => (turbos, superchargers_behind) = (1, 1),
        x if x < 61.0 => turbos = 2,
        x if x < 72.0 => superchargers_first = 1,
        x if x < 92.0 => turbos = 1,
        _ => {}
    }
    let engine_flow = engine.swept_flow(rpm) * standard.density;
    let mut air_path = vec![Part::Filter(drop(d, engine_flow, 500.0, 4000.0))];
    for _ in 0..superchargers_first {
        air_path.push(supercharger(d, &engine, rpm, 1.0, maps));
    }
    for _ in 0..turbos {
        air_path.push(turbo(d, 2.5 * engine_flow, maps));
    }
    for _ in 0..superchargers_behind {
        let density_ahead = 1.7;
        air_path.push(supercharger(d, &engine, rpm, density_ahead, maps));
    }
    if d.chance(0.85) {
        air_path.push(Part::Cooler(Cooler::fixed(
            fixed(d.from(0.4, 0.9)),
            drop(d, 2.0 * engine_flow, 1000.0, 12_000.0),
            site.temperature,
        )));
    }
    if d.chance(0.3) {
        air_path.push(Part::Duct(Duct {
            pressure_drop: DuctPressureDrop::Pipe {
                diameter: d.from(0.05, 0.09),
                length: d.from(0.3, 2.0),
                bends: 3.0,
            },
        }));
    }
    let has_exhaust = turbos > 0 || d.chance(0.7);
    let installation = Installation {
        title: format!("random build {seed} (invented)"),
        fuel: Some(fuel(d, &engine, engine_flow)),
        turbines: (0..turbos)
            .map(|k| turbine(d, &engine, rpm, k, turbos))
            .collect(),
        exhaust: (has_exhaust && d.chance(0.85)).then(|| ExhaustPipe {
            pressure_drop: drop(d, 2.0 * engine_flow, 500.0, 8000.0),
        }),
        site,
        engine,
        air_path,
        limits: Limits::default(),
    };
    (installation, rpm)
}

fn drop(d: &mut Draw, at_flow: f64, low: f64, high: f64) -> RatedDrop {
    RatedDrop::rated(d.from(low, high), at_flow, 101_325.0, 293.15)
}

fn engine(d: &mut Draw, two_stroke: bool) -> Engine {
    Engine {
        kind: None,
        displacement: d.from(1.0e-3, 8.0e-3),
        cylinders: Some(4),
        bore: None,
        stroke: Some(d.from(0.08, 0.13)),
        strokes: if two_stroke {
            Strokes::Two
        } else {
            Strokes::Four
        },
        compression_ratio: Some(d.from(8.0, 19.0)),
        volumetric_efficiency: fixed(d.from(0.75, 1.02)),
        measured_at_exhaust_pressure_ratio: d.from(0.9, 1.2),
        speeds: SpeedRange {
            from: 1000.0,
            to: 5000.0,
            step: 500.0,
        },
        combustion: Some(Combustion {
            gross_indicated_efficiency: fixed(d.from(0.34, 0.47)),
            heat_loss_share: fixed(d.from(0.12, 0.28)),
            pressure_rise_ratio: Some(fixed(d.from(1.2, 2.0))),
        }),
        friction: Friction::CHEN_FLYNN,
        head: None,
    }
}

fn fuel(d: &mut Draw, engine: &Engine, engine_flow: f64) -> Fuel {
    let kind = if d.chance(0.6) {
        FuelKind::Diesel
    } else {
        FuelKind::Petrol
    };
    let properties = kind.properties();
    let ratio = if kind == FuelKind::Diesel {
        d.from(17.0, 30.0)
    } else {
        d.from(11.0, 15.5)
    };
    // Held fuel is what a boost of 0 to 1 bar would burn at this ratio.
    let boosted = engine_flow * d.from(1.0, 2.0);
    let cycles = engine_flow / (1.2 * engine.displacement) * 4.0;
    let burned = match d.from(0.0, 100.0) {
        x if x < 45.0 => Fuelling::AirFuelRatio(fixed(ratio)),
        x if x < 60.0 => Fuelling::Lambda(fixed(ratio / 14.5)),
        x if x < 85.0 => Fuelling::PerStroke {
            mass: fixed(boosted / ratio / cycles),
            smallest_air_fuel_ratio: d.chance(0.7).then(|| fixed(0.8 * ratio)),
        },
        _ => Fuelling::Flow(fixed(boosted / ratio)),
    };
    // Alcohols cool the charge on their way in.
    let evaporation = match kind {
        FuelKind::Methanol | FuelKind::E85 => kind.volatility().map(|volatility| Evaporation {
            share: 0.3,
            volatility,
        }),
        _ => None,
    };
    Fuel {
        kind: Some(kind),
        lower_heating_value: properties.lower_heating_value,
        hydrogen_carbon_ratio: properties.hydrogen_carbon_ratio,
        oxygen_carbon_ratio: properties.oxygen_carbon_ratio,
        density: Some(properties.density),
        burned,
        evaporation,
        injectors: None,
    }
}

fn bypass(d: &mut Draw) -> Bypass {
    let drop = if d.chance(0.5) {
        0.0
    } else {
        d.from(0.0, 3000.0)
    };
    match d.from(0.0, 100.0) {
        x if x < 25.0 => Bypass::None,
        x if x < 75.0 => Bypass::Check { drop },
        x => Bypass::Regulated {
            pressure: d.from(10e3, 120e3),
            at: if x < 88.0 {
                BypassAt::SuperchargerOutlet
            } else {
                BypassAt::Manifold
            },
            drop,
        },
    }
}

fn supercharger(d: &mut Draw, engine: &Engine, rpm: f64, density: f64, maps: &Maps) -> Part {
    let kind = if d.chance(0.85) {
        let sweep_ratio = d.from(0.8, 2.6) / density;
        let ratio = d.from(1.2, 3.0);
        let per_engine_revolution = engine.swept_flow(rpm) * 60.0 / rpm;
        SuperchargerKind::Displacement(Displacement {
            displacement: sweep_ratio * per_engine_revolution / ratio,
            belt: BeltDrive {
                ratio,
                efficiency: d.from(0.9, 1.0),
            },
            filling: Filling::SlipSpeed(if d.chance(0.1) {
                0.0
            } else {
                d.from(50.0, 500.0)
            }),
            internal_volume_ratio: if d.chance(0.6) { 1.0 } else { d.from(1.0, 1.5) },
            indicated_efficiency: d.from(0.75, 1.0),
            mechanical_efficiency: d.from(0.85, 1.0),
            no_load: d.chance(0.3).then_some(NoLoad {
                power: 1500.0,
                at_speed: 8000.0,
            }),
        })
    } else {
        let flow = d.from(0.9, 1.8) * 1.2 * density * engine.swept_flow(rpm);
        let (d2, map) = maps.passing(flow);
        SuperchargerKind::Centrifugal(Centrifugal {
            map,
            belt: BeltDrive {
                ratio: d.from(45e3, 110e3) * 0.078 / d2 / rpm,
                efficiency: d.from(0.9, 1.0),
            },
            mechanical_efficiency: d.from(0.9, 1.0),
        })
    };
    let clutch = || Schedule::steps(vec![(0.0, 1.0), (3500.0, 0.0)]).unwrap();
    Part::Supercharger(Box::new(Supercharger {
        kind,
        max_speed: None,
        rotor_diameter: None,
        belt_path: None,
        bypass: bypass(d),
        engaged: d.chance(0.1).then(clutch),
    }))
}

fn turbo(d: &mut Draw, flow: f64, maps: &Maps) -> Part {
    let (performance, map) = if d.chance(0.4) {
        (CompressorPerformance::Map, Some(maps.passing(flow).1))
    } else {
        let efficiency = fixed(d.from(0.55, 0.8));
        (CompressorPerformance::Efficiency(efficiency), None)
    };
    Part::TurboCompressor(TurboCompressor {
        performance,
        map,
        max_speed: None,
    })
}

fn turbine(d: &mut Draw, engine: &Engine, rpm: f64, drives: usize, of: usize) -> Turbine {
    // The nozzle that an engine of this displacement at 3000 rpm is usually given, both ways.
    let usual = 0.17 * engine.swept_flow(rpm) / (3000.0 / 120.0);
    let later = if of > 1 && drives == 0 { 1.6 } else { 1.0 };
    let gated = d.chance(0.65).then(|| Wastegate {
        boost_limit: fixed(d.from(40e3, 220e3)),
        boost_at: if d.chance(0.8) {
            BoostAt::Manifold
        } else {
            BoostAt::CompressorOutlet
        },
        opening: if d.chance(0.7) {
            GateOpening::LargestShare(d.from(0.2, 0.6))
        } else {
            GateOpening::ValveDiameter(d.from(0.02, 0.04))
        },
    });
    Turbine {
        swallowing: Swallowing::Area {
            effective_area: usual * later * d.from(0.55, 1.9),
            law: if d.chance(0.7) {
                FlowLaw::Nozzle
            } else {
                FlowLaw::TwoThroats
            },
        },
        efficiency: TurbineEfficiency::Figure(d.from(0.5, 0.78)),
        mechanical_efficiency: d.from(0.9, 1.0),
        // The first in exhaust order drives the last compressor.
        drives: of - 1 - drives,
        wastegate: gated,
    }
}
