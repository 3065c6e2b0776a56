//! Results for people and programs. One view of a result, rendered as text, JSON and CSV, so that
//! none of them can lack what another has.
//!
//! Knows words, units of the reader and formats; solves nothing and writes no file.

mod beside_text;
mod beside_view;
pub mod caution;
mod check_view;
mod cooler;
mod costs_text;
mod costs_view;
pub mod csv;
pub mod drawings;
mod events;
mod explain;
mod findings_text;
pub mod json;
mod line_text;
mod point_coolers;
mod point_text;
mod pulley_text;
mod rank_view;
mod sure_text;
mod sure_view;
mod table;
mod view;
pub mod words;

pub use beside_text::beside_text;
pub use beside_view::{NamedRow, SummaryView, THE_BUILD, VariantView};
pub use check_view::{CheckReport, CheckView, UncertainInput, check_text};
pub use cooler::{
    CoolerPointView, CoolerReport, CoolerRowView, DepthView, DepthsView, EngineSideView,
    RunRowView, RunView, SizeView, Source, StopView, TargetView, WithoutView, cooler_text,
};
pub use costs_text::defaults_text;
pub use costs_view::{BeltView, CylinderView, DefaultView, FuelView, PowerItemView, defaults};
pub use events::{EventView, HysteresisView, event_views, hysteresis_views};
pub use explain::{Entry, EntryKind, explain, explain_text, keys_json, keys_text, topic_names};
pub use findings_text::findings_text;
pub use line_text::line_text;
pub use point_text::point_text;
pub use pulley_text::pulley_text;
pub use rank_view::{RankReport, RankView, rank_text};
pub use sure_text::{bands_text, line_bands_text, sensitivity_text};
pub use sure_view::{BandView, BandsView, ChangesView, SensitivityView, sensitivity};
pub use view::{
    CoolerView, EngineView, FindingView, HandOverView, LineView, NotFinite, OtherBalanceView,
    PointReport, PointView, ResidualView, RowView, StageView, StationView, TurbineView, WorstView,
};
