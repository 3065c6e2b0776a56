"""Leave-out errors of SciPy's interpolators on the open axial compressor map.

Every second speed line and every second point of the rest is left out (outermost lines, surge and
choke ends kept). Each left-out reading is then measured against the interpolated line of its speed:
the distance in (flow, pressure ratio), each relative to the reading, to the nearest point of the
line, and the efficiency error at that point.

Usage: python map_leave_out.py maps/axial_pr3_compressor.csv > map_leave_out_scipy.csv
"""

import csv
import sys

import numpy as np
from scipy.interpolate import PchipInterpolator, RegularGridInterpolator

FINE = 4001


def read(path):
    """The map as arrays over (speed, place): speeds, places, flow, ratio, efficiency."""
    with open(path, encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    speeds = sorted({float(row["speed"]) for row in rows})
    places = sorted({float(row["rline"]) for row in rows})
    grid = {
        key: np.array([float(row[key]) for row in rows]).reshape(len(speeds), len(places))
        for key in ("corrected_flow_kg_s", "pr_tt", "eta_is_tt")
    }
    return np.array(speeds), np.array(places), [*grid.values()]


def kept(count):
    """Every second index, and the last."""
    return sorted({*range(0, count, 2), count - 1})


def arc_length(flow, ratio):
    """Length along a line, each axis scaled to its range, from 0 to 1."""
    steps = np.hypot(np.diff(flow) / np.ptp(flow), np.diff(ratio) / np.ptp(ratio))
    length = np.concatenate(([0.0], np.cumsum(steps)))
    return length / length[-1]


def on_grid(method):
    """RegularGridInterpolator over speed and the map's own auxiliary coordinate."""

    def line(speeds, places, values, speed):
        fine = np.linspace(places[0], places[-1], FINE)
        points = np.column_stack([np.full(FINE, speed), fine])
        return [RegularGridInterpolator((speeds, places), v, method=method)(points) for v in values]

    return line


def along_arc(speeds, _places, values, speed):
    """PCHIP along each line's own length, then PCHIP across speed."""
    fine = np.linspace(0.0, 1.0, FINE)
    lengths = [arc_length(flow, ratio) for flow, ratio in zip(values[0], values[1])]
    result = []
    for value in values:
        rows = [PchipInterpolator(length, row)(fine) for length, row in zip(lengths, value)]
        result.append(PchipInterpolator(speeds, np.array(rows), axis=0)(speed))
    return result


def errors(line, speeds, places, values):
    """(speed, place, distance, efficiency error) of each left-out reading."""
    lines, points = kept(len(speeds)), kept(len(places))
    coarse = [value[np.ix_(lines, points)] for value in values]
    for i, speed in enumerate(speeds):
        flow, ratio, efficiency = line(speeds[lines], places[points], coarse, speed)
        for j, place in enumerate(places):
            if i in lines and j in points:
                continue
            distance = np.hypot(flow / values[0][i, j] - 1.0, ratio / values[1][i, j] - 1.0)
            nearest = int(np.argmin(distance))
            yield speed, place, distance[nearest], abs(efficiency[nearest] - values[2][i, j])


def main():
    """Print one row a method: medians, 90th percentiles, worst with its place."""
    speeds, places, values = read(sys.argv[1])
    methods = {
        "regular grid, linear": on_grid("linear"),
        "regular grid, pchip": on_grid("pchip"),
        "arc length, pchip": along_arc,
    }
    print("# made by map_leave_out.py with SciPy; shares of flow and ratio, efficiency as a fraction")
    print("method,readings,distance_median,distance_90,distance_worst,worst_speed,worst_rline,"
          "efficiency_median,efficiency_90,efficiency_worst")
    for name, line in methods.items():
        table = np.array(list(errors(line, speeds, places, values)))
        worst = table[np.argmax(table[:, 2])]
        distance = [np.median(table[:, 2]), np.quantile(table[:, 2], 0.9), worst[2]]
        efficiency = [np.median(table[:, 3]), np.quantile(table[:, 3], 0.9), table[:, 3].max()]
        print(f'"{name}",{len(table)},' + ",".join(f"{d:.6f}" for d in distance)
              + f",{worst[0]:g},{worst[1]:g}," + ",".join(f"{e:.6f}" for e in efficiency))


main()
