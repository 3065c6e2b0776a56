//! How layers are drawn into a frame: grounds below the grid, lines and points above it.

use super::canvas::Canvas;
use super::frame::Frame;
use super::geometry::{self, distance, thin};
use super::labels::Placer;
use super::layer::{Area, Contour, Layer, Line, Point, PointKind, Points};
use super::scale::extent;
use super::style::{Colour, Dash, INK, ISLAND, Marker, Meaning, PAPER, blend, island_tint};

/// Dash of a jump's connector: shorter than the lines' own, so that it is not taken for a piece of one.
const JUMP_DASH: Dash = &[2.5, 3.5];
/// Distance of the markers along a line.
const MARKER_GAP: f64 = 42.0;
/// Least distance of markers where points lie outside the data.
const OUTSIDE_GAP: f64 = 13.0;

/// The grounds: hatching, the region that the data cover, contours, areas.
pub(crate) fn grounds(canvas: &mut Canvas, frame: &Frame, layers: &[Layer]) {
    for layer in layers {
        match layer {
            Layer::Covered(outline) if outline.len() > 2 => {
                frame.hatch(canvas);
                canvas.fill(&frame.line(outline), PAPER);
            }
            Layer::Contours(list) => contours(canvas, frame, list),
            Layer::Area(area) => {
                for [mut lower, upper] in area_edges(area, frame) {
                    lower.extend(upper.into_iter().rev());
                    canvas.fill(&lower, area.meaning.ground());
                }
            }
            _ => {}
        }
    }
}

fn contours(canvas: &mut Canvas, frame: &Frame, contours: &[Contour]) {
    let levels = extent(contours.iter().map(|one| one.level));
    for contour in contours {
        let share = match levels {
            Some((low, high)) if high > low => (contour.level - low) / (high - low),
            _ => 0.5,
        };
        let tint = island_tint(share);
        for ring in &contour.rings {
            let mut line = frame.line(ring);
            canvas.fill(&line, tint);
            line.extend(line.first().copied());
            canvas.stroke(&line, blend(tint, ISLAND, 0.45), 1.2, &[]);
        }
    }
}

/// Everything above the grid; labels are kept off it.
pub(crate) fn lines(canvas: &mut Canvas, placer: &mut Placer, frame: &Frame, layers: &[Layer]) {
    let mut order: Vec<&Layer> = layers.iter().collect();
    order.sort_by_key(|layer| match layer {
        Layer::Covered(_) | Layer::Contours(_) | Layer::Area(_) => 0,
        Layer::Event(_) | Layer::Limit(_) => 1,
        Layer::Line(line) if line.meaning.is_help() => 1,
        Layer::Line(_) => 2,
        Layer::Points(_) => 3,
    });
    for layer in order {
        match layer {
            Layer::Covered(_) => canvas.outline(frame.rect),
            Layer::Contours(_) => {}
            Layer::Area(area) => edges(canvas, placer, frame, area),
            Layer::Event(event) => {
                let line = frame.upright(frame.x.at(event.at));
                canvas.stroke(&line, INK, 1.6, &[6.0, 4.0]);
                placer.keep_off(&line);
            }
            Layer::Limit(limit) => {
                let line = frame.level(frame.y.at(limit.at));
                let look = Meaning::Limit.look();
                canvas.stroke(&line, look.colour, look.width, look.dash);
                placer.keep_off(&line);
            }
            Layer::Line(one) => line(canvas, placer, frame, one),
            Layer::Points(points) => markers(canvas, placer, frame, points),
        }
    }
}

/// The edges between stacked areas; a spread has none.
fn edges(canvas: &mut Canvas, placer: &mut Placer, frame: &Frame, area: &Area) {
    for [lower, upper] in area_edges(area, frame) {
        if area.meaning == Meaning::Spread {
            placer.avoid(&lower);
            placer.avoid(&upper);
        } else {
            let ink = blend(area.meaning.ground(), INK, 0.6);
            canvas.stroke(&upper, ink, 1.2, &[]);
            placer.keep_off(&upper);
        }
    }
}

fn line(canvas: &mut Canvas, placer: &mut Placer, frame: &Frame, line: &Line) {
    let look = line.meaning.look();
    for ends in &line.connectors {
        let ends = ends.map(|end| frame.at(end));
        canvas.stroke(&ends, look.colour, 1.8, JUMP_DASH);
        placer.keep_off(&ends);
    }
    for piece in &line.pieces {
        let piece = thin(&frame.line(piece), 0.4);
        canvas.stroke(&piece, look.colour, look.width, look.dash);
        if line.meaning.is_help() {
            placer.avoid(&piece);
        } else {
            placer.keep_off(&piece);
        }
        if line.has_markers {
            for at in spaced(&piece, MARKER_GAP) {
                marker(canvas, placer, at, (look.marker, look.colour, 4.6));
            }
        }
    }
}

fn markers(canvas: &mut Canvas, placer: &mut Placer, frame: &Frame, points: &Points) {
    let look = points.meaning.look();
    for point in marked(points, frame) {
        let (shape, size) = match point.kind {
            PointKind::Plain => (look.marker, 5.0),
            PointKind::StandsOut => (Marker::Diamond, 7.5),
            PointKind::Outside => (Marker::Cross, 5.0),
        };
        marker(
            canvas,
            placer,
            frame.at(point.at),
            (shape, look.colour, size),
        );
    }
}

/// A marker, with a place around it that labels leave free.
fn marker(
    canvas: &mut Canvas,
    placer: &mut Placer,
    at: geometry::Point,
    (shape, colour, size): (Marker, Colour, f64),
) {
    canvas.marker(at, shape, colour, size);
    placer.keep_off(&[[at[0] - size, at[1] - size], [at[0] + size, at[1] + size]]);
    placer.keep_off(&[[at[0] + size, at[1] - size], [at[0] - size, at[1] + size]]);
}

/// The points that get a marker: the gap apart, closer outside the data, and always those that stand
/// out, where the line leaves or enters the data, and the last.
pub(crate) fn marked<'p>(points: &'p Points, frame: &Frame) -> Vec<&'p Point> {
    let mut kept: Vec<&Point> = Vec::new();
    for (place, point) in points.points.iter().enumerate() {
        let gap = match point.kind {
            PointKind::Plain => points.gap,
            PointKind::StandsOut => 0.0,
            PointKind::Outside => OUTSIDE_GAP,
        };
        let is_wanted = kept.last().is_none_or(|last| {
            distance(frame.at(last.at), frame.at(point.at)) >= gap || last.kind != point.kind
        });
        if is_wanted || place + 1 == points.points.len() {
            kept.push(point);
        }
    }
    kept
}

/// The lower and upper line of each piece on the sheet; one lone row becomes a bar.
fn area_edges(area: &Area, frame: &Frame) -> Vec<[Vec<geometry::Point>; 2]> {
    let edge = |line: &Vec<[f64; 2]>| match frame.line(line)[..] {
        [[x, y]] => vec![[x - 9.0, y], [x + 9.0, y]],
        ref points => points.to_vec(),
    };
    let pieces = area.pieces.iter();
    pieces
        .map(|[lower, upper]| [edge(lower), edge(upper)])
        .collect()
}

/// The line's points that are at least `gap` apart.
pub(crate) fn spaced(points: &[geometry::Point], gap: f64) -> Vec<geometry::Point> {
    let mut kept: Vec<geometry::Point> = Vec::new();
    for &point in points {
        if kept.iter().all(|&other| distance(other, point) >= gap) {
            kept.push(point);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::geometry::Rect;
    use crate::plot::scale::Scale;

    #[test]
    fn where_a_line_leaves_the_data_a_marker_stands_however_near() {
        let rect = Rect {
            left: 0.0,
            top: 0.0,
            right: 100.0,
            bottom: 100.0,
        };
        let scale = || Scale::between(0.0, 100.0).laid(0.0, 100.0);
        let (x, y) = (scale(), scale());
        let frame = Frame { rect, x, y };
        let point = |x: f64, kind| Point {
            at: [x, 0.0],
            words: String::new(),
            kind,
        };
        let inside = |x| point(x, PointKind::Plain);
        let outside = |x| point(x, PointKind::Outside);
        let points = Points {
            meaning: Meaning::Together,
            gap: 26.0,
            name_gap: 0.0,
            points: vec![
                inside(0.0),
                inside(2.0),
                outside(4.0),
                outside(6.0),
                inside(8.0),
                inside(9.0),
            ],
        };
        let marked: Vec<f64> = marked(&points, &frame)
            .iter()
            .map(|one| one.at[0])
            .collect();
        assert_eq!(marked, [0.0, 4.0, 8.0, 9.0]);
    }
}
