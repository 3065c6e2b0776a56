"""Engine energy balance, turbines in series, and the exhaust pipe for a given air flow."""

import math
from dataclasses import dataclass, field

from scipy.optimize import brentq

from air_path import RTOL, TooLittleFlow, TooMuchFlow, rated_drop_constant
from build_file import FUELS, VOLUME_UNITS, at_rpm, si, split_unit
from gas import MOLAR_MASS, OutOfRange, combustion_products, stoichiometric_ratio

HEAT_CO, HEAT_H2 = 283.0e6, 241.8e6  # J/kmol, lower heating values
GAMMA_RESIDUAL = 1.35


class TooLowPressure(Exception):
    """The pressure ahead of the turbine is too low to push the flow out."""


def psi(expansion_ratio, gamma, law):
    """Flow function m sqrt(R T)/(p A) of one isentropic nozzle, or of two throats in series."""
    er = expansion_ratio if law == "nozzle" else math.sqrt(expansion_ratio)
    critical = ((gamma + 1) / 2)**(gamma / (gamma - 1))
    r = 1 / min(er, critical)
    return math.sqrt(max(0.0, 2 * gamma / (gamma - 1) * (r**(2 / gamma) - r**((gamma + 1) / gamma))))


class Fuel:
    """What is burned: kind, and the one rule that says how much."""

    def __init__(self, table, rpm, cycles_per_second):
        lhv, h_c, o_c, density = FUELS.get(table.get("kind"), (None, None, None, None))
        self.lhv = si(table.get("lower_heating_value", lhv))
        self.h_c = table.get("hydrogen_carbon_ratio", h_c)
        self.o_c = table.get("oxygen_carbon_ratio", o_c)
        self.stoichiometric = stoichiometric_ratio(self.h_c, self.o_c)
        self.ratio = self.held = None
        if "per_stroke" in table:
            given = table["per_stroke"]
            text = given if isinstance(given, str) else given[0][1]
            scale = si(table.get("density", density)) if split_unit(text)[1] in VOLUME_UNITS else 1.0
            self.held = at_rpm(given, rpm) * scale * cycles_per_second
            if "smallest_air_fuel_ratio" in table:
                self.ratio = at_rpm(table["smallest_air_fuel_ratio"], rpm)
        elif "flow" in table:
            self.held = at_rpm(table["flow"], rpm)
        elif "lambda" in table:
            self.ratio = at_rpm(table["lambda"], rpm) * self.stoichiometric
        else:
            self.ratio = at_rpm(table["air_fuel_ratio"], rpm)

    def flow(self, m_dry):
        by_ratio = m_dry / self.ratio if self.ratio else math.inf
        return min(by_ratio, self.held if self.held is not None else math.inf)


@dataclass
class Turbine:
    area: float | None
    choked: float | None  # m_c sqrt(T_ref)/p_ref
    law: str
    efficiency: float
    mechanical: float
    drives: int
    gate: dict | None

    @staticmethod
    def read(table, drives_default):
        choked = None
        if "choked_corrected_flow" in table:
            choked = (si(table["choked_corrected_flow"]) * math.sqrt(si(table["reference_temperature"]))
                      / si(table["reference_pressure"]))
        return Turbine(
            si(table["effective_area"]) if "effective_area" in table else None, choked,
            table.get("flow_law", "nozzle"), si(table["efficiency"]), si(table.get("mechanical_efficiency", 1.0)),
            int(table.get("drives", drives_default)), table.get("wastegate"))

    def capacity(self, p, t, expansion_ratio, gas):
        """The flow that the nozzle passes, kg/s."""
        gamma = gas.gamma(t)
        area = self.area
        if area is None:  # at choke m sqrt(T)/p is the chart's figure, whatever the gas
            area = self.choked * math.sqrt(gas.r) / psi(1e6, gamma, self.law)
        return psi(expansion_ratio, gamma, self.law) * p * area / math.sqrt(gas.r * t)

    def largest_share(self):
        if self.gate is None:
            return 0.0
        if "valve_diameter" in self.gate:
            gate_area = 0.7 * math.pi / 4 * si(self.gate["valve_diameter"])**2
            return gate_area / (gate_area + self.area)
        return si(self.gate.get("largest_share", 0.5))


@dataclass
class Burnt:
    """Exhaust side at one air flow."""
    m_fuel: float = 0.0
    gas: object = None
    energy: dict = field(default_factory=dict)
    p_exhaust: float | None = None
    t_exhaust: float | None = None
    wheels: list = field(default_factory=list)  # one dict per turbine
    p_out: float | None = None
    t_out: float | None = None


class Exhaust:
    def __init__(self, document, rpm, air, site, swept_flow, cycles_per_second):
        combustion = document["engine"]["combustion"]
        self.air, self.site, self.swept = air, site, swept_flow
        self.dry_share = 1 - air.x.get("H2O", 0.0) * MOLAR_MASS["H2O"] / air.molar_mass
        self.gross_efficiency = at_rpm(combustion["gross_indicated_efficiency"], rpm)
        self.wall_share = at_rpm(combustion["heat_loss_share"], rpm)
        self.fuel = Fuel(document["fuel"], rpm, cycles_per_second)
        tables = document.get("turbine", [])
        tables = tables if isinstance(tables, list) else [tables]
        n = len(tables)
        self.turbines = [Turbine.read(t, n - i) for i, t in enumerate(tables)]
        self.pipe = rated_drop_constant(document["exhaust"]) if "exhaust" in document else None

    @property
    def pressure_known(self):
        return bool(self.turbines) or self.pipe is not None

    def burn(self, m):
        """Fuel flow, products and heat release; none depends on the exhaust pressure."""
        b = Burnt()
        b.m_fuel = self.fuel.flow(m * self.dry_share)
        b.gas, n_co, n_h2 = combustion_products(self.air, self.fuel.h_c, self.fuel.o_c, b.m_fuel / m)
        unburnt = m * (n_co * HEAT_CO + n_h2 * HEAT_H2)
        released = b.m_fuel * self.fuel.lhv - unburnt
        b.energy = {"fuel": b.m_fuel * self.fuel.lhv, "unburnt": unburnt, "released": released,
                    "gross": self.gross_efficiency * released, "wall": self.wall_share * released}
        return b

    def exhaust_enthalpy(self, b, m, manifold, p_exhaust):
        """h of the products ahead of the turbine, J/kg, and the pumping power, W."""
        pump = (manifold.p - p_exhaust) * self.swept if p_exhaust is not None else 0.0
        e = b.energy
        left = m * self.air.h(manifold.t) + e["released"] - e["gross"] - pump - e["wall"]
        return left / (m + b.m_fuel), pump

    def pipe_inlet(self, gas, m, t):
        """Pressure ahead of the exhaust pipe for a known temperature there: a quadratic."""
        drop_times_p = (self.pipe or 0.0) * m * m * gas.r * t
        p = self.site.p
        return p / 2 + math.sqrt(p * p / 4 + drop_times_p)

    def _work(self, gas, turbine, h_in, t_in, expansion_ratio):
        t_is = gas.t_from_s0(gas.s0(t_in) - gas.r * math.log(expansion_ratio), t_in)
        return turbine.efficiency * (h_in - gas.h(t_is))

    def _mixed(self, gas, k, h_in, t_in, expansion_ratio, share):
        w = self._work(gas, self.turbines[k], h_in, t_in, expansion_ratio)
        h_out = h_in - (1 - share) * w
        return w, h_out, gas.t_from_h(h_out, t_in)

    def _outlet(self, gas, m, k, p_in, h_in, t_in, shares):
        """Outlet pressure of turbine k: what follows takes the flow at that pressure."""
        last = k + 1 == len(self.turbines)

        def surplus(p_out):
            _, h, t = self._mixed(gas, k, h_in, t_in, p_in / p_out, shares[k])
            if last:
                return p_out - self.pipe_inlet(gas, m, t)
            return self._inlet_surplus(gas, m, k + 1, p_out, h, t, shares)

        if surplus(p_in) < 0:
            raise TooLowPressure
        if surplus(self.site.p) >= 0:
            return self.site.p
        return brentq(surplus, self.site.p, p_in, xtol=1e-9, rtol=RTOL)

    def _inlet_surplus(self, gas, m, k, p_in, h_in, t_in, shares):
        """Flow that turbine k passes beyond the flow offered to it, kg/s."""
        offered = (1 - shares[k]) * m
        try:
            p_out = self._outlet(gas, m, k, p_in, h_in, t_in, shares)
        except TooLowPressure:
            return -offered
        return self.turbines[k].capacity(p_in, t_in, p_in / p_out, gas) - offered

    def solve(self, m, manifold, shares):
        """The whole exhaust side: drive pressure by a bracketed root, downstream nested."""
        b = self.burn(m)
        total = m + b.m_fuel

        def start(p):
            h, pump = self.exhaust_enthalpy(b, m, manifold, p)
            return h, b.gas.t_from_h(h, 950.0), pump

        if not self.turbines:
            p = None
            if self.pipe is not None:
                p = brentq(lambda q: q - self.pipe_inlet(b.gas, total, start(q)[1]),
                           0.5 * self.site.p, 5 * self.site.p, xtol=1e-9, rtol=RTOL)
            h, t, pump = start(p)
            b.p_exhaust, b.t_exhaust, b.energy["pump"] = p, t, pump
            b.energy["exhaust"] = total * h
            return b

        def surplus(p):
            h, t, _ = start(p)
            return self._inlet_surplus(b.gas, total, 0, p, h, t, shares)

        high = self.site.p * 1.2
        try:
            surplus(high)
        except OutOfRange as e:  # so high a manifold pressure that pumping empties the exhaust
            raise TooLittleFlow("the manifold pressure is out of all proportion") from e
        try:
            while surplus(high) < 0:
                high *= 1.3
        except OutOfRange as e:  # the pumping work heats the exhaust beyond the gas data
            raise TooMuchFlow("no drive pressure pushes the flow through the turbine") from e
        low = self.site.p if high < self.site.p * 1.3 else high / 1.3
        p = brentq(surplus, low, high, xtol=1e-9, rtol=RTOL)
        h, t, b.energy["pump"] = start(p)
        b.p_exhaust, b.t_exhaust = p, t
        for k, turbine in enumerate(self.turbines):
            p_out = self._outlet(b.gas, total, k, p, h, t, shares)
            w, h_out, t_out = self._mixed(b.gas, k, h, t, p / p_out, shares[k])
            flow = (1 - shares[k]) * total
            b.wheels.append({"p_in": p, "t_in": t, "p_out": p_out, "t_out": t_out, "flow": flow,
                             "power": flow * w, "share": shares[k], "drives": turbine.drives})
            p, h, t = p_out, h_out, t_out
        b.p_out, b.t_out = p, t
        b.energy["exhaust"] = total * h
        return b
