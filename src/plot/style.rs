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

/// The series' looks in the order in which they are given out; the first three are 14 and more apart
/// in lightness L*.
pub(crate) const SERIES: [SeriesStyle; 6] = [
    SeriesStyle {
        colour: (14, 40, 80),
        dash: &[],
        marker: Marker::Disc,
        width: 3.6,
    },
    SeriesStyle {
        colour: (190, 72, 16),
        dash: &[13.0, 5.0],
        marker: Marker::Triangle,
        width: 3.0,
    },
    SeriesStyle {
        colour: (44, 158, 170),
        dash: &[3.5, 4.5],
        marker: Marker::Square,
        width: 3.4,
    },
    SeriesStyle {
        colour: (140, 70, 170),
        dash: &[16.0, 4.0, 3.5, 4.0],
        marker: Marker::Diamond,
        width: 2.8,
    },
    SeriesStyle {
        colour: (206, 164, 40),
        dash: &[7.0, 4.0],
        marker: Marker::Ring,
        width: 3.0,
    },
    SeriesStyle {
        colour: (96, 40, 28),
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

    #[test]
    fn series_are_told_apart_by_every_eye() {
        for (place, one) in SERIES.iter().enumerate() {
            for other in &SERIES[place + 1..] {
                assert_ne!(one.marker, other.marker);
                assert_ne!(one.dash, other.dash);
                for eye in 0..3 {
                    let (a, b) = (seen(one.colour, eye), seen(other.colour, eye));
                    let apart = a
                        .iter()
                        .zip(b)
                        .map(|(a, b)| (a - b).powi(2))
                        .sum::<f64>()
                        .sqrt();
                    // 2.3 is just seen side by side; thin lines far apart want ten times that.
                    assert!(apart > 23.0, "{one:?} {other:?} {eye}: {apart}");
                }
            }
        }
    }

    #[test]
    fn the_first_series_and_all_areas_are_told_apart_in_grey() {
        let lightness = |colour: Colour| lab(linear(colour))[0];
        let series: Vec<f64> = SERIES[..3]
            .iter()
            .map(|style| lightness(style.colour))
            .collect();
        let areas: Vec<f64> = AREAS.iter().map(|&colour| lightness(colour)).collect();
        for list in [series, areas] {
            for (place, one) in list.iter().enumerate() {
                assert!(
                    list[place + 1..]
                        .iter()
                        .all(|other| (one - other).abs() > 8.0),
                    "{list:?}"
                );
            }
        }
    }
}
