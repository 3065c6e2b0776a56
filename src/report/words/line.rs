//! One finding as one line of text.

use super::figure::{percent, with_unit};
use super::{advice, kind, place, severity, what};
use crate::finding::{Basis, Code, Finding, Measure, Subject};
use crate::matching::Layout;
use crate::quantity::{Kind, UnitSystem, shown};

/// A line such as "near: manifold pressure 268.5 kPa absolute of 275.0 at 2600 rpm (2.4 % left).
/// Lower the boost limit …".
pub fn line(finding: &Finding, layout: &Layout, system: UnitSystem) -> String {
    let matter = format!("{}: {}", severity(finding.severity), what(finding));
    let place = place(finding, layout);
    let place = if says_place(finding, &matter, &place) {
        format!(" ({place})")
    } else {
        String::new()
    };
    let numbers = numbers(finding, system);
    let rpm = finding.rpm.map_or(String::new(), |rpm| {
        format!(" at {} rpm", shown(rpm, Kind::RotationalSpeed, system))
    });
    let points = match finding.points {
        0 | 1 => String::new(),
        points => format!(", the worst of {points} points"),
    };
    let left = left(finding, system);
    let advice = advice(finding, system);
    format!("{matter}{place}{numbers}{rpm}{points}{left}. {advice}")
}

/// Whether the place adds something: a stage that the phrase does not name, or a second of a kind.
fn says_place(finding: &Finding, matter: &str, place: &str) -> bool {
    let is_numbered = place.bytes().any(|byte| byte.is_ascii_digit());
    match finding.subject {
        Subject::Whole | Subject::Engine => false,
        Subject::Turbine(_) if finding.code == Code::OutsideMap => true,
        Subject::Stage(_) => !matter.contains(place) || is_numbered,
        _ => is_numbered,
    }
}

/// " 268.5 kPa absolute of 275.0", or as much of it as there is.
fn numbers(finding: &Finding, system: UnitSystem) -> String {
    let kind = kind(finding.measure);
    let value = finding.value.map(|value| with_unit(value, kind, system));
    let limit = finding.limit.map(|limit| shown(limit, kind, system));
    let sign = if names_its_value(finding) { "" } else { "," };
    let rule = match finding.basis {
        Basis::CommonPractice => " by common practice",
        _ => "",
    };
    match (finding.code, value, limit) {
        (Code::OutsideMap, Some(value), _) => format!(" by {value}"),
        (Code::BeyondTable, _, Some(limit)) => format!(" (its rows end at {limit} rpm)"),
        (Code::DragNotCounted, Some(value), _) => format!(", they turn at {value}"),
        (Code::SecondEquilibrium, Some(value), _) => format!(" at {value}"),
        // A grade: no decimals that nobody believes.
        (Code::Knock, ..) => match (finding.value, finding.limit) {
            (Some(value), Some(limit)) => format!(" about {value:.0} of {limit:.0}{rule}"),
            _ => String::new(),
        },
        (_, Some(value), Some(limit)) if is_minimum(finding.code) => {
            format!("{sign} {value}, at least {limit}{rule}")
        }
        (_, Some(value), Some(limit)) => format!("{sign} {value} of {limit}{rule}"),
        (_, Some(value), None) => format!("{sign} {value}"),
        (_, None, _) => String::new(),
    }
}

/// Whether the phrase ends in the name of the value, so that the value may follow.
fn names_its_value(finding: &Finding) -> bool {
    !matches!(
        finding.code,
        Code::SuperchargerAboveBoostLimit
            | Code::WastegateTooSmall
            | Code::WastegateWideOpen
            | Code::LimitInSuperchargerBand
    )
}

fn is_minimum(code: Code) -> bool {
    matches!(
        code,
        Code::SurgeMargin
            | Code::ClampMargin
            | Code::RichMixture
            | Code::DieselSmoke
            | Code::SuperchargerRestricts
            | Code::FlowLawUncertain
    )
}

/// " (2.4 % left)"; temperatures in degrees, because a share of an absolute temperature says little.
fn left(finding: &Finding, system: UnitSystem) -> String {
    let silent = matches!(
        finding.code,
        Code::OutsideMap | Code::BeyondTable | Code::Knock
    );
    let (Some(margin), Some(value), Some(limit)) = (finding.margin, finding.value, finding.limit)
    else {
        return String::new();
    };
    if silent || is_minimum(finding.code) {
        return String::new();
    }
    let size = match finding.measure {
        Measure::Temperature => {
            with_unit((limit - value).abs(), Kind::TemperatureDifference, system)
        }
        _ => percent(margin.abs()),
    };
    // What is held exactly at its limit is beyond it by rounding at most.
    let word = if margin < -1e-6 { "beyond" } else { "left" };
    format!(" ({size} {word})")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Detail;
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
            "near: manifold pressure 268.5 kPa absolute of 275.0 at 2600 rpm (2.4 % left). ";
        assert!(si.starts_with(start), "{si}");
        let us = text(&case, Code::ManifoldPressure, US);
        let start =
            "near: manifold pressure 38.95 psi absolute of 39.89 at 2600 rpm (2.4 % left). ";
        assert!(us.starts_with(start), "{us}");
    }

    #[test]
    fn a_temperature_says_how_many_degrees_are_left_without_the_zero_of_its_scale() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(1000.0);
        let us = text(&case, Code::ExhaustTemperature, US);
        let start = "near: exhaust temperature 1304.3 °F of 1340.3 at 2600 rpm (36.0 °F left). ";
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
        let start = "over: manifold pressure 275.0 kPa absolute of 250.0 at 2600 rpm, the worst of 4 points (10.0 % beyond). ";
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
            "outside data: outside the map, over-speed (turbo compressor) by 14.3 % at 2600 rpm. ";
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
        let start = "outside data: beyond the table of volumetric_efficiency (its rows end at 3200 rpm) at 3300 rpm. ";
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
