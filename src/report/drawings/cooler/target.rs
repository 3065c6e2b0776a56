//! The temperature that the charge must not pass.

use crate::plot::{Layer, Mark};
use crate::quantity::{Kind, UnitSystem};
use crate::report::CoolerReport;
use crate::report::cooler::words::figure;

/// The level that the charge must not pass.
pub(super) fn target(report: &CoolerReport, place: &str, system: UnitSystem) -> Option<Layer> {
    let at = report.target.as_ref()?.charge_temperature_k;
    let words = format!("target {}{place}", figure(at, Kind::Temperature, system));
    Some(Layer::Limit(Mark { at, words }))
}
