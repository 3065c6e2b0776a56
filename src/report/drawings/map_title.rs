//! What a compressor map's drawing finds: the title, and the margins below it.

use super::map::Track;
use super::rpm;
use crate::map::{self, MapPoint, Region};
use crate::report::THE_BUILD;

/// The finding as title (to be begun with a capital where nothing stands ahead of it), the margins as
/// subtitle.
pub(super) fn words(map: &map::CompressorMap, name: &str, tracks: &[Track]) -> (String, String) {
    let who = if name.ends_with(char::is_numeric) {
        format!("the {name}")
    } else {
        "the compressor".to_owned()
    };
    (title(&who, tracks), margins(map, tracks))
}

/// The first line that leaves the map is the finding, the build's own before others.
fn title(who: &str, tracks: &[Track]) -> String {
    let leaves = tracks.iter().find_map(|track| {
        let mut points = track.points.iter();
        let (at, point, _) = points.find(|(_, point, _)| !point.region.is_inside())?;
        let place = place(*at, track.points.first()?.0);
        Some((track.name, format!("{} {place}", side(point.region))))
    });
    let ends = tracks.iter().filter_map(|track| track.points.last());
    let last = ends.map(|point| point.0).reduce(f64::max);
    match (leaves, last) {
        (_, None) => format!("{who} has no operating point on its map"),
        (Some((name, what)), _) if tracks.len() > 1 && name != THE_BUILD => {
            format!("{name}: {who} {what}")
        }
        (Some((_, what)), _) => format!("{who} {what}"),
        (None, Some(last)) => {
            let lines = match tracks.len() {
                1 => String::new(),
                2 => " on both lines".to_owned(),
                more => format!(" on all {more} lines"),
            };
            format!(
                "{who} stays between surge and choke{lines} up to {}",
                rpm(last)
            )
        }
    }
}

/// The same begun with a capital.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

fn side(region: Region) -> &'static str {
    match region {
        Region::Inside => "stays on its map",
        Region::BeyondSurge(_) => "runs left of surge",
        Region::BeyondChoke(_) => "runs beyond choke",
        Region::OverSpeed(_) => "runs faster than its map",
        Region::UnderSpeed(_) => "runs slower than its map",
        Region::LowRatio(_) | Region::HighRatio(_) => "leaves its map",
    }
}

fn place(at: f64, first: f64) -> String {
    if at > first {
        format!("from {}", rpm(at))
    } else {
        format!("at {}", rpm(at))
    }
}

/// The smallest surge margin and the smallest choke margin of all lines, each with its place.
fn margins(map: &map::CompressorMap, tracks: &[Track]) -> String {
    let smallest = |margin: &dyn Fn(&MapPoint) -> Option<f64>| {
        let points = tracks.iter().flat_map(|track| {
            let points = track.points.iter();
            points.filter_map(|(rpm, point, _)| Some((*rpm, margin(point)?, track.name)))
        });
        points.min_by(|a, b| a.1.total_cmp(&b.1))
    };
    let on = |name: &str| match tracks.len() {
        1 => String::new(),
        _ => format!(" ({name})"),
    };
    let surge =
        smallest(&|point| map.margins(point).surge_at_same_ratio).map(|(at, margin, name)| {
            let margin = 100.0 * margin;
            let ratio = if tracks.len() == 1 {
                " (same ratio)"
            } else {
                ""
            };
            format!(
                "smallest surge margin {margin:.1} % at {}{ratio}{}",
                rpm(at),
                on(name)
            )
        });
    let choke = smallest(&|point| Some(map.margins(point).choke)).map(|(at, margin, name)| {
        format!(
            "choke margin {:.1} % at {}{}",
            100.0 * margin,
            rpm(at),
            on(name)
        )
    });
    let both: Vec<String> = surge.into_iter().chain(choke).collect();
    both.join(", ")
}
