"""Pressure drop of straight pipes and of right-angle bends, from `fluids` with CoolProp's viscosity."""

from math import pi

import CoolProp.CoolProp as cp
from fluids.core import K_from_f, dP_from_K
from fluids.fittings import bend_rounded
from fluids.friction import friction_factor

from common import COOLPROP, library, write_csv

# Diameter and length in m, flow in kg/s, pressure in Pa, temperature in K: laminar, inlet pipe, boost hose, thin
# and fast.
PIPES = [
    (0.050, 2.0, 7e-4, 100_000.0, 300.0),
    (0.080, 1.0, 0.05, 98_000.0, 293.15),
    (0.080, 1.5, 0.30, 98_000.0, 293.15),
    (0.060, 2.0, 0.25, 250_000.0, 420.0),
    (0.040, 0.5, 0.20, 180_000.0, 350.0),
    (0.100, 3.0, 0.60, 300_000.0, 330.0),
]
ROUGHNESS = 10e-6  # m, as the project takes it
RADIUS = 1.5  # of a bend's middle line over the diameter
HANDBOOKS = ["Rennels", "Crane", "Miller", "Swamee"]


def main():
    """Writes duct.csv."""
    rows = []
    for diameter, length, flow, pressure, temperature in PIPES:
        density, viscosity = (
            float(cp.PropsSI(key, "T", temperature, "P", pressure, "Air")) for key in "DV"
        )
        speed = flow / (density * pi * diameter**2 / 4)
        reynolds = density * speed * diameter / viscosity
        darcy = float(friction_factor(Re=reynolds, eD=ROUGHNESS / diameter, Method="Clamond" if reynolds > 4000 else None))
        drop = dP_from_K(K=K_from_f(fd=darcy, L=length, D=diameter), rho=density, V=speed)
        bends = [
            dP_from_K(K=bend_rounded(Di=diameter, angle=90, fd=darcy, bend_diameters=RADIUS, Re=reynolds,
                                     roughness=ROUGHNESS, L_unimpeded=20 * diameter, method=method),
                      rho=density, V=speed)
            for method in HANDBOOKS
        ] if reynolds > 4000 else [""] * len(HANDBOOKS)
        rows.append((diameter, length, flow, density, temperature, reynolds, drop, *bends))
    head = [
        "Pressure drop of air in straight pipes (roughness 10 um) and in one 90 degree bend of a middle radius of 1.5",
        "diameters, without the straight pipe beside it.",
        f"source: {library('fluids', 'MIT')}: Colebrook (Clamond), laminar 64/Re, Darcy-Weisbach; bends by Rennels 2012,",
        "Crane TP 410 (14 fT), Miller 1990 and Swamee and Sharma 2008, as its fittings.bend_rounded gives them;",
        f"{COOLPROP}: density and viscosity (Lemmon and others)",
    ]
    columns = ["diameter_m", "length_m", "flow_kg_s", "density_kg_m3", "temperature_k", "reynolds", "straight_pa"]
    write_csv("duct.csv", head, columns + [f"bend_{method.lower()}_pa" for method in HANDBOOKS], rows)


if __name__ == "__main__":
    main()
