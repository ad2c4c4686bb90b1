"""Strings that suit both devices: conditions, lengths, every layout of the worked plants."""

import math

import numpy as np

import common
import strings_plant
from strings_layout import Layout, Lengths, digits, layouts
from year_curve import JointCurve
from year_flux import FluxRule

PLANTS = ["mulenga-ridge", "three-weirs", "tamarind-post"]


class CubicPump:
    """Takes 13.7·(f/50)³ kW and 11.314 V per Hz up to 50 Hz, always at full flux; its "flow" is the frequency."""

    start_flow, least_flux = 1.0, 1.0

    def hz_of_many(self, flows):
        return flows

    def shaft_w(self, hz, _flow):
        return 13.7e3 * (hz / 50.0) ** 3

    def need_v(self, hz):
        return 11.314 * hz

    def powers(self, _hz, shaft_w, _flux):
        return {"drive_in_w": shaft_w, "current_a": 0.0 * shaft_w}


def check_speed():
    """19 × 5 strings of common.MODULE at four moments, worked by hand from the I–V curve."""
    module, fitted, pump = common.MODULE, common.fit_module(), CubicPump()
    for sun_w_m2, cell_c, hz, volts in (
        (1000.0, 65.0, 50.0, 570.7),
        (1000.0, 70.0, 49.35, 558.3),
        (600.0, 50.0, 49.35, 558.3),
        (400.0, 45.0, 44.08, None),
    ):
        moment = {"effective_w_m2": sun_w_m2, "cell_c": cell_c}
        moment |= {"current_factor": 1.0, "cable_k": 0.0}
        strings = strings_plant.strings_at(module, fitted, moment, 19, 5)
        best_w = np.array(strings["p_mp_w"])
        by_power = np.minimum(50.0 * (best_w / 13.7e3) ** (1.0 / 3.0), 50.0)
        rule = FluxRule(pump, [strings], [0], best_w, np.zeros(1), np.full(1, np.inf))
        found = float(rule.solve(by_power)[0][0])
        assert abs(found - hz) < 0.1, (sun_w_m2, cell_c, found)
        taken_w = float(pump.shaft_w(found, None))
        if volts is None:
            assert math.isclose(taken_w, float(best_w[0]), rel_tol=1e-7)
        else:
            seen_v = JointCurve([strings], 0).greatest_v(taken_w)
            assert abs(seen_v - volts) < 1.0, (sun_w_m2, cell_c, seen_v)


def check_window():
    """Drive 800 V, inverter 1000 V: 19 modules at 0 °C, 18 at -5 °C."""
    module = common.MODULE | {"system_voltage_v": None}
    sheet = {"name": "inverter", "greatest_dc_v": 1000.0}
    drive = {"name": "pump", "greatest_dc_v": 800.0, "drive": {}}
    for coldest_c, longest, of_19_v in ((0.0, 19, 793.2), (-5.0, 18, 806.3)):
        plant = dict.fromkeys(("hot_max_power_v", "cold_max_power_v", "hot_open_v"), 0.0)
        cold_v = strings_plant.cold_open_v(module, coldest_c)
        plant |= {"module": module, "cold_open_v": cold_v}
        lengths = Lengths(plant, {"inverters": [sheet], "sets": [drive], "fields": []})
        assert max(n for n in range(1, 40) if lengths.allowed(n)) == longest
        assert abs(19 * cold_v - of_19_v) < 0.05


def check_fuses():
    """Five strings on inputs of 2 + 2 + 1, one drive, 15 A at most, 9.43 A short circuit."""
    module = common.MODULE | {"greatest_fuse_a": 15.0}
    field = {"inverter": "inverter", "plane": "array", "modules": 95, "sets": ["pump"]}
    sub = {"name": "inverter", "inverters": [], "sets": [{"name": "pump"}], "fields": [field]}
    layout = Layout(Lengths({"module": module}, sub), 19, 2, [{"pump": 5}])
    assert layout.fuse(2) == 0
    assert layout.fuses == {"pump": 15}
    assert layout.used_inputs("inverter") == 3
    assert layout.poles() == 6


def conditions(plant):
    keys = ["cold_open_v", "cold_max_power_v", "hot_open_v", "hot_max_power_v"]
    air = [plant["coldest_c"], plant["hottest_c"], plant["noon"]["cell_c"]]
    return [plant["name"], *(digits(v) for v in (*air, *(plant[key] for key in keys)))]


def main():
    check_speed()
    check_window()
    check_fuses()
    conditions_rows, length_rows, layout_rows = [], [], []
    for plant in map(strings_plant.read, PLANTS):
        conditions_rows.append(conditions(plant))
        for sub in plant["sub_arrays"]:
            lengths = Lengths(plant, sub)
            for series in range(1, lengths.most() + 1):
                for rule, device, value, limit, keeps in lengths.judged(series):
                    figures = [digits(value), digits(limit), int(keeps)]
                    length_rows.append([plant["name"], sub["name"], series, rule, device, *figures])
                if lengths.allowed(series):
                    layout_rows += [layout.row() for layout in layouts(lengths, series)]
    head = common.made_by("strings.py", "pvlib", "scipy", "fluids", "numpy", "pandas")
    columns = [
        "plant", "coldest_air_c", "hottest_air_c", "noon_cell_c", "cold_open_v",
        "cold_max_power_v", "hot_open_v", "hot_max_power_v",
    ]  # fmt: skip
    common.write_csv("strings_conditions.csv", head, columns, conditions_rows)
    columns = ["plant", "sub_array", "series", "rule", "device", "value", "limit", "keeps"]
    common.write_csv("strings_lengths.csv", head, columns, length_rows)
    columns = [
        "plant", "sub_array", "series", "per_input", "shares", "suits", "broken", "hz", "poles",
        "idle_kw", "fuse_a",
    ]  # fmt: skip
    common.write_csv("strings_layouts.csv", head, columns, layout_rows)


if __name__ == "__main__":
    main()
