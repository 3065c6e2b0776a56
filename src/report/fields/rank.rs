//! Maps ranked for a build.

use super::finding::PlacedFinding;
use super::rows::fields;
use crate::report::caution::CAUTION;
use crate::study::Ranked;

/// `rank`: the maps, best first.
#[derive(Debug)]
pub struct RankReport {
    /// Title of the build.
    pub title: String,
    /// The maps.
    pub maps: Vec<RankedMap>,
}

/// One map's place and the reasons for it.
#[derive(Debug)]
pub struct RankedMap {
    /// Place, the best first.
    pub rank: usize,
    /// The map file.
    pub map: String,
    /// The line with this map.
    pub ranked: Ranked,
    /// The reasons in words.
    pub reasons: String,
    /// What is over its limit along the line, in words; empty where nothing is.
    pub over: String,
    /// The same as findings.
    pub findings: Vec<PlacedFinding>,
}

fields! {
RankReport {
    title = text "title",
        "Title of the build." |r| r.title.clone();
    caution = text "caution",
        "The safety words." |_r| CAUTION;
    maps = each "maps",
        "The maps, best first." |r| &r.maps;
}

RankedMap {
    rank = count "rank" / "",
        "Place, the best first." |r| r.rank;
    map = text "map",
        "The map file." |r| r.map.clone();
    surge_margin ? Share "surge margin" / "surge margin",
        "Smallest surge margin at the same pressure ratio." |r| Some(r.ranked.surge_margin?.value);
    surge_margin_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |r| Some(r.ranked.surge_margin?.rpm);
    choke_margin ? Share "choke margin",
        "Smallest choke margin." |r| Some(r.ranked.choke_margin?.value);
    choke_from_rpm ? RotationalSpeed "choked from",
        "Engine speed from which the compressor is choked." |r| Some(r.ranked.choke_from?.rpm);
    over_speed ? Share "over-speed",
        "Largest excess over the map's highest speed, as a share of it."
        |r| Some(r.ranked.over_speed?.value);
    mean_efficiency ? Share "mean efficiency" / "mean\nefficiency",
        "Mean efficiency, weighted by the power given to the air." |r| r.ranked.mean_efficiency;
    hottest_outlet_k ? Temperature "hottest outlet",
        "Hottest compressor outlet." |r| Some(r.ranked.hottest_outlet?.value);
    points_beyond_surge = count "points beyond surge",
        "Speeds left of the surge line." |r| r.ranked.beyond_surge;
    speeds_without_match = count "speeds without match",
        "Speeds without a match." |r| r.ranked.unsolved;
    largest = flat "largest",
        "The largest of what the line has with this map." |r| r.ranked.summary;
    reasons = text "reasons",
        "Why the map has its place, in words." |r| r.reasons.clone();
    over = text "over",
        "What is over its limit along the line, in words; empty where nothing is."
        |r| r.over.clone();
    findings = each "findings",
        "The same as findings." |r| &r.findings;
}
}
