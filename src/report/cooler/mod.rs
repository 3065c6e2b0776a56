//! `cooler`: the charge cooler at the hardest point and along the line, and over a timed run.

mod run_text;
mod run_view;
mod size_view;
mod tables;
pub(super) mod text;
mod view;
pub(super) mod words;

pub use run_view::{RunRowView, RunView, StopView};
pub use size_view::{DepthView, DepthsView, SizeView};
pub use text::cooler_text;
pub use view::{
    CoolerPointView, CoolerReport, CoolerRowView, EngineSideView, Source, TargetView, WithoutView,
};
