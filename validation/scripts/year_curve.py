"""Current, voltage and power of string groups at one step."""

import math

from scipy.optimize import brentq, minimize_scalar

import common


class Curve:
    """A group's current and voltage at one step, by the voltage across the diode."""

    def __init__(self, group, step):
        self.parameters = [
            float(p)
            for p in common.one_diode(
                group["fitted"],
                float(group["effective_w_m2"][step]),
                float(group["cell_c"][step]),
            )
        ]
        self.in_series = group["in_series"]
        self.current_factor = group["current_factor"]
        self.v_mp_v = float(group["v_mp_v"][step])
        self.open_diode_v = self._open_diode_v()
        self.open_v = self.open_diode_v * self.in_series

    def current_a(self, diode_v):
        light, saturation, _, shunt, ideality = self.parameters
        return light - saturation * math.expm1(diode_v / ideality) - diode_v / shunt

    def _open_diode_v(self):
        most = 100.0 * self.parameters[4]
        return brentq(self.current_a, 0.0, most, xtol=1e-13)

    def at_diode_v(self, diode_v):
        """(array voltage, array power)."""
        current = self.current_a(diode_v)
        voltage = (diode_v - current * self.parameters[2]) * self.in_series
        return voltage, voltage * current * self.current_factor

    def diode_v(self, array_v):
        """Diode voltage at an array voltage below open circuit."""
        most = self.open_diode_v + 1e-6
        return brentq(lambda d: self.at_diode_v(d)[0] - array_v, -5.0, most, xtol=1e-13)

    def power_at_v(self, array_v):
        """Array power at an array voltage; 0 at open circuit and beyond."""
        return 0.0 if array_v >= self.open_v else self.at_diode_v(self.diode_v(array_v))[1]


class JointCurve:
    """The groups of one drive at one step: the sum of their powers at one voltage."""

    def __init__(self, groups, step):
        self.curves = [Curve(g, step) for g in groups if float(g["p_mp_w"][step]) > 0.0]
        self.least_v = min(curve.v_mp_v for curve in self.curves)
        self.most_v = max(curve.v_mp_v for curve in self.curves)
        self.open_v = max(curve.open_v for curve in self.curves)
        self.peak = None

    def power_at_v(self, volts):
        return sum(curve.power_at_v(volts) for curve in self.curves)

    def greatest_v(self, watts):
        """Highest voltage with that power; the lowest V_mp where only the sum of the maximum powers reaches it."""
        if self.power_at_v(self.most_v) >= watts:
            low, high = self.most_v, self.open_v
        else:
            if self.least_v == self.most_v or watts > self.peak_power()[1]:
                return self.least_v
            low, high = self.peak[0], self.most_v
        return brentq(lambda v: self.power_at_v(v) - watts, low, high, xtol=1e-11)

    def peak_power(self):
        """(voltage, power) of the summed curve's maximum."""
        if self.peak is None:
            found = minimize_scalar(
                lambda v: -self.power_at_v(v),
                bounds=(self.least_v, self.most_v),
                method="bounded",
                options={"xatol": 1e-7},
            )
            self.peak = float(found.x), -float(found.fun)
        return self.peak
