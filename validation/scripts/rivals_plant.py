"""Two invented plants with all alternatives to the changeover: rivals, and rivals-pair."""

import json

import common
import dual_mode_plant
import pair_plant

COLD_FILE, FARM_FILE = "rivals_loads_cold_store.csv", "rivals_loads_farm.csv"
NOTE = (
    "invented plant and equipment, put down before its first result; station data from the TMY3 "
    "file; the two loads add up to those of dual_mode_plant.json, and the outages are its own"
)
WITH_ARRAY = ["solar-drive", "solar-drive-with-grid", "grid-tied", "dual-mode", "battery-hybrid"]
ON_INVERTER = ["grid-tied", "dual-mode", "battery-hybrid"]
ON_DRIVE = ["solar-drive", "solar-drive-with-grid", "dual-mode"]


def backed_up(kw):
    """The cold store's part of the load table."""
    return round(0.4 * kw, 3)


def loads():
    return [
        {"name": "cold store", "file": COLD_FILE, "backed_up": True},
        {"name": "farm", "file": FARM_FILE, "backed_up": False},
    ]


def money(scale):
    def line(item, cost, arrangements, **more):
        return {"item": item, "cost": round(cost * scale, 2), "arrangements": arrangements} | more

    return {
        "reference": "grid-only",
        "discount": 0.10,
        "escalation": 0.04,
        "export_credit_escalation": 0.0,
        "inflation": 0.03,
        "years": 20,
        "capital": [
            line("mains starter", 900.0, ["grid-only", *ON_INVERTER]),
            line("array and frames", 13800.0, WITH_ARRAY),
            line("drive and cables", 3400.0, ON_DRIVE),
            line("inverter and cables", 4300.0, ON_INVERTER),
            line("changeover gear", 2600.0, ["dual-mode"]),
            line("second input", 700.0, ["solar-drive-with-grid"]),
            line("battery and its inverter", 15500.0, ["battery-hybrid"]),
            line("generating set", 7200.0, ["generator"]),
            line("bigger tank", 9000.0, ["night-tank"]),
            line("transfer switch", 650.0, ["grid-only+generator"]),
        ],
        "upkeep": [
            line("upkeep of the pump on mains", 150.0, ["grid-only"]),
            line("upkeep of array and drive", 260.0, ["solar-drive", "solar-drive-with-grid"]),
            line("upkeep of array and inverter", 310.0, ["grid-tied", "battery-hybrid"]),
            line("upkeep of all", 420.0, ["dual-mode"]),
            line("upkeep of the battery", 120.0, ["battery-hybrid"]),
        ],
        "replacement": [
            line("battery", 9500.0, ["battery-hybrid"], every_years=10),
            line("inverter", 2900.0, ON_INVERTER, every_years=12),
            line("drive", 2300.0, ON_DRIVE, every_years=12),
            line("overhaul of the generating set", 1800.0, ["generator"], every_years=5),
        ],
    }


def tariff(base):
    """Credits by hour: 0 at midday in winter; the common credit where none is given."""
    credits = {"summer": [0.03, 0.05, 0.09, 0.03], "winter": [0.03, 0.0, None, 0.03]}
    for season in base["tariff"]["seasons"]:
        for band, credit in zip(season["bands"], credits[season["name"]]):
            if credit is not None:
                band["credit_per_kwh"] = credit
    base["tariff"]["export_credit_per_kwh"] = 0.04


def reach_f_h(drive):
    """The rectifier's voltage does not give full flux at full speed, so the drive may reduce it."""
    drive["least_flux"] = 0.85


def rivals():
    plant = dual_mode_plant.plant()
    reach_f_h(plant["drive"])
    plant["note"] = NOTE
    plant["loads"] = loads()
    plant["grid_input"] = {
        "kind": "blend",
        "line_voltage_v": 400.0,
        "hours": [5, 20],
        # at 70 % the pump does not start
        "wanted_speed": [
            *([0.8] * 5), 0.7, *([0.8] * 2), *([1.0] * 4), *([0.8] * 2), *([1.0] * 3), *([0.8] * 7),
        ],
    }
    plant["rules"] = [{"rows": ["grid-only", "grid-only+generator"], "mains_hours": [0, 24]}]
    plant["battery"] = {
        "capacity_kwh": 40.0,
        "least_content": 0.10,
        "charge_kw": 12.0,
        "discharge_kw": 15.0,
        "charge_efficiency": 0.95,
        "discharge_efficiency": 0.94,
        "rule": "self-consumption",
        "reserve": 0.40,
        "grid_charges_to": 0.30,
        "restart": 0.25,
    }
    plant["generator"] = {
        "rated_kw": 18.0,
        "least_load": 0.30,
        "load_fraction": [0.25, 0.50, 0.75, 1.00],
        "fuel_l_per_h": [2.3, 3.6, 4.9, 6.3],
        "beside": ["grid-only", "dual-mode", "battery-hybrid", "solar-drive-with-grid"],
        "start": "automatic",
        "start_delay_s": 20.0,
        "loads": "backed-up",
        "pumps_when": "water-is-wanted",
        "fuel_price_per_l": 1.25,
        "fuel_escalation": 0.05,
        "upkeep_per_hour": 0.8,
    }
    plant["night_tank"] = {
        "capacity_m3": 500.0, "hours": [22, 6], "beside": ["grid-only", "grid-tied"],
    }  # fmt: skip
    plant["line"] = {
        "resistance_ohm_per_km": 0.64,
        "length_m": 1300.0,
        "nominal_v": 400.0,
        "no_load_voltage": 1.04,
        "greatest_voltage": 1.10,
    }
    plant["export_limit_kw"] = 9.0
    tariff(plant)
    plant["money"] = money(1.0)
    plant["money"]["export_credit_escalation"] = 0.02
    return plant


def rivals_pair():
    plant = pair_plant.pair()
    for pump_set in plant["pump_sets"]:
        reach_f_h(pump_set["drive"])
    plant["note"] = NOTE
    plant["loads"] = loads()
    plant["tank"]["capacity_m3"] = 180.0
    plant["grid_input"] = {
        "kind": "switch",
        # below 78 % neither pump gives water, so a threshold of 70 % would never be met
        "takes_over_below": 0.90,
        "hours": [6, 18],
        "wanted_speed": [1.0] * 24,
    }
    plant["rules"] = [{"rows": ["grid-only", "grid-only+generator"], "mains_hours": [0, 24]}]
    plant["battery"] = {
        "capacity_kwh": 60.0,
        "least_content": 0.15,
        "charge_kw": 15.0,
        "discharge_kw": 16.0,
        "charge_efficiency": 0.96,
        "discharge_efficiency": 0.95,
        "rule": "reserve",
        "reserve": 0.50,
        "grid_charges_to": 0.90,
        "restart": 0.30,
    }
    plant["generator"] = {
        "rated_kw": 17.0,
        "least_load": 0.25,
        "load_fraction": [0.25, 0.50, 0.75, 1.00],
        "fuel_l_per_h": [2.2, 3.4, 4.7, 6.1],
        "beside": ["grid-only", *WITH_ARRAY],
        "start": "by-hand",
        "start_delay_s": 600.0,
        "attended_hours": [6, 20],
        "loads": "all",
        "pumps_when": "tank-is-low",
        "fuel_price_per_l": 1.25,
        "fuel_escalation": 0.05,
        "upkeep_per_hour": 0.8,
    }
    plant["money"] = money(1.7)
    return plant


def write_loads(name, part):
    head = common.made_by("rivals_plant.py", "numpy")
    columns = ["month", *(f"h{hour:02d}_kw" for hour in range(24))]
    rows = [
        [month, *(round(part(kw), 3) for kw in row)]
        for month, row in enumerate(dual_mode_plant.load_table_kw(), 1)
    ]
    common.write_csv(name, head, columns, rows)


def main():
    write_loads(COLD_FILE, backed_up)
    write_loads(FARM_FILE, lambda kw: kw - backed_up(kw))
    for name, plant in (("rivals", rivals()), ("rivals-pair", rivals_pair())):
        with open(common.DATA / f"{name}_plant.json", "w", encoding="utf-8") as file:
            json.dump(plant, file, indent=2)
            file.write("\n")


if __name__ == "__main__":
    main()
