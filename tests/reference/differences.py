"""Prints how far the sources in gas_species.csv, dry_air.csv and atmosphere.csv lie apart.

The first source of each list is the yardstick. Numbers are relative, in parts per million,
largest over the band of temperature; h and s are related to the yardstick's own h and s and
leave out 273 and 300 K, where both are nearly zero.
"""

import csv
from collections import defaultdict

from common import HERE

YARDSTICKS = ["cantera_nasa9", "cantera_gri30", "exact", "cantera"]
BANDS = [(200.0, 350.0), (400.0, 1000.0), (1100.0, 1500.0), (1600.0, 2000.0)]
QUANTITIES = ["cp_j_kg_k", "h_j_kg", "s_j_kg_k"]


def read(name):
    """The rows of one table as dictionaries."""
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def compare_gas(name):
    """One printed line for each species, source and band."""
    values = defaultdict(dict)
    for row in read(name):
        key = row["species"], row["source"]
        values[key][float(row["temperature_k"])] = [float(row[q]) for q in QUANTITIES]
    for species in dict.fromkeys(s for s, _ in values):
        sources = [src for sp, src in values if sp == species]
        base = next(y for y in YARDSTICKS if y in sources)
        for source in dict.fromkeys(s.removesuffix("_extrapolated") for s in sources):
            if source == base:
                continue
            other = values[species, source] | values.get((species, source + "_extrapolated"), {})
            for low, high in BANDS:
                print_band(species, source, base, low, high, values[species, base], other)


def print_band(species, source, base, low, high, yardstick, other):
    """The largest relative differences with their sign, in ppm."""
    cells = []
    for i in range(len(QUANTITIES)):
        found = [(other[t][i] / yardstick[t][i] - 1.0) * 1e6 for t in other
                 if t in yardstick and low <= t <= high and (i == 0 or not 270.0 < t < 310.0)]
        cells.append(f"{max(found, key=abs):+8.0f}" if found else "       -")
    print(f"{species:8} {source:17} against {base:14} {low:5.0f}-{high:5.0f} K ppm cp h s:", *cells)


def compare_atmosphere():
    """The largest relative difference of T, p, density between the two libraries."""
    rows = read("atmosphere.csv")
    for quantity in ["temperature_k", "pressure_pa", "density_kg_m3"]:
        pairs = [(float(a[quantity]), float(b[quantity]), a["altitude_m"])
                 for a, b in zip(rows[::2], rows[1::2])]
        a, b, at = max(pairs, key=lambda p: abs(p[1] / p[0] - 1.0))
        print(f"atmosphere {quantity}: fluids against ambiance {(b / a - 1) * 1e6:+.2f} ppm at {at} m")


if __name__ == "__main__":
    for table in ["gas_species.csv", "dry_air.csv"]:
        compare_gas(table)
    compare_atmosphere()
