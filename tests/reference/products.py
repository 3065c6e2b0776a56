"""Burned gas of a fuel CHy in the project's dry air, by counting atoms.

Lean and stoichiometric: complete products. Rich: no free oxygen; the water-gas ratio
K = [CO][H2O]/([CO2][H2]) closes the four atom balances, a quadratic in CO2.
"""

from math import sqrt

from common import DRY_AIR, mixture_gas, set_mixture

# Atomic masses (g/mol) as in the NASA-9 data's molar masses: CO2 44.0095, H2O 18.01528, O2 31.9988.
MASS_C, MASS_H = 12.0107, 1.00794
MASS_AIR = (28.01348 * DRY_AIR["N2"] + 31.9988 * DRY_AIR["O2"]
            + 39.948 * DRY_AIR["Ar"] + 44.0095 * DRY_AIR["CO2"])


def air_per_carbon(y, lam):
    """Moles of dry air for each mole of CHy; 1 + y/4 moles of O2 burn it completely."""
    return lam * (1.0 + y / 4.0) / DRY_AIR["O2"]


def fuel_air_ratio(y, lam):
    """Fuel mass over dry air mass."""
    return (MASS_C + y * MASS_H) / (air_per_carbon(y, lam) * MASS_AIR)


def moles(y, lam, k=None):
    """Moles of each product for one mole of CHy; `k` is the water-gas ratio, needed below lambda 1."""
    air = {name: x * air_per_carbon(y, lam) for name, x in DRY_AIR.items()}
    carbon, hydrogen = 1.0 + air["CO2"], y / 2.0  # C, and H2 as such or in water
    out = {"N2": air["N2"], "Ar": air["Ar"], "O2": 0.0, "CO": 0.0, "H2": 0.0}
    if lam >= 1.0:
        out |= {"CO2": carbon, "H2O": hydrogen, "O2": (lam - 1.0) * (1.0 + y / 4.0)}
        return out
    # With c moles of CO2: CO = carbon - c, H2O = oxygen - carbon - c, H2 = hydrogen - H2O.
    oxygen = 2.0 * air["O2"] + 2.0 * air["CO2"]
    w = oxygen - carbon
    # (carbon - c)(w - c) = k c (hydrogen - w + c)
    a, b, d = 1.0 - k, -(carbon + w) - k * (hydrogen - w), carbon * w
    co2 = 2.0 * d / (-b + sqrt(b * b - 4.0 * a * d))
    out |= {"CO2": co2, "CO": carbon - co2, "H2O": w - co2, "H2": hydrogen - w + co2}
    return out


def mole_fractions(y, lam, k=None):
    """The same as mole fractions."""
    n = moles(y, lam, k)
    total = sum(n.values())
    return {name: v / total for name, v in n.items()}


def water_gas_ratio(x):
    """[CO][H2O]/([CO2][H2])."""
    return x["CO"] * x["H2O"] / (x["CO2"] * x["H2"])


def equilibrium_fractions(y, lam, temperature):
    """Cantera's own equilibrium (Gibbs minimum) of the rich gas with O2 left out, frozen."""
    names = ["N2", "Ar", "CO2", "H2O", "CO", "H2"]
    gas = mixture_gas(names)
    start = mole_fractions(y, lam, 3.5)
    set_mixture(gas, temperature, {n: start[n] for n in names})
    gas.equilibrate("TP", rtol=1e-12)
    found = {s.upper(): float(v) for s, v in zip(gas.species_names, gas.X)}
    return {n: found[n.upper()] for n in names} | {"O2": 0.0}
