//! Invented coolers for the installations of tests.

// A helper of a test may stop at the first surprise, as a test may; not every program that takes
// this file in uses all of it.
#![allow(clippy::unwrap_used, clippy::panic, dead_code)]

use airpath::air_path::{
    Arrangement, Cooler, Core, CorePassage, CoreSizes, Exchange, Fin, FinKind, Part, Rated,
    RatedFigure, RatedPoint, SinkFluid,
};
use airpath::matching::Installation;

/// Where the last cooler stands among the parts.
pub fn cooler_part(installation: &Installation) -> usize {
    let is_cooler = |part: &Part| matches!(part, Part::Cooler(_));
    installation.air_path.iter().rposition(is_cooler).unwrap()
}

/// Changes the last cooler.
pub fn set_cooler(installation: &mut Installation, change: impl FnOnce(&mut Cooler)) {
    let part = cooler_part(installation);
    match &mut installation.air_path[part] {
        Part::Cooler(cooler) => change(cooler),
        _ => panic!("no cooler"),
    }
}

/// A rated point against air.
pub const POINT: RatedPoint = RatedPoint {
    arrangement: Arrangement::CrossflowUnmixed,
    sink: SinkFluid::Air,
    charge_flow: 0.25,
    sink_flow: 0.6,
    charge_inlet: 430.0,
    sink_inlet: 297.0,
    figure: RatedFigure::Effectiveness(0.70),
    sink_share: 0.4,
    exponents: (0.7, 0.6),
};

/// A cooler from that point.
pub fn rated() -> Exchange {
    Exchange::Rated(Rated::new(&POINT).unwrap())
}

/// The same against water.
pub fn rated_with_water() -> Exchange {
    let point = RatedPoint {
        sink: SinkFluid::Water,
        sink_share: 0.2,
        exponents: (0.7, 0.5),
        ..POINT
    };
    Exchange::Rated(Rated::new(&point).unwrap())
}

/// An invented bar-and-plate core: plain channels on both sides.
pub fn core() -> Exchange {
    let fin = |pitch| Fin {
        pitch,
        thickness: 0.1e-3,
        kind: FinKind::Plain,
    };
    let sizes = CoreSizes {
        arrangement: Arrangement::CrossflowUnmixed,
        width: 0.50,
        height: 0.25,
        depth: 0.07,
        wall: 0.5e-3,
        conductivity: 180.0,
        charge: CorePassage {
            height: 6e-3,
            fin: Some(fin(2e-3)),
        },
        sink: CorePassage {
            height: 8e-3,
            fin: Some(fin(2e-3)),
        },
        beside: 1.0,
        conductance_factor: 1.0,
    };
    Exchange::Core(Box::new(Core::new(&sizes).unwrap()))
}
