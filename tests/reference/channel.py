"""Heat transfer and friction of straight channels, from `ht` and `fluids`."""

from fluids.friction import friction_factor, friction_laminar
from ht.conv_internal import Nu_laminar_rectangular_Shan_London, turbulent_Gnielinski

from common import library, write_csv

ASPECTS = [0.02, 0.1, 0.25, 0.5, 0.8, 1.0]
REYNOLDS = [4000.0, 6000.0, 10_000.0, 20_000.0, 50_000.0]
# f Re of laminar flow in rectangles, Fanning: table 42 of Shah and London 1978 from memory; the two
# limits are exact (24 between plates, 14.227 in a square).
FRICTION = {0.1: 21.169, 0.25: 18.233, 0.5: 15.548, 1.0: 14.227}


def main():
    """Writes channel.csv."""
    rows = []
    for aspect in ASPECTS:
        nusselt = float(Nu_laminar_rectangular_Shan_London(aspect))
        rows.append(("laminar", aspect, 500.0, 0.7, nusselt, FRICTION.get(aspect, "") and FRICTION[aspect] / 500.0))
    assert friction_laminar(500.0) == 64.0 / 500.0
    for re in REYNOLDS:
        for pr in (0.7, 5.0):
            darcy = float(friction_factor(Re=re, eD=0.0, Method="Clamond"))
            rows.append(("turbulent", 0.5, re, pr, float(turbulent_Gnielinski(Re=re, Pr=pr, fd=darcy)), darcy / 4.0))
    head = [
        "Nusselt number (constant heat flux) and Fanning friction factor of straight smooth channels.",
        f"source: {library('ht', 'MIT')} conv_internal: Shah and London 1978 (laminar), Gnielinski 1976;",
        f"{library('fluids', 'MIT')}: Colebrook's smooth pipe (Clamond); laminar friction: Shah and London, table 42, from memory",
    ]
    write_csv("channel.csv", head, ["regime", "aspect", "reynolds", "prandtl", "nusselt", "fanning"], rows)


if __name__ == "__main__":
    main()
