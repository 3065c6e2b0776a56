"""Heat of evaporation and vapour pressure of alcohols, and how far they cool air, from CoolProp."""

from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq

from common import CANTERA, COOLPROP, DRY_AIR, mixture_gas, set_mixture, write_csv

FUELS = {"methanol": ("Methanol", 0.18), "ethanol": ("Ethanol", 0.13)}
TEMPERATURES = [273.15, 283.15, 293.15, 298.15, 303.15, 313.15, 323.15, 333.15]
LOW_PRESSURE = 1000.0  # Pa: there a vapour is an ideal gas
GAS = mixture_gas()


def air_enthalpy(t):
    """Enthalpy of dry air, J/kg."""
    set_mixture(GAS, t, DRY_AIR)
    return GAS.enthalpy_mass


def saturation():
    """Heat of evaporation and vapour pressure over temperature."""
    for name, (fluid, _) in FUELS.items():
        for t in TEMPERATURES:
            vapour, liquid = (PropsSI("H", "T", t, "Q", q, fluid) for q in (1, 0))
            yield name, t, vapour - liquid, PropsSI("P", "T", t, "Q", 0, fluid)


def cooled(fluid, air, fuel):
    """Temperature of air (K) after `fuel` kg of liquid per kg at 298.15 K evaporated into it."""
    liquid = PropsSI("H", "T", 298.15, "Q", 0, fluid)

    def left(t):
        vapour = PropsSI("H", "T", t, "P", LOW_PRESSURE, fluid)
        return air_enthalpy(t) + fuel * (vapour - liquid) - air_enthalpy(air)

    return brentq(left, 265.0, air)


def evaporation():
    """Charge temperature with the vapour's own heat in the balance."""
    for name, (fluid, per_air) in FUELS.items():
        for air in (310.0, 330.0, 360.0):
            for share in (0.05, 0.10, 0.15):
                yield name, air, per_air, share, cooled(fluid, air, share * per_air)


def main():
    """Writes vapour.csv and evaporation.csv."""
    for name, head, columns, rows in (
        (
            "vapour.csv",
            "Heat of evaporation and vapour pressure of alcohols at saturation.",
            ["fuel", "temperature_k", "latent_heat_j_kg", "vapour_pressure_pa"],
            list(saturation()),
        ),
        (
            "evaporation.csv",
            "Temperature of dry air after part of a fuel that enters as a liquid at 298.15 K evaporated into it.",
            ["fuel", "air_temperature_k", "fuel_air_ratio", "share", "charge_temperature_k"],
            list(evaporation()),
        ),
    ):
        write_csv(name, [head, f"source: {COOLPROP}, methanol and ethanol; {CANTERA}, air"], columns, rows)


if __name__ == "__main__":
    main()
