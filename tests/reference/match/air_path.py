"""The parts of the air path, walked in flow order for a given mass flow.

Every part is explicit once the flow is known, the supercharger too: the flow fixes the slip
speed, and the slip test's law then gives the pressure difference in closed form.
"""

import math
from dataclasses import dataclass, field

from scipy.optimize import brentq

from build_file import si
from cooler import Cooler
from gas import DRY_AIR, Gas, OutOfRange

DRY = Gas(DRY_AIR)
PSI = 6894.76  # Pa, the figure in the slip-test law
XTOL, RTOL = 1e-13, 8.9e-16


class TooMuchFlow(Exception):
    """The flow does not fit through: a pressure would fall to zero."""


class TooLittleFlow(Exception):
    """The flow cannot carry the work away: a temperature leaves the gas data."""


@dataclass
class State:
    p: float
    t: float
    h: float


@dataclass
class Walk:
    """What a walk along the air path found."""
    stations: list = field(default_factory=list)  # (name, State)
    stages: dict = field(default_factory=dict)
    coolers: list = field(default_factory=list)  # heat, W

    def station(self, name):
        return dict(self.stations)[name]


def rated_drop_constant(part):
    """K of dp = K m^2 / density; rated with dry air at 101.325 kPa and 20 degC by default."""
    if "pressure_drop" not in part:
        return 0.0
    p = si(part.get("at_pressure", "101.325 kPa"))
    t = si(part.get("at_temperature", "20 degC"))
    return si(part["pressure_drop"]) * DRY.density(p, t) / si(part["at_flow"])**2


def displacement_work(gamma, p1, p2, volume, vi):
    """Work per revolution of a positive-displacement machine with internal volume ratio vi."""
    return (gamma / (gamma - 1) * p1 * volume * (vi**(gamma - 1) - 1)
            + (p2 - p1 * vi**gamma) * volume / vi)


class Supercharger:
    """A belt-driven positive-displacement machine with its bypass, at one engine speed."""

    def __init__(self, part, rpm, site_pressure):
        self.v = si(part["displacement"])
        self.n = si(part["drive_ratio"]) * rpm / 60  # rev/s
        self.slip_speed = si(part["slip_speed"]) / 60
        self.vi = 1.0 if part["kind"] == "roots" else si(part.get("internal_volume_ratio", 1.0))
        self.indicated = si(part["indicated_efficiency"])
        self.mechanical = si(part["mechanical_efficiency"])
        self.drive = si(part["drive_efficiency"])
        self.no_load = si(part.get("no_load_power", 0.0))
        self.at_speed = si(part.get("at_speed", 1.0)) / 60
        self.bypass = part.get("bypass", "none")
        self.at_manifold = part.get("bypass_at", "supercharger outlet") == "manifold"
        self.flap_drop = si(part.get("bypass_drop", 0.0))
        self.set_pressure = site_pressure + si(part.get("bypass_pressure", 0.0))

    def slip(self, p1, p2, density):
        dp = p2 - p1
        return math.copysign(self.slip_speed * math.sqrt(abs(dp) / PSI * 1.2 / density), dp)

    def shut_outlet_pressure(self, p1, density, m):
        """p2 at which the rotors deliver exactly m: the slip law read backwards."""
        slip = self.n - m / (density * self.v)
        return p1 + math.copysign((slip / self.slip_speed)**2 * PSI * density / 1.2, slip)

    def power_to_air(self, air, p1, t1, p2):
        work = displacement_work(air.gamma(t1), p1, p2, self.v, self.vi)
        return work * self.n / self.indicated if work > 0 else 0.0

    def delivered(self, air, p1, t1, p2):
        density = air.density(p1, t1)
        return density * self.v * (self.n - self.slip(p1, p2, density))

    def returned(self, air, s1, m, p2):
        """(rotors' flow, power) with the surplus returned uncooled to the rotors' inlet.

        The rotors breathe at enthalpy h2 - P/m_s, where h2 = h1 + P/m; m_s falls and that
        temperature rises together, so the root in the rotors' inlet temperature is single.
        """
        def gap(t):
            m_s = self.delivered(air, s1.p, t, p2)
            if m_s <= 0:
                return -s1.t * 1e3
            power = self.power_to_air(air, s1.p, t, p2)
            return s1.h + power / m - power / m_s - air.h(t)

        if gap(s1.t) <= 0:
            t = s1.t
        else:
            high = s1.t * 1.1
            while gap(high) > 0:
                high *= 1.1
            t = brentq(gap, s1.t, high, xtol=XTOL, rtol=RTOL)
        return self.delivered(air, s1.p, t, p2), self.power_to_air(air, s1.p, t, p2)

    def pass_through(self, air, s1, m, held_p2=None):
        """(p2, rotors' flow, power to the air) for the flow m; `held_p2` holds the outlet."""
        density = air.density(s1.p, s1.t)
        p2 = self.shut_outlet_pressure(s1.p, density, m)
        if self.bypass != "none" and p2 < s1.p - self.flap_drop:
            p2 = s1.p - self.flap_drop
            return p2, self.delivered(air, s1.p, s1.t, p2), self.power_to_air(air, s1.p, s1.t, p2)
        if self.bypass == "regulated" and held_p2 is None and not self.at_manifold:
            held_p2 = max(self.set_pressure, s1.p)
        if held_p2 is not None and p2 > held_p2:
            return (held_p2, *self.returned(air, s1, m, held_p2))
        return p2, m, self.power_to_air(air, s1.p, s1.t, p2)

    def crank_power(self, power):
        shaft = power / self.mechanical + self.no_load * (self.n / self.at_speed)**2
        return shaft / self.drive


class AirPath:
    """The air path of one build at one engine speed."""

    def __init__(self, parts, rpm, air, site):
        self.air, self.site = air, site
        self.parts = []
        compressors = 0
        for part in parts:
            kind = part["part"]
            if kind == "supercharger":
                self.parts.append((kind, Supercharger(part, rpm, site.p)))
            elif kind == "turbo_compressor":
                self.parts.append((kind, (compressors, si(part["efficiency"]))))
                compressors += 1
            elif kind == "cooler":
                self.parts.append((kind, (Cooler(part, rpm, air, site), rated_drop_constant(part))))
            else:
                self.parts.append((kind, rated_drop_constant(part)))
        self.compressors = compressors
        self.supercharger = next((p for k, p in self.parts if k == "supercharger"), None)

    def walk(self, m, ratios):
        """The air path at flow m and turbo pressure ratios; a manifold regulator is solved."""
        walk = self._walk(m, ratios, None)
        sc = self.supercharger
        if sc is None or sc.bypass != "regulated" or not sc.at_manifold:
            return walk
        if walk.station("manifold").p <= sc.set_pressure:
            return walk
        high = walk.station("supercharger outlet").p
        low = walk.station("supercharger inlet").p
        if high <= low:
            return walk

        def over(p2):
            return self._walk(m, ratios, p2).station("manifold").p - sc.set_pressure

        p2 = low if over(low) >= 0 else brentq(over, low, high, xtol=1e-9, rtol=RTOL)
        return self._walk(m, ratios, p2)

    def _walk(self, m, ratios, held_p2):
        air, s, found = self.air, self.site, Walk()
        found.stations.append(("ambient", s))
        try:
            for kind, part in self.parts:
                s = getattr(self, "_" + kind)(found, part, s, m, ratios, held_p2)
        except OutOfRange as e:
            raise TooLittleFlow(str(e)) from e
        found.stations.append(("manifold", s))
        return found

    def _after_drop(self, k, s, m):
        p = s.p - k * m * m / self.air.density(s.p, s.t)
        if p <= 0.02 * s.p:
            raise TooMuchFlow("a rated drop takes the whole pressure")
        return p

    def _filter(self, _found, k, s, m, _ratios, _held):
        return State(self._after_drop(k, s, m), s.t, s.h)

    _duct = _throttle = _filter

    def _supercharger(self, found, sc, s1, m, _ratios, held_p2):
        p2, m_s, power = sc.pass_through(self.air, s1, m, held_p2)
        if p2 <= 0.02 * s1.p:
            raise TooMuchFlow("the supercharger cannot swallow the flow")
        h2 = s1.h + power / m
        s2 = State(p2, self.air.t_from_h(h2), h2)
        found.stations += [("supercharger inlet", s1), ("supercharger outlet", s2)]
        found.stages["supercharger"] = {
            "pressure_ratio": p2 / s1.p, "power": power, "rotors_flow": m_s,
            "bypass_share": 1 - m_s / m, "crank_power": sc.crank_power(power)}
        return s2

    def _turbo_compressor(self, found, part, s1, m, ratios, _held):
        index, efficiency = part
        air, ratio = self.air, ratios[index]
        t2s = air.t_from_s0(air.s0(s1.t) + air.r * math.log(ratio))
        h2 = s1.h + (air.h(t2s) - s1.h) / efficiency
        s2 = State(s1.p * ratio, air.t_from_h(h2), h2)
        tag = "" if index == 0 else f" {index + 1}"
        found.stations += [(f"compressor{tag} inlet", s1), (f"compressor{tag} outlet", s2)]
        found.stages[f"turbo compressor{tag}"] = {"pressure_ratio": ratio, "power": m * (h2 - s1.h)}
        return s2

    def _cooler(self, found, part, s, m, _ratios, _held):
        cooler, k = part
        t, heat = cooler.outlet(m, s)
        p = self._after_drop(k, s, m) - cooler.drop(m, s, t)
        if p <= 0.02 * s.p:
            raise TooMuchFlow("the core takes the whole pressure")
        out = State(p, t, s.h - heat / m)
        found.coolers.append(heat)
        tag = "" if len(found.coolers) == 1 else f" {len(found.coolers)}"
        found.stations.append((f"cooler{tag} outlet", out))
        return out
