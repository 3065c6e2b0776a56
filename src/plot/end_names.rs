//! The names at the ends of lines, moved apart where the ends meet.

use super::canvas::{Canvas, Side, Type};
use super::curves::Series;
use super::frame::LEADING;
use super::geometry::{Point, Rect};
use super::style::{INK, PAPER, SHEET_WIDTH, SMALL, SeriesStyle, blend};
use super::text::wrap;

/// Room for the names right of a panel.
pub(crate) const NAME_ROOM: f64 = 152.0;

/// Writes each line's name right of the panel, with its marker and a thin line from its end.
pub(crate) fn write(
    canvas: &mut Canvas,
    rect: Rect,
    series: &[Series],
    lines: &[Vec<Vec<Point>>],
    styles: &[SeriesStyle],
) {
    let left = rect.right + 34.0;
    let width = SHEET_WIDTH - 6.0 - left;
    // A few lines leave room for a name in three rows.
    let rows = if series.len() <= 4 { 3 } else { 2 };
    let mut names: Vec<EndName> = Vec::new();
    for ((one, pieces), style) in series.iter().zip(lines).zip(styles) {
        let Some(&end) = pieces.last().and_then(|piece| piece.last()) else {
            continue;
        };
        names.push(EndName {
            end,
            words: wrap(&one.name, SMALL, false, width, rows),
            style,
        });
    }
    // Ends that meet on the paper stay in the order of the series, whatever their last digits.
    names.sort_by(|a, b| a.end[1].round().total_cmp(&b.end[1].round()));
    let heights: Vec<f64> = names.iter().map(EndName::height).collect();
    let wishes: Vec<f64> = names.iter().map(|name| name.end[1]).collect();
    let middles = apart(&wishes, &heights, rect.top, rect.bottom + 4.0);
    for (name, middle) in names.iter().zip(middles) {
        name.write(canvas, [left, middle]);
    }
}

/// A line's end with its name.
struct EndName<'a> {
    end: Point,
    words: Vec<String>,
    style: &'a SeriesStyle,
}

impl EndName<'_> {
    fn write(&self, canvas: &mut Canvas, [left, middle]: Point) {
        let joint = [left - 16.0, middle];
        canvas.stroke(
            &[self.end, joint],
            blend(PAPER, self.style.colour, 0.55),
            1.2,
            &[],
        );
        canvas.marker(
            [left - 11.0, middle],
            self.style.marker,
            self.style.colour,
            5.0,
        );
        let face = Type::plain(SMALL, blend(self.style.colour, INK, 0.35));
        let first = middle - 0.5 * LEADING * SMALL * (self.words.len() as f64 - 1.0);
        for (row, words) in self.words.iter().enumerate() {
            let at = [left, first + LEADING * SMALL * row as f64];
            canvas.words(words, at, Side::Start, face);
        }
    }

    fn height(&self) -> f64 {
        LEADING * SMALL * self.words.len().max(1) as f64 + 4.0
    }
}

/// Middles near the wished ones (sorted) so that blocks of these heights do not meet.
pub(crate) fn apart(wishes: &[f64], heights: &[f64], top: f64, bottom: f64) -> Vec<f64> {
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
        assert!(
            middles
                .windows(2)
                .all(|pair| pair[1] - pair[0] >= 20.0 - 1e-9),
            "{middles:?}"
        );
        assert!(middles[0] >= 10.0 && middles[2] <= 50.0, "{middles:?}");
    }
}
