"""Solves one match of a build: who makes the boost at one engine speed.

    python solve_match.py BUILD.toml RPM ["KEY=VALUE;KEY=VALUE"]

Written from the equations of the project's design alone, to check the tool's own solver.
Method: bracketed scalar roots (SciPy brentq), nested. From the inside out:
    outlet pressure of a turbine | exhaust pipe, next turbine     (exhaust.py)
    drive pressure               | turbine's flow function        (exhaust.py)
    outlet pressure of rotors    | manifold regulator, if any     (air_path.py)
    air flow                     | engine breathing               (here)
    pressure ratio of the turbo  | power balance                  (here, climbing from rest)
    wastegate share              | boost limit                    (here)
Two turbos: SciPy's `root` over the two power balances, started from below; see `_solve_two`.
Afterwards `residuals` puts the answer back into every equation; none may exceed 1e-10.
"""

import math
import sys

from scipy.optimize import brentq, root

import gas as gaslib
from air_path import AirPath, State, TooLittleFlow, TooMuchFlow, XTOL, RTOL
from build_file import at_rpm, read, si
from exhaust import GAMMA_RESIDUAL, Exhaust

# ISO 2533: R J/(kg K), g m/s2, lapse K/m, sea-level temperature K and pressure Pa.
ISO_2533 = {"r": 287.05287, "g": 9.80665, "lapse": 0.0065, "t0": 288.15, "p0": 101325.0}
CLIMB_STEP = 1.01  # ratio between neighbours of the climb
HIGHEST_RATIO = 8.0


class NoMatch(Exception):
    """No stable balance was found."""


def site_state(table):
    """(pressure, temperature, moist air) of the air outside: ISO 2533, Hyland-Wexler."""
    h = si(table.get("altitude", 0.0))
    geopotential = 6356766.0 * h / (6356766.0 + h)
    c = ISO_2533
    t_std = c["t0"] - c["lapse"] * geopotential
    p = c["p0"] * (t_std / c["t0"])**(c["g"] / (c["r"] * c["lapse"]))
    p = si(table["pressure"]) if "pressure" in table else p
    t = si(table["temperature"]) if "temperature" in table else t_std + si(table.get("temperature_offset", 0.0))
    vapour = si(table.get("relative_humidity", 0.0)) * gaslib.saturation_pressure(t)
    air = gaslib.moist_air(vapour / p)
    return State(p, t, air.h(t)), air


class Match:
    """One build at one engine speed, and the solution of its balances."""

    def __init__(self, document, rpm):
        engine = document["engine"]
        self.document, self.rpm = document, rpm
        self.site, self.air = site_state(document["site"])
        self.strokes = engine["strokes"]
        displacement = si(engine["displacement"])
        cycles = rpm / 60 / (self.strokes / 2)
        self.swept = displacement * cycles
        self.compression_ratio = engine["compression_ratio"]
        self.ve_given = at_rpm(engine["volumetric_efficiency"], rpm)
        if "measured_at_exhaust_pressure_ratio" in engine:
            self.ve_given /= self.residual_factor(engine["measured_at_exhaust_pressure_ratio"])
        self.path = AirPath(document["air_path"], rpm, self.air, self.site)
        self.exhaust = Exhaust(document, rpm, self.air, self.site, self.swept, cycles * engine["cylinders"])
        self.guess = self.air.density(self.site.p, self.site.t) * self.swept
        self.gates = [t.largest_share() for t in self.exhaust.turbines]

    # ---- engine breathing -------------------------------------------------------------

    def residual_factor(self, drive_ratio):
        """Heywood 1988, eq. 6.2, as the design writes it."""
        return 1 - (drive_ratio - 1) / (GAMMA_RESIDUAL * (self.compression_ratio - 1))

    def breathing(self, m, ratios, shares):
        """(flow that the engine does not take, walk, exhaust side, VE) at the flow m."""
        walk = self.path.walk(m, ratios)
        manifold = walk.station("manifold")
        burnt = self.exhaust.solve(m, manifold, shares)
        ve = self.ve_given
        if burnt.p_exhaust is not None:
            ve *= self.residual_factor(burnt.p_exhaust / manifold.p)
        return m - ve * self.air.density(manifold.p, manifold.t) * self.swept, walk, burnt, ve

    def at(self, ratios, shares):
        """The state at given turbo pressure ratios and gate shares: air flow by brentq."""
        def surplus(m):
            try:
                return self.breathing(m, ratios, shares)[0]
            except TooMuchFlow:
                return 10.0 * m
            except TooLittleFlow:
                return -10.0 * m

        low = high = self.guess
        while surplus(low) > 0:
            high, low = low, low / 1.15
        while surplus(high) < 0:
            low, high = high, high * 1.15
        m = brentq(surplus, low, high, xtol=XTOL, rtol=RTOL)
        _, walk, burnt, ve = self.breathing(m, ratios, shares)
        self.guess = m
        return Found(self, m, list(ratios), walk, burnt, ve)

    # ---- turbo power balance ----------------------------------------------------------

    def solve(self):
        n = self.path.compressors
        if n == 0 or not self.exhaust.turbines:
            return self.at([], [])
        if n == 1:
            return self._solve_one()
        return self._solve_two()

    def _solve_one(self):
        """One turbo: climb from rest to the first stable balance or the boost limit."""
        gate = self.exhaust.turbines[0].gate

        def power(y, x):
            return self.at([y], [x]).power_excess(0)

        if gate is None or "boost_limit" not in gate:
            return self.at([self._climb(lambda y: power(y, 0.0))], [0.0])
        return self._solve_gated(power, si(gate["boost_limit"]) + self.site.p,
                                 gate.get("boost_at", "manifold"), self.gates[0])

    def _climb(self, excess, start=1.0, limit=None):
        """First ratio from `start` where `excess` falls through zero; None if `limit` comes first."""
        low = start
        if excess(low) <= 0:
            return low
        while low < HIGHEST_RATIO:
            high = low * CLIMB_STEP
            if limit is not None and high >= limit:
                high = limit
            if excess(high) <= 0:
                return brentq(excess, low, high, xtol=XTOL, rtol=RTOL)
            if limit is not None and high >= limit:
                return None
            low = high
        raise NoMatch(f"the turbo runs away: turbine power exceeds the compressor's up to ratio {low:.2f}")

    def _solve_gated(self, power, limit, where, largest):
        station = {"manifold": "manifold", "compressor outlet": "compressor outlet"}[where]

        def boost_over(y, x):
            return self.at([y], [x]).walk.station(station).p - limit

        def ratio_at_limit(x):
            """Turbo ratio at which the boost stands at the limit; 1 if it does so at rest."""
            if boost_over(1.0, x) >= 0:
                return 1.0
            low = 1.0
            while boost_over(low * 1.05, x) < 0:
                low *= 1.05
                if low > HIGHEST_RATIO:
                    raise NoMatch("the limit is out of reach")
            return brentq(boost_over, low, low * 1.05, args=(x,), xtol=XTOL, rtol=RTOL)

        try:
            y_limit = ratio_at_limit(0.0)
        except NoMatch:
            y_limit = None
        y = self._climb(lambda r: power(r, 0.0), limit=y_limit)
        if y is not None:
            return self.at([y], [0.0])

        def excess_at_limit(x):
            return power(ratio_at_limit(x), x)

        if excess_at_limit(largest) >= 0:
            y = self._climb(lambda r: power(r, largest), start=ratio_at_limit(largest))
            return self.at([y], [largest])
        x = brentq(excess_at_limit, 0.0, largest, xtol=XTOL, rtol=RTOL)
        return self.at([ratio_at_limit(x)], [x])

    def _solve_two(self):
        """Two turbos, no gate moving: from rest upwards, then a root in both ratios.

        More boost of either gives both turbines more work, so that stepping each ratio to what
        its turbine would pay for rises without passing the lowest balance; when the steps
        are small, SciPy's `root` (hybr) takes the two relative power balances to rounding.
        """
        shares = [0.0, 0.0]
        turbine_of = {t.drives: k for k, t in enumerate(self.exhaust.turbines)}
        ratios = [1.0, 1.0]
        for _ in range(200):
            found = self.at(ratios, shares)
            new = [found.affordable_ratio(i, turbine_of[i + 1]) for i in (0, 1)]
            change = max(abs(b / a - 1) for a, b in zip(ratios, new))
            ratios = new
            if max(ratios) > HIGHEST_RATIO:
                raise NoMatch("a turbo runs away")
            if change < 1e-3:
                break

        def balance(y):
            found = self.at(y, shares)
            return [found.power_excess(turbine_of[i + 1]) / found.compressor_power(i + 1) for i in (0, 1)]

        solution = root(balance, ratios, tol=1e-14)
        return self.at(list(solution.x), shares)

    def scan(self, share, highest=6.0, step=1.004):
        """Every balance of one turbo at a fixed gate share: [(ratio, stable)]."""
        found, y = [], 1.0
        before = self.at([y], [share]).power_excess(0)
        while y * step < highest:
            try:
                after = self.at([y * step], [share]).power_excess(0)
            except (gaslib.OutOfRange, ValueError):
                break
            if before * after < 0:
                found.append((y * math.sqrt(step), before > 0))
            y, before = y * step, after
        return found


class Found:
    """A solved state with its crank side, energy list and residuals."""

    def __init__(self, match, m, ratios, walk, burnt, ve):
        self.match, self.m, self.ratios = match, m, ratios
        self.walk, self.burnt, self.ve = walk, burnt, ve

    def compressor_power(self, number):
        tag = "" if number == 1 else f" {number}"
        return self.walk.stages[f"turbo compressor{tag}"]["power"]

    def power_excess(self, k):
        """Turbine k's power on its shaft less its compressor's, W."""
        wheel = self.burnt.wheels[k]
        mechanical = self.match.exhaust.turbines[k].mechanical
        return wheel["power"] * mechanical - self.compressor_power(wheel["drives"])

    def affordable_ratio(self, i, k):
        """Pressure ratio that turbine k's power would pay for at this state's flow and inlet."""
        air, tag = self.match.air, "" if i == 0 else f" {i + 1}"
        s1 = self.walk.station(f"compressor{tag} inlet")
        rise = self.burnt.wheels[k]["power"] * self.match.exhaust.turbines[k].mechanical / self.m
        efficiency = next(p[1] for kind, p in self.match.path.parts if kind == "turbo_compressor" and p[0] == i)
        t2s = air.t_from_h(s1.h + efficiency * rise)
        return math.exp((air.s0(t2s) - air.s0(s1.t)) / air.r)

    def supercharger(self, key, default=None):
        return self.walk.stages.get("supercharger", {}).get(key, default)

    def friction_power(self):
        engine = self.match.document["engine"]
        table = engine["friction"]
        speed = 2 * si(engine["stroke"]) * self.match.rpm / 60
        fmep = (si(table.get("constant", 0.0)) + table.get("linear", 0.0) * speed
                + table.get("quadratic", 0.0) * speed**2)
        share = table.get("peak_pressure_share", 0.0)
        return (fmep + share * (self.peak_pressure() if share else 0.0)) * self.match.swept

    def peak_pressure(self, exponent=1.35):
        rise = self.match.document["engine"]["combustion"]["pressure_rise_ratio"]
        return self.walk.station("manifold").p * self.match.compression_ratio**exponent * rise

    def brake_power(self):
        e = self.burnt.energy
        return e["gross"] + e["pump"] - self.friction_power() - self.supercharger("crank_power", 0.0)

    def bearing_loss(self):
        pairs = zip(self.burnt.wheels, self.match.exhaust.turbines)
        return sum(w["power"] * (1 - t.mechanical) for w, t in pairs)

    def energy_error(self):
        """(in - out)/fuel of the closed energy list."""
        e = self.burnt.energy
        drive_loss = self.supercharger("crank_power", 0.0) - self.supercharger("power", 0.0)
        out = (self.brake_power() + self.friction_power() + e["wall"] + sum(self.walk.coolers)
               + drive_loss + self.bearing_loss() + e["exhaust"] + e["unburnt"])
        return (e["fuel"] + self.m * self.match.site.h - out) / e["fuel"]

    def residuals(self):
        """Largest relative misfit of each kind, from the stored states put back."""
        match, manifold = self.match, self.walk.station("manifold")
        density = match.air.density(manifold.p, manifold.t)
        found = {"flow": abs(self.m / (self.ve * density * match.swept) - 1)}
        total = self.m + self.burnt.m_fuel
        powers, pressures = [0.0], [0.0]
        for k, (wheel, turbine) in enumerate(zip(self.burnt.wheels, match.exhaust.turbines)):
            scale = max(abs(wheel["power"]), abs(self.compressor_power(wheel["drives"])))
            powers.append(abs(self.power_excess(k)) / scale)
            passes = turbine.capacity(wheel["p_in"], wheel["t_in"], wheel["p_in"] / wheel["p_out"], self.burnt.gas)
            found["flow"] = max(found["flow"], abs(passes / wheel["flow"] - 1))
        if self.burnt.p_out is not None:
            rho = self.burnt.gas.density(self.burnt.p_out, self.burnt.t_out)
            drop = (match.exhaust.pipe or 0.0) * total**2 / rho
            pressures.append(abs(match.site.p + drop - self.burnt.p_out) / self.burnt.p_out)
        sc = match.path.supercharger
        if sc is not None:
            pressures.append(self._rotor_residual(sc))
        found["power"], found["pressure"] = max(powers), max(pressures)
        return found

    def _rotor_residual(self, sc):
        """The rotors' flow at the state they breathe, against the flow that was found."""
        air = self.match.air
        s1, s2 = (self.walk.station(f"supercharger {end}") for end in ("inlet", "outlet"))
        m_s = self.supercharger("rotors_flow")
        h_in = s2.h - self.supercharger("power") / m_s if m_s > self.m else s1.h
        rho = air.density(s1.p, air.t_from_h(h_in))
        return abs(m_s / (rho * sc.v * (sc.n - sc.slip(s1.p, s2.p, rho))) - 1)


def describe(found):
    match = found.match
    print(f"air {found.m:.6f} kg/s  fuel {found.burnt.m_fuel * 1e3:.4f} g/s  VE {found.ve:.5f}")
    for name, s in found.walk.stations:
        print(f"  {name:22s} {s.p / 1e3:9.3f} kPa  {s.t:8.2f} K")
    for wheel in found.burnt.wheels:
        print(f"  turbine (drives {wheel['drives']}): {wheel['p_in'] / 1e3:.3f} kPa {wheel['t_in']:.2f} K -> "
              f"{wheel['p_out'] / 1e3:.3f} kPa {wheel['t_out']:.2f} K, ER {wheel['p_in'] / wheel['p_out']:.4f}, "
              f"{wheel['power'] / 1e3:.3f} kW, gate {wheel['share']:.5f}")
    if not found.burnt.wheels and found.burnt.p_exhaust:
        print(f"  exhaust {found.burnt.p_exhaust / 1e3:.3f} kPa {found.burnt.t_exhaust:.2f} K")
    for name, stage in found.walk.stages.items():
        print(f"  {name}: " + ", ".join(f"{k} {v:.6g}" for k, v in stage.items()))
    print(f"  boost {(found.walk.station('manifold').p - match.site.p) / 1e3:.3f} kPa, "
          f"brake {found.brake_power() / 1e3:.3f} kW")
    print(f"  residuals {found.residuals()}  energy list {found.energy_error():.2e}")


if __name__ == "__main__":
    build = read(sys.argv[1], sys.argv[3] if len(sys.argv) > 3 else "")
    describe(Match(build, float(sys.argv[2])).solve())
