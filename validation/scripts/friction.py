"""Darcy friction factors of Colebrook and White, solved without approximation."""

import math

from fluids.friction import friction_factor
from scipy.optimize import brentq

import common

REYNOLDS = [4000.0, 7000.0, 1e4, 3e4, 1e5, 3e5, 1e6, 1e7]
RELATIVE_ROUGHNESS = [0.0, 1e-6, 1e-4, 1e-3, 0.01]


def by_brent(reynolds, roughness):
    """The same equation by a bracketed root, to check the library."""

    def residual(f):
        root = math.sqrt(f)
        return 1.0 / root + 2.0 * math.log10(roughness / 3.7 + 2.51 / (reynolds * root))

    return brentq(residual, 1e-4, 1.0, xtol=1e-16, rtol=1e-14)


def main():
    rows = []
    for roughness in RELATIVE_ROUGHNESS:
        for reynolds in REYNOLDS:
            factor = friction_factor(Re=reynolds, eD=roughness, Method="Colebrook")
            assert abs(factor / by_brent(reynolds, roughness) - 1.0) < 1e-9
            rows.append([reynolds, roughness, factor])
    head = common.made_by("friction.py", "fluids", "scipy") + "; Method='Colebrook' (exact)"
    common.write_csv("friction.csv", head, ["reynolds", "roughness_over_bore", "darcy"], rows)


if __name__ == "__main__":
    main()
