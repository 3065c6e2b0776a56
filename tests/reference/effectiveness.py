"""Effectiveness of heat exchangers against NTU and capacity ratio, from the `ht` library."""

from math import exp, factorial

from ht.hx import effectiveness_from_NTU

from common import library, write_csv

# The table's name for an arrangement, and what `ht` calls it.
ARRANGEMENTS = {
    "counterflow": "counterflow",
    "parallel": "parallel",
    "crossflow_unmixed_exact": "crossflow",
    "crossflow_unmixed_closed_form": "crossflow approximate",
    "crossflow_cmax_mixed": "crossflow, mixed Cmax",
    "crossflow_cmin_mixed": "crossflow, mixed Cmin",
}
NTUS = [0.1, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0]
RATIOS = [0.0, 0.25, 0.5, 0.75, 1.0]


def mason_series(ntu, cr):
    """Crossflow both unmixed by the double series (Mason 1955, after Kays & London)."""

    def tail(x):  # 1 - exp(-x) sum_{m<=n} x^m/m!, for n = 0, 1, ...
        part = 0.0
        for m in range(150):
            part += exp(-x) * x**m / factorial(m)
            yield 1.0 - part

    return sum(a * b for a, b in zip(tail(ntu), tail(cr * ntu))) / (cr * ntu)


def main():
    """Writes effectiveness.csv; the exact crossflow values must agree with the series."""
    rows, worst = [], 0.0
    for name, subtype in ARRANGEMENTS.items():
        for cr in RATIOS:
            for ntu in NTUS:
                if cr == 0.0:
                    value = 1.0 - exp(-ntu)
                else:
                    value = float(effectiveness_from_NTU(ntu, cr, subtype=subtype))
                if name == "crossflow_unmixed_exact" and cr > 0.0:
                    worst = max(worst, abs(value - mason_series(ntu, cr)))
                rows.append((name, ntu, cr, value))
    assert worst < 1e-9, worst
    head = [
        "Effectiveness (on the smaller capacity flow) of heat exchangers.",
        f"source: {library('ht', 'MIT')}, hx.effectiveness_from_NTU; capacity ratio 0 is the limit 1 - exp(-NTU)",
        "crossflow_unmixed_exact: Triboix 2009, integral; checked in the script against Mason's double series "
        f"(largest difference {worst:.1e})",
        "crossflow_unmixed_closed_form: 1 - exp(NTU^0.22/Cr (exp(-Cr NTU^0.78) - 1)), Incropera",
    ]
    write_csv("effectiveness.csv", head, ["arrangement", "ntu", "capacity_ratio", "effectiveness"], rows)


if __name__ == "__main__":
    main()
