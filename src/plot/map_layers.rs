//! The layers of a compressor map, from the ground up, and where their words go.

use super::axis::extent;
use super::canvas::Canvas;
use super::compressor_map::OperatingPoint;
use super::frame::{Panel, hatch, nothing, outline};
use super::geometry::{Point, distance, thin};
use super::jumps::{self, Connectors, Jump};
use super::map_words;
use super::placing::Placer;
use super::style::{
    BEYOND, Colour, INK, Marker, PAPER, SERIES, SHEET_WIDTH, SMALL, SeriesStyle, blend,
};
use super::text::text_width;

/// Looks of the operating lines in the order in which they are given out: each with its own colour,
/// marker and dash. No cross, which means a point beyond the data.
pub(crate) const LINE_STYLES: [SeriesStyle; 4] = [
    SeriesStyle {
        dash: &[],
        width: 3.2,
        ..SERIES[1]
    },
    SeriesStyle {
        dash: &[11.0, 4.0],
        width: 2.8,
        ..SERIES[0]
    },
    SeriesStyle {
        dash: &[3.0, 3.5],
        width: 3.2,
        ..SERIES[3]
    },
    SeriesStyle {
        dash: &[16.0, 4.0, 3.5, 4.0],
        width: 2.8,
        marker: Marker::Square,
        ..SERIES[5]
    },
];

const SPEED: Colour = (104, 116, 130);
/// Colour of the islands' words.
pub(crate) const ISLAND: Colour = (34, 92, 58);

/// A speed line in the key.
pub(crate) const SPEED_KEY: SeriesStyle = SeriesStyle {
    colour: SPEED,
    dash: &[],
    marker: Marker::None,
    width: 1.8,
};

/// A map in shown units.
pub(crate) struct Shown {
    pub speeds: Vec<(String, Vec<[f64; 2]>)>,
    pub surge: Vec<[f64; 2]>,
    pub choke: Vec<[f64; 2]>,
    pub hull: Vec<[f64; 2]>,
    pub islands: Vec<ShownIsland>,
    pub lines: Vec<ShownLine>,
}

/// An efficiency island in shown units, with its ground.
pub(crate) struct ShownIsland {
    pub label: String,
    pub rings: Vec<Vec<[f64; 2]>>,
    pub tint: Colour,
}

/// An operating line in shown units.
pub(crate) struct ShownLine {
    pub points: Vec<OperatingPoint>,
    pub jumps: Vec<Jump>,
    pub gaps: Vec<f64>,
}

impl Shown {
    /// Width of the widest of the speed lines' numbers.
    pub(crate) fn widest_speed_label(&self) -> f64 {
        let widths = self
            .speeds
            .iter()
            .map(|(label, _)| text_width(label, SMALL, false));
        widths.fold(0.0, f64::max).min(SHEET_WIDTH / 4.0)
    }

    /// Range of everything drawn along one axis (0 is flow, 1 is pressure ratio).
    pub(crate) fn extent(&self, axis: usize) -> Option<(f64, f64)> {
        let speeds = self.speeds.iter().flat_map(|line| &line.1);
        let rings = self
            .islands
            .iter()
            .flat_map(|island| island.rings.iter().flatten());
        let edges = self.surge.iter().chain(&self.choke).chain(&self.hull);
        let map = speeds.chain(rings).chain(edges).map(|point| point[axis]);
        let matches = self.lines.iter().flat_map(|line| &line.points);
        let matches = matches.map(|point| if axis == 0 { point.flow } else { point.ratio });
        extent(map.chain(matches))
    }
}

/// Hatching, the region that the data cover, and its islands.
pub(crate) fn ground(canvas: &mut Canvas, panel: &Panel, shown: &Shown) {
    if shown.hull.len() > 2 {
        hatch(canvas, panel.rect, BEYOND);
        canvas.fill(&panel.line(&shown.hull), PAPER);
    }
    for island in &shown.islands {
        for ring in &island.rings {
            let mut line = panel.line(ring);
            canvas.fill(&line, island.tint);
            line.extend(line.first().copied());
            canvas.stroke(&line, blend(island.tint, ISLAND, 0.45), 1.2, &[]);
        }
    }
}

/// Speed lines, edges, operating lines, then all words, the most wanted first.
pub(crate) fn lines_and_words(canvas: &mut Canvas, panel: &Panel, shown: &Shown) {
    let mut placer = Placer::new(panel.rect.grown(-3.0));
    for (_, points) in &shown.speeds {
        let line = thin(&panel.line(points), 0.4);
        canvas.stroke(&line, SPEED, 1.8, &[]);
        placer.avoid(&line, 1.0);
    }
    let choke = panel.line(&shown.choke);
    canvas.stroke(&choke, SPEED, 1.8, &[5.0, 4.0]);
    placer.avoid(&choke, 1.0);
    let surge = panel.line(&shown.surge);
    canvas.stroke(&surge, INK, 5.0, &[]);
    placer.avoid(&surge, 3.0);
    outline(canvas, panel.rect);
    let lines: Vec<Vec<Drawn>> = shown.lines.iter().map(|line| drawn(line, panel)).collect();
    let mut joints: Vec<(Connectors, Colour)> = Vec::new();
    // The first line lies uppermost.
    for (place, (points, style)) in lines.iter().zip(&LINE_STYLES).enumerate().rev() {
        let jumps = &shown.lines[place].jumps;
        let ends = connectors(points, jumps);
        jumps::connect(canvas, &mut placer, &ends, style.colour);
        operating_line(
            canvas,
            &mut placer,
            points,
            style,
            marker_gap(place),
            |a, b| {
                let gap = |gap: &f64| a.rpm < *gap && *gap < b.rpm;
                jumps::between(jumps, a.rpm, b.rpm) || shown.lines[place].gaps.iter().any(gap)
            },
        );
        joints.push((ends, style.colour));
    }
    jumps::words(canvas, &mut placer, &joints);
    map_words::write(canvas, &mut placer, panel, shown, &lines, [&surge, &choke]);
    if shown.extent(0).is_none() {
        nothing(canvas, panel.rect, "no point to draw");
    }
}

/// A match on the sheet.
pub(crate) struct Drawn {
    pub at: Point,
    pub rpm: f64,
    pub inside: bool,
}

fn drawn(line: &ShownLine, panel: &Panel) -> Vec<Drawn> {
    let point = |one: &OperatingPoint| Drawn {
        at: panel.at([one.flow, one.ratio]),
        rpm: one.rpm,
        inside: one.inside,
    };
    line.points.iter().map(point).collect()
}

/// Points nearer than this to the last marked one get no marker.
const MARK_GAP: f64 = 13.0;

/// The points of a line that get a marker: `gap` apart, closer beyond the data, and always where the
/// line leaves or enters them, and the last.
pub(crate) fn marked(points: &[Drawn], gap: f64) -> Vec<&Drawn> {
    let mut kept: Vec<&Drawn> = Vec::new();
    for (place, point) in points.iter().enumerate() {
        let gap = if point.inside { gap } else { MARK_GAP };
        let wanted = kept
            .last()
            .is_none_or(|last| distance(last.at, point.at) >= gap || last.inside != point.inside);
        if wanted || place + 1 == points.len() {
            kept.push(point);
        }
    }
    kept
}

/// How far apart the markers of a line stand: the first line is the one that is read off.
pub(crate) fn marker_gap(place: usize) -> f64 {
    if place == 0 { MARK_GAP } else { 2.0 * MARK_GAP }
}

/// Where a line jumps, from the last match before to the first after.
fn connectors(points: &[Drawn], jumps: &[Jump]) -> Connectors {
    let neighbours = points.windows(2);
    neighbours
        .filter(|pair| jumps::between(jumps, pair[0].rpm, pair[1].rpm))
        .map(|pair| [pair[0].at, pair[1].at])
        .collect()
}

fn operating_line(
    canvas: &mut Canvas,
    placer: &mut Placer,
    points: &[Drawn],
    style: &SeriesStyle,
    gap: f64,
    is_broken: impl Fn(&Drawn, &Drawn) -> bool,
) {
    for run in points.chunk_by(|a, b| !is_broken(a, b)) {
        let line = thin(&run.iter().map(|point| point.at).collect::<Vec<_>>(), 0.4);
        canvas.stroke(&line, style.colour, style.width, style.dash);
        placer.avoid(&line, 3.0);
    }
    for point in marked(points, gap) {
        let marker = if point.inside {
            style.marker
        } else {
            Marker::Cross
        };
        canvas.marker(point.at, marker, style.colour, 5.0);
        placer.avoid_marker(point.at, 7.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_differ_in_colour_dash_and_marker_and_none_has_the_cross() {
        for (place, one) in LINE_STYLES.iter().enumerate() {
            assert_ne!(one.marker, Marker::Cross);
            for other in &LINE_STYLES[place + 1..] {
                assert_ne!(one.colour, other.colour);
                assert_ne!(one.dash, other.dash);
                assert_ne!(one.marker, other.marker);
            }
        }
    }

    #[test]
    fn where_a_line_leaves_the_data_a_marker_stands_however_near() {
        let at = |x: f64, inside| Drawn {
            at: [x, 0.0],
            rpm: x,
            inside,
        };
        let points = [
            at(0.0, true),
            at(2.0, true),
            at(4.0, false),
            at(6.0, false),
            at(8.0, true),
            at(9.0, true),
        ];
        let marked: Vec<f64> = marked(&points, 26.0).iter().map(|one| one.rpm).collect();
        assert_eq!(marked, [0.0, 4.0, 8.0, 9.0]);
    }
}
