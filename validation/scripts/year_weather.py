"""From the hours of the file to the curves of the string groups at every step of the year."""

import numpy as np

import common
import year_tracking


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
    # a neighbour without sun counts with this hour's own clearness
    other = np.where(lit[neighbour], clearness[neighbour], clearness[:, None])
    weight = np.abs(position)[None, :]
    spread = (clearness[:, None] * (1.0 - weight) + other * weight) * shape
    sums = spread.mean(axis=1)
    factor = np.divide(hourly, sums, out=np.zeros_like(sums), where=sums > 0.0)
    dropped = float(np.sum(hourly[sums <= 0.0]))
    return spread * factor[:, None], dropped


def between_hours(hourly, parts):
    """Linear between the middles of the hours; constant before the first and after the last."""
    middles = np.arange(hourly.size) + 0.5
    at = (np.arange(hourly.size * parts) + 0.5) / parts
    return np.interp(at, middles, hourly)


def steps(station, step_s):
    """Sun and weather at every step; the irradiance that was dropped because the sun was down, Wh/m²."""
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


def plane_steps(plant, plane, sky, weather, months):
    """Irradiance on a plane, the part that reaches the cells, and the cells' temperature."""
    spec = plant["array"]
    total, after = common.plane(
        sky,
        weather["ghi"],
        weather["dni"],
        weather["dhi"],
        plane["tilt_deg"],
        plane["azimuth_deg"],
        spec["albedo"],
    )
    cell_c = common.faiman_cell_c(
        weather["air_c"], total, weather["wind_m_s"], spec["faiman_u0"], spec["faiman_u1"]
    )
    soiling = np.asarray(spec["soiling"])[np.asarray(months) - 1]
    return {"total": total, "effective_w_m2": after * (1.0 - soiling), "cell_c": cell_c}


def group_steps(plant, group, plane, fitted):
    """A string group's maximum power and the parameters of its curve, at every step."""
    spec, module = plant["array"], plant["module"]
    current_a, voltage_v, _ = common.maximum_power(
        fitted, plane["effective_w_m2"], plane["cell_c"]
    )
    series, strings = group["modules_in_series"], group["strings"]
    current_factor = (
        strings
        * (1.0 - spec["mismatch"])
        * (1.0 - spec["light_induced_degradation"])
        * (1.0 - spec["unavailability"])
        * (1.0 - spec["yearly_degradation"]) ** spec["age_years"]
    )
    return {
        "effective_w_m2": plane["effective_w_m2"],
        "cell_c": plane["cell_c"],
        "fitted": fitted,
        "current_factor": current_factor,
        "in_series": series,
        "v_mp_v": voltage_v * series,
        "p_mp_w": current_a * voltage_v * current_factor * series,
        "cable_k": spec["dc_cable_loss_at_stc"],
        "stc_w": series * strings * module["v_mp_v"] * module["i_mp_a"],
        "inverter": group["inverter"],
        "drive": group["drive"],
    }


def array_steps(plant, parts, station, step_s, months):
    """The string groups, air and broken cloud at every step, and the sums of the weather."""
    sky, weather, dropped = steps(station, step_s)
    fitted = common.fit_module(plant["module"])
    planes = [plane_steps(plant, plane, sky, weather, months) for plane in parts["planes"]]
    groups = [group_steps(plant, g, planes[g["plane"]], fitted) for g in parts["groups"]]
    stc_w = sum(group["stc_w"] for group in groups)
    # weighted by the groups' rated power
    plane_w_m2 = sum(
        planes[spec["plane"]]["total"] * (group["stc_w"] / stc_w)
        for spec, group in zip(parts["groups"], groups)
    )
    of_steps = {
        "air_c": weather["air_c"],
        "broken": year_tracking.broken_cloud(sky, weather["dni"], step_s),
    }
    return groups, of_steps, {
        "ghi_kwh_m2": float(np.sum(weather["ghi"])) * step_s / 3.6e6,
        "plane_kwh_m2": float(np.sum(plane_w_m2)) * step_s / 3.6e6,
        "dropped_ghi_kwh_m2": dropped["ghi"] / 1000.0,
    }
