//! Maps ranked for a build.

use serde::Serialize;

use super::caution;
use super::table::Sheet;
use crate::quantity::{Kind, UnitSystem, label, shown};
use crate::study::Ranked;

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
    /// The reasons in words.
    pub reasons: String,
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
            reasons: reasons(ranked),
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
        (None, Some(at)) if at.value < 0.05 => {
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
    let mut sheet = Sheet::new(&[
        String::new(),
        "map".to_owned(),
        "surge margin\n[%], at rpm".to_owned(),
        "choke margin\n[%]".to_owned(),
        "mean\nefficiency [%]".to_owned(),
        format!("hottest outlet\n[{}]", label(Kind::Temperature, system)),
    ]);
    let share = |value: Option<f64>| {
        value.map_or_else(|| "–".to_owned(), |v| shown(v, Kind::Share, system))
    };
    for map in maps {
        let surge = map.surge_margin_rpm.map_or_else(
            || "–".to_owned(),
            |rpm| format!("{} at {rpm:.0}", share(map.surge_margin)),
        );
        sheet.row(vec![
            format!("{}.", map.rank),
            map.map.clone(),
            surge,
            share(map.choke_margin),
            share(map.mean_efficiency),
            map.hottest_outlet_k
                .map_or_else(|| "–".to_owned(), |k| shown(k, Kind::Temperature, system)),
        ]);
    }
    let mut out = format!("{title}\n\n{}\n", sheet.text(2));
    for map in maps {
        out.push_str(&format!("{}. {}: {}\n", map.rank, map.map, map.reasons));
    }
    if skipped > 0 {
        out.push_str("Some files could not be used; see the messages.\n");
    }
    out.push_str(&format!("\n{}\n", caution::CAUTION));
    out
}
