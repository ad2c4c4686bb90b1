"""From the hours of the file to the array's curve at every step of the year."""

import numpy as np
from scipy.optimize import brentq

import common


def share(hourly, shape):
    """Hourly irradiance spread over sub-steps by clearness.

    `shape` (hours × sub-steps) is what a clearness of 1 would give: E0·cos z or
    E0 with the sun up, 0 with the sun down. Returns the sub-steps and what
    could not be placed (Wh/m²).
    """
    parts = shape.shape[1]
    mean = shape.mean(axis=1)
    lit = mean > 0.0
    clearness = np.zeros(hourly.size)
    clearness[lit] = np.minimum(hourly[lit] / mean[lit], 1.0)
    hours = np.arange(hourly.size)
    position = (np.arange(parts) + 0.5) / parts - 0.5
    neighbour = np.where(position < 0.0, -1, 1)[None, :] + hours[:, None]
    neighbour = np.clip(neighbour, 0, hourly.size - 1)
    # an hour without sun lends the value of the hour that asks
    other = np.where(lit[neighbour], clearness[neighbour], clearness[:, None])
    weight = np.abs(position)[None, :]
    spread = (clearness[:, None] * (1.0 - weight) + other * weight) * shape
    sums = spread.mean(axis=1)
    factor = np.divide(hourly, sums, out=np.zeros_like(sums), where=sums > 0.0)
    dropped = float(np.sum(hourly[sums <= 0.0]))
    return spread * factor[:, None], dropped


def between_hours(hourly, parts):
    """Linear between the middles of the hours; held before the first and after the last."""
    middles = np.arange(hourly.size) + 0.5
    at = (np.arange(hourly.size * parts) + 0.5) / parts
    return np.interp(at, middles, hourly)


def steps(station, step_s):
    """Sun and weather at every step; the irradiance that had no sun to go with, Wh/m²."""
    parts = 3600 // step_s
    sky = common.sun(station, step_s)
    up = sky["elevation_deg"] > 0.0
    names = ("ghi", "dni", "dhi")
    if parts == 1:
        weather = {name: np.where(up, station[name], 0.0) for name in names}
        dropped = {name: float(np.sum(station[name][~up])) for name in names}
        weather["air_c"], weather["wind_m_s"] = station["air_c"], station["wind_m_s"]
        return sky, weather, dropped
    extra = common.SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2
    height = np.where(up, np.sin(np.radians(sky["elevation_deg"])), 0.0)
    shapes = {
        "ghi": (extra * height).reshape(-1, parts),
        "dni": (extra * up).reshape(-1, parts),
        "dhi": (extra * height).reshape(-1, parts),
    }
    weather, dropped = {}, {}
    for name in names:
        spread, dropped[name] = share(station[name], shapes[name])
        weather[name] = spread.ravel()
    for name in ("air_c", "wind_m_s"):
        weather[name] = between_hours(station[name], parts)
    return sky, weather, dropped


def array_steps(plant, station, step_s, months):
    """The module's five parameters and the array's maximum power at every step."""
    spec = plant["array"]
    sky, weather, dropped = steps(station, step_s)
    total, after = common.plane(
        sky,
        weather["ghi"],
        weather["dni"],
        weather["dhi"],
        spec["tilt_deg"],
        spec["azimuth_deg"],
        spec["albedo"],
    )
    cell_c = common.faiman_cell_c(
        weather["air_c"], total, weather["wind_m_s"], spec["faiman_u0"], spec["faiman_u1"]
    )
    soiling = np.asarray(spec["soiling"])[np.asarray(months) - 1]
    effective = after * (1.0 - soiling)
    fitted = common.fit_module(plant["module"])
    current_a, voltage_v, _ = common.maximum_power(fitted, effective, cell_c)
    current_factor = (
        spec["strings"]
        * (1.0 - spec["mismatch"])
        * (1.0 - spec["light_induced_degradation"])
        * (1.0 - spec["unavailability"])
        * (1.0 - spec["yearly_degradation"]) ** spec["age_years"]
    )
    return {
        "effective_w_m2": effective,
        "cell_c": cell_c,
        "fitted": fitted,
        "current_factor": current_factor,
        "in_series": spec["modules_in_series"],
        "v_mp_v": voltage_v * spec["modules_in_series"],
        "p_mp_w": current_a * voltage_v * current_factor * spec["modules_in_series"],
        "ghi_kwh_m2": float(np.sum(weather["ghi"])) * step_s / 3.6e6,
        "plane_kwh_m2": float(np.sum(total)) * step_s / 3.6e6,
        "dropped_ghi_kwh_m2": dropped["ghi"] / 1000.0,
        "beyond_extraterrestrial": int(
            np.sum(weather["dni"] > common.SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2)
        ),
    }


class Curve:
    """The array's current and voltage at one step, by the voltage across the diode."""

    def __init__(self, array, step):
        self.parameters = [
            float(p)
            for p in common.one_diode(
                array["fitted"],
                float(array["effective_w_m2"][step]),
                float(array["cell_c"][step]),
            )
        ]
        self.in_series = array["in_series"]
        self.current_factor = array["current_factor"]

    def at_diode_v(self, diode_v):
        """(array voltage, array power)."""
        light, saturation, series, shunt, ideality = self.parameters
        current = light - saturation * np.expm1(diode_v / ideality) - diode_v / shunt
        voltage = (diode_v - current * series) * self.in_series
        return voltage, voltage * current * self.current_factor

    def open_diode_v(self):
        light, saturation, _, shunt, ideality = self.parameters
        return brentq(
            lambda d: light - saturation * np.expm1(d / ideality) - d / shunt,
            0.0,
            100.0 * ideality,
            xtol=1e-13,
        )

    def diode_v(self, array_v):
        """Diode voltage at an array voltage below open circuit."""
        return brentq(
            lambda d: self.at_diode_v(d)[0] - array_v,
            -5.0,
            self.open_diode_v() + 1e-6,
            xtol=1e-13,
        )

    def power_at_v(self, array_v):
        """Array power at an array voltage; nil at open circuit and beyond."""
        open_v = self.open_diode_v() * self.in_series
        return 0.0 if array_v >= open_v else self.at_diode_v(self.diode_v(array_v))[1]
