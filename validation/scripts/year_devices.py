"""Inverter, pump, motor, drive, pipes and well, solved exactly, and one step of each path."""

import math

import numpy as np
from fluids.friction import Colebrook
from scipy.optimize import brentq, lsq_linear, nnls

from year_weather import Curve

GRAVITY = 9.80665


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
    dynamic = 1e-3 * math.exp(-3.7188 + 578.919 / (t + 273.15 - 137.546))
    return density, dynamic / density


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

    def step(self, index):
        """Bus power and losses of one step, W."""
        out = {"bus": 0.0, "lost": {}}
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
        out["bus"] = self.ac_cable.end_w(ac)
        out["lost"]["inverter-conversion"] = dc - ac
        out["lost"]["cables"] = left - dc + ac - out["bus"]
        return out


class PumpSet:
    """Everything from flow to electrical power; the flow is the free variable."""

    def __init__(self, plant, dc_cable):
        self.dc_cable = dc_cable
        pump, motor, drive, well = (plant[k] for k in ("pump", "motor", "drive", "well"))
        self.density, self.viscosity = water(plant["water_c"])
        flow = np.asarray(pump["flow_m3_h"]) / 3600.0
        head = np.asarray(pump["head_m"])
        basis = np.column_stack([np.ones_like(flow), flow**2])
        self.shutoff_m, self.bend = np.linalg.lstsq(basis, head, rcond=None)[0]
        scaled = flow / flow.max()
        cubic = np.column_stack([scaled, scaled**2, scaled**3])
        e = np.linalg.lstsq(cubic, np.asarray(pump["efficiency"]), rcond=None)[0]
        self.efficiency = [e[n] / flow.max() ** (n + 1) for n in range(3)]
        self.f0 = pump["rated_frequency_hz"]
        self.static_m = (
            well["static_level_m"]
            + plant["outlet_lift_m"]
            + plant["outlet_pressure_bar"] * 1e5 / (self.density * GRAVITY)
        )
        self.b = well["aquifer_loss_m_per_m3_h"] * 3600.0
        self.c = well["well_loss_m_per_m3_h2"] * 3600.0**2
        self.most_drawdown_m = well["intake_depth_m"] - well["margin_m"] - well["static_level_m"]
        self.pipes = plant["pipes"]
        self._motor(motor)
        self.drive_w = drive["rated_kw"] * 1000.0
        self.drive_terms = three_terms(drive["load_fraction"], drive["efficiency"])
        self.need_v_per_hz = (
            math.sqrt(2.0) * motor["rated_voltage_v"] / self.f0 * (1.0 + drive["voltage_drop"])
        )
        self.greatest_hz = drive["greatest_frequency_hz"]
        self._edges(motor)

    def _motor(self, motor):
        self.shaft_w = motor["rated_shaft_kw"] * 1000.0
        y = np.asarray(motor["load_fraction"])
        loss = y * self.shaft_w * (1.0 / np.asarray(motor["efficiency"]) - 1.0)
        basis = np.column_stack([np.ones_like(y), y**2])
        self.fixed_w, self.torque_w = lsq_linear(basis, loss).x
        self.motor_cable_k = motor["cable_loss_at_rated"] / (
            self.shaft_w + self.fixed_w + self.torque_w
        )

    def _edges(self, motor):
        """Flow and powers at rated speed, at the start and at the greatest frequency."""
        self.rated_flow = self.flow_at(self.f0)
        assert self.drawdown_m(self.rated_flow) <= self.most_drawdown_m, "the well limit binds"
        begins_hz = self.hz(0.0)
        least = motor["least_frequency_hz"]
        self.start_flow = 0.0 if begins_hz >= least else self.flow_at(least)
        self.full_flow = self.flow_at(self.greatest_hz)
        self.start, self.full = self.at(self.start_flow), self.at(self.full_flow)
        self.rated = self.at(self.rated_flow)
        assert self.full["output_w"] <= self.drive_w, "the drive's rating binds"

    def drawdown_m(self, flow):
        return self.b * flow + self.c * flow**2

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

    def system_m(self, flow):
        return self.static_m + self.drawdown_m(flow) + self.friction_m(flow)

    def hz(self, flow):
        """Frequency at which the pump gives this flow."""
        return self.f0 * math.sqrt((self.system_m(flow) - self.bend * flow**2) / self.shutoff_m)

    def flow_at(self, hz):
        return brentq(lambda q: self.hz(q) - hz, 0.0, 0.05, xtol=1e-16, rtol=1e-14)

    def at(self, flow):
        """Frequency and powers along the chain, drive included, at a flow."""
        hz = self.hz(flow)
        r = hz / self.f0
        e1, e2, e3 = self.efficiency
        q = flow / r
        # flow over efficiency, finite at no flow
        over = r / (e1 + e2 * q + e3 * q * q)
        shaft = self.density * GRAVITY * self.system_m(flow) * over
        torque = shaft / self.shaft_w / r
        motor = shaft + self.fixed_w * r**1.5 + self.torque_w * torque**2
        output = motor + self.motor_cable_k * motor**2
        p0, p1, p2 = self.drive_terms
        x = output / self.drive_w
        drive_in = output + self.drive_w * (p0 + p1 * x + p2 * x * x)
        return {
            "hz": hz,
            "flow": flow,
            "motor_w": motor,
            "output_w": output,
            "drive_in_w": drive_in,
            "array_w": self.dc_cable.begin_w(drive_in),
        }

    def flow_for_array_w(self, array_w, most_flow):
        if array_w >= self.at(most_flow)["array_w"]:
            return most_flow
        return brentq(
            lambda q: self.at(q)["array_w"] - array_w,
            self.start_flow,
            most_flow,
            xtol=1e-15,
            rtol=1e-13,
        )


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
        """Flow, powers and losses of one step, W; `uncapped` books as if speed had no bound."""
        pumpset = self.pumpset
        available = float(self.array["p_mp_w"][index])
        idle = {"flow": 0.0, "motor_w": 0.0, "lost": {}, "beyond": 0.0}
        if available <= 0.0:
            return idle
        if available < pumpset.start["array_w"]:
            idle["lost"]["below-start"] = available
            return idle
        by_power = pumpset.flow_for_array_w(available, pumpset.full_flow)
        flow = self.voltage_flow(index, by_power)
        if flow is None:
            idle["lost"]["voltage-limited-speed"] = available
            return idle
        point = pumpset.at(flow)
        taken = min(point["array_w"], available)
        lost, beyond = {}, 0.0
        if flow < by_power:
            lost["voltage-limited-speed"] = available - taken
        elif available > taken and flow == pumpset.full_flow:
            lost["pump-at-full-speed"] = available - taken
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
