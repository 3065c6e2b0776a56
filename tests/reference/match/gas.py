"""Ideal-gas mixtures for the reference match: h, s, cp from Cantera's species data.

N2 and O2 are the nine-coefficient fits of NASA/TP-2002-211556 (Cantera's airNASA9.yaml);
Ar, CO2, H2O, CO and H2 are the seven-coefficient fits of NASA TM-4513 (Cantera's nasa_gas.yaml).
A seven-coefficient fit is a nine-coefficient one whose first two terms are zero, so that a
mixture of both is again one set. `check_against_cantera` compares the mixed set with Cantera.
"""

import math

import cantera as ct

R_UNIVERSAL = ct.gas_constant  # J/(kmol K)
T_REF = 298.15  # K, zero of sensible enthalpy
T_JOINT = 1000.0  # K, both fits change range here
T_LOW, T_HIGH = 200.0, 6000.0
SPECIES = ("N2", "O2", "Ar", "CO2", "H2O", "CO", "H2")
# Dry air by volume (the design's figures).
DRY_AIR = {"N2": 0.780848, "O2": 0.209390, "Ar": 0.009332, "CO2": 0.000430}


class OutOfRange(Exception):
    """A temperature outside 200 to 6000 K."""


def _load_species():
    nine = {s.name: s for s in ct.Species.list_from_file("airNASA9.yaml")}
    seven = {s.name: s for s in ct.Species.list_from_file("nasa_gas.yaml")}
    return {name: nine[name] if name in ("N2", "O2") else seven[name] for name in SPECIES}


CT_SPECIES = _load_species()
MOLAR_MASS = {name: s.molecular_weight for name, s in CT_SPECIES.items()}
ATOMIC_MASS = {e: ct.Element(e).weight for e in ("C", "H", "O")}


def _nine_coefficients(species):
    """[low range, high range], each a0..a6, b1, b2 in the nine-coefficient form."""
    thermo = species.input_data["thermo"]
    rows = [list(row) for row in thermo["data"][:2]]
    if thermo["model"] == "NASA7":
        rows = [[0.0, 0.0] + row for row in rows]
    return rows


COEFFICIENTS = {name: _nine_coefficients(s) for name, s in CT_SPECIES.items()}


def _h_over_r(a, t):
    return (-a[0] / t + a[1] * math.log(t)
            + t * (a[2] + t * (a[3] / 2 + t * (a[4] / 3 + t * (a[5] / 4 + t * a[6] / 5)))) + a[7])


def _s_over_r(a, t):
    return (-a[0] / (2 * t * t) - a[1] / t + a[2] * math.log(t)
            + t * (a[3] + t * (a[4] / 2 + t * (a[5] / 3 + t * a[6] / 4))) + a[8])


class Gas:
    """A frozen mixture. Enthalpy is sensible from 298.15 K; everything is per kg."""

    def __init__(self, moles):
        total = sum(moles.values())
        self.x = {k: v / total for k, v in moles.items() if v > 0.0}
        self.molar_mass = sum(v * MOLAR_MASS[k] for k, v in self.x.items())
        self.r = R_UNIVERSAL / self.molar_mass
        low, high = ([sum(v * COEFFICIENTS[k][z][i] for k, v in self.x.items())
                      for i in range(9)] for z in (0, 1))
        # Shift the upper range's constants so that h and s meet exactly at the joint.
        high[7] += _h_over_r(low, T_JOINT) - _h_over_r(high, T_JOINT)
        high[8] += _s_over_r(low, T_JOINT) - _s_over_r(high, T_JOINT)
        self._low, self._high = low, high
        self._h_ref = _h_over_r(low, T_REF)

    def _range(self, t):
        if not T_LOW <= t <= T_HIGH:
            raise OutOfRange(f"{t:.1f} K")
        return self._low if t <= T_JOINT else self._high

    def h(self, t):
        return self.r * (_h_over_r(self._range(t), t) - self._h_ref)

    def s0(self, t):
        """Entropy at the reference pressure, J/(kg K)."""
        return self.r * _s_over_r(self._range(t), t)

    def cp(self, t):
        a = self._range(t)
        return self.r * (a[0] / (t * t) + a[1] / t
                         + a[2] + t * (a[3] + t * (a[4] + t * (a[5] + t * a[6]))))

    def gamma(self, t):
        cp = self.cp(t)
        return cp / (cp - self.r)

    def density(self, p, t):
        return p / (self.r * t)

    def _invert(self, value, target, slope, start):
        t = start
        for _ in range(60):
            step = (target - value(t)) / slope(t)
            new = t + step
            if new < T_LOW or new > T_HIGH:
                if t in (T_LOW, T_HIGH):
                    raise OutOfRange(f"no temperature between {T_LOW} and {T_HIGH} K")
                new = min(max(new, T_LOW), T_HIGH)
            if abs(new - t) < 1e-12 * new:
                return new
            t = new
        return t

    def t_from_h(self, h, start=400.0):
        return self._invert(self.h, h, self.cp, start)

    def t_from_s0(self, s0, start=400.0):
        return self._invert(self.s0, s0, lambda t: self.cp(t) / t, start)


def moist_air(water_mole_fraction):
    moles = {k: v * (1.0 - water_mole_fraction) for k, v in DRY_AIR.items()}
    moles["H2O"] = water_mole_fraction
    return Gas(moles)


def saturation_pressure(t):
    """Hyland-Wexler as printed in ASHRAE Fundamentals; over ice below 0.01 degC. Pa."""
    if t < 273.16:
        c = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13)
        poly = sum(c[i + 1] * t**i for i in range(5))
        return math.exp(c[0] / t + poly + 4.1635019 * math.log(t))
    c = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8)
    poly = sum(c[i + 1] * t**i for i in range(4))
    return math.exp(c[0] / t + poly + 6.5459673 * math.log(t))


def combustion_products(air, h_c, o_c, kg_fuel_per_kg_air):
    """Products of CH(y)O(z) in `air`, as (Gas, kmol CO per kg air, kmol H2 per kg air).

    Lean: complete. Rich: no free oxygen, [CO][H2O]/([CO2][H2]) = 3.5, frozen.
    The air's own water and CO2 take part in the balance.
    """
    m_fuel = ATOMIC_MASS["C"] + h_c * ATOMIC_MASS["H"] + o_c * ATOMIC_MASS["O"]
    n_f = kg_fuel_per_kg_air * air.molar_mass / m_fuel  # kmol fuel per kmol air
    x = air.x
    carbon = n_f + x.get("CO2", 0.0)
    h2_units = n_f * h_c / 2 + x.get("H2O", 0.0)  # kmol H2 that the hydrogen would make
    oxygen = n_f * o_c + 2 * x["O2"] + 2 * x.get("CO2", 0.0) + x.get("H2O", 0.0)
    moles = {"N2": x["N2"], "Ar": x["Ar"]}
    spare = oxygen - 2 * carbon - h2_units
    if spare >= 0.0:
        moles.update(CO2=carbon, H2O=h2_units, O2=spare / 2)
        co = h2 = 0.0
    else:
        # With u = CO2 : CO = carbon - u, H2O = oxygen - carbon - u, H2 = h2_units - H2O.
        k = 3.5

        def f(u):
            water = oxygen - carbon - u
            return (carbon - u) * water - k * u * (h2_units - water)

        # (1 - k) u^2 + ... = 0, written out and solved as a quadratic.
        a = 1.0 - k
        b = -(carbon + (oxygen - carbon)) - k * (h2_units - (oxygen - carbon))
        c = carbon * (oxygen - carbon)
        roots = [(-b + sign * math.sqrt(b * b - 4 * a * c)) / (2 * a) for sign in (1, -1)]
        u = next(r for r in roots
                 if 0.0 < r < min(carbon, oxygen - carbon) and h2_units - (oxygen - carbon - r) > 0)
        assert abs(f(u)) < 1e-12
        water = oxygen - carbon - u
        co, h2 = carbon - u, h2_units - water
        moles.update(CO2=u, H2O=water, CO=co, H2=h2)
    return Gas(moles), co / air.molar_mass, h2 / air.molar_mass


def stoichiometric_ratio(h_c, o_c):
    """kg of dry air per kg of fuel."""
    dry = Gas(DRY_AIR)
    m_fuel = ATOMIC_MASS["C"] + h_c * ATOMIC_MASS["H"] + o_c * ATOMIC_MASS["O"]
    return (1 + h_c / 4 - o_c / 2) / dry.x["O2"] * dry.molar_mass / m_fuel


def check_against_cantera(gas, temperatures=(250.0, 400.0, 700.0, 990.0)):
    """Largest relative difference of cp, h and s (from 298.15 K) to a Cantera phase of the mixture.

    Below the joint only: above it our h carries the shift that makes the ranges meet.
    """
    phase = ct.Solution(thermo="ideal-gas", species=list(CT_SPECIES.values()))
    phase.TPX = T_REF, 1e5, gas.x
    h_ref, s_ref = phase.enthalpy_mass, phase.entropy_mass
    worst = 0.0
    for t in temperatures:
        phase.TPX = t, 1e5, gas.x
        worst = max(worst, abs(phase.cp_mass / gas.cp(t) - 1),
                    abs((phase.enthalpy_mass - h_ref) / gas.h(t) - 1),
                    abs((phase.entropy_mass - s_ref) / (gas.s0(t) - gas.s0(T_REF)) - 1))
    return worst
