"""Products of diesel-like CH1.80 and petrol-like CH1.87, and their cp, R and sensible enthalpy.

Rich mixtures come twice: `equilibrium` is cantera's Gibbs minimum at 1740 K without
free oxygen, frozen; `k_3_5` solves the atom balances with a water-gas ratio of exactly 3.5.
"""

import cantera as ct

from common import CANTERA, DRY_AIR, MIXTURE_DATA, SPECIES, T_REF, mixture_gas, set_mixture, write_csv
from products import equilibrium_fractions, fuel_air_ratio, mole_fractions, water_gas_ratio

FREEZE = 1740.0  # K, where the water-gas ratio is near 3.5
FUELS = {"diesel": 1.80, "petrol": 1.87}
RICH, LEAN = [0.75, 0.85, 0.95], [1.0, 1.3, 1.6, 2.5]
TEMPERATURES = [float(t) for t in range(600, 1201, 100)]


def rows_of(gas, fuel, lam, products, x):
    """One row a temperature: the composition is repeated, so that each row stands alone."""
    set_mixture(gas, T_REF, x)
    h_ref = gas.enthalpy_mass
    for t in TEMPERATURES:
        set_mixture(gas, t, x)
        yield (fuel, FUELS[fuel], lam, products, fuel_air_ratio(FUELS[fuel], lam),
               *(x[name] for name in SPECIES), t, gas.cp_mass,
               ct.gas_constant / gas.mean_molecular_weight, gas.enthalpy_mass - h_ref)


def main():
    """Writes combustion.csv."""
    gas = mixture_gas()
    rows, ratios = [], []
    for fuel, y in FUELS.items():
        for lam in RICH:
            x = equilibrium_fractions(y, lam, FREEZE)
            ratios.append(water_gas_ratio(x))
            rows += rows_of(gas, fuel, lam, "equilibrium", x)
            x = mole_fractions(y, lam, 3.5)
            assert abs(water_gas_ratio(x) - 3.5) < 1e-12
            rows += rows_of(gas, fuel, lam, "k_3_5", x)
        for lam in LEAN:
            rows += rows_of(gas, fuel, lam, "complete", mole_fractions(y, lam))
    assert max(ratios) - min(ratios) < 1e-6  # one temperature, one constant
    head = [
        f"Burned gas of CHy in dry air {DRY_AIR}; lambda counts dry air.",
        f"source: {CANTERA}, {MIXTURE_DATA}; complete and k_3_5 by atom balance",
        f"equilibrium: [CO][H2O]/([CO2][H2]) = {ratios[0]:.6f} at {FREEZE:g} K from cantera's Gibbs energies",
        "fuel_air_ratio is by mass, with C 12.0107, H 1.00794 g/mol and the NASA-9 molar masses of air",
        "h is counted from 298.15 K at the frozen composition; cantera's molar masses differ by up to 3e-5 from the NASA-9 set",
    ]
    columns = ["fuel", "hydrogen_carbon_ratio", "lambda", "products", "fuel_air_ratio",
               *(f"x_{name.lower()}" for name in SPECIES),
               "temperature_k", "cp_j_kg_k", "r_j_kg_k", "h_j_kg"]
    write_csv("combustion.csv", head, columns, rows)


if __name__ == "__main__":
    main()
