"""What all the scripts of this folder share: one way to write a table, one set of gases.

Nothing here is physics of the project: the numbers come from published libraries,
so that the Rust code can be checked against something it did not make itself.
"""

from importlib.metadata import version
from pathlib import Path

import cantera as ct

HERE = Path(__file__).parent

# Dry air in mole fractions, as the project defines it (they sum to exactly 1).
DRY_AIR = {"N2": 0.780848, "O2": 0.209390, "Ar": 0.009332, "CO2": 0.000430}
SPECIES = ["N2", "O2", "Ar", "CO2", "H2O", "CO", "H2"]

T_REF = 298.15  # K, zero of sensible enthalpy and here also of the entropy difference
R_MOLAR = ct.gas_constant / 1000.0  # J/(mol K)


def cantera_species(file, name):
    """One species of a data file that ships with cantera."""
    wanted = name.upper()
    return next(s for s in ct.Species.list_from_file(file) if s.name.upper() == wanted)


# For mixtures: the closest fits that ship with cantera. N2 and O2 have NASA-9 polynomials
# there, argon is constant; the others are NASA-7 fits of gri30.yaml, which reach only 3500 K
# and lie nearer to NASA-9 below 2000 K than those of nasa_gas.yaml, which reach 6000 K.
MIXTURE_FILES = dict.fromkeys(SPECIES, "gri30.yaml") | {
    "N2": "airNASA9.yaml", "O2": "airNASA9.yaml", "Ar": "nasa_gas.yaml",
}
MIXTURE_DATA = "airNASA9.yaml for N2 and O2, nasa_gas.yaml for Ar, gri30.yaml for the others"


def mixture_gas(names=SPECIES):
    """A cantera ideal gas of the species above; its equilibrium knows only `names`."""
    return ct.Solution(
        thermo="ideal-gas",
        species=[cantera_species(MIXTURE_FILES[name], name) for name in names],
    )


def set_mixture(gas, temperature, fractions):
    """Puts mole fractions and a temperature (K) into a gas of `mixture_gas`, at 100 kPa."""
    upper = {s.upper(): s for s in gas.species_names}
    gas.TPX = temperature, 1e5, {upper[k.upper()]: v for k, v in fractions.items()}


def library(name, licence):
    """Name, installed version and licence of a library, for a table's head."""
    return f"{name} {version(name)} ({licence})"


CANTERA = library("cantera", "BSD-3-Clause")
COOLPROP = library("CoolProp", "MIT")


def write_csv(name, head, columns, rows):
    """Writes `name` beside the scripts: `#` lines, one line of column names, the rows.

    Floats are written with ten significant digits, far below every difference
    between the sources, and without the noise of the last bits.
    """
    path = HERE / name
    with path.open("w", encoding="utf-8", newline="\n") as file:
        for line in head:
            file.write(f"# {line}\n")
        file.write(",".join(columns) + "\n")
        for row in rows:
            assert len(row) == len(columns)
            file.write(",".join(f"{v:.10g}" if isinstance(v, float) else str(v) for v in row) + "\n")
    print(f"{path.name}: {len(rows)} rows")
