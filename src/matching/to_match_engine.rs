//! Writes the engine's side of a solved trial out: its fuel, its powers, its cylinders.

use super::outcome::{EngineState, FuelState, StageState};
use super::record::Record;
use super::setup::Setup;
use crate::air_path::{Part, SuperchargerKind};
use crate::engine::{CylinderState, Surroundings};

/// Delivery and evaporation of the fuel.
pub(super) fn fuel(setup: &Setup, record: &Record) -> Option<FuelState> {
    let fuel = setup.installation.fuel.as_ref()?;
    let flow = record.charge?.fuel_flow;
    let engine = &setup.installation.engine;
    let cycles = engine.cycles_per_second(setup.rpm);
    let per_stroke = engine
        .cylinders
        .map(|count| flow / (f64::from(count) * cycles));
    let manifold = record.manifold.map_or(0.0, |state| state.temperature);
    Some(FuelState {
        per_stroke,
        volume_per_stroke: per_stroke.zip(fuel.density).map(|(mass, rho)| mass / rho),
        injector_duty: fuel.injectors.map(|injectors| injectors.duty(flow)),
        evaporated: record.evaporated,
        charge_cooling: record.evaporated.map(|_| record.before_fuel - manifold),
    })
}

/// Powers that hang on an unknown exhaust pressure or on missing combustion are left out.
pub(super) fn engine(setup: &Setup, record: &Record, stages: &[StageState]) -> EngineState {
    let engine = &setup.installation.engine;
    let manifold = record.manifold.map_or(0.0, |state| state.pressure);
    let mut state = EngineState {
        volumetric_efficiency: record.volumetric_efficiency,
        mean_piston_speed: engine.mean_piston_speed(setup.rpm),
        peak_cylinder_pressure: engine.peak_cylinder_pressure(manifold, setup.rpm),
        cylinder: cylinder(setup, record),
        swept_flow: engine.swept_flow(setup.rpm),
        ..EngineState::default()
    };
    let Some(burnt) = &record.burnt else {
        return state;
    };
    state.gross_indicated_power = Some(burnt.energy.gross_indicated);
    if !(setup.knows_exhaust() && drives_are_known(setup)) {
        return state;
    }
    let drives: f64 = stages.iter().filter_map(|stage| stage.crank_power).sum();
    let energy = &burnt.energy;
    let crank = engine.crank_power(
        energy.gross_indicated,
        energy.pumping,
        drives,
        manifold,
        setup.rpm,
    );
    state.pumping_power = Some(energy.pumping);
    let Some(crank) = crank else { return state };
    state.friction_power = Some(crank.friction);
    state.drive_power = Some(crank.drives);
    state.brake_power = Some(crank.brake);
    state.torque = Some(crank.torque);
    let fuel = record.charge.map_or(0.0, |charge| charge.fuel_flow);
    state.specific_consumption = (crank.brake > 0.0).then(|| fuel / crank.brake);
    state
}

fn cylinder(setup: &Setup, record: &Record) -> Option<CylinderState> {
    let manifold = record.manifold?;
    let around = Surroundings {
        manifold_pressure: manifold.pressure,
        manifold_temperature: manifold.temperature,
        site_pressure: setup.ambient.pressure,
        peak_limit: setup.installation.limits.max_cylinder_pressure,
    };
    setup.installation.engine.cylinder(&around, setup.rpm)
}

/// A supercharger with a given ratio says nothing of what it takes from the crank.
fn drives_are_known(setup: &Setup) -> bool {
    setup.installation.air_path.iter().all(|part| match part {
        Part::Supercharger(stage) => !matches!(stage.kind, SuperchargerKind::Prescribed(_)),
        _ => true,
    })
}
