//! The worst finding that concerns a drawing, as its title and at its foot.

use super::heading::{capital, rpm};
use crate::finding::{Code, Detail, Finding, Severity, SpeedTable, Subject};
use crate::matching::Layout;
use crate::quantity::UnitSystem;
use crate::report::words;

/// Speeds without a match: they are missing in every drawing.
const NO_MATCH: [Code; 3] = [Code::RunsAway, Code::Stalls, Code::NoMatch];
const STATIONS: [Code; 9] = [
    Code::ManifoldPressure,
    Code::ExhaustTemperature,
    Code::CompressorOutletTemperature,
    Code::SuperchargerOutletTemperature,
    Code::ChargeTemperature,
    Code::DrivePressureRatio,
    Code::OutletBeyondSink,
    Code::CoolantBoils,
    Code::ChargeBelowDewPoint,
];
const BOOST: [Code; 9] = [
    Code::ManifoldPressure,
    Code::SuperchargerAboveBoostLimit,
    Code::WastegateTooSmall,
    Code::WastegateWideOpen,
    Code::LimitInSuperchargerBand,
    Code::FuellingAssumption,
    Code::Steep,
    Code::SecondEquilibrium,
    Code::SuperchargerRestricts,
];
const SPLIT: [Code; 4] = [
    Code::LimitInSuperchargerBand,
    Code::Steep,
    Code::SecondEquilibrium,
    Code::SuperchargerRestricts,
];
const POWER: [Code; 9] = [
    Code::PowerUnknown,
    Code::DragNotCounted,
    Code::BeltPull,
    Code::BeltSpeed,
    Code::InjectorDuty,
    Code::RichMixture,
    Code::DieselSmoke,
    Code::SmokeLimiterActive,
    Code::DrivePressureRatio,
];
const MAP: [Code; 5] = [
    Code::SurgeMargin,
    Code::OutsideMap,
    Code::TurboSpeed,
    Code::SuperchargerSpeed,
    Code::TipSpeed,
];
const DEPTH: [Code; 5] = [
    Code::OutletBeyondSink,
    Code::EffectivenessAboveFlows,
    Code::SinkStarved,
    Code::OutsideCorrelation,
    Code::CoolerUnconfirmed,
];
const SOAK: [Code; 5] = [
    Code::ChargeTemperature,
    Code::CoolantBoils,
    Code::ChargeBelowDewPoint,
    Code::OutsideCorrelation,
    Code::CoolerUnconfirmed,
];

/// Whether a finding speaks of pressures and temperatures at the stations.
pub(super) fn of_stations(finding: &Finding) -> bool {
    is_about(finding, &STATIONS)
}

/// Whether a finding speaks of boost, or of a table that boost follows from.
pub(super) fn of_boost(finding: &Finding) -> bool {
    let is_table = matches!(
        finding.subject,
        Subject::Table(SpeedTable::VolumetricEfficiency | SpeedTable::BoostLimit(_))
    );
    is_about(finding, &BOOST) || is_table
}

/// Whether a finding speaks of who makes the boost.
pub(super) fn of_split(finding: &Finding) -> bool {
    is_about(finding, &SPLIT)
}

/// Whether a finding speaks of the engine's power, what it takes to make it and what takes it.
pub(super) fn of_power(finding: &Finding) -> bool {
    let is_table = matches!(
        finding.subject,
        Subject::Table(
            SpeedTable::GrossIndicatedEfficiency
                | SpeedTable::HeatLossShare
                | SpeedTable::AirFuelRatio
                | SpeedTable::Lambda
                | SpeedTable::FuelPerStroke
                | SpeedTable::SmallestAirFuelRatio
                | SpeedTable::FuelFlow
        )
    );
    is_about(finding, &POWER) || is_table
}

/// Whether a finding speaks of a stage on its map.
pub(super) fn of_map(finding: &Finding, stage: usize) -> bool {
    is_no_match(finding) || (is_about(finding, &MAP) && finding.subject == Subject::Stage(stage))
}

/// Of the findings about one cooler: whether it speaks of the core's depth.
pub(super) fn of_depth(finding: &Finding) -> bool {
    is_about(finding, &DEPTH) && !is_no_match(finding)
}

/// Of the findings about one cooler: whether it speaks of what warms over a run.
pub(super) fn of_soak(finding: &Finding) -> bool {
    is_about(finding, &SOAK) && !is_no_match(finding)
}

fn is_no_match(finding: &Finding) -> bool {
    NO_MATCH.contains(&finding.code)
}

fn is_about(finding: &Finding, codes: &[Code]) -> bool {
    let code = match finding.detail {
        Detail::Unchecked(code) => code,
        _ => finding.code,
    };
    codes.contains(&code) || is_no_match(finding)
}

/// The worst of the findings that concern a drawing and are more than `ok`.
pub(super) fn worst_of(
    findings: &[Finding],
    concerns: impl Fn(&Finding) -> bool,
) -> Option<&Finding> {
    let own = findings.iter().filter(|finding| concerns(finding));
    own.filter(|finding| finding.severity > Severity::Ok)
        .min_by(|a, b| a.worse_first(b))
}

/// What stands under every drawing.
pub(super) fn standing(title: &str) -> &'static str {
    if title.to_lowercase().contains("invented") {
        "Estimates only, for an invented build."
    } else {
        "Estimates only; see the cautions with the table."
    }
}

/// A line's name among others (empty where it is alone), what was found along it, names of its stages.
pub(super) type PlacedFinding<'a> = (&'a str, &'a [Finding], &'a Layout);

/// What stands under every drawing, below the worst finding of all lines that concerns this one and,
/// where that is graver and a limit is passed or data end, the worst of the others.
pub(super) fn foot(
    lines: &[PlacedFinding],
    concerns: impl Fn(&Finding) -> bool,
    system: UnitSystem,
    standing: &str,
) -> String {
    let gravest = |is_own: bool| {
        let found = lines.iter().filter_map(|&(name, findings, layout)| {
            let worst = worst_of(findings, |finding| concerns(finding) == is_own)?;
            Some((name, worst, layout))
        });
        // Of equals the first.
        found.min_by(|a, b| a.1.worse_first(b.1))
    };
    let own = gravest(true);
    let least = own.map_or(Severity::Near, |(_, own, _)| {
        own.severity.max(Severity::Near)
    });
    let other = gravest(false).filter(|(_, other, _)| other.severity > least);
    let mut out = String::new();
    for (ahead, found) in [("", own), ("Elsewhere, ", other)] {
        if let Some((name, finding, layout)) = found {
            let comma = if name.is_empty() { "" } else { ", " };
            let words = short(finding, layout, system);
            out.push_str(&format!("{ahead}{name}{comma}{words}\n"));
        }
    }
    out + standing
}

/// One finding in few words, with the minus of the axes.
fn short(finding: &Finding, layout: &Layout, system: UnitSystem) -> String {
    words::short(finding, layout, system, rpm).replace(" -", " −")
}

/// The worst finding that concerns a drawing as its title, where a limit is passed or data end.
pub(super) fn title(
    findings: &[Finding],
    concerns: impl Fn(&Finding) -> bool,
    layout: &Layout,
) -> Option<String> {
    let worst = worst_of(findings, concerns)?;
    if worst.severity < Severity::OutsideData {
        return None;
    }
    let what = words::what(worst);
    let place = words::place(worst, layout);
    let place = if words::says_place(worst, &what, &place) {
        format!(" ({place})")
    } else {
        String::new()
    };
    // A limit with a margin has a value that passes it; other phrases say the whole.
    let passes = match (worst.severity, worst.margin) {
        (Severity::Over, Some(_)) if words::is_minimum(worst.code) => Some("falls below"),
        (Severity::Over, Some(_)) if words::is_quantity(worst.code) => Some("exceeds"),
        _ => None,
    };
    Some(match (passes, worst.rpm) {
        (Some(passes), Some(at)) => {
            format!(
                "{}{place} {passes} its limit at {}",
                capital(&what),
                rpm(at)
            )
        }
        (_, Some(at)) => format!("At {}: {what}{place}", rpm(at)),
        (_, None) => capital(&format!("{what}{place}")),
    })
}
