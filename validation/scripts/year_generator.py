"""The generator: when it can run, what it feeds and how much fuel it takes."""

import numpy as np
from scipy.optimize import nnls

from year_rule import clock_hours

# below this share of its rating it burns what it burns there
LEAST_FUEL_AT = 0.1


class Generator:
    def __init__(self, spec):
        self.rated_w = spec["rated_kw"] * 1000.0
        self.least_w = spec["least_load"] * self.rated_w
        self.delay_s = spec["start_delay_s"]
        self.loads = spec["loads"]
        self.only_when_low = spec["pumps_when"] == "tank-is-low"
        self.sun_share = spec.get("sun_share", 0.5)
        self.attended = set(range(24))
        if spec["start"] == "by-hand":
            self.attended = clock_hours(spec["attended_hours"])
        rated_kw, load = spec["rated_kw"], np.asarray(spec["load_fraction"])
        basis = np.column_stack([np.full_like(load, rated_kw), load * rated_kw])
        self.idle, self.slope = nnls(basis, np.asarray(spec["fuel_l_per_h"]))[0]

    def fuel_l_per_s(self, output_w):
        """Fuel of a running generator; its minimum load changes nothing."""
        power_w = max(output_w, LEAST_FUEL_AT * self.rated_w)
        return (self.idle * self.rated_w + self.slope * power_w) / 3.6e6

    def load_w(self, load_w, backed_w):
        return {"none": 0.0, "backed-up": backed_w, "all": load_w}[self.loads]

    def sun_is_enough(self, flow, wanted_flow):
        """Whether the sun alone runs a set while the generator holds the bus."""
        return flow > 0.0 and flow >= self.sun_share * wanted_flow
