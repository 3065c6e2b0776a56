//! One side of a core: areas, conductance with its fins, pressure drop.
//!
//! Symbols as in Kays and London: G = m/A_c, σ free-flow over frontal area, D_h = 4 A_c L/A.

use super::fins::{Correlated, FinKind, Law, LouvreGeometry, OutOfRange};
use super::passage::{CorePassage, Fin};
use crate::air_path::cooler::fluid::Fluid;

/// One side of a core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CoreSurface {
    /// Free-flow area A_c, m².
    flow_area: f64,
    /// Area A that passes heat, m².
    pub area: f64,
    /// Share of it that is fin.
    fin_share: f64,
    /// D_h, m.
    hydraulic_diameter: f64,
    /// Length of the Reynolds number, m.
    reynolds_length: f64,
    /// Length L of the flow, m.
    length: f64,
    /// σ.
    contraction: f64,
    /// Half of the fin's height, m, and √(2/(k t)) of its thickness and conductivity.
    fin: Option<(f64, f64)>,
    law: Law,
    /// The first number of the geometry that left the correlation's range.
    pub out_of_range: Option<OutOfRange>,
}

/// Number and sizes of the layers of one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LayerSizes {
    /// Number of layers.
    pub count: f64,
    /// Along the flow, m.
    pub length: f64,
    /// Across the flow within the layer, m.
    pub breadth: f64,
    /// Area that the flow meets, m².
    pub frontal: f64,
    /// From one layer of this side to the next, m.
    pub layer_pitch: f64,
    /// Conductivity of the fins, W/(m K).
    pub conductivity: f64,
}

/// A surface at work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SurfaceWork {
    /// η h A, W/K.
    pub conductance: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Fanning's f.
    pub friction: f64,
}

impl CoreSurface {
    pub fn new(passage: &CorePassage, layers: &LayerSizes) -> Self {
        let Some(fin) = &passage.fin else {
            return Self::bare(passage.height, layers);
        };
        // Gap and height of a channel between fins.
        let (s, h) = (fin.pitch - fin.thickness, passage.height - fin.thickness);
        let channels = layers.count * layers.breadth / fin.pitch;
        let flow_area = channels * s * h;
        // Areas of one channel per length; a strip shows its edges too (Manglik and Bergles).
        let edges = match fin.kind {
            FinKind::Offset { length } => fin.thickness / length,
            _ => 0.0,
        };
        let (fins, plates) = (2.0 * h * (1.0 + edges), s * (2.0 + edges));
        let area = channels * (fins + plates) * layers.length;
        let hydraulic_diameter = 4.0 * s * h / (fins + plates);
        let (law, reynolds_length) = law_of(fin, s, h, hydraulic_diameter, layers);
        Self {
            flow_area,
            area,
            fin_share: fins / (fins + plates),
            hydraulic_diameter,
            reynolds_length,
            length: layers.length,
            contraction: (flow_area / layers.frontal).min(1.0),
            fin: Some((
                0.5 * passage.height,
                (2.0 * (1.0 + edges) / (layers.conductivity * fin.thickness)).sqrt(),
            )),
            law,
            out_of_range: geometry_out_of_range(fin, s, h, layers),
        }
    }

    /// A flat channel without fins.
    fn bare(height: f64, layers: &LayerSizes) -> Self {
        let (short, long) = (height.min(layers.breadth), height.max(layers.breadth));
        let flow_area = layers.count * height * layers.breadth;
        let hydraulic_diameter = 2.0 * short * long / (short + long);
        Self {
            flow_area,
            area: 4.0 * flow_area * layers.length / hydraulic_diameter,
            fin_share: 0.0,
            hydraulic_diameter,
            reynolds_length: hydraulic_diameter,
            length: layers.length,
            contraction: (flow_area / layers.frontal).min(1.0),
            fin: None,
            law: Law::channel(short / long),
            out_of_range: None,
        }
    }

    /// At a mass flow in kg/s above 0. h = j G cp Pr^−2/3; a fin of a height 2 b between two plates
    /// has η_f = tanh(m b)/(m b), m = √(2 h/(k t)), the surface η = 1 − (A_f/A)(1 − η_f) (Kays and
    /// London; Incropera, §3.6).
    pub fn work(&self, fluid: &Fluid, mass_flow: f64) -> SurfaceWork {
        let g = mass_flow / self.flow_area;
        let reynolds = g * self.reynolds_length / fluid.viscosity;
        let prandtl = fluid.prandtl();
        let cube_root = prandtl.cbrt();
        let j = self.law.colburn(reynolds, prandtl, cube_root);
        let h = j * g * fluid.heat_capacity / (cube_root * cube_root);
        let efficiency = self.fin.map_or(1.0, |(half_height, per_root)| {
            fin_efficiency(half_height * per_root * h.sqrt())
        });
        SurfaceWork {
            conductance: (1.0 - self.fin_share * (1.0 - efficiency)) * h * self.area,
            reynolds,
            friction: self.law.fanning(reynolds),
        }
    }

    /// Fanning's f at a mass flow in kg/s above 0.
    pub fn friction(&self, fluid: &Fluid, mass_flow: f64) -> f64 {
        let g = mass_flow / self.flow_area;
        self.law.fanning(g * self.reynolds_length / fluid.viscosity)
    }

    /// Pressure drop in Pa at a mass flow in kg/s, the density at the inlet, and that density over
    /// the outlet's: entrance, acceleration, friction, exit (Kays and London, eq. 2-26a), with
    /// K_c = 0.42 (1 − σ) and K_e = (1 − σ)² (White, Fluid Mechanics, §6.9, from memory).
    pub fn pressure_drop(&self, mass_flow: f64, density: f64, shrunk: f64, friction: f64) -> f64 {
        let g = mass_flow / self.flow_area;
        let sigma = self.contraction;
        let (k_c, k_e) = (0.42 * (1.0 - sigma), (1.0 - sigma).powi(2));
        let rest = 1.0 - sigma * sigma;
        let core = friction * 4.0 * self.length / self.hydraulic_diameter * 0.5 * (1.0 + shrunk);
        let sum = k_c + rest + 2.0 * (shrunk - 1.0) + core - (rest - k_e) * shrunk;
        (g * g / (2.0 * density) * sum).max(0.0)
    }

    /// The Reynolds number where it leaves the correlation's range.
    pub fn reynolds_out_of_range(&self, reynolds: f64) -> Option<OutOfRange> {
        within(Correlated::Reynolds, reynolds, self.law.reynolds_range())
    }
}

/// tanh(x)/x, 1 at 0.
fn fin_efficiency(x: f64) -> f64 {
    if x < 1e-4 { 1.0 } else { x.tanh() / x }
}

fn law_of(fin: &Fin, s: f64, h: f64, hydraulic_diameter: f64, layers: &LayerSizes) -> (Law, f64) {
    match fin.kind {
        FinKind::Plain => (Law::channel(s.min(h) / s.max(h)), hydraulic_diameter),
        FinKind::Offset { length } => {
            (Law::offset(s, h, length, fin.thickness), hydraulic_diameter)
        }
        FinKind::Louvred {
            pitch,
            angle,
            length,
        } => {
            let geometry = LouvreGeometry {
                louvre_pitch: pitch,
                angle,
                louvre_length: length,
                fin_pitch: fin.pitch,
                fin_height: h,
                thickness: fin.thickness,
                depth: layers.length,
                layer_pitch: layers.layer_pitch,
                hydraulic_diameter,
            };
            (Law::louvred(&geometry), pitch)
        }
    }
}

/// The ranges of the data behind the correlations (from memory, like these).
fn geometry_out_of_range(fin: &Fin, s: f64, h: f64, layers: &LayerSizes) -> Option<OutOfRange> {
    let t = fin.thickness;
    match fin.kind {
        FinKind::Plain => None,
        FinKind::Offset { length } => within(Correlated::GapOverHeight, s / h, (0.134, 0.997))
            .or_else(|| within(Correlated::ThicknessOverLength, t / length, (0.012, 0.048)))
            .or_else(|| within(Correlated::ThicknessOverGap, t / s, (0.041, 0.121))),
        FinKind::Louvred { pitch, angle, .. } => {
            within(Correlated::LouvreAngle, angle, (8.4, 35.0))
                .or_else(|| within(Correlated::FinPitch, fin.pitch, (0.5e-3, 3.33e-3)))
                .or_else(|| within(Correlated::LouvrePitch, pitch, (0.5e-3, 3e-3)))
                .or_else(|| within(Correlated::FinHeight, h, (2.5e-3, 20e-3)))
                .or_else(|| within(Correlated::Depth, layers.length, (15.6e-3, 57.4e-3)))
        }
    }
}

fn within(what: Correlated, value: f64, range: (f64, f64)) -> Option<OutOfRange> {
    let inside = value >= range.0 && value <= range.1;
    (!inside).then_some(OutOfRange { what, value, range })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const LAYERS: LayerSizes = LayerSizes {
        count: 1.0,
        length: 0.3,
        breadth: 0.06,
        frontal: 0.06 * 0.015,
        layer_pitch: 0.015,
        conductivity: 180.0,
    };

    fn strips(length: f64, height: f64, thickness: f64, pitch: f64) -> CoreSurface {
        let fin = Some(Fin {
            pitch,
            thickness,
            kind: FinKind::Offset { length },
        });
        CoreSurface::new(&CorePassage { height, fin }, &LAYERS)
    }

    /// The library counts one corner of a strip otherwise, t² of the area: below 2e-3 of D_h.
    #[test]
    fn areas_of_offset_strips_are_those_of_the_library() {
        let text = include_str!("../../../../tests/reference/strip_fin.csv");
        let mut count = 0;
        for line in text.lines().filter(|line| line.starts_with('0')) {
            let numbers: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
            let [length, height, thickness, pitch, channel, diameter] = numbers[..] else {
                panic!("{line}")
            };
            let found = strips(length, height, thickness, pitch);
            let channels = LAYERS.breadth / pitch;
            assert_relative_eq!(found.flow_area / channels, channel, max_relative = 1e-9);
            assert_relative_eq!(found.hydraulic_diameter, diameter, max_relative = 2e-3);
            count += 1;
        }
        assert_eq!(count, 3);
    }

    /// A flat channel of 6 by 60 mm: D_h = 2 · 6 · 60/66 mm.
    #[test]
    fn a_flat_tube_is_a_channel_of_its_two_sides() {
        let bare = CoreSurface::new(
            &CorePassage {
                height: 6e-3,
                fin: None,
            },
            &LAYERS,
        );
        assert_relative_eq!(
            bare.hydraulic_diameter,
            0.720e-3 / 0.066,
            max_relative = 1e-12
        );
        assert_relative_eq!(bare.area, 2.0 * 0.066 * 0.3, max_relative = 1e-12);
    }

    /// tanh(1)/1, and the limits of a fin without resistance and of an endless one.
    #[test]
    fn a_fin_loses_with_its_length() {
        assert_relative_eq!(fin_efficiency(1.0), 0.761_594, epsilon = 1e-6);
        assert_relative_eq!(fin_efficiency(1e-4), 1.0, epsilon = 1e-8);
        assert_relative_eq!(fin_efficiency(50.0), 0.02, max_relative = 1e-9);
    }

    /// Without friction and warming the ends alone remain: 0.42 (1 − σ) + (1 − σ)².
    #[test]
    fn the_drop_is_that_of_ends_friction_and_density() {
        let surface = strips(3e-3, 6.5e-3, 0.1e-3, 2e-3);
        let g = 0.02 / surface.flow_area;
        let (sigma, dynamic) = (surface.contraction, g * g / (2.0 * 2.0));
        let ends = 0.42 * (1.0 - sigma) + (1.0 - sigma).powi(2);
        let found = surface.pressure_drop(0.02, 2.0, 1.0, 0.0);
        assert_relative_eq!(found, dynamic * ends, max_relative = 1e-12);
        let friction = 0.05 * 4.0 * 0.3 / surface.hydraulic_diameter;
        let rough = surface.pressure_drop(0.02, 2.0, 1.0, 0.05);
        assert_relative_eq!(rough - found, dynamic * friction, max_relative = 1e-12);
        // Cooled air slows down and gives pressure back.
        assert!(surface.pressure_drop(0.02, 2.0, 0.8, 0.05) < rough);
    }
}
