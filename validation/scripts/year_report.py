"""The balances of a settled year, and its rows in the CSV."""

import year_parts
from year_case import YEAR_S
from year_money import WS_PER_KWH, money
from year_service import service

CAUSES = [
    "grid-down", "idle-strings", "changeover", "waiting-to-reconnect", "water-not-wanted",
    "well-limit", "below-start", "mppt-window", "voltage-limited-speed", "drive-limit",
    "pump-at-full-speed", "inverter-clipping", "export-limit", "inverter-conversion",
    "drive-conversion", "cables",
]  # fmt: skip
NEW_CAUSES = ["grid-voltage-trip", "held-off-by-grid", "battery-limit", "battery-conversion"]
DEVICE_CAUSES = ["tracking", "start-lockout"]
CONVERSION = ("inverter-conversion", "drive-conversion", "battery-conversion", "cables")
SOURCES = ("array", "battery", "grid", "generator")


def close(a, b, scale):
    assert abs(a - b) <= 1e-6 * max(abs(scale), 1e-3), (a, b)


def check_balances(year):
    s, lost = year.sum, year.lost
    assert all(value >= -1e-6 * max(s["available"], 1.0) for value in lost.values()), lost
    assert set(lost) <= {*CAUSES, *NEW_CAUSES, *DEVICE_CAUSES}
    exported = s["exported_paid"] + s["exported_unpaid"]
    used = s["pump_array"] + s["load_array"] + s["to_battery"] + exported
    close(s["available"], used + sum(lost.values()), s["available"])
    to_bus = s["imported"] + s["bus"] + s["discharge_bus"] + s["generator"]
    close(to_bus, s["bus_asked"] + s["charge_bus"] + exported, to_bus)
    served = sum(s[f"load_{source}"] for source in SOURCES)
    close(served + s["load_unserved"], s["load"], s["load"])
    close(s["bus_to_pump"] + served, s["bus_asked"], s["load"])
    stored = year.tank.level - year.start[0]
    close(s["pumped_m3"] - s["delivered_m3"], stored, s["pumped_m3"])
    close(s["seconds"], YEAR_S, YEAR_S)
    close(sum(year.counts.month_m3.values()), s["delivered_m3"], s["delivered_m3"])
    assert len(year.counts.day_m3) == 365
    close(s["outage_s"], sum(end - begin for begin, end in year.case["outages"]), YEAR_S)
    assert s["generator_s"] <= s["outage_s"]
    if year.battery:
        stored = year.battery.content - year.start[3]
        close(s["to_battery"] + s["from_grid"] - s["discharged"], stored, s["discharged"])
        battery = year.battery
        close(s["discharge_bus"], s["discharged"] * battery.out_of, s["discharged"])
        close(s["charge_bus"] * battery.into, s["to_battery"] + s["from_grid"], s["discharged"])


def causes_of(years, extended):
    """The causes of a plant; those of devices only where one of its rows has them."""
    found = [*CAUSES, *NEW_CAUSES] if extended else CAUSES
    return [*found, *(c for c in DEVICE_CAUSES if any(year.lost.get(c) for year in years.values()))]


def rows_of_year(plant, row, years, extended):
    year, s = years[row.name], years[row.name].sum

    def get(key):
        return s[key] / WS_PER_KWH

    yield "array_kwh.available", get("available")
    yield "array_kwh.to_pump", get("pump_array")
    yield "array_kwh.to_loads", get("load_array")
    if extended:
        yield "array_kwh.to_battery", get("to_battery")
    yield "array_kwh.exported_paid", get("exported_paid")
    yield "array_kwh.exported_unpaid", get("exported_unpaid")
    for cause in causes_of(years, extended):
        yield f"array_kwh.lost.{cause}", year.lost.get(cause, 0.0) / WS_PER_KWH
    conversion = sum(year.lost.get(cause, 0.0) for cause in CONVERSION)
    base = s["available"] - conversion
    used = s["pump_array"] + s["load_array"] + s["to_battery"] + s["exported_paid"]
    yield "array_use", used / base if base > 0.0 else None
    yield "grid_kwh.imported", get("imported")
    yield "grid_kwh.exported", get("exported")
    if extended:
        yield from battery_and_generator(year, get)
    for use in ("pump", "load"):
        if use == "load":
            yield "load_kwh.demand", get("load")
        for source in ("array", "grid", "battery", "generator") if extended else ("array", "grid"):
            yield f"{use}_kwh.{source}", get(f"{use}_{source}")
    yield "load_kwh.unserved", get("load_unserved")
    yield from water_and_hours(year)
    for key, value in money(plant, row, years).items():
        yield f"money.{key}", value
    for key, value in service(plant, row, years).items():
        # words are written as numbers, and judged as such
        yield f"{'word.' if isinstance(value, int) else ''}service.{key}", value
    yield from shortage_and_starts(year)
    yield from flux(plant, year, get)
    yield "note.tank_start_m3", year.start[0]
    yield "note.passes", year.passes
    if extended:
        yield "note.periodic", int(year.periodic)
        yield "note.battery_start_kwh", year.start[3] / WS_PER_KWH
        yield "note.battery_start_from_array_kwh", year.start[4] / WS_PER_KWH


def flux(plant, year, get):
    """Hours with reduced flux; without it, what the voltage would cut beyond the maximum frequency."""
    drives = [one["drive"] for one in year_parts.of_plant(plant)["sets"] if one["drive"]]
    if all(drive["least_flux"] == 1.0 for drive in drives):
        yield "variant.voltage-limited-above-greatest-frequency", get("beyond")
    else:
        yield "note.reduced_flux_h", year.sum["reduced_s"] / 3600.0


def battery_and_generator(year, get):
    yield "battery_kwh.from_array", get("to_battery")
    yield "battery_kwh.from_grid", get("from_grid")
    yield "battery_kwh.discharged", get("discharged")
    stored = year.battery.content - year.start[3] if year.battery else 0.0
    yield "battery_kwh.stored_change", stored / WS_PER_KWH
    yield "generator.kwh", get("generator")
    yield "generator.hours", year.sum["generator_s"] / 3600.0
    yield "generator.fuel_l", year.sum["fuel_l"]


def shortage_and_starts(year):
    short_days, dry_spell, worst_m3, worst_days = year.counts.shortage()
    yield "shortage.short_days", short_days
    yield "shortage.dry_spell_days", dry_spell
    yield "shortage.worst_m3", worst_m3
    yield "shortage.worst_days", worst_days
    yield "starts.motor", year.counts.starts
    yield "starts.most_in_a_day", max(year.counts.starts_of_day.values())
    # starts on the sun are counted only at steps of one minute
    yield "starts.on_sun", None
    yield "starts.drive_power_ups", year.counts.power_ups
    yield "starts.changeover_cycles", year.counts.cycles()


def water_and_hours(year):
    s = year.sum
    yield "water_m3.demand", s["demand_m3"]
    yield "water_m3.pumped", s["pumped_m3"]
    yield "water_m3.delivered", s["delivered_m3"]
    yield "water_m3.shortfall", s["demand_m3"] - s["delivered_m3"]
    yield "water_m3.stored_change", year.tank.level - year.start[0]
    yield "hours.outage", s["outage_s"] / 3600.0
    yield "hours.pumping", s["pumping_s"] / 3600.0
    yield "hours.pumping_in_outage", s["pumping_in_outage_s"] / 3600.0
