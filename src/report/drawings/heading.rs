//! Layers drawn under a title, in the reader's units; and the few words that all drawings share.

use crate::plot::{Axis, Chart, Drawing, Layer, Panel, PlotError, number};
use crate::quantity::{Kind, UnitSystem, label, reader_value, shown};

/// The words around a drawing.
pub(super) struct Heading {
    /// What it finds.
    pub title: String,
    /// What it shows.
    pub subtitle: String,
    /// What to mind.
    pub note: String,
}

/// A frame: what its upright axis is, and what it shows.
pub(super) struct FrameOf<'a> {
    pub name: &'a str,
    pub kind: Kind,
    pub layers: Vec<Layer>,
    /// Places that the axes cover besides, SI.
    pub covers: Vec<[f64; 2]>,
}

impl<'a> FrameOf<'a> {
    pub(super) fn new(name: &'a str, kind: Kind, layers: Vec<Layer>) -> Self {
        Self {
            name,
            kind,
            layers,
            covers: Vec::new(),
        }
    }
}

impl Heading {
    /// Frames below each other over one level axis.
    pub(super) fn over(
        &self,
        x: Axis,
        frames: Vec<FrameOf>,
        system: UnitSystem,
    ) -> Result<Drawing, PlotError> {
        let axis = |frame: &FrameOf| {
            let kind = frame.kind;
            (axis_words(frame.name, kind, system), move |si: f64| {
                reader_value(si, kind, system)
            })
        };
        let axes: Vec<_> = frames.iter().map(axis).collect();
        let mut panels = Vec::new();
        for (frame, (words, shown)) in frames.into_iter().zip(&axes) {
            panels.push(Panel {
                covers: frame.covers,
                ..Panel::new(Axis { words, shown }, frame.layers)
            });
        }
        Chart {
            title: &self.title,
            subtitle: &self.subtitle,
            note: &self.note,
            x,
            panels,
            legend: Vec::new(),
        }
        .draw()
    }
}

/// The engine speed's axis: rpm as it is.
pub(super) const SPEED: Axis<'static> = Axis {
    words: "engine speed, rpm",
    shown: &as_it_is,
};

fn as_it_is(value: f64) -> f64 {
    value
}

/// Name and unit of an axis.
pub(super) fn axis_words(name: &str, kind: Kind, system: UnitSystem) -> String {
    match label(kind, system).trim_end_matches(" difference") {
        "" => name.to_owned(),
        unit => format!("{name}, {unit}"),
    }
}

/// "limit 60.0 °C", "limit 275.0 kPa": the axis says whether a pressure is absolute or gauge.
pub(super) fn limit_words(at: f64, kind: Kind, system: UnitSystem) -> String {
    let unit = label(kind, system);
    let unit = unit
        .trim_end_matches(" absolute")
        .trim_end_matches(" gauge");
    format!("limit {} {unit}", shown(at, kind, system))
}

/// The same begun with a capital.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// "3,200 rpm".
pub(super) fn rpm(value: f64) -> String {
    format!("{} rpm", number(value, 1.0))
}
