"""What of a worked plant matters for strings: modules, devices, sub-arrays, coldest air, hot noon."""

import math
from pathlib import Path

import numpy as np
import pandas as pd
from scipy import constants

import common
from strings_sheets import inverters_of, module_of, read_toml, sets_of
from year_curve import Curve

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
BOLTZMANN_EV_K = constants.value("Boltzmann constant in eV/K")
NOON_W_M2, NOON_WIND_M_S = 1000.0, 1.0


def fitted(module):
    """The five parameters; modules with a nearly ideal diode need another starting point."""
    for ideality in (0.9, 1.05, 1.2):
        a = ideality * BOLTZMANN_EV_K * 298.15 * module["cells_in_series"]
        saturation_a = module["i_sc_a"] * math.exp(-module["v_oc_v"] / a)
        across_v = a * math.log1p((module["i_sc_a"] - module["i_mp_a"]) / saturation_a)
        series_ohm = (across_v - module["v_mp_v"]) / module["i_mp_a"]
        start = {"a_0": a, "Io_0": saturation_a, "Rs_0": series_ohm}
        try:
            return common.fit_module(module, init_guess=start)
        except RuntimeError:
            continue
    raise RuntimeError("no start leads to the five parameters")


def groups_of(file):
    array = file["array"]
    if "group" in array:
        parts = array["group"]
    else:
        parts = [array | {"plane": "array", "inverter": "inverter", "drive": "pump"}]
    return [
        {
            "plane": part["plane"],
            "inverter": part.get("inverter"),
            "drive": part.get("drive"),
            "modules": part["modules_per_string"] * part["strings"],
        }
        for part in parts
    ]


def linked(groups):
    """Groups of each sub-array: those that an inverter or a drive links."""
    found = []
    for group in groups:
        devices = {(kind, group[kind]) for kind in ("inverter", "drive") if group[kind]}
        joined, apart = [group], []
        for other_devices, others in found:
            if other_devices & devices:
                devices |= other_devices
                joined = others + joined
            else:
                apart.append((other_devices, others))
        found = [*apart, (devices, joined)]
    order = {id(group): number for number, group in enumerate(groups)}
    lists = [sorted(members, key=lambda g: order[id(g)]) for _, members in found]
    return sorted(lists, key=lambda members: order[id(members[0])])


def sub_array(groups, inverters, sets):
    """Its devices, and its fields: the modules on one inverter and plane."""
    fields = {}
    for group in groups:
        key = group["inverter"], group["plane"]
        field = fields.setdefault(key, {"inverter": key[0], "plane": key[1], "modules": 0})
        field["modules"] += group["modules"]
    for field in fields.values():
        fed = {g["drive"] for g in groups if g["inverter"] == field["inverter"]}
        field["sets"] = [s["name"] for s in sets if s["name"] in fed]
    mine = [i for i in inverters if i["name"] in {g["inverter"] for g in groups}]
    driven = [s for s in sets if s["name"] in {g["drive"] for g in groups}]
    return {
        "name": ", ".join(device["name"] for device in mine or driven),
        "inverters": mine,
        "sets": driven,
        "fields": list(fields.values()),
    }


def air_c(file, folder):
    """(coldest, hottest) of the weather file and of the records; of a synthetic year the records alone."""
    site = file["site"]
    if "file" not in file["weather"]:
        return site["record_low_c"], site["record_high_c"]
    air = pd.read_csv(folder / file["weather"]["file"], skiprows=1)["Dry-bulb (C)"]
    assert len(air) == 8760 and air.min() > -9900.0
    coldest, hottest = float(air.min()), float(air.max())
    return (
        min(coldest, site.get("record_low_c", coldest)),
        max(hottest, site.get("record_high_c", hottest)),
    )


def noon_of(array, hottest_c):
    """Cell temperature and effective irradiance of the hot noon, and the array's factor."""
    if array.get("cell_temperature", "faiman") == "noct":
        cell_c = hottest_c + NOON_W_M2 * (array.get("noct_c", 45.0) - 20.0) / 800.0
    else:
        u0, u1 = array.get("u0_w_per_m2_k", 25.0), array.get("u1_w_s_per_m3_k", 6.84)
        cell_c = common.faiman_cell_c(hottest_c, NOON_W_M2, NOON_WIND_M_S, u0, u1)
    parts = [("mismatch_pct", 1.0), ("light_induced_pct", 1.5), ("unavailability_pct", 2.0)]
    factor = math.prod(1.0 - array.get(key, usual) / 100.0 for key, usual in parts)
    ageing = 1.0 - array.get("yearly_degradation_pct", 0.5) / 100.0
    return {
        "cell_c": cell_c,
        "effective_w_m2": NOON_W_M2 * (1.0 - np.max(array.get("soiling_pct", 5.0)) / 100.0),
        "current_factor": factor * ageing ** array.get("age_years", 0.0),
        "cable_k": array.get("dc_cable_loss_pct", 1.5) / 100.0,
    }


def strings_at(module, parameters, noon, series, parallel):
    """Strings at one moment, as a group that the year's program takes."""
    current_a, voltage_v, _ = common.maximum_power(
        parameters, [noon["effective_w_m2"]], [noon["cell_c"]]
    )
    factor = parallel * noon["current_factor"]
    return {
        "effective_w_m2": [noon["effective_w_m2"]],
        "cell_c": [noon["cell_c"]],
        "fitted": parameters,
        "current_factor": factor,
        "in_series": series,
        "v_mp_v": voltage_v * series,
        "p_mp_w": current_a * voltage_v * factor * series,
        "cable_k": noon["cable_k"],
        "stc_w": series * parallel * module["v_mp_v"] * module["i_mp_a"],
    }


def read(name):
    folder = EXAMPLES / name
    file = read_toml(folder / "plant.toml")
    module = module_of(read_toml(folder / file["array"]["module"]))
    coldest_c, hottest_c = air_c(file, folder)
    parameters, noon = fitted(module), noon_of(file["array"], hottest_c)
    hot = strings_at(module, parameters, noon, 1, 1)
    inverters, sets = inverters_of(file, folder), sets_of(file, folder)
    return {
        "name": name,
        "module": module,
        "fitted": parameters,
        "noon": noon,
        "coldest_c": coldest_c,
        "hottest_c": hottest_c,
        "cold_open_v": cold_open_v(module, coldest_c),
        "cold_max_power_v": float(common.maximum_power(parameters, [1000.0], [coldest_c])[1][0]),
        "hot": hot,
        "hot_open_v": Curve(hot, 0).open_v,
        "hot_max_power_v": float(hot["v_mp_v"][0]),
        "sub_arrays": [sub_array(groups, inverters, sets) for groups in linked(groups_of(file))],
    }


def cold_open_v(module, coldest_c):
    return module["v_oc_v"] + module["beta_voc_v_k"] * (coldest_c - 25.0)
