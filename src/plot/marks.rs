//! Upright marks: words in rows above a panel, each joined to its place by a line.

use super::canvas::{Canvas, Side, Type};
use super::geometry::Rect;
use super::style::{EDGE, INK, SHEET_WIDTH, SMALL};
use super::text::{clean, fit};

/// One mark.
#[derive(Debug)]
pub(crate) struct Mark {
    x: f64,
    words: String,
}

/// Height of a row of words.
const ROW: f64 = 1.3 * SMALL;
/// Distance of the words from their line.
const GAP: f64 = 6.0;
const FACE: Type = Type::plain(SMALL, INK);

impl Mark {
    pub(crate) fn new(x: f64, words: &str) -> Self {
        let words = fit(&clean(words), SMALL, false, 0.44 * SHEET_WIDTH);
        Self { x, words }
    }

    /// The boxes it may take in a row whose middle is at 0, the best first.
    fn rooms(&self, leftwards: bool) -> Vec<Rect> {
        let right = FACE.room(&self.words, [self.x + GAP, 0.0], Side::Start);
        let left = FACE.room(&self.words, [self.x - GAP, 0.0], Side::End);
        let middle = FACE.room(&self.words, [self.x, 0.0], Side::Middle);
        let mut rooms = if leftwards {
            vec![left, right]
        } else {
            vec![right, left]
        };
        rooms.push(middle);
        let sheet = |room: &Rect| room.left >= EDGE && room.right <= SHEET_WIDTH - EDGE;
        rooms.retain(sheet);
        if rooms.is_empty() {
            let half = middle.width() / 2.0;
            let centre = self.x.clamp(EDGE + half, SHEET_WIDTH - EDGE - half);
            rooms.push(FACE.room(&self.words, [centre, 0.0], Side::Middle));
        }
        rooms
    }
}

/// A mark that has its place: row counted upwards from the panel, and box in that row.
struct Placed {
    mark: usize,
    row: usize,
    room: Rect,
}

/// Gives each mark a row: outer marks first, their words turned outwards, so that the lines of the
/// inner ones can pass between them.
fn rows(marks: &[Mark]) -> Vec<Placed> {
    let mut order: Vec<usize> = (0..marks.len()).collect();
    order.sort_by(|&a, &b| marks[a].x.total_cmp(&marks[b].x));
    let mut placed: Vec<Placed> = Vec::new();
    while !order.is_empty() {
        let leftwards = placed.len().is_multiple_of(2) && order.len() > 1;
        let mark = if leftwards || order.len() == 1 {
            order.remove(0)
        } else {
            order.remove(order.len() - 1)
        };
        let rooms = marks[mark].rooms(leftwards);
        let found = (0..=marks.len()).find_map(|row| {
            let free = |room: &&Rect| is_free(room, (marks[mark].x, row), marks, &order, &placed);
            rooms
                .iter()
                .find(free)
                .map(|&room| Placed { mark, row, room })
        });
        // Lines of inner marks stand in every row's way: above all words there is room for sure.
        let highest = placed.iter().map(|one| one.row + 1).max().unwrap_or(0);
        placed.push(found.unwrap_or(Placed {
            mark,
            row: highest,
            room: rooms[0],
        }));
    }
    placed
}

fn is_free(
    room: &Rect,
    (x, row): (f64, usize),
    marks: &[Mark],
    open: &[usize],
    placed: &[Placed],
) -> bool {
    let wide = room.grown(GAP / 2.0);
    let passes = |line: f64| wide.left < line && line < wide.right;
    // A line that starts in a higher row comes down through this one.
    let lines = placed
        .iter()
        .filter(|one| one.row > row)
        .map(|one| one.mark)
        .chain(open.iter().copied());
    let hit = lines.into_iter().any(|mark| passes(marks[mark].x));
    // Its own line must pass the words already written below it.
    let through = placed
        .iter()
        .any(|one| one.row < row && one.room.left < x && x < one.room.right);
    let beside = placed
        .iter()
        .any(|one| one.row == row && one.room.overlaps(&wide));
    !hit && !through && !beside
}

/// Writes the words from `top` downwards and returns where the panel may start.
pub(crate) fn write(canvas: &mut Canvas, marks: &[Mark], top: f64) -> f64 {
    let placed = rows(marks);
    let count = placed.iter().map(|one| one.row + 1).max().unwrap_or(0);
    let bottom = top + ROW * count as f64;
    for one in placed {
        let middle = bottom - ROW * (one.row as f64 + 0.5);
        let mark = &marks[one.mark];
        canvas.stroke(
            &[[mark.x, middle - SMALL / 2.0], [mark.x, bottom + 8.0]],
            INK,
            1.6,
            &[],
        );
        canvas.words(
            &mark.words,
            [one.room.centre()[0], middle],
            Side::Middle,
            FACE,
        );
    }
    bottom
}

/// Draws the marks' lines through the panel.
pub(crate) fn lines(canvas: &mut Canvas, places: &[f64], panel: Rect) {
    for &x in places {
        canvas.stroke(&[[x, panel.top], [x, panel.bottom]], INK, 1.6, &[6.0, 4.0]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_close_together_share_a_row_back_to_back() {
        let marks = [
            Mark::new(300.0, "hand-over 2,256"),
            Mark::new(345.0, "wastegate 2,465"),
        ];
        let placed = rows(&marks);
        assert!(placed.iter().all(|one| one.row == 0));
    }

    #[test]
    fn no_words_of_many_marks_overlap() {
        let marks: Vec<Mark> = (0..8_u32)
            .map(|i| Mark::new(280.0 + f64::from(i), "hand-over 2,256"))
            .collect();
        let mut canvas = Canvas::default();
        write(&mut canvas, &marks, 50.0);
        let rooms: Vec<Rect> = canvas.labels.iter().map(|label| label.room).collect();
        for (place, room) in rooms.iter().enumerate() {
            assert!(rooms[place + 1..].iter().all(|other| !other.overlaps(room)));
        }
    }
}
