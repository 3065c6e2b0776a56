//! The points of a line on the compressor maps of its stages.

use std::sync::Arc;

use super::line::OperatingLine;
use crate::finding::points_on_maps;
use crate::map::{CompressorMap, MapPoint};
use crate::matching::{Installation, Layout};

/// A choke margin below this is nearly choked (common practice).
pub const NEARLY_CHOKED: f64 = 0.05;

/// A value and the engine speed at which it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ValueAtSpeed {
    /// The value.
    pub value: f64,
    /// Engine speed, rpm.
    pub rpm: f64,
}

/// A line on the map of one stage: a turbo compressor's, or that of a supercharger with a wheel.
#[derive(Debug)]
pub struct LineOnMap<'a> {
    /// The stage's place in the layout.
    pub stage: usize,
    /// Its name in the layout.
    pub name: &'a str,
    /// Its map.
    pub map: &'a Arc<CompressorMap>,
    /// Each match that has a point on it, rising in speed. A supercharger whose clutch is out has
    /// none.
    pub points: Vec<MatchOnMap>,
}

/// One match on a map.
#[derive(Debug, Clone, Copy)]
pub struct MatchOnMap {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Where it lies on the map.
    pub point: MapPoint,
    /// The stage's pressure ratio.
    pub ratio: f64,
    /// Power that the stage gives to the air, W.
    pub power_to_air: f64,
    /// Temperature behind it, K.
    pub outlet_temperature: f64,
}

/// A line on the map of each stage that has one, in flow order.
pub fn on_maps<'a>(
    installation: &'a Installation,
    layout: &'a Layout,
    line: &OperatingLine,
) -> Vec<LineOnMap<'a>> {
    let mut out: Vec<LineOnMap> = Vec::new();
    for (stage, (name, part)) in layout.stages.iter().enumerate() {
        let map = installation.air_path.get(*part);
        if let Some(map) = map.and_then(|part| part.compressor_map()) {
            out.push(LineOnMap {
                stage,
                name,
                map,
                points: Vec::new(),
            });
        }
    }
    for found in line.matches() {
        for (stage, _, point) in points_on_maps(installation, layout, found) {
            let state = &found.stages[stage];
            let on = out.iter_mut().find(|on| on.stage == stage);
            if let Some(on) = on {
                on.points.push(MatchOnMap {
                    rpm: found.rpm,
                    point,
                    ratio: state.pressure_ratio,
                    power_to_air: state.power_to_air,
                    outlet_temperature: state.outlet_temperature,
                });
            }
        }
    }
    out
}

impl LineOnMap<'_> {
    /// The smallest surge margin at the same pressure ratio, where it exists.
    pub fn surge_margin(&self) -> Option<ValueAtSpeed> {
        self.smallest(|point| self.map.margins(point).surge_at_same_ratio)
    }

    /// The smallest choke margin.
    pub fn choke_margin(&self) -> Option<ValueAtSpeed> {
        self.smallest(|point| Some(self.map.margins(point).choke))
    }

    /// The smallest of a value over the points that have it; of equals the first.
    fn smallest(&self, value: impl Fn(&MapPoint) -> Option<f64>) -> Option<ValueAtSpeed> {
        let found = self.points.iter().filter_map(|placed| {
            Some(ValueAtSpeed {
                value: value(&placed.point)?,
                rpm: placed.rpm,
            })
        });
        found.min_by(|a, b| a.value.total_cmp(&b.value))
    }
}
