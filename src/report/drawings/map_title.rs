//! What a compressor map's drawing finds: the title, and the margins below it.

use super::map::Track;
use super::{rpm, thousands};
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
        let inside = track.points.iter();
        let inside: Vec<(f64, bool)> = inside
            .map(|(rpm, point, _)| (*rpm, point.region.is_inside()))
            .collect();
        let (start, place) = outside(&inside)?;
        let region = track.points.get(start)?.1.region;
        Some((track.name, format!("{} {place}", side(region))))
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

/// Of engine speeds and whether each lies inside the map: where the first run outside begins, and
/// that run in words.
fn outside(points: &[(f64, bool)]) -> Option<(usize, String)> {
    let start = points.iter().position(|(_, inside)| !inside)?;
    let run = points[start..].iter().take_while(|(_, inside)| !inside);
    let length = run.count();
    let (first, last) = (points[start].0, points[start + length - 1].0);
    let words = if start > 0 && start + length == points.len() {
        format!("from {}", rpm(first))
    } else if length > 1 {
        format!("from {} to {}", thousands(first), rpm(last))
    } else {
        format!("at {}", rpm(first))
    };
    Some((start, words))
}

/// Per cent with one decimal and a minus as on the axes.
fn percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share).replace('-', "−")
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
            let margin = percent(margin);
            let ratio = if tracks.len() == 1 {
                " (same ratio)"
            } else {
                ""
            };
            format!(
                "smallest surge margin {margin} at {}{ratio}{}",
                rpm(at),
                on(name)
            )
        });
    let choke = smallest(&|point| Some(map.margins(point).choke)).map(|(at, margin, name)| {
        format!(
            "choke margin {} at {}{}",
            percent(margin),
            rpm(at),
            on(name)
        )
    });
    let both: Vec<String> = surge.into_iter().chain(choke).collect();
    both.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_speeds_outside_a_map_are_said_from_the_first_to_the_last() {
        let words = |inside: [bool; 4]| {
            let points: Vec<_> = [1200.0, 1800.0, 2400.0, 3200.0]
                .into_iter()
                .zip(inside)
                .collect();
            outside(&points).map(|(_, words)| words)
        };
        assert_eq!(words([true; 4]), None);
        let some = |text: &str| Some(text.to_owned());
        assert_eq!(words([true, true, false, false]), some("from 2,400 rpm"));
        assert_eq!(words([true, true, true, false]), some("from 3,200 rpm"));
        assert_eq!(
            words([false, false, false, true]),
            some("from 1,200 to 2,400 rpm")
        );
        assert_eq!(words([false; 4]), some("from 1,200 to 3,200 rpm"));
        assert_eq!(words([false, true, false, true]), some("at 1,200 rpm"));
    }

    #[test]
    fn a_negative_margin_has_the_minus_of_the_axes() {
        assert_eq!(percent(-0.137), "−13.7 %");
        assert_eq!(percent(0.1614), "16.1 %");
    }
}
