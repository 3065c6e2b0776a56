//! The temperature that the charge must not pass.

use crate::plot::{Layer, Mark};
use crate::quantity::{Kind, UnitSystem};
use crate::report::cooler::words::figure;
use crate::report::fields::cooler_report::CoolerReport;

/// The level that the charge must not pass.
pub(super) fn target(report: &CoolerReport, place: &str, system: UnitSystem) -> Option<Layer> {
    let at = report.assessment.verdict.as_ref()?.target;
    let words = format!("target {}{place}", figure(at, Kind::Temperature, system));
    Some(Layer::Limit(Mark { at, words }))
}
