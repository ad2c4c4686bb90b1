"""The constant rates between two events: water first, then energy."""

from collections import defaultdict

import year_spans
from year_sets import BUS, DIRECT, NONE, SECOND, Limits, places, share_that_holds, working

ROUNDING_W = 1e-6


class Moment:
    def __init__(self, year, step, span):
        self.year, self.step, self.span = year, step, span
        self.case = year.case
        self.month, self.hour = year.case["civil"][step]
        self.demand = year.case["demand_m3_s"][step]
        # whether the battery stays at a mark, and whether it is held there by alternating between two regimes
        self.rests = self.slides = False
        self.source = self.find_source()
        self.groups_do = [year_spans.of_group(span, group) for group in year.groups]
        self.feeding = self.find_feeding()
        self.water()

    def find_source(self):
        """The source that holds the bus."""
        year = self.year
        if self.span.grid:
            return "grid"
        if year.battery and not year.battery.shut_down:
            return "island"
        if self.span.generator and self.hour in year.generator.attended:
            return "generator"
        return NONE

    def find_feeding(self):
        numbers = {
            group["inverter"]
            for group, does in zip(self.year.groups, self.groups_do)
            if does == "inverter"
        }
        return [inverter for n, inverter in enumerate(self.case["inverters"]) if n in numbers]

    def loads(self):
        """(the loads, the part of them that the bus may serve)."""
        load_w, backed_w = self.case["load_w"][self.step], self.case["backed_w"][self.step]
        if self.source == "grid":
            return load_w, load_w
        if self.source == "island":
            return load_w, backed_w
        if self.source == "generator":
            return load_w, self.year.generator.load_w(load_w, backed_w)
        return load_w, 0.0

    def most_w(self):
        """P_max of an island or a generator."""
        if self.source == "generator":
            return self.year.generator.rated_w
        if self.source == "island":
            offered_w = sum(inverter["step"][self.step]["bus"] for inverter in self.feeding)
            return offered_w + self.year.battery.discharge_w
        return float("inf")

    def is_open(self):
        """Whether the row's rule leaves the bus to the pumps at any level."""
        year = self.year
        if self.source == "generator" and year.generator.only_when_low:
            return False
        return self.hour in year.rule.hours and not year.tank.stopped

    def limits(self):
        """What bounds the sets on the bus."""
        most_w, offered_w = self.most_w(), 0.0
        loads_w = self.loads()[1] if self.year.bus.loads_first else 0.0
        if most_w < float("inf"):
            most_w -= min(loads_w, most_w)
        if self.source in ("grid", "island"):
            offered_w = sum(inverter["step"][self.step]["bus"] for inverter in self.feeding)
        return Limits(most_w, self.year.rule.surplus, offered_w - loads_w)

    def water(self):
        """Inflow, and the share of the time for which the sets that wait for the low mark run."""
        tank, sets = self.year.tank, self.case["sets"]
        does = places(self, sets)
        open_ = self.is_open()
        self.watch_low = not open_ and any(place in (BUS, SECOND, DIRECT) for place in does)
        self.share, self.idle, self.busy = 0.0, None, None
        self.inflow = self.pumping = 0.0
        self.net = -self.demand
        if not tank.wanted:
            return
        limits = self.limits()

        def sets_when(open_now):
            found = working(does, sets, self, limits, open_now)
            runs = max((one["runs"] for one in found), default=0.0)
            return found, sum(one["flow"] for one in found), runs

        self.idle, off, idle_runs = sets_when(open_)
        self.busy, on, busy_runs = self.idle, off, idle_runs
        if self.watch_low and tank.level <= tank.low:
            self.busy, on, busy_runs = sets_when(True)
            self.share = 1.0 if tank.level < tank.low else share_that_holds(self.demand, off, on)
        self.inflow = self.share * on + (1.0 - self.share) * off
        self.pumping = self.share * busy_runs + (1.0 - self.share) * idle_runs
        self.net = 0.0 if 0.0 < self.share < 1.0 else self.inflow - self.demand

    def parts(self):
        """[(share of the time, rates, losses)], and the battery's means of `at_side`."""
        battery = self.year.battery
        parts, rates_w = self.at_side(0)
        if not battery or battery.content not in battery.marks:
            return parts, rates_w
        net_w = net(rates_w)
        if abs(net_w) < ROUNDING_W:
            self.rests = True
            return parts, rates_w
        side = 1 if net_w > 0.0 else -1
        beyond, beyond_w = self.at_side(side)
        if net(beyond_w) * side >= 0.0:
            return beyond, beyond_w
        # it would return at once: alternate between both, so that the content stays at the mark
        self.rests = self.slides = True
        share = net_w / (net_w - net(beyond_w))
        mixed = [((1.0 - share) * part, *rest) for part, *rest in parts]
        mixed += [(share * part, *rest) for part, *rest in beyond]
        return mixed, tuple((1.0 - share) * a + share * b for a, b in zip(rates_w, beyond_w))

    def at_side(self, side):
        """The parts, and the battery's mean power from array, from grid and out, W."""
        parts = []
        for share, sets in ((self.share, self.busy), (1.0 - self.share, self.idle)):
            if share > 0.0:
                parts.append((share, *self.energy(sets, side)))
        keys = ("to_battery", "from_grid", "discharged")
        return parts, tuple(sum(p * rates.get(k, 0.0) for p, rates, _ in parts) for k in keys)

    def energy(self, sets, side):
        """Rates and losses, W, while `sets` do what they do; None where no water is wanted."""
        load_w, may_w = self.loads()
        pump_w = sum(one["bus_w"] for one in sets or [])
        motor_w = sum(one["bus_motor_w"] for one in sets or [])
        served_w = min(may_w, max(self.most_w() - pump_w, 0.0))
        asked = {"pump_w": pump_w, "motor_w": motor_w, "load_w": served_w}
        rates, lost = self.on_bus(asked, side)
        rates["load"], rates["load_unserved"] = load_w, load_w - served_w
        rates["bus_asked"] = pump_w + served_w
        rates["cost"] = rates["imported"] * self.case["price"][self.step]
        rates["loads_cost"] = 0.0
        if self.span.grid:
            rates["loads_cost"] = load_w * self.case["price"][self.step]
        self.exported(rates)
        self.arrays(rates, lost)
        self.on_drives(sets, rates, lost)
        return rates, lost

    def on_bus(self, asked, side):
        year, step = self.year, self.step
        if self.source == "grid":
            # it waits for the slowest inverter
            battery = year.battery if all(self.span.feeds) else None
            return year.bus.of_grid(self.feeding, step, asked, battery, side)
        if self.source == "island":
            return year.bus.of_island(self.feeding, step, asked, year.battery, side)
        rates, lost = defaultdict(float), defaultdict(float)
        if year.battery:
            rates, lost = year.bus.of_dark(self.feeding, step, year.battery, side)
        if self.source == "generator":
            self.on_generator(asked, rates)
        return rates, lost

    def on_generator(self, asked, rates):
        for key, rate in self.year.bus.of_generator(asked)[0].items():
            rates[key] += rate
        if rates["generator"] > 0.0:
            rates["generator_s"] = 1.0
            rates["fuel_l"] = self.year.generator.fuel_l_per_s(rates["generator"])

    def exported(self, rates):
        credit = self.case["credit"][self.step]
        agreed = self.year.plant["export"] == "paid" and credit > 0.0
        rates["exported_paid" if agreed else "exported_unpaid"] += rates["exported"]
        rates["credit"] = rates["exported"] * credit if agreed else 0.0

    def arrays(self, rates, lost):
        """Available power, and the losses of groups that have nowhere to go."""
        for group, does in zip(self.year.groups, self.groups_do):
            available_w = group["available_w"][self.step]
            rates["available"] += available_w
            if does not in ("none", "inverter", "drive"):
                lost[does] += available_w

    def on_drives(self, sets, rates, lost):
        if self.span.array != "drive" or not self.year.groups:
            return
        for number, pump_set in enumerate(self.case["sets"]):
            if not pump_set["driven"]:
                continue
            if sets is None:
                lost["water-not-wanted"] += pump_set["available_w"][self.step]
                continue
            drive = sets[number]["drive"]
            rates["pump_array"] += drive["motor_w"]
            rates["beyond"] += drive["beyond"]
            rates["reduced_s"] += drive["reduced"]
            for cause, watts in drive["lost"].items():
                lost[cause] += watts


def net(rates_w):
    return rates_w[0] + rates_w[1] - rates_w[2]
