//! The species and their heat capacities.
//!
//! NASA 9-coefficient polynomials, 200 to 1000 K and 1000 to 6000 K: McBride, Zehe, Gordon, "NASA
//! Glenn Coefficients for Calculating Thermodynamic Properties of Individual Species",
//! NASA/TP-2002-211556. Digits taken from a copy of that table in the open package om-pycycle
//! (Apache-2.0), the entropy constants of N2 from Cantera's airNASA9.yaml, hydrogen from memory. All
//! are held against Cantera and CoolProp in tests/outside/gas_reference.rs, and against themselves at the
//! joint below.
//!
//! cp/R = a1 T⁻² + a2 T⁻¹ + a3 + a4 T + a5 T² + a6 T³ + a7 T⁴, with b1, b2 the constants of
//! enthalpy and entropy.

/// The species that air, fuel and exhaust are made of. The order is that of [`super::Moles`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Species {
    /// Nitrogen.
    N2,
    /// Oxygen.
    O2,
    /// Argon.
    Ar,
    /// Carbon dioxide.
    Co2,
    /// Water vapour.
    H2o,
    /// Carbon monoxide.
    Co,
    /// Hydrogen.
    H2,
}

/// All species in the order of [`Species`].
pub const SPECIES: [Species; 7] = [
    Species::N2,
    Species::O2,
    Species::Ar,
    Species::Co2,
    Species::H2o,
    Species::Co,
    Species::H2,
];

/// Coefficients a1 to a7, b1, b2 of one temperature range.
pub(super) type Coefficients = [f64; 9];

/// What the table holds of one species.
pub(super) struct SpeciesData {
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// 200 to 1000 K.
    pub lower: Coefficients,
    /// 1000 to 6000 K.
    pub upper: Coefficients,
}

impl Species {
    /// Molar mass, kg/mol.
    pub fn molar_mass(self) -> f64 {
        self.data().molar_mass
    }

    /// The row of the table.
    pub(super) const fn data(self) -> &'static SpeciesData {
        &TABLE[self as usize]
    }
}

/// One row a species, in the order of [`Species`].
static TABLE: [SpeciesData; 7] = [
    // N2
    SpeciesData {
        molar_mass: 0.02801348,
        lower: [
            2.210371497e+04,
            -3.818461820e+02,
            6.082738360e+00,
            -8.530914410e-03,
            1.384646189e-05,
            -9.625793620e-09,
            2.519705809e-12,
            7.108460860e+02,
            -1.076003744e+01,
        ],
        upper: [
            5.877124060e+05,
            -2.239249073e+03,
            6.066949220e+00,
            -6.139685500e-04,
            1.491806679e-07,
            -1.923105485e-11,
            1.061954386e-15,
            1.283210415e+04,
            -1.586640027e+01,
        ],
    },
    // O2
    SpeciesData {
        molar_mass: 0.0319988,
        lower: [
            -3.425563420e+04,
            4.847000970e+02,
            1.119010961e+00,
            4.293889240e-03,
            -6.836300520e-07,
            -2.023372700e-09,
            1.039040018e-12,
            -3.391454870e+03,
            1.849699470e+01,
        ],
        upper: [
            -1.037939022e+06,
            2.344830282e+03,
            1.819732036e+00,
            1.267847582e-03,
            -2.188067988e-07,
            2.053719572e-11,
            -8.193467050e-16,
            -1.689010929e+04,
            1.738716506e+01,
        ],
    },
    // Ar
    SpeciesData {
        molar_mass: 0.039948,
        lower: [
            0.0,
            0.0,
            2.500000000e+00,
            0.0,
            0.0,
            0.0,
            0.0,
            -7.453750000e+02,
            4.379674910e+00,
        ],
        upper: [
            2.010538475e+01,
            -5.992661070e-02,
            2.500069401e+00,
            -3.992141160e-08,
            1.205272140e-11,
            -1.819015576e-15,
            1.078576636e-19,
            -7.449939610e+02,
            4.379180110e+00,
        ],
    },
    // CO2
    SpeciesData {
        molar_mass: 0.0440095,
        lower: [
            4.943650540e+04,
            -6.264116010e+02,
            5.301725240e+00,
            2.503813816e-03,
            -2.127308728e-07,
            -7.689988780e-10,
            2.849677801e-13,
            -4.528198460e+04,
            -7.048279440e+00,
        ],
        upper: [
            1.176962419e+05,
            -1.788791477e+03,
            8.291523190e+00,
            -9.223156780e-05,
            4.863676880e-09,
            -1.891053312e-12,
            6.330036590e-16,
            -3.908350590e+04,
            -2.652669281e+01,
        ],
    },
    // H2O
    SpeciesData {
        molar_mass: 0.01801528,
        lower: [
            -3.947960830e+04,
            5.755731020e+02,
            9.317826530e-01,
            7.222712860e-03,
            -7.342557370e-06,
            4.955043490e-09,
            -1.336933246e-12,
            -3.303974310e+04,
            1.724205775e+01,
        ],
        upper: [
            1.034972096e+06,
            -2.412698562e+03,
            4.646110780e+00,
            2.291998307e-03,
            -6.836830480e-07,
            9.426468930e-11,
            -4.822380530e-15,
            -1.384286509e+04,
            -7.978148510e+00,
        ],
    },
    // CO
    SpeciesData {
        molar_mass: 0.0280101,
        lower: [
            1.489045326e+04,
            -2.922285939e+02,
            5.724527170e+00,
            -8.176235030e-03,
            1.456903469e-05,
            -1.087746302e-08,
            3.027941827e-12,
            -1.303131878e+04,
            -7.859241350e+00,
        ],
        upper: [
            4.619197250e+05,
            -1.944704863e+03,
            5.916714180e+00,
            -5.664282830e-04,
            1.398814540e-07,
            -1.787680361e-11,
            9.620935570e-16,
            -2.466261084e+03,
            -1.387413108e+01,
        ],
    },
    // H2
    SpeciesData {
        molar_mass: 0.00201588,
        lower: [
            4.078323210e+04,
            -8.009186040e+02,
            8.214702010e+00,
            -1.269714457e-02,
            1.753605076e-05,
            -1.202860270e-08,
            3.368093490e-12,
            2.682484665e+03,
            -3.043788844e+01,
        ],
        upper: [
            5.608128010e+05,
            -8.371504740e+02,
            2.975364532e+00,
            1.252249124e-03,
            -3.740716190e-07,
            5.936625200e-11,
            -3.606994100e-15,
            5.339824410e+03,
            -2.202774769e+00,
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::polynomial::evaluate;

    /// The table prints nine decimals; the largest term at 1000 K is a2 ln(T)/T and a1/T² of about
    /// 3, so that cp/R and s/R may jump by a few 1e-8 and h/(R T) by b1's last digit over T.
    #[test]
    fn the_two_ranges_of_each_species_meet_at_1000_kelvin() {
        for species in SPECIES {
            let data = species.data();
            let (lower, upper) = (evaluate(&data.lower, 1000.0), evaluate(&data.upper, 1000.0));
            assert!((lower.cp - upper.cp).abs() < 1e-7, "{species:?} cp");
            assert!((lower.s - upper.s).abs() < 1e-7, "{species:?} s");
            assert!((lower.h - upper.h).abs() / 1000.0 < 1e-7, "{species:?} h");
        }
    }

    /// Formation enthalpies at 298.15 K from the same report's column (from memory): 0 for
    /// elements, CO2 -393.51, H2O -241.826, CO -110.535 kJ/mol, to their last digit.
    #[test]
    fn enthalpy_at_the_reference_temperature_is_the_formation_enthalpy() {
        let expected = [0.0, 0.0, 0.0, -393_510.0, -241_826.0, -110_535.0, 0.0];
        for (species, formation) in SPECIES.into_iter().zip(expected) {
            let h = evaluate(&species.data().lower, 298.15).h * 8.314_510;
            assert!((h - formation).abs() < 5.0, "{species:?}: {h}");
        }
    }
}
