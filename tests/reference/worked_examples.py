"""Textbook examples of compression and expansion with the heat capacity that the gas really has.

The books reckon with constant cp and gamma. Here the same inputs go through cantera's
polynomials, so that the difference between a book's answer and the project's is known
beforehand and from outside. `printed` is the value of the book or its companion
(the sources stand beside the tests that use them).
"""

from math import pi, sqrt

from common import CANTERA, DRY_AIR, MIXTURE_DATA, mixture_gas, set_mixture, write_csv
from products import fuel_air_ratio, mole_fractions

GAS = mixture_gas()
R_UNIVERSAL = 8314.462618
ARGON = {"Ar": 1.0}


def h(t, x=DRY_AIR):
    """Enthalpy, J/kg."""
    set_mixture(GAS, t, x)
    return GAS.enthalpy_mass


def temperature(enthalpy, x=DRY_AIR):
    """The temperature (K) of an enthalpy (J/kg)."""
    set_mixture(GAS, 300.0, x)
    GAS.HP = enthalpy, 1e5
    return GAS.T


def isentropic(t, ratio, x=DRY_AIR):
    """Enthalpy after an isentropic change of pressure by `ratio`, J/kg."""
    set_mixture(GAS, t, x)
    GAS.SP = GAS.entropy_mass, ratio * GAS.P
    return GAS.enthalpy_mass


def compression(t, ratio, efficiency):
    """Outlet temperature (K) and work (J/kg) of a compressor."""
    work = (isentropic(t, ratio) - h(t)) / efficiency
    return temperature(h(t) + work), work


def expansion(t, ratio, x=DRY_AIR):
    """Isentropic drop of enthalpy, J/kg."""
    return h(t, x) - isentropic(t, 1.0 / ratio, x)


def density(p, t):
    """Density of dry air, kg/m3."""
    set_mixture(GAS, t, DRY_AIR)
    return p * GAS.mean_molecular_weight / (R_UNIVERSAL * t)


def compressors():
    t2, work = compression(300.0, 1.5, 0.70)
    yield "comp-01", "outlet_temperature_k", 352.6, t2
    yield "comp-01", "work_j_kg", 53e3, work
    t2, work = compression(288.0, 3.6, 0.8)
    yield "comp-04", "outlet_temperature_k", 447.09, t2
    yield "comp-04", "work_j_kg", 159.89e3, work
    _, work = compression(288.0, 4.0, 0.8)
    yield "comp-05", "impeller_diameter_m", 0.69, sqrt(work / (0.9 * 1.04)) / (pi * 200.0)
    first, work_1 = compression(283.0, 2.5, 0.85)
    second, work_2 = compression(first - 50.0, 2.1, 0.85)
    yield "series-01", "stage1_outlet_k", 382.637, first
    yield "series-01", "stage2_outlet_k", 425.042, second
    yield "series-01", "power_w", 965.011e3, 5.0 * (work_1 + work_2)
    low, work_1 = compression(300.0, 3.0, 1.0)
    high, work_2 = compression(300.0, 10.0 / 3.0, 1.0)
    yield "series-03", "stage2_outlet_k", 422.0, high
    yield "series-03", "two_stage_work_j_kg", 234.72e3, work_1 + work_2
    single, work = compression(300.0, 10.0, 1.0)
    yield "series-03", "single_stage_outlet_k", 574.0, single
    yield "series-03", "single_stage_work_j_kg", 279.71e3, work


def net_gain(name, volume, rpm, per_free_air, ve, p1, t1, ratio, eta, mechanical, printed):
    """Extra brake power of a supercharged engine, W; the boosted engine fills its swept volume."""
    t2, work = compression(t1, ratio, eta)
    swept = volume * rpm / 120.0
    air = swept * density(ratio * p1, t2)
    free = air / density(p1, t1)
    indicated = per_free_air * 60.0 * (free - ve * swept) + (ratio - 1.0) * p1 * swept
    yield name, "net_gain_w", printed, indicated * mechanical - air * work / mechanical
    yield name, "boosted_fill", None, free / swept


def engines():
    one = net_gain("eng-01", 0.0028, 3000, 12.5e3, 0.85, 101300.0, 288.0, 1.6, 0.74, 0.78, 15.1e3)
    for row in one:
        yield (*row[:2], 1.340, row[3]) if row[2] is None else row
    two = net_gain("eng-02", 0.0033, 3500, 13e3, 0.80, 101300.0, 298.0, 1.75, 0.75, 0.80, 29.15e3)
    yield next(two)
    # Work W of the compressor less the cooler's duty Q heats the air from 293 to 333 K.
    shaft, duty = 147.0 * 2000.0 * pi / 30.0, 1340e3 / 60.0
    flow = (shaft - duty) / (h(333.0) - h(293.0))
    yield "eng-05", "compressor_air_kg_s", 12.62 / 60.0, flow
    yield "eng-05", "outlet_temperature_k", 438.67, temperature(h(293.0) + shaft / flow)
    t2, work = compression(290.0, 1.8, 0.9)
    air = 1.5 * density(1e5, 290.0) * 0.0045 * 4000.0 / 120.0
    yield "eng-07", "duty_w", 5.14e3, air * (h(t2) - h(330.0))
    yield "eng-07", "shaft_power_w", 18.8e3, air * work / 0.85


def turbines():
    fuel = 1.0 / 20.0
    x = mole_fractions(1.80, fuel_air_ratio(1.80, 1.0) / fuel)
    t2, work = compression(290.0, 1.8 / 0.98, 0.8)
    wheel = 0.85 * expansion(850.0, 1.6 / 1.03, x)
    yield "turbo-01", "compressor_outlet_k", 86.0 + 273.0, t2
    yield "turbo-01", "turbine_outlet_k", 502.0 + 273.0, temperature(h(850.0, x) - wheel, x)
    yield "turbo-01", "power_fraction", 0.766, work / ((1.0 + fuel) * wheel)
    given = 0.02 * (h(673.15) - h(623.15))
    hot = temperature(h(323.15) + given / 0.018)
    cooling = 0.018 * (h(hot) - h(353.15)) / (h(313.15) - h(303.15))
    yield "turbo-02", "compressor_outlet_k", 108.6 + 273.15, hot
    yield "turbo-02", "cooling_air_m3_s", 44.9e-3, cooling / density(1e5, 303.15)
    work = 0.81 * expansion(1050.0, 3.11165)
    yield "turb-01", "work_j_kg", 0.2 * 1.333 / 0.333 * 287.0 * 1050.0, work
    drop = expansion(400.0, 1.5)
    tip = pi * 0.0725 * 2410.0 * sqrt(400.0) / 60.0
    brake = 4.59e-6 * 2410.0 * 400.0 * pi / 30.0 / 1.44e-5
    yield "turb-02", "wheel_efficiency", 0.7613, tip**2 / drop
    yield "turb-02", "overall_efficiency", 0.7317, brake / drop
    tip = pi * 0.42 * 18000.0 / 60.0
    yield "turb-03", "stage_efficiency", 0.8558, tip**2 / expansion(557.0, 4.0)
    work = h(1145.0, ARGON) - h(925.0, ARGON)
    yield "turb-04", "wheel_efficiency", 0.901, work / expansion(1145.0, 700.0 / 385.0, ARGON)
    yield "turb-04", "rotor_diameter_m", 0.269, sqrt(work) / (pi * 24000.0 / 60.0)


def main():
    """Writes worked_examples.csv."""
    rows = [tuple(float(v) if isinstance(v, (int, float)) else v for v in row)
            for group in (compressors(), engines(), turbines()) for row in group]
    head = [
        "Worked examples of textbooks: the printed answer (constant properties) and the same with variable heat capacity.",
        f"source of variable: {CANTERA}, {MIXTURE_DATA}",
        "turbo-01 burns CH1.80, the book names no fuel; turb-04 is pure argon; everything else is dry air",
    ]
    write_csv("worked_examples.csv", head, ["example", "quantity", "printed", "variable"], rows)
    for example, quantity, printed, variable in rows:
        print(f"{example:10} {quantity:24} {printed:12.6g} {variable:12.6g} {100 * (variable / printed - 1):+.2f} %")


if __name__ == "__main__":
    main()
