"""Ideal-gas properties out of CoolProp's Helmholtz equations.

An equation of state splits into an ideal-gas part and a residual part. The first
alone is what a low-pressure gas follows, and what polynomials in temperature describe:

    h = R T (1 + tau d(alpha0)/d(tau)),   s = R (tau d(alpha0)/d(tau) - alpha0)
"""

import CoolProp
from CoolProp.CoolProp import AbstractState

from common import T_REF

FLUIDS = {
    "N2": "Nitrogen",
    "O2": "Oxygen",
    "Ar": "Argon",
    "CO2": "CarbonDioxide",
    "H2O": "Water",
    "CO": "CarbonMonoxide",
    "H2": "Hydrogen",
}


class IdealGas:
    """cp, h and s of one fluid's ideal-gas part, h and s counted from 298.15 K."""

    def __init__(self, fluid):
        self.state = AbstractState("HEOS", fluid)
        self.state.specify_phase(CoolProp.iphase_gas)
        self.t_min = self.state.Tmin()
        self.t_max = self.state.Tmax()
        self.molar_mass = self.state.molar_mass()  # kg/mol
        self.gas_constant = self.state.gas_constant()  # J/(mol K), the equation's own
        self.h_ref, self.s_ref = self._raw(T_REF)

    def _raw(self, t):
        """h and s (J/mol, J/(mol K)) at 100 kPa from the equation's own zero."""
        r = self.gas_constant
        self.state.update(CoolProp.DmolarT_INPUTS, 1e5 / (r * t), t)
        slope = self.state.tau() * self.state.dalpha0_dTau()
        return r * t * (1.0 + slope), r * (slope - self.state.alpha0())

    def molar(self, t):
        """cp, h - h(298.15 K), s - s(298.15 K) at 100 kPa: J/(mol K), J/mol, J/(mol K)."""
        h, s = self._raw(t)
        return self.state.cp0molar(), h - self.h_ref, s - self.s_ref

    def mass(self, t):
        """The same per kg."""
        return tuple(v / self.molar_mass for v in self.molar(t))

    def source(self, t):
        """`coolprop`, or a marked name where the temperature leaves the equation's range."""
        return "coolprop" if self.t_min <= t <= self.t_max else "coolprop_extrapolated"
