"""What is counted beside energy and water: days, months, starts of motors and drives."""

from collections import defaultdict

import year_spans

SHORT, DRY = 0.01, 0.5


class Counts:
    def __init__(self, year, before):
        """`before` has what ran and which drives had power at the end of the pass before."""
        self.year = year
        sets = year.case["sets"]
        self.ran, self.powered = before or ([False] * len(sets), None)
        self.day_m3 = defaultdict(lambda: [0.0, 0.0])
        self.month_m3 = defaultdict(float)
        self.in_outages_m3 = 0.0
        self.starts, self.starts_of_day = 0.0, defaultdict(float)
        self.power_ups = 0

    def see(self, moment, lasts_s, delivered):
        """A stretch of constant rates."""
        if lasts_s <= 0.0:
            return
        of_day = self.day_m3[self.day(moment)]
        of_day[0] += moment.demand * lasts_s
        of_day[1] += delivered * lasts_s
        self.month_m3[moment.month] += delivered * lasts_s
        if not moment.span.grid:
            self.in_outages_m3 += delivered * lasts_s
        self.see_motors(moment, lasts_s)
        self.see_drives(moment)

    def day(self, moment):
        return self.year.case["day"][moment.step]

    def see_motors(self, moment, lasts_s):
        for number in range(len(self.ran)):
            on = moment.busy is not None and moment.busy[number]["on_bus"]
            off = moment.idle is not None and moment.idle[number]["on_bus"]
            if 0.0 < moment.share < 1.0 and on != off:
                # held by fractions of the time: one start an hour
                started, runs = lasts_s / 3600.0, True
            else:
                runs = on if moment.share > 0.0 else off
                started = float(runs and not self.ran[number])
            self.starts += started
            self.starts_of_day[self.day(moment), number] += started
            self.ran[number] = runs

    def see_drives(self, moment):
        """Drives that have got power, from their strings or from mains on a second input."""
        if not self.year.row.on_drives:
            return
        by_mains = self.year.row.second_input and moment.source in ("grid", "generator")
        powered = {
            group["drive"]
            for group, does in zip(self.year.groups, moment.groups_do)
            if does == "drive" and group["available_w"][moment.step] > 0.0
        }
        if by_mains:
            powered |= {n for n, one in enumerate(self.year.case["sets"]) if one["driven"]}
        if self.powered is not None:
            self.power_ups += len(powered - self.powered)
        self.powered = powered

    def cycles(self):
        if self.year.row.arrangement != "dual-mode":
            return 0
        waits = self.year.plant["changeover_s"]
        return year_spans.changeover_cycles(self.year.case["outages"], waits)

    def shortage(self):
        """(short days, days of the longest dry spell, worst deficit in m³ and in days of its demand)."""
        short_days = dry = longest = 0
        run, worst = [], (0.0, 0.0)
        for day in sorted(self.day_m3):
            demand, delivered = self.day_m3[day]
            dry = dry + 1 if demand > 0.0 and delivered < DRY * demand else 0
            longest = max(longest, dry)
            missing = demand - delivered
            if missing <= SHORT * demand:
                run = []
                continue
            short_days += 1
            run.append((demand, missing))
            deficit = sum(one[1] for one in run)
            if deficit > worst[0]:
                mean = sum(one[0] for one in run) / len(run)
                worst = deficit, deficit / mean
        return short_days, longest, *worst
