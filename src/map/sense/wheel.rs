//! The wheel that a map implies: speed, flow and ratio of one machine hang together.
//!
//! Euler's work equation: the isentropic head of a radial compressor is Δh_s = ψ U², with ψ the work
//! coefficient (slip and backsweep: about 0.6 to 0.85) times the efficiency. At the highest point of
//! a speed line ψ lies between 0.42 and 0.70 (common practice, from memory; a measured stage of
//! 431 mm with 34° of backsweep has 0.66 to 0.68). So the ratio gives the tip speed U, and with the
//! speed the diameter, D = 60 U/(π N), to about 12 %.
//!
//! The largest flow of a line gives the flow coefficient φ = m/(ρ D² U); radial wheels choke between
//! 0.06 and 0.16, low-flow process wheels from 0.02 on, mixed-flow wheels to 0.25 (common practice).
//!
//! A radial turbine is at its best near U/c_s = 0.65, c_s = √(2 Δh_s) (blade-speed ratio; common
//! practice, 0.6 to 0.7), which gives its diameter, to about 20 %. The area of the nozzle that passes
//! its choked flow, A = m √(R T)/(p ψ_max), is 0.05 to 0.35 of D².
//!
//! An axial machine has several stages on one shaft and follows none of this closely; its diameter
//! comes out too large.

use super::range::{Range, Standing};
use super::{Entry, Shape};
use crate::map::corrected::Reference;
use crate::map::{grouping, head};

/// ψ at the highest point of a speed line.
const HEAD_COEFFICIENT: f64 = 0.55;
/// U over the spouting velocity at a turbine's best efficiency.
const BLADE_SPEED_RATIO: f64 = 0.65;
/// Heat capacities' ratio of exhaust gas, as the turbine map's own nozzle has it.
const EXHAUST_GAMMA: f64 = 1.33;
/// Flow function m √(R T)/(p A) of a choked nozzle with that ratio.
const CHOKED: f64 = 0.672;

/// Diameter, m.
const DIAMETER: Range = Range {
    possible: (0.008, 3.0),
    usual: (0.016, 0.6),
};
/// φ at choke of a compressor.
const FLOW_COEFFICIENT: Range = Range {
    possible: (0.012, 0.45),
    usual: (0.03, 0.24),
};
const TYPICAL_FLOW_COEFFICIENT: f64 = 0.115;
const TYPICAL_AREA_SHARE: f64 = 0.15;
/// Nozzle area of a turbine over the wheel's diameter squared.
const AREA_SHARE: Range = Range {
    possible: (0.005, 3.0),
    usual: (0.025, 0.7),
};
/// Nozzle area of a turbine whose speed is unknown, m²: wheels of 20 to 400 mm.
pub const NOZZLE_AREA: Range = Range {
    possible: (0.2e-4, 400e-4),
    usual: (0.4e-4, 120e-4),
};

/// What a map says of its wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    /// Outlet diameter of a compressor, inlet diameter of a turbine, m.
    pub diameter: f64,
    /// Tip speed on the fastest line, m/s.
    pub tip_speed: f64,
    /// Flow coefficient of a compressor, nozzle area over D² of a turbine.
    pub coefficient: f64,
    shape: Shape,
}

impl Wheel {
    /// The wheel of a compressor's rows (flow in kg/s, values: pressure ratio, efficiency).
    pub fn of_compressor(reference: Reference, rows: &[Entry]) -> Option<Self> {
        let lines = lines(rows, Shape::Compressor);
        let scale = head::scale(reference.temperature);
        let density = reference.pressure / (head::GAS_CONSTANT * reference.temperature);
        let diameter = median(lines.iter().filter_map(|(speed, line)| {
            let ratio = largest(line.iter().map(|row| row.values[0]))?;
            let tip_speed = (scale * head::from_ratio(ratio) / HEAD_COEFFICIENT).sqrt();
            Some(60.0 * tip_speed / (std::f64::consts::PI * speed))
        }))?;
        let coefficient = median(lines.iter().filter_map(|(speed, line)| {
            let flow = largest(line.iter().map(|row| row.along))?;
            Some(flow / (density * diameter.powi(2) * tip(diameter, *speed)))
        }))?;
        Self::whole(Shape::Compressor, diameter, coefficient, &lines)
    }

    /// The wheel of a turbine's rows (expansion ratio, values: flow in kg/s, efficiency).
    pub fn of_turbine(reference: Reference, rows: &[Entry]) -> Option<Self> {
        let lines = lines(rows, Shape::Turbine);
        let diameter = median(lines.iter().filter_map(|(speed, line)| {
            let best = line
                .iter()
                .max_by(|a, b| a.values[1].total_cmp(&b.values[1]))?;
            let tip_speed = BLADE_SPEED_RATIO * spouting_velocity(reference, best.along);
            Some(60.0 * tip_speed / (std::f64::consts::PI * speed))
        }))?;
        let area = nozzle_area(reference, rows)?;
        Self::whole(Shape::Turbine, diameter, area / diameter.powi(2), &lines)
    }

    fn whole(
        shape: Shape,
        diameter: f64,
        coefficient: f64,
        lines: &[(f64, Vec<Entry>)],
    ) -> Option<Self> {
        let fastest = largest(lines.iter().map(|(speed, _)| *speed))?;
        let wheel = Self {
            diameter,
            tip_speed: tip(diameter, fastest),
            coefficient,
            shape,
        };
        let sound = diameter > 0.0 && coefficient > 0.0 && wheel.tip_speed.is_finite();
        sound.then_some(wheel)
    }

    /// The wheel if all speeds were this factor higher and all flows that factor.
    #[must_use]
    pub fn scaled(self, speeds: f64, flows: f64) -> Self {
        // The ratio, and with it the tip speed, stays: D with 1/N, the coefficient with m/D².
        Self {
            diameter: self.diameter / speeds,
            coefficient: self.coefficient * flows * speeds * speeds,
            ..self
        }
    }

    /// How the diameter stands.
    pub fn diameter_standing(&self) -> Standing {
        DIAMETER.standing(self.diameter)
    }

    /// How the flow stands to the wheel.
    pub fn flow_standing(&self) -> Standing {
        self.coefficient_range().standing(self.coefficient)
    }

    /// Whether diameter and flow are those of a usual machine.
    pub fn is_usual(&self) -> bool {
        self.diameter_standing().max(self.flow_standing()) == Standing::Usual
    }

    /// How the two together stand.
    pub fn standing(&self) -> Standing {
        self.diameter_standing().max(self.flow_standing())
    }

    /// The flow over the flow that is typical of such a wheel.
    pub fn flow_off(&self) -> f64 {
        let typical = match self.shape {
            Shape::Turbine => TYPICAL_AREA_SHARE,
            Shape::Compressor | Shape::Displacement => TYPICAL_FLOW_COEFFICIENT,
        };
        self.coefficient / typical
    }

    /// How far from the typical the flow is, as a logarithm, where the machine is usual.
    pub fn miss(&self) -> Option<f64> {
        self.is_usual().then(|| self.flow_off().ln().abs())
    }

    const fn coefficient_range(&self) -> Range {
        match self.shape {
            Shape::Turbine => AREA_SHARE,
            Shape::Compressor | Shape::Displacement => FLOW_COEFFICIENT,
        }
    }
}

/// Area of the nozzle that passes a turbine's largest flow, m².
pub fn nozzle_area(reference: Reference, rows: &[Entry]) -> Option<f64> {
    let flow = median(lines(rows, Shape::Turbine).iter().filter_map(|(_, line)| {
        // The second largest where there are enough rows, so that one bad row does not tell the area.
        let mut flows: Vec<f64> = line.iter().map(|row| row.values[0]).collect();
        flows.sort_by(f64::total_cmp);
        let back = if flows.len() > 2 { 2 } else { 1 };
        flows.get(flows.len().checked_sub(back)?).copied()
    }))?;
    Some(flow * (head::GAS_CONSTANT * reference.temperature).sqrt() / (reference.pressure * CHOKED))
}

/// Velocity of a free expansion from the reference temperature, m/s.
fn spouting_velocity(reference: Reference, expansion_ratio: f64) -> f64 {
    let exponent = (EXHAUST_GAMMA - 1.0) / EXHAUST_GAMMA;
    let heat_capacity = head::GAS_CONSTANT / exponent;
    let drop = heat_capacity * reference.temperature * (1.0 - expansion_ratio.powf(-exponent));
    (2.0 * drop).sqrt()
}

/// Tip speed of a rotor pair of a swept volume (m³ a revolution) at a speed (rpm), m/s: two rotors
/// as long as 1.2 of their diameter sweep about D³ (common practice).
pub fn rotor_tip_speed(displacement: f64, speed: f64) -> f64 {
    tip(displacement.cbrt(), speed)
}

fn tip(diameter: f64, speed: f64) -> f64 {
    std::f64::consts::PI * diameter * speed / 60.0
}

/// Rows by speed, those of lines where there are any.
fn lines(rows: &[Entry], shape: Shape) -> Vec<(f64, Vec<Entry>)> {
    let speeds: Vec<(usize, f64)> = rows.iter().map(|row| row.speed).enumerate().collect();
    let groups = grouping::by_speed(&speeds, shape.rows_per_line());
    let enough = |needed: usize| -> Vec<(f64, Vec<Entry>)> {
        let full = groups.iter().filter(|group| group.rows.len() >= needed);
        full.map(|group| (group.speed, group.rows.iter().map(|&at| rows[at]).collect()))
            .collect()
    };
    let full = enough(shape.rows_per_line());
    if full.is_empty() { enough(1) } else { full }
}

fn largest(values: impl Iterator<Item = f64>) -> Option<f64> {
    values.max_by(f64::total_cmp)
}

/// The lower middle value.
pub(super) fn median(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut sorted: Vec<f64> = values.filter(|value| value.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len().checked_sub(1)? / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const REFERENCE: Reference = Reference {
        temperature: 288.15,
        pressure: 101_325.0,
    };

    fn row(row: usize, (speed, along): (f64, f64), values: [f64; 2]) -> Entry {
        Entry {
            row,
            speed,
            along,
            values,
        }
    }

    /// A choked nozzle passes m √(R T)/(p A) = √γ (2/(γ+1))^((γ+1)/(2(γ−1))) (any textbook of gas dynamics):
    /// 0.6728 with γ 1.33. So 0.25 kg/s of air of 288.15 K and 101.325 kPa want 10.55 cm², by hand; the flow
    /// function here has three digits.
    #[test]
    fn a_choked_turbine_has_the_area_of_its_nozzle() {
        let rows: Vec<Entry> = [(1.5, 0.21), (2.0, 0.25), (2.5, 0.25)]
            .into_iter()
            .enumerate()
            .map(|(i, (ratio, flow))| row(i, (60e3, ratio), [flow, 0.7]))
            .collect();
        let area = nozzle_area(REFERENCE, &rows).unwrap();
        assert_relative_eq!(area, 10.55e-4, max_relative = 2e-3);
    }
}
