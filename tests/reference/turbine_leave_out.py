"""Leave-out errors of SciPy's interpolators on the open axial turbine map.

Every second speed line and every second ratio is left out (outermost kept). Each left-out reading is
measured at its own speed and expansion ratio: flow relative to the reading, efficiency as a fraction.

Usage: python turbine_leave_out.py maps/axial_turbine_pr3to8.csv > turbine_leave_out_scipy.csv
"""

import csv
import sys

import numpy as np
from scipy.interpolate import RegularGridInterpolator


def kept(count):
    """Every second index, and the last."""
    return sorted({*range(0, count, 2), count - 1})


def main():
    """Print one row a method: medians, 90th percentiles and worst."""
    with open(sys.argv[1], encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    speeds = np.array(sorted({float(row["speed_pct"]) for row in rows}))
    ratios = np.array(sorted({float(row["pr_tt"]) for row in rows}))
    shape = (len(speeds), len(ratios))
    flow, efficiency = (
        np.array([float(row[key]) for row in rows]).reshape(shape)
        for key in ("corrected_flow_kg_s", "eta_is_tt")
    )
    lines, points = kept(len(speeds)), kept(len(ratios))
    left_out = [(i, j) for i in range(shape[0]) for j in range(shape[1])
                if not (i in lines and j in points)]
    at = np.array([(speeds[i], ratios[j]) for i, j in left_out])
    print("# made by turbine_leave_out.py with SciPy; flow relative to the reading, efficiency as a fraction")
    print("method,readings,flow_median,flow_90,flow_worst,efficiency_median,efficiency_90,efficiency_worst")
    for method in ("linear", "pchip"):
        cells = []
        for values, relative in ((flow, True), (efficiency, False)):
            coarse = values[np.ix_(lines, points)]
            found = RegularGridInterpolator((speeds[lines], ratios[points]), coarse, method=method)(at)
            right = np.array([values[place] for place in left_out])
            miss = np.abs(found / right - 1.0) if relative else np.abs(found - right)
            cells += [np.median(miss), np.quantile(miss, 0.9), miss.max()]
        print(f'"regular grid, {method}",{len(left_out)},' + ",".join(f"{cell:.6f}" for cell in cells))


main()
