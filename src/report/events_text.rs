//! What happens along a line in sentences, one a line; where the way down differs last.

use super::fields::cell::with_unit;
use super::fields::line::LineReport;
use super::wrap::wrapped;
use crate::quantity::{Kind, UnitSystem, shown};

/// The events of a line in sentences.
pub(super) fn events_text(line: &LineReport, system: UnitSystem) -> String {
    let alone = |si: f64| shown(si, Kind::AbsolutePressure, system);
    let absolute = |si: f64| with_unit(si, Kind::AbsolutePressure, system);
    let mut out = String::new();
    for told in &line.events {
        let jump = told.jump().map_or_else(String::new, |(from, to)| {
            format!(": manifold from {} to {}", alone(from), absolute(to))
        });
        let said = format!("At {:.0} rpm {}{jump}.", told.event.rpm, told.words);
        out.push_str(&wrapped(&said, 0));
    }
    for band in &line.hysteresis {
        let said = format!(
            "Coming down, {:.0} to {:.0} rpm differ: in their middle the manifold is at {} instead of {}.",
            band.from,
            band.to,
            absolute(band.downward),
            alone(band.upward),
        );
        out.push_str(&wrapped(&said, 0));
    }
    out
}
