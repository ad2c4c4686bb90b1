"""Cost lines, and the quantity by which each is multiplied."""

import year_parts
from year_row import WITHOUT_ARRAY

ON_INVERTER = ("grid-tied", "battery-hybrid")
WITH_INVERTER = (*ON_INVERTER, "dual-mode")


def cost_lines(plant):
    """(capital, upkeep per year, replacements) as lists of lines; each names its rows."""
    spec = plant["money"]
    if isinstance(spec["capital"], list):
        return spec["capital"], spec["upkeep"], spec["replacement"]
    capital = [
        {"cost": cost, "arrangements": [name]}
        for name, items in spec["capital"].items()
        for _, cost in items
    ]
    upkeep = [
        {"cost": cost, "arrangements": [name]} for name, cost in spec["upkeep_per_year"].items()
    ]
    return capital, upkeep, []


def groups_of(row, parts):
    """The string groups that an arrangement uses."""
    if row.arrangement in WITHOUT_ARRAY:
        return []
    if row.arrangement == "dual-mode":
        return parts["groups"]
    key = "inverter" if row.arrangement in ON_INVERTER else "drive"
    return [group for group in parts["groups"] if group[key] is not None]


def quantity(plant, row, per):
    """What the plant has of it in this row; what the row's wiring does not use is 0."""
    uses = {
        "inverter-kw": row.arrangement in WITH_INVERTER,
        "drive-kw": row.on_drives,
        "battery-kwh": row.battery,
    }
    return amount(plant, row, per) if uses.get(per, True) else 0.0


def amount(plant, row, per):
    parts = year_parts.of_plant(plant)
    modules = sum(g["modules_in_series"] * g["strings"] for g in groups_of(row, parts))
    with_strings = {group["drive"] for group in parts["groups"]}
    sets = parts["sets"]
    amounts = {
        "one": lambda: 1.0,
        "module": lambda: modules,
        "kwp": lambda: modules * plant["module"]["v_mp_v"] * plant["module"]["i_mp_a"] / 1000.0,
        "inverter-kw": lambda: sum(one["rated_ac_kw"] for one in parts["inverters"]),
        "drive-kw": lambda: sum(
            one["drive"]["rated_kw"] for n, one in enumerate(sets) if n in with_strings
        ),
        "motor-kw": lambda: sum(one["motor"]["rated_shaft_kw"] for one in sets),
        "battery-kwh": lambda: plant["battery"]["capacity_kwh"],
        "tank-m3": lambda: row.tank(plant)["capacity_m3"],
        "pipe-m": lambda: sum(pipe["length_m"] for one in sets for pipe in one["pipes"]),
    }
    return amounts[per]()


def cost_of(plant, row, line):
    """Cost of a line: what the farm owns already costs nothing."""
    bought = quantity(plant, row, line.get("per", "one")) - line.get("owned", 0.0)
    return line["cost"] * max(bought, 0.0)


def upkeep_of(plant, row, line):
    """Upkeep in year 1: what the farm owns already needs it too."""
    return line["cost"] * quantity(plant, row, line.get("per", "one"))
