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
/// inner ones can pass between them; of those whose words no line crosses, the lowest.
fn rows(marks: &[Mark]) -> Vec<Placed> {
    let mut open: Vec<usize> = (0..marks.len()).collect();
    open.sort_by(|&a, &b| marks[a].x.total_cmp(&marks[b].x));
    let mut placed: Vec<Placed> = Vec::new();
    while !open.is_empty() {
        let leftwards = placed.len().is_multiple_of(2) && open.len() > 1;
        let mut candidates = outer_first(&open);
        if !leftwards && open.len() > 1 {
            candidates.reverse();
        }
        let fits = candidates
            .iter()
            .filter_map(|&mark| lowest(mark, leftwards, marks, &open, &placed));
        // Of equals the first.
        let found = fits.min_by_key(|one| one.row).unwrap_or_else(|| {
            let row = placed.iter().map(|one| one.row + 1).max().unwrap_or(0);
            let mark = candidates[0];
            let room = marks[mark].rooms(leftwards)[0];
            Placed { mark, row, room }
        });
        open.retain(|&mark| mark != found.mark);
        placed.push(found);
    }
    placed
}

/// From the outermost on the left and right inwards by turns.
fn outer_first(open: &[usize]) -> Vec<usize> {
    let half = open.len().div_ceil(2);
    let mut order: Vec<usize> = open[..half].to_vec();
    for (place, &mark) in open[half..].iter().rev().enumerate() {
        order.insert(2 * place + 1, mark);
    }
    order
}

/// The lowest row in which a mark's words have room, if any.
fn lowest(
    mark: usize,
    leftwards: bool,
    marks: &[Mark],
    open: &[usize],
    placed: &[Placed],
) -> Option<Placed> {
    let rooms = marks[mark].rooms(leftwards);
    let others: Vec<usize> = open.iter().copied().filter(|&one| one != mark).collect();
    (0..=marks.len()).find_map(|row| {
        let free = |room: &&Rect| is_free(room, (marks[mark].x, row), marks, &others, placed);
        rooms
            .iter()
            .find(free)
            .map(|&room| Placed { mark, row, room })
    })
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
        let across = one.room.left < mark.x && mark.x < one.room.right;
        let start = if across { SMALL / 2.0 } else { -SMALL / 2.0 };
        canvas.stroke(
            &[[mark.x, middle + start], [mark.x, bottom + 8.0]],
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
    fn no_line_of_a_mark_crosses_words() {
        let sets: [&[(f64, &str)]; 4] = [
            // Two close together on the left, one whose words would reach a line on the right.
            &[
                (199.0, "hand-over 3,669 rpm"),
                (199.7, "wastegate 3,681 rpm"),
                (358.5, "back 5,699 rpm"),
            ],
            &[(199.0, "hand-over 3,669 rpm"), (358.5, "back 5,699 rpm")],
            &[
                (236.0, "hand-over 2,256 rpm"),
                (404.0, "wastegate 3,110 rpm"),
            ],
            // Too near the edge for either side: the line begins below the words.
            &[(300.0, "words so long that neither side has room for them")],
        ];
        for set in sets {
            let marks: Vec<Mark> = set.iter().map(|(x, words)| Mark::new(*x, words)).collect();
            let placed = rows(&marks);
            for line in &placed {
                let x = marks[line.mark].x;
                for words in placed.iter().filter(|one| one.row <= line.row) {
                    let own = words.mark == line.mark && marks.len() == 1;
                    let crossed = words.room.left < x && x < words.room.right;
                    assert!(own || !crossed, "{set:?}: {x} {:?}", words.room);
                }
            }
        }
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
