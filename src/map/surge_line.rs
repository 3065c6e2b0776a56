//! A surge line that a map brings with it.

use super::error::{Column, MapError};
use super::head;
use crate::numeric::monotone::Curve;

/// A surge line of its own, drawn apart from the ends of the speed lines.
#[derive(Debug, Clone, PartialEq)]
pub struct SurgeLine {
    /// Flow, kg/s, over pressure ratio.
    flow: Curve,
}

impl SurgeLine {
    /// Through points (corrected flow in kg/s, pressure ratio) in any order, at least two, no ratio
    /// twice. Errors name the point by its index.
    pub fn new(points: &[(f64, f64)]) -> Result<Self, Vec<MapError>> {
        let mut errors = Vec::new();
        for (row, &(flow, ratio)) in points.iter().enumerate() {
            let checks = [
                (Column::Flow, flow, 0.0, f64::MAX),
                (Column::PressureRatio, ratio, 1.0, 100.0),
            ];
            errors.extend(
                checks
                    .into_iter()
                    .filter_map(|check| MapError::of_value(row, check)),
            );
        }
        let mut order: Vec<usize> = (0..points.len()).collect();
        order.sort_by(|&a, &b| points[a].1.total_cmp(&points[b].1));
        for pair in order.windows(2) {
            if points[pair[0]].1 >= points[pair[1]].1 {
                errors.push(MapError::Contradiction {
                    first: pair[0].min(pair[1]),
                    second: pair[0].max(pair[1]),
                });
            }
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let ratios = order.iter().map(|&i| points[i].1).collect();
        let flows = order.iter().map(|&i| points[i].0).collect();
        match Curve::new(ratios, flows, 0.0) {
            Some(flow) => Ok(Self { flow }),
            None => Err(vec![MapError::TooFewPoints {
                speed: 0.0,
                rows: order,
                needed: 2,
            }]),
        }
    }

    /// Surge flow at a pressure ratio: none above the last point, towards (0, 1) below the first.
    pub(super) fn at_ratio(&self, ratio: f64) -> Option<f64> {
        let (lowest, highest) = self.flow.range();
        if ratio > highest * (1.0 + 1e-12) {
            return None;
        }
        let (flow, _) = self.flow.at(ratio);
        // By similarity flow goes with the root of head.
        let below = (head::from_ratio(ratio).max(0.0) / head::from_ratio(lowest)).sqrt();
        Some(flow * below.min(1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Similarity of one wheel at two speeds: flow goes with speed, head with its square (any textbook of
    /// turbomachinery). Head at 1.2 over that at 1.5, (1.2^(2/7) − 1)/(1.5^(2/7) − 1) = 0.43536, by hand; its
    /// root times 0.1 kg/s is 0.065982 kg/s. The last digit.
    #[test]
    fn below_its_first_point_surge_flow_goes_with_the_root_of_head() {
        let line = SurgeLine::new(&[(0.1, 1.5), (0.2, 2.5)]).unwrap();
        assert_relative_eq!(line.at_ratio(1.2).unwrap(), 0.065_982, epsilon = 1e-6);
        assert_relative_eq!(line.at_ratio(1.5).unwrap(), 0.1, max_relative = 1e-12);
        assert!(line.at_ratio(1.0).unwrap().abs() < 1e-12);
        assert_eq!(line.at_ratio(2.6), None);
    }
}
