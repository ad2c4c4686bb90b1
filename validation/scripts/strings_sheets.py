"""The datasheets of a worked plant: modules, inverters, pump sets, with the model's default values."""

import math
import tomllib

import numpy as np
from scipy.optimize import brentq

from year_pump import PumpSet

# loss and drop of the output filters
FILTERS = {"none": (0.0, 0.0), "dv-dt": (0.3, 1.5), "sine": (1.0, 5.0)}


def read_toml(path):
    with open(path, "rb") as file:
        return tomllib.load(file)


def of_percent(values):
    return [value / 100.0 for value in values]


def share(sheet, key, usual_pct):
    return sheet.get(key, usual_pct) / 100.0


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


def pump_of(sheet, part, motor):
    name = part.get("filter", "dv-dt")
    loss_pct, drop_pct = FILTERS[name]
    harmonic_pct = 15.0 if motor["rated_power_kw"] <= 90.0 else 25.0
    return {
        "flow_m3_h": sheet["flow_m3_h"],
        "head_m": sheet["head_m"],
        "efficiency": of_percent(sheet["efficiency_pct"]),
        "rated_frequency_hz": motor["rated_frequency_hz"],
        "filter_loss": share(part, "filter_loss_pct", loss_pct),
        "filter_drop": share(part, "filter_drop_pct", drop_pct),
        "harmonic_loss": share(part, "harmonic_loss_pct", 3.0 if name == "sine" else harmonic_pct),
        "least_flow": share(part, "least_flow_pct", 20.0),
    }


def motor_of(sheet, part):
    return {
        "rated_shaft_kw": sheet["rated_power_kw"],
        "rated_voltage_v": sheet["rated_voltage_v"],
        "load_fraction": of_percent(sheet["load_pct"]),
        "efficiency": of_percent(sheet["efficiency_pct"]),
        "least_frequency_hz": sheet.get("least_frequency_hz", 30.0),
        "cable_loss_at_rated": share(part, "motor_cable_loss_pct", 2.0),
        "rated_current_a": sheet.get("rated_current_a"),
        "power_factor": sheet.get("power_factor", 0.85),
        "cooling_flow_m3_h": sheet.get("cooling_flow_m3_h", 0.0),
        "submersible": sheet.get("submersible", True),
        "water_derating_per_k": share(sheet, "water_derating_pct_per_k", 1.5),
    }


def drive_of(sheet, rated_hz):
    return {
        "rated_kw": sheet["rated_power_kw"],
        "load_fraction": of_percent(sheet["load_pct"]),
        "efficiency": of_percent(sheet["efficiency_pct"]),
        "voltage_drop": share(sheet, "voltage_drop_pct", 2.0),
        "greatest_frequency_hz": sheet.get("greatest_frequency_hz", rated_hz),
        "rated_current_a": sheet.get("rated_current_a"),
        "power_factor": sheet.get("power_factor"),
        "least_flux": share(sheet, "least_flux_pct", 90.0),
        "altitude_derating_per_100m": share(sheet, "altitude_derating_pct_per_100m", 1.0),
        "rated_altitude_m": sheet.get("rated_altitude_m", 1000.0),
        "heat_derating_per_k": share(sheet, "heat_derating_pct_per_k", 1.5),
        "rated_temperature_c": sheet.get("rated_temperature_c", 40.0),
        "cabinet_rise_k": sheet.get("cabinet_rise_k", 10.0),
        "tracking_static_loss": share(sheet, "tracking_static_loss_pct", 1.0),
        "tracking_clear_loss": share(sheet, "tracking_clear_loss_pct", 2.0),
        "tracking_broken_loss": share(sheet, "tracking_broken_loss_pct", 5.0),
    }


class WettedSet(PumpSet):
    """A pump set of any size, on a river as well as in a borehole."""

    def flow_at(self, hz):
        return brentq(lambda q: self.hz(q) - hz, 0.0, 2.0, xtol=1e-16, rtol=1e-14)

    def flow_of_well(self):
        return math.inf if self.b == self.c == 0.0 else super().flow_of_well()


def pump_set_of(part, folder, altitude_m):
    """A pump set at its largest standing lift, its drive's values and limits."""
    sheet = read_toml(folder / part["file"])
    motor, drive = read_toml(folder / part["motor"]), read_toml(folder / part["drive"])
    well, outlet = part["well"], part["outlet"]
    levels_m = np.atleast_1d(well["static_level_m"])
    values = drive_of(drive, motor["rated_frequency_hz"])
    spec = {
        "altitude_m": altitude_m,
        "water_c": well.get("water_temperature_c", 20.0),
        "pump": pump_of(sheet, part, motor),
        "motor": motor_of(motor, part),
        "drive": values,
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
    top = pumps.at(min(pumps.well_flow, pumps.drive_flow))
    assert top["flow"] * pumps.f0 / top["hz"] <= max(sheet["flow_m3_h"]) / 3600.0
    # usual practice where the datasheet gives no value: 2 V for each volt of the motor
    most_v = drive.get("greatest_dc_v", 2.0 * motor["rated_voltage_v"])
    found = {"name": part["name"], "pumps": pumps, "greatest_dc_v": most_v, "drive": drive}
    return found | {"values": values}


def sets_of(file, folder):
    if "pump_set" in file:
        parts = file["pump_set"]
    else:
        one = file["pump"] | {"name": "pump", "drive": file["drive"]["file"]}
        parts = [one | {key: file[key] for key in ("well", "pipe", "outlet")}]
    altitude_m = file["site"]["altitude_m"]
    return [pump_set_of(part, folder, altitude_m) for part in parts if "drive" in part]


def inverters_of(file, folder):
    parts = file["inverter"]
    found = []
    # a single part is named after its kind
    for part in parts if isinstance(parts, list) else [parts | {"name": "inverter"}]:
        sheet = read_toml(folder / part["file"])
        # it withstands at least the upper edge of its window
        most_v = sheet.get("greatest_dc_v", sheet["mppt_max_v"])
        found.append(sheet | {"name": part["name"], "greatest_dc_v": most_v})
    return found
