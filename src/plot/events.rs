//! The words of events: in rows above a frame, each joined to its place by a line.

use super::canvas::{Canvas, Side, Type};
use super::geometry::Rect;
use super::style::{EDGE, INK, SHEET_WIDTH, SMALL};
use super::text::fit;

/// One event on the sheet: its place and its words.
#[derive(Debug)]
pub(crate) struct Event {
    x: f64,
    words: String,
}

/// Height of a row of words.
const ROW: f64 = 1.3 * SMALL;
/// Distance of the words from their line.
const GAP: f64 = 6.0;
const FACE: Type = Type::plain(SMALL, INK);

/// A row, counted upwards from the frame, and the words' box in it, its middle at height 0.
type Place = (usize, Rect);

impl Event {
    pub(crate) fn new(x: f64, words: &str) -> Self {
        let words = fit(words, SMALL, false, 0.44 * SHEET_WIDTH);
        Self { x, words }
    }

    /// The box right or left of its line; below the words where that side has no room.
    fn room(&self, side: Side) -> Rect {
        let gap = if side == Side::Start { GAP } else { -GAP };
        let room = FACE.room(&self.words, [self.x + gap, 0.0], side);
        if room.left >= EDGE && room.right <= SHEET_WIDTH - EDGE {
            return room;
        }
        let half = room.width() / 2.0;
        let middle = self.x.clamp(EDGE + half, SHEET_WIDTH - EDGE - half);
        FACE.room(&self.words, [middle, 0.0], Side::Middle)
    }
}

/// Whether a box covers a place, with some room to it.
fn covers(room: &Rect, x: f64) -> bool {
    room.left - GAP / 2.0 < x && x < room.right + GAP / 2.0
}

/// The lowest rows for words on given sides: words that cover another's line stand above that
/// other's words, and words that meet stand in different rows. None where two would have to stand
/// above each other.
fn rows(events: &[Event], rooms: &[Rect]) -> Option<Vec<Place>> {
    let mut rows: Vec<Option<usize>> = vec![None; events.len()];
    while let Some(next) = (0..events.len()).find(|&one| {
        let is_free = |other: usize| {
            other == one || rows[other].is_some() || !covers(&rooms[one], events[other].x)
        };
        rows[one].is_none() && (0..events.len()).all(is_free)
    }) {
        let set = (0..events.len()).filter_map(|other| Some((other, rows[other]?)));
        let set: Vec<(usize, usize)> = set.collect();
        let above = set
            .iter()
            .filter(|(other, _)| covers(&rooms[next], events[*other].x));
        let least = above.map(|(_, row)| row + 1).max().unwrap_or(0);
        // Its own line comes down between the words below it.
        let is_free = |row: &usize| {
            set.iter().all(|&(other, taken)| {
                (taken != *row || !rooms[other].overlaps(&rooms[next].grown(GAP / 2.0)))
                    && (taken >= *row || !covers(&rooms[other], events[next].x))
            })
        };
        rows[next] = Some((least..=least + events.len()).find(is_free)?);
    }
    let placed = rows
        .into_iter()
        .zip(rooms)
        .map(|(row, room)| Some((row?, *room)));
    placed.collect()
}

/// The sides on which words stand beside their lines in the fewest rows, to the right where that does as well; each in a row
/// of its own where no sides keep words and lines apart.
fn places(events: &[Event]) -> Vec<Place> {
    let sides = |choice: usize| {
        let side = move |place: usize| {
            if choice >> place & 1 == 0 {
                Side::Start
            } else {
                Side::End
            }
        };
        events
            .iter()
            .enumerate()
            .map(move |(place, event)| event.room(side(place)))
    };
    let choices = 0..1_usize << events.len().min(8);
    let placed = choices.filter_map(|choice| rows(events, &sides(choice).collect::<Vec<_>>()));
    let cost = |placed: &Vec<Place>| {
        let own = placed.iter().zip(events);
        let across = own.filter(|((_, room), event)| room.left < event.x && event.x < room.right);
        (across.count(), placed.iter().map(|(row, _)| row + 1).max())
    };
    placed
        .min_by_key(cost)
        .unwrap_or_else(|| sides(0).enumerate().collect())
}

/// Writes the words from `top` downwards and returns where the frame may start.
pub(crate) fn write(canvas: &mut Canvas, events: &[Event], top: f64) -> f64 {
    let placed = places(events);
    let count = placed.iter().map(|(row, _)| row + 1).max().unwrap_or(0);
    let bottom = top + ROW * count as f64;
    for (event, (row, room)) in events.iter().zip(placed) {
        let middle = bottom - ROW * (row as f64 + 0.5);
        let is_across = room.left < event.x && event.x < room.right;
        let start = if is_across { SMALL / 2.0 } else { -SMALL / 2.0 };
        let line = [[event.x, middle + start], [event.x, bottom + 8.0]];
        canvas.stroke(&line, INK, 1.6, &[]);
        canvas.words(&event.words, [room.centre()[0], middle], Side::Middle, FACE);
    }
    bottom
}

#[cfg(test)]
mod tests {
    use super::*;

    fn events(set: &[(f64, &str)]) -> Vec<Event> {
        set.iter().map(|(x, words)| Event::new(*x, words)).collect()
    }

    #[test]
    fn events_close_together_share_a_row_back_to_back() {
        let placed = places(&events(&[
            (300.0, "hand-over 2,256"),
            (345.0, "wastegate 2,465"),
        ]));
        assert!(placed.iter().all(|(row, _)| *row == 0));
    }

    #[test]
    fn no_line_of_an_event_crosses_words() {
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
            let events = events(set);
            let placed = places(&events);
            for (event, (row, _)) in events.iter().zip(&placed) {
                for (other, (_, room)) in placed.iter().enumerate().filter(|one| one.1.0 <= *row) {
                    let is_own = events.len() == 1 && other == 0;
                    let is_crossed = room.left < event.x && event.x < room.right;
                    assert!(is_own || !is_crossed, "{set:?}: {} {room:?}", event.x);
                }
            }
        }
    }

    #[test]
    fn no_words_of_many_events_overlap() {
        let set: Vec<(f64, &str)> = (0..8_u32)
            .map(|i| (280.0 + f64::from(i), "hand-over 2,256"))
            .collect();
        let mut canvas = Canvas::default();
        write(&mut canvas, &events(&set), 50.0);
        let rooms: Vec<Rect> = canvas.labels.iter().map(|label| label.room).collect();
        for (place, room) in rooms.iter().enumerate() {
            assert!(rooms[place + 1..].iter().all(|other| !other.overlaps(room)));
        }
    }
}
