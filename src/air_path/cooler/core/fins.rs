//! Heat transfer and friction of one surface by published correlations.
//!
//! Colburn's j = Nu/(Re Pr^1/3) and Fanning's f over the Reynolds number, each as its paper defines
//! it. The coefficients of offset strip and louvred fins are from memory and were not found in a
//! library to check them against: [`FinKind::is_unconfirmed`] says so, and every output with it.
//! Plain channels are held against `ht` in the tests beside it.

/// Below this a duct's flow is laminar, above the other turbulent; between, the two are blended
/// (Gnielinski 2013 blends from 2300 to 4000, from memory).
const TRANSITION: (f64, f64) = (2300.0, 4000.0);
/// Davenport's two ranges of friction meet with a step, over which they are blended: at these
/// Reynolds numbers of the hydraulic diameter, not of the louvre pitch as in his formulas.
const DAVENPORT_JOINT: (f64, f64) = (800.0, 1200.0);

/// How a fin is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FinKind {
    /// Straight.
    Plain,
    /// Cut into strips that are offset by half a pitch: length of a strip along the flow, m.
    Offset {
        /// Length of a strip along the flow, m.
        length: f64,
    },
    /// With louvres.
    Louvred {
        /// Louvre pitch along the flow, m.
        pitch: f64,
        /// Louvre angle, degrees.
        angle: f64,
        /// Louvre length across the flow, m.
        length: f64,
    },
}

impl FinKind {
    /// Whether its correlation was not checked against anything outside.
    pub const fn is_unconfirmed(self) -> bool {
        !matches!(self, Self::Plain)
    }
}

/// A number of a correlation that left its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// What it is.
    pub what: Correlated,
    /// Its value, SI (degrees for the angle).
    pub value: f64,
    /// Lower and upper end of the range.
    pub range: (f64, f64),
}

/// The numbers that a correlation has a range of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Correlated {
    /// Reynolds number.
    Reynolds,
    /// Gap between fins over their height.
    GapOverHeight,
    /// Thickness over strip length.
    ThicknessOverLength,
    /// Thickness over the gap between fins.
    ThicknessOverGap,
    /// Louvre angle, degrees.
    LouvreAngle,
    /// Fin pitch, m.
    FinPitch,
    /// Louvre pitch, m.
    LouvrePitch,
    /// Fin height, m.
    FinHeight,
    /// Depth along the flow, m.
    Depth,
}

/// A correlation with the geometry worked in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Law {
    /// A straight channel: Nu and f Re of laminar flow.
    Channel { nusselt: f64, friction: f64 },
    /// Offset strips: factors of j and f, and of their blending terms.
    Offset {
        j: f64,
        j_term: f64,
        f: f64,
        f_term: f64,
    },
    /// Louvres: factors of j and of f in its two ranges; hydraulic diameter over louvre pitch.
    Louvred {
        j: f64,
        f_low: f64,
        f_high: f64,
        diameter: f64,
    },
}

impl Law {
    /// A rectangular channel; `aspect` is the shorter over the longer side. Laminar, developed,
    /// with the same heat flux along it: Nu = 8.235 (1 − 2.0421 a + …), f Re = 24 (1 − 1.3553 a + …)
    /// (Shah and London 1978). The entry, which passes more heat, is left out.
    pub fn channel(aspect: f64) -> Self {
        let series = |c: [f64; 6]| c.iter().rev().fold(0.0, |sum, c| sum * aspect + c);
        Self::Channel {
            nusselt: 8.235 * series([1.0, -2.0421, 3.0853, -2.4765, 1.0578, -0.1861]),
            friction: 24.0 * series([1.0, -1.3553, 1.9467, -1.7012, 0.9564, -0.2537]),
        }
    }

    /// Offset strip fins of gap `s`, height `h`, strip length `l`, thickness `t`, m: Manglik and
    /// Bergles 1995, Exp. Thermal Fluid Sci. 10, 171–180 (from memory).
    pub fn offset(s: f64, h: f64, l: f64, t: f64) -> Self {
        let (alpha, delta, gamma) = (s / h, t / l, t / s);
        let product = |a: f64, d: f64, g: f64| alpha.powf(a) * delta.powf(d) * gamma.powf(g);
        Self::Offset {
            j: 0.6522 * product(-0.1541, 0.1499, -0.0678),
            j_term: 5.269e-5 * product(0.504, 0.456, -1.055),
            f: 9.6243 * product(-0.1856, 0.3053, -0.2659),
            f_term: 7.669e-8 * product(0.920, 3.767, 0.236),
        }
    }

    /// Louvred fins; j: Chang and Wang 1997, Int. J. Heat Mass Transfer 40, 533–544; f: Davenport
    /// 1983, AIChE Symp. Ser. 79, 19–27, whose lengths are in mm (both from memory; his louvre height
    /// is taken as what stands out on one side of the fin, half of the pitch times the sine).
    pub fn louvred(geometry: &LouvreGeometry) -> Self {
        let g = geometry;
        let over = |length: f64, power: f64| (length / g.louvre_pitch).powf(power);
        let j = (g.angle / 90.0).powf(0.27)
            * over(g.fin_pitch, -0.14)
            * over(g.fin_height, -0.29)
            * over(g.depth, -0.23)
            * over(g.louvre_length, 0.68)
            * over(g.layer_pitch, -0.28)
            * over(g.thickness, -0.05);
        let (height, pitch) = (1e3 * g.fin_height, 1e3 * g.louvre_pitch);
        let louvre_height = 0.5 * pitch * g.angle.to_radians().sin();
        let length_share = g.louvre_length / g.fin_height;
        Self::Louvred {
            j,
            f_low: 5.47
                * louvre_height.powf(0.37)
                * length_share.powf(0.89)
                * pitch.powf(0.2)
                * height.powf(0.23),
            f_high: 0.494
                * (louvre_height / height).powf(0.33)
                * length_share.powf(1.1)
                * height.powf(0.46),
            diameter: g.hydraulic_diameter / g.louvre_pitch,
        }
    }

    /// j at a Reynolds number above 0, a Prandtl number and its cube root.
    pub fn colburn(self, re: f64, prandtl: f64, cube_root: f64) -> f64 {
        match self {
            Self::Channel { nusselt, .. } => {
                channel_nusselt(re, (prandtl, cube_root), nusselt) / (re * cube_root)
            }
            Self::Offset { j, j_term, .. } => {
                j * re.powf(-0.5403) * (1.0 + j_term * re.powf(1.340)).powf(0.1)
            }
            Self::Louvred { j, .. } => j * re.powf(-0.49),
        }
    }

    /// f at a Reynolds number above 0: all that a drop asks for.
    pub fn fanning(self, re: f64) -> f64 {
        match self {
            Self::Channel { friction, .. } => channel_friction(re, friction),
            Self::Offset { f, f_term, .. } => {
                f * re.powf(-0.7422) * (1.0 + f_term * re.powf(4.429)).powf(0.1)
            }
            Self::Louvred {
                f_low,
                f_high,
                diameter,
                ..
            } => {
                let share = smooth_share(re * diameter, DAVENPORT_JOINT);
                let low = f_low * re.powf(-0.72);
                let high = f_high * re.powf(-0.39);
                low * (1.0 - share) + high * share
            }
        }
    }

    /// Lowest and highest Reynolds number of the correlation.
    pub const fn reynolds_range(self) -> (f64, f64) {
        match self {
            Self::Channel { .. } => (0.0, 1e6),
            Self::Offset { .. } => (120.0, 1e4),
            Self::Louvred { .. } => (100.0, 3000.0),
        }
    }
}

/// Lengths of a louvred fin, m; the angle in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LouvreGeometry {
    pub louvre_pitch: f64,
    pub angle: f64,
    pub louvre_length: f64,
    pub fin_pitch: f64,
    pub fin_height: f64,
    pub thickness: f64,
    /// Along the flow.
    pub depth: f64,
    /// From one tube or plate pair to the next.
    pub layer_pitch: f64,
    /// 4 A_c L/A, the louvres' cuts left out.
    pub hydraulic_diameter: f64,
}

/// Nu laminar, turbulent and between, of (Pr, its cube root). Turbulent in a smooth channel:
/// Gnielinski 1976.
fn channel_nusselt(re: f64, (prandtl, cube_root): (f64, f64), laminar: f64) -> f64 {
    let share = smooth_share(re, TRANSITION);
    if share <= 0.0 {
        return laminar;
    }
    let turbulent_re = re.max(TRANSITION.0);
    let eighth = petukhov(turbulent_re) / 8.0;
    let turbulent = eighth * (turbulent_re - 1000.0) * prandtl
        / (1.0 + 12.7 * eighth.sqrt() * (cube_root * cube_root - 1.0));
    laminar + share * (turbulent - laminar)
}

/// Fanning's f laminar (from f Re), turbulent and between.
fn channel_friction(re: f64, laminar: f64) -> f64 {
    let laminar = laminar / re;
    let share = smooth_share(re, TRANSITION);
    if share <= 0.0 {
        return laminar;
    }
    laminar + share * (0.25 * petukhov(re.max(TRANSITION.0)) - laminar)
}

/// Darcy's friction factor of a smooth pipe in turbulent flow: (0.79 ln Re − 1.64)^−2.
fn petukhov(re: f64) -> f64 {
    (0.79 * re.ln() - 1.64).powi(-2)
}

/// 0 below, 1 above, and between with no step in the slope.
fn smooth_share(x: f64, (low, high): (f64, f64)) -> f64 {
    let u = ((x - low) / (high - low)).clamp(0.0, 1.0);
    u * u * (3.0 - 2.0 * u)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn colburn(law: Law, re: f64) -> f64 {
        law.colburn(re, 0.7, 0.7_f64.cbrt())
    }

    /// Rows of the table made by `ht` and `fluids`: regime, aspect, Re, Pr, Nu, f.
    fn rows() -> Vec<(bool, [Option<f64>; 5])> {
        let text = include_str!("../../../../tests/reference/channel.csv");
        let rows: Vec<_> = (text.lines())
            .filter(|line| line.starts_with("laminar") || line.starts_with("turbulent"))
            .map(|line| {
                let cells: Vec<_> = line.split(',').collect();
                let number = |i: usize| cells[i].parse().ok();
                (cells[0] == "laminar", [1, 2, 3, 4, 5].map(number))
            })
            .collect();
        assert_eq!(rows.len(), 16);
        rows
    }

    /// Laminar: the same polynomial of Nu (1e-9); that of f Re is within 0.1 % of its own table.
    /// Turbulent: Petukhov's friction lies within 4 % of Colebrook's smooth pipe, and with it
    /// Gnielinski's Nu within 5 %, both the most at Re 4000.
    #[test]
    fn a_straight_channel_is_that_of_the_libraries() {
        for (laminar, numbers) in rows() {
            let [Some(aspect), Some(re), Some(pr), Some(nusselt), friction] = numbers else {
                panic!("{numbers:?}")
            };
            let law = Law::channel(aspect);
            let allowed = if laminar { 1e-9 } else { 0.05 };
            assert_relative_eq!(
                law.colburn(re, pr, pr.cbrt()) * re * pr.cbrt(),
                nusselt,
                max_relative = allowed
            );
            if let Some(friction) = friction {
                let allowed = if laminar { 1e-3 } else { 0.04 };
                assert_relative_eq!(law.fanning(re), friction, max_relative = allowed);
            }
        }
    }

    #[test]
    fn no_law_has_a_step() {
        let louvres = LouvreGeometry {
            louvre_pitch: 1.2e-3,
            angle: 27.0,
            louvre_length: 6.8e-3,
            fin_pitch: 1.8e-3,
            fin_height: 7.9e-3,
            thickness: 0.1e-3,
            depth: 55e-3,
            layer_pitch: 15.5e-3,
            hydraulic_diameter: 2.8e-3,
        };
        let laws = [
            Law::channel(0.3),
            Law::offset(1.9e-3, 6.4e-3, 3e-3, 0.1e-3),
            Law::louvred(&louvres),
        ];
        for law in laws {
            for step in 0..400 {
                let re = 50.0 * 1.015_f64.powi(step);
                let beside = re * (1.0 + 1e-9);
                let (j, f) = (colburn(law, re), law.fanning(re));
                assert_relative_eq!(j, colburn(law, beside), max_relative = 1e-7);
                assert_relative_eq!(f, law.fanning(beside), max_relative = 1e-7);
                assert!(j > 0.0 && f > 0.0);
                // Interrupted fins pass no more heat than half of what friction would let them.
                assert!(
                    matches!(law, Law::Channel { .. }) || j < 0.6 * f,
                    "{law:?} {re}"
                );
            }
        }
    }

    /// Re 1000, gap 1.9, height 6, strip 3, thickness 0.1 mm: j 0.01496, f 0.05776 by a second
    /// writing of the same formula; it shows slips of the pen here, not in the coefficients.
    #[test]
    fn offset_strips_follow_the_formula_as_remembered() {
        let law = Law::offset(1.9e-3, 6e-3, 3e-3, 0.1e-3);
        assert_relative_eq!(colburn(law, 1000.0), 0.014958, epsilon = 1e-6);
        assert_relative_eq!(law.fanning(1000.0), 0.057757, epsilon = 1e-6);
    }

    /// Pitch 1.5, louvres 1.2 by 6.8 at 28 degrees, height 8, thickness 0.1, depth 40, layers 11 mm,
    /// Re 300: j 0.0220, f 0.0816 by a second writing.
    #[test]
    fn louvres_follow_the_formulas_as_remembered() {
        let louvres = LouvreGeometry {
            louvre_pitch: 1.2e-3,
            angle: 28.0,
            louvre_length: 6.8e-3,
            fin_pitch: 1.5e-3,
            fin_height: 8e-3,
            thickness: 0.1e-3,
            depth: 40e-3,
            layer_pitch: 11e-3,
            hydraulic_diameter: 2.4e-3,
        };
        let law = Law::louvred(&louvres);
        assert_relative_eq!(colburn(law, 300.0), 0.0220, epsilon = 5e-5);
        assert_relative_eq!(law.fanning(300.0), 0.0816, epsilon = 5e-5);
        // At twice as much of the hydraulic diameter's 1200 the other range: f 0.02244 by hand.
        assert_relative_eq!(law.fanning(1200.0), 0.02244, epsilon = 5e-6);
    }
}
