//! One finding as one line of text.

use super::catalogue::words;
use super::figure::{kind, percent, roughly, with_unit};
use super::name::{is_minimum, place, says_place, severity, what};
use super::next_step::advice;
use crate::finding::{Basis, Code, Detail, Finding, Measure};
use crate::matching::Layout;
use crate::quantity::{Kind, UnitSystem, shown};

/// A line such as "near: manifold pressure at 2600 rpm: 268.5 kPa absolute, at most 275.0 (2.4 %
/// left). Lower the boost limit …".
pub fn line(finding: &Finding, layout: &Layout, system: UnitSystem) -> String {
    let matter = format!("{}: {}", severity(finding.severity), what(finding));
    let place = place(finding, layout);
    let place = if says_place(finding, &matter, &place) {
        format!(" ({place})")
    } else {
        String::new()
    };
    let rpm = finding.rpm.map_or(String::new(), |rpm| {
        format!(" at {} rpm", shown(rpm, Kind::RotationalSpeed, system))
    });
    let numbers = numbers(finding, system);
    let colon = if numbers.is_empty() { "" } else { ": " };
    let left = left(finding, system);
    let points = match finding.points {
        0 | 1 => String::new(),
        points => format!(", worst of {points} flagged speeds"),
    };
    let advice = advice(finding, system);
    format!("{matter}{place}{rpm}{colon}{numbers}{left}{points}. {advice}")
}

/// "268.5 kPa absolute, at most 275.0", or as much of it as there is.
fn numbers(finding: &Finding, system: UnitSystem) -> String {
    let kind = kind(finding.measure());
    let limit = finding.limit.map(|limit| shown(limit, kind, system));
    if let (Code::BeyondTable, Some(limit)) = (finding.code, &limit) {
        return format!("its rows end at {limit} rpm");
    }
    let Some(value) = value(finding, system) else {
        return String::new();
    };
    let bound = match (finding.basis, is_minimum(finding.code)) {
        (Basis::CommonPractice, _) => "rule-of-thumb limit",
        (_, true) => "at least",
        (_, false) => "at most",
    };
    match (finding.code, limit) {
        (Code::OutsideMap | Code::DragNotCounted, _) | (_, None) => value,
        // A grade: no decimals that nobody believes.
        (Code::Knock, Some(_)) => {
            let (value, limit) = (finding.value, finding.limit);
            let (value, limit) = (value.unwrap_or(0.0), limit.unwrap_or(0.0));
            format!("about {value:.0}, {bound} {limit:.0}")
        }
        (Code::Steep, Some(_)) => {
            let limit = finding.limit.unwrap_or(0.0);
            format!("{value}, {bound} {limit:.1}")
        }
        // Beside a rough value, a round limit without its decimals.
        (Code::CylinderPressure, Some(limit)) => {
            let limit = limit.trim_end_matches('0').trim_end_matches('.');
            format!("{value}, {bound} {limit}")
        }
        (_, Some(limit)) => format!("{value}, {bound} {limit}"),
    }
}

/// The value with its name, where the label does not end in it.
pub(super) fn value(finding: &Finding, system: UnitSystem) -> Option<String> {
    let value = finding.value?;
    let figure = match finding.code {
        Code::Steep => format!("{value:.1}"),
        Code::NotBalanced => format!("{value:.0e}"),
        Code::CylinderPressure => roughly(value, Kind::AbsolutePressure, system),
        _ => with_unit(value, kind(finding.measure()), system),
    };
    let low_end = matches!(finding.detail, Detail::Map { low_end: true, .. });
    Some(match words(finding.code).more.value {
        _ if low_end => format!("{figure} below its slowest line"),
        "" => figure,
        name => name.replace("{}", &figure),
    })
}

/// " (2.4 % left)"; temperatures in degrees, because a share of an absolute temperature says little.
fn left(finding: &Finding, system: UnitSystem) -> String {
    let silent = matches!(
        finding.code,
        Code::OutsideMap | Code::BeyondTable | Code::Knock | Code::Steep | Code::SmokeLimiterActive
    );
    let (Some(margin), Some(value), Some(limit)) = (finding.margin, finding.value, finding.limit)
    else {
        return String::new();
    };
    if silent || is_minimum(finding.code) {
        return String::new();
    }
    let size = match finding.measure() {
        Measure::Temperature => {
            with_unit((limit - value).abs(), Kind::TemperatureDifference, system)
        }
        _ => percent(margin.abs()),
    };
    let word = if finding.is_beyond() {
        "beyond"
    } else {
        "left"
    };
    format!(" ({size} {word})")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Subject;
    use crate::finding::fixture::Case;
    use crate::matching::{GateState, Station, StationPlace};

    const SI: UnitSystem = UnitSystem::Si;
    const US: UnitSystem = UnitSystem::Us;

    fn text(case: &Case, code: Code, system: UnitSystem) -> String {
        line(&case.one(code), &case.layout, system)
    }

    #[test]
    fn a_near_manifold_reads_as_a_sentence_in_both_systems() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.installation.limits.max_manifold_pressure = Some(275e3);
        let si = text(&case, Code::ManifoldPressure, SI);
        let start =
            "near: manifold pressure at 2600 rpm: 268.5 kPa absolute, at most 275.0 (2.4 % left). ";
        assert!(si.starts_with(start), "{si}");
        let us = text(&case, Code::ManifoldPressure, US);
        let start =
            "near: manifold pressure at 2600 rpm: 38.95 psi absolute, at most 39.89 (2.4 % left). ";
        assert!(us.starts_with(start), "{us}");
    }

    #[test]
    fn a_temperature_says_how_many_degrees_are_left_without_the_zero_of_its_scale() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(1000.0);
        let us = text(&case, Code::ExhaustTemperature, US);
        let start =
            "near: exhaust temperature at 2600 rpm: 1304.3 °F, at most 1340.3 (36.0 °F left). ";
        assert!(us.starts_with(start), "{us}");
    }

    #[test]
    fn a_limit_passed_at_several_points_says_how_many_and_how_far() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        let mut found = case.one(Code::ManifoldPressure);
        found.points = 4;
        let si = line(&found, &case.layout, SI);
        let start = "over: manifold pressure at 2600 rpm: 275.0 kPa absolute, at most 250.0 (10.0 % beyond), worst of 4 flagged speeds. ";
        assert!(si.starts_with(start), "{si}");
    }

    #[test]
    fn a_value_held_exactly_at_its_limit_is_not_said_to_be_beyond_it() {
        let mut case = Case::truck();
        case.gate(GateState::Holding, 0.2);
        case.installation.limits.max_manifold_pressure = Some(case.boost_limit() * (1.0 - 1e-9));
        let si = text(&case, Code::ManifoldPressure, SI);
        assert!(si.contains("(0.0 % left)"), "{si}");
    }

    #[test]
    fn outside_a_map_the_side_and_the_distance_are_said() {
        let mut case = Case::with_map();
        case.on_map(160_000.0, 0.2);
        let si = text(&case, Code::OutsideMap, SI);
        let start =
            "outside data: outside the map, over-speed (turbo compressor) at 2600 rpm: by 14.3 %. ";
        assert!(si.starts_with(start), "{si}");
    }

    #[test]
    fn a_second_of_a_kind_is_told_from_the_first() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(275e3);
        let mut found = case.one(Code::CompressorOutletTemperature);
        let first = line(&found, &case.layout, SI);
        assert!(!first.contains("compressor outlet)"), "{first}");
        let at = case.layout.stations.len();
        case.layout.stations.push(Station {
            name: "compressor 2 outlet".to_owned(),
            place: StationPlace::After(9),
        });
        found.subject = Subject::Station(at);
        let second = line(&found, &case.layout, SI);
        assert!(second.contains("(compressor 2 outlet)"), "{second}");
    }

    #[test]
    fn beyond_a_table_its_end_and_the_engine_speed_are_said() {
        let mut case = Case::truck();
        case.found.rpm = 3300.0;
        let text = line(&case.all(Code::BeyondTable)[0], &case.layout, SI);
        let start = "outside data: beyond the table of volumetric_efficiency at 3300 rpm: its rows end at 3200 rpm. ";
        assert!(text.starts_with(start), "{text}");
    }

    #[test]
    fn what_has_no_number_still_reads_well() {
        let mut case = Case::truck();
        case.found.stages[1].speed = None;
        let si = text(&case, Code::LimitNotChecked, SI);
        let start = "near: limit not checked: turbocharger speed (turbo compressor) at 2600 rpm. ";
        assert!(si.starts_with(start), "{si}");
    }

    #[test]
    fn no_line_holds_what_is_no_number() {
        let mut case = Case::with_map();
        case.on_map(150_000.0, 0.05);
        case.found.rpm = 3300.0;
        let list =
            crate::finding::of_match(&case.installation, &case.layout, &case.found, &case.extra);
        assert!(list.iter().any(|finding| finding.detail != Detail::None));
        for finding in list {
            let text = line(&finding, &case.layout, US);
            assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
            assert!(text.ends_with('.'), "{text}");
        }
    }
}
