"""The second invented plant, limited by well, drive and export: its JSON."""

import json

import common
import dual_mode_plant

PLANT_FILE = "tight_plant.json"


def plant():
    """The first plant with another well, drive, tank, demand, hours and contract."""
    tight = dual_mode_plant.plant()
    tight["note"] = (
        "invented plant and equipment, chosen so that well, drive and export limit it, and put "
        "down before its first result; station data from the TMY3 file; loads and outages are "
        "those of dual_mode_plant.json"
    )
    tight["well"] |= {
        "static_level_m": [43.0, 41.5, 40.5, 41.0, 44.0, 49.0, 54.0, 57.9, 59.0, 58.5, 55.0, 47.0],
        "intake_depth_m": 63.0,
    }
    tight["drive"]["rated_kw"] = 12.5
    tight["tank"]["capacity_m3"] = 60.0
    tight["demand"]["m3_per_day"] = [
        160, 170, 195, 240, 290, 330, 340, 320, 270, 215, 175, 160,
    ]  # fmt: skip
    tight["pumping"] = {"mains_hours": [8, 16]}
    tight["rules"] = [{"rows": ["grid-only"], "mains_hours": [20, 6]}]
    tight["export"] = "none"
    tight["tariff"]["export_credit_per_kwh"] = 0.0
    return tight


def main():
    with open(common.DATA / PLANT_FILE, "w", encoding="utf-8") as file:
        json.dump(plant(), file, indent=2)
        file.write("\n")


if __name__ == "__main__":
    main()
