"""Flow function m sqrt(R T)/(p A) of an isentropic nozzle, T and p at the inlet's total state.

fluids has no function of that name. Two of its functions together give it: the expansibility
of a nozzle (ISO 5167-3) with a throat infinitely small against its pipe is the isentropic flow,
m = A epsilon sqrt(2 density dp), and `P_critical_flow` says where the throat chokes.
"""

from math import sqrt

from fluids.compressible import P_critical_flow, is_critical_flow
from fluids.flow_meter import nozzle_expansibility

from common import library, write_csv

GAMMAS = [1.30, 1.33, 1.40]
EXPANSION_RATIOS = [1.1, 1.3, 1.5, 1.7, 1.85, 2.0, 2.5, 3.5]


def from_fluids(gamma, ratio):
    """The flow function at p = 1 Pa, R T = 1 J/kg, A = 1 m2, where the density is 1 kg/m3."""
    choked = is_critical_flow(1.0, 1.0 / ratio, gamma)
    p_throat = P_critical_flow(1.0, gamma) if choked else 1.0 / ratio
    epsilon = nozzle_expansibility(D=1.0, Do=0.0, P1=1.0, P2=p_throat, k=gamma, beta=0.0)
    return epsilon * sqrt(2.0 * (1.0 - p_throat)), choked


def direct(gamma, ratio):
    """sqrt(2 g/(g-1) (q^(2/g) - q^((g+1)/g))), q the throat's pressure over the inlet's."""
    q = max(1.0 / ratio, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    return sqrt(2.0 * gamma / (gamma - 1.0) * (q ** (2.0 / gamma) - q ** ((gamma + 1.0) / gamma)))


def main():
    """Writes nozzle.csv."""
    rows = []
    for gamma in GAMMAS:
        for ratio in EXPANSION_RATIOS:
            psi, choked = from_fluids(gamma, ratio)
            assert abs(psi - direct(gamma, ratio)) < 1e-12
            rows.append((gamma, ratio, "choked" if choked else "subsonic", psi, direct(gamma, ratio)))
    head = [
        "Isentropic nozzle flow function m sqrt(R T)/(p A); expansion ratio = inlet total / outlet pressure.",
        f"source: {library('fluids', 'MIT')}: flow_meter.nozzle_expansibility with beta = 0, "
        "compressible.P_critical_flow and is_critical_flow; direct: the textbook formula, equal to 1e-12",
    ]
    write_csv("nozzle.csv", head, ["gamma", "expansion_ratio", "state", "psi_fluids", "psi_direct"], rows)


if __name__ == "__main__":
    main()
