"""The bus at one moment: what gives power to it, and what takes it."""

import math
from collections import defaultdict

TRIP, EXPORT_LIMIT, BATTERY_LIMIT = "grid-voltage-trip", "export-limit", "battery-limit"


class Bus:
    def __init__(self, plant):
        self.loads_first = plant.get("sun_first", "pump") == "loads"
        self.export_w = 0.0
        if plant["export"] != "none":
            limit_kw = plant.get("export_limit_kw")
            self.export_w = math.inf if limit_kw is None else limit_kw * 1000.0
        self.line_w = line_w(plant["line"]) if "line" in plant else math.inf

    def split(self, power_w, pump_w, load_w):
        """(to pumps, to loads) of a power, in the plant's order."""
        if self.loads_first:
            to_load = min(power_w, load_w)
            return min(power_w - to_load, pump_w), to_load
        to_pump = min(power_w, pump_w)
        return to_pump, min(power_w - to_pump, load_w)

    def of_grid(self, feeding, step, asked, battery, side):
        """While the grid is on; `battery` only where it takes part."""
        room_w = battery.room_w(side) if battery else 0.0
        use_w = asked["pump_w"] + asked["load_w"] + room_w
        outcomes = [inverter["step"][step] for inverter in feeding]
        outcomes = hold(feeding, outcomes, use_w + self.line_w, TRIP)
        outcomes = hold(feeding, outcomes, use_w + self.export_w, EXPORT_LIMIT)
        return self.shared(outcomes, asked, room_w, "grid", battery, side)

    def of_island(self, feeding, step, asked, battery, side):
        room_w = battery.room_w(side)
        use_w = asked["pump_w"] + asked["load_w"] + room_w
        outcomes = [inverter["step"][step] for inverter in feeding]
        outcomes = hold(feeding, outcomes, use_w, BATTERY_LIMIT)
        return self.shared(outcomes, asked, room_w, "island", battery, side)

    def of_dark(self, feeding, step, battery, side):
        """The sun only charges."""
        room_w = battery.room_w(side)
        outcomes = [inverter["step"][step] for inverter in feeding]
        outcomes = hold(feeding, outcomes, room_w, BATTERY_LIMIT)
        nothing = {"pump_w": 0.0, "motor_w": 0.0, "load_w": 0.0}
        return self.shared(outcomes, nothing, room_w, "island", battery, side)

    def of_generator(self, asked):
        rates, lost = defaultdict(float), defaultdict(float)
        given = {"generator": (asked["pump_w"], asked["load_w"])}
        serve(rates, lost, asked, given)
        rates["generator"] = asked["pump_w"] + asked["load_w"]
        return rates, lost

    def shared(self, outcomes, asked, room_w, rest, battery, side):
        """Sun to pumps, loads, battery, export; then battery and grid for what is missing."""
        rates, lost = defaultdict(float), defaultdict(float)
        for outcome in outcomes:
            for cause, watts in outcome["lost"].items():
                lost[cause] += watts
        pump_w, load_w = asked["pump_w"], asked["load_w"]
        bus_w = sum(outcome["bus"] for outcome in outcomes)
        sun = self.split(bus_w, pump_w, load_w)
        charge_w = min(bus_w - sun[0] - sun[1], room_w)
        missing = pump_w - sun[0], load_w - sun[1]
        give_w = 0.0
        if battery:
            give_w = battery.discharge_w if rest == "island" else battery.beside_grid_w(side)
        given = self.split(give_w, *missing)
        last = missing[0] - given[0], missing[1] - given[1]
        by_grid_w = 0.0
        if rest == "grid":
            if battery:
                by_grid_w = max(battery.charged_by_grid_to_w(side) - charge_w, 0.0)
            if self.export_w > 0.0:
                rates["exported"] = bus_w - sun[0] - sun[1] - charge_w
            rates["imported"] = last[0] + last[1] + by_grid_w
        else:
            assert last[0] + last[1] <= 1e-6, "an island's source was too small"
        rates["bus"] = bus_w
        serve(rates, lost, asked, {"array": sun, "battery": given, "grid": last})
        if battery:
            charge(rates, lost, battery, charge_w, by_grid_w, given[0] + given[1])
        return rates, lost


def charge(rates, lost, battery, by_sun_w, by_grid_w, given_w):
    """Power into and out of the battery, at its own terminals."""
    rates["charge_bus"] = by_sun_w + by_grid_w
    rates["to_battery"] = by_sun_w * battery.into
    rates["from_grid"] = by_grid_w * battery.into
    rates["discharge_bus"] = given_w
    rates["discharged"] = given_w / battery.out_of
    lost["battery-conversion"] += by_sun_w - by_sun_w * battery.into


def serve(rates, lost, asked, given):
    """Books what each source gave to pumps and loads; pumps are counted at the motors."""
    pump_w = asked["pump_w"]
    at_motor = asked["motor_w"] / pump_w if pump_w > 0.0 else 1.0
    for source, (to_pump, to_load) in given.items():
        rates[f"pump_{source}"] = to_pump * at_motor
        rates[f"load_{source}"] = to_load
        rates["bus_to_pump"] += to_pump
        if source == "array":
            lost["cables"] += to_pump * (1.0 - at_motor)


def hold(feeding, outcomes, most_w, cause):
    """All inverters that feed, cut in proportion to what they offer."""
    offered_w = sum(outcome["bus"] for outcome in outcomes)
    if offered_w <= most_w:
        return outcomes
    part = most_w / offered_w
    return [
        inverter["held"](outcome, outcome["bus"] * part, cause)
        for inverter, outcome in zip(feeding, outcomes)
    ]


def line_w(line):
    """The power that raises a line's voltage from its no-load value to the maximum at which the inverters stay connected."""
    ohms = line["resistance_ohm_per_km"] * line["length_m"] / 1000.0
    nominal_v = line["nominal_v"]
    return (line["greatest_voltage"] - line["no_load_voltage"]) * nominal_v * nominal_v / ohms
