"""What of a worked plant matters for strings: modules, devices, sub-arrays, coldest air, hot noon."""

import math
import tomllib
from pathlib import Path

import numpy as np
import pandas as pd
from scipy import constants
from scipy.optimize import brentq

import common
from year_curve import Curve, JointCurve
from year_devices import joint_cable
from year_drive import Drive
from year_pump import PumpSet

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
BOLTZMANN_EV_K = constants.value("Boltzmann constant in eV/K")
NOON_W_M2, NOON_WIND_M_S, USEFUL_SPEED = 1000.0, 1.0, 0.90


def read_toml(path):
    with open(path, "rb") as file:
        return tomllib.load(file)


def of_percent(values):
    return [value / 100.0 for value in values]


def one_or_many(value, name):
    """A single part is named after its kind."""
    return value if isinstance(value, list) else [value | {"name": name}]


def module_of(sheet):
    """Keys as in common.MODULE, and the limits of the module."""
    return {
        "v_mp_v": sheet["max_power_v"],
        "i_mp_a": sheet["max_power_a"],
        "v_oc_v": sheet["open_circuit_v"],
        "i_sc_a": sheet["short_circuit_a"],
        "alpha_sc_a_k": sheet["short_circuit_a_per_k"],
        "beta_voc_v_k": sheet["open_circuit_v_per_k"],
        "cells_in_series": sheet["cells"],
        "system_voltage_v": sheet.get("system_voltage_v"),
        "greatest_fuse_a": sheet.get("greatest_fuse_a"),
    }


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


class WettedSet(PumpSet):
    """A pump set of any size, on a river as well as in a borehole."""

    def flow_at(self, hz):
        return brentq(lambda q: self.hz(q) - hz, 0.0, 2.0, xtol=1e-16, rtol=1e-14)

    def flow_of_well(self):
        return math.inf if self.b == self.c == 0.0 else super().flow_of_well()

    def top(self):
        """The point at which pump, well or drive allows no more."""
        return self.at(min(self.well_flow, self.drive_flow))


def pump_set_of(part, folder):
    """A pump set at its largest standing lift, and its drive's limits."""
    sheet = read_toml(folder / part["file"])
    motor, drive = read_toml(folder / part["motor"]), read_toml(folder / part["drive"])
    well, outlet = part["well"], part["outlet"]
    levels_m = np.atleast_1d(well["static_level_m"])
    spec = {
        "water_c": well.get("water_temperature_c", 20.0),
        "pump": {
            "flow_m3_h": sheet["flow_m3_h"],
            "head_m": sheet["head_m"],
            "efficiency": of_percent(sheet["efficiency_pct"]),
            "rated_frequency_hz": motor["rated_frequency_hz"],
        },
        "motor": {
            "rated_shaft_kw": motor["rated_power_kw"],
            "rated_voltage_v": motor["rated_voltage_v"],
            "load_fraction": of_percent(motor["load_pct"]),
            "efficiency": of_percent(motor["efficiency_pct"]),
            "least_frequency_hz": motor["least_frequency_hz"],
            "cable_loss_at_rated": part.get("motor_cable_loss_pct", 2.0) / 100.0,
        },
        "drive": {
            "rated_kw": drive["rated_power_kw"],
            "load_fraction": of_percent(drive["load_pct"]),
            "efficiency": of_percent(drive["efficiency_pct"]),
            "voltage_drop": drive["voltage_drop_pct"] / 100.0,
            "greatest_frequency_hz": drive["greatest_frequency_hz"],
        },
        "well": {
            "aquifer_loss_m_per_m3_h": well.get("aquifer_loss_m_per_m3_h", 0.0),
            "well_loss_m_per_m3_h2": well.get("well_loss_m_per_m3_h2", 0.0),
            "intake_depth_m": well["intake_depth_m"],
            "margin_m": well.get("intake_margin_m", 2.0),
        },
        "pipes": [pipe | {"sum_k": pipe.get("fittings_k", 0.0)} for pipe in part["pipe"]],
        "outlet_lift_m": outlet["lift_m"],
        "outlet_pressure_bar": outlet.get("pressure_bar", 0.0),
    }
    pumps = WettedSet(spec, float(levels_m.max()))
    # the fitted efficiency holds up to the datasheet's last flow
    top = pumps.top()
    assert top["flow"] * pumps.f0 / top["hz"] <= max(sheet["flow_m3_h"]) / 3600.0
    # usual practice where the datasheet gives no value: 2 V for each volt of the motor
    most_v = drive.get("greatest_dc_v", 2.0 * motor["rated_voltage_v"])
    return {"name": part["name"], "pumps": pumps, "greatest_dc_v": most_v, "drive": drive}


def sets_of(file, folder):
    if "pump_set" in file:
        parts = file["pump_set"]
    else:
        one = file["pump"] | {"name": "pump", "drive": file["drive"]["file"]}
        parts = [one | {key: file[key] for key in ("well", "pipe", "outlet")}]
    return [pump_set_of(part, folder) for part in parts if "drive" in part]


def inverters_of(file, folder):
    found = []
    for part in one_or_many(file["inverter"], "inverter"):
        sheet = read_toml(folder / part["file"])
        # it withstands at least the upper edge of its window
        most_v = sheet.get("greatest_dc_v", sheet["mppt_max_v"])
        found.append(sheet | {"name": part["name"], "greatest_dc_v": most_v})
    return found


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
    """(coldest, hottest) of the weather file and of the records."""
    air = pd.read_csv(folder / file["weather"]["file"], skiprows=1)["Dry-bulb (C)"]
    assert len(air) == 8760 and air.min() > -9900.0
    site = file["site"]
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
    parts = [("mismatch_pct", 1.0), ("light_induced_pct", 1.5), ("unavailability_pct", 0.5)]
    factor = math.prod(1.0 - array.get(key, usual) / 100.0 for key, usual in parts)
    ageing = 1.0 - array.get("yearly_degradation_pct", 0.5) / 100.0
    return {
        "cell_c": cell_c,
        "effective_w_m2": NOON_W_M2 * (1.0 - np.max(array.get("soiling_pct", 3.0)) / 100.0),
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


def hz_by_voltage_rule(pumps, strings, most_flow):
    """Highest frequency that sun and strings allow, up to the flow; 0 where it cannot start."""
    best_w = float(strings["p_mp_w"][0])
    cable = joint_cable([strings], [best_w])
    offered_w = cable.end_w(best_w)
    if offered_w < pumps.at(pumps.start_flow)["drive_in_w"]:
        return 0.0
    by_power = pumps.flow_for_drive_in_w(offered_w, most_flow)
    drive = Drive(pumps, [strings])
    flow = drive.voltage_flow(JointCurve([strings], 0), cable, best_w, by_power)
    return 0.0 if flow is None else pumps.at(flow)["hz"]


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
        "hot_open_v": Curve(hot, 0).open_v,
        "hot_max_power_v": float(hot["v_mp_v"][0]),
        "sub_arrays": [sub_array(groups, inverters, sets) for groups in linked(groups_of(file))],
    }


def cold_open_v(module, coldest_c):
    return module["v_oc_v"] + module["beta_voc_v_k"] * (coldest_c - 25.0)
