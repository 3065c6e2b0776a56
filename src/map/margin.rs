//! How far a point is from surge and choke, each margin named by what is held.

use super::compressor::{CompressorMap, MapPoint};
use super::head;
use super::surge_line::SurgeLine;
use crate::numeric::bracketed;

/// Margins of a point, as shares: positive inside, negative beyond.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margins {
    /// (m - m_surge)/m with the surge flow at the same pressure ratio; none above the last point of
    /// the surge line, where no such flow exists.
    pub surge_at_same_ratio: Option<f64>,
    /// (m - m_surge)/m with the surge flow at the same speed.
    pub surge_at_same_speed: f64,
    /// (m_choke - m)/m_choke at the same speed.
    pub choke: f64,
}

impl CompressorMap {
    /// The same map with a surge line of its own.
    #[must_use]
    pub fn with_surge_line(mut self, surge_line: SurgeLine) -> Self {
        self.surge_line = Some(surge_line);
        self
    }

    /// Whether the map has a surge line of its own.
    pub fn has_surge_line(&self) -> bool {
        self.surge_line.is_some()
    }

    /// The margins of a point of this map.
    pub fn margins(&self, point: &MapPoint) -> Margins {
        let flow = point.flow.0.max(f64::MIN_POSITIVE);
        let speed = point.speed.0;
        let choke = self.surface.flow(speed, 1.0).value.max(f64::MIN_POSITIVE);
        Margins {
            surge_at_same_ratio: self
                .surge_flow_at_ratio(point.pressure_ratio)
                .map(|surge| 1.0 - surge / flow),
            surge_at_same_speed: 1.0 - self.surge_flow_at_speed(speed) / flow,
            choke: 1.0 - point.flow.0 / choke,
        }
    }

    /// Corrected flow of the surge line at a pressure ratio, kg/s; none above its last point.
    pub fn surge_flow_at_ratio(&self, ratio: f64) -> Option<f64> {
        if let Some(line) = &self.surge_line {
            return line.at_ratio(ratio);
        }
        let head = head::from_ratio(ratio).max(0.0);
        let lines = self.lines();
        let ends = |i: usize| lines[i].points()[0].head;
        // The fastest stretch of the surge edge that holds the head.
        let top = lines.len() - 1;
        if head > ends(top) * (1.0 + 1e-12) {
            let below = (0..top).rev().find(|&i| ends(i) >= head)?;
            return Some(self.edge_flow(head, (lines[below].speed(), lines[below + 1].speed())));
        }
        let slower = (0..top).rev().find(|&i| ends(i) <= head);
        let Some(slower) = slower else {
            // Below the slowest line, by similarity.
            let first = lines[0].points()[0];
            return Some(first.flow * (head / first.head).sqrt().min(1.0));
        };
        Some(self.edge_flow(head, (lines[slower].speed(), lines[slower + 1].speed())))
    }

    /// Flow of the surge edge at a head that lies between two speeds.
    fn edge_flow(&self, head: f64, (low, high): (f64, f64)) -> f64 {
        let rising = self.surface.head(high, 0.0).value >= self.surface.head(low, 0.0).value;
        let sign = if rising { 1.0 } else { -1.0 };
        let miss = |speed: f64| {
            let here = self.surface.head(speed, 0.0);
            (sign * (here.value - head), sign * here.by_speed)
        };
        let speed = bracketed::first_not_below(miss, (low, high), low, 0.0);
        self.surface.flow(speed, 0.0).value
    }

    /// Corrected flow of the surge line at a speed, rpm, in kg/s.
    pub fn surge_flow_at_speed(&self, speed: f64) -> f64 {
        let own_end = self.surface.flow(speed, 0.0).value;
        let Some(line) = &self.surge_line else {
            return own_end;
        };
        // Where the speed line meets the surge line: flow beyond it on the stable side.
        let beyond = |place: f64| {
            let here = self.surface.at(speed, place);
            let surge = line.at_ratio(head::to_ratio(here.head)).unwrap_or(f64::MAX);
            (here.flow - surge, 0.0)
        };
        let (low, high) = (-1.0, 1.0);
        if beyond(high).0 < 0.0 {
            return self.surface.flow(speed, high).value;
        }
        if beyond(low).0 >= 0.0 {
            return self.surface.flow(speed, low).value;
        }
        let place = bracketed::first_not_below(beyond, (low, high), 0.0, 0.0);
        self.surface.flow(speed, place).value
    }
}
