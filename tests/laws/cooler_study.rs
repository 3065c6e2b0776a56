//! The cooler along a line: what is said to be needed is enough, and no more than that.

use crate::{coolers, installations};
use airpath::air_path::{Cooler, Part, Sink, SinkFlow};
use airpath::matching::{Installation, Match, Solver};
use airpath::numeric::Schedule;
use airpath::study::cooler::{Assessment, Knob, PaysTo, SizeNeeded, assess, with_cooler};
use airpath::study::{self, Branch};
use approx::assert_relative_eq;
use coolers::{cooler_part, core, rated, set_cooler};
use installations::installation;

fn assessed(installation: &Installation, target: Option<f64>) -> Assessment {
    let layout = Solver::new(installation).unwrap().layout().clone();
    let line = study::run(installation).unwrap();
    let cooler = layout.coolers.len() - 1;
    let found = assess(installation, &layout, &line, cooler, target).unwrap();
    found.unwrap()
}

/// The hottest charge of the line, K.
fn hottest(installation: &Installation) -> f64 {
    let line = study::run(installation).unwrap();
    let layout = Solver::new(installation).unwrap().layout().clone();
    let manifold = layout.stations.iter().position(|s| s.name == "manifold");
    line.points
        .iter()
        .map(|point| point.outcome.as_ref().unwrap().stations[manifold.unwrap()].temperature)
        .fold(0.0, f64::max)
}

fn with(installation: &Installation, cooler: Cooler) -> Installation {
    with_cooler(installation, cooler_part(installation), cooler)
}

fn cooler_of(installation: &Installation) -> Cooler {
    match &installation.air_path[cooler_part(installation)] {
        Part::Cooler(cooler) => cooler.clone(),
        _ => panic!("no cooler"),
    }
}

/// What the size of one kind asks for.
fn needed(assessment: &Assessment, knob: Knob) -> f64 {
    let size = assessment.verdict.as_ref().unwrap().size(knob);
    match size.unwrap().answer {
        SizeNeeded::Needed { value, .. } => value,
        other => panic!("{knob:?}: {other:?}"),
    }
}

#[test]
fn the_effectiveness_said_to_be_needed_brings_the_whole_line_just_to_the_target() {
    for name in [
        "truck",
        "truck with map",
        "single turbo",
        "single supercharger",
    ] {
        let build = installation(name);
        let now = hottest(&build);
        // A smaller and a larger cooler than there is.
        for target in [now + 6.0, now - 6.0] {
            let found = assessed(&build, Some(target));
            let value = needed(&found, Knob::Effectiveness);
            let other = with(&build, cooler_of(&build).with_effectiveness(value));
            // The root is closed to 1e-6 K at the speed that asks the most.
            let reached = hottest(&other);
            assert!(
                (reached - target).abs() < 1e-5,
                "{name}: {reached} {target}"
            );
            let verdict = found.verdict.unwrap();
            assert_eq!(verdict.is_enough(), target > now, "{name}");
            assert_eq!(verdict.short_by.is_none(), target > now, "{name}");
            assert_eq!(verdict.to_spare.is_some(), target > now, "{name}");
            let share = verdict.short_by.or(verdict.to_spare).unwrap();
            assert!(share > 0.0 && share < 1.0, "{name}: {share}");
        }
    }
}

#[test]
fn every_size_of_a_rated_cooler_and_of_a_core_would_do_when_it_is_built() {
    for exchange in [rated(), core()] {
        let mut build = installation("truck");
        set_cooler(&mut build, |cooler| {
            cooler.exchange = exchange.clone();
            cooler.sink = Sink::air(297.0).flowing(0.6);
        });
        let target = hottest(&build) - 3.0;
        let found = assessed(&build, Some(target));
        let verdict = found.verdict.as_ref().unwrap();
        for knob in [Knob::Conductance, Knob::Face, Knob::SinkFlow] {
            let factor = verdict.size(knob).unwrap().factor().unwrap();
            let cooler = cooler_of(&build);
            let other = match knob {
                Knob::Conductance => cooler.with_conductance_scaled(factor),
                Knob::Face => cooler.with_face_scaled(factor),
                _ => cooler.with_sink_flow_scaled(factor),
            };
            let reached = hottest(&with(&build, other));
            assert!(
                (reached - target).abs() < 1e-4,
                "{knob:?}: {reached} {target}"
            );
            assert!(factor > 1.0, "{knob:?}: {factor}");
        }
    }
}

#[test]
fn a_target_at_or_below_the_sink_has_no_finite_answer_and_one_just_above_has() {
    let build = installation("truck");
    let sink = cooler_of(&build).sink.temperature;
    for target in [sink - 10.0, sink] {
        let verdict = assessed(&build, Some(target)).verdict.unwrap();
        assert!(!verdict.is_enough());
        assert_eq!(verdict.short_by, None);
        let size = verdict.size(Knob::Effectiveness).unwrap();
        let SizeNeeded::OutOfReach { coldest, .. } = size.answer else {
            panic!("{:?}", size.answer)
        };
        // An endless cooler ends at the sink, never below.
        assert_relative_eq!(coldest, sink, max_relative = 1e-9);
    }
    let close = needed(&assessed(&build, Some(sink + 1.0)), Knob::Effectiveness);
    assert!(close > 0.98 && close < 1.0, "{close}");
}

#[test]
fn a_target_above_the_uncooled_charge_needs_nothing() {
    let verdict = assessed(&installation("truck"), Some(1200.0))
        .verdict
        .unwrap();
    let size = verdict.size(Knob::Effectiveness).unwrap();
    assert_eq!(size.answer, SizeNeeded::Nothing);
    assert!(verdict.is_enough());
}

#[test]
fn without_is_the_engine_whose_air_path_lacks_the_cooler() {
    let build = installation("truck");
    let mut bare = build.clone();
    bare.air_path.remove(cooler_part(&build));
    // Without its cooler this engine has two balances at some speeds: both come up the line.
    let mut branch = Branch::upward(&bare).unwrap();
    let found = assessed(&build, None);
    for point in found.points.iter().map(|point| point.as_ref().unwrap()) {
        let mut other = Match::default();
        branch.at(point.rpm, &mut other).unwrap();
        let without = point.without.as_ref().unwrap();
        assert_relative_eq!(
            without.air_mass_flow,
            other.air_mass_flow,
            max_relative = 1e-12
        );
        assert_relative_eq!(
            point.air_gain().unwrap(),
            point.engine.air_mass_flow / other.air_mass_flow - 1.0,
            max_relative = 1e-12
        );
        assert!(point.air_gain().unwrap() > 0.0);
    }
}

#[test]
fn the_hardest_point_takes_the_most_heat_and_its_densities_are_those_of_its_states() {
    let build = installation("truck");
    let gas_constant = Solver::new(&build).unwrap().gas().gas_constant();
    let found = assessed(&build, None);
    let hardest = &found.hardest;
    for point in found.points.iter().map(|point| point.as_ref().unwrap()) {
        assert!(point.state.heat <= hardest.state.heat);
    }
    let density = |pressure: f64, temperature: f64| pressure / (gas_constant * temperature);
    let ahead = density(hardest.inlet_pressure, hardest.state.inlet_temperature);
    let behind = density(
        hardest.inlet_pressure - hardest.state.pressure_drop,
        hardest.state.outlet_temperature,
    );
    assert_relative_eq!(hardest.inlet_density, ahead, max_relative = 1e-12);
    assert_relative_eq!(hardest.outlet_density, behind, max_relative = 1e-12);
    assert_relative_eq!(
        hardest.state.density_gain,
        behind / ahead,
        max_relative = 1e-12
    );
    assert!(hardest.density_gain_without_drop() > hardest.state.density_gain);
    // The least UA that could do it: −ln(1 − ε) of the capacity flow.
    let (conductance, units) = hardest.least_size().unwrap();
    assert_relative_eq!(
        1.0 - (-units).exp(),
        hardest.state.effectiveness,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        conductance / units * (hardest.state.inlet_temperature - hardest.state.outlet_temperature),
        hardest.state.heat,
        max_relative = 1e-12
    );
}

#[test]
fn the_ua_behind_a_given_effectiveness_is_inverted_where_the_flow_is_known() {
    let mut build = installation("truck");
    set_cooler(&mut build, |cooler| {
        cooler.sink = Sink::air(297.0).flowing(1.2);
    });
    let now = hottest(&build);
    let found = assessed(&build, Some(now - 4.0));
    let verdict = found.verdict.as_ref().unwrap();
    let size = verdict.size(Knob::Conductance).unwrap();
    assert!(size.factor().unwrap() > 1.0);
    let known = found.hottest.state.exchanger.unwrap();
    assert_relative_eq!(size.have, known.conductance, max_relative = 1e-12);
    // A sink that warms needs more than one that does not.
    let capacity = found.hottest.capacity_flow().unwrap();
    let least = -(-found.hottest.state.effectiveness).ln_1p() * capacity;
    assert!(known.conductance > least, "{} {least}", known.conductance);
}

#[test]
fn a_ram_driven_core_stops_paying_at_a_depth_and_its_own_depth_is_on_the_curve() {
    let mut build = installation("truck");
    set_cooler(&mut build, |cooler| {
        cooler.exchange = core();
        cooler.sink = Sink {
            flow: SinkFlow::Ram {
                speed: Schedule::constant(16.0),
                pressure_coefficient: 0.8,
            },
            ..Sink::air(297.0)
        };
    });
    let found = assessed(&build, None);
    let depths = found.depths.unwrap();
    assert_eq!(depths.place, PaysTo::Inside);
    assert!(!depths.assumed);
    let own = depths
        .points
        .iter()
        .find(|point| (point.factor - 1.0).abs() < 1e-9)
        .unwrap();
    assert_relative_eq!(
        own.density_gain,
        found.hardest.state.density_gain,
        max_relative = 1e-9
    );
    assert_relative_eq!(
        own.pressure_drop,
        found.hardest.state.pressure_drop,
        max_relative = 1e-6
    );
    // Beyond it a tenth more depth brings less than is said to be worth it.
    let gain = |factor: f64| {
        let nearest = depths
            .points
            .iter()
            .min_by(|a, b| {
                let away = |point: &&study::cooler::DepthPoint| (point.factor - factor).abs();
                away(a).total_cmp(&away(b))
            })
            .unwrap();
        nearest.density_gain
    };
    let there = depths.pays_to.factor;
    assert!(gain(there + 0.3) / gain(there + 0.1) - 1.0 < study::cooler::WORTH);
}
