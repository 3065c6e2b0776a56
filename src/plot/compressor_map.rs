//! The compressor map with the operating line on it.
//!
//! The region that the data cover is white with its efficiency islands; everything else is hatched,
//! so that a point outside is seen at once. Points beyond the data have another shape.

use super::axis::{Axis, Ends, extent, show_points};
use super::drawing::Drawing;
use super::error::PlotError;
use super::frame::{AxisSpec, PanelSpec, Sheet};
use super::jumps::Jump;
use super::key::{KeyEntry, Sample};
use super::map_layers::{self, LINE_STYLES, Shown, ShownLine};
use super::style::{INK, Marker, SHEET_WIDTH};

/// One speed line.
#[derive(Debug, Clone)]
pub struct SpeedLine {
    /// The corrected speed in few words.
    pub label: String,
    /// Points from surge to choke: corrected flow in SI, pressure ratio.
    pub points: Vec<[f64; 2]>,
}

/// The region above one efficiency.
#[derive(Debug, Clone)]
pub struct Island {
    /// The efficiency, 0 to 1.
    pub level: f64,
    /// The efficiency in words: `76 %`.
    pub label: String,
    /// Closed outlines: corrected flow in SI, pressure ratio.
    pub rings: Vec<Vec<[f64; 2]>>,
}

/// One match on the map.
#[derive(Debug, Clone, Copy)]
pub struct OperatingPoint {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Corrected flow in SI.
    pub flow: f64,
    /// Pressure ratio.
    pub ratio: f64,
    /// Whether the map's data cover it.
    pub inside: bool,
}

/// The matches of one build over its speed range.
#[derive(Debug, Clone, Default)]
pub struct OperatingLine {
    /// Its name in the key. A line without name and points holds the place of one that is not drawn,
    /// so that the others keep the looks that they have elsewhere.
    pub name: String,
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
    /// Efficiency islands, in any order; 30 at most.
    pub islands: Vec<Island>,
    /// Closed outline of the region that the data cover.
    pub hull: Vec<[f64; 2]>,
    /// Operating lines, four at most.
    pub operating_lines: Vec<OperatingLine>,
}

const MOST_SPEED_LINES: usize = 60;
const MOST_ISLANDS: usize = 30;

impl CompressorMap<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        let shown = self.shown()?;
        let mut sheet = Sheet::new(self.title, self.subtitle);
        // The speed lines' numbers stand right of and below the choke edge.
        let right = shown.widest_speed_label() + 10.0;
        // A share of the axis, which is this much narrower than the sheet.
        let right = (right / (SHEET_WIDTH - 90.0 - right)).max(0.06);
        let flows = shown.extent(0).map(|range| with_room(range, 0.03, right));
        let ratios = shown.extent(1).map(|range| with_room(range, 0.05, 0.05));
        let spec = PanelSpec {
            x: AxisSpec {
                words: self.flow.words,
                data: flows,
                ends: Ends::Close,
            },
            y: AxisSpec {
                words: self.ratio.words,
                data: ratios,
                ends: Ends::Close,
            },
            height: 470.0,
            right_room: 6.0,
            both_grids: true,
            marks: &[],
            least_left: 0.0,
            level_numbers: true,
        };
        let panel = sheet.lay(&spec);
        map_layers::ground(&mut sheet.canvas, &panel, &shown);
        sheet.axes(&panel, &spec);
        map_layers::lines_and_words(&mut sheet.canvas, &panel, &shown);
        sheet.key(&self.key(&shown));
        sheet.note(self.note);
        sheet.finish()
    }

    fn key(&self, shown: &Shown) -> Vec<KeyEntry<'_>> {
        let mut entries: Vec<KeyEntry> = self
            .operating_lines
            .iter()
            .zip(LINE_STYLES)
            .filter(|(line, _)| !line.name.is_empty())
            .map(|(line, style)| KeyEntry {
                words: &line.name,
                sample: Sample::Series(style),
            })
            .collect();
        let beyond = shown
            .lines
            .iter()
            .flat_map(|line| &line.points)
            .any(|point| !point.inside);
        if beyond {
            let sample = Sample::Marker(Marker::Cross, INK);
            entries.push(KeyEntry {
                words: "point beyond the data",
                sample,
            });
        }
        if !self.speed_lines.is_empty() {
            let sample = Sample::Series(map_layers::SPEED_KEY);
            entries.push(KeyEntry {
                words: self.speed_words,
                sample,
            });
        }
        if let Some(tint) = shown.islands.last().map(|island| island.tint) {
            entries.push(KeyEntry {
                words: "efficiency",
                sample: Sample::Ground(tint),
            });
        }
        entries
    }

    fn shown(&self) -> Result<Shown, PlotError> {
        for (what, count, most) in [
            (
                "operating lines",
                self.operating_lines.len(),
                LINE_STYLES.len(),
            ),
            ("speed lines", self.speed_lines.len(), MOST_SPEED_LINES),
            ("islands", self.islands.len(), MOST_ISLANDS),
        ] {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        let points =
            |points: &[[f64; 2]], what: &str| show_points(points, &self.flow, &self.ratio, what);
        let speeds = self.speed_lines.iter();
        let lines = self
            .operating_lines
            .iter()
            .map(|line| self.shown_line(line));
        Ok(Shown {
            speeds: speeds
                .map(|line| Ok((line.label.clone(), points(&line.points, &line.label)?)))
                .collect::<Result<_, _>>()?,
            surge: points(&self.surge, "surge edge")?,
            choke: points(&self.choke, "choke edge")?,
            hull: points(&self.hull, "edge of the data")?,
            islands: self.shown_islands()?,
            lines: lines.collect::<Result<_, _>>()?,
        })
    }

    fn shown_line(&self, line: &OperatingLine) -> Result<ShownLine, PlotError> {
        let mut points = Vec::with_capacity(line.points.len());
        for (place, point) in line.points.iter().enumerate() {
            if !point.rpm.is_finite() {
                return Err(PlotError::NotFinite {
                    what: line.name.clone(),
                    place: place + 1,
                });
            }
            let flow = self.flow.show(point.flow, &line.name, place)?;
            let ratio = self.ratio.show(point.ratio, &line.name, place)?;
            points.push(OperatingPoint {
                flow,
                ratio,
                ..*point
            });
        }
        Ok(ShownLine {
            points,
            jumps: line.jumps.clone(),
            gaps: line.gaps.clone(),
        })
    }

    /// The islands from the lowest level, which lies undermost, to the highest.
    fn shown_islands(&self) -> Result<Vec<map_layers::ShownIsland>, PlotError> {
        let mut order: Vec<&Island> = self.islands.iter().collect();
        order.sort_by(|a, b| a.level.total_cmp(&b.level));
        let levels = extent(order.iter().map(|island| island.level));
        let one = |island: &Island| {
            let what = island.label.as_str();
            let rings = island.rings.iter();
            let rings = rings.map(|ring| show_points(ring, &self.flow, &self.ratio, what));
            let share = match levels {
                Some((low, high)) if high > low => (island.level - low) / (high - low),
                _ => 0.5,
            };
            if !island.level.is_finite() {
                return Err(PlotError::NotFinite {
                    what: what.to_owned(),
                    place: 1,
                });
            }
            let tint = super::style::island_tint(share);
            Ok(map_layers::ShownIsland {
                label: island.label.clone(),
                rings: rings.collect::<Result<_, _>>()?,
                tint,
            })
        };
        order.into_iter().map(one).collect()
    }
}

/// A range with room at both ends, as shares of its width.
fn with_room((low, high): (f64, f64), below: f64, above: f64) -> (f64, f64) {
    (low - below * (high - low), high + above * (high - low))
}
