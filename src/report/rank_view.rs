//! Maps ranked for a build.

use serde::Serialize;

use super::beside_text::passed;
use super::beside_view::{LargestView, figure_at};
use super::caution;
use super::table::{folded, one_line, within_screen};
use super::view::FindingView;
use crate::finding::{Finding, Severity};
use crate::quantity::{Kind, UnitSystem, label, shown};
use crate::study::{NEARLY_CHOKED, Ranked};

/// One map's place and the reasons for it.
#[derive(Debug, Clone, Serialize)]
pub struct RankView {
    /// Place, the best first.
    pub rank: usize,
    /// The map file.
    pub map: String,
    /// Smallest surge margin at the same pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin_rpm: Option<f64>,
    /// Smallest choke margin.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_margin: Option<f64>,
    /// Engine speed from which the compressor is choked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_from_rpm: Option<f64>,
    /// Largest over-speed as a share of the map's highest speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub over_speed: Option<f64>,
    /// Mean efficiency weighted by the power given to the air.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mean_efficiency: Option<f64>,
    /// Hottest compressor outlet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hottest_outlet_k: Option<f64>,
    /// Points left of surge.
    pub points_beyond_surge: usize,
    /// Speeds without a match.
    pub speeds_without_match: usize,
    /// Boost, power, torque and turbo speed of the line with this map.
    #[serde(flatten)]
    pub largest: LargestView,
    /// The reasons in words.
    pub reasons: String,
    /// What is over its limit along the line, in words; empty where nothing is.
    pub over: String,
    /// The same as findings.
    pub findings: Vec<FindingView>,
}

/// `rank` as JSON.
#[derive(Debug, Clone, Serialize)]
pub struct RankReport {
    /// Title of the build.
    pub title: String,
    /// The safety words.
    pub caution: &'static str,
    /// The maps, best first.
    pub maps: Vec<RankView>,
}

impl RankReport {
    /// A report of ranked maps.
    pub fn new(title: String, maps: Vec<RankView>) -> Self {
        Self {
            title,
            caution: caution::CAUTION,
            maps,
        }
    }
}

impl RankView {
    /// The view of one map.
    pub fn new(rank: usize, map: &str, ranked: &Ranked) -> Self {
        let over = |finding: &&Finding| finding.severity == Severity::Over;
        let findings: Vec<FindingView> = ranked
            .findings
            .iter()
            .filter(over)
            .map(|finding| FindingView::new(&ranked.layout, finding))
            .collect();
        let passed = passed(&findings, ranked.summary.maps > 1)
            .into_iter()
            .next();
        Self {
            rank,
            map: map.to_owned(),
            surge_margin: ranked.surge_margin.map(|at| at.value),
            surge_margin_rpm: ranked.surge_margin.map(|at| at.rpm),
            choke_margin: ranked.choke_margin.map(|at| at.value),
            choke_from_rpm: ranked.choke_from.map(|at| at.rpm),
            over_speed: ranked.over_speed.map(|at| at.value),
            mean_efficiency: ranked.mean_efficiency,
            hottest_outlet_k: ranked.hottest_outlet.map(|at| at.value),
            points_beyond_surge: ranked.beyond_surge,
            speeds_without_match: ranked.unsolved,
            largest: LargestView::new(&ranked.summary),
            reasons: reasons(ranked),
            over: passed.map_or_else(String::new, |(_, names)| names),
            findings,
        }
    }
}

/// Why a map stands where it stands.
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
pub fn rank_text(title: &str, maps: &[RankView], skipped: usize, system: UnitSystem) -> String {
    let mut headings = vec![
        String::new(),
        "map".to_owned(),
        "surge margin\n[%], at rpm".to_owned(),
        "choke margin\n[%]".to_owned(),
        "mean\nefficiency [%]".to_owned(),
        format!("hottest outlet\n[{}]", label(Kind::Temperature, system)),
    ];
    headings.extend(LargestView::headings(system));
    let figure = |value: Option<f64>, kind| {
        value.map_or_else(|| "–".to_owned(), |value| shown(value, kind, system))
    };
    let row = |map: &RankView| {
        let surge = (map.surge_margin, map.surge_margin_rpm);
        let mut cells = vec![
            format!("{}.", map.rank),
            folded(&one_line(&map.map)),
            figure_at(surge.0, Kind::Share, surge.1, system),
            figure(map.choke_margin, Kind::Share),
            figure(map.mean_efficiency, Kind::Share),
            figure(map.hottest_outlet_k, Kind::Temperature),
        ];
        cells.extend(map.largest.cells(system));
        cells
    };
    let rows: Vec<Vec<String>> = maps.iter().map(row).collect();
    let mut out = format!(
        "{}\n\n{}\n",
        one_line(title),
        within_screen(&headings, &rows, 2)
    );
    for map in maps {
        out.push_str(&format!(
            "{}. {}: {}\n",
            map.rank,
            one_line(&map.map),
            map.reasons
        ));
        if !map.over.is_empty() {
            out.push_str(&format!("   over: {}\n", map.over));
        }
    }
    if skipped > 0 {
        out.push_str("Some files could not be used; see the messages.\n");
    }
    out.push_str(&format!("\n{}\n", caution::CAUTION));
    out
}
