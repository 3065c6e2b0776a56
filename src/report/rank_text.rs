//! Maps ranked for a build: the reasons, and the table for reading.

use super::caution;
use super::comparison_text::{At, LARGEST, figure_at, passed};
use super::fields::field::{Rows, pick};
use super::fields::finding::PlacedFinding;
use super::fields::rank::{RankReport, RankedMap};
use super::fields::rows::columns;
use super::table::{folded, one_line, within_screen};
use super::wrap::hanging;
use crate::finding::{Finding, Severity};
use crate::quantity::UnitSystem;
use crate::study::{NEARLY_CHOKED, Ranked};

/// One map with the reasons for its place.
pub fn ranked_map(rank: usize, map: String, ranked: Ranked) -> RankedMap {
    let over = |finding: &&Finding| finding.severity == Severity::Over;
    let over: Vec<Finding> = ranked.findings.iter().filter(over).copied().collect();
    let findings = PlacedFinding::all(&ranked.layout, &over);
    let words = passed(Severity::Over, &findings, ranked.summary.maps > 1);
    let words = words.map(|words| words.trim_start_matches("over: ").to_owned());
    RankedMap {
        rank,
        map,
        reasons: reasons(&ranked),
        over: words.unwrap_or_default(),
        findings,
        ranked,
    }
}

/// Why a map has its place.
fn reasons(ranked: &Ranked) -> String {
    let mut words = Vec::new();
    if ranked.unsolved > 0 {
        words.push(format!(
            "no match at {} of {} speeds",
            ranked.unsolved,
            ranked.line.points.len()
        ));
    }
    match (ranked.beyond_surge, ranked.surge_margin) {
        (0, Some(at)) if ranked.enough_surge_margin => {
            words.push(format!("stays {:.0} % right of surge", 100.0 * at.value));
        }
        (0, Some(at)) => {
            words.push(format!(
                "comes within {:.0} % of surge at {:.0} rpm",
                100.0 * at.value,
                at.rpm
            ));
        }
        (0, None) => {}
        (1, _) => words.push("left of surge at one speed".to_owned()),
        (count, _) => words.push(format!("left of surge at {count} speeds")),
    }
    match (ranked.choke_from, ranked.choke_margin) {
        (Some(at), _) => words.push(format!("choked from {:.0} rpm", at.rpm)),
        (None, Some(at)) if at.value < NEARLY_CHOKED => {
            words.push(format!("nearly choked at {:.0} rpm", at.rpm));
        }
        _ => {}
    }
    if let Some(at) = ranked.over_speed {
        words.push(format!(
            "{:.0} % faster than its map at {:.0} rpm",
            100.0 * at.value,
            at.rpm
        ));
    }
    if let Some(mean) = ranked.mean_efficiency {
        words.push(format!("mean efficiency {:.0} %", 100.0 * mean));
    }
    words.join("; ")
}

/// Ranked maps for reading.
pub fn rank_text(report: &RankReport, skipped: usize, system: UnitSystem) -> String {
    const SURGE: At<RankedMap> = pick(RankedMap::ROWS, ["surge_margin", "surge_margin_rpm"]);
    columns! { ROWS of RankedMap: choke_margin, mean_efficiency, hottest_outlet_k; }
    let mut heads = vec![
        String::new(),
        "map".to_owned(),
        format!("{}, at rpm", SURGE[0].head(system)),
    ];
    heads.extend(ROWS.map(|row| row.head(system)));
    heads.extend(LARGEST.map(|[row, _]| row.head(system)));
    let row = |map: &RankedMap| {
        let mut cells = vec![
            format!("{}.", map.rank),
            folded(&one_line(&map.map)),
            figure_at(&SURGE, map, system),
        ];
        cells.extend(ROWS.map(|row| row.cell(map, system)));
        cells.extend(LARGEST.map(|at| figure_at(&at, &map.ranked.summary, system)));
        cells
    };
    let rows: Vec<Vec<String>> = report.maps.iter().map(row).collect();
    let mut out = format!(
        "{}\n\n{}\n",
        one_line(&report.title),
        within_screen(&heads, &rows, 2)
    );
    for map in &report.maps {
        let first = format!("{}. {}: ", map.rank, one_line(&map.map));
        out.push_str(&hanging(&map.reasons, &first, "   "));
        if !map.over.is_empty() {
            out.push_str(&hanging(&map.over, "   over: ", "   "));
        }
    }
    if skipped > 0 {
        out.push_str("Some files could not be used; see the messages.\n");
    }
    out.push_str(&format!("\n{}\n", caution::CAUTION));
    out
}
