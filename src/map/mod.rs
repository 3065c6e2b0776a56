//! Performance maps as surfaces: interpolation, continuation beyond the data, margins, islands.
//!
//! What this folder knows: rows of numbers that belong to a machine, corrected to a reference state.
//! What it must not know: files, units, words for the reader, engines. Speeds are rpm, flows kg/s,
//! pressures Pa, temperatures K, work J/kg.
//!
//! The way of a compressor map: [`grouping`] sorts rows into speed lines, [`order`] runs each from
//! surge to choke, [`line`](mod@line) lays cubics along it, [`crossing`] refuses lines that cross, [`across`]
//! joins the lines by similarity, [`surface`] goes on beyond surge and choke, [`lookup`] and
//! [`search`] find speed and place from any two values, and [`compressor`] is what callers hold.
//!
//! For drawing: [`outline`] gives lines and edges, [`island`] contours of efficiency.
//!
//! Displacement superchargers ([`supercharger`]) and turbines ([`turbine`]) are lines over a ratio,
//! joined by [`ratio_lines`].
//!
//! Whether rows can be a machine's at all is asked by [`sense`].
//!
//! Similarity is counted with a constant gas; see [`head`].

pub mod across;
pub mod compressor;
pub mod corrected;
pub mod crossing;
pub mod error;
pub mod grouping;
pub mod head;
pub mod island;
pub mod line;
pub mod lookup;
pub mod margin;
pub mod order;
pub mod outline;
pub mod ratio_lines;
pub mod region;
pub mod search;
pub mod sense;
pub mod supercharger;
pub mod surface;
pub mod surge_line;
pub mod turbine;

pub use compressor::{CompressorMap, CompressorRow, MapPoint};
pub use corrected::{CorrectedFlow, CorrectedSpeed, Reference};
pub use error::{Column, MapError, Remark};
pub use island::{Island, efficiency_islands};
pub use margin::Margins;
pub use outline::{FlowAndRatio, SpeedLine};
pub use region::Region;
pub use supercharger::{SuperchargerMap, SuperchargerPoint, SuperchargerRow};
pub use surge_line::SurgeLine;
pub use turbine::{TurbineMap, TurbinePoint, TurbineRow};
