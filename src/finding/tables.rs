//! Tables over engine speed that the engine runs beyond the ends of; the end value holds there.

use super::catalogue::Code;
use super::context::Context;
use super::entry::Finding;
use super::subject::{SpeedTable, Subject};
use crate::air_path::{
    CompressorPerformance, Exchange, Part, PrescribedStage, SinkFlow, SuperchargerKind,
};
use crate::engine::Fuelling;
use crate::numeric::Schedule;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    let mut check = |table: SpeedTable, schedule: &Schedule| {
        list.extend(beyond(context.rpm(), table, schedule));
    };
    engine(context, &mut check);
    fuel(context, &mut check);
    stages(context, &mut check);
    let parts = &context.installation.air_path;
    for (index, (_, part)) in context.layout.coolers.iter().enumerate() {
        if let Some(Part::Cooler(cooler)) = parts.get(*part) {
            if let Exchange::Fixed(effectiveness) = &cooler.exchange {
                check(SpeedTable::Effectiveness(index), effectiveness);
            }
            match &cooler.sink.flow {
                SinkFlow::Given(flow) => check(SpeedTable::SinkFlow(index), flow),
                SinkFlow::Ram { speed, .. } => check(SpeedTable::VehicleSpeed(index), speed),
                SinkFlow::Unknown | SinkFlow::Fan(_) => {}
            }
        }
    }
    for (index, turbine) in context.installation.turbines.iter().enumerate() {
        if let Some(gate) = &turbine.wastegate {
            check(SpeedTable::BoostLimit(index), &gate.boost_limit);
        }
    }
}

fn engine(context: &Context, check: &mut impl FnMut(SpeedTable, &Schedule)) {
    let engine = &context.installation.engine;
    check(
        SpeedTable::VolumetricEfficiency,
        &engine.volumetric_efficiency,
    );
    if let Some(combustion) = &engine.combustion {
        let gross = &combustion.gross_indicated_efficiency;
        check(SpeedTable::GrossIndicatedEfficiency, gross);
        check(SpeedTable::HeatLossShare, &combustion.heat_loss_share);
        if let Some(rise) = &combustion.pressure_rise_ratio {
            check(SpeedTable::PressureRiseRatio, rise);
        }
    }
}

fn fuel(context: &Context, check: &mut impl FnMut(SpeedTable, &Schedule)) {
    let Some(fuel) = &context.installation.fuel else {
        return;
    };
    match &fuel.burned {
        Fuelling::AirFuelRatio(ratio) => check(SpeedTable::AirFuelRatio, ratio),
        Fuelling::Lambda(lambda) => check(SpeedTable::Lambda, lambda),
        Fuelling::Flow(flow) => check(SpeedTable::FuelFlow, flow),
        Fuelling::PerStroke {
            mass,
            smallest_air_fuel_ratio,
        } => {
            check(SpeedTable::FuelPerStroke, mass);
            if let Some(smallest) = smallest_air_fuel_ratio {
                check(SpeedTable::SmallestAirFuelRatio, smallest);
            }
        }
    }
}

fn stages(context: &Context, check: &mut impl FnMut(SpeedTable, &Schedule)) {
    for stage in context.stages() {
        let given: Option<&PrescribedStage> = match stage.kind {
            Part::Supercharger(supercharger) => match &supercharger.kind {
                SuperchargerKind::Prescribed(given) => Some(given),
                _ => None,
            },
            Part::TurboCompressor(turbo) => match &turbo.performance {
                CompressorPerformance::Prescribed(given) => Some(given),
                CompressorPerformance::Efficiency(efficiency) => {
                    check(SpeedTable::Efficiency(stage.index), efficiency);
                    None
                }
                CompressorPerformance::Map => None,
            },
            _ => None,
        };
        if let Some(given) = given {
            check(
                SpeedTable::PressureRatio(stage.index),
                &given.pressure_ratio,
            );
            if let Some(efficiency) = &given.efficiency {
                check(SpeedTable::Efficiency(stage.index), efficiency);
            }
        }
    }
}

/// The nearer end of the table is the limit; the margin is negative and counts from that end.
fn beyond(rpm: f64, table: SpeedTable, schedule: &Schedule) -> Option<Finding> {
    if schedule.covers(rpm) {
        return None;
    }
    let first = schedule.rows().first()?.0;
    let last = schedule.rows().last()?.0;
    let end = if rpm < first { first } else { last };
    let found = Finding::remark(Code::BeyondTable, Subject::Table(table), rpm).valued(rpm);
    Some(Finding {
        limit: Some(end),
        margin: (end > 0.0).then(|| -(rpm - end).abs() / end),
        weight: (rpm / end).ln().abs(),
        ..found
    })
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::rule::Severity;
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn inside_every_table_there_is_nothing_to_say() {
        assert_eq!(Case::truck().all(Code::BeyondTable), []);
    }

    #[test]
    fn beyond_the_end_each_table_is_named_with_its_end() {
        let mut case = Case::truck();
        case.found.rpm = 3360.0;
        let found = case.all(Code::BeyondTable);
        let subjects: Vec<_> = found.iter().map(|finding| finding.subject).collect();
        assert_eq!(
            subjects,
            [
                Subject::Table(SpeedTable::VolumetricEfficiency),
                Subject::Table(SpeedTable::AirFuelRatio)
            ]
        );
        assert_eq!(found[0].severity, Severity::OutsideData);
        assert_eq!(found[0].limit, Some(3200.0));
        // (3360 − 3200)/3200 by hand.
        assert_relative_eq!(found[0].margin.unwrap(), -0.05, max_relative = 1e-12);
    }

    #[test]
    fn below_the_first_row_counts_as_well() {
        let mut case = Case::truck();
        case.found.rpm = 900.0;
        assert_eq!(case.all(Code::BeyondTable)[0].limit, Some(1200.0));
    }

    #[test]
    fn tables_of_parts_are_looked_at_too() {
        let mut case = Case::truck();
        let table = Schedule::new(vec![(1000.0, 0.7), (2000.0, 0.72)]).unwrap();
        case.installation.air_path[2] = match case.installation.air_path[2].clone() {
            Part::TurboCompressor(mut turbo) => {
                turbo.performance = CompressorPerformance::Efficiency(table);
                Part::TurboCompressor(turbo)
            }
            other => other,
        };
        let found = case.one(Code::BeyondTable);
        assert_eq!(found.subject, Subject::Table(SpeedTable::Efficiency(1)));
    }
}
