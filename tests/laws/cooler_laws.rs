//! What holds of every charge cooler: energy, limits, a rated point that comes back, circuits that
//! balance, sizes that scale.

use airpath::air_path::{
    AirState, Arrangement, Cooled, Cooler, Core, CoreError, CorePassage, CoreSizes, Exchange,
    FanCurve, Fin, FinKind, Rated, RatedDrop, RatedError, RatedFigure, RatedPoint, Sink, SinkFlow,
    SinkFluid, WaterCircuit,
};
use airpath::gas::{Gas, HumidAir};
use airpath::numeric::Schedule;
use approx::assert_relative_eq;
use proptest::prelude::*;

const POINT: RatedPoint = RatedPoint {
    arrangement: Arrangement::CrossflowUnmixed,
    sink: SinkFluid::Air,
    charge_flow: 0.25,
    sink_flow: 0.9,
    charge_inlet: 430.0,
    sink_inlet: 300.0,
    figure: RatedFigure::Effectiveness(0.75),
    sink_share: 0.5,
    exponents: (0.6, 0.5),
};

fn gas() -> Gas {
    HumidAir::dry().gas()
}

fn charge(temperature: f64) -> AirState {
    AirState::new(&gas(), 250e3, temperature).unwrap()
}

fn cooler(exchange: Exchange, sink: Sink) -> Cooler {
    Cooler {
        exchange,
        pressure_drop: RatedDrop::rated(5000.0, 0.25, 250e3, 430.0),
        sink,
        metal: None,
    }
}

fn rated(point: &RatedPoint) -> Cooler {
    let sink = Sink {
        fluid: point.sink,
        ..Sink::air(point.sink_inlet)
    };
    let exchange = Exchange::Rated(Rated::new(point).unwrap());
    cooler(exchange, sink.flowing(point.sink_flow))
}

/// An invented bar-and-plate core: offset strips inside, louvres outside.
fn sizes() -> CoreSizes {
    let fin = |pitch, kind| Fin {
        pitch,
        thickness: 0.1e-3,
        kind,
    };
    CoreSizes {
        arrangement: Arrangement::CrossflowUnmixed,
        width: 0.45,
        height: 0.30,
        depth: 0.055,
        wall: 0.5e-3,
        conductivity: 180.0,
        charge: CorePassage {
            height: 6.5e-3,
            fin: Some(fin(2e-3, FinKind::Offset { length: 3e-3 })),
        },
        sink: CorePassage {
            height: 8e-3,
            fin: Some(fin(
                1.8e-3,
                FinKind::Louvred {
                    pitch: 1.2e-3,
                    angle: 27.0,
                    length: 6.8e-3,
                },
            )),
        },
        beside: 1.0,
        conductance_factor: 1.0,
    }
}

fn core(sizes: &CoreSizes, sink: Sink) -> Cooler {
    let exchange = Exchange::Core(Box::new(Core::new(sizes).unwrap()));
    cooler(exchange, sink)
}

fn heat(inlet: &AirState, cooled: &Cooled, flow: f64) -> f64 {
    flow * (inlet.enthalpy - cooled.outlet.enthalpy)
}

/// At the rated flows and temperatures it gives back the rating, be it said in any of three ways.
#[test]
fn a_rated_point_comes_back_exactly() {
    for arrangement in [
        Arrangement::CrossflowUnmixed,
        Arrangement::ChargeMixed,
        Arrangement::SinkMixed,
        Arrangement::Counterflow,
    ] {
        for (sink, sink_flow) in [
            (SinkFluid::Air, 0.9),
            (SinkFluid::Air, 0.22),
            (SinkFluid::Water, 0.3),
        ] {
            for figure in [
                RatedFigure::Effectiveness(0.55),
                RatedFigure::Heat(18e3),
                RatedFigure::ChargeOutlet(358.0),
            ] {
                let point = RatedPoint {
                    arrangement,
                    sink,
                    sink_flow,
                    figure,
                    ..POINT
                };
                let inlet = charge(430.0);
                let cooled = rated(&point).cool(&gas(), &inlet, 0.25, 2000.0).unwrap();
                match figure {
                    RatedFigure::Effectiveness(e) => {
                        assert_relative_eq!(cooled.effectiveness, e, max_relative = 1e-11);
                    }
                    RatedFigure::Heat(q) => {
                        assert_relative_eq!(heat(&inlet, &cooled, 0.25), q, max_relative = 1e-11);
                    }
                    RatedFigure::ChargeOutlet(t) => {
                        assert_relative_eq!(cooled.outlet.temperature, t, max_relative = 1e-12);
                    }
                }
            }
        }
    }
}

#[test]
fn a_rating_beyond_its_flows_is_refused_with_what_they_allow() {
    let point = RatedPoint {
        sink_flow: 0.15,
        ..POINT
    };
    let Err(RatedError::OutOfReach { needed, most }) = Rated::new(&point) else {
        unreachable!("0.15 kg/s cannot take 0.75 of 0.25 kg/s")
    };
    // cp of 300 K over the mean of 300 to 430 K is 0.9946: 0.15/0.25 times that.
    assert_relative_eq!(most, 0.5964, epsilon = 5e-4);
    assert_relative_eq!(needed, 0.75, epsilon = 2e-3);
    let one = RatedPoint {
        figure: RatedFigure::Effectiveness(1.0),
        ..POINT
    };
    assert!(Rated::new(&one).is_err());
}

/// What the sink takes is what the charge gives, for each kind, and never more than there is.
#[test]
fn the_sink_takes_what_the_charge_gives() {
    let given = Cooler::fixed(Schedule::constant(0.7), RatedDrop::NONE, 300.0);
    let given = Cooler {
        sink: given.sink.clone().flowing(0.8),
        ..given
    };
    let coolers = [
        rated(&POINT),
        core(&sizes(), Sink::air(300.0).flowing(0.9)),
        given,
    ];
    for (cooler, flow) in coolers
        .iter()
        .flat_map(|c| [(c, 0.05), (c, 0.25), (c, 0.5)])
    {
        let inlet = charge(430.0);
        let side = cooler.sink_side(&gas(), 2000.0).unwrap();
        let cooled = cooler.cool(&gas(), &inlet, flow, 2000.0).unwrap();
        let needed = || cooler.exchanger_needed(&gas(), &inlet, flow, &cooled, &side);
        let it = cooled.exchanger.or_else(needed).unwrap();
        let taken = side.flow.unwrap().1 * (it.sink_outlet_temperature - 300.0);
        assert_relative_eq!(heat(&inlet, &cooled, flow), taken, max_relative = 1e-11);
        assert!(it.sink_outlet_temperature < 430.0 && cooled.outlet.temperature > 300.0);
        let capacity = side.flow.unwrap().1;
        let charge = capacity / it.sink_over_charge;
        let (smaller, larger) = (charge.min(capacity), charge.max(capacity));
        assert_relative_eq!(
            it.transfer_units * smaller,
            it.conductance,
            max_relative = 1e-12
        );
        assert_relative_eq!(it.capacity_ratio, smaller / larger, max_relative = 1e-12);
    }
}

#[test]
fn an_endless_cooler_ends_at_the_sink_and_none_changes_nothing() {
    let endless = rated(&POINT).with_conductance_scaled(1e4);
    let inlet = charge(430.0);
    let cooled = endless.cool(&gas(), &inlet, 0.25, 2000.0).unwrap();
    assert!(cooled.outlet.temperature >= 300.0 - 1e-9);
    assert_relative_eq!(cooled.outlet.temperature, 300.0, epsilon = 1e-6);
    let none = rated(&POINT).without();
    let cooled = none.cool(&gas(), &inlet, 0.25, 2000.0).unwrap();
    assert_relative_eq!(cooled.outlet.enthalpy, inlet.enthalpy, max_relative = 1e-15);
    assert_relative_eq!(cooled.outlet.pressure, inlet.pressure);
    // A sink that stands takes nothing.
    let still = Cooler {
        sink: Sink::air(300.0).flowing(0.0),
        ..rated(&POINT)
    };
    let cooled = still.cool(&gas(), &inlet, 0.25, 2000.0).unwrap();
    assert!(cooled.effectiveness.abs() < 1e-15 && cooled.exchanger.is_none());
}

/// A charge colder than the sink is warmed, and the steps from one to the other are smooth.
#[test]
fn heat_goes_either_way_without_a_step() {
    for cooler in [rated(&POINT), core(&sizes(), Sink::air(300.0).flowing(0.9))] {
        let at = |t: f64| {
            let cooled = cooler.cool(&gas(), &charge(t), 0.25, 2000.0).unwrap();
            (cooled.outlet.temperature - 300.0, cooled.effectiveness)
        };
        assert!(at(280.0).0 < 0.0 && at(280.0).0 > -20.0);
        assert!(at(300.0).0.abs() < 1e-9);
        for t in [299.99, 300.01] {
            let (below, above) = (at(t - 1e-9), at(t + 1e-9));
            assert!((below.0 - above.0).abs() < 1e-8, "{below:?} {above:?}");
            assert_relative_eq!(below.1, above.1, max_relative = 1e-5);
        }
    }
}

/// Each side's conductance grows with a power of its own flow, and each holds its share of the
/// resistance: by hand for exponents 0.6 and 0.5, 1/((1 − s) c^−0.6 + s k^−0.5) of the rated UA at c and k
/// times the flows, with the share s on the sink's side.
#[test]
fn conductance_grows_with_both_flows() {
    for share in [0.5, 0.2] {
        let rated = Rated::new(&RatedPoint {
            sink_share: share,
            ..POINT
        })
        .unwrap();
        let ua = rated.conductance(0.25, 0.9);
        let by_hand = |charge: f64, sink: f64| {
            1.0 / ((1.0 - share) * charge.powf(-0.6) + share * sink.powf(-0.5))
        };
        for (charge, sink) in [(2.0, 1.0), (1.0, 2.0), (0.5, 3.0)] {
            let found = rated.conductance(0.25 * charge, 0.9 * sink);
            assert_relative_eq!(found / ua, by_hand(charge, sink), max_relative = 1e-12);
        }
    }
}

/// ε = 1 − exp(−NTU) with an endless sink (any textbook of heat transfer): 0.6 is an NTU of 0.9163, twice
/// of it 0.84, by hand.
#[test]
fn twice_the_conductance_leaves_the_square_of_what_was_left() {
    let given = Cooler::fixed(Schedule::constant(0.6), RatedDrop::NONE, 300.0);
    let twice = given.with_conductance_scaled(2.0);
    let cooled = twice.cool(&gas(), &charge(430.0), 0.25, 2000.0).unwrap();
    assert_relative_eq!(cooled.effectiveness, 0.84, max_relative = 1e-12);
}

/// Friction goes with the specific volume on the way, half of the inlet's and half of the outlet's; what the
/// cold air gains by slowing down, and its lower viscosity, only lessen the drop further (Kays and London,
/// Compact Heat Exchangers, eq. 2-26, from memory). A core without heat keeps the inlet's.
#[test]
fn a_charge_that_is_cooled_on_its_way_drops_less() {
    let drop = |sink: f64| {
        let mut core = core(&sizes(), Sink::air(sink).flowing(0.9));
        core.pressure_drop = RatedDrop::NONE;
        let cooled = core.cool(&gas(), &charge(430.0), 0.25, 2000.0).unwrap();
        (250e3 - cooled.outlet.pressure, cooled.outlet.temperature)
    };
    let ((cold, outlet), (hot, _)) = (drop(300.0), drop(430.0));
    let volume = 0.5 * (1.0 + outlet / 430.0);
    assert!(outlet < 360.0 && hot > 0.0);
    assert!(
        (0.5 * volume..volume).contains(&(cold / hot)),
        "{cold} {hot} {volume}"
    );
}

/// A radiator of its own: the heat of the cooler is the heat of the radiator, G (T_hot − T_air).
#[test]
fn a_water_circuit_stands_where_its_radiator_gives_away_what_the_cooler_takes() {
    let point = RatedPoint {
        sink: SinkFluid::Water,
        sink_flow: 0.4,
        ..POINT
    };
    let circuit = WaterCircuit {
        tank_volume: 5e-3,
        ice_mass: 0.0,
        radiator_conductance: 900.0,
        pressure: 101_325.0,
    };
    let mut cooler = rated(&point);
    cooler.sink.circuit = Some(circuit);
    let fixed = cooler.with_effectiveness(0.75);
    for cooler in [&cooler, &fixed] {
        let inlet = charge(430.0);
        let side = cooler.sink_side(&gas(), 2000.0).unwrap();
        let cooled = cooler.cool(&gas(), &inlet, 0.25, 2000.0).unwrap();
        let q = heat(&inlet, &cooled, 0.25);
        let hot = cooled.sink_temperature + q / side.flow.unwrap().1;
        assert_relative_eq!(900.0 * (hot - 300.0), q, max_relative = 1e-10);
        assert!(cooled.sink_temperature > 300.0);
    }
    // A moment of a run has the water at a temperature, whatever the radiator.
    let moment = cooler.with_sink_temperature(320.0);
    let cooled = moment.cool(&gas(), &charge(430.0), 0.25, 2000.0).unwrap();
    assert_relative_eq!(cooled.sink_temperature, 320.0);
}

/// By hand: 0.35 of ½ · 1.1768 · 20² Pa across K = 200 Pa at 0.5 kg/s.
#[test]
fn the_wind_drives_the_flow_that_its_pressure_allows() {
    let sink = Sink {
        flow: SinkFlow::Ram {
            speed: Schedule::constant(20.0),
            pressure_coefficient: 0.35,
        },
        pressure_drop: Some(RatedDrop::rated(200.0, 0.5, 101_325.0, 300.0)),
        ..Sink::air(300.0)
    };
    let by_wind = Cooler {
        sink,
        ..rated(&POINT)
    };
    let side = by_wind.sink_side(&gas(), 2000.0).unwrap();
    let pressure = 0.35 * 0.5 * 1.176_8 * 400.0_f64;
    assert_relative_eq!(side.pressure_drop.unwrap(), pressure, max_relative = 1e-3);
    let flow = 0.5 * (pressure / 200.0).sqrt();
    assert_relative_eq!(side.flow.unwrap().0, flow, max_relative = 1e-3);
    let stands = Cooler {
        sink: Sink {
            flow: SinkFlow::Ram {
                speed: Schedule::constant(0.0),
                pressure_coefficient: 0.35,
            },
            ..by_wind.sink.clone()
        },
        ..by_wind.clone()
    };
    assert!(
        stands
            .sink_side(&gas(), 2000.0)
            .unwrap()
            .flow
            .unwrap()
            .0
            .abs()
            < 1e-15
    );
    let scaled = by_wind
        .with_sink_flow_scaled(1.5)
        .sink_side(&gas(), 2000.0)
        .unwrap();
    assert_relative_eq!(scaled.flow.unwrap().0, 1.5 * flow, max_relative = 1e-3);
}

#[test]
fn a_fan_stands_where_its_rise_is_the_drop_of_the_core() {
    let fan = FanCurve::new(vec![(0.1, 350.0), (0.6, 220.0), (1.1, 0.0)]).unwrap();
    let sink = Sink {
        flow: SinkFlow::Fan(fan.clone()),
        ..Sink::air(300.0)
    };
    let cooler = core(&sizes(), sink);
    let side = cooler.sink_side(&gas(), 2000.0).unwrap();
    let volume = side.flow.unwrap().0 / gas().density(101_325.0, 300.0);
    assert!(volume > 0.1 && volume < 1.1);
    assert_relative_eq!(
        side.pressure_drop.unwrap(),
        fan.rise(volume),
        max_relative = 1e-9
    );
}

/// Two coolers side by side at twice the flows are one cooler each.
#[test]
fn twice_the_face_at_twice_the_flows_is_the_same() {
    for one in [rated(&POINT), core(&sizes(), Sink::air(300.0).flowing(0.9))] {
        let two = one.with_face_scaled(2.0).with_sink_flow_scaled(2.0);
        let a = one.cool(&gas(), &charge(430.0), 0.25, 2000.0).unwrap();
        let b = two.cool(&gas(), &charge(430.0), 0.5, 2000.0).unwrap();
        assert_relative_eq!(
            a.outlet.temperature,
            b.outlet.temperature,
            max_relative = 1e-11
        );
        if let Exchange::Rated(_) = one.exchange {
            assert_relative_eq!(a.outlet.pressure, b.outlet.pressure, max_relative = 1e-12);
        }
        let (a, b) = (a.exchanger.unwrap(), b.exchanger.unwrap());
        assert_relative_eq!(2.0 * a.conductance, b.conductance, max_relative = 1e-11);
    }
}

/// More depth: more conductance, less drop of the charge, more of the sink.
#[test]
fn more_depth_frees_the_charge_and_holds_up_the_sink() {
    let drop = RatedDrop::rated(200.0, 0.9, 101_325.0, 300.0);
    let point = rated(&POINT);
    let point = Cooler {
        sink: Sink {
            pressure_drop: Some(drop),
            ..point.sink.clone()
        },
        ..point
    };
    for one in [point, core(&sizes(), Sink::air(300.0).flowing(0.9))] {
        let deeper = one.with_depth_scaled(1.4);
        let at = |cooler: &Cooler| {
            let cooled = cooler.cool(&gas(), &charge(430.0), 0.25, 2000.0).unwrap();
            let it = cooled.exchanger.unwrap();
            (
                it.conductance,
                250e3 - cooled.outlet.pressure,
                it.sink_pressure_drop.unwrap(),
            )
        };
        let (a, b) = (at(&one), at(&deeper));
        assert!(b.0 > 1.1 * a.0 && b.0 < 1.4 * a.0, "{a:?} {b:?}");
        assert!(b.1 < 0.85 * a.1, "{a:?} {b:?}");
        assert!(b.2 > 1.2 * a.2, "{a:?} {b:?}");
    }
}

#[test]
fn a_given_effectiveness_needs_the_exchanger_that_gives_it() {
    let rated = rated(&POINT);
    let inlet = charge(430.0);
    let found = rated.cool(&gas(), &inlet, 0.3, 2000.0).unwrap();
    let fixed = rated.with_effectiveness(found.effectiveness);
    let side = fixed.sink_side(&gas(), 2000.0).unwrap();
    let cooled = fixed.cool(&gas(), &inlet, 0.3, 2000.0).unwrap();
    let needed = fixed
        .exchanger_needed(&gas(), &inlet, 0.3, &cooled, &side)
        .unwrap();
    assert_relative_eq!(
        needed.conductance,
        found.exchanger.unwrap().conductance,
        max_relative = 1e-9
    );
    // Beyond what the flows allow none is needed: none would do.
    let scarce = fixed.with_sink_flow_scaled(0.15);
    let side = scarce.sink_side(&gas(), 2000.0).unwrap();
    assert_eq!(
        scarce.exchanger_needed(&gas(), &inlet, 0.3, &cooled, &side),
        None
    );
    let limit = scarce
        .flow_limit(&gas(), &inlet, 0.3, &cooled, &side)
        .unwrap();
    assert!(limit < cooled.effectiveness);
}

#[test]
fn sizes_that_make_no_core_are_refused() {
    let of = |change: fn(&mut CoreSizes)| {
        let mut sizes = sizes();
        change(&mut sizes);
        Core::new(&sizes).unwrap_err()
    };
    assert_eq!(of(|s| s.height = 0.015), CoreError::TooLow);
    assert_eq!(of(|s| s.width = f64::NAN), CoreError::Size);
    assert!(matches!(
        of(|s| s.sink.height = 0.05e-3),
        CoreError::NoRoom(_)
    ));
}

proptest! {
    /// No size, flow or temperature gives anything but a number between inlet and sink.
    #[test]
    fn every_core_and_flow_ends_between_inlet_and_sink(
        width in 0.02..1.5_f64, height in 0.03..1.0_f64, depth in 0.005..0.4_f64,
        pitch in 0.3e-3..8e-3_f64, kind in 0..3, charge_flow in 1e-5..3.0_f64,
        sink_flow in 0.0..5.0_f64, inlet in 250.0..600.0_f64, water in any::<bool>(),
    ) {
        let mut sizes = CoreSizes { width, height, depth, ..sizes() };
        let kind = match kind {
            0 => FinKind::Plain,
            1 => FinKind::Offset { length: pitch },
            _ => FinKind::Louvred { pitch, angle: 20.0, length: 6e-3 },
        };
        sizes.charge.fin = Some(Fin { pitch, thickness: 0.1e-3, kind });
        if water {
            sizes.sink.fin = None;
        }
        let fluid = if water { SinkFluid::Water } else { SinkFluid::Air };
        let cooler = core(&sizes, Sink { fluid, ..Sink::air(300.0).flowing(sink_flow) });
        let state = charge(inlet);
        let cooled = cooler.cool(&gas(), &state, charge_flow, 2000.0).unwrap();
        let out = cooled.outlet.temperature;
        prop_assert!(out >= inlet.min(300.0) - 1e-7 && out <= inlet.max(300.0) + 1e-7);
        prop_assert!(cooled.outlet.pressure <= state.pressure && cooled.outlet.pressure.is_finite());
        prop_assert!(cooled.effectiveness >= -1e-9 && cooled.effectiveness <= 1.0 + 1e-9);
        if let Some(it) = cooled.exchanger {
            for x in [it.conductance, it.transfer_units, it.capacity_ratio, it.heat_effectiveness,
                it.sink_outlet_temperature, it.sink_pressure_drop.unwrap_or(0.0)] {
                prop_assert!(x.is_finite());
            }
        }
    }
}
