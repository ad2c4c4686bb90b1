"""An invented plant in which drive, motor, filter and inverter lose and limit: JSON, and the files for the program."""

import json

import common
import devices_files
import dual_mode_plant

NAME = "devices"
NOTE = (
    "invented plant and equipment, chosen so that every rule of the devices loses something; station data "
    "from the TMY3 file, at another altitude; loads and outages are those of dual_mode_plant.json"
)
WITH_ARRAY = ["solar-drive", "solar-drive-with-grid", "grid-tied", "dual-mode"]
ON_INVERTER = ["grid-tied", "dual-mode"]
ON_DRIVE = ["solar-drive", "solar-drive-with-grid", "dual-mode"]


def motor():
    """Warm water and a tight current limit."""
    return {
        "rated_shaft_kw": 13.0,
        "rated_current_a": 27.0,
        "power_factor": 0.84,
        "cooling_flow_m3_h": 6.5,
        "submersible": True,
        "water_derating_per_k": 0.02,
    }


def drive():
    """It may go beyond 50 Hz; altitude and warm afternoons derate it, and strings of 18 do not reach full flux in summer."""
    return {
        "rated_kw": 17.0,
        "greatest_frequency_hz": 52.0,
        "rated_current_a": 31.0,
        "power_factor": 0.83,
        "least_flux": 0.86,
        "altitude_derating_per_100m": 0.012,
        "rated_altitude_m": 1100.0,
        "heat_derating_per_k": 0.018,
        "rated_temperature_c": 40.0,
        "cabinet_rise_k": 15.0,
        "tracking_static_loss": 0.008,
        "tracking_clear_loss": 0.015,
        "tracking_broken_loss": 0.06,
        "restart_power": 1.30,
        "restart_confirm_s": 90.0,
        "retry_wait_s": [240.0, 900.0, 2400.0],
    }


def inverter():
    return {
        "tracking_loss": 0.006,
        "tracking_broken_loss": 0.014,
        "heat_derating_per_k": 0.025,
        "derating_temperature_c": 26.0,
    }


def pump():
    return {
        "filter": "sine",
        "filter_loss": 0.012,
        "filter_drop": 0.05,
        "harmonic_loss": 0.04,
        "least_flow": 0.40,
    }


def grid_input():
    return {
        "kind": "switch",
        "takes_over_below": 0.85,
        "hours": [4, 19],
        "wanted_speed": [*([0.92] * 8), *([1.0] * 4), *([0.96] * 5), *([0.92] * 7)],
    }


def money():
    def line(item, cost, arrangements):
        return {"item": item, "cost": cost, "arrangements": arrangements}

    return {
        "reference": "grid-only",
        "discount": 0.10,
        "escalation": 0.04,
        "export_credit_escalation": 0.0,
        "inflation": 0.03,
        "years": 20,
        "capital": [
            line("mains starter", 900.0, ["grid-only", *ON_INVERTER]),
            line("array and frames", 14500.0, WITH_ARRAY),
            line("drive, filter and cables", 4200.0, ON_DRIVE),
            line("inverter and cables", 4300.0, ON_INVERTER),
            line("changeover gear", 2600.0, ["dual-mode"]),
            line("second input", 700.0, ["solar-drive-with-grid"]),
        ],
        "upkeep": [
            line("upkeep of the pump on mains", 150.0, ["grid-only"]),
            line("upkeep of the array", 300.0, WITH_ARRAY),
        ],
        "replacement": [],
    }


def plant():
    found = dual_mode_plant.plant()
    found["note"] = NOTE
    found["site"]["altitude_m"] = 1700.0
    found["array"] |= {"modules_in_series": 18, "strings": 5}
    found["motor"] |= motor()
    found["drive"] |= drive()
    found["inverter"] |= {"rated_ac_kw": 18.0, "mppt_min_v": 480.0} | inverter()
    found["pump"] |= pump()
    found["water_c"] = 32.0
    # in late summer the well limits the pump
    found["well"] |= {
        "static_level_m": [46.0, 46.0, 44.0, 44.0, 44.0, 46.0, 49.0, 57.5, 57.5, 49.0, 49.0, 46.0],
        "intake_depth_m": 63.0,
    }
    found["tank"]["capacity_m3"] = 220.0
    found["demand"]["m3_per_day"] = [
        150, 165, 195, 245, 295, 340, 355, 330, 275, 215, 170, 150,
    ]  # fmt: skip
    found["grid_input"], found["money"] = grid_input(), money()
    return found


def main():
    found = plant()
    with open(common.DATA / f"{NAME}_plant.json", "w", encoding="utf-8") as file:
        json.dump(found, file, indent=2)
        file.write("\n")
    devices_files.write(NAME, found)


if __name__ == "__main__":
    main()
