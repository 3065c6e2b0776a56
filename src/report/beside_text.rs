//! Lines held beside each other, for reading: one row a line, then what each changes and passes.

use super::beside_view::{SummaryView, THE_BUILD, VariantView};
use super::table::Sheet;
use super::view::{FindingView, HandOverView, LineView, RowView};
use crate::quantity::{Kind, UnitSystem, label, shown};

/// The lines beside the build's own; empty where there are none.
pub fn beside_text(line: &LineView, system: UnitSystem) -> String {
    let Some(own) = line.summary.as_ref().filter(|_| !line.variants.is_empty()) else {
        return String::new();
    };
    let unit = |kind| label(kind, system);
    let mut sheet = Sheet::new(&[
        "beside each other".to_owned(),
        "hand-over\nat [rpm]".to_owned(),
        "least surge\nmargin [%]".to_owned(),
        "least choke\nmargin [%]".to_owned(),
        "turbo speed\n[rpm]".to_owned(),
        format!("largest boost\n[{}]", unit(Kind::BoostPressure)),
    ]);
    sheet.row(cells(THE_BUILD, &line.hand_over, own, system));
    for one in &line.variants {
        sheet.row(cells(&one.title, &one.hand_over, &one.summary, system));
    }
    let mut out = format!("\n{}", sheet.text(1));
    for one in &line.variants {
        out.push('\n');
        out.push_str(&said(one));
    }
    out
}

fn cells(
    name: &str,
    hand_over: &[HandOverView],
    summary: &SummaryView,
    system: UnitSystem,
) -> Vec<String> {
    let at = |value: Option<f64>, kind, rpm: Option<f64>| match (value, rpm) {
        (Some(value), Some(rpm)) => format!("{} at {rpm:.0}", shown(value, kind, system)),
        _ => "–".to_owned(),
    };
    let speeds: Vec<String> = hand_over
        .iter()
        .map(|one| format!("{:.0}", one.rpm))
        .collect();
    vec![
        name.to_owned(),
        if speeds.is_empty() {
            "–".to_owned()
        } else {
            speeds.join(", ")
        },
        at(summary.surge_margin, Kind::Share, summary.surge_margin_rpm),
        at(summary.choke_margin, Kind::Share, summary.choke_margin_rpm),
        at(
            summary.highest_shaft_speed_rpm,
            Kind::RotationalSpeed,
            summary.highest_shaft_speed_engine_rpm,
        ),
        at(
            summary.largest_boost_pa,
            Kind::BoostPressure,
            summary.largest_boost_rpm,
        ),
    ]
}

/// What a line changes, and what was found on it that is not within limits.
fn said(one: &VariantView) -> String {
    let mut out = one.title.clone();
    let settings = one.settings.join(", ");
    if settings != one.title {
        out.push_str(&format!(": {settings}"));
    }
    out.push('\n');
    let mut passed = false;
    for severity in ["over", "outside data"] {
        let of_it = |finding: &&FindingView| finding.severity == severity;
        let mut names: Vec<String> = Vec::new();
        for finding in one.findings.iter().filter(of_it) {
            let name = name(finding);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        if !names.is_empty() {
            passed = true;
            out.push_str(&format!("  {severity}: {}\n", names.join("; ")));
        }
    }
    if !passed {
        out.push_str("  no limit passed, no point outside the data\n");
    }
    for row in &one.points {
        if let RowView::Error { rpm, error } = row {
            out.push_str(&format!("  no match at {rpm:.0} rpm: {error}\n"));
        }
    }
    out
}

/// "charge temperature at 3200 rpm".
fn name(finding: &FindingView) -> String {
    match finding.rpm {
        Some(rpm) => format!("{} at {rpm:.0} rpm", finding.what),
        None => finding.what.clone(),
    }
}
