"""Cables, inverter and drive: one step of each path from the array."""

import math

import numpy as np
from scipy.optimize import brentq, nnls

from year_weather import Curve


def three_terms(load_fraction, efficiency):
    """p0, p1, p2 of the loss over rated output, least squares, none below 0."""
    x = np.asarray(load_fraction)
    loss = x * (1.0 / np.asarray(efficiency) - 1.0)
    return nnls(np.column_stack([np.ones_like(x), x, x**2]), loss)[0]


class Cable:
    """Loss k·P²/P_rated, P at the cable's beginning."""

    def __init__(self, fraction, rated_w):
        self.fraction, self.rated_w = fraction, rated_w

    def end_w(self, begin_w):
        return begin_w * (1.0 - self.fraction * begin_w / self.rated_w)

    def begin_w(self, end_w):
        k = self.fraction / self.rated_w
        return end_w if k == 0.0 else (1.0 - math.sqrt(1.0 - 4.0 * k * end_w)) / (2.0 * k)


class Inverter:
    def __init__(self, plant, array, dc_cable):
        spec = plant["inverter"]
        self.array, self.dc_cable = array, dc_cable
        self.rated_w = spec["rated_ac_kw"] * 1000.0
        self.p0, self.p1, self.p2 = three_terms(spec["load_fraction"], spec["efficiency"])
        self.start_w = spec["start_w"]
        self.window_v = spec["mppt_min_v"], spec["mppt_max_v"]
        self.ac_cable = Cable(spec["ac_cable_loss_at_rated"], self.rated_w)
        full_dc_w = self.rated_w * (1.0 + self.p0 + self.p1 + self.p2)
        self.full_array_w = dc_cable.begin_w(full_dc_w)

    def ac_w(self, dc_w):
        b, c = 1.0 + self.p1, self.p0 - dc_w / self.rated_w
        if self.p2 == 0.0:
            return -c / b * self.rated_w
        return self.rated_w * (math.sqrt(b * b - 4.0 * self.p2 * c) - b) / (2.0 * self.p2)

    def loss_w(self, ac_w):
        x = ac_w / self.rated_w
        return self.rated_w * (self.p0 + self.p1 * x + self.p2 * x * x)

    def held(self, free, bus_w):
        """A step's outcome when the bus takes less than `free` would give."""
        ac = self.ac_cable.begin_w(bus_w)
        dc = ac + self.loss_w(ac)
        array_w = self.dc_cable.begin_w(dc)
        assert array_w <= free["array"]
        lost = free["lost"] | {
            "export-limit": free["array"] - array_w,
            "inverter-conversion": dc - ac,
            "cables": array_w - dc + ac - bus_w,
        }
        return {"bus": bus_w, "array": array_w, "lost": lost}

    def step(self, index):
        """Bus power, what the array gives for it, and losses of one step, W."""
        out = {"bus": 0.0, "array": 0.0, "lost": {}}
        available = float(self.array["p_mp_w"][index])
        if available <= 0.0:
            return out
        if self.dc_cable.end_w(available) < self.start_w:
            out["lost"]["below-start"] = available
            return out
        left, v_mp = available, float(self.array["v_mp_v"][index])
        edge = min(max(v_mp, self.window_v[0]), self.window_v[1])
        if edge != v_mp:
            held = Curve(self.array, index).power_at_v(edge)
            out["lost"]["mppt-window"] = left - held
            left = held
        if left > self.full_array_w:
            out["lost"]["inverter-clipping"] = left - self.full_array_w
            left = self.full_array_w
        dc = self.dc_cable.end_w(left)
        ac = max(self.ac_w(dc), 0.0)
        out["bus"], out["array"] = self.ac_cable.end_w(ac), left
        out["lost"]["inverter-conversion"] = dc - ac
        out["lost"]["cables"] = left - dc + ac - out["bus"]
        return out


class Drive:
    """The pump set on the array: what it takes at each step when water is wanted."""

    def __init__(self, pumpset, array):
        self.pumpset, self.array = pumpset, array

    def spare_v(self, curve, point, d_best, d_open):
        """Bus voltage above need when the array gives just what the point takes."""
        diode_v = brentq(
            lambda d: curve.at_diode_v(d)[1] - point["array_w"], d_best, d_open, xtol=1e-13
        )
        cable = self.pumpset.dc_cable
        seen_v = curve.at_diode_v(diode_v)[0] * (
            1.0 - cable.fraction * point["array_w"] / cable.rated_w
        )
        return seen_v - self.pumpset.need_v_per_hz * point["hz"]

    def voltage_flow(self, index, most_flow):
        """Greatest flow that the voltage allows up to `most_flow`; None when not even the start."""
        curve = Curve(self.array, index)
        d_best = curve.diode_v(float(self.array["v_mp_v"][index]))
        d_open = curve.open_diode_v()
        best_w = curve.at_diode_v(d_best)[1]

        def spare(flow):
            point = self.pumpset.at(flow)
            point["array_w"] = min(point["array_w"], best_w)
            return self.spare_v(curve, point, d_best, d_open)

        if spare(most_flow) >= 0.0:
            return most_flow
        if spare(self.pumpset.start_flow) < 0.0:
            return None
        return brentq(spare, self.pumpset.start_flow, most_flow, xtol=1e-14, rtol=1e-12)

    def step(self, index):
        """Flow, powers and losses of one step, W."""
        pumpset = self.pumpset
        available = left = float(self.array["p_mp_w"][index])
        lost, beyond = {}, 0.0
        idle = {"flow": 0.0, "motor_w": 0.0, "lost": lost, "beyond": 0.0}
        if available <= 0.0:
            return idle
        if pumpset.well_flow < pumpset.full_flow and left > pumpset.well["array_w"]:
            lost["well-limit"] = left - pumpset.well["array_w"]
            left = pumpset.well["array_w"]
        if left < pumpset.start["array_w"]:
            lost["below-start"] = left
            return idle
        by_power = pumpset.flow_for_array_w(left, min(pumpset.well_flow, pumpset.drive_flow))
        flow = self.voltage_flow(index, by_power)
        if flow is None:
            lost["voltage-limited-speed"] = left
            return idle
        point = pumpset.at(flow)
        taken = min(point["array_w"], left)
        if flow < by_power:
            lost["voltage-limited-speed"] = left - taken
        elif left > taken and flow < pumpset.full_flow:
            lost["drive-limit"] = left - taken
        elif left > taken:
            lost["pump-at-full-speed"] = left - taken
            beyond = self.beyond(index, available)
        dc = pumpset.dc_cable.end_w(taken)
        lost["drive-conversion"] = dc - point["output_w"]
        lost["cables"] = taken - dc + point["output_w"] - point["motor_w"]
        return {"flow": flow, "motor_w": point["motor_w"], "lost": lost, "beyond": beyond}

    def beyond(self, index, available):
        """W that the voltage rule would cut above the greatest frequency, were there none."""
        pumpset = self.pumpset
        most = pumpset.full_flow
        while pumpset.at(most)["array_w"] < available:
            most *= 1.02
        by_power = pumpset.flow_for_array_w(available, most)
        flow = self.voltage_flow(index, by_power)
        return available - min(pumpset.at(flow)["array_w"], available)
