//! The worst of each matter over an operating line.

use super::catalogue::Code;
use super::detail::Extra;
use super::entry::Finding;
use super::of_match::of_match;
use super::subject::Subject;
use crate::matching::{Installation, Layout, Match, MatchError};

/// Everything found over a line, worst first: the worst of each matter with the engine speed where
/// it is worst and the number of points where it is not `ok`; speeds without a match are findings
/// too.
pub fn of_line(
    installation: &Installation,
    layout: &Layout,
    points: &[(&Match, Extra)],
    failed: &[(f64, MatchError)],
) -> Vec<Finding> {
    let matched = points
        .iter()
        .flat_map(|(found, extra)| of_match(installation, layout, found, extra));
    worst_of(matched.chain(failed.iter().map(no_match)))
}

/// The worst of each matter among findings of many points, worst first; of equals the first stays.
pub fn worst_of(findings: impl IntoIterator<Item = Finding>) -> Vec<Finding> {
    let mut kept: Vec<Finding> = Vec::new();
    for finding in findings {
        let Some(known) = kept.iter_mut().find(|known| known.is_same_matter(&finding)) else {
            kept.push(finding);
            continue;
        };
        let points = known.points + finding.points;
        if finding.is_worse_than(known) {
            *known = finding;
        }
        known.points = points;
    }
    kept.sort_by(Finding::worse_first);
    kept
}

fn no_match((rpm, error): &(f64, MatchError)) -> Finding {
    let (code, subject) = match error {
        MatchError::RunsAway { turbine, .. } => (Code::RunsAway, turbine_of(*turbine)),
        MatchError::Stalls { turbine, .. } => (Code::Stalls, turbine_of(*turbine)),
        MatchError::Gate { turbine, .. } => (Code::NoMatch, turbine_of(*turbine)),
        _ => (Code::NoMatch, Subject::Engine),
    };
    Finding::remark(code, subject, *rpm)
}

/// Errors count turbines from 1.
fn turbine_of(number: usize) -> Subject {
    Subject::Turbine(number.saturating_sub(1))
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::super::rule::Severity;
    use super::*;
    use crate::matching::StationPlace;

    #[test]
    fn the_worst_of_each_matter_stays_with_its_speed_and_count() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(275e3);
        let mut points = Vec::new();
        for (rpm, pressure) in [(2000.0, 200e3), (2400.0, 290e3), (2600.0, 270e3)] {
            case.found.rpm = rpm;
            case.station(StationPlace::Manifold).pressure = pressure;
            points.push(case.found.clone());
        }
        let points: Vec<_> = points.iter().map(|found| (found, case.extra)).collect();
        let list = of_line(&case.installation, &case.layout, &points, &[]);
        let manifold: Vec<_> = list
            .iter()
            .filter(|finding| finding.code == Code::ManifoldPressure)
            .collect();
        assert_eq!(manifold.len(), 1);
        assert_eq!(manifold[0].rpm, Some(2400.0));
        assert_eq!(manifold[0].severity, Severity::Over);
        assert_eq!(manifold[0].points, 2);
        assert_eq!(list[0].code, Code::ManifoldPressure);
    }

    /// Where nothing is held against a limit: rotors drag most where they turn fastest, the flow laws
    /// are farthest apart where their drive pressures are, the turbine pushes back hardest where its
    /// inlet stands farthest above the manifold. Each is worst at the middle of three speeds.
    #[test]
    fn the_worst_of_a_matter_without_a_margin_is_the_one_carried() {
        let mut points = Vec::new();
        for (rpm, speed, law, choked) in [
            (2000.0, 4300.0, 1.07, 270e3),
            (2400.0, 5200.0, 1.21, 330e3),
            (2600.0, 5100.0, 1.12, 300e3),
        ] {
            let mut case = Case::truck();
            case.found.rpm = rpm;
            case.found.stages[0].speed = Some(speed);
            case.found.turbines[0].expansion_ratio = 1.5;
            let inlet = case.station(StationPlace::TurbineInlet(0)).pressure;
            case.extra.other_law_drive_pressure = Some(law * inlet);
            points.push((case.found.clone(), case.extra));
            case.found.rpm = rpm + 1.0;
            case.found.turbines[0].choked = true;
            case.station(StationPlace::TurbineInlet(0)).pressure = choked;
            points.push((case.found, case.extra));
        }
        let case = Case::truck();
        let points: Vec<_> = points
            .iter()
            .map(|(found, extra)| (found, *extra))
            .collect();
        let list = of_line(&case.installation, &case.layout, &points, &[]);
        let carried = |code| list.iter().find(|finding| finding.code == code).unwrap();
        assert_eq!(carried(Code::DragNotCounted).value, Some(5200.0));
        assert_eq!(carried(Code::FlowLawUncertain).rpm, Some(2400.0));
        assert_eq!(carried(Code::TurbineChoked).rpm, Some(2401.0));
    }

    #[test]
    fn a_line_of_one_kind_of_finding_does_not_swallow_another() {
        let mut case = Case::truck();
        case.found.rpm = 3300.0;
        let points = [(&case.found, case.extra)];
        let list = of_line(&case.installation, &case.layout, &points, &[]);
        let tables = list
            .iter()
            .filter(|finding| finding.code == Code::BeyondTable);
        assert_eq!(tables.count(), 2);
    }

    #[test]
    fn speeds_without_a_match_are_findings_of_their_reason() {
        let case = Case::truck();
        let runs_away = MatchError::RunsAway {
            turbine: 1,
            from: 1.0,
            to: 12.0,
        };
        let stalls = MatchError::Stalls {
            turbine: 1,
            at: 1.01,
        };
        let flow = MatchError::Flow {
            lowest: 0.1,
            highest: 0.2,
        };
        let failed = [
            (1000.0, stalls),
            (2000.0, runs_away),
            (2100.0, runs_away),
            (9e3, flow),
        ];
        let list = of_line(&case.installation, &case.layout, &[], &failed);
        let codes: Vec<_> = list.iter().map(|finding| finding.code).collect();
        assert_eq!(codes, [Code::RunsAway, Code::Stalls, Code::NoMatch]);
        assert_eq!((list[0].rpm, list[0].points), (Some(2000.0), 2));
        assert_eq!(list[0].subject, Subject::Turbine(0));
    }

    #[test]
    fn a_line_that_matches_everywhere_has_none_of_these() {
        let case = Case::truck();
        let points = [(&case.found, case.extra)];
        let list = of_line(&case.installation, &case.layout, &points, &[]);
        assert!(list.iter().all(|finding| finding.code > Code::NoMatch));
    }
}
