//! What must hold for any gas, any state and any part of the air path, whatever the data: one table
//! of gases and temperatures run through every identity, and properties of the parts under random
//! inputs. A round trip proves an inverse, never a formula: the formulas are held in
//! `*_reference.rs`.

use airpath::air_path::{
    AirState, BeltDrive, Displacement, Duct, DuctPressureDrop, Filling, RatedDrop, compress,
    compress_by, isentropic_rise, stage_efficiency,
};
use airpath::gas::{FuelFormula, Gas, HumidAir, MOLAR_GAS_CONSTANT, Moles, SPECIES};
use proptest::prelude::*;

/// Rounding of a few operations on numbers of one size.
const ROUNDING: f64 = 1e-12;
/// The inverse T(h), T(s°) stops at 1e-13 of the temperature.
const INVERSE: f64 = 1e-11;

const TEMPERATURES: [f64; 12] = [
    201.0, 250.0, 298.15, 300.0, 450.0, 700.0, 999.0, 1001.0, 1500.0, 2200.0, 3500.0, 5900.0,
];
const RATIOS: [f64; 5] = [0.5, 1.0, 1.001, 2.0, 6.0];

fn single(place: usize) -> Moles {
    std::array::from_fn(|i| f64::from(u8::from(i == place)))
}

/// Everything that flows anywhere in an installation, and each species alone.
fn gases() -> Vec<(String, Gas)> {
    let diesel = FuelFormula {
        hydrogen_carbon_ratio: 1.80,
        oxygen_carbon_ratio: 0.0,
    };
    let methanol = FuelFormula {
        hydrogen_carbon_ratio: 4.0,
        oxygen_carbon_ratio: 1.0,
    };
    let humid = HumidAir::new(84e3, 308.15, 0.9).unwrap();
    let burn = |fuel: FuelFormula, air: &HumidAir, lambda: f64| {
        let ratio = lambda * fuel.stoichiometric_ratio();
        fuel.burn(air, ratio).unwrap().gas
    };
    let mut gases: Vec<(String, Gas)> = SPECIES
        .iter()
        .enumerate()
        .map(|(place, species)| (format!("{species:?}"), Gas::mix(&single(place))))
        .collect();
    gases.extend([
        ("dry air".into(), HumidAir::dry().gas()),
        ("humid air".into(), humid.gas()),
        ("lean diesel".into(), burn(diesel, &HumidAir::dry(), 1.6)),
        ("diesel at λ 1".into(), burn(diesel, &humid, 1.0)),
        ("rich diesel".into(), burn(diesel, &humid, 0.75)),
        (
            "rich methanol".into(),
            burn(methanol, &HumidAir::dry(), 0.6),
        ),
    ]);
    gases
}

/// Runs a check over every gas and temperature; the check gives the names and relative errors of
/// its identities with what each may be.
fn everywhere(check: impl Fn(&Gas, f64) -> Vec<(&'static str, f64, f64)>) {
    for (name, gas) in gases() {
        for t in TEMPERATURES {
            for (identity, error, limit) in check(&gas, t) {
                // Written so that a NaN fails.
                assert!(
                    error.abs() <= limit,
                    "{identity} of {name} at {t} K: {error:e}"
                );
            }
        }
    }
}

/// Central differences over ±0.5 K: their own error is h² f‴/6, below 1e-6 of cp for curves that
/// bend over hundreds of kelvins, and rounding of h (1e-16 × 1e8 J/kg for hydrogen) is below that.
#[test]
fn heat_capacity_is_the_slope_of_enthalpy_and_of_entropy() {
    everywhere(|gas, t| {
        let (h0, s0) = gas.enthalpy_and_entropy(t - 0.5).unwrap();
        let (h1, s1) = gas.enthalpy_and_entropy(t + 0.5).unwrap();
        let cp = gas.cp(t).unwrap();
        vec![
            ("cp = dh/dT", (h1 - h0) / cp - 1.0, 1e-6),
            ("cp = T ds/dT", (s1 - s0) * t / cp - 1.0, 3e-6),
        ]
    });
}

#[test]
fn the_gas_constant_is_the_difference_of_the_heat_capacities() {
    everywhere(|gas, t| {
        let (cp, gamma, r) = (
            gas.cp(t).unwrap(),
            gas.gamma(t).unwrap(),
            gas.gas_constant(),
        );
        let molar = r * gas.molar_mass() / MOLAR_GAS_CONSTANT;
        let density = gas.density(150e3, t) * r * t / 150e3;
        // No molecule has less than its three ways to fly (argon has no more, to 1 ppm of data).
        assert!(cp - r >= 1.499_999 * r, "cv at {t} K");
        vec![
            ("R = cp - cv", (cp - cp / gamma) / r - 1.0, ROUNDING),
            ("R = Rm/M", molar - 1.0, ROUNDING),
            ("p = ρ R T", density - 1.0, ROUNDING),
        ]
    });
}

#[test]
fn temperature_comes_back_from_enthalpy_and_entropy() {
    everywhere(|gas, t| {
        let (h, s) = gas.enthalpy_and_entropy(t).unwrap();
        vec![
            (
                "T(h)",
                gas.temperature_at_enthalpy(h, 300.0).unwrap() / t - 1.0,
                INVERSE,
            ),
            (
                "T(s)",
                gas.temperature_at_entropy(s, 300.0).unwrap() / t - 1.0,
                INVERSE,
            ),
        ]
    });
}

/// Where both ends lie within 200 to 6000 K.
#[test]
fn an_isentropic_change_keeps_entropy_and_comes_back() {
    everywhere(|gas, t| {
        let inlet = AirState::new(gas, 100e3, t).unwrap();
        let mut found = Vec::new();
        for ratio in RATIOS {
            let Ok(outlet) = compress(gas, &inlet, ratio, 1.0) else {
                assert!(!(300.0..=3000.0).contains(&t), "{t} K by {ratio}");
                continue;
            };
            let back = compress(gas, &outlet, 1.0 / ratio, 1.0).unwrap();
            let change = gas.entropy(outlet.temperature).unwrap() - gas.entropy(t).unwrap();
            let left = (change - gas.gas_constant() * ratio.ln()) / gas.cp(t).unwrap();
            found.push(("s2 = s1", left, INVERSE));
            found.push(("there and back", back.temperature / t - 1.0, 2.0 * INVERSE));
            found.push(("p there and back", back.pressure / 100e3 - 1.0, ROUNDING));
        }
        found
    });
}

#[test]
fn two_isentropic_steps_are_one() {
    everywhere(|gas, t| {
        let inlet = AirState::new(gas, 100e3, t).unwrap();
        let Ok(rise) = isentropic_rise(gas, &inlet, 3.0) else {
            return Vec::new();
        };
        let middle = compress(gas, &inlet, 1.5, 1.0).unwrap();
        let second = isentropic_rise(gas, &middle, 2.0).unwrap();
        let both = middle.enthalpy - inlet.enthalpy + second;
        // A part of h is lost where h itself is much greater than its change.
        vec![("h2 - h1", (both - rise) / (gas.cp(t).unwrap() * t), INVERSE)]
    });
}

/// An ideal mixture: per mole the shares of its species, in cp and h.
#[test]
fn a_mixture_has_the_shares_of_its_species() {
    let moles: Moles = [0.7, 0.03, 0.01, 0.12, 0.13, 0.02, 0.01];
    let total: f64 = moles.iter().sum();
    let mixture = Gas::mix(&moles);
    for t in TEMPERATURES {
        let (mut cp, mut h) = (0.0, 0.0);
        for (place, amount) in moles.iter().enumerate() {
            let gas = Gas::mix(&single(place));
            cp += amount / total * gas.molar_mass() * gas.cp(t).unwrap();
            h += amount / total * gas.molar_mass() * gas.enthalpy(t).unwrap();
        }
        let mass = mixture.molar_mass();
        assert!(
            (mixture.cp(t).unwrap() * mass / cp - 1.0).abs() < ROUNDING,
            "cp {t}"
        );
        // h crosses 0 at 298.15 K: rounding is that of cp T.
        let error = (mixture.enthalpy(t).unwrap() * mass - h) / (cp * t);
        assert!(error.abs() < ROUNDING, "h {t}");
    }
}

/// Burning keeps the mass; CHyOz + (1 + y/4 − z/2) O2 → CO2 + y/2 H2O adds y/4 + z/2 molecules for
/// each carbon atom. The species' masses are older than those of the atoms: 30 ppm of the fuel.
#[test]
fn lean_burning_makes_the_molecules_that_its_balance_says() {
    for (y, z) in [(1.80, 0.0), (3.0, 0.5), (4.0, 1.0)] {
        let fuel = FuelFormula {
            hydrogen_carbon_ratio: y,
            oxygen_carbon_ratio: z,
        };
        let air = HumidAir::dry();
        let ratio = 1.7 * fuel.stoichiometric_ratio();
        let products = fuel.burn(&air, ratio).unwrap().gas;
        // IUPAC's masses of C, H and O, kg/mol.
        let carbon = 1.0 / (12.011e-3 + y * 1.008e-3 + z * 15.999e-3);
        let molecules = ratio / air.gas().molar_mass() + carbon * (y / 4.0 + z / 2.0);
        let expected = (ratio + 1.0) / molecules;
        assert!(
            (products.molar_mass() / expected - 1.0).abs() < 1e-5,
            "{y} {z}"
        );
    }
}

fn air() -> Gas {
    HumidAir::dry().gas()
}

fn pipe(length: f64, bends: f64) -> Duct {
    Duct {
        pressure_drop: DuctPressureDrop::Pipe {
            diameter: 0.06,
            length,
            bends,
        },
    }
}

fn roots(displacement: f64, internal_volume_ratio: f64, slip: f64) -> Displacement {
    Displacement {
        displacement,
        belt: BeltDrive {
            ratio: 2.0,
            efficiency: 0.97,
        },
        filling: Filling::SlipSpeed(slip),
        internal_volume_ratio,
        indicated_efficiency: 0.95,
        mechanical_efficiency: 0.93,
        no_load: None,
    }
}

proptest! {
    #[test]
    fn the_outlet_is_hotter_with_a_greater_ratio_and_cooler_with_a_better_efficiency(
        t in 230.0..450.0_f64, ratio in 1.01..5.0_f64, more in 1.001..1.5_f64,
        efficiency in 0.35..0.95_f64,
    ) {
        let inlet = AirState::new(&air(), 90e3, t).unwrap();
        let outlet = compress(&air(), &inlet, ratio, efficiency).unwrap();
        let higher = compress(&air(), &inlet, ratio * more, efficiency).unwrap();
        let better = compress(&air(), &inlet, ratio, efficiency + 0.05).unwrap();
        prop_assert!(higher.temperature > outlet.temperature);
        prop_assert!(better.temperature < outlet.temperature);
        prop_assert!(better.temperature > t && outlet.pressure > inlet.pressure);
    }

    /// Energy over a stage, and the efficiency that comes out is the one that went in; 1e-9, since
    /// a small ratio leaves a small rise in an h of 1e5.
    #[test]
    fn a_stage_gives_its_work_to_the_air_and_its_efficiency_back(
        t in 230.0..450.0_f64, ratio in 1.01..6.0_f64, efficiency in 0.35..1.0_f64,
    ) {
        let inlet = AirState::new(&air(), 90e3, t).unwrap();
        let rise = isentropic_rise(&air(), &inlet, ratio).unwrap();
        let outlet = compress(&air(), &inlet, ratio, efficiency).unwrap();
        let given = outlet.enthalpy - inlet.enthalpy;
        prop_assert!((given * efficiency / rise - 1.0).abs() < 1e-9);
        prop_assert!((air().enthalpy(outlet.temperature).unwrap() - outlet.enthalpy).abs() < 1e-6);
        let found = stage_efficiency(&air(), &inlet, &outlet).unwrap();
        prop_assert!((found / efficiency - 1.0).abs() < 1e-9);
        let same = compress_by(&air(), &inlet, ratio, given).unwrap();
        prop_assert!((same.temperature / outlet.temperature - 1.0).abs() < INVERSE);
    }

    #[test]
    fn a_drop_takes_pressure_and_density_and_nothing_else(
        p in 60e3..400e3_f64, t in 230.0..600.0_f64, share in 0.0..0.9_f64,
    ) {
        let before = AirState::new(&air(), p, t).unwrap();
        let after = before.dropped(share * p);
        prop_assert!((after.temperature - t).abs() < f64::EPSILON);
        prop_assert!((after.enthalpy - before.enthalpy).abs() < f64::EPSILON);
        let thinner = after.density(&air()) / before.density(&air());
        prop_assert!((thinner - (1.0 - share)).abs() < ROUNDING);
    }

    /// A rated drop grows with the square of the flow; a pipe's grows with flow, length, bends,
    /// through laminar and turbulent flow and the gap between.
    #[test]
    fn a_pressure_drop_grows_with_the_flow(
        flow in 1e-5..0.6_f64, more in 1.001..3.0_f64, density in 0.7..3.0_f64,
        t in 230.0..450.0_f64, length in 0.05..4.0_f64, bends in 0.0..6.0_f64,
    ) {
        let drop = RatedDrop::rated(1500.0, 0.25, 101_325.0, 293.15);
        let square = drop.pressure_drop(more * flow, density) / drop.pressure_drop(flow, density);
        prop_assert!((square / (more * more) - 1.0).abs() < ROUNDING);
        let short = pipe(length, bends).pressure_drop(flow, density, t);
        prop_assert!(short > 0.0 && short.is_finite());
        prop_assert!(pipe(length, bends).pressure_drop(more * flow, density, t) > short);
        prop_assert!(pipe(more * length, bends).pressure_drop(flow, density, t) > short);
        prop_assert!(pipe(length, bends + 1.0).pressure_drop(flow, density, t) > short);
        prop_assert!(pipe(length, bends).pressure_drop(flow, more * density, t) < short);
    }

    /// A machine with slip delivers less against more pressure, takes more work for it, and never
    /// less than isentropic compression of what it sweeps.
    #[test]
    fn a_displacement_machine_delivers_less_and_works_harder_against_more_pressure(
        v in 0.3e-3..4e-3_f64, vi in 1.0..1.6_f64, slip in 10.0..400.0_f64, n in 20.0..250.0_f64,
        ratio in 1.0..2.5_f64, more in 1.01..1.3_f64,
    ) {
        let (p1, density, gamma) = (95e3, 1.1, 1.4);
        let machine = roots(v, vi, slip);
        let delivered = |ratio: f64| machine.delivered(n, p1, density, ratio * p1);
        prop_assert!(delivered(ratio * more) < delivered(ratio));
        prop_assert!(delivered(ratio) <= density * v * n * (1.0 + ROUNDING));
        let work = |ratio: f64| machine.work_per_revolution(p1, ratio * p1, gamma);
        prop_assert!(work(ratio * more) > work(ratio));
        let k = (gamma - 1.0) / gamma;
        let isentropic = p1 * v / k * (ratio.powf(k) - 1.0);
        prop_assert!(work(ratio) >= isentropic - ROUNDING * p1 * v);
        let power = machine.power_to_air(n, p1, ratio * p1, gamma, 0.0);
        prop_assert!(power >= 0.0 && machine.shaft_power(power, n) >= power);
    }
}
