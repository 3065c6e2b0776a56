"""A charge cooler at one flow: given effectiveness, a rated point carried to other flows, or a core.

Crossflow both unmixed by Baclic's series of Bessel functions (1978), held against `ht`. UA at the
rated point is the root of heat(UA) = rated heat; elsewhere 1/UA = 1/hA_charge + 1/hA_sink with each
hA growing with a power of its own mass flow. A water circuit with its own radiator is closed by a
bracketed root on the water's temperature. Water's heat capacity comes from CoolProp.
"""

import math

import numpy as np
from CoolProp.CoolProp import PropsSI
from ht.hx import effectiveness_from_NTU
from scipy.optimize import brentq
from scipy.special import ive

from build_file import at_rpm, si
from core import Core
from gas import DRY_AIR, Gas

DRY = Gas(DRY_AIR)
MOST_UNITS = 20.0
ORDERS = np.arange(2, 120)
XTOL, RTOL = 1e-12, 8.9e-16


def sink_capacity(fluid, gas, flow, temperature):
    """Capacity flow of the sink at the temperature where it enters, W/K."""
    if fluid == "water":
        return flow * PropsSI("C", "P", 4e5, "T", temperature, "Water")
    return flow * gas.cp(temperature)


def crossflow(n, c):
    """Both unmixed; `ive` carries the factor exp(-x)."""
    x = 2 * n * math.sqrt(c)
    tail = (1 - c) / c * np.sum(c**(ORDERS / 2) * ive(ORDERS, x))
    return 1 - math.exp(x - (1 + c) * n) * (ive(0, x) + math.sqrt(c) * ive(1, x) - tail)


def counterflow(n, c):
    """As in any textbook."""
    used = math.exp(-n * (1 - c))
    return (1 - used) / (1 - c * used)


ARRANGEMENTS = {"crossflow": crossflow, "counterflow": counterflow}
for _name, _formula in ARRANGEMENTS.items():
    for _n, _c in ((0.3, 0.2), (1.0, 0.9), (2.5, 0.6)):
        assert abs(_formula(_n, _c) - effectiveness_from_NTU(_n, _c, subtype=_name)) < 1e-8


def heat(arrangement, conductance, gas, charge_flow, t_charge, capacity, t_sink):
    """Heat from the charge, W; its heat capacity is the mean from its inlet down to the sink."""
    charge = charge_flow * (gas.h(t_charge) - gas.h(t_sink)) / (t_charge - t_sink)
    smaller, larger = sorted((charge, capacity))
    epsilon = ARRANGEMENTS[arrangement](conductance / smaller, smaller / larger)
    return epsilon * smaller * (t_charge - t_sink)


class Cooler:
    """One cooler of a build at one engine speed."""

    def __init__(self, part, rpm, air, site):
        self.air = air
        self.fluid = part.get("sink", "air")
        self.sink = si(part.get("sink_temperature", site.t)) + si(part.get("sink_temperature_rise", 0.0))
        self.effectiveness = at_rpm(part["effectiveness"], rpm) if "effectiveness" in part else None
        self.core = Core(part, rpm, air, site, self.sink) if "core" in part else None
        if self.effectiveness is not None:
            return
        self.arrangement = part.get("arrangement", "crossflow")
        self.radiator = si(part["radiator_conductance"]) if "radiator_conductance" in part else None
        if self.core:
            self.radiator, self.capacity = None, self.core.capacity()
            return
        self._rate(part["rated"])
        self.flow = at_rpm(part["sink_flow"], rpm) if "sink_flow" in part else self.rated_flows[1]
        self.capacity = sink_capacity(self.fluid, air, self.flow, self.sink)

    def _rate(self, point):
        """UA of the rated point (dry air), divided between the sides."""
        self.rated_flows = si(point["charge_flow"]), si(point["sink_flow"])
        t_in, t_sink = si(point["charge_inlet_temperature"]), si(point["sink_temperature"])
        if "heat" in point:
            wanted = si(point["heat"])
        else:
            fall = (si(point["effectiveness"]) * (t_in - t_sink) if "effectiveness" in point
                    else t_in - si(point["charge_outlet_temperature"]))
            wanted = self.rated_flows[0] * (DRY.h(t_in) - DRY.h(t_in - fall))
        capacity = sink_capacity(self.fluid, DRY, self.rated_flows[1], t_sink)

        def missing(conductance):
            return heat(self.arrangement, conductance, DRY, self.rated_flows[0], t_in, capacity, t_sink) - wanted

        most = MOST_UNITS * min(capacity, self.rated_flows[0] * DRY.cp(t_sink))
        whole = brentq(missing, 1e-3, most, xtol=XTOL, rtol=RTOL)
        share = point["sink_resistance_share"]
        self.rated_sides = whole / (1 - share), whole / share
        self.exponents = point["charge_exponent"], point["sink_exponent"]

    def outlet(self, m, inlet):
        """(temperature, heat) behind the cooler at the charge flow m."""
        if self.effectiveness is not None:
            t = inlet.t - self.effectiveness * (inlet.t - self.sink)
            return t, m * (inlet.h - self.air.h(t))
        if self.core:
            return self._through_core(m, inlet)
        flows = m, self.flow
        sides = [hA * (flow / rated)**n for hA, flow, rated, n
                 in zip(self.rated_sides, flows, self.rated_flows, self.exponents)]
        conductance = 1 / sum(1 / side for side in sides)

        def given(t_sink):
            return heat(self.arrangement, conductance, self.air, m, inlet.t, self.capacity, t_sink)

        taken = given(self._water(given, inlet.t) if self.radiator else self.sink)
        return self.air.t_from_h(inlet.h - taken / m), taken

    def _through_core(self, m, inlet):
        conductance, self.friction = self.core.work(m, inlet)
        taken = heat(self.arrangement, conductance, self.air, m, inlet.t, self.capacity, self.sink)
        return self.air.t_from_h(inlet.h - taken / m), taken

    def drop(self, m, inlet, t_out):
        """Pressure drop of a core's charge side after `outlet`, Pa; of other coolers it is rated."""
        return self.core.drop(m, inlet, t_out, self.friction) if self.core else 0.0

    def _water(self, given, t_charge):
        """The temperature at which water enters: the radiator rejects R (t_hot - t_air)."""
        def surplus(t):
            q = given(t)
            return q - self.radiator * (t + q / self.capacity - self.sink)

        if surplus(self.sink) <= 0:
            return self.sink
        return brentq(surplus, self.sink, t_charge - 0.1, xtol=XTOL, rtol=RTOL)
