"""Two invented plants with two of everything: pair, and mixed, where some parts are missing."""

import json

import common
import dual_mode_plant
import neutral_devices

PAIR_FILE, MIXED_FILE = "pair_plant.json", "mixed_plant.json"
NOTE = (
    "invented plant and equipment, put down before its first result; station data from the TMY3 "
    "file; loads and outages are those of dual_mode_plant.json"
)


def small_set():
    """A 7.5 kW set with a separate well."""
    return {
        "name": "south",
        "pump": {
            "rated_frequency_hz": 50.0,
            "flow_m3_h": [0.0, 6.0, 12.0, 16.0, 20.0, 24.0],
            "head_m": [105.0, 102.0, 94.0, 84.0, 71.0, 55.0],
            "efficiency": [0.0, 0.42, 0.62, 0.67, 0.65, 0.56],
        }
        | neutral_devices.PUMP,
        "motor": {
            "rated_shaft_kw": 7.5,
            "rated_voltage_v": 400.0,
            "rated_frequency_hz": 50.0,
            "load_fraction": [0.50, 0.75, 1.00],
            "efficiency": [0.81, 0.83, 0.825],
            "least_frequency_hz": 30.0,
            "cable_loss_at_rated": 0.03,
        }
        | neutral_devices.MOTOR,
        "drive": {
            "rated_kw": 9.2,
            "load_fraction": [0.25, 0.50, 0.75, 1.00],
            "efficiency": [0.935, 0.960, 0.968, 0.970],
            "voltage_drop": 0.02,
            "greatest_frequency_hz": 50.0,
        }
        | neutral_devices.DRIVE,
        "well": {
            "static_level_m": [
                33.0, 32.5, 32.0, 32.0, 33.5, 35.5, 38.0, 40.0, 41.0, 40.0, 37.0, 34.5,
            ],
            "aquifer_loss_m_per_m3_h": 0.15,
            "well_loss_m_per_m3_h2": 0.004,
            "intake_depth_m": 62.0,
            "margin_m": 2.0,
        },
        "pipes": [
            {"length_m": 60.0, "bore_mm": 65.2, "roughness_mm": 0.0015, "sum_k": 5.0},
            {"length_m": 250.0, "bore_mm": 81.4, "roughness_mm": 0.0015, "sum_k": 3.0},
        ],
        "outlet_lift_m": 30.0,
        "outlet_pressure_bar": 0.2,
    }


def large_set(base):
    keys = ["pump", "motor", "drive", "well", "pipes", "outlet_lift_m", "outlet_pressure_bar"]
    return {"name": "north"} | {key: base.pop(key) for key in keys}


def inverters(base):
    large = base.pop("inverter") | {
        "name": "A", "rated_ac_kw": 20.0, "reconnection_s": base.pop("reconnection_s"),
    }  # fmt: skip
    small = {
        "name": "B",
        "rated_ac_kw": 12.0,
        "load_fraction": [0.05, 0.10, 0.20, 0.30, 0.50, 0.75, 1.00],
        "efficiency": [0.910, 0.945, 0.963, 0.969, 0.972, 0.9715, 0.970],
        "start_w": 100.0,
        "mppt_min_v": 540.0,
        "mppt_max_v": 800.0,
        "ac_cable_loss_at_rated": 0.015,
        "reconnection_s": 300.0,
    } | neutral_devices.INVERTER
    return [large, small]


def groups():
    rows = [
        ("east to north", "east", 19, 3, "A", "north"),
        ("west to north", "west", 19, 3, "A", "north"),
        ("east to south", "east", 18, 2, "B", "south"),
        ("west, no drive", "west", 20, 2, "B", None),
    ]
    keys = ["name", "plane", "modules_in_series", "strings", "inverter", "drive"]
    return [dict(zip(keys, row)) for row in rows]


def money(base):
    capital = base["money"]["capital"]
    for name, items in capital.items():
        base["money"]["capital"][name] = [[item, 1.7 * cost] for item, cost in items]


def pair():
    """No export: what pump and loads do not take is cut off; the loads come first."""
    plant = dual_mode_plant.plant()
    plant["note"] = NOTE
    plant["pump_sets"] = [large_set(plant), small_set()]
    plant["inverters"] = inverters(plant)
    array = plant["array"]
    for key in ("modules_in_series", "strings", "tilt_deg", "azimuth_deg"):
        del array[key]
    array["planes"] = [
        {"name": "east", "tilt_deg": 15.0, "azimuth_deg": 90.0},
        {"name": "west", "tilt_deg": 20.0, "azimuth_deg": 265.0},
    ]
    array["groups"] = groups()
    plant["tank"]["capacity_m3"] = 300.0
    plant["demand"]["m3_per_day"] = [
        190, 205, 235, 290, 340, 385, 400, 380, 320, 255, 210, 190,
    ]  # fmt: skip
    plant["sun_first"] = "loads"
    plant["export"] = "none"
    plant["tariff"]["export_credit_per_kwh"] = 0.0
    money(plant)
    return plant


def mixed():
    """A set without a drive, a group without an inverter; paid export, pumps first."""
    plant = pair()
    by_name = {group["name"]: group for group in plant["array"]["groups"]}
    by_name["west to north"]["inverter"] = None
    by_name["east to south"]["drive"] = None
    plant["pump_sets"][1]["drive"] = None
    plant["sun_first"] = "pump"
    plant["export"] = "paid"
    plant["tariff"]["export_credit_per_kwh"] = 0.045
    plant["pumping"] = {"mains_hours": [8, 16]}
    plant["rules"] = [{"rows": ["grid-only"], "mains_hours": [20, 6]}]
    plant["tank"]["capacity_m3"] = 150.0
    return plant


def main():
    for name, plant in ((PAIR_FILE, pair()), (MIXED_FILE, mixed())):
        with open(common.DATA / name, "w", encoding="utf-8") as file:
            json.dump(plant, file, indent=2)
            file.write("\n")


if __name__ == "__main__":
    main()
