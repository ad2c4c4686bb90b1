"""A whole year of every row of the plants on the Greensboro station."""

import json
import sys

import common
import year_report
from year_case import YEAR_S, prepare
from year_loop import Year
from year_row import rows_of
from year_service import LESS, service

SEVERAL = ["idle-strings", "mppt-window", "voltage-limited-speed"]
RIVALS = ["held-off-by-grid", "battery-limit", "battery-conversion"]
DEVICES = [
    "tracking", "start-lockout", "voltage-limited-speed", "drive-limit", "well-limit", "mppt-window",
    "inverter-clipping", "held-off-by-grid",
]  # fmt: skip
# plant, steps, causes that must lose some of its energy
PLANTS = [
    ("dual_mode", {"10min": 600, "1h": 3600}, []),
    ("tight", {"10min": 600}, ["well-limit", "drive-limit", "export-limit"]),
    ("pair", {"10min": 600}, [*SEVERAL, "export-limit"]),
    ("mixed", {"10min": 600}, SEVERAL),
    ("rivals", {"10min": 600, "1h": 3600}, ["grid-voltage-trip", "export-limit", *RIVALS]),
    ("rivals-pair", {"10min": 600}, ["idle-strings", *RIVALS]),
    ("rules", {"10min": 600}, ["idle-strings", "export-limit", *RIVALS]),
    ("devices", {"10min": 600}, DEVICES),
]
MOST_PASSES = 40


def away(end, begin, year):
    """Distance of a state from its start, as a share of tank and battery."""
    apart = [abs(end[0] - begin[0]) / year.tank.full]
    if year.battery:
        apart += [abs(end[n] - begin[n]) / year.battery.full for n in (3, 4)]
    return max(apart)


def settle_year(plant, case, row):
    """Repeats the year until tank and battery end as they began, far closer than 0.1 %."""
    year = Year(plant, case, row, YEAR_S)
    full = year.battery.full if year.battery else 0.0
    state, best = (year.tank_spec["capacity_m3"], False, True, full, full), None
    for passes in range(1, MOST_PASSES + 1):
        end = year.run(state)
        apart = away(end, state, year)
        if best is None or apart < best[0]:
            best = apart, state
        if apart < 1e-11:
            break
        state = end
    else:
        # no content repeats after a year: the pass that ends closest to its start counts
        state = best[1]
        year.run(state)
        print(plant["name"], row.name, "does not settle:", best[0], file=sys.stderr)
    year.start, year.passes, year.periodic = state, passes, best[0] < 1e-6
    return year


def with_generator(plant, rows, years):
    """Rows that serve less than today also get a row with the generator, where the plant has one."""
    if "generator" not in plant:
        return []
    less = {row.name: service(plant, row, years) for row in rows}
    poor = [row for row in rows if LESS in (less[row.name]["water"], less[row.name]["loads"])]
    return [row.with_generator() for row in poor if row.with_generator().name not in years]


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
    rows = rows_of(plant)
    years = {row.name: settle_year(plant, case, row) for row in rows}
    for row in with_generator(plant, rows, years):
        years[row.name] = settle_year(plant, case, row)
        rows.append(row)
    extended = len(rows) > 4
    for row in rows:
        year_report.check_balances(years[row.name])
        for quantity, value in year_report.rows_of_year(plant, row, years, extended):
            yield row.name, quantity, value
    for cause in causes:
        # the limits that this plant is meant to test do lose energy
        assert sum(year.lost[cause] for year in years.values()) > 0.0, cause


def main():
    libraries = ["pvlib", "scipy", "fluids", "numpy-financial", "numpy", "pandas"]
    head = common.made_by("dual_mode_year.py", *libraries)
    wanted = sys.argv[1:] or [name for name, _, _ in PLANTS]
    for name, steps, causes in PLANTS:
        if name not in wanted:
            continue
        plant = json.loads((common.DATA / f"{name}_plant.json").read_text(encoding="utf-8"))
        plant["name"] = name
        for label, step_s in steps.items():
            rows = rows_of_case(plant, prepare(plant, step_s), causes)
            columns = ["arrangement", "quantity", "value"]
            common.write_csv(f"{name}_year_{label}.csv", head, columns, rows)


if __name__ == "__main__":
    main()
