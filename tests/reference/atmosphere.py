"""The standard atmosphere against geometric altitude, from two libraries."""

from ambiance import Atmosphere
from fluids.atmosphere import ATMOSPHERE_1976

from common import library, write_csv


def main():
    """Writes atmosphere.csv, 0 to 6000 m in steps of 250 m."""
    rows = []
    for altitude in range(0, 6001, 250):
        isa = Atmosphere(float(altitude))
        rows.append((altitude, "ambiance", float(isa.temperature[0]), float(isa.pressure[0]),
                     float(isa.density[0])))
        us76 = ATMOSPHERE_1976(float(altitude))
        rows.append((altitude, "fluids", float(us76.T), float(us76.P), float(us76.rho)))
    head = [
        "Standard atmosphere, geometric altitude.",
        f"sources: {library('ambiance', 'Apache-2.0')}: ICAO 1993 / ISO 2533; "
        f"{library('fluids', 'MIT')}: US Standard Atmosphere 1976",
        "the two define the same troposphere with slightly different constants (gas constant, radius of the earth)",
    ]
    write_csv("atmosphere.csv", head,
              ["altitude_m", "source", "temperature_k", "pressure_pa", "density_kg_m3"], rows)


if __name__ == "__main__":
    main()
