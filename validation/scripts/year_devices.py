"""Cables, inverter and drive: one step of each path from the array."""

import math

import numpy as np
from scipy.optimize import brentq, nnls

from year_weather import Curve, JointCurve


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


class Inverter:
    def __init__(self, spec, groups):
        self.groups = groups
        self.cables = [Cable(g["cable_k"], g["stc_w"]) for g in groups]
        self.rated_w = spec["rated_ac_kw"] * 1000.0
        self.p0, self.p1, self.p2 = three_terms(spec["load_fraction"], spec["efficiency"])
        self.start_w = spec["start_w"]
        assert self.p0 * self.rated_w < self.start_w
        self.window_v = spec["mppt_min_v"], spec["mppt_max_v"]
        self.ac_cable = Cable(spec["ac_cable_loss_at_rated"], self.rated_w)
        self.full_dc_w = self.rated_w * (1.0 + self.p0 + self.p1 + self.p2)

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
            # it comes before the cuts by rating and window
            cut_w += lost.pop("mppt-window", 0.0) + lost.pop("inverter-clipping", 0.0)
        lost[cause] = cut_w
        return free | {"bus": bus_w, "array": array_w, "lost": lost}

    def in_window(self, group, index):
        """What a group gives on its own input."""
        v_mp = float(group["v_mp_v"][index])
        edge = min(max(v_mp, self.window_v[0]), self.window_v[1])
        best_w = float(group["p_mp_w"][index])
        return best_w if edge == v_mp or best_w <= 0.0 else Curve(group, index).power_at_v(edge)

    def step(self, index):
        """Bus power, the groups' power for it, and losses of one step, W."""
        out = {"bus": 0.0, "array": 0.0, "lost": {}}
        offers = [float(group["p_mp_w"][index]) for group in self.groups]
        available = sum(offers)
        if available <= 0.0:
            return out
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
        full_w = dc_cable.begin_w(self.full_dc_w)
        if left > full_w:
            out["lost"]["inverter-clipping"] = left - full_w
            left = full_w
        dc = dc_cable.end_w(left)
        ac = max(self.ac_w(dc), 0.0)
        out["bus"], out["array"] = self.ac_cable.end_w(ac), left
        out["lost"]["inverter-conversion"] = dc - ac
        out["lost"]["cables"] = left - dc + ac - out["bus"]
        return out


class Drive:
    """A pump set on its string groups: its power at each step when water is wanted."""

    def __init__(self, pumpset, groups):
        self.pumpset, self.groups = pumpset, groups

    def voltage_flow(self, curve, cable, best_w, most_flow):
        """Largest flow that the voltage allows, up to `most_flow`; None when it does not even allow the start."""
        pumpset = self.pumpset

        def spare(flow):
            """Bus voltage above need when the groups give exactly the power of the point."""
            point = pumpset.at(flow)
            array_w = min(cable.begin_w(point["drive_in_w"]), best_w)
            seen_v = curve.greatest_v(array_w) * (1.0 - cable.fraction * array_w / cable.rated_w)
            return seen_v - pumpset.need_v_per_hz * point["hz"]

        if spare(most_flow) >= 0.0:
            return most_flow
        if spare(pumpset.start_flow) < 0.0:
            return None
        return brentq(spare, pumpset.start_flow, most_flow, xtol=1e-14, rtol=1e-12)

    def step(self, index):
        """Flow, powers and losses of one step, W."""
        pumpset = self.pumpset
        offers = [float(group["p_mp_w"][index]) for group in self.groups]
        available = left = sum(offers)
        lost, beyond = {}, 0.0
        idle = {"flow": 0.0, "motor_w": 0.0, "lost": lost, "beyond": 0.0}
        if available <= 0.0:
            return idle
        cable = joint_cable(self.groups, offers)
        well_w = cable.begin_w(pumpset.well["drive_in_w"])
        if pumpset.well_flow < pumpset.full_flow and left > well_w:
            lost["well-limit"] = left - well_w
            left = well_w
        if left < cable.begin_w(pumpset.start["drive_in_w"]):
            lost["below-start"] = left
            return idle
        most_flow = min(pumpset.well_flow, pumpset.drive_flow)
        by_power = pumpset.flow_for_drive_in_w(cable.end_w(left), most_flow)
        curve = JointCurve(self.groups, index)
        flow = self.voltage_flow(curve, cable, available, by_power)
        if flow is None:
            lost["voltage-limited-speed"] = left
            return idle
        point = pumpset.at(flow)
        taken = min(cable.begin_w(point["drive_in_w"]), left)
        if flow < by_power:
            lost["voltage-limited-speed"] = left - taken
        elif left > taken and flow < pumpset.full_flow:
            lost["drive-limit"] = left - taken
        elif left > taken:
            lost["pump-at-full-speed"] = left - taken
            beyond = self.beyond(curve, cable, available)
        dc = cable.end_w(taken)
        lost["drive-conversion"] = dc - point["output_w"]
        lost["cables"] = taken - dc + point["output_w"] - point["motor_w"]
        return {"flow": flow, "motor_w": point["motor_w"], "lost": lost, "beyond": beyond}

    def beyond(self, curve, cable, available):
        """W that the voltage rule would cut if there were no maximum frequency."""
        pumpset = self.pumpset
        dc_w, most = cable.end_w(available), pumpset.full_flow
        while pumpset.at(most)["drive_in_w"] < dc_w:
            most *= 1.02
        by_power = pumpset.flow_for_drive_in_w(dc_w, most)
        flow = self.voltage_flow(curve, cable, available, by_power)
        return available - min(cable.begin_w(pumpset.at(flow)["drive_in_w"]), available)
