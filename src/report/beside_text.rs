//! Lines held beside each other, for reading: one row a line, then what each changes and passes.

use super::beside_view::{LargestView, SummaryView, THE_BUILD, VariantView, figure_at};
use super::table::{folded, one_line, within_screen};
use super::view::{FindingView, HandOverView, LineView, RowView};
use crate::quantity::{Kind, UnitSystem, label};

/// The lines beside the build's own; empty where there are none.
pub fn beside_text(line: &LineView, system: UnitSystem) -> String {
    let Some(own) = line.summary.as_ref().filter(|_| !line.variants.is_empty()) else {
        return String::new();
    };
    let unit = |name: &str, kind| format!("{name}\n[{}]", label(kind, system));
    let mut headings = vec![
        "beside each other".to_owned(),
        "hand-over\nat [rpm]".to_owned(),
        "least surge\nmargin [%]".to_owned(),
        "least choke\nmargin [%]".to_owned(),
    ];
    headings.extend(LargestView::headings(system));
    headings.push(unit("hottest charge", Kind::Temperature));
    headings.push(unit("hottest exhaust", Kind::Temperature));
    let mut rows = vec![cells(THE_BUILD, &line.hand_over, own, system)];
    for one in &line.variants {
        let title = one_line(&one.title);
        rows.push(cells(&title, &one.hand_over, &one.summary, system));
    }
    let mut out = format!("\n{}", within_screen(&headings, &rows, 1));
    for one in &line.variants {
        out.push('\n');
        out.push_str(&said(one, system));
    }
    out
}

fn cells(
    name: &str,
    hand_over: &[HandOverView],
    summary: &SummaryView,
    system: UnitSystem,
) -> Vec<String> {
    let margin = |value, rpm, stage: &Option<String>| {
        let figure = figure_at(value, Kind::Share, rpm, system);
        match stage {
            Some(stage) if summary.has_several_maps => format!("{figure}\n{stage}"),
            _ => figure,
        }
    };
    let speeds: Vec<String> = hand_over
        .iter()
        .map(|one| format!("{:.0}", one.rpm))
        .collect();
    let hand_overs = if speeds.is_empty() {
        "–".to_owned()
    } else {
        speeds.join(", ")
    };
    let largest = &summary.largest;
    let temperature = |value, rpm| figure_at(value, Kind::Temperature, rpm, system);
    let mut cells = vec![
        folded(name),
        hand_overs,
        margin(
            summary.surge_margin,
            summary.surge_margin_rpm,
            &summary.surge_margin_stage,
        ),
        margin(
            summary.choke_margin,
            summary.choke_margin_rpm,
            &summary.choke_margin_stage,
        ),
    ];
    cells.extend(largest.cells(system));
    cells.push(temperature(
        largest.hottest_charge_k,
        largest.hottest_charge_rpm,
    ));
    cells.push(temperature(
        largest.hottest_exhaust_k,
        largest.hottest_exhaust_rpm,
    ));
    cells
}

/// What a line changes, and what was found on it that is not within limits.
fn said(one: &VariantView, system: UnitSystem) -> String {
    let mut out = one_line(&one.title);
    let settings = one_line(&one.settings.join(", "));
    if settings != out {
        out.push_str(&format!(": {settings}"));
    }
    out.push('\n');
    let passed = passed(&one.findings, one.summary.has_several_maps);
    if passed.is_empty() {
        out.push_str("  no limit passed, no point outside the data\n");
    }
    for (severity, names) in passed {
        out.push_str(&format!("  {severity}: {names}\n"));
    }
    for row in &one.points {
        if let RowView::Error { rpm, error } = row {
            let error = error.in_units(system);
            out.push_str(&format!("  no match at {rpm:.0} rpm: {error}\n"));
        }
    }
    out
}

/// What is `over` and what lies `outside data`, in words; a severity without findings is left out.
pub(super) fn passed(
    findings: &[FindingView],
    has_several_maps: bool,
) -> Vec<(&'static str, String)> {
    let one = |severity| {
        let names: Vec<String> = findings
            .iter()
            .filter(|finding| finding.severity == severity)
            .map(|finding| name(finding, needs_place(finding, findings, has_several_maps)))
            .collect();
        (!names.is_empty()).then(|| (severity, names.join("; ")))
    };
    ["over", "outside data"]
        .into_iter()
        .filter_map(one)
        .collect()
}

/// Whether a finding is told from others only by its place: another of the same words stands beside
/// it, or it speaks of a map and several stages have one.
fn needs_place(finding: &FindingView, all: &[FindingView], has_several_maps: bool) -> bool {
    let alike = all.iter().filter(|other| other.what == finding.what);
    let is_of_map = ["surge_margin", "outside_map"].contains(&finding.code);
    alike.count() > 1 || (is_of_map && has_several_maps)
}

/// "charge temperature at 3200 rpm", "surge margin (turbo compressor 2) at 2200 rpm".
fn name(finding: &FindingView, with_place: bool) -> String {
    let mut out = finding.what.clone();
    if let Some(place) = finding.place.as_ref().filter(|_| with_place) {
        out.push_str(&format!(" ({place})"));
    }
    if let Some(rpm) = finding.rpm {
        out.push_str(&format!(" at {rpm:.0} rpm"));
    }
    out
}
