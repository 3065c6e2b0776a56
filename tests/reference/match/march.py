"""Writes march.csv: what an engine that comes up through its speeds, and down again, stands at.

    python march.py [PROCESSES]
    python march.py BUILD.toml FROM TO STEP     (prints one build)

Some builds have two stable balances at one engine speed. Which of them an engine stands at follows
from where it comes from: the shaft keeps its speed from one engine speed to the next, and runs up
or down from there. This script knows nothing of branches: it is a shaft with a gate.

    d(turbo pressure ratio)/dt has the sign of (turbine x mechanical - compressor power)

At each engine speed the turbo starts at the pressure ratio it had at the speed before (at the
lowest speed: at rest, ratio 1) and goes where the power drives it until the power changes its sign.
On its way the gate is at every ratio what it is at rest there: shut where the boost is below the
limit with a shut gate, wide open where the boost is above the limit even so, else at the share that
holds the limit. Upwards first; downwards starts from what the upward run stands at at the top.

The way is walked with roots to 1e-9 (three nested ones cost twice as much at rounding); what is
written is taken to rounding at its end.

A step of engine speed over which the ratio moves by more than `SMOOTH` is halved, down to less than
`FINEST`; what still moves more is a jump: the branch has ended between these two speeds.
"""

import csv
import math
import sys
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager

from scipy.optimize import brentq

import air_path
import exhaust
import solve_match
from build_file import read, si
from make_matches import BUILDS, HEADER, HERE, text
from solve_match import HIGHEST_RATIO, Match, NoMatch

SMOOTH = 0.03  # relative change of the turbo's ratio over one step of engine speed
FINEST = 1.0  # rev/min, the widest step that is not halved again
FIRST_STEP, GROWTH, WIDEST_STEP = 2e-4, 2.0, 5e-3  # of the ratio, on the shaft's way

ROUGH = 1e-9  # relative, of all roots on the way
NEAR = 1e-6  # how far from the rough ratio the exact one may lie

# (build, from, to, step)
MARCHES = [
    ("two_balances_gate", 1400, 3600, 50),
    ("two_balances_fold", 2400, 5000, 50),
    ("two_balances_rack", 1200, 2700, 50),
]

COLUMNS = [
    "build", "direction", "rpm", "jumped", "air_mass_flow_kg_s", "fuel_mass_flow_kg_s", "manifold_pa",
    "supercharger_pressure_ratio", "turbo_pressure_ratio", "gate", "wastegate_share", "bypass_share",
    "turbine_inlet_pa", "turbine_power_w", "brake_power_w", "residual_power", "residual_limit",
]


@contextmanager
def rough():
    """Roots to 1e-9 instead of rounding."""
    modules = (air_path, exhaust, solve_match)
    exact = air_path.RTOL
    for module in modules:
        module.RTOL = ROUGH
    try:
        yield
    finally:
        for module in modules:
            module.RTOL = exact


def root(function, low, high):
    return brentq(function, low, high, xtol=air_path.XTOL, rtol=air_path.RTOL)


class Shaft:
    """The turbo of one build at one engine speed, its gate following at once."""

    def __init__(self, document, rpm):
        self.rpm, self.match = rpm, Match(document, rpm)
        (turbine,) = self.match.exhaust.turbines
        gate = turbine.gate or {}
        self.limit = si(gate["boost_limit"]) + self.match.site.p if "boost_limit" in gate else math.inf
        self.station = {"manifold": "manifold", "compressor outlet": "compressor outlet"}[gate.get("boost_at", "manifold")]
        self.largest = turbine.largest_share()
        self.least = 0.8 * self.match.guess  # so that a search never starts far below a blown engine's flow

    def over(self, found):
        return found.walk.station(self.station).p - self.limit

    def at(self, ratio):
        """(state, what the gate does) at a turbo ratio."""
        self.match.guess = max(self.match.guess, self.least * ratio)
        shut = self.match.at([ratio], [0.0])
        if self.over(shut) <= 0:
            return shut, "shut"
        wide = self.match.at([ratio], [self.largest])
        assert self.over(wide) <= self.over(shut), "an opening gate raises the boost"
        if self.over(wide) >= 0:
            return wide, "wide open"
        known = {0.0: self.over(shut), self.largest: self.over(wide)}
        share = root(lambda x: known[x] if x in known else self.over(self.match.at([ratio], [x])), 0.0, self.largest)
        return self.match.at([ratio], [share]), "holding"

    def excess(self, ratio):
        return self.at(ratio)[0].power_excess(0)

    def settle(self, start, smooth=math.inf):
        """The ratio at which the shaft settles when it starts at `start`; None once it has moved by more than `smooth`."""
        with rough():
            return self._settle(start, smooth)

    def exact(self, ratio):
        """A settled ratio to rounding."""
        return ratio if ratio == 1.0 else root(self.excess, ratio / (1 + NEAR), ratio * (1 + NEAR))

    def _settle(self, start, smooth):
        here, power = start, self.excess(start)
        rises, step = power > 0, FIRST_STEP
        while power != 0:
            there, before = here * (1 + step) if rises else max(1.0, here / (1 + step)), power
            power = self.excess(there)
            if (power > 0) != rises:
                known = {here: before, there: power}
                return root(lambda y: known[y] if y in known else self.excess(y), min(here, there), max(here, there))
            if there == 1.0 and not rises:
                return 1.0  # the turbo stands still
            if abs(math.log(there / start)) > smooth:
                return None
            if there > HIGHEST_RATIO:
                raise NoMatch(f"{self.rpm} rpm: the turbo runs away")
            here, step = there, min(step * GROWTH, WIDEST_STEP)
        return here


def follow(document, low, ratio, high):
    """[(rpm, ratio, jumped)] from the speed `low`, where `ratio` holds, to the speed `high`, both excluded and included."""
    fine = abs(high - low) < FINEST
    there = Shaft(document, high).settle(ratio, math.inf if fine else SMOOTH)
    smooth = there is not None and abs(math.log(there / ratio)) <= SMOOTH
    if smooth or fine:
        return [(high, there, not smooth)]
    middle = (low + high) / 2
    first = follow(document, low, ratio, middle)
    return first + follow(document, middle, first[-1][1], high)


def march(document, speeds, start):
    """Every speed of `speeds` in turn from the ratio `start`; beside a jump also the speeds that enclose it."""
    wanted, found = set(speeds), [(speeds[0], Shaft(document, speeds[0]).settle(start), False)]
    for low, high in zip(speeds, speeds[1:]):
        found += follow(document, low, found[-1][1], high)
    return [f for k, f in enumerate(found) if f[0] in wanted or f[2] or (k + 1 < len(found) and found[k + 1][2])]


def row(document, build, direction, rpm, ratio, jumped):
    shaft = Shaft(document, rpm)
    ratio = shaft.exact(ratio)
    found, gate = shaft.at(ratio)
    wheel, stages = found.burnt.wheels[0], found.walk.stages
    value = {
        "build": build, "direction": direction, "rpm": float(rpm), "jumped": "yes" if jumped else "",
        "air_mass_flow_kg_s": found.m, "fuel_mass_flow_kg_s": found.burnt.m_fuel,
        "manifold_pa": found.walk.station("manifold").p, "turbo_pressure_ratio": ratio,
        "gate": gate if math.isfinite(shaft.limit) else "", "wastegate_share": wheel["share"],
        "turbine_inlet_pa": wheel["p_in"], "turbine_power_w": wheel["power"], "brake_power_w": found.brake_power(),
        "residual_power": abs(found.power_excess(0)) / wheel["power"],
        "residual_limit": abs(shaft.over(found)) / shaft.limit if gate == "holding" else 0.0}
    if "supercharger" in stages:
        value |= {"supercharger_pressure_ratio": stages["supercharger"]["pressure_ratio"],
                  "bypass_share": stages["supercharger"]["bypass_share"]}
    assert ratio == 1.0 or value["residual_power"] < 1e-9, value
    assert value["residual_limit"] < 1e-10 and max(found.residuals()[k] for k in ("flow", "pressure")) < 1e-10, value
    return value


def both_ways(task):
    """The rows of one build, up and down."""
    build, first, last, step = task
    path = build if build.endswith(".toml") else BUILDS / f"{build}.toml"
    document = read(path)
    speeds = [float(v) for v in range(first, last + 1, step)]
    up = march(document, speeds, 1.0)
    down = march(document, speeds[::-1], up[-1][1])
    return ([row(document, build, "up", *found) for found in up]
            + [row(document, build, "down", *found) for found in down])


def jumps(rows):
    """[(build, direction, rpm before, rpm after, ratio before, ratio after)]"""
    pairs = [(a, b) for a, b in zip(rows, rows[1:]) if b["jumped"]]
    return [(b["build"], b["direction"], a["rpm"], b["rpm"], a["turbo_pressure_ratio"], b["turbo_pressure_ratio"],
             a["gate"], b["gate"]) for a, b in pairs]


REMARKS = """\
# Marches through the engine's speeds, up from rest and down again, made by march.py beside this file.
# jumped = yes: the branch on which the row before stands has ended between that row's speed and this one's, less than
# 1 rpm apart. gate: shut, holding, wide open; empty without a boost limit. All other columns as in matches.csv.
"""


def main():
    if len(sys.argv) > 4:
        rows = both_ways((sys.argv[1], *map(int, sys.argv[2:5])))
        for r in rows:
            print(f"{r['direction']:4} {r['rpm']:9.3f} ratio {r['turbo_pressure_ratio']:.5f} manifold {r['manifold_pa'] / 1e3:8.3f} kPa "
                  f"gate {r['gate']:9} {r['wastegate_share']:.5f} bypass {r.get('bypass_share', 0.0):.4f} "
                  f"brake {r['brake_power_w'] / 1e3:7.2f} kW {'jumped' if r['jumped'] else ''}")
        return
    with ProcessPoolExecutor(max_workers=int(sys.argv[1]) if len(sys.argv) > 1 else 2) as pool:
        rows = [r for build in pool.map(both_ways, MARCHES) for r in build]
    with open(HERE / "march.csv", "w", newline="") as file:
        file.write(REMARKS + HEADER.splitlines(keepends=True)[2])
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows([text(name, r.get(name)) for name in COLUMNS] for r in rows)
    for jump in jumps(rows):
        print(*jump)


if __name__ == "__main__":
    main()
