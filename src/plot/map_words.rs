//! The words on a compressor map: the most wanted first, each where it covers least.

use super::axis::number;
use super::canvas::{Canvas, Type};
use super::curves::spaced;
use super::frame::Panel;
use super::geometry::{Point, Rect, along, distance, inside};
use super::map_layers::{Drawn, ISLAND, LINE_STYLES, Shown, ShownIsland, marked, marker_gap};
use super::placing::{Placer, Wish};
use super::style::{INK, MUTED, SMALL, blend};

const SPEED_FACE: Type = Type::plain(SMALL, (74, 84, 97));

/// Writes all words, the most wanted first.
pub(crate) fn write(
    canvas: &mut Canvas,
    placer: &mut Placer,
    panel: &Panel,
    shown: &Shown,
    lines: &[Vec<Drawn>],
    [surge, choke]: [&[Point]; 2],
) {
    engine_speeds(canvas, placer, lines);
    edge_words(
        canvas,
        placer,
        surge,
        ("surge", Type::bold(SMALL, INK)),
        OFF_SURGE,
    );
    speed_words(canvas, placer, panel, &shown.speeds);
    island_words(canvas, placer, panel, &shown.islands);
    edge_words(
        canvas,
        placer,
        choke,
        ("choke", Type::plain(SMALL, MUTED)),
        OFF_CHOKE,
    );
    beyond_words(canvas, placer, panel, &shown.hull);
}

/// Engine speeds beside the lines. The first line's come first; the others' only help to tell the way
/// along, and stay away where a line before has the same speed at the same place.
fn engine_speeds(canvas: &mut Canvas, placer: &mut Placer, lines: &[Vec<Drawn>]) {
    let gaps = match lines.len() {
        0 | 1 => [36.0, 36.0],
        _ => [48.0, 130.0],
    };
    let mut written: Vec<&Drawn> = Vec::new();
    for (place, (points, style)) in lines.iter().zip(&LINE_STYLES).enumerate() {
        let marks = marked(points, marker_gap(place));
        let mut wanted = ends_first(&marks, gaps[place.min(1)]);
        let told = |point: &&Drawn| {
            let same = |other: &&Drawn| {
                (other.rpm - point.rpm).abs() < 0.5 && distance(other.at, point.at) < 20.0
            };
            !written.iter().any(same)
        };
        wanted.retain(told);
        let face = Type::bold(SMALL, blend(style.colour, INK, 0.35));
        for &point in wanted.iter().take(14) {
            speed_of_engine(canvas, placer, point, face);
        }
        written.extend(wanted);
    }
}

/// The marked points that get their speed, `gap` apart: the ends first, then those between.
fn ends_first<'d>(marks: &[&'d Drawn], gap: f64) -> Vec<&'d Drawn> {
    let [first, between @ .., last] = marks else {
        return marks.to_vec();
    };
    let mut kept = vec![*first, *last];
    let mut before = first;
    for point in between {
        if distance(before.at, point.at) >= gap {
            kept.push(point);
            before = point;
        }
    }
    kept
}

fn speed_of_engine(canvas: &mut Canvas, placer: &mut Placer, point: &Drawn, face: Type) {
    const WISH: Wish = Wish {
        directions: &[
            (1.0, 0.6),
            (1.0, 0.0),
            (-1.0, -0.6),
            (-1.0, 0.0),
            (0.0, -1.0),
            (0.3, 1.0),
            (1.0, -0.6),
            (-1.0, 0.6),
        ],
        gaps: &[7.0, 14.0, 24.0, 40.0],
        most: 130.0,
        order: 0.0,
        leader: true,
    };
    let words = number(point.rpm, 1.0);
    placer.label(canvas, &words, face, &[point.at], &WISH);
}

/// Directions away from the data: to the left of the surge edge, below and right of the choke edge.
const OFF_SURGE: &[(f64, f64)] = &[(-1.0, -0.3), (-1.0, 0.3), (-0.3, -1.0)];
const OFF_CHOKE: &[(f64, f64)] = &[(0.6, 1.0), (1.0, 0.6), (0.0, 1.0), (1.0, 0.0)];

fn edge_words(
    canvas: &mut Canvas,
    placer: &mut Placer,
    edge: &[Point],
    (words, face): (&str, Type),
    directions: &'static [(f64, f64)],
) {
    let wish = Wish {
        directions,
        gaps: &[7.0, 12.0, 30.0],
        most: 60.0,
        order: 1.0,
        leader: true,
    };
    let places: Vec<Point> = [0.6, 0.5, 0.7, 0.4, 0.8, 0.3, 0.9, 0.2]
        .into_iter()
        .filter_map(|share| along(edge, share))
        .collect();
    placer.label(canvas, words, face, &places, &wish);
}

/// The speed lines' numbers at their choke ends, else at their surge ends.
fn speed_words(
    canvas: &mut Canvas,
    placer: &mut Placer,
    panel: &Panel,
    lines: &[(String, Vec<[f64; 2]>)],
) {
    const WISH: Wish = Wish {
        directions: &[
            (1.0, 0.4),
            (1.0, 0.0),
            (0.3, 1.0),
            (1.0, 1.0),
            (1.0, -0.5),
            (-1.0, -0.5),
            (0.0, -1.0),
        ],
        gaps: &[4.0, 9.0, 16.0],
        most: 70.0,
        order: 30.0,
        leader: false,
    };
    for (label, points) in lines {
        let ends = points
            .last()
            .into_iter()
            .chain(points.first())
            .map(|&end| panel.at(end));
        let ends: Vec<Point> = ends.collect();
        placer.label(canvas, label, SPEED_FACE, &ends, &WISH);
    }
}

/// Each island's efficiency on its outline, the innermost first.
fn island_words(canvas: &mut Canvas, placer: &mut Placer, panel: &Panel, islands: &[ShownIsland]) {
    const WISH: Wish = Wish {
        directions: &[(0.0, 0.0)],
        gaps: &[0.0],
        most: 90.0,
        order: 0.0,
        leader: false,
    };
    for island in islands.iter().rev() {
        let places: Vec<Point> = island
            .rings
            .iter()
            .flat_map(|ring| spaced(&panel.line(ring), 12.0))
            .collect();
        placer.label(
            canvas,
            &island.label,
            Type::plain(SMALL, ISLAND),
            &places,
            &WISH,
        );
    }
}

/// Names the hatching where there is most of it.
fn beyond_words(canvas: &mut Canvas, placer: &mut Placer, panel: &Panel, hull: &[[f64; 2]]) {
    const WISH: Wish = Wish {
        directions: &[(0.0, 0.0)],
        gaps: &[0.0],
        most: 30.0,
        order: 4.0,
        leader: false,
    };
    if hull.len() < 3 {
        return;
    }
    let mut edge = panel.line(hull);
    edge.extend(edge.first().copied());
    placer.avoid(&edge, 5.0);
    let Rect {
        left,
        top,
        right,
        bottom,
    } = panel.rect;
    let mut places: Vec<Point> = Vec::new();
    for (x, y) in [
        (0.80, 0.93),
        (0.84, 0.85),
        (0.22, 0.08),
        (0.22, 0.2),
        (0.8, 0.08),
        (0.2, 0.93),
    ] {
        places.push([left + x * (right - left), top + y * (bottom - top)]);
    }
    places.retain(|&place| !inside(place, &edge));
    placer.label(
        canvas,
        "beyond the data",
        Type::plain(SMALL, MUTED),
        &places,
        &WISH,
    );
}
