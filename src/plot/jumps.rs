//! Lines that jump: at a fold the matches of two neighbouring speeds lie on different branches, and
//! nothing lies between them. The line ends there, a thin dashed connector leads to where it goes on,
//! and the word "jump" stands beside it.

use super::axis::number;
use super::canvas::{Canvas, Type};
use super::curves::Event;
use super::geometry::Point;
use super::placing::{Placer, Wish};
use super::style::{Colour, INK, SMALL, blend};

/// Two neighbouring speeds between which a line jumps, in units of the level axis' SI; for a map the
/// engine speeds, rpm.
pub type Jump = (f64, f64);

/// The word at a connector.
const WORD: &str = "jump";
/// Shorter than the line's own dashes, so that it is not taken for a piece of the line.
const DASH: &[f64] = &[2.5, 3.5];
const WIDTH: f64 = 1.8;

/// Whether one of the jumps lies between two neighbouring places.
pub(crate) fn between(jumps: &[Jump], from: f64, to: f64) -> bool {
    let [low, high] = if from <= to { [from, to] } else { [to, from] };
    let touching = 1e-9 * high.abs().max(low.abs());
    jumps.iter().any(|&(a, b)| {
        let (start, end) = (a.min(b).max(low), a.max(b).min(high));
        end - start > touching
    })
}

/// The connectors of a line: from the end of one run to the start of the next.
pub(crate) type Connectors = Vec<[Point; 2]>;

/// Draws the connectors in a line's colour.
pub(crate) fn connect(
    canvas: &mut Canvas,
    placer: &mut Placer,
    connectors: &[[Point; 2]],
    colour: Colour,
) {
    for ends in connectors {
        canvas.stroke(ends, colour, WIDTH, DASH);
        placer.avoid(ends, 2.0);
    }
}

/// Writes the word beside each connector; where the lines of several builds or layouts jump at one
/// place it is written once. Returns whether all had room.
pub(crate) fn words(
    canvas: &mut Canvas,
    placer: &mut Placer,
    connectors: &[(Connectors, Colour)],
) -> bool {
    const WISH: Wish = Wish {
        directions: &[
            (1.0, 0.0),
            (-1.0, 0.0),
            (1.0, -1.0),
            (-1.0, -1.0),
            (1.0, 1.0),
            (-1.0, 1.0),
            (0.0, -1.0),
            (0.0, 1.0),
        ],
        gaps: &[5.0, 12.0, 24.0],
        most: 200.0,
        order: 2.0,
        leader: true,
    };
    let mut written: Vec<Point> = Vec::new();
    let mut all = true;
    for (connectors, colour) in connectors {
        for &[from, to] in connectors {
            let at = |share: f64| {
                [
                    from[0] + share * (to[0] - from[0]),
                    from[1] + share * (to[1] - from[1]),
                ]
            };
            let near = |other: &Point| {
                (other[0] - at(0.5)[0]).abs() < 12.0 && (other[1] - at(0.5)[1]).abs() < 60.0
            };
            if written.iter().any(near) {
                continue;
            }
            written.push(at(0.5));
            let places = [0.5, 0.3, 0.7, 0.1, 0.9].map(at);
            let face = Type::plain(SMALL, blend(*colour, INK, 0.35));
            all &= placer.label(canvas, WORD, face, &places, &WISH);
        }
    }
    all
}

/// Marks of the jumps above a panel of stacked areas, where no word finds room beside a connector.
pub(crate) fn marks(jumps: &[Jump]) -> Vec<Event> {
    let mark = |&(from, to): &Jump| Event {
        at: f64::midpoint(from, to),
        words: format!("{WORD} {} rpm", number(f64::midpoint(from, to), 1.0)),
    };
    jumps.iter().map(mark).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jump_lies_between_its_own_two_speeds_and_no_others() {
        let jumps = [(2310.0, 2311.0)];
        assert!(between(&jumps, 2310.0, 2311.0) && between(&jumps, 2311.0, 2310.0));
        assert!(!between(&jumps, 2300.0, 2310.0) && !between(&jumps, 2311.0, 2400.0));
        assert!(!between(&[], 2310.0, 2311.0));
        // Where a row of the line is left out, its neighbours stand for it.
        assert!(between(&jumps, 2300.0, 2400.0) && between(&jumps, 2310.0, 2400.0));
    }
}
