"""Temperature of the burned gas of lean CH1.80 without dissociation, at constant pressure.

m_air h_air(T_air) + m_fuel LHV = (m_air + m_fuel) h_products(T), with h counted from
298.15 K, the fuel entering at 298.15 K and the water staying vapour.
"""

from scipy.optimize import brentq

from common import CANTERA, DRY_AIR, MIXTURE_DATA, T_REF, mixture_gas, set_mixture, write_csv
from products import fuel_air_ratio, mole_fractions

HYDROGEN_CARBON, LHV = 1.80, 42.8e6  # J/kg


def sensible(gas, x, t):
    """Enthalpy from 298.15 K, J/kg."""
    set_mixture(gas, t, x)
    h = gas.enthalpy_mass
    set_mixture(gas, T_REF, x)
    return h - gas.enthalpy_mass


def main():
    """Writes flame.csv."""
    gas = mixture_gas()
    rows = []
    for lam in (1.5, 2.0, 2.5):
        f = fuel_air_ratio(HYDROGEN_CARBON, lam)
        x = mole_fractions(HYDROGEN_CARBON, lam)
        for t_air in (T_REF, 600.0):
            h = (sensible(gas, DRY_AIR, t_air) + f * LHV) / (1.0 + f)
            t = brentq(lambda t: sensible(gas, x, t) - h, 300.0, 3400.0, xtol=1e-9)
            rows.append((HYDROGEN_CARBON, LHV, lam, t_air, f, h, float(t)))
    head = [
        "Adiabatic flame temperature of lean CH1.80, complete products, no dissociation.",
        f"source: {CANTERA}, {MIXTURE_DATA}; energy balance by scipy's brentq",
        "h_products is counted from 298.15 K",
    ]
    write_csv("flame.csv", head,
              ["hydrogen_carbon_ratio", "lhv_j_kg", "lambda", "air_temperature_k", "fuel_air_ratio",
               "h_products_j_kg", "flame_temperature_k"], rows)


if __name__ == "__main__":
    main()
