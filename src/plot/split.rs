//! How the stages share the boost over engine speed: areas stacked by the logarithms of their
//! pressure ratios, which add up to 100 %.
//!
//! A stage that restricts has a negative share; it hangs below zero, and the others reach as far
//! above 100 %.

use super::axis::{Axis, Ends, extent};
use super::canvas::{Canvas, Type};
use super::curves::{Event, spaced};
use super::drawing::Drawing;
use super::error::PlotError;
use super::frame::{AxisSpec, Panel, PanelSpec, Sheet, nothing};
use super::geometry::Point;
use super::jumps::{self, Jump};
use super::key::{KeyEntry, Sample};
use super::marks;
use super::placing::{Placer, Wish};
use super::stacking::{Area, Run, stacked};
use super::style::{AREAS, INK, SMALL, TEXT};

/// One stage's share at every speed.
#[derive(Debug, Clone)]
pub struct StageShare {
    /// The stage's name.
    pub name: String,
    /// ln PR of the stage ÷ ln of the product; none where the product is 1 or nothing was solved.
    pub shares: Vec<Option<f64>>,
}

/// The boost split over engine speed.
#[derive(Debug, Clone)]
pub struct Split<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// What to mind; may be empty.
    pub note: &'a str,
    /// Engine speed.
    pub speed: Axis<'a>,
    /// Share; the closure turns 0 to 1 into what the words say.
    pub share: Axis<'a>,
    /// Engine speeds, rpm, rising.
    pub speeds: Vec<f64>,
    /// The stages in flow order, four at most.
    pub stages: Vec<StageShare>,
    /// Marks such as the hand-over; with the jumps eight at most.
    pub events: Vec<Event>,
    /// Where the line jumps: the areas end there, and a mark says so.
    pub jumps: Vec<Jump>,
}

impl Split<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        let runs = self.runs()?;
        let marked: Vec<Event> = jumps::marks(&self.jumps);
        let events = self.events.iter().chain(&marked).enumerate();
        let events: Vec<(f64, String)> = events
            .map(|(place, one)| {
                Ok((
                    self.speed.show(one.at, &one.words, place)?,
                    one.words.clone(),
                ))
            })
            .collect::<Result<_, _>>()?;
        let areas: Vec<Vec<Area>> = (0..self.stages.len())
            .map(|stage| runs.iter().flat_map(|run| stacked(run, stage)).collect())
            .collect();
        let whole = [
            self.share.show(0.0, "share", 0)?,
            self.share.show(1.0, "share", 0)?,
        ];
        let areas = self.shown(areas)?;

        let mut sheet = Sheet::new(self.title, self.subtitle);
        let spec = self.spec(&areas, whole, &events);
        let panel = sheet.panel(&spec);
        let unnamed = self.fill(&mut sheet.canvas, &panel, &areas, (whole, &events));
        sheet.key(&unnamed);
        sheet.note(self.note);
        sheet.finish()
    }

    fn spec<'b>(
        &'b self,
        areas: &[Vec<Area>],
        whole: [f64; 2],
        events: &'b [(f64, String)],
    ) -> PanelSpec<'b> {
        let all = || areas.iter().flatten().flatten();
        let x = all()
            .map(|row| row.0)
            .chain(events.iter().map(|event| event.0))
            // Speeds without a match keep their room: the reader sees that they are missing.
            .chain(
                self.speeds
                    .iter()
                    .filter_map(|&speed| self.speed.show(speed, "", 0).ok()),
            );
        let y = all().flat_map(|row| [row.1, row.2]).chain(whole);
        PanelSpec {
            x: AxisSpec {
                words: self.speed.words,
                data: extent(x),
                ends: Ends::Close,
            },
            y: AxisSpec {
                words: self.share.words,
                data: extent(y),
                ends: Ends::Round,
            },
            height: 320.0,
            right_room: 10.0,
            both_grids: false,
            marks: events,
            least_left: 0.0,
            level_numbers: true,
        }
    }

    /// The speeds where every stage has a share, in unbroken runs.
    fn runs(&self) -> Result<Vec<Run>, PlotError> {
        let counts = [
            ("stages", self.stages.len(), AREAS.len()),
            ("marks", self.events.len() + self.jumps.len(), 8),
        ];
        for (what, count, most) in counts {
            if count > most {
                return Err(PlotError::TooMany { what, count, most });
            }
        }
        for stage in &self.stages {
            if stage.shares.len() != self.speeds.len() {
                let (found, expected) = (stage.shares.len(), self.speeds.len());
                return Err(PlotError::Uneven {
                    what: stage.name.clone(),
                    found,
                    expected,
                });
            }
        }
        let mut runs: Vec<Run> = vec![Vec::new()];
        for (row, &speed) in self.speeds.iter().enumerate() {
            if row > 0 && jumps::between(&self.jumps, self.speeds[row - 1], speed) {
                runs.push(Vec::new());
            }
            let shares: Option<Vec<f64>> =
                self.stages.iter().map(|stage| stage.shares[row]).collect();
            match (shares, runs.last_mut()) {
                (Some(shares), Some(run)) if !shares.is_empty() => {
                    for (stage, &share) in self.stages.iter().zip(&shares) {
                        self.share.show(share, &stage.name, row)?;
                    }
                    run.push((self.speed.show(speed, self.speed.words, row)?, shares));
                }
                _ => runs.push(Vec::new()),
            }
        }
        runs.retain(|run| !run.is_empty());
        Ok(runs)
    }

    fn shown(&self, areas: Vec<Vec<Area>>) -> Result<Vec<Vec<Area>>, PlotError> {
        let show = |value| self.share.show(value, self.share.words, 0);
        let area = |area: Area| {
            area.into_iter()
                .map(|(x, low, high)| Ok((x, show(low)?, show(high)?)))
                .collect()
        };
        areas
            .into_iter()
            .map(|stage| stage.into_iter().map(area).collect())
            .collect()
    }

    /// Draws the areas; returns a key for the stages whose area has no room for their name.
    fn fill(
        &self,
        canvas: &mut Canvas,
        panel: &Panel,
        areas: &[Vec<Area>],
        (whole, events): ([f64; 2], &[(f64, String)]),
    ) -> Vec<KeyEntry<'_>> {
        let mut placer = Placer::new(panel.rect.grown(-2.0));
        for (stage, &colour) in areas.iter().zip(&AREAS) {
            for area in stage {
                let (lower, upper) = edges(area, panel);
                let outline: Vec<Point> = lower
                    .iter()
                    .copied()
                    .chain(upper.into_iter().rev())
                    .collect();
                canvas.fill(&outline, colour);
            }
        }
        for area in areas.iter().flatten() {
            let (lower, upper) = edges(area, panel);
            // Names stay between the area's ends.
            for (low, high) in lower
                .first()
                .zip(upper.first())
                .into_iter()
                .chain(lower.last().zip(upper.last()))
            {
                placer.avoid(&[*low, *high], 3.0);
            }
            for edge in [lower, upper] {
                canvas.stroke(&edge, INK, 1.8, &[]);
                placer.avoid(&edge, 3.0);
            }
        }
        for level in whole.map(|share| panel.y.at(share)) {
            canvas.stroke(
                &[[panel.rect.left, level], [panel.rect.right, level]],
                INK,
                1.8,
                &[],
            );
        }
        let uprights: Vec<f64> = events.iter().map(|event| panel.x.at(event.0)).collect();
        marks::lines(canvas, &uprights, panel.rect);
        for x in uprights.iter().flat_map(|x| [x - 6.0, *x, x + 6.0]) {
            placer.avoid(&[[x, panel.rect.top], [x, panel.rect.bottom]], 1.0);
        }
        if areas.iter().all(Vec::is_empty) {
            nothing(canvas, panel.rect, "no point to draw");
        }
        self.names(canvas, panel, areas, &mut placer)
    }

    fn names(
        &self,
        canvas: &mut Canvas,
        panel: &Panel,
        areas: &[Vec<Area>],
        placer: &mut Placer,
    ) -> Vec<KeyEntry<'_>> {
        const WISH: Wish = Wish {
            directions: &[(0.0, 0.0)],
            gaps: &[0.0],
            most: 60.0,
            order: 0.15,
            leader: false,
        };
        let mut unnamed = Vec::new();
        for ((stage, area), &colour) in self.stages.iter().zip(areas).zip(&AREAS) {
            let places = thickest(area, panel);
            let mut named = [TEXT, SMALL].into_iter().map(|size| {
                placer.label(canvas, &stage.name, Type::bold(size, INK), &places, &WISH)
            });
            if !area.is_empty() && !named.any(|named| named) {
                unnamed.push(KeyEntry {
                    words: &stage.name,
                    sample: Sample::Ground(colour),
                });
            }
        }
        unnamed
    }
}

/// The area's lower and upper edge on the sheet; one lone row becomes a bar.
fn edges(area: &Area, panel: &Panel) -> (Vec<Point>, Vec<Point>) {
    let edge = |pick: fn(&(f64, f64, f64)) -> f64| {
        let points: Vec<Point> = area
            .iter()
            .map(|row| panel.at([row.0, pick(row)]))
            .collect();
        match points[..] {
            [[x, y]] => vec![[x - 9.0, y], [x + 9.0, y]],
            _ => points,
        }
    };
    (edge(|row| row.1), edge(|row| row.2))
}

/// Middles of the area between its edges, the thickest place first.
fn thickest(area: &[Area], panel: &Panel) -> Vec<Point> {
    let mut places: Vec<(f64, Point)> = Vec::new();
    for piece in area {
        let (lower, upper) = edges(piece, panel);
        let middles = lower
            .windows(2)
            .zip(upper.windows(2))
            .flat_map(|(low, high)| {
                [0.0, 0.25, 0.5, 0.75].map(|t| {
                    let between = |pair: &[Point], axis: usize| {
                        pair[0][axis] + t * (pair[1][axis] - pair[0][axis])
                    };
                    let (bottom, top) = (between(low, 1), between(high, 1));
                    (bottom - top, [between(low, 0), f64::midpoint(bottom, top)])
                })
            });
        places.extend(middles);
    }
    places.sort_by(|a, b| b.0.total_cmp(&a.0));
    // A few hundred places say as much as a million.
    let every = places.len().div_ceil(400).max(1);
    let points: Vec<Point> = places
        .into_iter()
        .step_by(every)
        .map(|place| place.1)
        .collect();
    spaced(&points, 6.0)
}
