//! The cooler over the line, over its depth and over a timed run.

use crate::plot::PlotError;
use crate::quantity::UnitSystem;
use crate::report::CoolerReport;

/// File names and SVG texts of the drawings that a cooler has.
pub fn of_cooler(
    _report: &CoolerReport,
    _system: UnitSystem,
) -> Result<Vec<(String, String)>, PlotError> {
    Ok(Vec::new())
}
