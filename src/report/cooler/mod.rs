//! `cooler`: the charge cooler at the hardest point and along the line, and over a timed run.

mod run_text;
mod run_view;
pub(super) mod text;
mod view;
pub(super) mod words;

pub use run_view::{RunRowView, RunView, StopView};
pub use text::cooler_text;
pub use view::{
    CoolerPointView, CoolerReport, CoolerRowView, DepthView, DepthsView, EngineSideView, SizeView,
    Source, TargetView, WithoutView,
};
