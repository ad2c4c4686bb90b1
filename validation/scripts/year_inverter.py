"""The grid-tied inverter: one step of its path from the array to the bus."""

import math

from year_curve import Curve
from year_devices import Cable, joint_cable, three_terms


class Inverter:
    def __init__(self, spec, groups, air_c, tracking):
        self.groups = groups
        self.cables = [Cable(g["cable_k"], g["stc_w"]) for g in groups]
        self.rated_w = spec["rated_ac_kw"] * 1000.0
        self.p0, self.p1, self.p2 = three_terms(spec["load_fraction"], spec["efficiency"])
        self.start_w = spec["start_w"]
        assert self.p0 * self.rated_w < self.start_w
        self.window_v = spec["mppt_min_v"], spec["mppt_max_v"]
        self.ac_cable = Cable(spec["ac_cable_loss_at_rated"], self.rated_w)
        self.by_kelvin = spec["heat_derating_per_k"]
        self.from_air_c = spec["derating_temperature_c"]
        # of every step: the air, and the share of the power that tracking loses
        self.air_c, self.tracking = air_c, tracking

    def full_dc_w(self, index):
        """DC input at rated output, derated by the heat of the step."""
        above_k = max(float(self.air_c[index]) - self.from_air_c, 0.0)
        x = max(1.0 - self.by_kelvin * above_k, 0.0)
        return self.rated_w * (x + self.p0 + self.p1 * x + self.p2 * x * x)

    def ac_w(self, dc_w):
        b, c = 1.0 + self.p1, self.p0 - dc_w / self.rated_w
        if self.p2 == 0.0:
            return -c / b * self.rated_w
        return self.rated_w * (math.sqrt(b * b - 4.0 * self.p2 * c) - b) / (2.0 * self.p2)

    def loss_w(self, ac_w):
        x = ac_w / self.rated_w
        return self.rated_w * (self.p0 + self.p1 * x + self.p2 * x * x)

    def held(self, free, bus_w, cause):
        """A step's outcome when the bus takes less than `free` would give."""
        if free["bus"] == 0.0:
            return free
        ac = self.ac_cable.begin_w(bus_w)
        dc = ac + self.loss_w(ac)
        array_w = free["dc_cable"].begin_w(dc)
        assert array_w <= free["array"]
        lost = free["lost"] | {"inverter-conversion": dc - ac, "cables": array_w - dc + ac - bus_w}
        cut_w = free["array"] - array_w
        if cause == "grid-voltage-trip":
            # it comes before the cuts by tracking, rating and window
            later = ("tracking", "mppt-window", "inverter-clipping")
            cut_w += sum(lost.pop(cause, 0.0) for cause in later)
        lost[cause] = cut_w
        return free | {"bus": bus_w, "array": array_w, "lost": lost}

    def in_window(self, group, index):
        """What a group gives on its own input: no more than tracking leaves."""
        v_mp = float(group["v_mp_v"][index])
        edge = min(max(v_mp, self.window_v[0]), self.window_v[1])
        best_w = self.left_w(group, index)
        if edge == v_mp or best_w <= 0.0:
            return best_w
        return min(Curve(group, index).power_at_v(edge), best_w)

    def left_w(self, group, index):
        return (1.0 - float(self.tracking[index])) * float(group["p_mp_w"][index])

    def step(self, index):
        """Bus power, the groups' power for it, and losses of one step, W."""
        out = {"bus": 0.0, "array": 0.0, "lost": {}}
        whole = sum(float(group["p_mp_w"][index]) for group in self.groups)
        if whole <= 0.0:
            return out
        offers = [self.left_w(group, index) for group in self.groups]
        available = sum(offers)
        if available < whole:
            out["lost"]["tracking"] = whole - available
        if sum(c.end_w(w) for c, w in zip(self.cables, offers)) < self.start_w:
            out["lost"]["below-start"] = available
            return out
        given = [self.in_window(group, index) for group in self.groups]
        left = sum(given)
        if left < available:
            out["lost"]["mppt-window"] = available - left
        if left <= 0.0:
            return out
        dc_cable = out["dc_cable"] = joint_cable(self.groups, given)
        full_w = dc_cable.begin_w(self.full_dc_w(index))
        if left > full_w:
            out["lost"]["inverter-clipping"] = left - full_w
            left = full_w
        dc = dc_cable.end_w(left)
        ac = max(self.ac_w(dc), 0.0)
        out["bus"], out["array"] = self.ac_cable.end_w(ac), left
        out["lost"]["inverter-conversion"] = dc - ac
        out["lost"]["cables"] = left - dc + ac - out["bus"]
        return out
