//! The map as lines to draw: speed lines and edges as points (flow, pressure ratio).

use super::compressor::CompressorMap;
use super::corrected::CorrectedSpeed;

/// A point to draw: corrected flow, kg/s, and pressure ratio.
pub type FlowAndRatio = (f64, f64);

/// A speed line to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedLine {
    /// Its speed.
    pub speed: CorrectedSpeed,
    /// From surge to choke.
    pub points: Vec<FlowAndRatio>,
}

/// Pieces between two data points: short enough to look smooth at any size of drawing.
const PIECES: u32 = 12;

impl CompressorMap {
    /// Flow and ratio at a speed, rpm, and place.
    pub(super) fn drawn(&self, speed: f64, place: f64) -> FlowAndRatio {
        let point = self.point(speed, place, None);
        (point.flow.0, point.pressure_ratio)
    }

    /// The speed lines, slowest first; data points are among the points.
    pub fn speed_lines(&self) -> Vec<SpeedLine> {
        let line = |line: &super::line::Line| SpeedLine {
            speed: CorrectedSpeed(line.speed()),
            points: cut(line.places())
                .map(|place| self.drawn(line.speed(), place))
                .collect(),
        };
        self.lines().iter().map(line).collect()
    }

    /// The surge ends of the lines joined, slowest first. Empty for a single line.
    pub fn surge_edge(&self) -> Vec<FlowAndRatio> {
        self.edge(0.0)
    }

    /// The choke ends of the lines joined, slowest first. Empty for a single line.
    pub fn choke_edge(&self) -> Vec<FlowAndRatio> {
        self.edge(1.0)
    }

    fn edge(&self, place: f64) -> Vec<FlowAndRatio> {
        let speeds: Vec<f64> = self.lines().iter().map(super::line::Line::speed).collect();
        if speeds.len() < 2 {
            return Vec::new();
        }
        cut(&speeds).map(|speed| self.drawn(speed, place)).collect()
    }
}

/// Values between the given ones, those included.
fn cut(values: &[f64]) -> impl Iterator<Item = f64> + '_ {
    let between = values.windows(2).flat_map(|pair| {
        let (from, to) = (pair[0], pair[1]);
        (0..PIECES).map(move |i| from + (to - from) * f64::from(i) / f64::from(PIECES))
    });
    between.chain(values.last().copied())
}
