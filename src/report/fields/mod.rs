//! The table of fields: one row for each number and text that a result can have. Text, CSV, JSON,
//! the published schema and `explain` come from it.
//!
//! A row stands in the file of its subject, in the order of the JSON: its key, whether every result
//! has it, its kind, its name in text (and a short one for narrow columns), one sentence, and how
//! it is taken from the data as solved. To add a number, add a row.

pub(super) mod balance;
pub(super) mod cell;
pub(super) mod check;
pub(super) mod cooler;
pub(super) mod cooler_depth;
pub(super) mod cooler_report;
pub(super) mod cooler_run;
pub(super) mod cooler_size;
mod cylinder;
mod default;
pub(super) mod engine;
pub(super) mod event;
mod explain;
pub(super) mod field;
pub(super) mod finding;
mod fuel;
pub(super) mod inner;
pub(super) mod line;
pub(super) mod named;
mod output;
pub(super) mod point;
pub(super) mod power;
pub(super) mod rank;
pub(super) mod rows;
mod schema;
mod shape;
pub(super) mod stage;
pub(super) mod station;
pub(super) mod summary;
mod turbine;
pub(super) mod uncertainty;

pub use check::{CheckReport, FileUnderstood};
pub use cooler_report::CoolerReport;
pub use cooler_run::TimedRun;
pub use default::{DefaultUsed, defaults};
pub use event::EventInWords;
pub use explain::{FieldExplained, explain_field};
pub use field::{Field, NotFinite, Rows};
pub use finding::PlacedFinding;
pub use inner::Writable;
pub use line::{LineReport, NoMatch, Row, THE_BUILD, Variant};
pub use output::Output;
pub use point::{Point, PointReport};
pub use rank::{RankReport, RankedMap};
pub use schema::schema;
pub use summary::LineSummary;
pub use uncertainty::{BandsOfMatch, Sensitivity, sensitivity};
