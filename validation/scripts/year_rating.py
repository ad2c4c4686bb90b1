"""What a drive may give: derating by altitude and heat, limits of power and current."""

import math

from scipy.optimize import brentq

from year_motor import ROOT_3


class Rating:
    def __init__(self, drive, motor, altitude_m):
        self.rated_w = drive["rated_kw"] * 1000.0
        self.rated_a = drive["rated_current_a"]
        if self.rated_a is None and drive["power_factor"] is not None:
            voltage_v = motor.rated_voltage_v
            self.rated_a = self.rated_w / (ROOT_3 * voltage_v * drive["power_factor"])
        hundreds = max(altitude_m - drive["rated_altitude_m"], 0.0) / 100.0
        self.by_height = max(1.0 - drive["altitude_derating_per_100m"] * hundreds, 0.0)
        self.by_kelvin = drive["heat_derating_per_k"]
        self.from_air_c = drive["rated_temperature_c"] - drive["cabinet_rise_k"]
        self.motor_a = motor.limit_a()

    def derating(self, air_c):
        """D; without a temperature the heat counts for nothing."""
        if air_c is None:
            return self.by_height
        by_heat = max(1.0 - self.by_kelvin * max(air_c - self.from_air_c, 0.0), 0.0)
        return self.by_height * by_heat

    def limit_a(self, derating):
        """The current that motor and drive allow; infinite where neither is known."""
        return min(math.inf if self.rated_a is None else derating * self.rated_a, self.motor_a)

    def most_flow(self, pumpset, derating):
        """Flow at the lowest frequency at which a limit holds, at full flux; 0 if even the start breaks one."""
        limits = [("output_w", derating * self.rated_w), ("current_a", self.limit_a(derating))]
        flow = pumpset.full_flow
        for key, limit in limits:
            if pumpset.at(flow)[key] <= limit:
                continue
            if pumpset.start[key] > limit:
                return 0.0
            flow = brentq(
                lambda q, key=key, limit=limit: pumpset.at(q)[key] - limit,
                pumpset.start_flow,
                flow,
                xtol=1e-16,
                rtol=1e-14,
            )
        return flow
