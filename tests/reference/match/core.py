"""A charge cooler from the geometry of its core, in air that is given, driven by the wind or a fan.

Written from the printed equations: Kays and London (areas, h = j G cp Pr^-2/3, fin and surface
efficiency, pressure drop), Shah and London (laminar rectangles, by `ht`; friction by their series),
Gnielinski (turbulent, by `ht`), Manglik and Bergles (offset strips, a second time from memory),
Sutherland (air). Water comes from CoolProp.
"""

import math

from CoolProp.CoolProp import PropsSI
from ht.conv_internal import Nu_laminar_rectangular_Shan_London, turbulent_Gnielinski
from scipy.optimize import brentq

from build_file import at_rpm, si

CONDUCTIVITIES = {"aluminium": 180.0, "copper": 380.0, "steel": 50.0}


def sutherland(t, reference, constant):
    """Sutherland's law from 273.15 K."""
    return reference * (t / 273.15)**1.5 * (273.15 + constant) / (t + constant)


def air_transport(t):
    """Viscosity and conductivity of air (White, Viscous Fluid Flow, from memory)."""
    return sutherland(t, 1.716e-5, 110.4), sutherland(t, 0.0241, 194.0)


def smooth(x, low, high):
    u = min(max((x - low) / (high - low), 0.0), 1.0)
    return 3 * u**2 - 2 * u**3


def straight(re, pr, aspect):
    """(j, f) of a straight rectangular channel; laminar to 2300, turbulent from 4000."""
    series = 1 - 1.3553 * aspect + 1.9467 * aspect**2 - 1.7012 * aspect**3 + 0.9564 * aspect**4 - 0.2537 * aspect**5
    nu, f = Nu_laminar_rectangular_Shan_London(aspect), 24 * series / re
    j = nu / (re * pr**(1 / 3))
    share = smooth(re, 2300.0, 4000.0)
    if share > 0:
        high = max(re, 2300.0)
        darcy = 1 / (0.79 * math.log(high) - 1.64)**2
        turbulent = turbulent_Gnielinski(Re=high, Pr=pr, fd=darcy) / (high * pr**(1 / 3))
        j, f = (1 - share) * j + share * turbulent, (1 - share) * f + share * darcy / 4
    return j, f


def strips(re, s, h, length, t):
    """(j, f) of offset strip fins."""
    alpha, delta, gamma = s / h, t / length, t / s
    j = (0.6522 * re**-0.5403 * alpha**-0.1541 * delta**0.1499 * gamma**-0.0678
         * (1 + 5.269e-5 * re**1.340 * alpha**0.504 * delta**0.456 * gamma**-1.055)**0.1)
    f = (9.6243 * re**-0.7422 * alpha**-0.1856 * delta**0.3053 * gamma**-0.2659
         * (1 + 7.669e-8 * re**4.429 * alpha**0.920 * delta**3.767 * gamma**0.236)**0.1)
    return j, f


class Side:
    """One side: its channels, counted one by one from the sizes."""

    def __init__(self, fin, height, pitch, sizes, layers, length, breadth, frontal):
        self.fin, self.length, self.sizes = fin, length, sizes
        t = sizes["fin_thickness"]
        if fin == "none":
            self.s, self.h, fins = breadth, height, 0.0
            self.channels = layers
            perimeter = 2 * (breadth + height)
        else:
            self.s, self.h = pitch - t, height - t
            self.channels = layers * breadth / pitch
            strip = sizes["strip_length"] if fin == "offset" else math.inf
            # Per length: both sides of the fin with its edges up and down, both plates with the edges' tops.
            fins = 2 * self.h + 2 * t * self.h / strip
            perimeter = fins + 2 * self.s + t * self.s / strip
            m_squared = 2 * (1 + t / strip) / (sizes["conductivity"] * t)
            self.fin_root, self.half = math.sqrt(m_squared), height / 2
        self.fin_share = fins / perimeter
        self.free = self.channels * self.s * self.h
        self.area = self.channels * perimeter * length
        self.diameter = 4 * self.free * length / self.area
        self.sigma = self.free / frontal

    def work(self, m, cp, viscosity, conductivity):
        """(eta h A, f, Re)"""
        g, pr = m / self.free, viscosity * cp / conductivity
        re = g * self.diameter / viscosity
        if self.fin == "offset":
            j, f = strips(re, self.s, self.h, self.sizes["strip_length"], self.sizes["fin_thickness"])
        else:
            j, f = straight(re, pr, min(self.s, self.h) / max(self.s, self.h))
        h = j * g * cp * pr**(-2 / 3)
        eta = 1.0
        if self.fin_share > 0:
            x = self.fin_root * math.sqrt(h) * self.half
            eta = 1 - self.fin_share * (1 - math.tanh(x) / x)
        return eta * h * self.area, f, re

    def drop(self, m, density_in, density_out, f):
        """Kays and London's four terms."""
        g, sigma = m / self.free, self.sigma
        contraction, expansion = 0.42 * (1 - sigma), (1 - sigma)**2
        mean_volume = (1 / density_in + 1 / density_out) / 2
        ends = ((contraction + 1 - sigma**2) - (1 - sigma**2 - expansion) * density_in / density_out)
        speeding = 2 * (density_in / density_out - 1)
        friction = f * self.area / self.free * density_in * mean_volume
        return g**2 / (2 * density_in) * (ends + speeding + friction)


class Core:
    """One core at one engine speed."""

    def __init__(self, part, rpm, air, site, sink):
        core = part["core"]
        self.air, self.site, self.sink = air, site, sink
        self.fluid = part.get("sink", "air")
        width, height, depth = (si(core[key]) for key in ("width", "height", "depth"))
        wall = si(core.get("plate_thickness", "0.5 mm"))
        sizes = {"fin_thickness": si(core.get("fin_thickness", "0.1 mm")),
                 "conductivity": CONDUCTIVITIES[core.get("material", "aluminium")]}
        if "strip_length" in core:
            sizes["strip_length"] = si(core["strip_length"])
        high = [si(core[f"{side}_fin_height"]) for side in ("charge", "sink")]
        pitch = [si(core.get(f"{side}_fin_pitch", 1.0)) for side in ("charge", "sink")]
        # A layer of the sink more than of the charge.
        layers = (height - high[1]) / (sum(high) + 2 * wall)
        self.charge = Side(core["charge_fin"], high[0], pitch[0], sizes, layers, width, depth, depth * height)
        self.cold = Side(core["sink_fin"], high[1], pitch[1], sizes, layers + 1, depth, width, width * height)
        self.wall = wall / (sizes["conductivity"] * 2 * layers * width * depth)
        self.flow = self._flow(part, rpm)

    def _sink(self):
        """(density, cp, viscosity, conductivity) where it enters."""
        if self.fluid == "water":
            return [PropsSI(key, "P", 4e5, "T", self.sink, "Water") for key in "DCVL"]
        return [self.air.density(self.site.p, self.sink), self.air.cp(self.sink), *air_transport(self.sink)]

    def _flow(self, part, rpm):
        if "sink_flow" in part:
            return at_rpm(part["sink_flow"], rpm)
        density, *transport = self._sink()
        if "vehicle_speed" in part:
            speed = at_rpm([[n, f"{split(v) / 3.6} m"] for n, v in part["vehicle_speed"]], rpm)
            driving = part.get("duct_pressure_coefficient", 0.3) * density * speed**2 / 2

        def left(m):
            return driving - self.cold.drop(m, density, density, self.cold.work(m, *transport)[1])

        return brentq(left, 1e-6, 50.0, xtol=1e-14, rtol=8.9e-16)

    def capacity(self):
        return self.flow * self._sink()[1]

    def work(self, m, inlet):
        """(UA, charge's f) at the charge flow m."""
        middle = (inlet.t + self.sink) / 2
        charge, f, self.charge_re = self.charge.work(m, self.air.cp(middle), *air_transport(middle))
        cold, _, self.cold_re = self.cold.work(self.flow, *self._sink()[1:])
        return 1 / (1 / charge + self.wall + 1 / cold), f

    def drop(self, m, inlet, t_out, f):
        return self.charge.drop(m, self.air.density(inlet.p, inlet.t), self.air.density(inlet.p, t_out), f)


def split(text):
    """The number of "25 km/h"."""
    number, unit = text.split()
    assert unit == "km/h"
    return float(number)
