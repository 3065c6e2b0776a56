//! One palette and one type scale for every drawing.
//!
//! Colours are told apart by lightness first, so that they hold in grey and for colour-blind eyes;
//! every series also has its own dash and marker. The sheet is narrow and its type large: 600 units
//! across, so that at 380 pixels the smallest words are about 11 pixels high.

/// Red, green, blue.
pub(crate) type Colour = (u8, u8, u8);

/// Width of every sheet, in sheet units.
pub(crate) const SHEET_WIDTH: f64 = 600.0;
/// Free edge around a sheet.
pub(crate) const EDGE: f64 = 18.0;

/// The finding, in bold.
pub(crate) const TITLE: f64 = 27.0;
/// The line below the finding, and names of axes.
pub(crate) const TEXT: f64 = 19.0;
/// Names inside the drawing and numbers on axes.
pub(crate) const SMALL: f64 = 17.5;

/// The sheet.
pub(crate) const PAPER: Colour = (255, 255, 255);
/// Words, and the line that matters most.
pub(crate) const INK: Colour = (22, 32, 46);
/// Words that explain.
pub(crate) const MUTED: Colour = (84, 94, 107);
/// Lines that only help to read off.
pub(crate) const GRID: Colour = (221, 225, 229);
/// Frames, leaders, hatching.
pub(crate) const RULE: Colour = (160, 168, 177);
/// Ground of the region that no data cover.
pub(crate) const BEYOND: Colour = (240, 241, 242);
/// A limit, an edge not to cross.
pub(crate) const ALARM: Colour = (170, 30, 45);

/// Dash of one kind of line: on, off, … in sheet units; empty is unbroken.
pub(crate) type Dash = &'static [f64];

/// How one series looks.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SeriesStyle {
    pub colour: Colour,
    pub dash: Dash,
    pub marker: Marker,
    pub width: f64,
}

/// Shape of a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Marker {
    Disc,
    Square,
    Triangle,
    Diamond,
    Ring,
    Cross,
    None,
}

/// The series' looks in the order in which they are given out; lightness L* about 13, 46, 57, 38, 66
/// and 30.
pub(crate) const SERIES: [SeriesStyle; 6] = [
    SeriesStyle {
        colour: (14, 44, 84),
        dash: &[],
        marker: Marker::Disc,
        width: 3.6,
    },
    SeriesStyle {
        colour: (200, 78, 20),
        dash: &[13.0, 5.0],
        marker: Marker::Triangle,
        width: 3.0,
    },
    SeriesStyle {
        colour: (28, 150, 138),
        dash: &[3.5, 4.5],
        marker: Marker::Square,
        width: 3.4,
    },
    SeriesStyle {
        colour: (138, 60, 150),
        dash: &[16.0, 4.0, 3.5, 4.0],
        marker: Marker::Diamond,
        width: 2.8,
    },
    SeriesStyle {
        colour: (196, 148, 20),
        dash: &[7.0, 4.0],
        marker: Marker::Ring,
        width: 3.0,
    },
    SeriesStyle {
        colour: (110, 54, 36),
        dash: &[22.0, 6.0],
        marker: Marker::Cross,
        width: 2.6,
    },
];

/// Soft grounds for areas, in the order in which they are given out.
pub(crate) const AREAS: [Colour; 4] = [
    (250, 222, 190),
    (128, 190, 180),
    (196, 140, 110),
    (110, 125, 160),
];

/// The efficiency islands' ground from the lowest level (0) to the highest (1).
pub(crate) fn island_tint(share: f64) -> Colour {
    blend((232, 240, 226), (139, 190, 150), share)
}

/// Between two colours: 0 is the first, 1 the second.
pub(crate) fn blend(a: Colour, b: Colour, share: f64) -> Colour {
    let mix = |x: u8, y: u8| {
        let value = f64::from(x) + share.clamp(0.0, 1.0) * (f64::from(y) - f64::from(x));
        // Between two bytes it is a byte.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let byte = value.round() as u8;
        byte
    };
    (mix(a.0, b.0), mix(a.1, b.1), mix(a.2, b.2))
}
