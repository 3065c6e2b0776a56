//! Tables over engine speed that the engine runs beyond the ends of; the end value holds there.

use super::seen::Seen;
use super::{Code, Finding, Measure, Severity, Subject, Table};
use crate::air_path::{
    CompressorPerformance, Exchange, Part, PrescribedStage, SinkFlow, SuperchargerKind,
};
use crate::engine::Fuelling;
use crate::numeric::Schedule;

pub(super) fn find(seen: &Seen, list: &mut Vec<Finding>) {
    let mut check = |table: Table, schedule: &Schedule| {
        list.extend(beyond(seen.rpm(), table, schedule));
    };
    engine(seen, &mut check);
    fuel(seen, &mut check);
    stages(seen, &mut check);
    let parts = &seen.installation.air_path;
    for (index, (_, part)) in seen.layout.coolers.iter().enumerate() {
        if let Some(Part::Cooler(cooler)) = parts.get(*part) {
            if let Exchange::Fixed(effectiveness) = &cooler.exchange {
                check(Table::Effectiveness(index), effectiveness);
            }
            match &cooler.sink.flow {
                SinkFlow::Given(flow) => check(Table::SinkFlow(index), flow),
                SinkFlow::Ram { speed, .. } => check(Table::VehicleSpeed(index), speed),
                SinkFlow::Unknown | SinkFlow::Fan(_) => {}
            }
        }
    }
    for (index, turbine) in seen.installation.turbines.iter().enumerate() {
        if let Some(gate) = &turbine.wastegate {
            check(Table::BoostLimit(index), &gate.boost_limit);
        }
    }
}

fn engine(seen: &Seen, check: &mut impl FnMut(Table, &Schedule)) {
    let engine = &seen.installation.engine;
    check(Table::VolumetricEfficiency, &engine.volumetric_efficiency);
    if let Some(combustion) = &engine.combustion {
        let gross = &combustion.gross_indicated_efficiency;
        check(Table::GrossIndicatedEfficiency, gross);
        check(Table::HeatLossShare, &combustion.heat_loss_share);
        if let Some(rise) = &combustion.pressure_rise_ratio {
            check(Table::PressureRiseRatio, rise);
        }
    }
}

fn fuel(seen: &Seen, check: &mut impl FnMut(Table, &Schedule)) {
    let Some(fuel) = &seen.installation.fuel else {
        return;
    };
    match &fuel.burned {
        Fuelling::AirFuelRatio(ratio) => check(Table::AirFuelRatio, ratio),
        Fuelling::Lambda(lambda) => check(Table::Lambda, lambda),
        Fuelling::Flow(flow) => check(Table::FuelFlow, flow),
        Fuelling::PerStroke {
            mass,
            smallest_air_fuel_ratio,
        } => {
            check(Table::FuelPerStroke, mass);
            if let Some(smallest) = smallest_air_fuel_ratio {
                check(Table::SmallestAirFuelRatio, smallest);
            }
        }
    }
}

fn stages(seen: &Seen, check: &mut impl FnMut(Table, &Schedule)) {
    for stage in seen.stages() {
        let given: Option<&PrescribedStage> = match stage.kind {
            Part::Supercharger(supercharger) => match &supercharger.kind {
                SuperchargerKind::Prescribed(given) => Some(given),
                _ => None,
            },
            Part::TurboCompressor(turbo) => match &turbo.performance {
                CompressorPerformance::Prescribed(given) => Some(given),
                CompressorPerformance::Efficiency(efficiency) => {
                    check(Table::Efficiency(stage.index), efficiency);
                    None
                }
                CompressorPerformance::Map => None,
            },
            _ => None,
        };
        if let Some(given) = given {
            check(Table::PressureRatio(stage.index), &given.pressure_ratio);
            if let Some(efficiency) = &given.efficiency {
                check(Table::Efficiency(stage.index), efficiency);
            }
        }
    }
}

/// The nearer end of the table is the limit; the margin is negative and counts from that end.
fn beyond(rpm: f64, table: Table, schedule: &Schedule) -> Option<Finding> {
    if schedule.covers(rpm) {
        return None;
    }
    let first = schedule.rows().first()?.0;
    let last = schedule.rows().last()?.0;
    let end = if rpm < first { first } else { last };
    let severity = Severity::OutsideData;
    let found = Finding::remark(Code::BeyondTable, severity, Subject::Table(table), rpm)
        .valued(rpm, Measure::Speed);
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
                Subject::Table(Table::VolumetricEfficiency),
                Subject::Table(Table::AirFuelRatio)
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
        assert_eq!(found.subject, Subject::Table(Table::Efficiency(1)));
    }
}
