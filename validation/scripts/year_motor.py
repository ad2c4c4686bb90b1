"""The motor and its feed, on mains and on a drive: losses, reduced flux, current."""

import math

import numpy as np
from scipy.optimize import lsq_linear

# the magnetising part of the rated current
MAGNETISING = 0.45
ROOT_3 = math.sqrt(3.0)


class Motor:
    """`flux` is a share of full flux; floats and arrays alike. `pump` has what the drive adds."""

    def __init__(self, motor, pump, water_c):
        self.shaft_w = motor["rated_shaft_kw"] * 1000.0
        y = np.asarray(motor["load_fraction"])
        loss = y * self.shaft_w * (1.0 / np.asarray(motor["efficiency"]) - 1.0)
        basis = np.column_stack([np.ones_like(y), y**2])
        self.fixed_w, self.torque_w = lsq_linear(basis, loss).x
        full_w = self.shaft_w + self.fixed_w + self.torque_w
        self.cable_k = motor["cable_loss_at_rated"] / full_w
        self.feed_k = (motor["cable_loss_at_rated"] + pump["filter_loss"]) / full_w
        self.filter_drop, self.more_loss = pump["filter_drop"], 1.0 + pump["harmonic_loss"]
        self.rated_voltage_v = motor["rated_voltage_v"]
        self.rated_a = motor["rated_current_a"]
        self.full_a = self.rated_a
        if self.full_a is None:
            at_full = motor["power_factor"] * self.shaft_w / full_w
            self.full_a = self.shaft_w / (ROOT_3 * self.rated_voltage_v * at_full)
        self.water_derating = 1.0
        if motor["submersible"]:
            above_k = max(water_c - 30.0, 0.0)
            self.water_derating = max(1.0 - motor["water_derating_per_k"] * above_k, 0.0)

    def torque(self, shaft_w, r):
        return shaft_w / self.shaft_w / r

    def on_mains(self, shaft_w, r):
        """(input of the motor, the same with its cable)."""
        motor_w = shaft_w + self.fixed_w * r**1.5 + self.torque_w * self.torque(shaft_w, r) ** 2
        return motor_w, motor_w + self.cable_k * motor_w**2

    def on_drive(self, shaft_w, r, flux):
        """(input of the motor, the same with cable and filter)."""
        weaker = flux**2
        iron_w = self.more_loss * self.fixed_w * r**1.5 * weaker
        copper_w = self.more_loss * self.torque_w * self.torque(shaft_w, r) ** 2 / weaker
        motor_w = shaft_w + iron_w + copper_w
        return motor_w, motor_w + self.feed_k * motor_w**2 / weaker

    def current_a(self, shaft_w, r, flux):
        with_torque = (1.0 - MAGNETISING**2) * (self.torque(shaft_w, r) / flux) ** 2
        return self.full_a * ((MAGNETISING * flux) ** 2 + with_torque) ** 0.5

    def limit_a(self):
        """Limit of the motor's current; infinite where its datasheet gives none."""
        return math.inf if self.rated_a is None else self.rated_a * self.water_derating
