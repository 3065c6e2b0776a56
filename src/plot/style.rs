//! One table of colours with their meaning, and one type scale for every drawing.
//!
//! Colours are told apart by lightness first, so that they hold in grey and for colour-blind eyes;
//! every line of a drawing also has its own dash and marker. The sheet is narrow and its type large: 600 units
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
/// Distance of lines of words, in sizes of the type.
pub(crate) const LEADING: f64 = 1.24;

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
pub(crate) const ALARM: Colour = (180, 20, 70);

/// Dash of one kind of line: on, off, … in sheet units; empty is unbroken.
pub(crate) type Dash = &'static [f64];

/// How a line looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Look {
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

/// What a colour says. One meaning has one look in every drawing; this is the whole table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meaning {
    /// The engine with all its stages, hence the build itself: manifold, charge, brake power.
    Together,
    /// A supercharger, and what it alone does or takes.
    Supercharger,
    /// The second supercharger.
    SecondSupercharger,
    /// A turbocharger, and what it alone does.
    Turbo,
    /// The second turbocharger.
    SecondTurbo,
    /// Another build compared with this one, counted from 1.
    Compared(usize),
    /// The slowest of the speeds shown side by side.
    SlowSpeed,
    /// A speed between; the faster the darker.
    MiddleSpeed,
    /// The fastest of them, or the build alone.
    FastSpeed,
    /// The charge ahead of the manifold, where it differs from the manifold.
    CoolerOutlet,
    /// Water, ice or air that cools.
    Coolant,
    /// The cooler's metal.
    Metal,
    /// What friction takes.
    Friction,
    /// What the gas exchange takes.
    Pumping,
    /// How far an answer may lie off.
    Spread,
    /// A limit.
    Limit,
    /// The surge edge of a map, which is one too.
    SurgeEdge,
    /// The choke edge of a map.
    ChokeEdge,
    /// A speed line of a map.
    MapLine,
}

const NAVY: Colour = (14, 40, 80);
const TEAL: Colour = (44, 158, 170);
const SLATE: Colour = (104, 116, 130);
const ORANGE: Colour = (190, 72, 16);

impl Meaning {
    /// Its line.
    pub(crate) fn look(self) -> Look {
        match self {
            Self::Together | Self::FastSpeed => look(NAVY, &[], Marker::Disc, 3.6),
            Self::Supercharger => look(TEAL, &[3.5, 4.5], Marker::Square, 3.4),
            Self::SecondSupercharger => look((12, 92, 102), &[3.5, 8.0], Marker::Square, 3.4),
            Self::Turbo => look(ORANGE, &[13.0, 5.0], Marker::Triangle, 3.0),
            Self::SecondTurbo => look((128, 40, 6), &[13.0, 9.0], Marker::Triangle, 3.0),
            Self::Compared(1) => look((140, 70, 170), &[16.0, 4.0, 3.5, 4.0], Marker::Diamond, 2.8),
            Self::Compared(2) => look((206, 164, 40), &[7.0, 4.0], Marker::Ring, 3.0),
            Self::Compared(_) => look((96, 40, 28), &[22.0, 6.0], Marker::Square, 2.6),
            Self::SlowSpeed => look((140, 178, 226), &[3.5, 4.5], Marker::Square, 3.4),
            Self::MiddleSpeed | Self::CoolerOutlet => {
                look((70, 108, 164), &[13.0, 5.0], Marker::Triangle, 3.0)
            }
            Self::Coolant => look((84, 166, 246), &[7.0, 4.0], Marker::Ring, 3.0),
            Self::Metal => look(
                (128, 132, 138),
                &[16.0, 4.0, 3.5, 4.0],
                Marker::Diamond,
                2.8,
            ),
            Self::Friction | Self::Pumping | Self::Spread => look(MUTED, &[], Marker::None, 1.2),
            Self::Limit => look(ALARM, &[2.0, 3.0], Marker::None, 2.6),
            Self::SurgeEdge => look(ALARM, &[], Marker::None, 4.6),
            Self::ChokeEdge => look(SLATE, &[5.0, 4.0], Marker::None, 1.8),
            Self::MapLine => look(SLATE, &[], Marker::None, 1.8),
        }
    }

    /// Whether its line only helps to read off, so that labels may lie on it.
    pub(crate) fn is_help(self) -> bool {
        matches!(self, Self::ChokeEdge | Self::MapLine)
    }

    /// Its area: paler than the line, and told apart in grey from the others of one drawing.
    pub(crate) fn ground(self) -> Colour {
        match self {
            Self::Together => (208, 217, 232),
            Self::Supercharger => (128, 190, 196),
            Self::SecondSupercharger => (72, 138, 146),
            Self::Turbo => (246, 210, 180),
            Self::SecondTurbo => (214, 146, 106),
            Self::Friction => (152, 155, 160),
            Self::Pumping => (104, 108, 116),
            Self::Spread => (216, 219, 223),
            other => blend(PAPER, other.look().colour, 0.4),
        }
    }
}

const fn look(colour: Colour, dash: Dash, marker: Marker, width: f64) -> Look {
    Look {
        colour,
        dash,
        marker,
        width,
    }
}

/// Colour of the efficiency islands' outlines and words.
pub(crate) const ISLAND: Colour = (34, 92, 58);

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

#[cfg(test)]
mod tests {
    use super::*;

    /// CIE L*a*b* of linear red, green, blue (sRGB primaries, white point D65; IEC 61966-2-1).
    fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
        let f = |t: f64| {
            if t > 0.008856 {
                t.cbrt()
            } else {
                7.787 * t + 16.0 / 116.0
            }
        };
        let x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
        let y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
        let z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    fn linear((r, g, b): Colour) -> [f64; 3] {
        [r, g, b].map(|byte| {
            let v = f64::from(byte) / 255.0;
            if v <= 0.04045 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        })
    }

    /// How an eye sees a colour: with three kinds of cones, without the red ones, without the green
    /// ones (Viénot, Brettel & Mollon 1999, from memory).
    fn seen(colour: Colour, eye: usize) -> [f64; 3] {
        let [r, g, b] = linear(colour);
        let both = |red: f64, blue: f64| {
            let mixed = red * r + (1.0 - red) * g;
            [mixed, mixed, (b - blue * (r - g)).clamp(0.0, 1.0)]
        };
        lab(match eye {
            0 => [r, g, b],
            1 => both(0.11238, -0.00401),
            _ => both(0.29275, 0.02234),
        })
    }

    /// What stands in one drawing of lines.
    const TOGETHER: [&[Meaning]; 4] = [
        &[
            Meaning::Together,
            Meaning::Turbo,
            Meaning::Supercharger,
            Meaning::Limit,
        ],
        &[
            Meaning::Together,
            Meaning::Compared(1),
            Meaning::Compared(2),
            Meaning::Compared(3),
        ],
        &[Meaning::FastSpeed, Meaning::MiddleSpeed, Meaning::SlowSpeed],
        &[
            Meaning::Together,
            Meaning::CoolerOutlet,
            Meaning::Coolant,
            Meaning::Metal,
            Meaning::Limit,
        ],
    ];

    #[test]
    fn lines_of_one_drawing_are_told_apart_by_every_eye() {
        for (one, other) in TOGETHER.iter().flat_map(|list| pairs(list)) {
            let (a, b) = (one.look(), other.look());
            assert_ne!(a.marker, b.marker, "{one:?} {other:?}");
            assert_ne!(a.dash, b.dash, "{one:?} {other:?}");
            for eye in 0..3 {
                let apart = seen(a.colour, eye).into_iter().zip(seen(b.colour, eye));
                let apart = apart.map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt();
                // 2.3 is just seen side by side; thin lines far apart want ten times that.
                assert!(apart > 23.0, "{one:?} {other:?} {eye}: {apart}");
            }
        }
    }

    #[test]
    fn areas_of_one_drawing_and_the_main_lines_are_told_apart_in_grey() {
        let lightness = |colour: Colour| lab(linear(colour))[0];
        let areas: [&[Meaning]; 2] = [
            &[
                Meaning::Together,
                Meaning::Supercharger,
                Meaning::Friction,
                Meaning::Pumping,
            ],
            &[
                Meaning::Supercharger,
                Meaning::SecondSupercharger,
                Meaning::Turbo,
                Meaning::SecondTurbo,
            ],
        ];
        let grounds = areas.iter().flat_map(|list| pairs(list));
        let grounds = grounds.map(|(one, other)| (one, other, one.ground(), other.ground()));
        let lines = pairs(&TOGETHER[0][..3]);
        let lines = lines.map(|(one, other)| (one, other, one.look().colour, other.look().colour));
        for (one, other, a, b) in grounds.chain(lines) {
            let apart = (lightness(a) - lightness(b)).abs();
            assert!(apart > 5.0, "{one:?} {other:?}: {apart}");
        }
    }

    fn pairs(list: &[Meaning]) -> impl Iterator<Item = (Meaning, Meaning)> {
        let others = list.iter().enumerate();
        others.flat_map(|(place, &one)| list[place + 1..].iter().map(move |&other| (one, other)))
    }
}
