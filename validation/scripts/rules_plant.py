"""An invented plant with every rule of pumping: two windows, fill levels, surplus, restart by hand."""

import json

import common
import rivals_plant
from rivals_plant import ON_DRIVE, ON_INVERTER, WITH_ARRAY

NOTE = (
    "invented plant and equipment, put down before its first result; station data from the TMY3 "
    "file; loads and outages are those of rivals-pair_plant.json"
)
BESIDE = ["grid-only", "solar-drive-with-grid", "grid-tied", "dual-mode", "battery-hybrid"]


def money():
    """Cost lines by quantity, less what the farm owns; what is missing has a value."""

    def line(item, cost, arrangements, **more):
        return {"item": item, "cost": cost, "arrangements": arrangements} | more

    return {
        "reference": "grid-only+generator",
        "discount": 0.09,
        "escalation": 0.05,
        "export_credit_escalation": 0.01,
        "inflation": 0.03,
        "years": 18,
        "value_of_lost_water_per_m3": 0.35,
        "value_of_lost_load_per_kwh": 0.25,
        "capital": [
            line("mains starters", 55.0, ["grid-only", *ON_INVERTER], per="motor-kw", owned=15.0),
            line("modules", 78.0, WITH_ARRAY, per="module", owned=24.0),
            line("frames and cables", 160.0, WITH_ARRAY, per="kwp"),
            line("drives", 190.0, ON_DRIVE, per="drive-kw"),
            line("inverters", 135.0, ON_INVERTER, per="inverter-kw", owned=5.0),
            line("pipes", 9.0, ["grid-only", *WITH_ARRAY], per="pipe-m", owned=700.0),
            line("tank", 45.0, ["grid-only", *WITH_ARRAY], per="tank-m3", owned=180.0),
            line("changeover gear", 4400.0, ["dual-mode"]),
            line("battery", 310.0, ["battery-hybrid"], per="battery-kwh"),
            line("generating set", 11800.0, ["generator"], per="one"),
        ],
        "upkeep": [
            line("upkeep of the pumps", 250.0, ["grid-only", *WITH_ARRAY]),
            line("upkeep of the array", 330.0, WITH_ARRAY),
        ],
        "replacement": [
            line("battery", 210.0, ["battery-hybrid"], per="battery-kwh", every_years=9),
            line("inverters", 90.0, ON_INVERTER, per="inverter-kw", every_years=12),
            line("drives", 120.0, ON_DRIVE, per="drive-kw", every_years=12),
        ],
    }


def pumping():
    return {
        "mains_hours": [[21, 6], [10, 15]],
        "mains_fill": [*([0.70] * 9), *([0.95] * 6), *([0.80] * 9)],
        "surplus": 0.8,
        "restart": "by-hand",
        "attended_hours": [[5, 11], [13, 20]],
        "restart_delay_s": 900.0,
    }


def rules():
    """Rules of rows: today's farm, another low mark in dual mode, a fill level for the second input."""
    return [
        {
            "rows": ["grid-only", "grid-only+generator"],
            "mains_hours": [0, 24],
            "mains_fill": 1.0,
        },
        {
            "rows": ["dual-mode", "dual-mode+generator"],
            "low_mark": 0.35,
            "surplus": 1.1,
            "mains_fill": 0.85,
        },
        {
            "rows": ["solar-drive-with-grid", "solar-drive-with-grid+generator"],
            "mains_fill": 0.6,
        },
    ]


def plant():
    """Two pump sets, one of them without a drive; a group without an inverter; loads first."""
    found = rivals_plant.rivals_pair()
    found["note"] = NOTE
    by_name = {group["name"]: group for group in found["array"]["groups"]}
    by_name["west to north"]["inverter"] = None
    by_name["east to south"]["drive"] = None
    found["pump_sets"][1]["drive"] = None
    found["tank"] = {"capacity_m3": 200.0, "restart": 0.85, "low": 0.25}
    found["pumping"], found["rules"] = pumping(), rules()
    found["export"], found["export_limit_kw"] = "paid", 14.0
    found["tariff"]["export_credit_per_kwh"] = 0.045
    found["grid_input"]["hours"] = [[5, 9], [14, 20]]
    found["night_tank"] = {
        "capacity_m3": 320.0, "hours": [[22, 6], [12, 14]], "beside": ["grid-tied"],
    }  # fmt: skip
    found["generator"] |= {
        "rated_kw": 34.0,
        "least_load": 0.30,
        "fuel_l_per_h": [3.9, 6.2, 8.6, 11.3],
        "beside": BESIDE,
        "attended_hours": [[5, 12], [14, 21]],
        "start_delay_s": 300.0,
        "loads": "backed-up",
        "pumps_when": "water-is-wanted",
        "sun_share": 0.3,
    }
    found["battery"] |= {"rule": "self-consumption", "grid_charges_to": 0.40}
    found["money"] = money()
    return found


def main():
    with open(common.DATA / "rules_plant.json", "w", encoding="utf-8") as file:
        json.dump(plant(), file, indent=2)
        file.write("\n")


if __name__ == "__main__":
    main()
