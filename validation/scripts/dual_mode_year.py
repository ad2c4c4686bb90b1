"""A whole year of four supply arrangements on the Greensboro station, on four plants."""

import json

import numpy_financial as npf

import common
import year_spans
from year_case import YEAR_S, prepare
from year_loop import Year

ARRANGEMENTS = ["grid-only", "solar-drive", "grid-tied", "dual-mode"]
CAUSES = [
    "grid-down", "idle-strings", "changeover", "waiting-to-reconnect", "water-not-wanted",
    "well-limit", "below-start", "mppt-window", "voltage-limited-speed", "drive-limit",
    "pump-at-full-speed", "inverter-clipping", "export-limit", "inverter-conversion",
    "drive-conversion", "cables",
]  # fmt: skip
SEVERAL = ["idle-strings", "mppt-window", "voltage-limited-speed"]
# plant, steps, causes that must cost it something
PLANTS = [
    ("dual_mode", {"10min": 600, "1h": 3600}, []),
    ("tight", {"10min": 600}, ["well-limit", "drive-limit", "export-limit"]),
    ("pair", {"10min": 600}, [*SEVERAL, "export-limit"]),
    ("mixed", {"10min": 600}, SEVERAL),
]
WS_PER_KWH = 3.6e6


def settle_year(plant, case, name):
    """The year repeated until the tank ends as it began; ends far closer than 0.1 %."""
    spans = year_spans.of_arrangement(
        name, case["outages"], YEAR_S, plant["changeover_s"], case["reconnection_s"]
    )
    year = Year(plant, case, spans, name != "grid-only", plant["mains_hours"][name])
    level, wanted = plant["tank"]["capacity_m3"], False
    for passes in range(1, 21):
        end, end_wanted = year.run(level, wanted)
        if abs(end - level) < 1e-9:
            break
        level, wanted = end, end_wanted
    else:
        raise ArithmeticError("the tank does not settle")
    year.start_level, year.passes = level, passes
    return year


def check_balances(year):
    s = year.sum
    used = s["pump_array"] + s["load_array"] + s["exported"]
    lost = sum(year.lost.values())
    assert abs(s["available"] - used - lost) <= 1e-6 * s["available"]
    to_bus = s["imported"] + s["bus"]
    from_bus = sum(
        s[key]
        for key in (
            "bus_to_pump", "pump_grid", "grid_motor_cable", "load_array", "load_grid", "exported"
        )
    )  # fmt: skip
    assert abs(to_bus - from_bus) <= 1e-6 * to_bus
    supplied = s["load_array"] + s["load_grid"] + s["load_unserved"]
    assert abs(supplied - s["load"]) < 1e-6 * s["load"]
    stored = year.tank.level - year.start_level
    assert abs(s["pumped_m3"] - s["delivered_m3"] - stored) < 1e-6 * s["pumped_m3"]
    assert abs(s["seconds"] - YEAR_S) < 1e-6 * YEAR_S
    outage_s = sum(end - begin for begin, end in year.case["outages"])
    assert abs(s["outage_s"] - outage_s) < 1e-6 * YEAR_S


def first_bill(plant, year):
    tariff = plant["tariff"]
    credit = year.sum["exported"] / WS_PER_KWH * tariff["export_credit_per_kwh"]
    return year.cost / WS_PER_KWH + 12.0 * tariff["fixed_per_month"] - credit


def money(plant, name, years):
    """The row's money against the reference."""
    spec = plant["money"]
    reference = spec["reference"]
    capital = {k: sum(value for _, value in spec["capital"][k]) for k in (name, reference)}
    upkeep = {k: spec["upkeep_per_year"][k] for k in (name, reference)}
    bill = {k: first_bill(plant, years[k]) for k in (name, reference)}
    saving, fade = bill[reference] - bill[name], plant["array"]["yearly_degradation"]
    if name == "grid-only":
        fade = 0.0
    loads_bill = years[name].loads_cost / WS_PER_KWH + 12.0 * plant["tariff"]["fixed_per_month"]
    flows = [capital[reference] - capital[name]]
    costs, delivered = [capital[name]], [0.0]
    for n in range(spec["years"]):
        up, inflation = (1.0 + spec["escalation"]) ** n, (1.0 + spec["inflation"]) ** n
        kept = saving * (1.0 - fade) ** n
        flows.append(kept * up + (upkeep[reference] - upkeep[name]) * inflation)
        costs.append((bill[reference] - kept - loads_bill) * up + upkeep[name] * inflation)
        delivered.append(years[name].sum["delivered_m3"])
    rate, irr = spec["discount"], None
    if min(flows) < 0.0 < max(flows):
        irr = float(npf.irr(flows))
        assert abs(npf.npv(irr, flows)) < 1e-6 * abs(flows[0])
    payback = None
    if flows[1] > 0.0:
        payback = max(-flows[0], 0.0) / flows[1]
    return {
        "capital": capital[name],
        "first_year_bill": bill[name],
        "payback_years": payback,
        "npv": float(npf.npv(rate, flows)),
        "irr": irr,
        "cost_per_m3": float(npf.npv(rate, costs) / npf.npv(rate, delivered)),
    }


def rows_of(plant, name, years):
    year, s = years[name], years[name].sum

    def get(key):
        return s[key] / WS_PER_KWH

    yield "array_kwh.available", get("available")
    yield "array_kwh.to_pump", get("pump_array")
    yield "array_kwh.to_loads", get("load_array")
    yield "array_kwh.exported_paid", get("exported")
    yield "array_kwh.exported_unpaid", 0.0
    for cause in CAUSES:
        yield f"array_kwh.lost.{cause}", year.lost.get(cause, 0.0) / WS_PER_KWH
    conversion = sum(
        year.lost.get(c, 0.0) for c in ("inverter-conversion", "drive-conversion", "cables")
    )
    base = s["available"] - conversion
    used = s["pump_array"] + s["load_array"] + s["exported"]
    yield "array_use", used / base if base > 0.0 else None
    yield "grid_kwh.imported", get("imported")
    yield "grid_kwh.exported", get("exported")
    yield "pump_kwh.array", get("pump_array")
    yield "pump_kwh.grid", get("pump_grid")
    yield "load_kwh.demand", get("load")
    yield "load_kwh.array", get("load_array")
    yield "load_kwh.grid", get("load_grid")
    yield "load_kwh.unserved", get("load_unserved")
    yield "water_m3.demand", s["demand_m3"]
    yield "water_m3.pumped", s["pumped_m3"]
    yield "water_m3.delivered", s["delivered_m3"]
    yield "water_m3.shortfall", s["demand_m3"] - s["delivered_m3"]
    yield "water_m3.stored_change", year.tank.level - year.start_level
    yield "hours.outage", s["outage_s"] / 3600.0
    yield "hours.pumping", s["pumping_s"] / 3600.0
    yield "hours.pumping_in_outage", s["pumping_in_outage_s"] / 3600.0
    for key, value in money(plant, name, years).items():
        yield f"money.{key}", value
    yield "variant.voltage-limited-above-greatest-frequency", get("beyond")
    yield "note.tank_start_m3", year.start_level
    yield "note.passes", year.passes


def rows_of_set(pump_set):
    prefix = f"{pump_set['name']}." if pump_set["name"] else ""
    for name, keys in (("rated", ("hz", "flow", "motor_w", "output_w")), ("start", ("hz", "flow"))):
        for month, point in pump_set.get(name, {}).items():
            for key in keys:
                yield "pump", f"{prefix}{month:02d}.{name}.{key}", point[key]


def rows_of_case(plant, case, causes):
    for key, value in case["weather"].items():
        yield "weather", key, value
    for pump_set in case["sets"]:
        yield from rows_of_set(pump_set)
    years = {name: settle_year(plant, case, name) for name in ARRANGEMENTS}
    for name in ARRANGEMENTS:
        check_balances(years[name])
        for quantity, value in rows_of(plant, name, years):
            yield name, quantity, value
    if causes:
        check_causes(years.values(), causes)


def check_causes(years, causes):
    """The limits this plant is for do cost energy."""
    for cause in causes:
        assert sum(year.lost[cause] for year in years) > 0.0, cause


def main():
    libraries = ["pvlib", "scipy", "fluids", "numpy-financial", "numpy", "pandas"]
    head = common.made_by("dual_mode_year.py", *libraries)
    for name, steps, causes in PLANTS:
        plant = json.loads((common.DATA / f"{name}_plant.json").read_text(encoding="utf-8"))
        for label, step_s in steps.items():
            rows = rows_of_case(plant, prepare(plant, step_s), causes)
            columns = ["arrangement", "quantity", "value"]
            common.write_csv(f"{name}_year_{label}.csv", head, columns, rows)


if __name__ == "__main__":
    main()
