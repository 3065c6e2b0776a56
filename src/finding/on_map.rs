//! Surge margin, and points outside the map of a machine.

use super::catalogue::Code;
use super::context::{Context, MatchedStage};
use super::detail::Detail;
use super::entry::Finding;
use super::rule::{Basis, Severity};
use super::subject::Subject;
use crate::air_path::{Filling, Part, SuperchargerKind};
use crate::exhaust::Swallowing;
use crate::map::{CompressorMap, CorrectedFlow, CorrectedSpeed, MapPoint, Region};
use crate::matching::{BypassState, Installation, Layout, Match, StageState, StationPlace};

/// Below the lowest speed and under this pressure ratio little is at stake.
pub const LOW_END_RATIO: f64 = 1.25;
/// How well a point looked up by speed and flow meets the stage's pressure ratio, relative; far
/// more than rounding, far less than a map can be read.
const SAME_RATIO: f64 = 1e-4;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    for stage in context.stages() {
        match map_of(stage.kind) {
            Some(map) => compressor(context, &stage, map, list),
            None => list.extend(without_map(context, &stage)),
        }
        list.extend(displacement(context, &stage));
    }
    for index in 0..context.found.turbines.len() {
        list.extend(turbine(context, index));
    }
}

/// Of each stage that has a compressor map: its place among the stages, the map, its point there.
pub fn points_on_maps<'i>(
    installation: &'i Installation,
    layout: &Layout,
    found: &Match,
) -> Vec<(usize, &'i CompressorMap, MapPoint)> {
    let states = layout.stages.iter().zip(&found.stages).enumerate();
    states
        .filter_map(|(stage, ((_, part), state))| {
            let map = map_of(installation.air_path.get(*part)?)?;
            Some((stage, map, point(map, state)?))
        })
        .collect()
}

fn compressor(
    context: &Context,
    stage: &MatchedStage,
    map: &CompressorMap,
    list: &mut Vec<Finding>,
) {
    let Some(point) = point(map, stage.state) else {
        return;
    };
    list.extend(surge(context, stage, map, &point));
    let regions = (point.region, point.also);
    let low_end = is_under_speed(regions) && stage.state.pressure_ratio < LOW_END_RATIO;
    list.extend(outside_map(context, stage.subject(), regions, low_end));
}

fn is_under_speed((region, also): (Region, Region)) -> bool {
    matches!(region, Region::UnderSpeed(_)) || matches!(also, Region::UnderSpeed(_))
}

fn without_map(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    let is_wanted = context.installation.limits.min_surge_margin.is_some();
    let is_turbo = matches!(stage.kind, Part::TurboCompressor(_));
    (is_wanted && is_turbo).then(|| context.unchecked(Code::SurgeMargin, stage.subject()))
}

/// A displacement machine whose filling comes from a map.
fn displacement(context: &Context, stage: &MatchedStage) -> Option<Finding> {
    let Part::Supercharger(supercharger) = stage.kind else {
        return None;
    };
    let SuperchargerKind::Displacement(machine) = &supercharger.kind else {
        return None;
    };
    let Filling::Map(map) = &machine.filling else {
        return None;
    };
    if stage.state.bypass == BypassState::Disengaged {
        return None;
    }
    let point = map.at_speed_and_ratio(stage.state.speed?, stage.state.pressure_ratio);
    let regions = (point.region, point.also);
    outside_map(context, stage.subject(), regions, false)
}

/// A turbine with a map, where its speed is known.
fn turbine(context: &Context, index: usize) -> Option<Finding> {
    let described = context.installation.turbines.get(index)?;
    let Swallowing::Map(map) = &described.swallowing else {
        return None;
    };
    let speed = context.compressor(described.drives)?.state.speed?;
    let (_, inlet) = context.station(StationPlace::TurbineInlet(index))?;
    let speed = CorrectedSpeed::from_actual(speed, inlet.temperature, map.reference());
    let ratio = context.found.turbines.get(index)?.expansion_ratio;
    let point = map.at_speed_and_ratio(speed, ratio);
    let regions = (point.region, point.also);
    let low_end = ratio < LOW_END_RATIO;
    outside_map(context, Subject::Turbine(index), regions, low_end)
}

fn map_of(part: &Part) -> Option<&CompressorMap> {
    part.compressor_map().map(AsRef::as_ref)
}

/// The stage's point on its map. Speed and flow find it where they agree with its ratio: on the
/// continuation to low ratios they are the surer pair.
fn point(map: &CompressorMap, stage: &StageState) -> Option<MapPoint> {
    let flow = CorrectedFlow(stage.corrected_flow?);
    let ratio = stage.pressure_ratio;
    stage
        .corrected_speed
        .map(|speed| map.at_speed_and_flow(CorrectedSpeed(speed), flow))
        .filter(|point| (point.pressure_ratio / ratio - 1.0).abs() < SAME_RATIO)
        .or_else(|| Some(map.at_flow_and_ratio(flow, ratio)))
}

fn surge(
    context: &Context,
    stage: &MatchedStage,
    map: &CompressorMap,
    point: &MapPoint,
) -> Option<Finding> {
    let (code, subject) = (Code::SurgeMargin, stage.subject());
    let margins = map.margins(point);
    let detail = Detail::Surge {
        at_same_speed: margins.surge_at_same_speed,
    };
    if let Some(margin) = margins.surge_at_same_ratio {
        return Some(context.check(code, subject, Some(margin))?.with(detail));
    }
    let (row, limits) = (code.row(), &context.installation.limits);
    let found = context
        .remark(code, subject)
        .at_severity(Severity::OutsideData)
        .with(detail);
    let basis = row
        .set(limits)
        .map_or(Basis::CommonPractice, |_| Basis::Build);
    Some(Finding {
        limit: row.limit(limits),
        ..found.by(basis)
    })
}

/// A point outside a map of any machine: the farther edge passed and the nearer of two. `low_end`:
/// little is at stake there. Its value is the distance as a share of the edge's value, its margin
/// the negative of that. `None` inside.
fn outside_map(
    context: &Context,
    subject: Subject,
    (region, also): (Region, Region),
    low_end: bool,
) -> Option<Finding> {
    let distance = region.distance();
    if region.is_inside() || !distance.is_finite() {
        return None;
    }
    let found = context
        .remark(Code::OutsideMap, subject)
        .worse_where(!low_end)
        .valued(distance)
        .with(Detail::Map {
            region,
            also,
            low_end,
        });
    Some(Finding {
        margin: Some(-distance),
        weight: distance,
        ..found
    })
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::*;

    /// A truck whose compressor stands at a corrected speed, rpm, and flow, kg/s, of its map.
    fn at(speed: f64, flow: f64) -> Case {
        let mut case = Case::with_map();
        case.on_map(speed, flow);
        case
    }

    fn region(case: &Case) -> Region {
        let found = case.one(Code::OutsideMap);
        let Detail::Map { region, .. } = found.detail else {
            panic!("{found:?}");
        };
        region
    }

    #[test]
    fn a_point_inside_the_map_is_no_finding_and_its_surge_margin_is_ok() {
        let case = at(120_000.0, 0.17);
        assert_eq!(case.all(Code::OutsideMap), []);
        let found = case.one(Code::SurgeMargin);
        assert_eq!(found.severity, Severity::Ok);
        assert_eq!(found.basis, Basis::CommonPractice);
    }

    #[test]
    fn each_side_of_the_map_is_named() {
        assert!(matches!(
            region(&at(120_000.0, 0.07)),
            Region::BeyondSurge(_)
        ));
        assert!(matches!(
            region(&at(120_000.0, 0.24)),
            Region::BeyondChoke(_)
        ));
        assert!(matches!(region(&at(160_000.0, 0.2)), Region::OverSpeed(_)));
        let fast = at(160_000.0, 0.2).one(Code::OutsideMap);
        assert_eq!(fast.severity, Severity::OutsideData);
        // 160/140 − 1 by hand.
        assert!((fast.value.unwrap() - 0.142_857).abs() < 1e-5);
    }

    #[test]
    fn below_the_lowest_row_at_a_low_ratio_little_is_at_stake() {
        let slow = at(50_000.0, 0.07).one(Code::OutsideMap);
        assert_eq!(slow.severity, Severity::Near);
        assert!(matches!(slow.detail, Detail::Map { low_end: true, .. }));
        // 80 000 rpm is the lowest row; at 75 000 the ratio is above 1.25.
        let higher = at(75_000.0, 0.09);
        assert!(higher.found.stages[1].pressure_ratio > LOW_END_RATIO);
        assert_eq!(higher.one(Code::OutsideMap).severity, Severity::OutsideData);
    }

    #[test]
    fn a_surge_margin_below_its_minimum_is_over() {
        let mut case = at(120_000.0, 0.10);
        case.installation.limits.min_surge_margin = Some(0.4);
        let found = case.one(Code::SurgeMargin);
        assert_eq!(
            (found.severity, found.basis),
            (Severity::Over, Basis::Build)
        );
        assert!(found.value.unwrap() < 0.4);
        case.on_map(120_000.0, 0.19);
        assert_eq!(case.one(Code::SurgeMargin).severity, Severity::Ok);
    }

    #[test]
    fn above_the_surge_line_there_is_no_margin_and_that_is_said() {
        let mut case = at(140_000.0, 0.15);
        case.found.stages[1].pressure_ratio = 3.4;
        case.found.stages[1].corrected_speed = None;
        let found = case.one(Code::SurgeMargin);
        assert_eq!(found.severity, Severity::OutsideData);
        assert_eq!(found.value, None);
    }

    #[test]
    fn rotors_and_turbines_beyond_their_own_maps_are_found() {
        let mut case = Case::truck();
        case.maps_of_rotors_and_turbine();
        case.found.stages[0].speed = Some(5000.0);
        case.found.stages[0].pressure_ratio = 1.3;
        case.found.turbines[0].expansion_ratio = 2.0;
        assert_eq!(case.all(Code::OutsideMap), []);
        case.found.stages[0].speed = Some(10_000.0);
        assert_eq!(case.one(Code::OutsideMap).subject, Subject::Stage(0));
        case.found.stages[0].speed = Some(5000.0);
        case.found.turbines[0].expansion_ratio = 5.0;
        let found = case.one(Code::OutsideMap);
        assert_eq!(found.subject, Subject::Turbine(0));
        assert_eq!(found.severity, Severity::OutsideData);
        case.found.turbines[0].expansion_ratio = 1.1;
        assert_eq!(case.one(Code::OutsideMap).severity, Severity::Near);
    }

    #[test]
    fn a_minimum_without_a_map_is_said_to_be_unchecked() {
        let mut case = Case::truck();
        case.installation.limits.min_surge_margin = Some(0.12);
        let found = case.one(Code::LimitNotChecked);
        assert_eq!(found.detail, Detail::Unchecked(Code::SurgeMargin));
    }
}
