//! What a compressor map's drawing finds: the title, and the margins below it.

use super::heading::{capital, rpm};
use super::track::Track;
use crate::finding::{Code, Finding, LOW_END_RATIO, Severity, Subject};
use crate::map::{self, MapPoint, Region};
use crate::plot::number;
use crate::quantity::{Kind, UnitSystem, shown};
use crate::report::fields::line::THE_BUILD;
use crate::study::{MatchOnMap, NEARLY_CHOKED, ValueAtSpeed};

/// The finding as title, behind something that may stand ahead of it, and the margins as subtitle.
pub(super) fn words(
    map: &map::CompressorMap,
    who: &str,
    tracks: &[Track],
    ahead: &str,
) -> (String, String) {
    let title = capital(&format!("{ahead}{}", title(who, tracks)));
    (title, margins(map, tracks))
}

/// What a title can say of one line, the gravest last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Grade {
    /// Near an edge or a limit.
    Near,
    /// Somewhere without data.
    OutsideData,
    /// Past a limit of the build's.
    Over,
    /// Left of surge: no margin is left, whatever the limit.
    Surge,
}

/// One thing to say.
struct Claim {
    grade: Grade,
    /// How far, as a share, to choose among equals.
    by: f64,
    words: String,
}

/// The gravest thing that happens on any line, the build's own before others of its grade.
fn title(who: &str, tracks: &[Track]) -> String {
    let ends = tracks.iter().filter_map(|track| track.points.last());
    let Some(last) = ends.map(|placed| placed.rpm).reduce(f64::max) else {
        return format!("{who} has no operating point on its map");
    };
    let mut gravest: Option<(&str, Claim)> = None;
    for track in tracks {
        let worse = |new: &Claim, known: &Option<(&str, Claim)>| match known {
            None => true,
            Some((name, known)) => {
                new.grade > known.grade
                    || (new.grade == known.grade && *name == track.name && new.by > known.by)
            }
        };
        for claim in claims(track) {
            if worse(&claim, &gravest) {
                gravest = Some((track.name, claim));
            }
        }
    }
    match gravest {
        Some((name, claim)) if tracks.len() > 1 && name != THE_BUILD => {
            format!("{name}: {who} {}", claim.words)
        }
        Some((_, claim)) => format!("{who} {}", claim.words),
        None => {
            let lines = match tracks.len() {
                1 => String::new(),
                2 => " on both lines".to_owned(),
                more => format!(" on all {more} lines"),
            };
            let missing: usize = tracks.iter().map(|track| track.unsolved).sum();
            let missing = match missing {
                0 => String::new(),
                1 => ", but one speed has no match".to_owned(),
                more => format!(", but {more} speeds have no match"),
            };
            format!(
                "{who} stays between surge and choke{lines} up to {}{missing}",
                rpm(last)
            )
        }
    }
}

/// Everything that a title could say of one line.
fn claims(track: &Track) -> Vec<Claim> {
    let runs = outside(&track.points).into_iter().map(|run| Claim {
        grade: run.grade,
        by: run.by,
        words: format!("{} {}", side(run.region), run.place),
    });
    let about = track
        .findings
        .iter()
        .filter(|finding| finding.subject == Subject::Stage(track.stage));
    runs.chain(about.filter_map(limit_claim))
        .chain(near_choke(track))
        .collect()
}

/// The point nearest to choke, where that is near.
fn near_choke(track: &Track) -> Option<Claim> {
    let ValueAtSpeed { value, rpm: at } = track.choke_margin?;
    (0.0..NEARLY_CHOKED).contains(&value).then(|| Claim {
        grade: Grade::Near,
        by: -value,
        words: format!("comes within {} of choke at {}", percent(value), rpm(at)),
    })
}

/// A limit of the stage's that is passed or near.
fn limit_claim(finding: &Finding) -> Option<Claim> {
    let grade = match finding.severity {
        Severity::Over => Grade::Over,
        Severity::Near => Grade::Near,
        Severity::Ok | Severity::OutsideData => return None,
    };
    let (value, limit, at) = (finding.value?, finding.limit?, rpm(finding.rpm?));
    let words = match (finding.code, grade) {
        // Past surge the line has left its map, which is said of that.
        (Code::SurgeMargin, _) if value > 0.0 => {
            format!(
                "comes within {} of surge at {at} (limit {})",
                percent(value),
                percent(limit)
            )
        }
        (Code::TurboSpeed | Code::SuperchargerSpeed, Grade::Over) => {
            format!(
                "turns at {} at {at}, above its limit of {}",
                rpm(value),
                rpm(limit)
            )
        }
        (Code::TurboSpeed | Code::SuperchargerSpeed, _) => {
            format!(
                "turns at {} at {at}, near its limit of {}",
                rpm(value),
                rpm(limit)
            )
        }
        (Code::TipSpeed, Grade::Over) => {
            let speed = |si| shown(si, Kind::SurfaceSpeed, UnitSystem::Si);
            format!(
                "runs its tips at {} m/s at {at}, above their limit of {} m/s",
                speed(value),
                speed(limit)
            )
        }
        _ => return None,
    };
    let by = -finding.margin.unwrap_or(0.0);
    Some(Claim { grade, by, words })
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

/// Neighbouring points beyond the same side of a map.
struct Run {
    region: Region,
    grade: Grade,
    /// How far at most.
    by: f64,
    /// "from 2,400 rpm".
    place: String,
}

/// How grave a region is, and how far beyond its side the point lies; none inside.
fn graved(region: Region) -> Option<(Grade, f64)> {
    let by = region.distance();
    match region {
        Region::Inside => None,
        Region::BeyondSurge(_) => Some((Grade::Surge, by)),
        _ => Some((Grade::OutsideData, by)),
    }
}

/// Every run of neighbouring points beyond one side; a point beyond two sides counts for the graver.
/// The low end, where little is at stake, is left to the finding about it.
fn outside(points: &[MatchOnMap]) -> Vec<Run> {
    let beyond = |placed: &MatchOnMap| {
        let regions = [placed.point.region, placed.point.also];
        let graved = regions
            .into_iter()
            .filter_map(|region| Some((region, graved(region)?)));
        let (region, (grade, by)) = graved.reduce(|a, b| if b.1.0 > a.1.0 { b } else { a })?;
        let is_slow = regions
            .into_iter()
            .any(|region| matches!(region, Region::UnderSpeed(_)));
        let is_low_end = is_slow && placed.ratio < LOW_END_RATIO;
        (!is_low_end).then_some((region, grade, by))
    };
    let mut runs: Vec<(Region, Grade, f64, usize, usize)> = Vec::new();
    for (place, placed) in points.iter().enumerate() {
        let Some((region, grade, by)) = beyond(placed) else {
            continue;
        };
        match runs.last_mut() {
            Some((known, known_grade, most, _, last))
                if *last + 1 == place
                    && *known_grade == grade
                    && std::mem::discriminant(known) == std::mem::discriminant(&region) =>
            {
                *last = place;
                *most = most.max(by);
            }
            _ => runs.push((region, grade, by, place, place)),
        }
    }
    let run = |(region, grade, by, first, last)| Run {
        region,
        grade,
        by,
        place: place(points, first, last),
    };
    runs.into_iter().map(run).collect()
}

/// The speeds of a run in words.
fn place(points: &[MatchOnMap], first: usize, last: usize) -> String {
    let (from, to) = (points[first].rpm, points[last].rpm);
    if first > 0 && last + 1 == points.len() {
        format!("from {}", rpm(from))
    } else if last > first {
        format!("from {} to {}", number(from, 1.0), rpm(to))
    } else {
        format!("at {}", rpm(from))
    }
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
            points.filter_map(|placed| Some((placed.rpm, margin(&placed.point)?, track.name)))
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
    use crate::map::{CorrectedFlow, CorrectedSpeed};

    fn placed(rpm: f64, region: Region, ratio: f64) -> MatchOnMap {
        MatchOnMap {
            rpm,
            point: MapPoint {
                speed: CorrectedSpeed(90e3),
                flow: CorrectedFlow(0.2),
                pressure_ratio: ratio,
                efficiency: 0.7,
                work: 1e5,
                place: 0.5,
                region,
                also: Region::Inside,
                other_flow: None,
            },
            ratio,
            power_to_air: 1e4,
            outlet_temperature: 400.0,
        }
    }

    fn said(name: &str, regions: &[Region]) -> Vec<MatchOnMap> {
        let speeds = [1200.0, 1800.0, 2400.0, 3200.0];
        assert_eq!(regions.len(), speeds.len(), "{name}");
        let points = speeds.into_iter().zip(regions);
        points
            .map(|(rpm, region)| placed(rpm, *region, 2.0))
            .collect()
    }

    fn track<'a>(name: &'a str, points: Vec<MatchOnMap>, findings: &'a [Finding]) -> Track<'a> {
        Track {
            name,
            look: 0,
            stage: 0,
            points,
            jumps: Vec::new(),
            gaps: Vec::new(),
            findings,
            choke_margin: None,
            unsolved: 0,
        }
    }

    const IN: Region = Region::Inside;
    const CHOKE: Region = Region::BeyondChoke(0.4);
    const SURGE: Region = Region::BeyondSurge(0.01);

    #[test]
    fn the_speeds_outside_a_map_are_said_from_the_first_to_the_last() {
        let words = |regions: [Region; 4]| {
            let runs = outside(&said("", &regions));
            runs.into_iter().map(|run| run.place).collect::<Vec<_>>()
        };
        assert!(words([IN; 4]).is_empty());
        assert_eq!(words([IN, IN, CHOKE, CHOKE]), ["from 2,400 rpm"]);
        assert_eq!(words([IN, IN, IN, CHOKE]), ["from 3,200 rpm"]);
        assert_eq!(
            words([CHOKE, CHOKE, CHOKE, IN]),
            ["from 1,200 to 2,400 rpm"]
        );
        assert_eq!(words([CHOKE; 4]), ["from 1,200 to 3,200 rpm"]);
        let two = words([IN, CHOKE, IN, CHOKE]);
        assert_eq!(two, ["at 1,800 rpm", "from 3,200 rpm"]);
        // Another side is another run.
        let sides = words([SURGE, SURGE, CHOKE, IN]);
        assert_eq!(sides, ["from 1,200 to 1,800 rpm", "at 2,400 rpm"]);
    }

    #[test]
    fn a_little_surge_late_is_said_before_much_choke_early() {
        let points = said("", &[CHOKE, CHOKE, IN, SURGE]);
        let words = title("the compressor", &[track(THE_BUILD, points, &[])]);
        assert_eq!(words, "the compressor runs left of surge from 3,200 rpm");
    }

    #[test]
    fn the_harmless_low_end_is_never_the_title() {
        let mut points = said("", &[Region::UnderSpeed(0.5), IN, IN, IN]);
        points[0].ratio = 1.1;
        let slow = title("the compressor", &[track(THE_BUILD, points.clone(), &[])]);
        let wanted = "the compressor stays between surge and choke up to 3,200 rpm";
        assert_eq!(slow, wanted);
        points[2].point.region = Region::OverSpeed(0.001);
        let fast = title("the compressor", &[track(THE_BUILD, points, &[])]);
        assert_eq!(fast, "the compressor runs faster than its map at 2,400 rpm");
    }

    #[test]
    fn a_line_that_nearly_chokes_is_said_to() {
        let mut own = track(THE_BUILD, said("", &[IN; 4]), &[]);
        own.choke_margin = Some(ValueAtSpeed {
            value: 0.02,
            rpm: 3200.0,
        });
        let words = title("the compressor", &[own]);
        let wanted = "the compressor comes within 2.0 % of choke at 3,200 rpm";
        assert_eq!(words, wanted);
    }

    #[test]
    fn a_worse_line_beside_the_build_is_named() {
        let own = track(THE_BUILD, said("", &[IN, IN, IN, CHOKE]), &[]);
        let other = track("at the pass", said("", &[IN, SURGE, IN, IN]), &[]);
        let words = title("the compressor", &[own, other]);
        let wanted = "at the pass: the compressor runs left of surge at 1,800 rpm";
        assert_eq!(words, wanted);
    }

    #[test]
    fn a_limit_that_is_passed_inside_the_map_is_said_in_the_title() {
        let margin = Finding::against(Code::SurgeMargin, Subject::Stage(0), 1800.0, (0.08, 0.12));
        let margin = [margin.unwrap()];
        let points = said("", &[IN; 4]);
        let words = title("the compressor", &[track(THE_BUILD, points, &margin)]);
        let wanted = "the compressor comes within 8.0 % of surge at 1,800 rpm (limit 12.0 %)";
        assert_eq!(words, wanted);
    }

    #[test]
    fn speeds_without_a_match_keep_a_title_from_saying_that_all_is_well() {
        let mut own = track(THE_BUILD, said("", &[IN; 4]), &[]);
        own.unsolved = 3;
        let words = title("the compressor", &[own]);
        assert!(words.ends_with(", but 3 speeds have no match"), "{words}");
    }

    #[test]
    fn a_negative_margin_has_the_minus_of_the_axes() {
        assert_eq!(percent(-0.137), "−13.7 %");
        assert_eq!(percent(0.1614), "16.1 %");
    }
}
