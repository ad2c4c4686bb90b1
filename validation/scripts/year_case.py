"""Everything of a year's steps that does not depend on the tank."""

import csv

import common
import year_parts
import year_spans
from year_devices import Drive, Inverter
from year_pump import PumpSet
from year_weather import array_steps

YEAR_S = 8760 * 3600.0


def read_rows(name):
    with open(common.DATA / name, encoding="utf-8") as file:
        return list(csv.reader(line for line in file if not line.startswith("#")))[1:]


def price_table(tariff):
    """price[month][hour]"""
    table = {}
    for season in tariff["seasons"]:
        for month in season["months"]:
            for band in season["bands"]:
                for hour in range(band["from_h"], band["to_h"]):
                    table[month, hour] = band["price_per_kwh"]
    assert len(table) == 12 * 24
    return table


def of_inverter(spec, number, groups, count):
    mine = [group for group in groups if group["inverter"] == number]
    inverter = Inverter(spec, mine)
    return {"step": [inverter.step(i) for i in range(count)], "held": inverter.held}


def of_set(spec, number, groups, civil):
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
        drives = {month: Drive(pumpset, mine) for month, pumpset in by_month.items()}
        case["start"] = {month: pumpset.start for month, pumpset in by_month.items()}
        case["step"] = [drives[month].step(i) for i, (month, _) in enumerate(civil)]
        powers_w = zip(*(group["p_mp_w"].tolist() for group in mine))
        case["available_w"] = [sum(powers) for powers in powers_w]
    return case


def prepare(plant, step_s):
    station, parts = common.read_station("723170"), year_parts.of_plant(plant)
    site, count = plant["site"], int(YEAR_S) // step_s
    civil = year_spans.civil(
        count, step_s, site["time_zone"], station["offset_h"], site["year"]
    )
    months = [month for month, _ in civil]
    groups, weather = array_steps(plant, parts, station, step_s, months)
    loads = {int(row[0]): [float(v) * 1000.0 for v in row[1:]] for row in read_rows(plant["loads"])}
    prices = price_table(plant["tariff"])
    daily, shares = plant["demand"]["m3_per_day"], plant["demand"]["hour_share"]
    assert abs(sum(shares) - 1.0) < 1e-12
    outages = year_spans.outage_seconds(
        read_rows(plant["outages"]), site["time_zone"], station["offset_h"], site["year"]
    )
    inverters, sets = parts["inverters"], parts["sets"]
    return {
        "step_s": step_s,
        "civil": civil,
        "weather": weather,
        "groups": [
            {
                "available_w": group["p_mp_w"].tolist(),
                "has_inverter": group["inverter"] is not None,
                "has_drive": group["drive"] is not None,
            }
            for group in groups
        ],
        "inverters": [of_inverter(spec, n, groups, count) for n, spec in enumerate(inverters)],
        "sets": [of_set(spec, n, groups, civil) for n, spec in enumerate(sets)],
        "reconnection_s": max(inverter["reconnection_s"] for inverter in inverters),
        "loads_first": plant.get("sun_first", "pump") == "loads",
        "load_w": [loads[m][h] for m, h in civil],
        "price": [prices[key] for key in civil],
        "demand_m3_s": [daily[m - 1] * shares[h] / 3600.0 for m, h in civil],
        "outages": outages,
    }
