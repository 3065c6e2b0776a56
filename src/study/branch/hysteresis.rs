//! Where the way down stands in another state than the way up.

use super::event::EVENT_WIDTH;
use super::{Branch, STRIDE};
use crate::matching::{LayoutError, Solver};

/// Relative difference of manifold pressure or air flow that makes two states of one speed.
const ANOTHER: f64 = 1e-5;

/// Speeds between which an engine that comes down stands in another state than one that goes up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hysteresis {
    /// Lowest such speed, rpm.
    pub from: f64,
    /// Highest such speed, rpm.
    pub to: f64,
    /// In the middle of them, absolute manifold pressure on the way up, Pa.
    pub upward: f64,
    /// In the middle of them, absolute manifold pressure on the way down, Pa.
    pub downward: f64,
}

impl Branch<'_> {
    /// The branch downward from where this one stands at the line's last speed.
    fn downward(&mut self) -> Result<Self, LayoutError> {
        let installation = self.solver.installation();
        let first = self.node_at(installation.engine.speeds.to);
        Ok(Self::starting(
            Solver::new(installation)?,
            first,
            1.0 / STRIDE,
        ))
    }

    /// Where an engine that comes down from the line's last speed stands in another state.
    pub fn hysteresis(&mut self) -> Result<Vec<Hysteresis>, LayoutError> {
        let speeds = self.solver.installation().engine.speeds;
        self.march_past(speeds.to);
        let mut down = self.downward()?;
        let mut bands = Vec::new();
        let mut open: Option<f64> = None;
        let mut last = speeds.from;
        let rpms: Vec<f64> = self.nodes.iter().map(|node| node.rpm).collect();
        for rpm in rpms
            .into_iter()
            .filter(|rpm| *rpm < speeds.to)
            .chain([speeds.to])
        {
            let apart = self.apart(&mut down, rpm);
            match (open, apart) {
                (None, true) => open = Some(self.edge(&mut down, last, rpm)),
                (Some(from), false) => {
                    let to = self.edge(&mut down, rpm, last);
                    bands.extend(self.band(&mut down, from, to));
                    open = None;
                }
                _ => {}
            }
            last = rpm;
        }
        if let Some(from) = open {
            bands.extend(self.band(&mut down, from, speeds.to));
        }
        Ok(bands)
    }

    /// Whether the two ways stand in different states at a speed. Where one of them has lost its
    /// branch there is nothing to compare.
    fn apart(&mut self, down: &mut Self, rpm: f64) -> bool {
        let (Some(up), Some(down)) = (self.standing(rpm), down.standing(rpm)) else {
            return false;
        };
        let far = |a: f64, b: f64| (a - b).abs() > ANOTHER * b.abs();
        far(up.0, down.0) || far(up.1, down.1)
    }

    /// Manifold pressure, Pa, and air flow, kg/s, on the branch; none where it is lost.
    fn standing(&mut self, rpm: f64) -> Option<(f64, f64)> {
        if self.is_past(self.nodes[0].rpm, rpm) {
            return None;
        }
        self.march(rpm);
        let nodes = &self.nodes;
        let last = nodes.partition_point(|node| !self.is_past(node.rpm, rpm)) - 1;
        nodes[last].state.as_ref().ok()?;
        let state = self.node_at(rpm).state.ok()?;
        Some((state.manifold_pressure, state.air_mass_flow))
    }

    /// The speed between one at which the ways are one and one at which they are apart.
    fn edge(&mut self, down: &mut Self, mut one: f64, mut apart: f64) -> f64 {
        while (apart - one).abs() > EVENT_WIDTH {
            let middle = 0.5 * (one + apart);
            if self.apart(down, middle) {
                apart = middle;
            } else {
                one = middle;
            }
        }
        0.5 * (one + apart)
    }

    fn band(&mut self, down: &mut Self, from: f64, to: f64) -> Option<Hysteresis> {
        let middle = 0.5 * (from + to);
        Some(Hysteresis {
            from,
            to,
            upward: self.standing(middle)?.0,
            downward: down.standing(middle)?.0,
        })
    }
}
