"""What a row delivers, compared with the reference; words as numbers: less -1, as today 0, more 1."""

LESS, AS_TODAY, MORE = -1, 0, 1
WS_PER_KWH = 3.6e6


def service(plant, row, years):
    spec = plant["money"]
    today, own = years[spec["reference"]], years[row.name]
    months = {m: own.counts.month_m3[m] - today.counts.month_m3[m] for m in range(1, 13)}
    year_m3, today_m3 = own.sum["delivered_m3"], today.sum["delivered_m3"]
    out, out_today = own.counts.in_outages_m3, today.counts.in_outages_m3
    short = any(
        own.counts.month_m3[m] < 0.99 * today.counts.month_m3[m] for m in range(1, 13)
    )
    more_dark = own.sum["load_unserved"] - today.sum["load_unserved"]
    water = LESS if short else of_two(year_m3, today_m3)
    loads = of_two(own.sum["load"] - more_dark, own.sum["load"])
    has_water = water != LESS or "value_of_lost_water_per_m3" in spec
    has_loads = loads != LESS or "value_of_lost_load_per_kwh" in spec
    return {
        "water": water,
        "water_delta_m3": year_m3 - today_m3,
        "worst_month_delta_m3": min(months.values()),
        "water_in_outages": of_two(out, out_today),
        "water_in_outages_delta_m3": out - out_today,
        "loads": loads,
        "load_delta_kwh": (today.sum["load_unserved"] - own.sum["load_unserved"]) / WS_PER_KWH,
        "comparable": int(has_water and has_loads),
    }


def of_two(own, today):
    """Within 1 % counts as today's."""
    if own < 0.99 * today:
        return LESS
    return MORE if own > 1.01 * today else AS_TODAY
