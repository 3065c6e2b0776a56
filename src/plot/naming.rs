//! The labels that each layer hands to the placer: what is wanted most chooses first.

use super::canvas::Type;
use super::frame::Frame;
use super::geometry::{self, along, distance, inside};
use super::labels::{Label, Wish};
use super::layer::{Area, Contour, Layer, Line, Mark, Naming, Point, PointKind, Points};
use super::paint::{marked, spaced};
use super::style::{ALARM, Colour, INK, ISLAND, MUTED, SMALL, TEXT, blend};
use super::towards::{E, ENE, ESE, N, NE, NNW, NW, ON, S, SE, SSE, SSW, SW, W, WNW, WSW};

/// On the place itself.
const ON_PLACE: Wish = Wish {
    directions: &[ON],
    gaps: &[0.0],
    most: 90.0,
    order: 0.0,
    leader: false,
};
/// Above or below a level line.
const ON_LEVEL: Wish = Wish {
    directions: &[NE, N, NW, SE, S, SW],
    gaps: &[4.0, 14.0],
    most: 1e9,
    order: 4.0,
    leader: false,
};
/// Beside a short upright line, or beyond its end.
const ON_UPRIGHT: Wish = Wish {
    directions: &[E, W, N, NNW, NW, S, SSW, SW],
    gaps: &[5.0, 12.0, 20.0, 34.0, 50.0],
    most: 1e9,
    order: 2.0,
    leader: true,
};
const AT_JUMP: Wish = Wish {
    directions: &[E, W, NE, NW, SE, SW, N, S],
    gaps: &[5.0, 12.0, 24.0],
    most: 200.0,
    order: 2.0,
    leader: true,
};
const AT_POINT: Wish = Wish {
    directions: &[ESE, E, WNW, W, N, SSE, ENE, WSW, SE, NW],
    gaps: &[9.0, 16.0, 26.0, 42.0, 60.0],
    most: 130.0,
    order: 0.0,
    leader: true,
};
const AT_TIP: Wish = Wish {
    directions: &[ESE, E, SSE, SE, ENE, WNW, N],
    gaps: &[4.0, 9.0, 16.0],
    most: 70.0,
    order: 30.0,
    leader: false,
};
/// Left of the surge edge; right of and below the choke edge.
const LEFT: Wish = Wish {
    directions: &[WNW, W, WSW, NNW],
    gaps: &[7.0, 12.0, 30.0],
    most: 60.0,
    order: 1.0,
    leader: true,
};
const RIGHT: Wish = Wish {
    directions: &[SSE, ESE, S, E],
    ..LEFT
};
const AT_BAND: Wish = Wish {
    directions: &[N, NW, SE, S, E, W],
    gaps: &[4.0, 16.0, 40.0, 70.0],
    most: 90.0,
    order: 4.0,
    leader: true,
};

/// The labels of one layer.
pub(crate) fn labels(layer: &Layer, frame: &Frame) -> Vec<Label> {
    match layer {
        Layer::Line(line) => of_line(line, frame),
        Layer::Area(area) if area.naming == Naming::Beside => of_band(area, frame),
        Layer::Points(points) => of_points(points, frame),
        Layer::Limit(limit) => vec![of_limit(limit, frame)],
        Layer::Contours(contours) => of_contours(contours, frame),
        Layer::Covered(outline) => of_hatching(outline, frame),
        Layer::Area(_) | Layer::Event(_) => Vec::new(),
    }
}

/// A limit's words along its line.
fn of_limit(limit: &Mark, frame: &Frame) -> Label {
    let [left, right] = frame.level(frame.y.at(limit.at));
    let places = (0..=12).map(|part| left[0] + 4.0 + f64::from(part) / 12.0 * (right[0] - left[0]));
    let places = places.map(|x| [x, left[1]]).collect();
    Label {
        note: Some(dotted(&limit.words)),
        ..label(
            &limit.words,
            Type::plain(SMALL, ALARM),
            places,
            (ON_LEVEL, 1),
        )
    }
}

/// A limit's words below the drawing.
fn dotted(words: &str) -> String {
    format!("dotted line: {words}")
}

/// The words in a frame that has nothing to show, near its middle.
pub(crate) fn nothing(frame: &Frame) -> Label {
    let [x, y] = frame.rect.centre();
    let places = [0.0, -40.0, 40.0, -80.0, 80.0].map(|by| [x, y + by]);
    let face = Type::plain(TEXT, MUTED);
    Label {
        note: Some("no point to draw".to_owned()),
        ..label("no point to draw", face, places.into(), (ON_PLACE, 0))
    }
}

fn label(words: &str, face: Type, places: Vec<geometry::Point>, (wish, rank): (Wish, u8)) -> Label {
    Label {
        words: words.to_owned(),
        face,
        places,
        wish,
        rank,
        once_within: (0.0, 0.0),
        note: None,
    }
}

/// The word at each of a line's jumps, and its name.
fn of_line(line: &Line, frame: &Frame) -> Vec<Label> {
    let ink = blend(line.meaning.look().colour, INK, 0.35);
    let jumps = line
        .connectors
        .iter()
        .map(|ends| ends.map(|end| frame.at(end)));
    let jumps = jumps.map(|ends| at_jump(&ends, ink));
    jumps.chain(name_of(line, frame, ink)).collect()
}

/// The word at a jump, once where several lines jump at one place.
fn at_jump(ends: &[geometry::Point; 2], ink: Colour) -> Label {
    let places = [0.5, 0.3, 0.7, 0.1, 0.9]
        .into_iter()
        .filter_map(|share| along(ends, share));
    Label {
        once_within: (12.0, 60.0),
        ..label(
            "jump",
            Type::plain(SMALL, ink),
            places.collect(),
            (AT_JUMP, 1),
        )
    }
}

fn name_of(line: &Line, frame: &Frame, ink: Colour) -> Option<Label> {
    let piece = frame.line(line.pieces.first()?);
    let at = |shares: &[f64]| {
        shares
            .iter()
            .filter_map(|&share| along(&piece, share))
            .collect()
    };
    let (face, places, wish) = match line.naming {
        Naming::End | Naming::Elsewhere => return None,
        Naming::Tip => (Type::plain(SMALL, ink), at(&[1.0, 0.0]), (AT_TIP, 4)),
        Naming::Left => (Type::bold(SMALL, ink), at(&ON_WAY), (LEFT, 3)),
        Naming::Right => (Type::plain(SMALL, MUTED), at(&ON_WAY), (RIGHT, 6)),
        Naming::Beside => (Type::plain(SMALL, ALARM), at(&[0.1, 0.9]), (ON_UPRIGHT, 1)),
    };
    Some(Label {
        note: (line.naming == Naming::Beside).then(|| dotted(&line.name)),
        ..label(&line.name, face, places, wish)
    })
}

/// Shares of an edge's length at which its name may stand.
const ON_WAY: [f64; 8] = [0.6, 0.5, 0.7, 0.4, 0.8, 0.3, 0.9, 0.2];

/// A band's name where it is at least half as high as anywhere: elsewhere it would point at nothing.
fn of_band(area: &Area, frame: &Frame) -> Vec<Label> {
    let Some([lower, upper]) = area.pieces.first() else {
        return Vec::new();
    };
    let (lower, upper) = (frame.line(lower), frame.line(upper));
    let places = spaced(&wide(&lower, &upper), 40.0);
    vec![Label {
        note: Some(area.name.clone()),
        ..label(&area.name, Type::plain(SMALL, MUTED), places, (AT_BAND, 8))
    }]
}

fn wide(lower: &[geometry::Point], upper: &[geometry::Point]) -> Vec<geometry::Point> {
    let heights = || lower.iter().zip(upper).map(|(low, high)| low[1] - high[1]);
    let highest = heights().fold(0.0, f64::max);
    let points = upper.iter().zip(heights());
    let wide = points.filter(|(_, height)| *height >= 0.5 * highest);
    wide.map(|(point, _)| *point).collect()
}

/// The names of marked points, some distance apart: the ends first, then those between, but all that
/// stand out. Where another line has the same name at the same place it is not repeated.
fn of_points(points: &Points, frame: &Frame) -> Vec<Label> {
    let face = |point: &Point| {
        let ink = blend(points.meaning.look().colour, INK, 0.35);
        if point.kind == PointKind::Plain && points.name_gap <= 0.0 {
            Type::plain(SMALL, MUTED)
        } else {
            Type::bold(SMALL, ink)
        }
    };
    let marks = marked(points, frame);
    let named = ends_first(&marks, |a, b| {
        distance(frame.at(a.at), frame.at(b.at)) >= points.name_gap
    });
    let one = |point: &&Point| Label {
        once_within: (20.0, 20.0),
        ..label(
            &point.words,
            face(point),
            vec![frame.at(point.at)],
            (AT_POINT, 2),
        )
    };
    named.iter().take(MOST_NAMES).map(one).collect()
}

/// More names along one line than anybody reads.
const MOST_NAMES: usize = 20;

fn ends_first<'p>(
    marks: &[&'p Point],
    is_apart: impl Fn(&Point, &Point) -> bool,
) -> Vec<&'p Point> {
    let [first, between @ .., last] = marks else {
        return marks.to_vec();
    };
    let mut kept = vec![*first, *last];
    let mut before = first;
    for point in between {
        if is_apart(before, point) {
            kept.push(point);
            before = point;
        }
    }
    kept.sort_by_key(|point| point.kind != PointKind::StandsOut);
    kept
}

/// Each level on its outline, the innermost first.
fn of_contours(contours: &[Contour], frame: &Frame) -> Vec<Label> {
    let face = Type::plain(SMALL, ISLAND);
    let one = |contour: &Contour| {
        let rings = contour.rings.iter();
        let places = rings
            .flat_map(|ring| spaced(&frame.line(ring), 12.0))
            .collect();
        label(&contour.label, face, places, (ON_PLACE, 5))
    };
    contours.iter().rev().map(one).collect()
}

/// Names the hatching where there is most of it.
fn of_hatching(outline: &[[f64; 2]], frame: &Frame) -> Vec<Label> {
    if outline.len() < 3 {
        return Vec::new();
    }
    let edge = frame.line(outline);
    let corners = [
        (0.80, 0.93),
        (0.84, 0.85),
        (0.22, 0.08),
        (0.22, 0.2),
        (0.8, 0.08),
        (0.2, 0.93),
    ];
    let rect = frame.rect;
    let places = corners.map(|(x, y)| [rect.left + x * rect.width(), rect.top + y * rect.height()]);
    let places = places
        .into_iter()
        .filter(|&place| !inside(place, &edge))
        .collect();
    let wish = Wish {
        most: 30.0,
        order: 4.0,
        ..ON_PLACE
    };
    vec![label(
        "beyond the data",
        Type::plain(SMALL, MUTED),
        places,
        (wish, 7),
    )]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_is_named_where_it_is_wide() {
        let lower = [[0.0, 100.0], [1.0, 90.0], [2.0, 50.0]];
        let upper = [[0.0, 80.0], [1.0, 50.0], [2.0, 50.0]];
        assert_eq!(wide(&lower, &upper), [[0.0, 80.0], [1.0, 50.0]]);
    }
}
