//! What happens along a line in sentences, one a line; where the way down differs last.

use super::fields::cell::with_unit;
use super::fields::line::LineReport;
use crate::quantity::{Kind, UnitSystem, shown};

/// The events of a line in sentences.
pub(super) fn events_text(line: &LineReport, system: UnitSystem) -> String {
    let alone = |si: f64| shown(si, Kind::AbsolutePressure, system);
    let absolute = |si: f64| with_unit(si, Kind::AbsolutePressure, system);
    let mut out = String::new();
    for told in &line.events {
        out.push_str(&format!("At {:.0} rpm {}", told.event.rpm, told.words));
        if let Some((from, to)) = told.jump() {
            out.push_str(&format!(
                ": manifold from {} to {}",
                alone(from),
                absolute(to)
            ));
        }
        out.push_str(".\n");
    }
    for band in &line.hysteresis {
        out.push_str(&format!(
            "Coming down, {:.0} to {:.0} rpm differ: in their middle the manifold is at {} instead of \
             {}.\n",
            band.from,
            band.to,
            absolute(band.downward),
            alone(band.upward),
        ));
    }
    out
}
