"""cp, h and s of dry air from 200 to 2000 K.

`cantera` and `coolprop_mixture` use the project's own composition; `coolprop_air` is the
equation for air as one fluid (Lemmon and others 2000), whose air has no carbon dioxide.
"""

from common import CANTERA, COOLPROP, DRY_AIR, MIXTURE_DATA, T_REF, mixture_gas, set_mixture, write_csv
from coolprop_ideal import FLUIDS, IdealGas

TEMPERATURES = sorted([273.15, T_REF] + [float(t) for t in range(200, 2001, 100)])


def cantera_values(gas, t):
    """cp, h, s of the mixture at 100 kPa, per kg."""
    set_mixture(gas, t, DRY_AIR)
    return gas.cp_mass, gas.enthalpy_mass, gas.entropy_mass


def coolprop_mixture_values(parts, t):
    """The mole-weighted sum of the species; the entropy of mixing drops out of a difference."""
    mass = sum(x * parts[name].molar_mass for name, x in DRY_AIR.items())
    values = {name: parts[name].molar(t) for name in DRY_AIR}
    return tuple(sum(x * values[name][i] for name, x in DRY_AIR.items()) / mass for i in range(3))


def main():
    """Writes dry_air.csv."""
    gas = mixture_gas()
    _, h_ref, s_ref = cantera_values(gas, T_REF)
    parts = {name: IdealGas(FLUIDS[name]) for name in DRY_AIR}
    air = IdealGas("Air")
    rows = []
    for t in TEMPERATURES:
        cp, h, s = cantera_values(gas, t)
        rows.append(("dry air", t, "cantera", cp, h - h_ref, s - s_ref))
        rows.append(("dry air", t, "coolprop_mixture", *coolprop_mixture_values(parts, t)))
        rows.append(("dry air", t, "coolprop_air", *air.mass(t)))
    set_mixture(gas, T_REF, DRY_AIR)
    head = [
        f"Dry air as an ideal gas. Mole fractions: {DRY_AIR} (not for coolprop_air: N2 0.7812, O2 0.2096, Ar 0.0092)",
        f"sources: {CANTERA}, {MIXTURE_DATA}; {COOLPROP}, ideal-gas parts",
        "h is counted from 298.15 K; s is s - s(298.15 K) at constant pressure",
        f"molar mass g/mol: cantera {gas.mean_molecular_weight:.6f}, coolprop_mixture "
        f"{1000 * sum(x * parts[n].molar_mass for n, x in DRY_AIR.items()):.6f}, coolprop_air {1000 * air.molar_mass:.6f}",
    ]
    write_csv("dry_air.csv", head,
              ["species", "temperature_k", "source", "cp_j_kg_k", "h_j_kg", "s_j_kg_k"], rows)


if __name__ == "__main__":
    main()
