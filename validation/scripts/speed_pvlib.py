"""Times pvlib from the sun to the DC power of a year of one-minute steps; prints JSON.

`python speed_pvlib.py PLANT...`, each the folder of a plant on one of the TMY3 stations with one plane. pvlib's
own functions are timed, chained as in its documentation, on the whole year, nights included. Reading the file, laying its
hours onto minutes and making the time index are not timed.
"""

import json
import sys
import time
import tomllib
import warnings
from pathlib import Path

import numpy as np
import pandas as pd
from pvlib import atmosphere, irradiance, pvsystem, solarposition, temperature

import common

STEP_S = 60
WARM_UP_STEPS = 1440
KWH_J = 3.6e6


def station_of(plant):
    """The station whose file the plant reads."""
    file = Path(plant["weather"]["file"]).name
    return next(key for key, station in common.STATIONS.items() if station["file"] == file)


def module_of(folder, array):
    with open(folder / array["module"], "rb") as file:
        sheet = tomllib.load(file)
    return {
        "v_mp_v": sheet["max_power_v"],
        "i_mp_a": sheet["max_power_a"],
        "v_oc_v": sheet["open_circuit_v"],
        "i_sc_a": sheet["short_circuit_a"],
        "alpha_sc_a_k": sheet["short_circuit_a_per_k"],
        "beta_voc_v_k": sheet["open_circuit_v_per_k"],
        "cells_in_series": sheet["cells"],
    }


def inputs(folder):
    """Plane, module and minutes of a plant."""
    with open(folder / "plant.toml", "rb") as file:
        plant = tomllib.load(file)
    station = common.read_station(station_of(plant))
    per_hour = 3600 // STEP_S
    names = ("ghi", "dni", "dhi", "air_c", "wind_m_s")
    minutes = {name: np.repeat(station[name], per_hour) for name in names}
    start = pd.Timestamp(f"{common.YEAR}-01-01", tz="UTC") - pd.Timedelta(hours=station["offset_h"])
    middle = (np.arange(8760 * per_hour) + 0.5) * STEP_S
    array = plant["array"]
    return {
        "station": station,
        "times": start + pd.to_timedelta(middle, unit="s"),
        "array": array,
        "fitted": common.fit_module(module_of(folder, array)),
        **minutes,
    }


def sun(of, steps):
    station = of["station"]
    return solarposition.get_solarposition(
        of["times"][steps],
        station["latitude_deg"],
        station["longitude_deg"],
        altitude=station["altitude_m"],
        pressure=common.pressure_pa(station["altitude_m"]),
        temperature=float(np.mean(station["air_c"])),
        method="nrel_numpy",
    )


def plane_w_m2(of, steps, position):
    array = of["array"]
    total = irradiance.get_total_irradiance(
        array["tilt_deg"],
        array["azimuth_deg"],
        position["apparent_zenith"],
        position["azimuth"],
        of["dni"][steps],
        of["ghi"][steps],
        of["dhi"][steps],
        dni_extra=irradiance.get_extra_radiation(of["times"][steps]),
        airmass=atmosphere.get_relative_airmass(position["apparent_zenith"]),
        albedo=array["albedo"],
        model="perez",
    )
    return total["poa_global"].to_numpy()


def cell_c(of, steps, light_w_m2):
    array = of["array"]
    u0, u1 = array["u0_w_per_m2_k"], array["u1_w_s_per_m3_k"]
    return temperature.faiman(light_w_m2, of["air_c"][steps], of["wind_m_s"][steps], u0, u1)


def module_w(of, light_w_m2, cells_c):
    parameters = common.one_diode(of["fitted"], light_w_m2, cells_c)
    return np.asarray(pvsystem.singlediode(*parameters, method="lambertw")["p_mp"])


def chain(of, steps):
    """Seconds of each part, and the array's power in every step [W]."""
    array = of["array"]
    marks = [time.perf_counter()]
    position = sun(of, steps)
    marks.append(time.perf_counter())
    on_plane = plane_w_m2(of, steps, position)
    marks.append(time.perf_counter())
    cells_c = cell_c(of, steps, on_plane)
    light = on_plane * (1.0 - array["soiling_pct"] / 100.0)
    marks.append(time.perf_counter())
    power = module_w(of, light, cells_c)
    marks.append(time.perf_counter())
    parts = dict(zip(("sun", "plane", "cell", "diode"), np.diff(marks).tolist(), strict=True))
    lit = light > 0.0
    begin = time.perf_counter()
    module_w(of, light[lit], cells_c[lit])
    parts["diode_by_day"] = time.perf_counter() - begin
    return parts, power * array["modules_per_string"] * array["strings"]


def timed(folder):
    of = inputs(folder)
    chain(of, slice(WARM_UP_STEPS))
    parts, power_w = chain(of, slice(None))
    by_day_s = parts.pop("diode_by_day")
    whole_s = sum(parts.values())
    kept = 1.0
    for loss in ("mismatch_pct", "light_induced_pct"):
        kept *= 1.0 - of["array"][loss] / 100.0
    return {
        "site": folder.name,
        "steps": len(power_w),
        "seconds": whole_s,
        "seconds_without_nights": whole_s - parts["diode"] + by_day_s,
        "parts": parts,
        "kwh": float(np.nansum(power_w)) * kept * STEP_S / KWH_J,
    }


def main():
    # At night the solver divides zero by zero.
    warnings.filterwarnings("ignore", category=RuntimeWarning)
    sites = [timed(Path(argument).resolve()) for argument in sys.argv[1:]]
    libraries = ("pvlib", "numpy", "scipy", "pandas")
    versions = [f"{name} {common.metadata.version(name)}" for name in libraries]
    blas = np.show_config(mode="dicts")["Build Dependencies"]["blas"]
    versions.append(f"{blas['name']} {blas['version']}")
    json.dump({"sites": sites, "versions": versions}, sys.stdout)


if __name__ == "__main__":
    main()
