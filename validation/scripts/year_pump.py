"""Pump, motor, drive, pipes and well as one set, solved exactly."""

import math

import numpy as np
from scipy.optimize import brentq

from year_devices import three_terms
from year_motor import Motor
from year_pipes import GRAVITY, Pipes, water
from year_rating import Rating


class PumpSet:
    """Everything from flow to electrical power at one standing level; the flow is free."""

    def __init__(self, spec, level_m):
        pump, motor, drive, well = (spec[k] for k in ("pump", "motor", "drive", "well"))
        self.density, viscosity = water(spec["water_c"])
        self._curves(pump)
        self.f0 = pump["rated_frequency_hz"]
        self.static_m = (
            level_m
            + spec["outlet_lift_m"]
            + spec["outlet_pressure_bar"] * 1e5 / (self.density * GRAVITY)
        )
        self.b = well["aquifer_loss_m_per_m3_h"] * 3600.0
        self.c = well["well_loss_m_per_m3_h2"] * 3600.0**2
        self.most_drawdown_m = well["intake_depth_m"] - well["margin_m"] - level_m
        self.pipes = Pipes(spec["pipes"], viscosity)
        self.motor = Motor(motor, pump, spec["water_c"])
        self.least_share = pump["least_flow"]
        self.cooling_flow = motor["cooling_flow_m3_h"] / 3600.0
        self._mains()
        if drive is not None:
            self._drive(drive, motor["least_frequency_hz"], spec["altitude_m"])

    def _curves(self, pump):
        flow = np.asarray(pump["flow_m3_h"]) / 3600.0
        head = np.asarray(pump["head_m"])
        basis = np.column_stack([np.ones_like(flow), flow**2])
        self.shutoff_m, self.bend = np.linalg.lstsq(basis, head, rcond=None)[0]
        scaled = flow / flow.max()
        cubic = np.column_stack([scaled, scaled**2, scaled**3])
        e = np.linalg.lstsq(cubic, np.asarray(pump["efficiency"]), rcond=None)[0]
        self.efficiency = [e[n] / flow.max() ** (n + 1) for n in range(3)]
        # the fitted efficiency's greatest value within the datasheet's flows
        edges = [scaled.min(), 1.0]
        turns = [root.real for root in np.roots([3.0 * e[2], 2.0 * e[1], e[0]]) if root.imag == 0.0]
        within = edges + [turn for turn in turns if edges[0] < turn < edges[1]]
        best = max(within, key=lambda q: e[0] * q + e[1] * q**2 + e[2] * q**3)
        self.best_flow = float(best * flow.max())

    def _drive(self, drive, least_hz, altitude_m):
        self.drive_w = drive["rated_kw"] * 1000.0
        self.drive_terms = three_terms(drive["load_fraction"], drive["efficiency"])
        drops = 1.0 + (drive["voltage_drop"] + self.motor.filter_drop)
        self.need_v_per_hz = math.sqrt(2.0) * self.motor.rated_voltage_v / self.f0 * drops
        self.greatest_hz, self.least_flux = drive["greatest_frequency_hz"], drive["least_flux"]
        # above it full flux falls with the frequency
        self.weak_hz = self.f0 if self.greatest_hz > self.f0 else math.inf
        self.rating = Rating(drive, self.motor, altitude_m)
        self._edges(least_hz)

    def _mains(self):
        """The duty point on mains, without a drive."""
        self.rated_flow = min(self.flow_at(self.f0), self.flow_of_well())
        shaft_w = self.shaft_w(self.f0, self.rated_flow)
        motor_w, output_w = self.motor.on_mains(shaft_w, 1.0)
        point = {"motor_w": motor_w, "output_w": output_w, "drive_in_w": output_w}
        self.rated = {"hz": self.f0, "flow": self.rated_flow} | point

    def _edges(self, least_hz):
        """The start, and the limits' flows and powers."""
        begins_hz = self.hz(0.0)
        flow = 0.0 if begins_hz >= least_hz else self.flow_at(least_hz)
        self.start_flow = max(flow, self.least_flow(), self.cooling_flow)
        self.full_flow = self.flow_at(self.greatest_hz)
        self.start = self.at(self.start_flow)
        self.well_flow = min(self.flow_of_well(), self.full_flow)
        # without heat
        self.drive_flow = self.rating.most_flow(self, self.rating.derating(None))
        self.well, self.drive = self.at(self.well_flow), self.at(self.drive_flow)
        assert self.start_flow < min(self.well_flow, self.drive_flow), "it could never start"

    def least_flow(self):
        """Lowest duty flow that is the least share of the flow of best efficiency at its speed."""
        if self.least_share == 0.0:
            return 0.0
        least = self.least_share * self.best_flow / self.f0
        return brentq(lambda q: q - least * self.hz(q), 0.0, self.best_flow, xtol=1e-16, rtol=1e-14)

    def flow_of_well(self):
        """Flow with the maximum allowed drawdown."""
        return brentq(
            lambda q: self.drawdown_m(q) - self.most_drawdown_m, 0.0, 1.0, xtol=1e-16, rtol=1e-14
        )

    def drawdown_m(self, flow):
        return self.b * flow + self.c * flow**2

    def system_m(self, flow):
        return self.static_m + self.drawdown_m(flow) + self.pipes.friction_m(flow)

    def hz(self, flow):
        """Frequency at which the pump gives this flow."""
        return self.f0 * math.sqrt((self.system_m(flow) - self.bend * flow**2) / self.shutoff_m)

    def hz_of_many(self, flows):
        """The same for an array of flows above 0."""
        system_m = self.static_m + self.drawdown_m(flows) + self.pipes.friction_of_many_m(flows)
        return self.f0 * np.sqrt((system_m - self.bend * flows**2) / self.shutoff_m)

    def flow_at(self, hz):
        return brentq(lambda q: self.hz(q) - hz, 0.0, 0.05, xtol=1e-16, rtol=1e-14)

    def shaft_w(self, hz, flow):
        """Shaft power at a frequency; a valve takes the pump's head beyond the system's."""
        r = hz / self.f0
        head_m = r * r * self.shutoff_m + self.bend * flow**2
        e1, e2, e3 = self.efficiency
        q = flow / r
        # flow over efficiency, finite at zero flow
        over = r / (e1 + e2 * q + e3 * q * q)
        return self.density * GRAVITY * head_m * over

    def need_v(self, hz):
        """Bus voltage for full flux; above rated frequency the motor may be weakened."""
        return self.need_v_per_hz * np.minimum(hz, self.weak_hz)

    def full_flux(self, hz):
        """Flux with all the voltage that the frequency needs."""
        return np.minimum(1.0, self.weak_hz / hz)

    def at(self, flow, share=1.0):
        """Frequency and powers along the chain at a flow, with a share of the flux that could be."""
        hz = self.hz(flow)
        return {"hz": hz, "flow": flow} | self.powers(hz, self.shaft_w(hz, flow), share)

    def powers(self, hz, shaft_w, share):
        """Powers on the drive and the motor's current; floats and arrays alike."""
        r, flux = hz / self.f0, share * self.full_flux(hz)
        motor_w, output_w = self.motor.on_drive(shaft_w, r, flux)
        p0, p1, p2 = self.drive_terms
        x = output_w / self.drive_w
        drive_in_w = output_w + self.drive_w * (p0 + p1 * x + p2 * x * x)
        return {
            "motor_w": motor_w,
            "output_w": output_w,
            "drive_in_w": drive_in_w,
            "current_a": self.motor.current_a(shaft_w, r, flux),
        }

    def flow_for_drive_in_w(self, drive_in_w, most_flow, share_at=None):
        """Largest flow with that DC input; `share_at` gives the flux at a frequency, if it is not full."""

        def asked_w(flow):
            share = 1.0 if share_at is None else share_at(self.hz(flow))
            return self.at(flow, share)["drive_in_w"]

        if drive_in_w >= asked_w(most_flow):
            return most_flow
        return brentq(
            lambda q: asked_w(q) - drive_in_w, self.start_flow, most_flow, xtol=1e-15, rtol=1e-13
        )
