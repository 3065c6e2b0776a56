//! One finding in few words, for the foot of a drawing.

use super::catalogue::words;
use super::figure::{kind, with_unit};
use super::line::value;
use super::name::{is_minimum, place, says_place, severity, what};
use crate::finding::{Code, Finding, Measure};
use crate::matching::Layout;
use crate::quantity::UnitSystem;

/// A line such as "over: charge temperature 68.4 °C at 3,200 rpm, at most 60.0 °C"; `rpm` writes an
/// engine speed.
pub fn short(
    finding: &Finding,
    layout: &Layout,
    system: UnitSystem,
    rpm: fn(f64) -> String,
) -> String {
    let label = match words(finding.code).more.short {
        "" => what(finding),
        short => short.to_owned(),
    };
    let mut out = format!("{}: {label}", severity(finding.severity));
    let place = place(finding, layout);
    if says_place(finding, &out, &place) {
        out.push_str(&format!(" ({place})"));
    }
    let value = match (finding.value, finding.measure()) {
        _ if finding.code == Code::Knock => None,
        (Some(speed), Measure::Speed) if finding.limit.is_some() => Some(rpm(speed)),
        _ => value(finding, system),
    };
    if let Some(value) = &value {
        let is_phrase = !words(finding.code).more.value.is_empty();
        out.push_str(if is_phrase { ", " } else { " " });
        out.push_str(value);
    }
    if let Some(at) = finding.rpm {
        out.push_str(&format!(" at {}", rpm(at)));
    }
    let silent = matches!(finding.code, Code::OutsideMap | Code::DragNotCounted);
    if let Some(limit) = finding.limit.filter(|_| value.is_some() && !silent) {
        let bound = if is_minimum(finding.code) {
            "at least"
        } else {
            "at most"
        };
        let limit = match (finding.code, finding.measure()) {
            (Code::Steep, _) => format!("{limit:.1}"),
            (_, Measure::Speed) => rpm(limit),
            (_, measure) => with_unit(limit, kind(measure), system),
        };
        // The value before it has said so.
        let limit = limit.trim_end_matches(" absolute");
        out.push_str(&format!(", {bound} {limit}"));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;
    use crate::finding::{Detail, of_match};
    use crate::matching::StationPlace;

    fn rpm(value: f64) -> String {
        format!("{value:.0} rpm")
    }

    #[test]
    fn a_limit_that_is_passed_stands_with_its_value_and_place() {
        let mut case = Case::truck();
        case.installation.limits.max_manifold_pressure = Some(250e3);
        case.station(StationPlace::Manifold).pressure = 275e3;
        let found = case.one(Code::ManifoldPressure);
        let text = short(&found, &case.layout, UnitSystem::Si, rpm);
        let wanted = "over: manifold pressure 275.0 kPa absolute at 2600 rpm, at most 250.0 kPa";
        assert_eq!(text, wanted);
        let text = short(&found, &case.layout, UnitSystem::Us, rpm);
        assert!(text.ends_with(", at most 36.26 psi"), "{text}");
    }

    #[test]
    fn speeds_of_shafts_are_written_like_those_of_the_engine() {
        let found = Finding::against(
            Code::TurboSpeed,
            crate::finding::Subject::Stage(1),
            3200.0,
            (151_946.0, 140_000.0),
        );
        let spaced = |value: f64| format!("{:.0}k rpm", value / 1000.0);
        let text = short(
            &found.unwrap(),
            &Case::truck().layout,
            UnitSystem::Si,
            spaced,
        );
        assert!(
            text.contains("152k rpm at 3k rpm, at most 140k rpm"),
            "{text}"
        );
    }

    #[test]
    fn outside_a_map_the_side_and_the_distance_are_said() {
        let mut case = Case::with_map();
        case.on_map(160_000.0, 0.2);
        let found = case.one(Code::OutsideMap);
        let text = short(&found, &case.layout, UnitSystem::Si, rpm);
        let wanted =
            "outside data: outside the map, over-speed (turbo compressor), by 14.3 % at 2600 rpm";
        assert_eq!(text, wanted);
    }

    #[test]
    fn no_short_line_holds_what_is_no_number_or_an_advice() {
        let mut case = Case::with_map();
        case.on_map(150_000.0, 0.05);
        case.found.rpm = 3300.0;
        let list = of_match(&case.installation, &case.layout, &case.found, &case.extra);
        assert!(list.iter().any(|finding| finding.detail != Detail::None));
        for finding in list {
            let text = short(&finding, &case.layout, UnitSystem::Us, rpm);
            assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
            assert!(!text.contains(". "), "{text}");
        }
    }
}
