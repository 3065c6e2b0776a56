//! The points of a line on a compressor's map.

use super::line::Line;
use crate::map::{CompressorMap, CorrectedFlow, CorrectedSpeed, MapPoint};

/// A value and the engine speed at which it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// The value.
    pub value: f64,
    /// Engine speed, rpm.
    pub rpm: f64,
}

/// Engine speed in rpm, point on the map, power to the air in W, outlet temperature in K.
pub(super) type Placed = (f64, MapPoint, f64, f64);

/// The matches of a line on the map of one stage; `by_map` where the map makes the stage's pressure
/// ratio. Else the given ratio places the point, since a speed line may stand upright.
pub(super) fn placed(line: &Line, stage: usize, map: &CompressorMap, by_map: bool) -> Vec<Placed> {
    let matches = line.matches();
    matches
        .filter_map(|found| {
            let state = found.stages.get(stage)?;
            let flow = CorrectedFlow(state.corrected_flow?);
            let point = match state.corrected_speed {
                Some(speed) if by_map => map.at_speed_and_flow(CorrectedSpeed(speed), flow),
                _ => map.at_flow_and_ratio(flow, state.pressure_ratio),
            };
            Some((
                found.rpm,
                point,
                state.power_to_air,
                state.outlet_temperature,
            ))
        })
        .collect()
}

/// The smallest of a value over the points that have it.
pub(super) fn smallest(points: &[Placed], value: impl Fn(&MapPoint) -> Option<f64>) -> Option<At> {
    let found = points.iter().filter_map(|(rpm, point, ..)| {
        Some(At {
            value: value(point)?,
            rpm: *rpm,
        })
    });
    found.min_by(|a, b| a.value.total_cmp(&b.value))
}
