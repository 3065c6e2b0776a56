"""Reads the build keys that the reference match needs. SI inside; speeds stay in rev/min."""

import re
import tomllib

import numpy as np

# Exact factors from the units' definitions: (factor, offset), SI = value * factor + offset.
UNITS = {
    "Pa": (1.0, 0.0), "kPa": (1e3, 0.0), "MPa": (1e6, 0.0), "bar": (1e5, 0.0), "mbar": (100.0, 0.0),
    "psi": (4.4482216152605 / 0.0254**2, 0.0),
    "K": (1.0, 0.0), "degC": (1.0, 273.15), "degF": (5 / 9, 459.67 * 5 / 9),
    "m": (1.0, 0.0), "mm": (1e-3, 0.0), "cm": (1e-2, 0.0), "ft": (0.3048, 0.0), "in": (0.0254, 0.0),
    "m2": (1.0, 0.0), "cm2": (1e-4, 0.0), "mm2": (1e-6, 0.0), "in2": (0.0254**2, 0.0),
    "L": (1e-3, 0.0), "m3": (1.0, 0.0), "cm3": (1e-6, 0.0), "in3": (0.0254**3, 0.0),
    "kg/s": (1.0, 0.0), "g/s": (1e-3, 0.0), "lb/min": (0.45359237 / 60, 0.0),
    "kg": (1.0, 0.0), "g": (1e-3, 0.0), "mg": (1e-6, 0.0), "mm3": (1e-9, 0.0),
    "W": (1.0, 0.0), "kW": (1e3, 0.0), "J/kg": (1.0, 0.0), "MJ/kg": (1e6, 0.0),
    "W/K": (1.0, 0.0), "kg/m3": (1.0, 0.0), "rpm": (1.0, 0.0), "kN": (1e3, 0.0),
}
VOLUME_UNITS = {"L", "m3", "cm3", "in3", "mm3"}

# Fuel table of the design: LHV J/kg, H/C, O/C, kg/m3.
FUELS = {
    "diesel": (42.8e6, 1.80, 0.0, 835.0),
    "petrol": (43.4e6, 1.87, 0.0, 745.0),
    "ethanol": (26.9e6, 3.0, 0.5, 789.0),
    "methanol": (20.0e6, 4.0, 1.0, 792.0),
    "e85": (29.3e6, 2.755, 0.392, 782.0),
}


def split_unit(text):
    number, unit = re.fullmatch(r"\s*([-+0-9.eE]+)\s*(\S*)\s*", text).groups()
    return float(number), unit


def si(text):
    """'38 psi' to 262001.0; plain numbers pass through."""
    if isinstance(text, (int, float)):
        return float(text)
    number, unit = split_unit(text)
    if unit == "%":
        return number / 100
    factor, offset = UNITS[unit]
    return number * factor + offset


def at_rpm(value, rpm):
    """A value, or [rpm, value] rows: straight between rows, the end value beyond them."""
    if not isinstance(value, list):
        return si(value)
    return float(np.interp(rpm, [row[0] for row in value], [si(row[1]) for row in value]))


def _find_part(document, word):
    name, _, number = word.partition(".")
    parts = [p for p in document["air_path"] if p["part"] == name]
    return parts[int(number or 1) - 1]


def _target(document, path):
    """The table that holds the key named by the dotted path."""
    words = {p["part"] for p in document["air_path"]}
    if path[0] in words:
        word = path[0]
        rest = path[1:]
        if rest and rest[0].isdigit():
            word, rest = f"{word}.{rest[0]}", rest[1:]
        part = _find_part(document, word)
        for key in rest[:-1]:
            part = part[key]
        return part, rest[-1:]
    table = document
    while len(path) > 1:
        if path[0] == "turbine" and isinstance(table.get("turbine"), list):
            index = int(path[1]) - 1 if path[1].isdigit() else 0
            path = path[1:] if path[1].isdigit() else path
            table, path = table["turbine"][index], path[1:]
        else:
            table, path = table.setdefault(path[0], {}), path[1:]
    return table, path


def apply_override(document, text):
    """One KEY=VALUE as the command line takes it; an empty VALUE removes the key."""
    key, _, value = text.partition("=")
    table, rest = _target(document, key.strip().split("."))
    value = value.strip()
    if value == "":
        table.pop(rest[0], None)
        return
    try:
        table[rest[0]] = tomllib.loads(f"v = {value}")["v"]
    except tomllib.TOMLDecodeError:
        table[rest[0]] = value


def read(path, overrides=""):
    """The TOML document with overrides (KEY=VALUE;KEY=VALUE) applied."""
    with open(path, "rb") as file:
        document = tomllib.load(file)
    for text in overrides.split(";"):
        if text.strip():
            apply_override(document, text)
    return document
