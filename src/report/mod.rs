//! Results for people and programs. One table of fields, from which text, CSV, JSON, the published
//! schema and `explain` come, so that none of them can lack what another has.
//!
//! Knows words, units of the reader and formats; solves nothing and writes no file.

pub mod caution;
mod check_text;
mod comparison_text;
mod cooler;
pub mod csv;
mod defaults_text;
pub mod drawings;
mod events_text;
mod explain;
pub mod fields;
mod findings_text;
pub mod json;
mod line_answer;
mod line_text;
mod mechanical_text;
mod point_text;
mod power_text;
mod pulley_text;
mod rank_text;
mod table;
mod uncertainty_text;
pub mod words;
mod wrap;

pub use check_text::check_text;
pub use comparison_text::comparison_text;
pub use cooler::cooler_text;
pub use defaults_text::defaults_text;
pub use explain::{Entry, EntryKind, explain, explain_text, keys_json, keys_text, topic_names};
pub use fields::{
    BandsOfMatch, CheckReport, CoolerReport, DefaultUsed, EventInWords, FieldExplained,
    FileUnderstood, LineReport, LineSummary, NoMatch, NotFinite, Output, PlacedFinding, Point,
    PointReport, RankReport, Row, Sensitivity, THE_BUILD, TimedRun, Variant, defaults,
    explain_field, schema, sensitivity,
};
pub use findings_text::findings_text;
pub use line_text::{ColumnChoice, column_names, line_text};
pub use point_text::point_text;
pub use pulley_text::pulley_text;
pub use rank_text::{rank_text, ranked_map};
pub use uncertainty_text::{bands_text, line_bands_text, sensitivity_text};
