//! Lines compared, for reading: one row a line, then what each changes and passes.

use super::fields::field::{Field, Rows, pick};
use super::fields::finding::PlacedFinding;
use super::fields::line::{LineReport, THE_BUILD};
use super::fields::summary::LineSummary;
use super::table::{folded, one_line, within_screen};
use super::words;
use super::wrap::sentences_wrapped;
use crate::finding::{Code, Severity};
use crate::quantity::{UnitSystem, shown};
use crate::study::Summary;

/// A figure of a line and the engine speed at which it has it.
pub(super) type At<T> = [&'static Field<T>; 2];

const MARGINS: [At<LineSummary>; 2] = [
    pick(LineSummary::ROWS, ["surge_margin", "surge_margin_rpm"]),
    pick(LineSummary::ROWS, ["choke_margin", "choke_margin_rpm"]),
];

/// Turbo speed, boost, power and torque.
pub(super) const LARGEST: [At<Summary>; 4] = [
    pick(
        Summary::ROWS,
        ["highest_shaft_speed_rpm", "highest_shaft_speed_engine_rpm"],
    ),
    pick(Summary::ROWS, ["largest_boost_pa", "largest_boost_rpm"]),
    pick(
        Summary::ROWS,
        ["largest_brake_power_w", "largest_brake_power_rpm"],
    ),
    pick(Summary::ROWS, ["largest_torque_n_m", "largest_torque_rpm"]),
];

const HOTTEST: [At<Summary>; 2] = [
    pick(Summary::ROWS, ["hottest_charge_k", "hottest_charge_rpm"]),
    pick(Summary::ROWS, ["hottest_exhaust_k", "hottest_exhaust_rpm"]),
];

/// The lines compared with the build's own; empty where there are none.
pub fn comparison_text(line: &LineReport, system: UnitSystem) -> String {
    if line.variants.is_empty() {
        return String::new();
    }
    let mut heads = vec!["comparison".to_owned(), "hand-over\nat [rpm]".to_owned()];
    // The unit of a share is short: it stands on the line of the name.
    heads.extend(MARGINS.map(|[row, _]| row.head(system).replace("\n[", " [")));
    heads.extend(
        LARGEST
            .iter()
            .chain(&HOTTEST)
            .map(|[row, _]| row.head(system)),
    );
    let others = line.variants.iter().map(|variant| &variant.0);
    let mut rows = vec![cells(THE_BUILD, line, system)];
    rows.extend(
        others
            .clone()
            .map(|one| cells(&one_line(&one.title), one, system)),
    );
    let mut out = format!("\n{}", within_screen(&heads, &rows, 1));
    for one in others {
        out.push('\n');
        out.push_str(&changes(one, system));
    }
    out
}

fn cells(name: &str, line: &LineReport, system: UnitSystem) -> Vec<String> {
    let speeds = line.hand_over.iter().map(|one| format!("{:.0}", one.rpm));
    let speeds = speeds.collect::<Vec<_>>().join(", ");
    let summary = &line.summary;
    let figures = &summary.figures;
    let mut cells = vec![
        folded(name),
        if speeds.is_empty() {
            "–".to_owned()
        } else {
            speeds
        },
    ];
    for (margin, of) in MARGINS
        .iter()
        .zip([figures.surge_margin, figures.choke_margin])
    {
        let figure = figure_at(margin, summary, system);
        cells.push(match summary.stage(of) {
            Some(stage) if figures.maps > 1 => format!("{figure}\n{stage}"),
            _ => figure,
        });
    }
    let largest = LARGEST.iter().chain(&HOTTEST);
    cells.extend(largest.map(|at| figure_at(at, figures, system)));
    cells
}

/// "185.0 at 2600", or a dash.
pub(super) fn figure_at<T>([row, rpm]: &At<T>, of: &T, system: UnitSystem) -> String {
    match row.number(of).zip(rpm.number(of)) {
        Some((value, rpm)) => format!("{} at {rpm:.0}", shown(value, row.kind(), system)),
        None => "–".to_owned(),
    }
}

/// What a line changes, and what was found on it that is not within limits.
fn changes(one: &LineReport, system: UnitSystem) -> String {
    let mut out = one_line(&one.title);
    let settings = one_line(&one.settings.join(", "));
    if settings != out {
        out.push_str(&format!(": {settings}"));
    }
    out.push('\n');
    let passed: Vec<_> = [Severity::Over, Severity::OutsideData]
        .into_iter()
        .filter_map(|severity| passed(severity, &one.findings, one.summary.figures.maps > 1))
        .collect();
    if passed.is_empty() {
        out.push_str("  no limit exceeded, no point outside the data\n");
    }
    for names in passed {
        out.push_str(&format!("  {names}\n"));
    }
    for none in one.unsolved() {
        out.push_str(&format!(
            "  no match at {:.0} rpm: {}\n",
            none.rpm,
            none.error.in_units(system)
        ));
    }
    sentences_wrapped(&out)
}

/// The findings of a severity, in words: "over: charge temperature at 3200 rpm".
pub(super) fn passed(
    severity: Severity,
    findings: &[PlacedFinding],
    has_several_maps: bool,
) -> Option<String> {
    let names: Vec<String> = findings
        .iter()
        .filter(|found| found.finding.severity == severity)
        .map(|found| name(found, needs_place(found, findings, has_several_maps)))
        .collect();
    let word = words::severity(severity);
    (!names.is_empty()).then(|| format!("{word}: {}", names.join("; ")))
}

/// Whether a finding is told from others only by its place: another of the same words is among them,
/// or it speaks of a map and several stages have one.
fn needs_place(found: &PlacedFinding, all: &[PlacedFinding], has_several_maps: bool) -> bool {
    let what = words::what(&found.finding);
    let alike = all
        .iter()
        .filter(|other| words::what(&other.finding) == what);
    let is_of_map = matches!(found.finding.code, Code::SurgeMargin | Code::OutsideMap);
    alike.count() > 1 || (is_of_map && has_several_maps)
}

/// "charge temperature at 3200 rpm", "surge margin (turbo compressor 2) at 2200 rpm".
fn name(found: &PlacedFinding, with_place: bool) -> String {
    let mut out = words::what(&found.finding);
    if with_place && !found.place.is_empty() {
        out.push_str(&format!(" ({})", found.place));
    }
    if let Some(rpm) = found.finding.rpm {
        out.push_str(&format!(" at {rpm:.0} rpm"));
    }
    out
}
