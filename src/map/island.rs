//! Contours of efficiency, found on the map's own coordinates and carried to flow and ratio.
//!
//! Speed and place make the map a rectangle, on which the `contour` crate finds rings; carried over,
//! they end on the surge and choke edges and on the outermost lines, and nowhere else.

use contour::ContourBuilder;

use super::compressor::CompressorMap;
use super::outline::FlowAndRatio;

/// Grid points along a line, and across speed.
const GRID: usize = 121;

/// One level of efficiency.
#[derive(Debug, Clone, PartialEq)]
pub struct Island {
    /// Efficiency of the contour.
    pub level: f64,
    /// Closed rings around what is at least the level, along the map's edges where it goes on beyond
    /// them; a ring inside another is a hole (fill by the even-odd rule).
    pub rings: Vec<Vec<FlowAndRatio>>,
    /// The contour itself: the rings without their stretches along the map's edges.
    pub lines: Vec<Vec<FlowAndRatio>>,
}

/// A vertex of a ring on the grid, and whether it lies on the frame outside the data.
#[derive(Debug, Clone, Copy)]
struct Vertex {
    at: FlowAndRatio,
    on_frame: bool,
}

/// Islands of efficiency at the given levels; a level that the map does not reach has no rings, and
/// one that is not a number is left out. A single speed line has no area and gives none.
pub fn efficiency_islands(map: &CompressorMap, levels: &[f64]) -> Vec<Island> {
    let (slowest, fastest) = (map.speeds().0.0, map.speeds().1.0);
    let levels: Vec<f64> = levels
        .iter()
        .copied()
        .filter(|level| level.is_finite())
        .collect();
    if map.lines().len() < 2 {
        return Vec::new();
    }
    let last = (GRID - 1) as f64;
    let speed_at = |row: f64| slowest + (fastest - slowest) * row / last;
    let mut values = Vec::with_capacity(GRID * GRID);
    for row in 0..GRID {
        for column in 0..GRID {
            let place = column as f64 / last;
            values.push(map.surface.at(speed_at(row as f64), place).efficiency);
        }
    }
    let carried = |x: f64, y: f64| {
        // The crate puts the value of column i at x = i + 1/2 and closes rings half a cell outside.
        let (column, row) = (x - 0.5, y - 0.5);
        let outside = |v: f64| v < -1e-9 || v > last + 1e-9;
        let place = column.clamp(0.0, last) / last;
        Vertex {
            at: map.drawn(speed_at(row.clamp(0.0, last)), place),
            on_frame: outside(column) || outside(row),
        }
    };
    let builder = ContourBuilder::new(GRID, GRID, true);
    // The one error the crate knows is a grid of the wrong size.
    let found = builder.lines(&values, &levels).unwrap_or_default();
    let island = |line: &contour::Line| {
        let rings: Vec<Vec<Vertex>> = line
            .geometry()
            .0
            .iter()
            .map(|ring| ring.0.iter().map(|c| carried(c.x, c.y)).collect())
            .collect();
        Island {
            level: line.threshold(),
            lines: rings.iter().flat_map(|ring| inner_pieces(ring)).collect(),
            rings: rings
                .into_iter()
                .map(|r| r.iter().map(|v| v.at).collect())
                .collect(),
        }
    };
    found.iter().map(island).collect()
}

/// The stretches of a closed ring that do not lie on the frame.
fn inner_pieces(ring: &[Vertex]) -> Vec<Vec<FlowAndRatio>> {
    let Some(frame) = ring.iter().position(|v| v.on_frame) else {
        return vec![ring.iter().map(|v| v.at).collect()];
    };
    // Closed rings repeat their first vertex; begin on the frame so that no stretch is cut in two.
    let closed = &ring[..ring.len().saturating_sub(1)];
    let turned = closed.iter().cycle().skip(frame).take(closed.len() + 1);
    let mut pieces = Vec::new();
    let mut piece = Vec::new();
    for vertex in turned {
        if !vertex.on_frame {
            piece.push(vertex.at);
        } else if !piece.is_empty() {
            pieces.push(std::mem::take(&mut piece));
        }
    }
    pieces.retain(|piece: &Vec<FlowAndRatio>| piece.len() > 1);
    pieces
}
