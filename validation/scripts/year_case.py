"""Everything of a year's steps that does not depend on the tank."""

import csv

import common
import year_lockout
import year_parts
import year_spans
import year_tracking
from year_drive import Drive
from year_inverter import Inverter
from year_pump import PumpSet
from year_second_input import SecondInput
from year_weather import array_steps

YEAR_S = 8760 * 3600.0


def read_rows(name):
    with open(common.DATA / name, encoding="utf-8") as file:
        return list(csv.reader(line for line in file if not line.startswith("#")))[1:]


def tariff_table(tariff, key, default=None):
    """value[month, hour] from the tariff's bands"""
    table = {}
    for season in tariff["seasons"]:
        for month in season["months"]:
            for band in season["bands"]:
                for hour in range(band["from_h"], band["to_h"]):
                    table[month, hour] = band.get(key, default)
    assert len(table) == 12 * 24
    return table


def load_tables(loads):
    """(power[month][hour] in W, backed up) of every load."""
    if isinstance(loads, str):
        loads = [{"file": loads, "backed_up": False}]
    return [
        (
            {int(row[0]): [float(v) * 1e3 for v in row[1:]] for row in read_rows(load["file"])},
            load["backed_up"],
        )
        for load in loads
    ]


def of_inverter(spec, number, groups, steps):
    mine = [group for group in groups if group["inverter"] == number]
    tracking = year_tracking.of_inverter(spec, steps["broken"])
    inverter = Inverter(spec, mine, steps["air_c"], tracking)
    return {
        "step": [inverter.step(i) for i in range(len(steps["air_c"]))],
        "held": inverter.held,
        "reconnection_s": spec["reconnection_s"],
    }


def of_set(spec, number, groups, steps, second):
    """A pump set by civil month; months with the same standing level share one."""
    levels_m = spec["well"]["static_level_m"]
    if not isinstance(levels_m, list):
        levels_m = [levels_m] * 12
    of_level = {level_m: PumpSet(spec, level_m) for level_m in levels_m}
    by_month = {month: of_level[level_m] for month, level_m in enumerate(levels_m, 1)}
    mine = [group for group in groups if group["drive"] == number]
    case = {
        "name": spec["name"],
        "rated": {month: pumpset.rated for month, pumpset in by_month.items()},
        "driven": bool(mine),
    }
    if mine:
        case["start"] = {month: pumpset.start for month, pumpset in by_month.items()}
        case |= on_drive(spec, by_month, mine, steps, second)
    return case


def on_drive(spec, by_month, groups, steps, second):
    """Every step of a set on its drive: with and without the lockout, and with mains on the second input."""
    civil = steps["civil"]
    tracking = year_tracking.of_drive(spec["drive"], steps["broken"])
    drives, free = {}, [None] * len(civil)
    for pumpset in set(by_month.values()):
        drive = Drive(pumpset, groups, steps["air_c"], tracking)
        months = {month for month, mine in by_month.items() if mine is pumpset}
        drives |= dict.fromkeys(months, drive)
        for index, outcome in drive.run([i for i, (m, _) in enumerate(civil) if m in months]).items():
            free[index] = outcome
    powers_w = zip(*(group["p_mp_w"].tolist() for group in groups))
    available_w = [sum(powers) for powers in powers_w]
    case = {"free": free, "available_w": available_w}
    case["step"] = year_lockout.locked(
        lambda i: drives[civil[i][0]], spec["drive"], free, available_w, steps["step_s"]
    )
    # at the lowest of the wanted frequency, the well's and the drive's limit without heat
    flows = {m: min(pumpset.well_flow, pumpset.drive_flow) for m, pumpset in by_month.items()}
    if second:
        inputs = {drive: SecondInput(second, drive, free) for drive in set(drives.values())}
        case["second"] = [inputs[drives[m]].step(i, h) for i, (m, h) in enumerate(civil)]
        flows = {m: min(flow, inputs[drives[m]].top_flow) for m, flow in flows.items()}
    return case | {"wanted_flow": flows}


def prepare(plant, step_s):
    site, count = plant["site"], int(YEAR_S) // step_s
    station = common.read_station("723170") | {"altitude_m": site["altitude_m"]}
    parts = year_parts.of_plant(plant)
    civil = year_spans.civil(
        count, step_s, site["time_zone"], station["offset_h"], site["year"]
    )
    months = [month for month, _ in civil]
    groups, steps, weather = array_steps(plant, parts, station, step_s, months)
    steps |= {"civil": civil, "step_s": step_s}
    loads = load_tables(plant["loads"])
    prices = tariff_table(plant["tariff"], "price_per_kwh")
    credit = plant["tariff"]["export_credit_per_kwh"]
    credits = tariff_table(plant["tariff"], "credit_per_kwh", credit)
    daily, shares = plant["demand"]["m3_per_day"], plant["demand"]["hour_share"]
    assert abs(sum(shares) - 1.0) < 1e-12
    outages = year_spans.outage_seconds(
        read_rows(plant["outages"]), site["time_zone"], station["offset_h"], site["year"]
    )
    inverters, sets, second = parts["inverters"], parts["sets"], plant.get("grid_input")
    # an inverter is switched when one of its groups has a drive
    switched = {group["inverter"] for group in groups if group["drive"] is not None}
    return {
        "step_s": step_s,
        "civil": civil,
        "day": year_spans.civil_days(
            count, step_s, site["time_zone"], station["offset_h"], site["year"]
        ),
        "weather": weather,
        "groups": [
            {
                "available_w": group["p_mp_w"].tolist(),
                "inverter": group["inverter"],
                "has_drive": group["drive"] is not None,
                "drive": group["drive"],
                "own_strings": group["inverter"] not in (None, *switched),
            }
            for group in groups
        ],
        "inverters": [
            of_inverter(spec, n, groups, steps) | {"switched": n in switched}
            for n, spec in enumerate(inverters)
        ],
        "sets": [of_set(spec, n, groups, steps, second) for n, spec in enumerate(sets)],
        "load_w": [sum(load[m][h] for load, _ in loads) for m, h in civil],
        "backed_w": [sum(load[m][h] for load, backed in loads if backed) for m, h in civil],
        "price": [prices[key] for key in civil],
        "credit": [credits[key] for key in civil],
        "demand_m3_s": [daily[m - 1] * shares[h] / 3600.0 for m, h in civil],
        "outages": outages,
    }
