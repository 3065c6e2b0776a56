//! Speed lines that cross: then flow and ratio no longer tell the speed.

use super::error::MapError;
use super::head;
use super::line::{Line, LineQuantity};

/// Pieces that each interval between two points is cut into.
const PIECES: u32 = 8;

/// A place on a line as drawn: flow, ratio, and the rows it lies between.
type Vertex = (f64, f64, [usize; 2]);

/// Every pair of lines that cross, with the first place where they do.
pub fn find(lines: &[Line]) -> Vec<MapError> {
    let drawn: Vec<Vec<Vertex>> = lines.iter().map(vertices).collect();
    let mut errors = Vec::new();
    for (i, slower) in drawn.iter().enumerate() {
        for (j, faster) in drawn.iter().enumerate().skip(i + 1) {
            if let Some((flow, pressure_ratio, rows)) = first_crossing(slower, faster) {
                let (slower, faster) = (lines[i].speed(), lines[j].speed());
                errors.push(MapError::LinesCross {
                    slower,
                    faster,
                    flow,
                    pressure_ratio,
                    rows,
                });
            }
        }
    }
    errors
}

fn vertices(line: &Line) -> Vec<Vertex> {
    let mut result = Vec::new();
    for (pair, rows) in line.places().windows(2).zip(line.points().windows(2)) {
        for piece in 0..PIECES {
            let u = f64::from(piece) / f64::from(PIECES);
            let locus = line.locate(pair[0] + u * (pair[1] - pair[0]));
            let flow = line.at(LineQuantity::Flow, &locus).value;
            let ratio = head::to_ratio(line.at(LineQuantity::Head, &locus).value);
            result.push((flow, ratio, [rows[0].row, rows[1].row]));
        }
    }
    let last = line.points()[line.points().len() - 1];
    result.push((last.flow, last.pressure_ratio, [last.row, last.row]));
    result
}

fn first_crossing(a: &[Vertex], b: &[Vertex]) -> Option<(f64, f64, [usize; 4])> {
    for p in a.windows(2) {
        for q in b.windows(2) {
            if let Some(share) = crossing(&p[0], &p[1], &q[0], &q[1]) {
                let flow = p[0].0 + share * (p[1].0 - p[0].0);
                let ratio = p[0].1 + share * (p[1].1 - p[0].1);
                return Some((flow, ratio, [p[0].2[0], p[0].2[1], q[0].2[0], q[0].2[1]]));
            }
        }
    }
    None
}

/// How far along p the two pieces cross or touch, if they do.
fn crossing(p0: &Vertex, p1: &Vertex, q0: &Vertex, q1: &Vertex) -> Option<f64> {
    let (px, py) = (p1.0 - p0.0, p1.1 - p0.1);
    let (qx, qy) = (q1.0 - q0.0, q1.1 - q0.1);
    let (dx, dy) = (q0.0 - p0.0, q0.1 - p0.1);
    let cross = px * qy - py * qx;
    if cross == 0.0 {
        return None;
    }
    let along_p = (dx * qy - dy * qx) / cross;
    let along_q = (dx * py - dy * px) / cross;
    let within = |u: f64| (0.0..=1.0).contains(&u);
    (within(along_p) && within(along_q)).then_some(along_p)
}
