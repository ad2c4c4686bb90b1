"""What inverters and drives share: their losses, and the cables from the array."""

import math

import numpy as np
from scipy.optimize import nnls


def three_terms(load_fraction, efficiency):
    """p0, p1, p2 of the loss over rated output, least squares, none below 0."""
    x = np.asarray(load_fraction)
    loss = x * (1.0 / np.asarray(efficiency) - 1.0)
    return nnls(np.column_stack([np.ones_like(x), x, x**2]), loss)[0]


class Cable:
    """Loss k·P²/P_rated, P at the start of the cable."""

    def __init__(self, fraction, rated_w):
        self.fraction, self.rated_w = fraction, rated_w

    def end_w(self, begin_w):
        return begin_w * (1.0 - self.fraction * begin_w / self.rated_w)

    def begin_w(self, end_w):
        k = self.fraction / self.rated_w
        return end_w if k == 0.0 else (1.0 - math.sqrt(1.0 - 4.0 * k * end_w)) / (2.0 * k)


def joint_cable(groups, offers_w):
    """The groups' cables as one: each carries its share of what they offer together."""
    whole = sum(offers_w)
    shares = [offer / whole for offer in offers_w]
    k_w = sum(g["cable_k"] * share**2 / g["stc_w"] for g, share in zip(groups, shares))
    return Cable(k_w, 1.0)
