//! The worst finding that concerns a drawing, at its foot.

use super::rpm;
use crate::finding::{Code, Detail, Finding, Severity, Subject, Table};
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
const BOOST: [Code; 8] = [
    Code::ManifoldPressure,
    Code::SuperchargerAboveBoostLimit,
    Code::WastegateTooSmall,
    Code::WastegateWideOpen,
    Code::LimitInSuperchargerBand,
    Code::Steep,
    Code::SecondEquilibrium,
    Code::SuperchargerRestricts,
];
const MAP: [Code; 3] = [Code::SurgeMargin, Code::OutsideMap, Code::TurboSpeed];

/// Whether a finding speaks of pressures and temperatures at the stations, or is a limit passed
/// anywhere: of the drawings that every build has, this is the one that stands for the whole.
pub(super) fn of_stations(finding: &Finding) -> bool {
    is_about(finding, &STATIONS) || finding.severity == Severity::Over
}

/// Whether a finding speaks of boost, or of a table that boost follows from.
pub(super) fn of_boost(finding: &Finding) -> bool {
    let is_table = matches!(
        finding.subject,
        Subject::Table(Table::VolumetricEfficiency | Table::BoostLimit(_))
    );
    is_about(finding, &BOOST) || is_table
}

/// Whether a finding speaks of a stage on its map.
pub(super) fn of_map(finding: &Finding, stage: usize) -> bool {
    is_about(finding, &MAP) && finding.subject == Subject::Stage(stage)
}

fn is_about(finding: &Finding, codes: &[Code]) -> bool {
    let code = match finding.detail {
        Detail::Unchecked(code) => code,
        _ => finding.code,
    };
    codes.contains(&code) || NO_MATCH.contains(&code)
}

/// The worst of the findings that is more than `ok`, ahead of what stands under every drawing; that
/// alone where all is well.
pub(super) fn with_worst<'a>(
    findings: impl IntoIterator<Item = &'a Finding>,
    layout: &Layout,
    system: UnitSystem,
    standing: &str,
) -> String {
    let worst = findings
        .into_iter()
        .filter(|finding| finding.severity > Severity::Ok)
        .min_by(|a, b| a.worse_first(b));
    match worst {
        Some(worst) => {
            let words = words::short(worst, layout, system, rpm);
            // The minus of the axes.
            format!("{}\n{standing}", words.replace(" -", " −"))
        }
        None => standing.to_owned(),
    }
}
