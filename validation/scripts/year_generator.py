"""The generator: when it can run, what it feeds and how much fuel it takes."""

import numpy as np
from scipy.optimize import nnls


class Generator:
    def __init__(self, spec):
        self.rated_w = spec["rated_kw"] * 1000.0
        self.least_w = spec["least_load"] * self.rated_w
        self.delay_s = spec["start_delay_s"]
        self.loads = spec["loads"]
        self.only_when_low = spec["pumps_when"] == "tank-is-low"
        self.attended = set(range(24))
        if spec["start"] == "by-hand":
            self.attended = clock_hours(spec["attended_hours"])
        rated_kw, load = spec["rated_kw"], np.asarray(spec["load_fraction"])
        basis = np.column_stack([np.full_like(load, rated_kw), load * rated_kw])
        self.idle, self.slope = nnls(basis, np.asarray(spec["fuel_l_per_h"]))[0]

    def fuel_l_per_s(self, output_w):
        """Fuel of a running generator; below its minimum load, the fuel at that load."""
        power_w = max(output_w, self.least_w)
        return (self.idle * self.rated_w + self.slope * power_w) / 3.6e6

    def load_w(self, load_w, backed_w):
        return {"none": 0.0, "backed-up": backed_w, "all": load_w}[self.loads]


def clock_hours(from_to):
    """The hours from one to another; from 20 to 6 passes midnight."""
    begin, end = from_to
    return {hour % 24 for hour in range(begin, end if end > begin else end + 24)}
