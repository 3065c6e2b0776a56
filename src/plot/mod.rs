//! Drawings as SVG text.
//!
//! Knows plain numbers in SI, words, and how the reader's units are made of SI ([`Axis`]); knows
//! nothing of engines, solvers or files. A drawing is a list of [`Layer`]s on the frames of a
//! [`Chart`]: lines, areas (those of [`stacked`] amounts among them), points, limits, events. Two
//! drawings have a front of their own: [`CompressorMap`], which is a chart of a map's layers, and
//! [`Stations`], whose frames stand side by side.
//!
//! What all drawings share stands once, from the outside in:
//!
//! - `chart`: frames below each other over one level axis; `sheet`: title, legend, notes
//! - `layer`: what a frame shows; `paint` draws it, `naming` asks for its labels
//! - `labels`: finds room for all labels together; `end_names`, `events`, `legend`: words outside a
//!   frame
//! - `frame`, `scale`: a rectangle with its grid; from values to places
//! - `style`: one table of colours with their [`Meaning`], one type scale
//! - `canvas`, `svg`: shapes in sheet units, written through `plotters`
//!
//! A line over engine speed is a list of unbroken runs; where it jumps from one branch to another
//! ([`Jump`]), a dashed connector joins two of them. A value that is not finite is an error and
//! never drawn. A [`Drawing`] carries the boxes of its words and the range and places of its axes,
//! so that a test can hold them against each other.

mod canvas;
mod chart;
mod compressor_map;
mod drawing;
mod end_names;
mod error;
mod events;
mod frame;
mod geometry;
pub(crate) mod jumps;
mod labels;
mod layer;
mod legend;
mod naming;
mod paint;
mod scale;
mod sheet;
mod stack;
mod stations;
mod style;
mod svg;
mod text;
mod towards;

pub use chart::{Chart, Panel};
pub use compressor_map::{CompressorMap, OperatingLine, OperatingPoint, SpeedLine};
pub use drawing::{AxisSpan, Drawing, Label};
pub use error::PlotError;
pub use geometry::Rect;
pub use jumps::Jump;
pub use layer::{Area, Contour, Layer, Line, Mark, Naming, Point, PointKind, Points};
pub use legend::{Entry, Sample};
pub use scale::{Axis, number};
pub use stack::{Amount, stacked};
pub use stations::{Run, StationLimit, Stations};
pub use style::Meaning;
pub use text::text_width;
