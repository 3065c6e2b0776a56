//! The layers of a compressor map, from the ground up, and where their words go.

use super::axis::extent;
use super::canvas::Canvas;
use super::compressor_map::OperatingPoint;
use super::frame::{Panel, hatch, nothing, outline};
use super::geometry::{Point, distance, thin};
use super::map_words;
use super::placing::Placer;
use super::style::{BEYOND, Colour, INK, Marker, PAPER, SERIES, SeriesStyle, blend};

/// Looks of the operating lines in the order in which they are given out.
pub(crate) const LINE_STYLES: [SeriesStyle; 4] = [
    unbroken(SERIES[1]),
    unbroken(SERIES[0]),
    unbroken(SERIES[3]),
    unbroken(SERIES[5]),
];

/// On the map dashes mean an edge; operating lines differ by marker and colour.
const fn unbroken(style: SeriesStyle) -> SeriesStyle {
    SeriesStyle {
        dash: &[],
        width: 3.2,
        ..style
    }
}

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
}

impl Shown {
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
    for (points, style) in lines.iter().zip(&LINE_STYLES) {
        operating_line(canvas, &mut placer, points, style);
    }
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

/// The points of a line that get a marker: apart from each other, and always the last.
pub(crate) fn marked<'a>(points: &'a [Drawn], gap: f64) -> Vec<&'a Drawn> {
    let places: Vec<Point> = points.iter().map(|point| point.at).collect();
    let mut kept: Vec<&'a Drawn> = Vec::new();
    let mut wanted = spaced_places(&places, gap)
        .into_iter()
        .collect::<std::collections::BTreeSet<_>>();
    wanted.extend(points.len().checked_sub(1));
    kept.extend(wanted.into_iter().map(|place| &points[place]));
    kept
}

/// Places in the list of the points that are at least `gap` from the one kept before.
fn spaced_places(points: &[Point], gap: f64) -> Vec<usize> {
    let mut kept: Vec<usize> = Vec::new();
    for (place, &point) in points.iter().enumerate() {
        let last = kept.last().map(|&last| points[last]);
        if last.is_none_or(|last| distance(last, point) >= gap) && kept.len() < 200 {
            kept.push(place);
        }
    }
    kept
}

fn operating_line(canvas: &mut Canvas, placer: &mut Placer, points: &[Drawn], style: &SeriesStyle) {
    let line = thin(
        &points.iter().map(|point| point.at).collect::<Vec<_>>(),
        0.4,
    );
    canvas.stroke(&line, style.colour, style.width, &[]);
    placer.avoid(&line, 3.0);
    for point in marked(points, 13.0) {
        let marker = if point.inside {
            style.marker
        } else {
            Marker::Cross
        };
        canvas.marker(point.at, marker, style.colour, 5.0);
        placer.avoid_marker(point.at, 7.0);
    }
}
