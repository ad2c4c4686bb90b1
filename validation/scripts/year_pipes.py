"""Water, and the friction of the pipes; of one flow, and of many at once."""

import math

import numpy as np
from fluids.friction import Colebrook

GRAVITY = 9.80665
# Colebrook's equation solved by repetition: each round gains about a digit
ROUNDS = 30


def water(celsius):
    """Density (Kell 1975, kg/m³) and kinematic viscosity (Vogel, m²/s)."""
    t = celsius
    density = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    ) / (1.0 + 16.879850e-3 * t)
    dynamic = 2.414e-5 * 10.0 ** (247.8 / (t + 273.15 - 140.0))
    return density, dynamic / density


def colebrook(reynolds, rough):
    root = np.full_like(reynolds, 7.0)
    for _ in range(ROUNDS):
        root = -2.0 * np.log10(rough / 3.7 + 2.51 * root / reynolds)
    return root**-2


class Pipes:
    def __init__(self, pipes, viscosity):
        self.pipes, self.viscosity = pipes, viscosity

    def friction_m(self, flow):
        total = 0.0
        if flow == 0.0:
            return total
        for pipe in self.pipes:
            bore = pipe["bore_mm"] / 1000.0
            speed = flow / (math.pi / 4.0 * bore**2)
            reynolds = speed * bore / self.viscosity
            rough = pipe["roughness_mm"] / pipe["bore_mm"]
            if reynolds <= 2000.0:
                factor = 64.0 / reynolds
            elif reynolds < 4000.0:
                share = (reynolds - 2000.0) / 2000.0
                factor = 0.032 * (1.0 - share) + Colebrook(4000.0, rough) * share
            else:
                factor = Colebrook(reynolds, rough)
            velocity_head = speed**2 / (2.0 * GRAVITY)
            total += (factor * pipe["length_m"] / bore + pipe["sum_k"]) * velocity_head
        return total

    def friction_of_many_m(self, flows):
        """The same for an array of flows above 0."""
        total = np.zeros_like(flows)
        for pipe in self.pipes:
            bore = pipe["bore_mm"] / 1000.0
            speed = flows / (math.pi / 4.0 * bore**2)
            reynolds = speed * bore / self.viscosity
            rough = pipe["roughness_mm"] / pipe["bore_mm"]
            share = np.clip((reynolds - 2000.0) / 2000.0, 0.0, 1.0)
            between = 0.032 * (1.0 - share) + Colebrook(4000.0, rough) * share
            turbulent = colebrook(np.maximum(reynolds, 4000.0), rough)
            factor = np.where(reynolds >= 4000.0, turbulent, between)
            factor = np.where(reynolds <= 2000.0, 64.0 / reynolds, factor)
            velocity_head = speed**2 / (2.0 * GRAVITY)
            total += (factor * pipe["length_m"] / bore + pipe["sum_k"]) * velocity_head
        return total
