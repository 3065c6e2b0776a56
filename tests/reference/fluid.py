"""Properties of air and water that heat transfer needs, from CoolProp."""

import CoolProp.CoolProp as cp

from common import COOLPROP, write_csv

AIR = [250.0, 275.0, 300.0, 325.0, 350.0, 375.0, 400.0, 450.0, 500.0]
WATER = [274.15, 283.15, 293.15, 303.15, 313.15, 323.15, 343.15, 363.15, 383.15]


def main():
    """Writes fluid.csv: air at 101.325 kPa, water at 400 kPa."""
    rows = []
    for name, pressure, temperatures in (("Air", 101_325.0, AIR), ("Water", 4e5, WATER)):
        for t in temperatures:
            values = [float(cp.PropsSI(key, "T", t, "P", pressure, name)) for key in "DCVL"]
            rows.append((name.lower(), t, *values))
    head = [
        "Properties of air at 101.325 kPa and of liquid water at 400 kPa.",
        f"source: {COOLPROP}: Lemmon and others for air, IAPWS for water",
    ]
    columns = ["fluid", "temperature_k", "density_kg_m3", "cp_j_kg_k", "viscosity_pa_s", "conductivity_w_m_k"]
    write_csv("fluid.csv", head, columns, rows)


if __name__ == "__main__":
    main()
