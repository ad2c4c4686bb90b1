"""One year of one row: pieces cut at every event, everything booked."""

from collections import defaultdict

import year_spans
from year_battery import Battery
from year_bus import Bus
from year_counts import Counts
from year_generator import Generator
from year_moment import Moment
from year_restart import with_latch
from year_rule import Rule
from year_tank import Tank


def pieces(spans, step_s):
    """(step, begin_s, end_s, span) cut at steps and span edges."""
    for span in spans:
        begin, end = span.begin, span.end
        step = int(begin // step_s)
        while begin < end:
            edge = min((step + 1) * step_s, end)
            if edge > begin:
                yield step, begin, edge, span
            begin, step = edge, step + 1


class Year:
    """Accounts in W·s and m³; `run` goes through the year once."""

    def __init__(self, plant, case, row, year_s):
        self.plant, self.case, self.row = plant, case, row
        self.generator = Generator(plant["generator"]) if row.generator else None
        spans = year_spans.of_arrangement(
            row.arrangement, case["outages"], year_s, plant["changeover_s"], case["inverters"],
            self.generator.delay_s if self.generator else None,
        )  # fmt: skip
        if plant["pumping"].get("restart") == "by-hand" and not row.battery:
            # an island takes over without a break
            spans = with_latch(spans, case, self.generator, plant["pumping"])
        self.groups = case["groups"] if row.has_array else []
        self.rule = Rule(plant, row)
        self.bus = Bus(plant)
        self.battery = Battery(plant["battery"]) if row.battery else None
        self.tank_spec = row.tank(plant)
        self.pieces = list(pieces(spans, case["step_s"]))
        self.before = None

    def run(self, state):
        """`state` is (level, wanted, fill latch stopped, battery's content, its share from the array) at the start."""
        self.tank = Tank(self.tank_spec, self.rule, *state[:3])
        if self.battery:
            self.battery.begin_year(*state[3:])
        self.counts = Counts(self, self.before)
        self.sum, self.lost = defaultdict(float), defaultdict(float)
        self.events, self.slides = 0, 0
        grid_before, hour_before = True, None
        for step, begin, end, span in self.pieces:
            if self.battery:
                self.battery.begin_span(span.grid, grid_before)
            grid_before = span.grid
            hour = int(begin // 3600.0)
            if hour != hour_before:
                self.tank.begin_hour(self.case["civil"][step][1])
            hour_before = hour
            self.sum["seconds"] += end - begin
            if not span.grid:
                self.sum["outage_s"] += end - begin
            self.piece(step, end - begin, span)
        self.before = self.counts.ran, self.counts.powered
        return self.state()

    def state(self):
        stored = (self.battery.content, self.battery.of_array) if self.battery else (0.0, 0.0)
        return (self.tank.level, self.tank.wanted, self.tank.stopped, *stored)

    def piece(self, step, left_s, span):
        while left_s > 0.0:
            self.events += 1
            moment = Moment(self, step, span)
            lasts_s = self.stretch(moment, left_s)
            left_s -= lasts_s

    def stretch(self, moment, left_s):
        """Advances to the next event at most."""
        tank, battery = self.tank, self.battery
        demand, net = moment.demand, moment.net
        if tank.level <= 0.0 and net < 0.0:
            after_s, mark = float("inf"), None
            net, delivered = 0.0, moment.inflow
        else:
            after_s, mark = tank.seconds_to_event(net, moment.watch_low)
            delivered = demand
        parts, rates_w = moment.parts()
        battery_after_s, battery_mark = float("inf"), None
        if battery:
            of_array_w, of_grid_w, out_w = rates_w
            net_w = 0.0 if moment.rests else of_array_w + of_grid_w - out_w
            battery_after_s, battery_mark = battery.seconds_to_mark(net_w)
        lasts_s = min(left_s, after_s, battery_after_s)
        self.water(lasts_s, moment, delivered)
        self.counts.see(moment, lasts_s, delivered)
        for share, rates, lost in parts:
            self.book(share * lasts_s, rates, lost)
        if battery:
            reached = battery_mark if battery_after_s <= lasts_s else None
            if moment.rests:
                reached = battery.content
            self.slides += moment.slides
            battery.go(lasts_s, of_array_w, of_grid_w, out_w, reached)
            battery.settle(moment.span.grid)
        if after_s <= lasts_s:
            tank.level = mark
        else:
            tank.level += net * lasts_s
        tank.settle()
        return lasts_s

    def water(self, lasts_s, moment, delivered):
        self.sum["demand_m3"] += moment.demand * lasts_s
        self.sum["pumped_m3"] += moment.inflow * lasts_s
        self.sum["delivered_m3"] += delivered * lasts_s
        self.sum["pumping_s"] += moment.pumping * lasts_s
        if not moment.span.grid:
            self.sum["pumping_in_outage_s"] += moment.pumping * lasts_s

    def book(self, seconds, rates, lost):
        for key, rate in rates.items():
            self.sum[key] += rate * seconds
        for cause, watts in lost.items():
            self.lost[cause] += watts * seconds
