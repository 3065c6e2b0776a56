//! The worst finding that concerns a drawing, as its title and at its foot.

use super::{capital, rpm};
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

/// The worst of those findings that are more than `ok`.
fn worst<'a>(findings: impl Iterator<Item = &'a Finding>) -> Option<&'a Finding> {
    findings
        .filter(|finding| finding.severity > Severity::Ok)
        .min_by(|a, b| a.worse_first(b))
}

/// The worst of those that concern a drawing.
pub(super) fn worst_of(
    findings: &[Finding],
    concerns: impl Fn(&Finding) -> bool,
) -> Option<&Finding> {
    worst(findings.iter().filter(|finding| concerns(finding)))
}

/// What stands under every drawing, below the worst finding that concerns this one and, where that is
/// graver and a limit is passed or data end, the worst of the others.
pub(super) fn foot(
    findings: &[Finding],
    concerns: impl Fn(&Finding) -> bool,
    (layout, system): (&Layout, UnitSystem),
    standing: &str,
) -> String {
    let own = worst_of(findings, &concerns);
    let least = own.map_or(Severity::Near, |own| own.severity.max(Severity::Near));
    let others = findings.iter().filter(|finding| !concerns(finding));
    let other = worst(others).filter(|other| other.severity > least);
    let mut out = String::new();
    for (ahead, finding) in [("", own), ("Elsewhere, ", other)] {
        if let Some(finding) = finding {
            out.push_str(ahead);
            out.push_str(&short(finding, layout, system));
            out.push('\n');
        }
    }
    out + standing
}

/// The same for a drawing of several lines: the worst of all of them, with the name of its line.
pub(super) fn foot_of_several<'a>(
    lines: impl Iterator<Item = (&'a str, &'a [Finding], &'a Layout)>,
    concerns: impl Fn(&Finding) -> bool,
    system: UnitSystem,
    standing: &str,
) -> String {
    let mut gravest: [Option<(&str, &Finding, &Layout)>; 2] = [None, None];
    for (name, findings, layout) in lines {
        for (place, known) in gravest.iter_mut().enumerate() {
            let own = |finding: &Finding| concerns(finding) == (place == 0);
            if let Some(new) = worst_of(findings, own)
                && known.is_none_or(|(_, known, _)| new.worse_first(known).is_lt())
            {
                *known = Some((name, new, layout));
            }
        }
    }
    let [own, other] = gravest;
    let least = own.map_or(Severity::Near, |(_, own, _)| {
        own.severity.max(Severity::Near)
    });
    let other = other.filter(|(_, other, _)| other.severity > least);
    let mut out = String::new();
    for (ahead, found) in [("", own), ("Elsewhere, ", other)] {
        if let Some((name, finding, layout)) = found {
            let words = short(finding, layout, system);
            out.push_str(&format!("{ahead}{name}, {words}\n"));
        }
    }
    out + standing
}

/// One finding in few words, with the minus of the axes.
pub(super) fn short(finding: &Finding, layout: &Layout, system: UnitSystem) -> String {
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
        (Severity::Over, Some(_)) if words::is_quantity(worst.code) => Some("passes"),
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
