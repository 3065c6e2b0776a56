//! The names at the right ends of lines and areas, moved apart where the ends meet.

use super::canvas::{Canvas, Type};
use super::frame::Frame;
use super::geometry::{Point, Rect};
use super::layer::{Area, Layer, Line, Naming};
use super::style::{Colour, INK, LEADING, Look, Marker, PAPER, RULE, SHEET_WIDTH, SMALL, blend};
use super::text::wrap;

/// Room for the names right of a frame.
pub(crate) const ROOM: f64 = 152.0;
/// From the frame to the sample, and from there to the words.
const SAMPLE_AT: f64 = 23.0;
const WORDS_AT: f64 = 34.0;

/// A line's or an area's end with its name.
struct EndName {
    end: Point,
    words: Vec<String>,
    sample: Sample,
}

enum Sample {
    Line(Look),
    Ground(Colour),
}

/// Whether some layer has its name at its end.
pub(crate) fn are_wanted(layers: &[Layer]) -> bool {
    layers.iter().any(|layer| match layer {
        Layer::Line(line) => line.naming == Naming::End,
        Layer::Area(area) => area.naming == Naming::End,
        _ => false,
    })
}

/// Writes each name right of the frame, with its sample and a thin line from its end.
pub(crate) fn write(canvas: &mut Canvas, frame: &Frame, layers: &[Layer]) {
    let left = frame.rect.right + WORDS_AT;
    let wanted = || layers.iter().filter_map(|layer| of_layer(layer, frame));
    // A few names leave room for three rows each.
    let rows = if wanted().count() <= 4 { 3 } else { 2 };
    let named = wanted().map(|(name, end, sample)| EndName {
        end,
        words: wrap(name, SMALL, false, SHEET_WIDTH - 6.0 - left, rows),
        sample,
    });
    let mut names: Vec<EndName> = named.collect();
    // Ends that meet on the paper stay in the order of the layers, whatever their last digits.
    names.sort_by(|a, b| a.end[1].round().total_cmp(&b.end[1].round()));
    let heights: Vec<f64> = names.iter().map(EndName::height).collect();
    let wishes: Vec<f64> = names.iter().map(|name| name.end[1]).collect();
    let middles = apart(&wishes, &heights, frame.rect.top, frame.rect.bottom + 4.0);
    for (name, middle) in names.iter().zip(middles) {
        name.write(canvas, [left, middle]);
    }
}

fn of_layer<'l>(layer: &'l Layer, frame: &Frame) -> Option<(&'l str, Point, Sample)> {
    match layer {
        Layer::Line(
            line @ Line {
                naming: Naming::End,
                ..
            },
        ) => {
            let end = *line.pieces.last()?.last()?;
            let look = line.meaning.look();
            let marker = if line.has_markers {
                look.marker
            } else {
                Marker::None
            };
            Some((
                &line.name,
                frame.at(end),
                Sample::Line(Look { marker, ..look }),
            ))
        }
        Layer::Area(
            area @ Area {
                naming: Naming::End,
                ..
            },
        ) => {
            let [lower, upper] = area.pieces.last()?;
            let (low, high) = (frame.at(*lower.last()?), frame.at(*upper.last()?));
            let end = [low[0], f64::midpoint(low[1], high[1])];
            Some((&area.name, end, Sample::Ground(area.meaning.ground())))
        }
        _ => None,
    }
}

impl EndName {
    fn write(&self, canvas: &mut Canvas, [left, middle]: Point) {
        let sample = [left - WORDS_AT + SAMPLE_AT, middle];
        let joint = [sample[0] - 5.0, middle];
        match self.sample {
            Sample::Line(look) => {
                let leader = blend(PAPER, look.colour, 0.55);
                canvas.stroke(&[self.end, joint], leader, 1.2, &[]);
                if look.marker == Marker::None {
                    let piece = [joint, [left - 6.0, middle]];
                    canvas.stroke(&piece, look.colour, look.width, &[]);
                }
                canvas.marker(sample, look.marker, look.colour, 5.0);
                let face = Type::plain(SMALL, blend(look.colour, INK, 0.35));
                canvas.column(&self.words, [left, middle], face, LEADING * SMALL);
            }
            Sample::Ground(colour) => {
                canvas.stroke(&[self.end, joint], RULE, 1.2, &[]);
                let block = Rect::around(sample, 14.0, 16.0);
                canvas.block(block, blend(colour, INK, 0.6));
                canvas.block(block.grown(-1.2), colour);
                canvas.column(
                    &self.words,
                    [left, middle],
                    Type::plain(SMALL, INK),
                    LEADING * SMALL,
                );
            }
        }
    }

    fn height(&self) -> f64 {
        LEADING * SMALL * self.words.len().max(1) as f64 + 4.0
    }
}

/// Middles near the wished ones (sorted) so that blocks of these heights do not meet.
fn apart(wishes: &[f64], heights: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut middles = Vec::with_capacity(wishes.len());
    let mut edge = top;
    for (wish, height) in wishes.iter().zip(heights) {
        let middle = wish.max(edge + height / 2.0);
        edge = middle + height / 2.0;
        middles.push(middle);
    }
    let mut edge = bottom;
    for (middle, height) in middles.iter_mut().zip(heights).rev() {
        *middle = middle.min(edge - height / 2.0);
        edge = *middle - height / 2.0;
    }
    middles
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_whose_ends_meet_are_moved_apart_and_stay_inside() {
        let middles = apart(&[10.0, 10.0, 11.0], &[20.0, 20.0, 20.0], 0.0, 60.0);
        let mut pairs = middles.windows(2);
        assert!(
            pairs.all(|pair| pair[1] - pair[0] >= 20.0 - 1e-9),
            "{middles:?}"
        );
        assert!(middles[0] >= 10.0 && middles[2] <= 50.0, "{middles:?}");
    }
}
