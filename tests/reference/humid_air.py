"""Humid air: vapour pressure, humidity ratio and density, over water and over ice.

PsychroLib implements the ASHRAE formulae (ideal gas, no enhancement factor), as the
project does. CoolProp's HAPropsSI has real-gas terms and the enhancement factor and
therefore shows how much that simplification costs.
"""

import psychrolib
from CoolProp.CoolProp import HAPropsSI

from common import COOLPROP, library, write_csv

TEMPERATURES_C = [-20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0]
RELATIVE_HUMIDITIES = [0.0, 0.25, 0.5, 0.75, 1.0]
PRESSURES = [70000.0, 85000.0, 101325.0]


def row(t_c, rh, p):
    """One state. At rh = 0 the humidity ratio is set to 0: PsychroLib never goes below 1e-7."""
    p_sat = psychrolib.GetSatVapPres(t_c)
    w = psychrolib.GetHumRatioFromRelHum(t_c, rh, p) if rh > 0.0 else 0.0
    density = psychrolib.GetMoistAirDensity(t_c, w, p)
    real = 1.0 / HAPropsSI("Vha", "T", t_c + 273.15, "P", p, "R", rh)  # m3 per kg of humid air
    return (t_c + 273.15, rh, p, p_sat, rh * p_sat, w, density, real)


def main():
    """Writes humid_air.csv."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    rows = [row(t, rh, p) for p in PRESSURES for t in TEMPERATURES_C for rh in RELATIVE_HUMIDITIES]
    head = [
        "Humid air. Saturation over liquid water above 0.01 degC, over ice below.",
        f"sources: {library('PsychroLib', 'MIT')}, ASHRAE Fundamentals 2017 chapter 1 (Hyland and Wexler); {COOLPROP}, HAPropsSI",
        "PsychroLib takes R = 287.042 J/(kg K) for dry air, 1.607858 for the ratio of molar masses and 0.621945 for its inverse",
        "density_coolprop has real-gas terms, the enhancement factor and its own constants for dry air",
        "humidity_ratio is kg of water per kg of dry air; it is set to 0 at relative humidity 0, where PsychroLib returns 1e-7",
    ]
    write_csv("humid_air.csv", head,
              ["temperature_k", "relative_humidity", "pressure_pa", "saturation_pressure_pa", "vapour_pressure_pa",
               "humidity_ratio", "density_kg_m3", "density_coolprop_kg_m3"], rows)


if __name__ == "__main__":
    main()
