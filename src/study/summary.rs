//! A line in a few figures, for lines that are held beside each other.

use super::line::Line;
use super::on_map::{At, placed, smallest};
use crate::air_path::{CompressorPerformance, Part};
use crate::matching::{Drive, Installation, Layout};

/// Relative difference below which two values are one, as the solver leaves them.
const SAME: f64 = 1e-9;

/// A line in a few figures; what it does not have is absent.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Summary {
    /// Smallest surge margin at the same pressure ratio, of all compressors with a map.
    pub surge_margin: Option<At>,
    /// Smallest choke margin, of all compressors with a map.
    pub choke_margin: Option<At>,
    /// Highest speed of a turbocharger's shaft, rpm.
    pub shaft_speed: Option<At>,
    /// Largest boost above the line's own site, Pa.
    pub boost: Option<At>,
}

/// The figures of a line.
pub fn summary(installation: &Installation, layout: &Layout, line: &Line) -> Summary {
    let mut out = Summary::default();
    for (stage, (_, part)) in layout.stages.iter().enumerate() {
        let Part::TurboCompressor(turbo) = &installation.air_path[*part] else {
            continue;
        };
        let Some(map) = &turbo.map else { continue };
        let by_map = matches!(turbo.performance, CompressorPerformance::Map);
        let points = placed(line, stage, map, by_map);
        let surge = smallest(&points, |point| map.margins(point).surge_at_same_ratio);
        let choke = smallest(&points, |point| Some(map.margins(point).choke));
        out.surge_margin = smaller(out.surge_margin, surge);
        out.choke_margin = smaller(out.choke_margin, choke);
    }
    for found in line.matches() {
        let at = |value| At {
            value,
            rpm: found.rpm,
        };
        let boost = found.manifold_pressure - installation.site.pressure;
        out.boost = Some(larger(out.boost, at(boost)));
        for stage in &found.stages {
            if let (Drive::Turbine, Some(speed)) = (stage.drive, stage.speed) {
                out.shaft_speed = Some(larger(out.shaft_speed, at(speed)));
            }
        }
    }
    out
}

fn smaller(known: Option<At>, new: Option<At>) -> Option<At> {
    match (known, new) {
        (Some(known), Some(new)) if new.value < known.value => Some(new),
        (None, new) => new,
        (known, _) => known,
    }
}

fn larger(known: Option<At>, new: At) -> At {
    match known {
        // What is held at one value stays where it was first reached.
        Some(known) if new.value <= known.value + SAME * known.value.abs() => known,
        _ => new,
    }
}
