//! A chart: frames below each other over one level axis, so that what happens at one place is read
//! straight down.

use super::canvas::Canvas;
use super::drawing::Drawing;
use super::end_names;
use super::error::PlotError;
use super::events;
use super::frame::{Frame, NUMBERS_BELOW, left_of, spread};
use super::geometry::Rect;
use super::labels::Placer;
use super::layer::Layer;
use super::legend::Entry;
use super::naming;
use super::paint;
use super::scale::{Axis, Scale, Span, extent};
use super::sheet::Sheet;
use super::style::{EDGE, SHEET_WIDTH};

/// Frames over one level axis.
#[derive(Debug, Clone)]
pub struct Chart<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// Where the data come from, or what to mind; may be empty.
    pub note: &'a str,
    /// The level axis.
    pub x: Axis<'a>,
    /// The frames from the top down, four at most.
    pub panels: Vec<Panel<'a>>,
    /// What stands in the legend; may be empty.
    pub legend: Vec<Entry>,
}

/// One frame of a chart with what it shows.
#[derive(Debug, Clone)]
pub struct Panel<'a> {
    /// The upright axis.
    pub y: Axis<'a>,
    /// Whether the axis starts at zero where the data lie near it.
    pub from_zero: bool,
    /// What it shows; events are named above the first panel and pass through all.
    pub layers: Vec<Layer>,
    /// Places that the axes cover besides, SI.
    pub covers: Vec<[f64; 2]>,
    /// Its height where it is alone, sheet units.
    pub height: f64,
}

impl<'a> Panel<'a> {
    /// A panel whose axis starts at zero where the data lie near it.
    pub fn new(y: Axis<'a>, layers: Vec<Layer>) -> Self {
        Self {
            y,
            from_zero: true,
            layers,
            covers: Vec::new(),
            height: ALONE,
        }
    }
}

const MOST_PANELS: usize = 4;
/// Height of a panel alone, of several together, and the least of one of them.
const ALONE: f64 = 350.0;
const TOGETHER: f64 = 470.0;
const LEAST: f64 = 170.0;
/// Height of a panel among others whose data hardly change: by less than this share of their size.
const FLAT: f64 = 96.0;
const HARDLY: f64 = 0.03;

/// A panel in shown units.
struct Shown {
    layers: Vec<Layer>,
    is_empty: bool,
    spans: [Span; 2],
    y: Scale,
    height: f64,
}

impl Chart<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        let shown = self.shown()?;
        let mut sheet = Sheet::new(self.title, self.subtitle);
        let left = shown.iter().map(|one| left_of(&one.y)).fold(0.0, f64::max);
        let is_named = shown.iter().any(|one| end_names::are_wanted(&one.layers));
        let right = SHEET_WIDTH - EDGE - if is_named { end_names::ROOM } else { 10.0 };
        let level = merged(shown.iter().map(|one| one.spans[0]));
        let x = spread(level, false, left, right);
        let mut left_out = Vec::new();
        for (place, (one, panel)) in shown.iter().zip(&self.panels).enumerate() {
            sheet.upright_name(panel.y.words);
            let top = events_above(&mut sheet, one, &x, place == 0);
            let bottom = top + one.height;
            let rect = Rect {
                left,
                top,
                right,
                bottom,
            };
            let is_last = place + 1 == shown.len();
            let frame = Frame {
                rect,
                x: x.clone(),
                y: one.y.clone().laid(bottom, top),
            };
            left_out.extend(fill(&mut sheet.canvas, &frame, one, is_last));
            let x_words = if is_last { self.x.words } else { "" };
            frame.remember(
                &mut sheet.canvas,
                (x_words, level),
                (panel.y.words, one.spans[1]),
            );
            sheet.cursor = bottom + if is_last { NUMBERS_BELOW } else { 18.0 };
        }
        sheet.level_name(self.x.words, f64::midpoint(left, right));
        sheet.legend(&self.legend);
        sheet.finish(&left_out, self.note)
    }

    /// Its panels in shown units, checked.
    fn shown(&self) -> Result<Vec<Shown>, PlotError> {
        let count = self.panels.len();
        if count > MOST_PANELS {
            return Err(PlotError::TooMany {
                what: "panels",
                count,
                most: MOST_PANELS,
            });
        }
        // An event of one panel passes through all.
        let events = self.panels.iter().flat_map(|panel| &panel.layers);
        let events: Vec<&Layer> = events.filter(|layer| is_event(layer)).collect();
        let panels = self.panels.iter();
        panels
            .map(|panel| self.shown_panel(panel, &events))
            .collect()
    }

    fn shown_panel(&self, panel: &Panel, events: &[&Layer]) -> Result<Shown, PlotError> {
        let own = panel.layers.iter().filter(|layer| !is_event(layer));
        let all: Vec<&Layer> = own.chain(events.iter().copied()).collect();
        check_counts(&all)?;
        let layers = all.into_iter().map(|layer| layer.shown(&self.x, &panel.y));
        let mut layers = layers.collect::<Result<Vec<Layer>, _>>()?;
        let is_empty = !layers
            .iter_mut()
            .any(|layer| !matches!(layer, Layer::Limit(_)) && layer.extent(1).is_some());
        // What must be in sight is a layer that is not drawn.
        let mut covers = Layer::Covered(panel.covers.clone()).shown(&self.x, &panel.y)?;
        let spans = [0, 1].map(|axis| {
            let drawn = layers.iter_mut().map(|layer| with_room(layer, axis));
            merged(drawn.chain([covers.extent(axis)]))
        });
        let height = match self.panels.len() {
            0 | 1 => panel.height,
            _ if is_flat(spans[1]) => FLAT,
            count => (TOGETHER / count as f64).max(LEAST),
        };
        Ok(Shown {
            layers,
            is_empty,
            spans,
            y: Scale::new(spans[1], panel.from_zero, (height / 52.0).max(2.0)),
            height,
        })
    }
}

/// Draws all layers into a frame with its axes; returns the words for which there was no room.
fn fill(canvas: &mut Canvas, frame: &Frame, shown: &Shown, level_numbers: bool) -> Vec<String> {
    paint::grounds(canvas, frame, &shown.layers);
    frame.axes(canvas, level_numbers);
    end_names::write(canvas, frame, &shown.layers);
    let bounds = frame.rect.grown(-2.0);
    draw_layers(canvas, frame, (&shown.layers, shown.is_empty), bounds)
}

/// Draws what lies above the grid, then the labels of all layers within bounds; returns the words for
/// which there was no room.
pub(crate) fn draw_layers(
    canvas: &mut Canvas,
    frame: &Frame,
    (layers, is_empty): (&[Layer], bool),
    bounds: Rect,
) -> Vec<String> {
    let mut placer = Placer::new(bounds);
    paint::lines(canvas, &mut placer, frame, layers);
    let nothing = is_empty.then(|| naming::nothing(frame));
    let labels = layers.iter().flat_map(|layer| naming::labels(layer, frame));
    placer.write(canvas, nothing.into_iter().chain(labels).collect())
}

/// The words of the events above the first panel; returns where the panel may start.
fn events_above(sheet: &mut Sheet, shown: &Shown, x: &Scale, is_first: bool) -> f64 {
    let events = shown.layers.iter().filter_map(|layer| match layer {
        Layer::Event(mark) if is_first => Some(events::Event::new(x.at(mark.at), &mark.words)),
        _ => None,
    });
    let events: Vec<events::Event> = events.collect();
    events::write(&mut sheet.canvas, &events, sheet.cursor + 4.0) + 8.0
}

fn is_event(layer: &Layer) -> bool {
    matches!(layer, Layer::Event(_))
}

/// Whether values hardly change for their size, so that a low frame shows all there is.
fn is_flat(span: Span) -> bool {
    span.is_some_and(|(low, high)| high - low < HARDLY * low.abs().max(high.abs()))
}

/// A layer's extent along an axis, with room to its ends where it is a line: one that runs along the
/// frame's edge is not seen. Areas fill a frame to its edge, and nothing passes zero for room.
fn with_room(layer: &mut Layer, axis: usize) -> Span {
    let is_line = matches!(layer, Layer::Line(_) | Layer::Limit(_) | Layer::Points(_));
    let room = if is_line { 0.02 } else { 0.0 };
    layer.extent(axis).map(|(low, high)| {
        let by = room * (high - low).max(0.1 * high.abs().max(low.abs()));
        let low = if low >= 0.0 {
            (low - by).max(0.0)
        } else {
            low - by
        };
        (low, high + by)
    })
}

fn merged(spans: impl Iterator<Item = Span>) -> Span {
    extent(spans.flatten().flat_map(|(low, high)| [low, high]))
}

/// More of a kind than a reader can tell apart is refused.
fn check_counts(layers: &[&Layer]) -> Result<(), PlotError> {
    for layer in layers {
        let (what, most) = layer.kind();
        let count = layers.iter().filter(|other| other.kind().0 == what).count();
        if count > most {
            return Err(PlotError::TooMany { what, count, most });
        }
    }
    Ok(())
}
