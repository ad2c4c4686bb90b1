"""The invented plant of the yearly simulation: its JSON, its load table, its outages."""

import json
from datetime import date, datetime, timedelta

import numpy as np

import common
import neutral_devices

LOADS_FILE = "dual_mode_loads.csv"
OUTAGES_FILE = "dual_mode_outages.csv"
PLANT_FILE = "dual_mode_plant.json"


def plant():
    station = common.read_station("723170")
    return {
        "note": "invented equipment; station data from the TMY3 file",
        "site": {
            "latitude_deg": station["latitude_deg"],
            "longitude_deg": station["longitude_deg"],
            "altitude_m": station["altitude_m"],
            "time_zone": "America/New_York",
            "year": common.YEAR,
            "weather": "tmy3/723170TYA.CSV",
        },
        "module": common.MODULE,
        "array": {
            "modules_in_series": 19,
            "strings": 6,
            "tilt_deg": 25.0,
            "azimuth_deg": 180.0,
            "albedo": 0.2,
            "soiling": [0.03] * 12,
            "mismatch": 0.01,
            "light_induced_degradation": 0.015,
            "unavailability": 0.005,
            "yearly_degradation": 0.005,
            "age_years": 0.0,
            "dc_cable_loss_at_stc": 0.015,
            "faiman_u0": 25.0,
            "faiman_u1": 6.84,
        },
        "inverter": {
            "rated_ac_kw": 26.0,
            "load_fraction": [0.05, 0.10, 0.20, 0.30, 0.50, 0.75, 1.00],
            "efficiency": [0.925, 0.955, 0.9695, 0.9735, 0.9755, 0.9750, 0.9735],
            "start_w": 150.0,
            "mppt_min_v": 520.0,
            "mppt_max_v": 850.0,
            "ac_cable_loss_at_rated": 0.01,
        }
        | neutral_devices.INVERTER,
        "drive": {
            "rated_kw": 18.5,
            "load_fraction": [0.25, 0.50, 0.75, 1.00],
            "efficiency": [0.945, 0.966, 0.972, 0.974],
            "voltage_drop": 0.02,
            "greatest_frequency_hz": 50.0,
        }
        | neutral_devices.DRIVE,
        "motor": {
            "rated_shaft_kw": 15.0,
            "rated_voltage_v": 400.0,
            "rated_frequency_hz": 50.0,
            "load_fraction": [0.50, 0.75, 1.00],
            "efficiency": [0.845, 0.862, 0.858],
            "least_frequency_hz": 30.0,
            "cable_loss_at_rated": 0.02,
        }
        | neutral_devices.MOTOR,
        "pump": {
            "rated_frequency_hz": 50.0,
            "flow_m3_h": [0.0, 10.0, 20.0, 28.0, 34.0, 40.0],
            "head_m": [130.0, 126.0, 116.0, 101.0, 87.0, 70.0],
            "efficiency": [0.0, 0.42, 0.64, 0.70, 0.68, 0.60],
        }
        | neutral_devices.PUMP,
        "well": {
            "static_level_m": 48.0,
            "aquifer_loss_m_per_m3_h": 0.08,
            "well_loss_m_per_m3_h2": 0.0012,
            "intake_depth_m": 95.0,
            "margin_m": 2.0,
        },
        "water_c": 20.0,
        "pipes": [
            {"length_m": 100.0, "bore_mm": 81.4, "roughness_mm": 0.0015, "sum_k": 6.0},
            {"length_m": 400.0, "bore_mm": 99.4, "roughness_mm": 0.0015, "sum_k": 4.0},
        ],
        "outlet_lift_m": 30.0,
        "outlet_pressure_bar": 0.2,
        "tank": {"capacity_m3": 250.0, "restart": 0.90, "low": 0.20},
        "demand": {
            "m3_per_day": [120, 130, 150, 185, 220, 250, 260, 245, 205, 165, 135, 120],
            "hour_share": [0.01] * 6
            + [0.10, 0.11, 0.09, 0.06, 0.05, 0.05, 0.04, 0.05, 0.07, 0.09, 0.10, 0.07]
            + [0.01] * 6,
        },
        "pumping": {"mains_hours": [6, 18]},
        "rules": [{"rows": ["grid-only"], "mains_hours": [0, 24]}],
        "changeover_s": {"to_drive": 60.0, "grid_stable": 120.0, "to_mains": 30.0},
        "reconnection_s": 60.0,
        "loads": LOADS_FILE,
        "outages": OUTAGES_FILE,
        "export": "paid",
        "tariff": {
            "currency": "USD",
            "fixed_per_month": 24.0,
            "export_credit_per_kwh": 0.045,
            "seasons": [
                {
                    "name": "summer",
                    "months": [5, 6, 7, 8, 9],
                    "bands": [
                        {"from_h": 0, "to_h": 7, "price_per_kwh": 0.094},
                        {"from_h": 7, "to_h": 16, "price_per_kwh": 0.158},
                        {"from_h": 16, "to_h": 21, "price_per_kwh": 0.267},
                        {"from_h": 21, "to_h": 24, "price_per_kwh": 0.094},
                    ],
                },
                {
                    "name": "winter",
                    "months": [1, 2, 3, 4, 10, 11, 12],
                    "bands": [
                        {"from_h": 0, "to_h": 7, "price_per_kwh": 0.086},
                        {"from_h": 7, "to_h": 16, "price_per_kwh": 0.131},
                        {"from_h": 16, "to_h": 21, "price_per_kwh": 0.204},
                        {"from_h": 21, "to_h": 24, "price_per_kwh": 0.086},
                    ],
                },
            ],
        },
        "money": {
            "reference": "grid-only",
            "discount": 0.10,
            "escalation": 0.04,
            "export_credit_escalation": 0.0,
            "inflation": 0.03,
            "years": 20,
            "capital": {
                "grid-only": [["mains starter", 900.0]],
                "solar-drive": [
                    ["mains starter", 0.0],
                    ["array and frames", 13800.0],
                    ["drive and cables", 3400.0],
                ],
                "grid-tied": [
                    ["mains starter", 900.0],
                    ["array and frames", 13800.0],
                    ["inverter and cables", 4300.0],
                ],
                "dual-mode": [
                    ["mains starter", 900.0],
                    ["array and frames", 13800.0],
                    ["drive and cables", 3400.0],
                    ["inverter and cables", 4300.0],
                    ["changeover gear", 2600.0],
                ],
            },
            "upkeep_per_year": {
                "grid-only": 150.0,
                "solar-drive": 260.0,
                "grid-tied": 310.0,
                "dual-mode": 420.0,
            },
        },
    }


def load_table_kw():
    """Twelve months by 24 civil hours: a daily profile like a dairy's, more in the warm months."""
    day = [
        1.1, 1.0, 1.0, 1.1, 2.4, 5.2, 6.1, 4.4, 3.1, 2.8, 3.0, 3.4,
        3.9, 4.1, 4.0, 3.8, 5.0, 6.4, 6.0, 4.1, 2.9, 2.2, 1.6, 1.3,
    ]  # fmt: skip
    month = [0.82, 0.84, 0.90, 0.97, 1.08, 1.22, 1.30, 1.28, 1.14, 1.00, 0.90, 0.84]
    return [[round(m * h, 3) for h in day] for m in month]


# Single outages: very short ones, pairs closer than the waits, midnight, both clock changes.
SPECIAL = [
    ("2025-01-15T11:00:10", "2025-01-15T11:00:30"),
    ("2025-01-15T14:20:05", "2025-01-15T14:20:50"),
    ("2025-02-11T12:03:00", "2025-02-11T12:03:59"),
    ("2025-02-11T13:10:20", "2025-02-11T13:11:50"),
    ("2025-03-09T01:30:00", "2025-03-09T04:15:00"),
    ("2025-04-16T10:07:00", "2025-04-16T11:31:00"),
    ("2025-04-16T11:32:20", "2025-04-16T12:45:30"),  # during grid_stable
    ("2025-05-20T11:02:00", "2025-05-20T12:17:00"),
    ("2025-05-20T12:19:15", "2025-05-20T13:03:00"),  # during to_mains
    ("2025-06-18T09:31:00", "2025-06-18T11:11:00"),
    ("2025-06-18T11:14:05", "2025-06-18T12:29:00"),  # while waiting to reconnect
    ("2025-07-08T03:10:00", "2025-07-09T19:25:00"),  # long enough to empty the tank
    ("2025-07-16T11:40:00", "2025-07-16T11:40:30"),
    ("2025-07-16T11:41:20", "2025-07-16T12:55:00"),  # drive not yet running
    ("2025-07-24T22:40:00", "2025-07-25T01:15:00"),
    ("2025-08-13T12:00:00", "2025-08-13T12:00:25"),
    ("2025-08-13T12:01:05", "2025-08-13T12:01:45"),
    ("2025-08-13T12:02:10", "2025-08-13T12:02:40"),
    ("2025-11-02T00:40:00", "2025-11-02T02:50:00"),
    ("2025-12-03T20:00:00", "2025-12-05T05:30:00"),
]


def outages():
    """(start, end) in civil time: nearly a quarter of the hours, in order, not touching."""
    random = np.random.default_rng(20250723)
    found = [tuple(map(datetime.fromisoformat, pair)) for pair in SPECIAL]
    taken = {
        begin.date() + timedelta(days=number)
        for begin, end in found
        for number in range((end.date() - begin.date()).days + 1)
    }
    # probability per day, earliest start, spread of the start, minimum and maximum length, minutes
    blocks = [
        (0.45, 4 * 60 + 30, 60, 60, 180),
        (0.75, 10 * 60, 90, 90, 270),
        (0.80, 17 * 60, 110, 120, 270),
    ]
    for number in range(365):
        day = date(common.YEAR, 1, 1) + timedelta(days=number)
        for chance, earliest, spread, shortest, longest in blocks:
            draw = random.random()
            start = earliest + int(random.integers(0, spread + 1))
            length = int(random.integers(shortest, longest + 1))
            odd_s = int(random.integers(0, 60)) if random.random() < 0.15 else 0
            if draw >= chance or day in taken:
                continue
            begin = datetime(day.year, day.month, day.day) + timedelta(minutes=start)
            found.append((begin, begin + timedelta(minutes=length, seconds=odd_s)))
    found.sort()
    assert all(a[1] < b[0] for a, b in zip(found, found[1:]))
    return found


def main():
    common.DATA.mkdir(parents=True, exist_ok=True)
    with open(common.DATA / PLANT_FILE, "w", encoding="utf-8") as file:
        json.dump(plant(), file, indent=2)
        file.write("\n")
    head = common.made_by("dual_mode_plant.py", "numpy")
    columns = ["month", *(f"h{hour:02d}_kw" for hour in range(24))]
    rows = [[month + 1, *row] for month, row in enumerate(load_table_kw())]
    common.write_csv(LOADS_FILE, head, columns, rows)
    rows = [[start.isoformat(), end.isoformat()] for start, end in outages()]
    common.write_csv(OUTAGES_FILE, head, ["start", "end"], rows)


if __name__ == "__main__":
    main()
