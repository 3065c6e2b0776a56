//! Points of an explicit surge line have to lie near the surge ends of the speed lines.

use super::figures::digits;
use crate::input::map_file::reading::Reading;
use crate::map::CompressorMap;
use crate::map::line::Line;

/// How far a surge point may lie from the speed lines' ends, as a factor in flow.
const NEAR: (f64, f64) = (0.4, 1.8);
/// How far above the map's highest ratio a surge point may lie.
const ABOVE: f64 = 1.4;

impl Reading {
    /// `surge` as line in the file, flow in kg/s and pressure ratio.
    pub(in crate::input::map_file) fn doubt_surge(
        &mut self,
        map: &CompressorMap,
        surge: &[(usize, f64, f64)],
    ) {
        // Flow and ratio at the surge end of each line.
        let ends: Vec<(f64, f64)> = map
            .lines()
            .iter()
            .filter_map(|line| line.points().first())
            .map(|point| (point.flow, point.pressure_ratio))
            .collect();
        let highest = map
            .lines()
            .iter()
            .flat_map(Line::points)
            .map(|point| point.pressure_ratio)
            .fold(1.0, f64::max);
        for &(line, flow, ratio) in surge {
            if ratio - 1.0 > ABOVE * (highest - 1.0) {
                let text = format!(
                    "a pressure ratio of {ratio} is far above the map, which ends at {}: a typing error?",
                    digits(highest)
                );
                self.fault(line, "surge", text);
                continue;
            }
            let there = flow_at(&ends, ratio);
            let share = flow / there;
            if share < NEAR.0 || share > NEAR.1 {
                let text = format!(
                    "the flow is {} times that at which the speed lines begin near a pressure ratio of \
                     {ratio} ({} kg/s): another unit, or a typing error?",
                    digits(share),
                    digits(there)
                );
                self.fault(line, "surge", text);
            }
        }
    }
}

/// Flow at the surge ends at a ratio. Beyond them with the root of PR - 1, as flow goes with speed and
/// PR - 1 nearly with its square.
fn flow_at(ends: &[(f64, f64)], ratio: f64) -> f64 {
    let mut by_ratio = ends.to_vec();
    by_ratio.sort_by(|a, b| a.1.total_cmp(&b.1));
    let pair = by_ratio
        .windows(2)
        .find(|pair| pair[0].1 <= ratio && ratio <= pair[1].1);
    if let Some(&[(a, low), (b, high)]) = pair {
        let share = if high > low {
            (ratio - low) / (high - low)
        } else {
            0.0
        };
        return a + share * (b - a);
    }
    let end = if by_ratio.first().is_some_and(|first| ratio < first.1) {
        by_ratio.first()
    } else {
        by_ratio.last()
    };
    end.map_or(f64::NAN, |&(flow, at)| {
        flow * ((ratio - 1.0) / (at - 1.0)).max(0.0).sqrt()
    })
}
