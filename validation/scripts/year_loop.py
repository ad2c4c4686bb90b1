"""One year of one arrangement: pieces cut at every event, everything booked."""

from collections import defaultdict

import year_spans


def pieces(spans, step_s):
    """(step, begin_s, end_s, span) cut at steps and span edges."""
    for span in spans:
        begin, end = span[0], span[1]
        step = int(begin // step_s)
        while begin < end:
            edge = min((step + 1) * step_s, end)
            if edge > begin:
                yield step, begin, edge, span
            begin, step = edge, step + 1


class Tank:
    def __init__(self, spec, level_m3, wanted):
        self.full = spec["capacity_m3"]
        self.restart = spec["restart"] * self.full
        self.low = spec["low"] * self.full
        self.level, self.wanted = level_m3, wanted
        self.settle()

    def settle(self):
        if self.level >= self.full:
            self.wanted = False
        elif self.level <= self.restart:
            self.wanted = True

    def seconds_to_event(self, net, watch_low):
        """Seconds to the next mark at a net inflow in m³/s, and the mark."""
        if net > 0.0:
            marks = [m for m in ([self.low] if watch_low else []) + [self.full] if m > self.level]
        elif net < 0.0:
            marks = [0.0]
            if watch_low:
                marks.append(self.low)
            if not self.wanted:
                marks.append(self.restart)
            marks = [m for m in marks if m < self.level]
        else:
            marks = []
        if not marks:
            return float("inf"), None
        mark = min(marks) if net > 0.0 else max(marks)
        return (mark - self.level) / net, mark


class Year:
    """Accounts in W·s and m³; `run` goes through the year once."""

    def __init__(self, plant, case, spans, has_array, hours_allowed):
        self.plant, self.case, self.spans = plant, case, spans
        self.groups = case["groups"] if has_array else []
        from_h, to_h = hours_allowed
        # from 20 to 6 passes midnight
        self.hours = {h % 24 for h in range(from_h, to_h if to_h > from_h else to_h + 24)}
        self.held_to_use = plant["export"] == "none"
        self.pieces = list(pieces(spans, case["step_s"]))

    def run(self, level_m3, wanted):
        self.tank = Tank(self.plant["tank"], level_m3, wanted)
        self.sum = defaultdict(float)
        self.lost = defaultdict(float)
        self.cost = self.loads_cost = 0.0
        for step, begin, end, (_, _, grid, pump, array) in self.pieces:
            self.sum["seconds"] += end - begin
            if not grid:
                self.sum["outage_s"] += end - begin
            self.piece(step, end - begin, grid, pump, array)
        return self.tank.level, self.tank.wanted

    def water_flows(self, step, demand, allowed, pumps):
        """Inflow of the drives, inflow of the pumps on mains, share of the time that these run."""
        case, tank = self.case, self.tank
        if not tank.wanted:
            return 0.0, 0.0, 0.0
        month, _ = case["civil"][step]
        driven = mains = 0.0
        for pump_set, pump in zip(case["sets"], pumps):
            if pump == "drive":
                driven += pump_set["step"][step]["flow"]
            elif pump == "mains":
                mains += pump_set["rated"][month]["flow"]
        share = 0.0
        if mains > 0.0:
            if allowed or tank.level < tank.low:
                share = 1.0
            elif tank.level == tank.low:
                share = min(max((demand - driven) / mains, 0.0), 1.0)
        return driven, share * mains, share

    def piece(self, step, left_s, grid, pump, array):
        case, tank = self.case, self.tank
        demand = case["demand_m3_s"][step]
        allowed = case["civil"][step][1] in self.hours
        pumps = [year_spans.of_set(pump, grid, s["driven"]) for s in case["sets"]]
        watch_low = "mains" in pumps and not allowed
        while left_s > 0.0:
            driven, mains, share = self.water_flows(step, demand, allowed, pumps)
            inflow = driven + mains
            net = inflow - demand
            if watch_low and 0.0 < share < 1.0:
                net = 0.0
            if tank.level <= 0.0 and net < 0.0:
                after_s, mark = left_s, 0.0
                net = 0.0
                delivered = inflow
            else:
                after_s, mark = tank.seconds_to_event(net, watch_low)
                delivered = demand
            lasts_s = min(left_s, after_s)
            pumping = 1.0 if driven > 0.0 else share
            self.water(lasts_s, inflow, demand, delivered, pumping, grid)
            for part, running in ((share, True), (1.0 - share, False)):
                if part > 0.0:
                    self.energy(step, part * lasts_s, running, grid, pumps, array)
            if after_s <= left_s:
                tank.level = mark
            else:
                tank.level += net * lasts_s
            tank.settle()
            left_s -= lasts_s

    def water(self, lasts_s, inflow, demand, delivered, pumping, grid):
        self.sum["demand_m3"] += demand * lasts_s
        self.sum["pumped_m3"] += inflow * lasts_s
        self.sum["delivered_m3"] += delivered * lasts_s
        self.sum["pumping_s"] += pumping * lasts_s
        if not grid:
            self.sum["pumping_in_outage_s"] += pumping * lasts_s

    def energy(self, step, lasts_s, running, grid, pumps, array):
        """Books one stretch in which the pumps on mains run or stand."""
        month, _ = self.case["civil"][step]
        on_mains = [
            pump_set["rated"][month]
            for pump_set, pump in zip(self.case["sets"], pumps)
            if running and pump == "mains"
        ]
        pump_w = sum(rated["output_w"] for rated in on_mains)
        motor_w = sum(rated["motor_w"] for rated in on_mains)
        load_w = self.case["load_w"][step]
        bus_w = self.array(step, lasts_s, grid, array, pump_w + load_w)
        for pump_set, pump in zip(self.case["sets"], pumps):
            if pump == "drive" and self.groups:
                self.on_drive(pump_set, step, lasts_s)
        self.sum["load"] += load_w * lasts_s
        if grid:
            self.bus(step, lasts_s, bus_w, pump_w, motor_w, load_w)
        else:
            assert pump_w == 0.0 and bus_w == 0.0
            self.sum["load_unserved"] += load_w * lasts_s

    def array(self, step, lasts_s, grid, array, wanted_w):
        """Books the groups that idle and the inverters; gives the power on the bus."""
        for group in self.groups:
            available = group["available_w"][step]
            self.sum["available"] += available * lasts_s
            does = year_spans.of_group(array, grid, group["has_inverter"], group["has_drive"])
            if does not in ("none", "inverter", "drive"):
                self.lost[does] += available * lasts_s
        if array != "inverter":
            return 0.0
        outcomes = [inverter["step"][step] for inverter in self.case["inverters"]]
        offered_w = sum(outcome["bus"] for outcome in outcomes)
        if self.held_to_use and offered_w > wanted_w:
            part = wanted_w / offered_w
            outcomes = [
                inverter["held"](outcome, outcome["bus"] * part)
                for inverter, outcome in zip(self.case["inverters"], outcomes)
            ]
        for outcome in outcomes:
            for cause, watts in outcome["lost"].items():
                self.lost[cause] += watts * lasts_s
        return min(sum(outcome["bus"] for outcome in outcomes), offered_w)

    def bus(self, step, lasts_s, bus_w, pump_w, motor_w, load_w):
        """Shares the inverters' power among pump, loads and export; the grid gives the rest."""
        case, total = self.case, self.sum
        if case["loads_first"]:
            to_load = min(bus_w, load_w)
            to_pump = min(bus_w - to_load, pump_w)
        else:
            to_pump = min(bus_w, pump_w)
            to_load = min(bus_w - to_pump, load_w)
        export = 0.0 if self.held_to_use else bus_w - to_pump - to_load
        imported = pump_w - to_pump + load_w - to_load
        at_motor = motor_w / pump_w if pump_w > 0.0 else 1.0
        total["bus"] += bus_w * lasts_s
        total["bus_to_pump"] += to_pump * lasts_s
        total["pump_array"] += to_pump * at_motor * lasts_s
        total["pump_grid"] += (pump_w - to_pump) * at_motor * lasts_s
        total["grid_motor_cable"] += (pump_w - to_pump) * (1.0 - at_motor) * lasts_s
        self.lost["cables"] += to_pump * (1.0 - at_motor) * lasts_s
        total["load_array"] += to_load * lasts_s
        total["load_grid"] += (load_w - to_load) * lasts_s
        total["exported"] += export * lasts_s
        total["imported"] += imported * lasts_s
        self.cost += imported * lasts_s * case["price"][step]
        self.loads_cost += load_w * lasts_s * case["price"][step]

    def on_drive(self, pump_set, step, lasts_s):
        if not self.tank.wanted:
            self.lost["water-not-wanted"] += pump_set["available_w"][step] * lasts_s
            return
        drive = pump_set["step"][step]
        self.sum["pump_array"] += drive["motor_w"] * lasts_s
        self.sum["beyond"] += drive["beyond"] * lasts_s
        for cause, watts in drive["lost"].items():
            self.lost[cause] += watts * lasts_s
