//! Amounts stacked over engine speed under the line of their whole, each named at its right end.

use super::axis::{Axis, Ends, extent};
use super::canvas::{Canvas, Side, Type};
use super::curves::Event;
use super::drawing::Drawing;
use super::end_names::{NAME_ROOM, apart};
use super::error::PlotError;
use super::frame::{AxisSpec, LEADING, Panel, PanelSpec, Sheet, nothing};
use super::geometry::{Point, Rect};
use super::jumps::{self, Jump};
use super::marks;
use super::stacking::{Area, Run, stacked};
use super::style::{AREAS, Colour, INK, RULE, SHEET_WIDTH, SMALL, blend};
use super::text::wrap;

/// One amount at every speed.
#[derive(Debug, Clone)]
pub struct Layer {
    /// Its name.
    pub name: String,
    /// Which of the four grounds it has, so that one amount looks the same where others lack.
    pub ground: usize,
    /// SI; none where nothing was solved.
    pub amounts: Vec<Option<f64>>,
}

/// Amounts stacked over engine speed.
#[derive(Debug, Clone)]
pub struct Stack<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// What to mind; may be empty.
    pub note: &'a str,
    /// Engine speed.
    pub speed: Axis<'a>,
    /// The amounts; 0 has to be shown as 0.
    pub amount: Axis<'a>,
    /// Engine speeds, rpm, rising.
    pub speeds: Vec<f64>,
    /// The layers from the lowest upwards, four at most.
    pub layers: Vec<Layer>,
    /// The whole, drawn as a line.
    pub whole: Layer,
    /// Marks such as the hand-over; with the jumps eight at most.
    pub events: Vec<Event>,
    /// Where the line jumps: areas and whole end there, and a mark says so.
    pub jumps: Vec<Jump>,
}

impl Layer {
    fn colour(&self) -> Colour {
        AREAS[self.ground % AREAS.len()]
    }
}

const HEIGHT: f64 = 350.0;
const MOST_EVENTS: usize = 8;
/// Width of the line of the whole, and of the edges between layers.
const LINES: (f64, f64) = (3.4, 1.2);

/// A name at the right end: where it points, its words, its ground (none for the line).
struct EndName {
    end: Point,
    words: Vec<String>,
    ground: Option<Colour>,
}

impl Stack<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        self.check()?;
        let runs = self.runs()?;
        let events = self.shown_events()?;
        let count = self.layers.len();
        let areas: Vec<Vec<Area>> = (0..count)
            .map(|layer| {
                // The last of each row is the whole, which no area is drawn for.
                let stacks = runs.iter().map(|run| stacked(&without_last(run), layer));
                stacks.flatten().collect()
            })
            .collect();
        let whole: Vec<Vec<[f64; 2]>> = runs
            .iter()
            .map(|run| run.iter().map(|row| [row.0, row.1[count]]).collect())
            .collect();
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let spec = self.spec(&areas, &whole, &events);
        let panel = sheet.panel(&spec);
        self.fill(&mut sheet.canvas, &panel, &areas, &whole, &events);
        sheet.note(self.note);
        sheet.finish()
    }

    fn check(&self) -> Result<(), PlotError> {
        for (what, count, most) in [
            ("layers", self.layers.len(), AREAS.len()),
            ("marks", self.events.len() + self.jumps.len(), MOST_EVENTS),
        ] {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        let expected = self.speeds.len();
        match self.all().find(|layer| layer.amounts.len() != expected) {
            Some(layer) => Err(PlotError::Uneven {
                what: layer.name.clone(),
                found: layer.amounts.len(),
                expected,
            }),
            None => Ok(()),
        }
    }

    fn all(&self) -> impl Iterator<Item = &Layer> {
        self.layers.iter().chain(std::iter::once(&self.whole))
    }

    /// Rows in shown units where everything is known, in unbroken runs: the layers, then the whole.
    fn runs(&self) -> Result<Vec<Run>, PlotError> {
        let mut runs: Vec<Run> = vec![Vec::new()];
        for (row, &speed) in self.speeds.iter().enumerate() {
            if row > 0 && jumps::between(&self.jumps, self.speeds[row - 1], speed) {
                runs.push(Vec::new());
            }
            let amounts: Option<Vec<f64>> = self.all().map(|layer| layer.amounts[row]).collect();
            match (amounts, runs.last_mut()) {
                (Some(amounts), Some(run)) => {
                    let shown = self
                        .all()
                        .zip(&amounts)
                        .map(|(layer, &amount)| self.amount.show(amount, &layer.name, row))
                        .collect::<Result<Vec<f64>, _>>()?;
                    run.push((self.speed.show(speed, self.speed.words, row)?, shown));
                }
                _ => runs.push(Vec::new()),
            }
        }
        runs.retain(|run| !run.is_empty());
        Ok(runs)
    }

    fn shown_events(&self) -> Result<Vec<(f64, String)>, PlotError> {
        let marked: Vec<Event> = jumps::marks(&self.jumps);
        let events = self.events.iter().chain(&marked).enumerate();
        events
            .map(|(place, one)| {
                let at = self.speed.show(one.at, &one.words, place)?;
                Ok((at, one.words.clone()))
            })
            .collect()
    }

    fn spec<'b>(
        &'b self,
        areas: &[Vec<Area>],
        whole: &[Vec<[f64; 2]>],
        events: &'b [(f64, String)],
    ) -> PanelSpec<'b> {
        let rows = || areas.iter().flatten().flatten();
        let line = || whole.iter().flatten();
        // Speeds without a match keep their room: the reader sees that they are missing.
        let speeds = self.speeds.iter();
        let speeds = speeds.filter_map(|&speed| self.speed.show(speed, "", 0).ok());
        let x = line().map(|point| point[0]).chain(speeds);
        let y = rows()
            .flat_map(|row| [row.1, row.2])
            .chain(line().map(|point| point[1]));
        PanelSpec {
            x: AxisSpec {
                words: self.speed.words,
                data: extent(x.chain(events.iter().map(|event| event.0))),
                ends: Ends::Close,
            },
            y: AxisSpec {
                words: self.amount.words,
                data: extent(y),
                ends: Ends::Zero,
            },
            height: HEIGHT,
            right_room: NAME_ROOM,
            both_grids: false,
            marks: events,
            least_left: 0.0,
            level_numbers: true,
        }
    }

    fn fill(
        &self,
        canvas: &mut Canvas,
        panel: &Panel,
        areas: &[Vec<Area>],
        whole: &[Vec<[f64; 2]>],
        events: &[(f64, String)],
    ) {
        for (pieces, layer) in areas.iter().zip(&self.layers) {
            let colour = layer.colour();
            for area in pieces {
                let edge = |pick: fn(&(f64, f64, f64)) -> f64| -> Vec<Point> {
                    let points: Vec<Point> = area
                        .iter()
                        .map(|row| panel.at([row.0, pick(row)]))
                        .collect();
                    widened(points)
                };
                let (lower, upper) = (edge(|row| row.1), edge(|row| row.2));
                let outline: Vec<Point> = lower
                    .into_iter()
                    .chain(upper.iter().rev().copied())
                    .collect();
                canvas.fill(&outline, colour);
                canvas.stroke(&upper, blend(colour, INK, 0.6), LINES.1, &[]);
            }
        }
        let lines: Vec<Vec<Point>> = whole
            .iter()
            .map(|piece| widened(panel.line(piece)))
            .collect();
        for line in &lines {
            canvas.stroke(line, INK, LINES.0, &[]);
        }
        let uprights: Vec<f64> = events.iter().map(|event| panel.x.at(event.0)).collect();
        marks::lines(canvas, &uprights, panel.rect);
        if lines.is_empty() {
            nothing(canvas, panel.rect, "no point to draw");
            return;
        }
        self.names(canvas, panel, areas, &lines);
    }

    /// Names at the right ends, from the top downwards.
    fn names(&self, canvas: &mut Canvas, panel: &Panel, areas: &[Vec<Area>], lines: &[Vec<Point>]) {
        let left = panel.rect.right + 38.0;
        let width = SHEET_WIDTH - 6.0 - left;
        let words = |name: &str| wrap(name, SMALL, false, width, 2);
        let mut names: Vec<EndName> = Vec::new();
        if let Some(&end) = lines.last().and_then(|line| line.last()) {
            names.push(EndName {
                end,
                words: words(&self.whole.name),
                ground: None,
            });
        }
        let named = self.layers.iter().zip(areas);
        for (layer, pieces) in named.rev() {
            let Some(&(x, low, high)) = pieces.last().and_then(|area| area.last()) else {
                continue;
            };
            names.push(EndName {
                end: panel.at([x, f64::midpoint(low, high)]),
                words: words(&layer.name),
                ground: Some(layer.colour()),
            });
        }
        names.sort_by(|a, b| a.end[1].round().total_cmp(&b.end[1].round()));
        let heights: Vec<f64> = names.iter().map(EndName::height).collect();
        let wishes: Vec<f64> = names.iter().map(|name| name.end[1]).collect();
        let middles = apart(&wishes, &heights, panel.rect.top, panel.rect.bottom + 4.0);
        for (name, middle) in names.iter().zip(middles) {
            name.write(canvas, [left, middle]);
        }
    }
}

impl EndName {
    fn write(&self, canvas: &mut Canvas, [left, middle]: Point) {
        let joint = [left - 26.0, middle];
        canvas.stroke(&[self.end, joint], RULE, 1.2, &[]);
        let block = Rect {
            left: left - 26.0,
            top: middle - 8.0,
            right: left - 8.0,
            bottom: middle + 8.0,
        };
        match self.ground {
            Some(colour) => {
                canvas.block(block, blend(colour, INK, 0.6));
                canvas.block(block.grown(-1.2), colour);
            }
            None => canvas.stroke(
                &[[block.left, middle], [block.right, middle]],
                INK,
                LINES.0,
                &[],
            ),
        }
        let first = middle - 0.5 * LEADING * SMALL * (self.words.len() as f64 - 1.0);
        for (row, words) in self.words.iter().enumerate() {
            let at = [left, first + LEADING * SMALL * row as f64];
            canvas.words(words, at, Side::Start, Type::plain(SMALL, INK));
        }
    }

    fn height(&self) -> f64 {
        LEADING * SMALL * self.words.len().max(1) as f64 + 6.0
    }
}

/// The layers of a run, without the whole at the end of each row.
fn without_last(run: &Run) -> Run {
    run.iter()
        .map(|(speed, row)| (*speed, row[..row.len() - 1].to_vec()))
        .collect()
}

/// One lone row becomes a bar.
fn widened(points: Vec<Point>) -> Vec<Point> {
    match points[..] {
        [[x, y]] => vec![[x - 9.0, y], [x + 9.0, y]],
        _ => points,
    }
}
