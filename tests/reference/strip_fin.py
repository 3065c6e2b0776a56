"""Geometry of offset strip fins, from `fluids`."""

from fluids import RectangularOffsetStripFinExchanger

from common import library, write_csv

# strip length, fin height, thickness, spacing (as `fluids` has it), m
CASES = [
    (3e-3, 6.5e-3, 0.1e-3, 2e-3),
    (6e-3, 9e-3, 0.2e-3, 2.5e-3),
    (2e-3, 4e-3, 0.15e-3, 1.2e-3),
]


def main():
    """Writes strip_fin.csv."""
    rows = []
    for length, height, thickness, spacing in CASES:
        it = RectangularOffsetStripFinExchanger(length, height, thickness, spacing)
        rows.append((length, height, thickness, spacing, float(it.A_channel), float(it.Dh)))
    head = [
        "Free-flow area of one channel and hydraulic diameter 4 l A/area of offset strip fins.",
        f"source: {library('fluids', 'MIT')} RectangularOffsetStripFinExchanger",
    ]
    columns = ["strip_length_m", "fin_height_m", "thickness_m", "spacing_m", "channel_area_m2", "hydraulic_diameter_m"]
    write_csv("strip_fin.csv", head, columns, rows)


if __name__ == "__main__":
    main()
