"""Writes matches.csv: the reference matches over the invented builds of tests/builds/.

    python make_matches.py
"""

import csv
import platform
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import cantera
import numpy
import scipy

from build_file import read
from gas import check_against_cantera
from solve_match import Match

HERE = Path(__file__).parent
BUILDS = HERE.parent.parent / "builds"
HIGH = "site.altitude=2900 m;site.temperature=14 degC"
PER_STROKE = ("fuel.air_fuel_ratio=;fuel.per_stroke=122 mg;"
              "fuel.smallest_air_fuel_ratio=[[1200, 22.0], [2000, 20.5], [2300, 21.3], [3200, 21.3]]")
# What that build leaves to the defaults.
CORE = ("engine.strokes=4;engine.friction.constant=150 kPa;supercharger.indicated_efficiency=0.88;"
        "supercharger.mechanical_efficiency=0.96;supercharger.drive_efficiency=0.97")
STRIPS = ";cooler.core.charge_fin=offset;cooler.core.strip_length=3 mm"
WATER = (";cooler.vehicle_speed=;cooler.sink=water;cooler.sink_temperature=35 degC;cooler.sink_flow=0.6 kg/s;"
         "cooler.core.sink_fin_height=3 mm")

# (build, overrides, rpm)
MATCHES = [
    ("hill_climb_diesel", "", 1200),
    ("hill_climb_diesel", "", 1600),
    ("hill_climb_diesel", "", 2000),
    ("hill_climb_diesel", "", 2300),  # flap open
    ("hill_climb_diesel", "", 2400),  # flap open, just below the gate
    ("hill_climb_diesel", "", 2800),  # flap open, gate active
    ("hill_climb_diesel", "supercharger.bypass_drop=1.5 kPa", 2400),
    ("hill_climb_diesel", "turbine.wastegate.largest_share=0.03", 3200),  # gate wide open
    ("hill_climb_diesel", HIGH, 1400),
    ("hill_climb_diesel", HIGH, 2200),
    ("hill_climb_diesel", HIGH, 3000),
    ("hill_climb_diesel", PER_STROKE, 1400),  # smoke limiter
    ("hill_climb_diesel", PER_STROKE, 2600),  # rack
    ("hill_climb_diesel", "turbine.efficiency=0.60;supercharger.drive_ratio=2.5", 2600),
    ("petrol_screw", "", 2000),  # rich, regulator returning
    ("petrol_screw", "", 3000),  # rich, regulator shut
    ("petrol_screw", "", 4000),  # rich, bypass open, gate active
    ("petrol_screw", "", 6000),
    ("petrol_screw", "supercharger.bypass_at=manifold;supercharger.bypass_pressure=60 kPa", 2500),
    ("petrol_screw", "turbine.wastegate.largest_share=0.12", 5500),  # gate wide open
    ("petrol_screw", "supercharger.bypass=none;supercharger.internal_volume_ratio=1.1", 2500),
    ("petrol_screw", "fuel.lambda=1.05;site.altitude=1500 m;site.temperature=-6 degC", 3500),
    ("marine_diesel", "", 700),
    ("marine_diesel", "", 1000),
    ("marine_diesel", "", 1600),  # no bypass: PR below 1
    ("marine_diesel", "", 1900),
    ("marine_diesel", "fuel.smallest_air_fuel_ratio=28", 1000),  # smoke limiter
    ("marine_diesel", "turbine.flow_law=nozzle", 1300),
    ("turbo_before_roots", "", 1200),
    ("turbo_before_roots", "", 2000),
    ("turbo_before_roots", "", 2600),  # gate feels the compressor outlet
    ("turbo_before_roots", "supercharger.drive_ratio=1.05", 2000),  # flap with a drop, open
    ("single_turbo", "", 1200),
    ("single_turbo", "", 1800),
    ("single_turbo", "", 2600),  # gate active
    ("single_roots", "", 1500),
    ("single_roots", "", 4500),  # manifold regulator returning
    ("two_turbos", "", 1800),
    ("two_turbos", "", 2600),
    ("cooled_by_rated_points", "", 1400),
    ("cooled_by_rated_points", "", 1800),
    ("cooled_by_rated_points", "", 2800),  # the cooler between the stages warms: its air is preheated
    ("cooled_by_rated_points", "cooler.2.sink=air;cooler.2.radiator_conductance=;cooler.2.sink_flow=0.9 kg/s", 2200),
    ("cooled_by_rated_points", "cooler.2.arrangement=counterflow;site.altitude=300 m", 2000),
    ("cooled_by_rated_points", "cooler.2.radiator_conductance=;cooler.2.sink_temperature=0 degC", 2600),
    ("ram_air_core", CORE, 1400),  # laminar on both sides
    ("ram_air_core", CORE, 2000),  # the charge between laminar and turbulent
    ("ram_air_core", CORE, 3200),  # the charge turbulent
    ("ram_air_core", CORE + STRIPS, 2800),
    ("ram_air_core", CORE + WATER, 2400),
]

COLUMNS = [
    "build", "overrides", "rpm", "air_mass_flow_kg_s", "fuel_mass_flow_kg_s",
    "supercharger_pressure_ratio", "turbo_pressure_ratio", "turbo_2_pressure_ratio",
    "supercharger_outlet_k", "compressor_outlet_k", "compressor_2_outlet_k",
    "manifold_pa", "manifold_k", "turbine_inlet_pa", "turbine_inlet_k",
    "turbine_outlet_pa", "turbine_outlet_k", "turbine_2_inlet_pa", "turbine_2_inlet_k",
    "wastegate_share", "bypass_share", "supercharger_crank_power_w", "turbo_compressor_power_w",
    "turbine_power_w", "brake_power_w", "volumetric_efficiency", "energy_list_relative_error",
    "residual_flow", "residual_power", "residual_pressure",
]


def row(match):
    """One row of the table; what a layout lacks is left empty."""
    build, overrides, rpm = match
    found = Match(read(BUILDS / f"{build}.toml", overrides), rpm).solve()
    stations, stages, burnt = dict(found.walk.stations), found.walk.stages, found.burnt
    wheels, residuals = burnt.wheels, found.residuals()
    value = {"build": build, "overrides": overrides, "rpm": rpm, "air_mass_flow_kg_s": found.m,
             "fuel_mass_flow_kg_s": burnt.m_fuel, "brake_power_w": found.brake_power(),
             "volumetric_efficiency": found.ve, "turbine_inlet_pa": burnt.p_exhaust,
             "turbine_inlet_k": burnt.t_exhaust, "turbine_outlet_pa": burnt.p_out,
             "turbine_outlet_k": burnt.t_out, "manifold_pa": stations["manifold"].p,
             "manifold_k": stations["manifold"].t, "energy_list_relative_error": found.energy_error()}
    value |= {f"residual_{k}": v for k, v in residuals.items()}
    if "supercharger" in stages:
        sc = stages["supercharger"]
        value |= {"supercharger_pressure_ratio": sc["pressure_ratio"], "bypass_share": sc["bypass_share"],
                  "supercharger_outlet_k": stations["supercharger outlet"].t,
                  "supercharger_crank_power_w": sc["crank_power"]}
    for tag, name in (("", ""), (" 2", "_2")):
        if f"turbo compressor{tag}" in stages:
            value[f"turbo{name}_pressure_ratio"] = stages[f"turbo compressor{tag}"]["pressure_ratio"]
            value[f"compressor{name}_outlet_k"] = stations[f"compressor{tag} outlet"].t
    if wheels:
        value |= {"wastegate_share": wheels[0]["share"],
                  "turbine_power_w": sum(w["power"] for w in wheels),
                  "turbo_compressor_power_w": sum(s["power"] for k, s in stages.items() if k.startswith("turbo"))}
    if len(wheels) == 2:
        value |= {"turbine_2_inlet_pa": wheels[1]["p_in"], "turbine_2_inlet_k": wheels[1]["t_in"]}
    assert max(check_against_cantera(g) for g in (found.match.air, burnt.gas)) < 1e-10
    assert max(residuals.values()) < 1e-10 and abs(value["energy_list_relative_error"]) < 1e-10, match
    return value


def text(name, value):
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.1e}" if "residual" in name or "error" in name else f"{value:.9g}"
    return str(value)


HEADER = f"""\
# Reference matches of the invented builds in tests/builds/, made by make_matches.py beside this file.
# Independent solution of the design's equations: nested brentq roots, NASA polynomials as Cantera holds them.
# python {platform.python_version()}, cantera {cantera.__version__}, scipy {scipy.__version__}, numpy {numpy.__version__}
# Turbine inlet = ahead of the (first) turbine, or the station 'exhaust' of a layout without one; turbine outlet = after
# the last one, mixed with its gate's flow. Powers of two turbos are summed; wastegate share is the first turbine's.
# Overrides: KEY=VALUE separated by semicolons. An empty field does not exist in that layout.
"""


def main():
    with ProcessPoolExecutor(max_workers=int(sys.argv[1]) if len(sys.argv) > 1 else 2) as pool:
        rows = list(pool.map(row, MATCHES))
    with open(HERE / "matches.csv", "w", newline="") as file:
        file.write(HEADER)
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows([text(name, r.get(name)) for name in COLUMNS] for r in rows)


if __name__ == "__main__":
    main()
