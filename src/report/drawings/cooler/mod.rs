//! The cooler over the line, over its depth and over a timed run.

mod depth;
mod line;
mod soak;
mod target;

use depth::depth;
use line::line;
use soak::soak;

use super::remark;
use crate::finding::{Code, Finding};
use crate::matching::Layout;
use crate::plot::{Jump, PlotError};
use crate::quantity::UnitSystem;
use crate::report::fields::cooler_report::CoolerReport;

/// File names and SVG texts of the drawings that a cooler has; `findings` are those that concern it,
/// `jumps` the neighbouring speeds, rpm, between which the line jumps to another branch.
pub fn of_cooler(
    report: &CoolerReport,
    layout: &Layout,
    (findings, jumps): (&[Finding], &[Jump]),
    system: UnitSystem,
) -> Result<Vec<(String, String)>, PlotError> {
    let foot = |concerns: fn(&Finding) -> bool| {
        let lines = [("", findings, layout)];
        remark::foot(&lines, concerns, system, remark::standing(&report.title))
    };
    // Of a charge over its target the verdict speaks.
    let spoils = |finding: &Finding| finding.code != Code::ChargeTemperature;
    let ahead = remark::title(findings, spoils, layout);
    let line = line(report, (foot(|_| true), ahead), jumps, system)?;
    let mut drawings = vec![("cooler.svg", line)];
    if let Some(depths) = &report.assessment.depths {
        let foot = foot(remark::of_depth);
        drawings.push(("cooler_depth.svg", depth(depths, report, &foot, system)?));
    }
    if let Some(run) = &report.run {
        let foot = foot(remark::of_soak);
        drawings.push(("soak.svg", soak(run, report, foot, system)?));
    }
    let named = drawings.into_iter();
    Ok(named
        .map(|(name, drawing)| (name.to_owned(), drawing.svg))
        .collect())
}
