//! The names of codes, severities, matters and places.

use super::catalogue::words;
use super::missing;
use crate::finding::{
    Bound, Code, Detail, Finding, Origin, PassivePart, Severity, SpeedTable, Subject,
};
use crate::map::Region;
use crate::matching::Layout;

/// The fixed word of a code.
pub const fn code(code: Code) -> &'static str {
    words(code).code
}

/// The key that sets the limit of a code, or what the limit is of where no key does.
pub fn limit_name(code: Code) -> &'static str {
    let words = words(code);
    match words.more.key {
        "" => words.label,
        key => key,
    }
}

/// Whether the limit of a code is the smallest good value.
pub fn is_minimum(code: Code) -> bool {
    code.row().bound == Bound::AtLeast
}

/// Whether the label of a code names a quantity, which passes its limit; others say what is wrong.
pub fn is_quantity(code: Code) -> bool {
    !matches!(code.row().origin, Origin::Nature | Origin::BoostLimit)
}

/// The word of a severity.
pub const fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Ok => "ok",
        Severity::Near => "near",
        Severity::OutsideData => "outside data",
        Severity::Over => "over",
    }
}

/// What was found, as a short phrase.
pub fn what(finding: &Finding) -> String {
    let label = words(finding.code).label;
    match (finding.detail, finding.subject) {
        (Detail::Map { low_end: true, .. }, _) => {
            "below the map's slowest speed line, at low load".to_owned()
        }
        (Detail::Map { region, .. }, _) => format!("{label}, {}", side(region)),
        (_, Subject::Table(table)) => format!("beyond the table of {}", table_name(table)),
        (Detail::Unchecked(limit), _) => format!("{label}: {}", words(limit).label),
        (Detail::Missing(missing), _) => format!("{label}, {}", missing::for_power(missing).0),
        _ => label.to_owned(),
    }
}

/// The side of a map on which a point lies.
const fn side(region: Region) -> &'static str {
    match region {
        Region::Inside => "inside",
        Region::BeyondSurge(_) => "surge side",
        Region::BeyondChoke(_) => "choke side",
        Region::OverSpeed(_) => "over-speed",
        Region::UnderSpeed(_) => "under-speed",
        Region::LowRatio(_) => "below its pressure ratios",
        Region::HighRatio(_) => "above its pressure ratios",
    }
}

const fn table_name(table: SpeedTable) -> &'static str {
    match table {
        SpeedTable::VolumetricEfficiency => "volumetric_efficiency",
        SpeedTable::GrossIndicatedEfficiency => "gross_indicated_efficiency",
        SpeedTable::HeatLossShare => "heat_loss_share",
        SpeedTable::PressureRiseRatio => "pressure_rise_ratio",
        SpeedTable::AirFuelRatio => "air_fuel_ratio",
        SpeedTable::Lambda => "lambda",
        SpeedTable::FuelPerStroke => "per_stroke",
        SpeedTable::SmallestAirFuelRatio => "smallest_air_fuel_ratio",
        SpeedTable::FuelFlow => "flow",
        SpeedTable::PressureRatio(_) => "pressure_ratio",
        SpeedTable::Efficiency(_) => "efficiency",
        SpeedTable::Effectiveness(_) => "effectiveness",
        SpeedTable::SinkFlow(_) => "sink_flow",
        SpeedTable::VehicleSpeed(_) => "vehicle_speed",
        SpeedTable::BoostLimit(_) => "boost_limit",
    }
}

/// "duct", "duct 2".
fn passive_part_name(part: PassivePart, index: usize) -> String {
    let name = match part {
        PassivePart::Filter => "filter",
        PassivePart::Duct => "duct",
        PassivePart::Throttle => "throttle",
        PassivePart::ExhaustPipe => "exhaust pipe",
    };
    match index {
        0 => name.to_owned(),
        _ => format!("{name} {}", index + 1),
    }
}

/// Where it was found: a station, stage, cooler or turbine by its name in every output.
pub fn place(finding: &Finding, layout: &Layout) -> String {
    let stage = |index: usize| layout.stages.get(index).map(|(name, _)| name.as_str());
    let cooler = |index: usize| layout.coolers.get(index).map(|(name, _)| name.as_str());
    let turbine = |index: usize| layout.turbines.get(index).map(String::as_str);
    let station = |index: usize| layout.stations.get(index).map(|s| s.name.as_str());
    let name = match finding.subject {
        Subject::Whole => Some("installation"),
        Subject::Engine => Some("engine"),
        Subject::Station(index) => station(index),
        Subject::Stage(index) => stage(index),
        Subject::Cooler(index) => cooler(index),
        Subject::Passive(part, index) => return passive_part_name(part, index),
        Subject::Turbine(index) => turbine(index).or(Some("turbine")),
        Subject::Table(table) => match table {
            SpeedTable::AirFuelRatio
            | SpeedTable::Lambda
            | SpeedTable::FuelPerStroke
            | SpeedTable::SmallestAirFuelRatio
            | SpeedTable::FuelFlow => Some("fuel"),
            SpeedTable::PressureRatio(index) | SpeedTable::Efficiency(index) => stage(index),
            SpeedTable::Effectiveness(index)
            | SpeedTable::SinkFlow(index)
            | SpeedTable::VehicleSpeed(index) => cooler(index),
            SpeedTable::BoostLimit(index) => turbine(index).or(Some("turbine")),
            _ => Some("engine"),
        },
    };
    name.unwrap_or("installation").to_owned()
}

/// Whether the place adds something: a stage that the phrase does not name, or a second of a kind.
pub fn says_place(finding: &Finding, matter: &str, place: &str) -> bool {
    let is_numbered = place.bytes().any(|byte| byte.is_ascii_digit());
    match finding.subject {
        Subject::Whole | Subject::Engine => false,
        Subject::Turbine(_) if finding.code == Code::OutsideMap => true,
        Subject::Cooler(_) if finding.code == Code::PressureLoss => true,
        Subject::Passive(..) => true,
        Subject::Stage(_) => !matter.contains(place) || is_numbered,
        _ => is_numbered,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::fixture::Case;

    #[test]
    fn places_carry_the_names_of_the_layout() {
        let mut case = Case::truck();
        case.installation.limits.max_exhaust_temperature = Some(1000.0);
        case.found.rpm = 3300.0;
        let at = |code| place(&case.all(code)[0], &case.layout);
        assert_eq!(at(Code::ExhaustTemperature), "turbine inlet");
        assert_eq!(at(Code::SuperchargerSpeed), "supercharger");
        assert_eq!(at(Code::BeyondTable), "engine");
    }

    #[test]
    fn a_place_beyond_the_layout_is_the_installation() {
        let case = Case::truck();
        let finding = Finding::remark(Code::Steep, Subject::Stage(9), 1.0);
        assert_eq!(place(&finding, &case.layout), "installation");
    }
}
