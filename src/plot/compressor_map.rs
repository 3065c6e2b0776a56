//! The compressor map with the operating line on it.
//!
//! The region that the data cover is white with its efficiency islands; everything else is hatched,
//! so that a point outside is seen at once. Points beyond the data have another shape.

use super::chart::{Chart, Panel};
use super::drawing::Drawing;
use super::error::PlotError;
use super::jumps::{self, Jump};
use super::layer::{Contour, Layer, Line, Naming, Point, PointKind, Points};
use super::legend::{Entry, Sample};
use super::scale::{Axis, extent, number};
use super::style::{Meaning, SHEET_WIDTH, SMALL};
use super::text::text_width;

/// One speed line.
#[derive(Debug, Clone)]
pub struct SpeedLine {
    /// The corrected speed in few words.
    pub label: String,
    /// Points from surge to choke: corrected flow in SI, pressure ratio.
    pub points: Vec<[f64; 2]>,
}

/// One match on the map.
#[derive(Debug, Clone, Copy)]
pub struct OperatingPoint {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Corrected flow in SI, pressure ratio.
    pub at: [f64; 2],
    /// Whether the map's data cover it.
    pub inside: bool,
}

/// The matches of one build over its speed range.
#[derive(Debug, Clone)]
pub struct OperatingLine {
    /// Its name in the legend.
    pub name: String,
    /// Which build it is, the same look as in every other drawing.
    pub meaning: Meaning,
    /// Its points in order of engine speed.
    pub points: Vec<OperatingPoint>,
    /// Neighbouring engine speeds between which it jumps.
    pub jumps: Vec<Jump>,
    /// Engine speeds at which it has no point: it is interrupted there.
    pub gaps: Vec<f64>,
}

/// Everything on a compressor map. Any list may be empty.
#[derive(Debug, Clone)]
pub struct CompressorMap<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// Where the map comes from (`invented map`), or what to mind; may be empty.
    pub note: &'a str,
    /// Corrected flow; the words carry the reference state.
    pub flow: Axis<'a>,
    /// Pressure ratio.
    pub ratio: Axis<'a>,
    /// What the speed lines' numbers are: `corrected speed, rpm`.
    pub speed_words: &'a str,
    /// Speed lines, the lowest first; 60 at most.
    pub speed_lines: Vec<SpeedLine>,
    /// Surge edge, the lowest speed first.
    pub surge: Vec<[f64; 2]>,
    /// Choke edge, the lowest speed first.
    pub choke: Vec<[f64; 2]>,
    /// Efficiency islands from the lowest level, which lies undermost; 30 at most.
    pub islands: Vec<Contour>,
    /// Closed outline of the region that the data cover.
    pub hull: Vec<[f64; 2]>,
    /// Operating lines, four at most.
    pub operating_lines: Vec<OperatingLine>,
}

const HEIGHT: f64 = 470.0;
/// Least distance of the markers on the sheet: the first line is the one that is read off.
const MARKER_GAPS: [f64; 2] = [13.0, 26.0];
/// Least distance of the engine speeds on the sheet: of one line, of the first and others of several.
const SPEED_GAPS: [f64; 3] = [36.0, 48.0, 130.0];

impl CompressorMap<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        for (what, count, most) in [
            ("operating lines", self.operating_lines.len(), 4),
            ("speed lines", self.speed_lines.len(), 60),
            ("islands", self.islands.len(), 30),
        ] {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        let mut layers = self.layers()?;
        Chart {
            title: self.title,
            subtitle: self.subtitle,
            note: self.note,
            x: self.flow,
            panels: vec![Panel {
                covers: self.room(&mut layers),
                from_zero: false,
                height: HEIGHT,
                ..Panel::new(self.ratio, layers)
            }],
            legend: self.legend(),
        }
        .draw()
    }

    fn layers(&self) -> Result<Vec<Layer>, PlotError> {
        let one = |name: &str, meaning, naming, points: &Vec<[f64; 2]>| {
            Layer::Line(Line::plain(name, meaning, naming, points.clone()))
        };
        let speeds = self.speed_lines.iter();
        let speeds =
            speeds.map(|line| one(&line.label, Meaning::MapLine, Naming::Tip, &line.points));
        let mut layers = vec![
            Layer::Covered(self.hull.clone()),
            Layer::Contours(self.islands.clone()),
        ];
        layers.extend(speeds);
        layers.push(one("choke", Meaning::ChokeEdge, Naming::Right, &self.choke));
        layers.push(one("surge", Meaning::SurgeEdge, Naming::Left, &self.surge));
        for (place, line) in self.operating_lines.iter().enumerate() {
            layers.push(Layer::Line(line.path()));
            layers.push(Layer::Points(
                line.marks(place, self.operating_lines.len())?,
            ));
        }
        Ok(layers)
    }

    /// Room for the speed lines' numbers right of the choke edge, and some below.
    fn room(&self, layers: &mut [Layer]) -> Vec<[f64; 2]> {
        let mut range = |axis| {
            let spans = layers.iter_mut().filter_map(|layer| layer.extent(axis));
            extent(spans.flat_map(|(low, high)| [low, high]))
        };
        let (Some((left, right)), Some((low, high))) = (range(0), range(1)) else {
            return Vec::new();
        };
        let widths = self
            .speed_lines
            .iter()
            .map(|line| text_width(&line.label, SMALL, false));
        let widest = widths.fold(0.0, f64::max).min(SHEET_WIDTH / 4.0) + 10.0;
        // A share of the axis, which is this much narrower than the sheet.
        let share = widest / (SHEET_WIDTH - 90.0 - widest);
        vec![[right + share * (right - left), low - 0.05 * (high - low)]]
    }

    fn legend(&self) -> Vec<Entry> {
        let entry = |sample, words: &str| Entry {
            sample,
            words: words.to_owned(),
        };
        let lines = self.operating_lines.iter();
        let mut entries: Vec<Entry> = lines
            .map(|line| entry(Sample::Line(line.meaning), &line.name))
            .collect();
        let mut points = self.operating_lines.iter().flat_map(|line| &line.points);
        if points.any(|point| !point.inside) {
            entries.push(entry(Sample::Outside, "point beyond the data"));
        }
        if !self.speed_lines.is_empty() {
            entries.push(entry(Sample::Line(Meaning::MapLine), self.speed_words));
        }
        if !self.islands.is_empty() {
            entries.push(entry(Sample::Contours, "efficiency"));
        }
        entries
    }
}

impl OperatingLine {
    /// The line, broken where it jumps and where a speed has no point.
    fn path(&self) -> Line {
        let jumps =
            |a: &OperatingPoint, b: &OperatingPoint| jumps::between(&self.jumps, a.rpm, b.rpm);
        let lacks = |a: &OperatingPoint, b: &OperatingPoint| {
            self.gaps.iter().any(|&gap| a.rpm < gap && gap < b.rpm)
        };
        let runs = self.points.chunk_by(|a, b| !jumps(a, b) && !lacks(a, b));
        let pairs = self
            .points
            .windows(2)
            .filter(|pair| jumps(&pair[0], &pair[1]));
        Line {
            pieces: runs
                .map(|run| run.iter().map(|point| point.at).collect())
                .collect(),
            connectors: pairs.map(|pair| [pair[0].at, pair[1].at]).collect(),
            ..Line::plain(&self.name, self.meaning, Naming::Elsewhere, Vec::new())
        }
    }

    /// Its points, named by their engine speeds.
    fn marks(&self, place: usize, of: usize) -> Result<Points, PlotError> {
        if let Some(place) = self.points.iter().position(|point| !point.rpm.is_finite()) {
            let what = self.name.clone();
            return Err(PlotError::NotFinite {
                what,
                place: place + 1,
            });
        }
        let point = |point: &OperatingPoint| Point {
            at: point.at,
            words: number(point.rpm, 1.0),
            kind: if point.inside {
                PointKind::Plain
            } else {
                PointKind::Outside
            },
        };
        Ok(Points {
            meaning: self.meaning,
            gap: MARKER_GAPS[place.min(1)],
            name_gap: if of < 2 {
                SPEED_GAPS[0]
            } else {
                SPEED_GAPS[1 + place.min(1)]
            },
            points: self.points.iter().map(point).collect(),
        })
    }
}
