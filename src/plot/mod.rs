//! Drawings as SVG text.
//!
//! Knows plain numbers in SI, words, and how the reader's units are made of SI ([`Axis`]); knows
//! nothing of engines, solvers or files. Every drawing is a struct that is filled in and drawn:
//!
//! - [`CompressorMap`]: the operating line on a compressor map
//! - [`Journey`]: pressure and temperature along the stations
//! - [`Split`]: how the stages share the boost
//! - [`Stack`]: amounts stacked under the line of their whole, such as where the power goes
//! - [`LayoutBoost`]: supercharger alone, turbocharger alone, both together
//! - [`LinesBeside`]: one quantity of several builds
//! - [`Curves`]: any lines over engine speed
//! - [`Panels`]: such lines in panels below each other, over one level axis
//! - [`Trade`]: what is gained against what it costs, along one line of choices
//!
//! A line over engine speed is a list of unbroken runs; where it jumps from one branch to another
//! ([`Jump`]), a dashed connector joins two of them.
//!
//! One palette and one type scale serve all (`style`). The sheet is laid out from the top down
//! (`frame`), words look for room (`placing`), and `svg` writes it all through `plotters`. A
//! value that is not finite is an error and never drawn. A [`Drawing`] carries the boxes of its
//! words and the range of its axes, so that a test can hold them against each other.

mod axis;
mod beside;
mod canvas;
mod compressor_map;
mod curves;
mod drawing;
mod end_names;
mod error;
mod frame;
mod geometry;
mod journey;
pub(crate) mod jumps;
mod key;
mod layout;
mod map_layers;
mod map_words;
mod marks;
mod panels;
mod placing;
mod split;
mod stack;
mod stacking;
mod style;
mod svg;
mod text;
mod trade;

pub use axis::Axis;
pub use beside::LinesBeside;

pub use compressor_map::{CompressorMap, Island, OperatingLine, OperatingPoint, SpeedLine};
pub use curves::{Band, Curves, Event, Limit, Series};
pub use drawing::{AxisSpan, Drawing, Label};
pub use error::PlotError;
pub use geometry::Rect;
pub use journey::{Journey, Run, StationLimit};
pub use jumps::Jump;
pub use layout::LayoutBoost;
pub use panels::{PanelLines, Panels};
pub use split::{Split, StageShare};
pub use stack::{Layer, Stack};
pub use text::text_width;
pub use trade::{Trade, TradePoint};
