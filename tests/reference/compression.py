"""Outlet temperature of a compression of dry air with a given isentropic efficiency.

h2 = h1 + (h2s - h1)/efficiency, with the isentropic state from s2s = s1. `cantera` is the
ideal gas of the project's composition; `coolprop_air` is real air from 100 kPa.
"""

from CoolProp.CoolProp import PropsSI

from common import CANTERA, COOLPROP, DRY_AIR, MIXTURE_DATA, mixture_gas, set_mixture, write_csv

P_INLET = 100e3
INLETS = [250.0, 288.15, 300.0, 350.0, 400.0]
RATIOS = [1.2, 1.5, 2.0, 3.0, 4.0, 6.0]
EFFICIENCIES = [1.0, 0.72]


def cantera_outlet(gas, t1, ratio, efficiency):
    """Isentropic and actual outlet temperature (K) and enthalpy rise (J/kg), ideal gas."""
    set_mixture(gas, t1, DRY_AIR)
    h1, s1 = gas.enthalpy_mass, gas.entropy_mass
    gas.SP = s1, gas.P * ratio
    t2s, p2, rise = gas.T, gas.P, (gas.enthalpy_mass - h1) / efficiency
    gas.HP = h1 + rise, p2
    return t2s, gas.T, rise


def coolprop_outlet(t1, ratio, efficiency):
    """The same for real air from 100 kPa."""
    p2 = P_INLET * ratio
    h1, s1 = (PropsSI(key, "T", t1, "P", P_INLET, "Air") for key in ("H", "S"))
    t2s, h2s = (PropsSI(key, "S", s1, "P", p2, "Air") for key in ("T", "H"))
    rise = (h2s - h1) / efficiency
    return t2s, PropsSI("T", "H", h1 + rise, "P", p2, "Air"), rise


def main():
    """Writes compression.csv."""
    gas = mixture_gas()
    rows = []
    for t1 in INLETS:
        for ratio in RATIOS:
            for efficiency in EFFICIENCIES:
                case = (t1, ratio, efficiency)
                rows.append((*case, "cantera", *cantera_outlet(gas, *case)))
                rows.append((*case, "coolprop_air", *coolprop_outlet(*case)))
    head = [
        f"Compression of dry air from {P_INLET / 1000:g} kPa. Mole fractions for cantera: {DRY_AIR}",
        f"sources: {CANTERA}, ideal gas, {MIXTURE_DATA}; {COOLPROP}, fluid Air, real gas",
    ]
    write_csv("compression.csv", head,
              ["inlet_temperature_k", "pressure_ratio", "efficiency", "source",
               "isentropic_temperature_k", "outlet_temperature_k", "enthalpy_rise_j_kg"], rows)


if __name__ == "__main__":
    main()
