"""The voltage rule with reduced flux, for many steps at once."""

import numpy as np

import common

NEWTON, GOLDEN, IN_VOLTS, IN_FLOW, CABLE = 14, 28, 38, 34, 4
SECTION = (5.0**0.5 - 1.0) / 2.0


class Curves:
    """The groups of one drive at many steps: the sum of their powers at one voltage for each step."""

    def __init__(self, groups, steps):
        self.groups = [Group(group, steps) for group in groups]
        lit = [np.where(group.p_mp_w > 0.0, group.v_mp_v, np.inf) for group in self.groups]
        self.least_v = np.min(lit, axis=0)
        self.open_v = np.max([group.open_v() for group in self.groups], axis=0)
        self.best_w = sum(group.p_mp_w for group in self.groups)

    def power_w(self, volts):
        return sum(group.power_w(volts) for group in self.groups)


class Group:
    def __init__(self, group, steps):
        self.p_mp_w = np.asarray(group["p_mp_w"])[steps]
        self.v_mp_v = np.asarray(group["v_mp_v"])[steps]
        whole = len(group["p_mp_w"])
        self.in_series = np.broadcast_to(group["in_series"], whole)[steps]
        self.factor = np.broadcast_to(group["current_factor"], whole)[steps]
        # in the dark any curve serves: it is multiplied by 0
        self.lit = self.p_mp_w > 0.0
        light = np.where(self.lit, np.asarray(group["effective_w_m2"])[steps], 1.0)
        cell_c = np.asarray(group["cell_c"])[steps]
        found = common.one_diode(group["fitted"], light, cell_c)
        self.light, self.saturation, self.series, self.shunt, self.ideality = found

    def current_a(self, diode_v):
        bent = self.saturation * np.expm1(diode_v / self.ideality)
        return self.light - bent - diode_v / self.shunt

    def slope(self, diode_v):
        bent = self.saturation / self.ideality * np.exp(diode_v / self.ideality)
        return bent + 1.0 / self.shunt

    def open_v(self):
        diode_v = self.ideality * np.log1p(self.light / self.saturation)
        for _ in range(NEWTON):
            diode_v = diode_v + self.current_a(diode_v) / self.slope(diode_v)
        return np.where(self.lit, diode_v * self.in_series, 0.0)

    def power_w(self, volts):
        """Newton's method from above, where it cannot overshoot."""
        of_module = volts / self.in_series
        diode_v = of_module + self.series * self.light
        for _ in range(NEWTON):
            off = diode_v - self.series * self.current_a(diode_v) - of_module
            diode_v = diode_v - off / (1.0 + self.series * self.slope(diode_v))
        power = volts * self.current_a(diode_v) * self.factor
        return np.where(self.lit, np.maximum(power, 0.0), 0.0)


class FluxRule:
    """Some steps of one drive; `left_w` is what tracking leaves, `cable_k` the loss over P², `limit_a` the current's limit."""

    def __init__(self, pumpset, groups, steps, left_w, cable_k, limit_a):
        self.pumpset, self.curves = pumpset, Curves(groups, steps)
        self.left_w, self.cable_k, self.limit_a = left_w, cable_k, limit_a

    def begin_w(self, end_w):
        k = self.cable_k
        root = np.sqrt(np.maximum(1.0 - 4.0 * k * end_w, 0.0))
        return np.where(k > 0.0, (1.0 - root) / (2.0 * np.where(k > 0.0, k, 1.0)), end_w)

    def at_flows(self, flows):
        hz = self.pumpset.hz_of_many(flows)
        return hz, self.pumpset.shaft_w(hz, flows), self.pumpset.need_v(hz)

    def asked(self, point, volts):
        """(array power that the drive takes, share of the flux) with the strings at a voltage."""
        hz, shaft_w, need_v = point
        asked_w = np.zeros_like(volts)
        for _ in range(CABLE):
            share = np.minimum(1.0, volts * (1.0 - self.cable_k * asked_w) / need_v)
            share = np.maximum(share, 1e-3)
            asked_w = self.begin_w(self.pumpset.powers(hz, shaft_w, share)["drive_in_w"])
        return asked_w, share

    def spare_w(self, point, volts):
        given_w = np.minimum(self.curves.power_w(volts), self.left_w)
        return given_w - self.asked(point, volts)[0]

    def most_spare_v(self, point):
        """Voltage with most power to spare: golden section."""
        low, high = self.curves.least_v, self.curves.open_v
        a, b = high - SECTION * (high - low), low + SECTION * (high - low)
        of_a, of_b = self.spare_w(point, a), self.spare_w(point, b)
        for _ in range(GOLDEN):
            up = of_a < of_b
            low, high = np.where(up, a, low), np.where(up, high, b)
            new = np.where(up, low + SECTION * (high - low), high - SECTION * (high - low))
            of_new = self.spare_w(point, new)
            a, b = np.where(up, b, new), np.where(up, new, a)
            of_a, of_b = np.where(up, of_b, of_new), np.where(up, of_new, of_a)
        return (low + high) / 2.0

    def greatest_v(self, point):
        """Highest voltage at which the strings give what the drive takes; nan where there is none."""
        least_v = self.curves.least_v
        low = self.most_spare_v(point)
        # up to the lowest voltage of maximum power the groups give all of it
        whole_w = np.minimum(self.curves.best_w, self.left_w)
        below = np.where(whole_w >= self.asked(point, least_v)[0], least_v, np.nan)
        found, high = self.spare_w(point, low) >= 0.0, self.curves.open_v
        for _ in range(IN_VOLTS):
            middle = (low + high) / 2.0
            enough = self.spare_w(point, middle) >= 0.0
            low, high = np.where(enough, middle, low), np.where(enough, high, middle)
        return np.where(found, low, below)

    def allowed(self, flows):
        """(whether the voltage allows the flows, share of the flux)."""
        point = self.at_flows(flows)
        volts = self.greatest_v(point)
        hz, shaft_w, _ = point
        share = self.asked(point, np.where(np.isnan(volts), self.curves.least_v, volts))[1]
        current_a = self.pumpset.powers(hz, shaft_w, share)["current_a"]
        keeps = share >= self.pumpset.least_flux * (1.0 - 1e-12)
        return ~np.isnan(volts) & keeps & (current_a <= self.limit_a * (1.0 + 1e-12)), share

    def solve(self, most_flow):
        """(flow, share of the flux) of every step; flow 0 where the voltage does not even allow the start."""
        low = np.full_like(most_flow, max(self.pumpset.start_flow, 1e-9))
        can_start, share = self.allowed(low)
        at_most, full = self.allowed(most_flow)
        low, high = np.where(at_most, most_flow, low), most_flow
        share = np.where(at_most, full, share)
        for _ in range(IN_FLOW):
            middle = (low + high) / 2.0
            may, found = self.allowed(middle)
            share = np.where(may, found, share)
            low, high = np.where(may, middle, low), np.where(may, high, middle)
        return np.where(can_start | at_most, low, 0.0), share
