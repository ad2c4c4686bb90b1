"""Pump, motor, drive, pipes and well as one set, solved exactly."""

import math

import numpy as np
from fluids.friction import Colebrook
from scipy.optimize import brentq, lsq_linear

from year_devices import three_terms

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
    dynamic = 2.414e-5 * 10.0 ** (247.8 / (t + 273.15 - 140.0))
    return density, dynamic / density


class PumpSet:
    """Everything from flow to electrical power at one standing level; the flow is free."""

    def __init__(self, spec, level_m):
        pump, motor, drive, well = (spec[k] for k in ("pump", "motor", "drive", "well"))
        self.density, self.viscosity = water(spec["water_c"])
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
            level_m
            + spec["outlet_lift_m"]
            + spec["outlet_pressure_bar"] * 1e5 / (self.density * GRAVITY)
        )
        self.b = well["aquifer_loss_m_per_m3_h"] * 3600.0
        self.c = well["well_loss_m_per_m3_h2"] * 3600.0**2
        self.most_drawdown_m = well["intake_depth_m"] - well["margin_m"] - level_m
        self.pipes = spec["pipes"]
        self._motor(motor)
        self.rated_voltage_v = motor["rated_voltage_v"]
        self._mains()
        if drive is not None:
            self._drive(drive, motor["least_frequency_hz"])

    def _drive(self, drive, least_hz):
        self.drive_w = drive["rated_kw"] * 1000.0
        self.drive_terms = three_terms(drive["load_fraction"], drive["efficiency"])
        self.need_v_per_hz = (
            math.sqrt(2.0) * self.rated_voltage_v / self.f0 * (1.0 + drive["voltage_drop"])
        )
        self.greatest_hz = drive["greatest_frequency_hz"]
        self._edges(least_hz)

    def _motor(self, motor):
        self.shaft_w = motor["rated_shaft_kw"] * 1000.0
        y = np.asarray(motor["load_fraction"])
        loss = y * self.shaft_w * (1.0 / np.asarray(motor["efficiency"]) - 1.0)
        basis = np.column_stack([np.ones_like(y), y**2])
        self.fixed_w, self.torque_w = lsq_linear(basis, loss).x
        self.motor_cable_k = motor["cable_loss_at_rated"] / (
            self.shaft_w + self.fixed_w + self.torque_w
        )

    def _mains(self):
        """The duty point on mains, without a drive."""
        self.drive_w, self.drive_terms = 1.0, (0.0, 0.0, 0.0)
        self.rated_flow = min(self.flow_at(self.f0), self.flow_of_well())
        self.rated = self.at_speed(self.f0, self.rated_flow)

    def _edges(self, least_hz):
        """The start, and the limits' flows and powers."""
        begins_hz = self.hz(0.0)
        self.start_flow = 0.0 if begins_hz >= least_hz else self.flow_at(least_hz)
        self.full_flow = self.flow_at(self.greatest_hz)
        self.start = self.at(self.start_flow)
        self.well_flow = min(self.flow_of_well(), self.full_flow)
        self.drive_flow = self.flow_of_drive()
        self.well, self.drive = self.at(self.well_flow), self.at(self.drive_flow)
        assert self.start_flow < min(self.well_flow, self.drive_flow), "it could never start"

    def flow_of_well(self):
        """Flow with the maximum allowed drawdown."""
        return brentq(
            lambda q: self.drawdown_m(q) - self.most_drawdown_m, 0.0, 1.0, xtol=1e-16, rtol=1e-14
        )

    def flow_of_drive(self):
        """Flow at the drive's rated output, or at the maximum frequency if the rating allows it."""
        if self.at(self.full_flow)["output_w"] <= self.drive_w:
            return self.full_flow
        return brentq(
            lambda q: self.at(q)["output_w"] - self.drive_w,
            self.start_flow,
            self.full_flow,
            xtol=1e-16,
            rtol=1e-14,
        )

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
        return self.at_speed(self.hz(flow), flow)

    def at_speed(self, hz, flow):
        """The same at a frequency; a valve takes the pump's head beyond the system's."""
        r = hz / self.f0
        head_m = r * r * self.shutoff_m + self.bend * flow**2
        e1, e2, e3 = self.efficiency
        q = flow / r
        # flow over efficiency, finite at zero flow
        over = r / (e1 + e2 * q + e3 * q * q)
        shaft = self.density * GRAVITY * head_m * over
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
        }

    def flow_for_drive_in_w(self, drive_in_w, most_flow):
        if drive_in_w >= self.at(most_flow)["drive_in_w"]:
            return most_flow
        return brentq(
            lambda q: self.at(q)["drive_in_w"] - drive_in_w,
            self.start_flow,
            most_flow,
            xtol=1e-15,
            rtol=1e-13,
        )
