//! Pressure and temperature at every station, for a few engine speeds.
//!
//! Stations run down the sheet in flow order, so that their names stand level and are written once
//! for both columns. Temperature has one scale for the air and one for the exhaust: on one, the
//! exhaust would press the air's temperatures, which have the tighter limits, into a corner.

use std::ops::Range;

use super::canvas::{Side, Type};
use super::chart::draw_layers;
use super::drawing::Drawing;
use super::error::PlotError;
use super::frame::{Frame, NUMBERS_BELOW, spread};
use super::geometry::Rect;
use super::layer::{Layer, Line, Naming};
use super::legend::{Entry, Sample};
use super::scale::{Axis, Scale, Span, extent};
use super::sheet::Sheet;
use super::style::{EDGE, GRID, INK, LEADING, MUTED, Meaning, RULE, SHEET_WIDTH, SMALL};
use super::text::{text_width, wrap};

/// One engine speed's states along the stations.
#[derive(Debug, Clone)]
pub struct Run {
    /// The speed in words: `1,200 rpm`.
    pub name: String,
    /// Total pressure at each station, Pa; none where it is unknown.
    pub pressures: Vec<Option<f64>>,
    /// Total temperature at each station, K; none where it is unknown.
    pub temperatures: Vec<Option<f64>>,
}

/// A level that one station must not pass.
#[derive(Debug, Clone)]
pub struct StationLimit {
    /// Place of the station.
    pub station: usize,
    /// Where, SI of the axis.
    pub at: f64,
    /// What, in few words with the number.
    pub words: String,
}

/// Pressure and temperature along the stations.
#[derive(Debug, Clone)]
pub struct Stations<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// What to mind; may be empty.
    pub note: &'a str,
    /// Pressure; the words say absolute or gauge.
    pub pressure: Axis<'a>,
    /// Temperature.
    pub temperature: Axis<'a>,
    /// The stations' names in flow order, 20 at most.
    pub stations: Vec<String>,
    /// Place of the first station behind the engine, where there is one: the lines stop before it.
    pub exhaust_from: Option<usize>,
    /// The engine speeds, rising, three at most.
    pub runs: Vec<Run>,
    /// Limits of pressure, at most one a station.
    pub pressure_limits: Vec<StationLimit>,
    /// Limits of temperature, at most one a station.
    pub temperature_limits: Vec<StationLimit>,
}

const MOST_STATIONS: usize = 20;
const MOST_RUNS: usize = 3;
const ROW: f64 = 56.0;
/// Room between manifold and turbine, where the engine stands, in rows.
const ENGINE: f64 = 0.8;
/// How far a limit's line reaches above and below its station, in rows.
const LIMIT_REACH: f64 = 0.4;
/// Between the columns.
const BETWEEN: f64 = 34.0;

/// One quantity: its axis, its value at each station of a run, its limits.
type Quantity<'a> = (Axis<'a>, fn(&Run) -> &[Option<f64>], &'a [StationLimit]);

/// Rows as they are.
const ROWS: Axis<'static> = Axis {
    words: "",
    shown: &std::convert::identity,
};

impl Stations<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        self.check()?;
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let runs = self.runs.iter().zip(self.meanings());
        let entries = runs.map(|(run, meaning)| Entry {
            sample: Sample::Line(meaning),
            words: run.name.clone(),
        });
        sheet.legend(&entries.collect::<Vec<_>>());
        sheet.cursor += 8.0;
        let names = self
            .stations
            .iter()
            .map(|name| wrap(name, SMALL, false, 140.0, 2));
        let names: Vec<Vec<String>> = names.collect();
        let lines = names.iter().flatten();
        let widest = lines
            .map(|line| text_width(line, SMALL, false))
            .fold(40.0, f64::max);
        let left = EDGE + widest + 14.0;
        let width = (SHEET_WIDTH - EDGE - left - BETWEEN) / 2.0;
        let columns = [left, left + width + BETWEEN].map(|left| (left, left + width));
        let words = [self.pressure.words, self.temperature.words];
        let height = headings(&mut sheet, words, columns);
        let top = sheet.cursor + 8.0 + height;
        self.names(&mut sheet, &names, top);
        let mut left_out = Vec::new();
        for (quantity, column, part) in self.parts() {
            left_out.extend(self.part(&mut sheet, (columns[column], top), quantity, part)?);
        }
        sheet.finish(&left_out, self.note)
    }

    /// What stands on one scale: pressures at all stations, temperatures of the air and of the
    /// exhaust; each with its column.
    fn parts(&self) -> Vec<(Quantity<'_>, usize, Range<usize>)> {
        let pressure: Quantity = (self.pressure, |run| &run.pressures, &self.pressure_limits);
        let limits = &self.temperature_limits;
        let temperature: Quantity = (self.temperature, |run| &run.temperatures, limits);
        let end = self.stations.len();
        let mut parts = vec![(pressure, 0, 0..end)];
        match self.exhaust_from {
            Some(from) if (1..end).contains(&from) => {
                parts.extend([0..from, from..end].map(|part| (temperature, 1, part)));
            }
            _ => parts.push((temperature, 1, 0..end)),
        }
        parts
    }

    fn check(&self) -> Result<(), PlotError> {
        for (what, count, most) in [
            ("engine speeds", self.runs.len(), MOST_RUNS),
            ("stations", self.stations.len(), MOST_STATIONS),
        ] {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        let expected = self.stations.len();
        let limits = self.pressure_limits.iter().chain(&self.temperature_limits);
        let limits = limits.filter(|limit| limit.station >= expected);
        let limits = limits.map(|limit| (&limit.words, limit.station + 1));
        let runs = self.runs.iter();
        let runs = runs.flat_map(|run| {
            [&run.pressures, &run.temperatures].map(|list| (&run.name, list.len()))
        });
        match limits
            .chain(runs.filter(|(_, found)| *found != expected))
            .next()
        {
            Some((what, found)) => Err(PlotError::Uneven {
                what: what.clone(),
                found,
                expected,
            }),
            None => Ok(()),
        }
    }

    /// The looks of the speeds: the faster the darker.
    fn meanings(&self) -> Vec<Meaning> {
        match self.runs.len() {
            0 | 1 => vec![Meaning::FastSpeed],
            2 => vec![Meaning::SlowSpeed, Meaning::FastSpeed],
            _ => vec![Meaning::SlowSpeed, Meaning::MiddleSpeed, Meaning::FastSpeed],
        }
    }

    /// Where a station stands, in rows below the first: the engine leaves room.
    fn row(&self, station: usize) -> f64 {
        let is_behind = self
            .exhaust_from
            .is_some_and(|from| from > 0 && station >= from);
        station as f64 + if is_behind { ENGINE } else { 0.0 }
    }

    fn names(&self, sheet: &mut Sheet, names: &[Vec<String>], top: f64) {
        // Close, so that the lines of one name hold together.
        let step = 1.1 * SMALL;
        for (station, lines) in names.iter().enumerate() {
            let middle = top + ROW * (self.row(station) + 0.5);
            sheet
                .canvas
                .column(lines, [EDGE, middle], Type::plain(SMALL, INK), step);
        }
        if let Some(from) = self
            .exhaust_from
            .filter(|&from| (1..names.len()).contains(&from))
        {
            let middle = top + ROW * (from as f64 + ENGINE / 2.0);
            let face = Type::bold(SMALL, MUTED);
            sheet
                .canvas
                .words("engine", [EDGE, middle], Side::Start, face);
            let line = [[EDGE + 80.0, middle], [SHEET_WIDTH - EDGE, middle]];
            sheet.canvas.stroke(&line, RULE, 1.6, &[2.0, 4.0]);
        }
    }

    /// Some stations of a column on one scale; returns the limits' words that have no room.
    fn part(
        &self,
        sheet: &mut Sheet,
        ((left, right), top): ((f64, f64), f64),
        quantity: Quantity,
        stations: Range<usize>,
    ) -> Result<Vec<String>, PlotError> {
        let axis = quantity.0;
        let layers = self.layers(quantity, &stations).into_iter();
        let layers = layers.map(|layer| layer.shown(&axis, &ROWS));
        let mut layers = layers.collect::<Result<Vec<Layer>, _>>()?;
        let spans = layers.iter_mut().filter_map(|layer| layer.extent(0));
        let data: Span = extent(spans.flat_map(|(low, high)| [low, high]));
        let first = self.row(stations.start) - 0.5;
        let last = stations
            .end
            .checked_sub(1)
            .map_or(0.5, |last| self.row(last) + 0.5);
        let rect = Rect {
            left,
            top: top + ROW * (first + 0.5),
            right,
            bottom: top + ROW * (last + 0.5),
        };
        let frame = Frame {
            rect,
            // The numbers at both ends stay inside the column.
            x: spread(data, true, left + 4.0, right - 12.0),
            y: Scale::between(first, last).laid(rect.top, rect.bottom),
        };
        let canvas = &mut sheet.canvas;
        frame.level_grid(canvas);
        for station in stations {
            canvas.stroke(&frame.level(frame.y.at(self.row(station))), GRID, 1.2, &[]);
        }
        frame.level_numbers(canvas);
        // Between the columns and at the sheet's edge there is room for the end of a label.
        let bounds = Rect {
            left: left - 14.0,
            right: right + 14.0,
            ..rect
        };
        let left_out = draw_layers(canvas, &frame, (&layers, data.is_none()), bounds);
        frame.remember(canvas, (axis.words, data), ("", None));
        sheet.cursor = rect.bottom + NUMBERS_BELOW;
        Ok(left_out)
    }

    /// The runs' lines and the limits' marks at some stations.
    fn layers(&self, (_, pick, limits): Quantity, stations: &Range<usize>) -> Vec<Layer> {
        let runs = self.runs.iter().zip(self.meanings());
        let runs = runs.map(|(run, meaning)| Line {
            has_markers: true,
            pieces: self.pieces(pick(run), stations),
            ..Line::plain(&run.name, meaning, Naming::Elsewhere, Vec::new())
        });
        let limits = limits
            .iter()
            .filter(|limit| stations.contains(&limit.station));
        let limits = limits.map(|limit| {
            let row = self.row(limit.station);
            let ends = [-LIMIT_REACH, LIMIT_REACH].map(|reach| [limit.at, row + reach]);
            Line::plain(&limit.words, Meaning::Limit, Naming::Beside, ends.into())
        });
        runs.chain(limits).map(Layer::Line).collect()
    }

    /// A run's unbroken pieces: cut where a value is missing and at the engine.
    fn pieces(&self, values: &[Option<f64>], stations: &Range<usize>) -> Vec<Vec<[f64; 2]>> {
        let mut pieces: Vec<Vec<[f64; 2]>> = vec![Vec::new()];
        for station in stations.clone() {
            if self.exhaust_from == Some(station) || values[station].is_none() {
                pieces.push(Vec::new());
            }
            if let (Some(value), Some(piece)) = (values[station], pieces.last_mut()) {
                piece.push([value, self.row(station)]);
            }
        }
        pieces.retain(|piece| !piece.is_empty());
        pieces
    }
}

/// The columns' names, all ending on one line; returns their height.
fn headings(sheet: &mut Sheet, words: [&str; 2], columns: [(f64, f64); 2]) -> f64 {
    let step = LEADING * SMALL;
    let wrapped =
        [0, 1].map(|at: usize| wrap(words[at], SMALL, false, columns[at].1 - columns[at].0, 3));
    let height = step * wrapped.iter().map(Vec::len).max().unwrap_or(0) as f64;
    for (lines, (left, _)) in wrapped.iter().zip(columns) {
        let middle = sheet.cursor + height - 0.5 * step * lines.len() as f64;
        let face = Type::plain(SMALL, MUTED);
        sheet.canvas.column(lines, [left, middle], face, step);
    }
    height
}
