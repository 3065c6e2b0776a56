//! The air's journey: pressure and temperature at every station, for a few engine speeds.
//!
//! Stations run down the sheet in flow order, so that their names stand level and are written once
//! for both panels. Temperature has one scale for the air and one for the exhaust: on one, the
//! exhaust would press the air's temperatures, which have the tighter limits, into a corner.

use std::ops::Range;

use super::axis::{Axis, Ends, extent};
use super::canvas::{Canvas, Side, Type};
use super::curves::draw_series;
use super::drawing::Drawing;
use super::error::PlotError;
use super::frame::{AxisSpec, LEADING, Sheet, level_numbers, nothing, spread};
use super::geometry::{Point, Rect};
use super::key::{KeyEntry, Sample};
use super::placing::{Placer, Wish};
use super::style::{ALARM, EDGE, GRID, INK, MUTED, RULE, SERIES, SHEET_WIDTH, SMALL};
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
pub struct Journey<'a> {
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
    /// The engine speeds, six at most.
    pub runs: Vec<Run>,
    /// Limits of pressure, at most one a station.
    pub pressure_limits: Vec<StationLimit>,
    /// Limits of temperature, at most one a station.
    pub temperature_limits: Vec<StationLimit>,
}

const MOST_STATIONS: usize = 20;
const ROW: f64 = 56.0;
/// Room between manifold and turbine, where the engine stands.
const ENGINE_ROW: f64 = 44.0;
/// Distance of the lines of one name: close, so that they hold together.
const NAME_LEADING: f64 = 1.1 * SMALL;
const NAME_FACE: Type = Type::plain(SMALL, INK);

/// One quantity of all runs, in shown units: for each run a value or none at each station.
type Values = Vec<Vec<Option<f64>>>;

/// One quantity as its panel shows it.
struct Quantity<'a> {
    words: &'a str,
    values: Values,
    /// Station, level in shown units, words.
    limits: Vec<(usize, f64, &'a str)>,
    /// Whether air and exhaust have scales of their own.
    is_parted: bool,
}

impl Journey<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        self.check()?;
        let quantities = [self.pressures()?, self.temperatures()?];
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let entries: Vec<KeyEntry> = self
            .runs
            .iter()
            .zip(SERIES)
            .map(|(run, style)| KeyEntry {
                words: &run.name,
                sample: Sample::Series(style),
            })
            .collect();
        sheet.key(&entries);
        sheet.cursor += 8.0;

        let names: Vec<Vec<String>> = self
            .stations
            .iter()
            .map(|name| wrap(name, SMALL, false, 140.0, 2))
            .collect();
        let widest = names
            .iter()
            .flatten()
            .map(|line| text_width(line, SMALL, false));
        let left = EDGE + widest.fold(40.0, f64::max) + 14.0;
        let gap = 34.0;
        let width = (SHEET_WIDTH - EDGE - left - gap) / 2.0;
        let columns = [
            (left, left + width),
            (left + width + gap, SHEET_WIDTH - EDGE),
        ];
        let top = sheet.cursor
            + heading(&mut sheet, self.pressure.words, columns[0]).max(heading(
                &mut sheet,
                self.temperature.words,
                columns[1],
            ));
        let rows = self.rows(top + 8.0);
        self.names(&mut sheet.canvas, &names, &rows);
        let mut left_out = Vec::new();
        for (quantity, (left, right)) in quantities.iter().zip(columns) {
            let bottom = rows.last().copied().unwrap_or(top + 60.0) + ROW / 2.0;
            let rect = Rect {
                left,
                top: top + 8.0,
                right,
                bottom,
            };
            left_out.extend(self.panel(&mut sheet, rect, quantity, &rows));
        }
        for words in left_out {
            sheet.note(words);
        }
        sheet.note(self.note);
        sheet.finish()
    }

    fn check(&self) -> Result<(), PlotError> {
        for (what, count, most) in [
            ("engine speeds", self.runs.len(), SERIES.len()),
            ("stations", self.stations.len(), MOST_STATIONS),
        ] {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        let expected = self.stations.len();
        for limit in self.pressure_limits.iter().chain(&self.temperature_limits) {
            if limit.station >= expected {
                return Err(PlotError::Uneven {
                    what: limit.words.clone(),
                    found: limit.station + 1,
                    expected,
                });
            }
        }
        for run in &self.runs {
            for found in [run.pressures.len(), run.temperatures.len()] {
                if found != expected {
                    return Err(PlotError::Uneven {
                        what: run.name.clone(),
                        found,
                        expected,
                    });
                }
            }
        }
        Ok(())
    }

    fn pressures(&self) -> Result<Quantity<'_>, PlotError> {
        Ok(Quantity {
            words: self.pressure.words,
            values: self.shown(&self.pressure, |run| &run.pressures)?,
            limits: shown_limits(&self.pressure, &self.pressure_limits)?,
            is_parted: false,
        })
    }

    fn temperatures(&self) -> Result<Quantity<'_>, PlotError> {
        Ok(Quantity {
            words: self.temperature.words,
            values: self.shown(&self.temperature, |run| &run.temperatures)?,
            limits: shown_limits(&self.temperature, &self.temperature_limits)?,
            is_parted: true,
        })
    }

    fn shown(&self, axis: &Axis, pick: fn(&Run) -> &Vec<Option<f64>>) -> Result<Values, PlotError> {
        let one = |run: &Run| -> Result<Vec<Option<f64>>, PlotError> {
            let values = pick(run).iter().enumerate();
            values
                .map(|(place, value)| value.map(|v| axis.show(v, &run.name, place)).transpose())
                .collect()
        };
        self.runs.iter().map(one).collect()
    }

    /// Heights of the stations' rows.
    fn rows(&self, top: f64) -> Vec<f64> {
        let behind = |place: usize| {
            self.exhaust_from
                .is_some_and(|from| from > 0 && place >= from)
        };
        (0..self.stations.len())
            .map(|place| {
                let engine = if behind(place) { ENGINE_ROW } else { 0.0 };
                top + ROW * (place as f64 + 0.5) + engine
            })
            .collect()
    }

    /// Height of the engine's row, where there is one.
    fn engine_place(&self, rows: &[f64]) -> Option<f64> {
        let from = self.exhaust_from.filter(|&from| from > 0)?;
        rows.get(from).map(|y| y - f64::midpoint(ROW, ENGINE_ROW))
    }

    fn names(&self, canvas: &mut Canvas, names: &[Vec<String>], rows: &[f64]) {
        for (lines, &y) in names.iter().zip(rows) {
            let first = y - 0.5 * NAME_LEADING * (lines.len() as f64 - 1.0);
            for (row, words) in lines.iter().enumerate() {
                canvas.words(
                    words,
                    [EDGE, first + NAME_LEADING * row as f64],
                    Side::Start,
                    NAME_FACE,
                );
            }
        }
        if let Some(middle) = self.engine_place(rows) {
            canvas.words(
                "engine",
                [EDGE, middle],
                Side::Start,
                Type::bold(SMALL, MUTED),
            );
        }
    }

    /// One quantity's panel, in one part or in one for the air and one for the exhaust; returns the
    /// limits' words that have no room.
    fn panel<'q>(
        &self,
        sheet: &mut Sheet,
        rect: Rect,
        quantity: &'q Quantity,
        rows: &[f64],
    ) -> Vec<&'q str> {
        let from = self.exhaust_from.unwrap_or(0).min(rows.len());
        let all = 0..rows.len();
        if !quantity.is_parted || all.is_empty() || from == 0 || from == rows.len() {
            self.engine_gap(&mut sheet.canvas, rect, rows);
            return self.part(sheet, rect, quantity, rows, all);
        }
        let air = Rect {
            bottom: rows[from - 1] + ROW / 2.0,
            ..rect
        };
        let exhaust = Rect {
            top: rows[from] - ROW / 2.0,
            ..rect
        };
        let mut left_out = self.part(sheet, air, quantity, rows, 0..from);
        left_out.extend(self.part(sheet, exhaust, quantity, rows, from..rows.len()));
        left_out
    }

    /// Some stations of a panel, on one scale.
    fn part<'q>(
        &self,
        sheet: &mut Sheet,
        rect: Rect,
        quantity: &'q Quantity,
        rows: &[f64],
        stations: Range<usize>,
    ) -> Vec<&'q str> {
        let limits = quantity.limits.iter();
        let limits: Vec<_> = limits.filter(|limit| stations.contains(&limit.0)).collect();
        let values = quantity
            .values
            .iter()
            .flat_map(|run| &run[stations.clone()]);
        let data = extent(
            values
                .filter_map(|value| *value)
                .chain(limits.iter().map(|l| l.1)),
        );
        let spec = AxisSpec {
            words: quantity.words,
            data,
            ends: Ends::Zero,
        };
        let scale = spread(&spec, rect.left + 4.0, rect.right - 16.0);
        let canvas = &mut sheet.canvas;
        for x in scale.ticks().into_iter().map(|tick| scale.at(tick)) {
            canvas.stroke(&[[x, rect.top], [x, rect.bottom]], GRID, 1.2, &[]);
        }
        for &y in &rows[stations.clone()] {
            canvas.stroke(&[[rect.left, y], [rect.right, y]], GRID, 1.2, &[]);
        }
        sheet.cursor = level_numbers(canvas, &scale, rect);
        // Between the panels and at the sheet's edge there is room for the end of a label.
        let mut placer = Placer::new(Rect {
            right: rect.right + 12.0,
            ..rect
        });
        let mut left_out = Vec::new();
        for (station, at, _) in &limits {
            let (x, y) = (scale.at(*at), rows[*station]);
            placer.avoid(&limit_line(x, y), 1.0);
        }
        for (run, style) in quantity.values.iter().zip(&SERIES) {
            let own = run.iter().enumerate();
            let own: Vec<Option<f64>> = own
                .map(|(place, value)| value.filter(|_| stations.contains(&place)))
                .collect();
            let pieces = self.pieces(&own, |value, row| [scale.at(value), rows[row]]);
            draw_series(canvas, &mut placer, &pieces, style);
        }
        if data.is_none() {
            nothing(canvas, rect, "no point");
        }
        for (station, at, words) in limits {
            let (x, y) = (scale.at(*at), rows[*station]);
            canvas.stroke(&limit_line(x, y), ALARM, 2.6, &[2.0, 3.0]);
            let places = [-0.8, 0.8].map(|part| [x, y + part * LIMIT_REACH]);
            let face = Type::plain(SMALL, ALARM);
            let has_room = placer.label(canvas, words, face, &places, &LIMIT_WISH);
            if !has_room {
                left_out.push(*words);
            }
        }
        sheet.span(quantity.words, &scale, data);
        left_out
    }

    /// The rule across the rows where air goes in and exhaust comes out.
    fn engine_gap(&self, canvas: &mut Canvas, rect: Rect, rows: &[f64]) {
        if let Some(middle) = self.engine_place(rows) {
            canvas.stroke(
                &[[rect.left, middle], [rect.right, middle]],
                RULE,
                1.6,
                &[2.0, 4.0],
            );
        }
    }

    /// A run's unbroken pieces: cut where a value is missing and at the engine.
    fn pieces(&self, run: &[Option<f64>], at: impl Fn(f64, usize) -> Point) -> Vec<Vec<Point>> {
        let mut pieces: Vec<Vec<Point>> = vec![Vec::new()];
        for (row, value) in run.iter().enumerate() {
            if self.exhaust_from == Some(row) || value.is_none() {
                pieces.push(Vec::new());
            }
            if let (Some(value), Some(piece)) = (value, pieces.last_mut()) {
                piece.push(at(*value, row));
            }
        }
        pieces.retain(|piece| !piece.is_empty());
        pieces
    }
}

/// How far a limit's line reaches above and below its station.
const LIMIT_REACH: f64 = 0.4 * ROW;
/// Beside the limit's line, or beyond its end where neither side is free.
const LIMIT_WISH: Wish = Wish {
    directions: &[
        (1.0, 0.0),
        (-1.0, 0.0),
        (0.0, -1.0),
        (-0.5, -1.0),
        (-0.9, -1.0),
        (0.0, 1.0),
        (-0.5, 1.0),
        (-0.9, 1.0),
    ],
    gaps: &[5.0, 20.0],
    most: 1e9,
    order: 2.0,
    leader: false,
};

fn limit_line(x: f64, y: f64) -> [Point; 2] {
    [[x, y - LIMIT_REACH], [x, y + LIMIT_REACH]]
}

fn shown_limits<'a>(
    axis: &Axis,
    limits: &'a [StationLimit],
) -> Result<Vec<(usize, f64, &'a str)>, PlotError> {
    let limits = limits.iter().enumerate();
    limits
        .map(|(place, one)| {
            let at = axis.show(one.at, &one.words, place)?;
            Ok((one.station, at, one.words.as_str()))
        })
        .collect()
}

/// A panel's name above it; returns its height.
fn heading(sheet: &mut Sheet, words: &str, (left, right): (f64, f64)) -> f64 {
    let lines = wrap(words, SMALL, false, right - left, 3);
    for (row, line) in lines.iter().enumerate() {
        let at = [left, sheet.cursor + LEADING * SMALL * (row as f64 + 0.5)];
        sheet
            .canvas
            .words(line, at, Side::Start, Type::plain(SMALL, MUTED));
    }
    LEADING * SMALL * lines.len() as f64
}
