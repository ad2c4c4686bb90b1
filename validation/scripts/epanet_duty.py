"""Duty points of three pump sets at several speeds by EPANET's hydraulic toolkit.

The pump is EPANET's three-point power curve through H0 + c·Q², whose exponent is then 2; speed is
the pump's setting. Pipes use Darcy–Weisbach, with their fittings as minor losses. The drawdown of the
well, linear in its first part, is a general-purpose valve with a head-loss curve. EPANET's friction
factor is the approximation of Swamee and Jain (1976) above Re 4000, and a cubic between 2000 and 4000.
"""

import json
import os
from contextlib import contextmanager

import numpy as np
from epanet import toolkit as en

import common
import dual_mode_plant
import pair_plant
from year_pipes import GRAVITY, water

SETS_FILE = "epanet_sets.json"
# EPANET's relative viscosity is 1 here: 1.1e-5 ft²/s
VISCOSITY_M2_S = 1.1e-5 * 0.3048**2
DRAWDOWN_STEP_M3_H = 0.1


def of_plant(name, spec, speeds, water_c):
    well = spec["well"]
    level_m = well["static_level_m"]
    return {
        "name": name,
        "pump": spec["pump"],
        "pipes": spec["pipes"],
        "static_level_m": level_m[0] if isinstance(level_m, list) else level_m,
        "aquifer_loss_m_per_m3_h": well["aquifer_loss_m_per_m3_h"],
        "well_loss_m_per_m3_h2": well["well_loss_m_per_m3_h2"],
        "outlet_lift_m": spec["outlet_lift_m"],
        "outlet_pressure_bar": spec["outlet_pressure_bar"],
        "water_c": water_c,
        "speeds": speeds,
    }


def canal_set():
    """High flow, low lift, steel pipe, cold water."""
    return {
        "name": "canal",
        "pump": {
            "rated_frequency_hz": 50.0,
            "flow_m3_h": [0.0, 15.0, 30.0, 45.0, 60.0, 70.0],
            "head_m": [42.0, 41.0, 37.5, 31.5, 23.0, 15.8],
            "efficiency": [0.0, 0.48, 0.70, 0.76, 0.70, 0.60],
        },
        "pipes": [
            {"length_m": 8.0, "bore_mm": 125.0, "roughness_mm": 0.045, "sum_k": 3.0},
            {"length_m": 600.0, "bore_mm": 125.0, "roughness_mm": 0.045, "sum_k": 8.0},
        ],
        "static_level_m": 3.0,
        "aquifer_loss_m_per_m3_h": 0.0,
        "well_loss_m_per_m3_h2": 0.0,
        "outlet_lift_m": 12.0,
        "outlet_pressure_bar": 0.0,
        "water_c": 8.0,
        "speeds": [0.65, 0.75, 0.85, 0.95, 1.0],
    }


def sets():
    """Adds each well again as a river, without drawdown."""
    speeds = [0.82, 0.86, 0.90, 0.95, 1.0]
    wells = [
        of_plant("north", dual_mode_plant.plant(), speeds, 20.0),
        of_plant("south", pair_plant.small_set(), speeds, 15.0),
    ]
    none = {"aquifer_loss_m_per_m3_h": 0.0, "well_loss_m_per_m3_h2": 0.0}
    rivers = [well | none | {"name": f"{well['name']}, no drawdown"} for well in wells]
    return [*wells, *rivers, canal_set()]


@contextmanager
def project():
    handle = en.createproject()
    en.init(handle, os.devnull, "", en.CMH, en.DW)
    try:
        yield handle
    finally:
        en.deleteproject(handle)


def doubles(values):
    array = en.doubleArray(len(values))
    for index, value in enumerate(values):
        array[index] = float(value)
    return array


def add_curve(handle, name, x, y):
    en.addcurve(handle, name)
    index = en.getcurveindex(handle, name)
    en.setcurve(handle, index, doubles(x), doubles(y), len(x))
    return index


def add_junction(handle, name, elevation_m):
    index = en.addnode(handle, name, en.JUNCTION)
    en.setjuncdata(handle, index, elevation_m, 0.0, "")
    return name


def add_reservoir(handle, name, head_m):
    index = en.addnode(handle, name, en.RESERVOIR)
    en.setnodevalue(handle, index, en.ELEVATION, head_m)
    return name


def add_pump(handle, spec, upstream, downstream):
    flow, head = np.asarray(spec["flow_m3_h"]), np.asarray(spec["head_m"])
    basis = np.column_stack([np.ones_like(flow), flow**2])
    shutoff_m, bend = np.linalg.lstsq(basis, head, rcond=None)[0]
    most = flow.max()
    at = [0.0, most / 2.0, most]
    curve = add_curve(handle, "pump", at, [shutoff_m + bend * q * q for q in at])
    pump = en.addlink(handle, "pump", en.PUMP, upstream, downstream)
    en.setheadcurveindex(handle, pump, curve)
    return pump


def add_well(handle, spec, upstream, downstream):
    """Drawdown as a valve's head loss."""
    most = 1.5 * max(spec["pump"]["flow_m3_h"])
    flow = np.arange(0.0, most, DRAWDOWN_STEP_M3_H)
    b, c = spec["aquifer_loss_m_per_m3_h"], spec["well_loss_m_per_m3_h2"]
    curve = add_curve(handle, "drawdown", flow, b * flow + c * flow**2)
    valve = en.addlink(handle, "well", en.GPV, upstream, downstream)
    en.setlinkvalue(handle, valve, en.GPV_CURVE, curve)


def build(handle, spec):
    """Water level, well, pump, pipes, outlet; returns the pump's index and the nodes at its ends."""
    density, viscosity = water(spec["water_c"])
    en.setoption(handle, en.SP_VISCOS, viscosity / VISCOSITY_M2_S)
    en.setoption(handle, en.ACCURACY, 1e-8)
    en.setoption(handle, en.TRIALS, 500)
    level_m = -spec["static_level_m"]
    suction = add_reservoir(handle, "water", level_m)
    if spec["aquifer_loss_m_per_m3_h"] > 0.0 or spec["well_loss_m_per_m3_h2"] > 0.0:
        add_junction(handle, "intake", level_m)
        add_well(handle, spec, suction, "intake")
        suction = "intake"
    outlet_m = spec["outlet_lift_m"] + spec["outlet_pressure_bar"] * 1e5 / (density * GRAVITY)
    nodes = [add_junction(handle, f"n{i}", level_m) for i in range(len(spec["pipes"]))]
    nodes.append(add_reservoir(handle, "outlet", outlet_m))
    pump = add_pump(handle, spec["pump"], suction, nodes[0])
    for number, pipe in enumerate(spec["pipes"]):
        link = en.addlink(handle, f"p{number}", en.PIPE, nodes[number], nodes[number + 1])
        sizes = [pipe[key] for key in ("length_m", "bore_mm", "roughness_mm", "sum_k")]
        en.setpipedata(handle, link, *sizes)
    return pump, suction, nodes[0]


def duties(spec):
    """(speed, flow m³/h, head m) at each speed."""
    with project() as handle:
        pump, below, above = build(handle, spec)
        below, above = (en.getnodeindex(handle, name) for name in (below, above))
        for speed in spec["speeds"]:
            en.setlinkvalue(handle, pump, en.INITSETTING, speed)
            en.solveH(handle)
            flow = en.getlinkvalue(handle, pump, en.FLOW)
            heads = [en.getnodevalue(handle, node, en.HEAD) for node in (above, below)]
            yield speed, flow, heads[0] - heads[1]


def main():
    found = sets()
    with open(common.DATA / SETS_FILE, "w", encoding="utf-8") as file:
        json.dump(found, file, indent=2)
        file.write("\n")
    rows = [[spec["name"], *duty] for spec in found for duty in duties(spec)]
    head = common.made_by("epanet_duty.py", "owa-epanet")
    common.write_csv("epanet_duty.csv", head, ["set", "speed", "flow_m3_h", "head_m"], rows)


if __name__ == "__main__":
    main()
