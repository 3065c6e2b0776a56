//! Typical values by kind of engine and of fuel, in one table, each figure with its source.
//!
//! The builder's own figures win over all of it; `point` lists what was taken from here.

use super::evaporation::Volatility;
use super::friction::Friction;
use super::kinds::{EngineKind, FuelKind, Strokes};

/// Typical values of a kind of engine, where the build says nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TypicalEngine {
    /// Friction.
    pub friction: Friction,
    /// Where the friction comes from.
    pub friction_source: &'static str,
    /// Peak over compression pressure, for the part of friction that hangs on the peak.
    pub pressure_rise_ratio: f64,
    /// How far the pressure-rise ratio is off either way, a share: cycles differ, and so do
    /// cylinders.
    pub pressure_rise_scatter: f64,
    /// Where those two come from.
    pub pressure_rise_source: &'static str,
}

/// A diesel.
pub const DIESEL: TypicalEngine = TypicalEngine {
    friction: Friction::CHEN_FLYNN,
    friction_source: "Chen and Flynn, SAE 650733, from memory",
    pressure_rise_ratio: 1.5,
    pressure_rise_scatter: 0.05,
    pressure_rise_source: "common practice, full load 1.3 to 1.8",
};

/// An engine with spark plugs. Its friction at 10 m/s lies near the motored total of small petrol
/// engines less their pumping (Heywood 1988, eq. 13.6, from memory: 97 kPa + 15 kPa N/1000 + 5 kPa
/// (N/1000)², N in rpm).
pub const SPARK_IGNITION: TypicalEngine = TypicalEngine {
    friction: Friction {
        constant: 40_000.0,
        peak_pressure_share: 0.005,
        linear: 9_000.0,
        quadratic: 90.0,
    },
    friction_source: "Chen and Flynn's form, coefficients by common practice",
    pressure_rise_ratio: 2.5,
    pressure_rise_scatter: 0.10,
    pressure_rise_source: "common practice, full load 2.2 to 3",
};

impl EngineKind {
    /// Its typical values.
    pub const fn typical(self) -> &'static TypicalEngine {
        match self {
            Self::Diesel => &DIESEL,
            Self::SparkIgnition => &SPARK_IGNITION,
        }
    }

    /// Its typical friction. The figures count a cycle of two turns; what rubs in every
    /// turn is half of that for a two-stroke's cycle of one (common practice), while the peak presses
    /// once a cycle in both.
    pub fn typical_friction(self, strokes: Strokes) -> Friction {
        let of_four = self.typical().friction;
        match strokes {
            Strokes::Four => of_four,
            Strokes::Two => Friction {
                constant: 0.5 * of_four.constant,
                linear: 0.5 * of_four.linear,
                quadratic: 0.5 * of_four.quadratic,
                ..of_four
            },
        }
    }
}

/// Where a fuel known by name burns.
impl FuelKind {
    /// The kind of engine that burns it.
    pub const fn engine_kind(self) -> EngineKind {
        match self {
            Self::Diesel => EngineKind::Diesel,
            _ => EngineKind::SparkIgnition,
        }
    }

    /// Compression ratio of an unblown engine with a charge of 40 °C that it stands without much
    /// care, and one past which it mostly knocks (common practice, whole numbers; racing petrol
    /// stands more than road petrol). `None` for a diesel, which is meant to light by itself.
    pub const fn knock_ratios(self) -> Option<(f64, f64)> {
        match self {
            Self::Diesel => None,
            Self::Petrol => Some((12.0, 14.0)),
            Self::E85 => Some((14.0, 16.0)),
            Self::Ethanol => Some((15.0, 17.0)),
            Self::Methanol => Some((16.0, 18.0)),
        }
    }

    /// How it evaporates at 25 °C. `None` for diesel, which is injected into the cylinder.
    /// Methanol and ethanol: CoolProp 8.0.0 (tests/reference/vapour.csv). Petrol: 0.35 MJ/kg,
    /// 1.7 kJ/(kg K) as vapour and 105 g/mol (handbooks, from memory), vapour pressure from 60 kPa at
    /// 37.8 °C (summer grade, EN 228, from memory). E85: by mass and by Raoult's law from the two, which is
    /// cautious: a real blend's light ends evaporate more readily.
    pub const fn volatility(self) -> Option<Volatility> {
        let (latent_heat, vapour_heat_capacity, molar_mass, vapour_pressure) = match self {
            Self::Diesel => return None,
            Self::Petrol => (0.35e6, 1700.0, 0.105, 32.6e3),
            Self::Ethanol => (0.92e6, 1490.0, 0.046_07, 7.89e3),
            Self::Methanol => (1.17e6, 1410.0, 0.032_04, 16.98e3),
            Self::E85 => (0.84e6, 1520.0, 0.050_1, 9.6e3),
        };
        Some(Volatility {
            latent_heat,
            vapour_heat_capacity,
            molar_mass,
            vapour_pressure,
        })
    }
}

/// Exponents of the compression polytrope from the manifold: low, usual, high (common practice for
/// a warm engine).
pub const COMPRESSION_EXPONENTS: [f64; 3] = [1.32, 1.35, 1.37];
/// Friction in threads and under nuts, steel on steel with oil: low, high (common practice).
pub const STUD_FRICTION: (f64, f64) = (0.10, 0.16);
/// Friction of a ribbed belt in its grooves, on the angle of wrap: V-belts, with the tensions five to
/// one over half a turn (Shigley, chapter 17, from memory: 0.5123).
pub const RIBBED_FRICTION: f64 = 0.5123;
/// Tight over slack tension of a toothed belt, above its centrifugal part (trade practice, from
/// memory: eight to one).
pub const TOOTHED_TENSION_RATIO: f64 = 8.0;

#[cfg(test)]
mod tests {
    use super::*;

    /// At 10 m/s and 7 MPa: petrol 40 + 35 + 90 + 9 kPa; Heywood's total for 86 mm of stroke there
    /// (3488 rpm) is 97 + 52 + 61 = 210 kPa, pumping in it.
    #[test]
    fn petrol_friction_lies_below_the_motored_total_and_above_half_of_it() {
        let f = SPARK_IGNITION.friction;
        let u = 10.0;
        let fmep = f.constant + f.peak_pressure_share * 7e6 + f.linear * u + f.quadratic * u * u;
        let n: f64 = u * 30.0 / 0.086 / 1000.0;
        let total = 97e3 + 15e3 * n + 5e3 * n * n;
        assert!(fmep < total && fmep > 0.5 * total, "{fmep} {total}");
    }

    /// The same rubbing power at the same speed: half the mean pressure over twice the cycles.
    #[test]
    fn a_two_stroke_rubs_as_hard_in_a_turn_and_half_as_hard_in_a_cycle() {
        for kind in [EngineKind::Diesel, EngineKind::SparkIgnition] {
            let at = |strokes| {
                let f = kind.typical_friction(strokes);
                assert!((f.peak_pressure_share - 0.005).abs() < 1e-15);
                f.constant + f.linear * 10.0 + f.quadratic * 100.0
            };
            assert!((at(Strokes::Four) / at(Strokes::Two) - 2.0).abs() < 1e-12);
        }
    }

    #[test]
    fn alcohols_stand_more_compression_than_petrol_and_cool_more() {
        use FuelKind as F;
        let order = [F::Petrol, F::E85, F::Ethanol, F::Methanol];
        for pair in order.windows(2) {
            let knock = |fuel: F| fuel.knock_ratios().unwrap().0;
            let heat = |fuel: F| fuel.volatility().unwrap().latent_heat;
            assert!(knock(pair[0]) < knock(pair[1]));
            assert!(heat(pair[0]) < heat(pair[1]));
        }
    }

    /// By hand: 85 % by volume of 789 kg/m³ in the mixture's 782; 1/M = Σ w/M; Raoult.
    #[test]
    fn e85_is_mixed_from_its_parts() {
        let part = |fuel: FuelKind| fuel.volatility().unwrap();
        let (ethanol, petrol, e85) = (
            part(FuelKind::Ethanol),
            part(FuelKind::Petrol),
            part(FuelKind::E85),
        );
        let w = 0.85 * 789.0 / 782.0;
        let heat = w * ethanol.latent_heat + (1.0 - w) * petrol.latent_heat;
        let moles = [w / ethanol.molar_mass, (1.0 - w) / petrol.molar_mass];
        let x = moles[0] / (moles[0] + moles[1]);
        let pressure = x * ethanol.vapour_pressure + (1.0 - x) * petrol.vapour_pressure;
        assert!((heat / e85.latent_heat - 1.0).abs() < 5e-3, "{heat}");
        let molar_mass = 1.0 / (moles[0] + moles[1]);
        assert!((molar_mass / e85.molar_mass - 1.0).abs() < 5e-3);
        assert!(
            (pressure / e85.vapour_pressure - 1.0).abs() < 2e-2,
            "{pressure}"
        );
    }
}
