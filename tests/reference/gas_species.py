"""cp, h and s of the seven species of air and exhaust gas, from 200 to 2000 K.

Three independent kinds of data side by side: NASA polynomials as cantera ships them,
the ideal-gas part of CoolProp's equations of state, and for argon the exact 5/2 R.
"""

from math import log

from common import CANTERA, COOLPROP, R_MOLAR, SPECIES, T_REF, cantera_species, write_csv
from coolprop_ideal import FLUIDS, IdealGas

TEMPERATURES = sorted([273.15, T_REF] + [float(t) for t in range(200, 2001, 100)])
CANTERA_FILES = {
    "cantera_nasa9": "airNASA9.yaml",
    "cantera_gri30": "gri30.yaml",
    "cantera_nasa_gas": "nasa_gas.yaml",
}


def cantera_rows(name, source, file):
    """Rows from one polynomial, only inside its own temperature range."""
    species = cantera_species(file, name)
    poly, mass = species.thermo, species.molecular_weight  # J/kmol, kg/kmol
    for t in TEMPERATURES:
        if poly.min_temp <= min(t, T_REF) and t <= poly.max_temp:
            yield (
                name, t, source, poly.cp(t) / mass,
                (poly.h(t) - poly.h(T_REF)) / mass, (poly.s(t) - poly.s(T_REF)) / mass,
            )


def coolprop_rows(name):
    """Rows from the equation of state; water only above its triple point."""
    gas = IdealGas(FLUIDS[name])
    for t in TEMPERATURES:
        if name != "H2O" or t >= 273.16:
            yield (name, t, gas.source(t), *gas.mass(t))


def exact_argon_rows():
    """A monatomic gas below ionisation: cp = 5/2 R."""
    cp = 2.5 * R_MOLAR / 39.948e-3
    for t in TEMPERATURES:
        yield ("Ar", t, "exact", cp, cp * (t - T_REF), cp * log(t / T_REF))


def main():
    """Collects the rows species by species and writes gas_species.csv."""
    rows, absolute, skipped = [], {}, []
    for name in SPECIES:
        for source, file in CANTERA_FILES.items():
            try:
                species = cantera_species(file, name)
            except StopIteration:
                continue
            if species.thermo.min_temp > T_REF:
                skipped.append(f"{name} in {file} (begins at {species.thermo.min_temp:g} K)")
                continue
            rows += cantera_rows(name, source, file)
            if source != "cantera_gri30":  # its data come from several places, not all at 1 bar
                absolute[name] = absolute.get(name, f"{species.thermo.s(T_REF) / 1000.0:.4f}")
        rows += coolprop_rows(name)
        if name == "Ar":
            rows += exact_argon_rows()
    head = [
        "Ideal-gas cp, h and s of single species.",
        f"sources: {CANTERA}, data files airNASA9.yaml (NASA/TP-2002-211556), gri30.yaml (NASA-7 "
        f"form, GRI-Mech 3.0) and nasa_gas.yaml (NASA-7 form, NASA TM-4513); {COOLPROP}, ideal-gas part; exact: 5/2 R, M = 39.948 g/mol",
        "h is counted from 298.15 K; s is s - s(298.15 K) at constant pressure, because the libraries' zeros differ",
        "each source uses its own molar mass (they differ by up to 3e-5) and, in CoolProp, its own gas constant",
        "coolprop_extrapolated: outside the range stated for the equation (CO above 500 K, H2 above 1000 K, CO2 below 216.6 K)",
        f"left out: {', '.join(skipped)}; water in CoolProp below 273.16 K",
        "absolute s(298.15 K, 1 bar) in J/(mol K), airNASA9.yaml or else nasa_gas.yaml: "
        + ", ".join(f"{name} {s}" for name, s in absolute.items()),
    ]
    write_csv("gas_species.csv", head,
              ["species", "temperature_k", "source", "cp_j_kg_k", "h_j_kg", "s_j_kg_k"], rows)


if __name__ == "__main__":
    main()
