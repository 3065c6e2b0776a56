//! Charge coolers of every kind, drawn, in place of the given effectiveness of a random build.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used)]

use airpath::air_path::{
    Arrangement, Cooler, Core, CorePassage, CoreSizes, Exchange, FanCurve, Fin, FinKind, Part,
    Rated, RatedDrop, RatedFigure, RatedPoint, Sink, SinkFlow, SinkFluid, WaterCircuit,
};
use airpath::matching::Installation;
use airpath::numeric::Schedule;

use crate::random_builds::Draw;

/// Gives the build coolers of drawn kinds: each that is there, and in some builds one more ahead of
/// it, between the stages. `flow` is about what the engine swallows, kg/s.
pub fn draw_coolers(installation: &mut Installation, seed: u64, flow: f64) {
    let d = &mut Draw::new(seed ^ 0x00C0_01E2);
    let site = (installation.site.temperature, installation.site.pressure);
    for part in &mut installation.air_path {
        if let Part::Cooler(cooler) = part {
            *cooler = drawn(d, site, flow);
        }
    }
    let first_stage = (installation.air_path.iter())
        .position(|part| matches!(part, Part::Supercharger(_) | Part::TurboCompressor(_)));
    if let Some(place) = first_stage.filter(|_| d.chance(0.3)) {
        let between = Part::Cooler(drawn(d, site, flow));
        installation.air_path.insert(place + 1, between);
    }
}

fn drawn(d: &mut Draw, (temperature, pressure): (f64, f64), flow: f64) -> Cooler {
    let water = d.chance(0.3);
    let sink = Sink {
        fluid: if water {
            SinkFluid::Water
        } else {
            SinkFluid::Air
        },
        temperature: if water {
            temperature.max(280.0)
        } else {
            temperature
        },
        pressure,
        ..Sink::air(temperature)
    };
    let sink = sink.flowing(flow * d.from(0.3, 5.0));
    let sink = if water && d.chance(0.5) {
        let circuit = WaterCircuit {
            tank_volume: 0.01,
            ice_mass: 0.0,
            radiator_conductance: d.from(100.0, 800.0),
            pressure,
        };
        Sink {
            circuit: Some(circuit),
            ..sink
        }
    } else {
        driven(d, sink)
    };
    let exchange = if d.chance(0.5) {
        rated(d, water, flow)
    } else {
        core(d, water, flow)
    };
    let at_flow = flow * d.from(1.5, 2.5);
    Cooler {
        exchange,
        pressure_drop: RatedDrop::rated(d.from(0.0, 9000.0), at_flow, 2e5, 400.0),
        sink,
        metal: None,
    }
}

/// Air that a fan or the wind drives, in some.
fn driven(d: &mut Draw, sink: Sink) -> Sink {
    let drop = Some(RatedDrop::rated(200.0, 0.6, 101_325.0, 293.15));
    if sink.fluid == SinkFluid::Water || d.chance(0.5) {
        return sink;
    }
    let flow = if d.chance(0.5) {
        SinkFlow::Fan(FanCurve::new(vec![(0.0, 400.0), (0.5, 250.0), (1.2, 0.0)]).unwrap())
    } else {
        SinkFlow::Ram {
            speed: Schedule::constant(d.from(0.5, 60.0)),
            pressure_coefficient: d.from(0.1, 0.8),
        }
    };
    Sink {
        flow,
        pressure_drop: drop,
        ..sink
    }
}

fn rated(d: &mut Draw, water: bool, flow: f64) -> Exchange {
    let arrangement = match d.from(0.0, 4.0) {
        x if x < 1.0 => Arrangement::CrossflowUnmixed,
        x if x < 2.0 => Arrangement::ChargeMixed,
        x if x < 3.0 => Arrangement::SinkMixed,
        _ => Arrangement::Counterflow,
    };
    let charge_flow = flow * d.from(0.5, 2.5);
    let point = RatedPoint {
        arrangement,
        sink: if water {
            SinkFluid::Water
        } else {
            SinkFluid::Air
        },
        charge_flow,
        sink_flow: charge_flow * d.from(1.5, 4.0),
        charge_inlet: d.from(370.0, 450.0),
        sink_inlet: d.from(280.0, 310.0),
        figure: RatedFigure::Effectiveness(d.from(0.3, 0.6)),
        sink_share: d.from(0.1, 0.8),
        exponents: (d.from(0.4, 0.8), d.from(0.4, 0.8)),
    };
    Exchange::Rated(Rated::new(&point).unwrap())
}

fn core(d: &mut Draw, water: bool, flow: f64) -> Exchange {
    let kind = |d: &mut Draw| match d.from(0.0, 3.0) {
        x if x < 1.0 => FinKind::Plain,
        x if x < 2.0 => FinKind::Offset { length: 3e-3 },
        _ => FinKind::Louvred {
            pitch: 1.2e-3,
            angle: 27.0,
            length: 6e-3,
        },
    };
    let fin = |d: &mut Draw| {
        Some(Fin {
            pitch: d.from(1.2e-3, 3e-3),
            thickness: 0.1e-3,
            kind: kind(d),
        })
    };
    let sizes = CoreSizes {
        arrangement: Arrangement::CrossflowUnmixed,
        width: d.from(0.2, 0.6),
        height: d.from(0.15, 0.4) * (flow / 0.1).sqrt().max(0.6),
        depth: d.from(0.04, 0.12),
        wall: 0.5e-3,
        conductivity: 180.0,
        charge: CorePassage {
            height: d.from(5e-3, 9e-3),
            fin: fin(d),
        },
        sink: CorePassage {
            height: d.from(5e-3, 9e-3),
            fin: if water { None } else { fin(d) },
        },
        beside: 1.0,
        conductance_factor: 1.0,
    };
    Exchange::Core(Box::new(Core::new(&sizes).unwrap()))
}
