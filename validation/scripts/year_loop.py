"""One year of one arrangement: pieces cut at every event, everything booked."""

from collections import defaultdict


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
        self.has_array = has_array
        from_h, to_h = hours_allowed
        # from 20 to 6 passes midnight
        self.hours = {h % 24 for h in range(from_h, to_h if to_h > from_h else to_h + 24)}
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

    def piece(self, step, left_s, grid, pump, array):
        case, tank = self.case, self.tank
        month, hour = case["civil"][step]
        demand = case["demand_m3_s"][step]
        allowed = hour in self.hours
        rated = case["rated"][month]
        while left_s > 0.0:
            watch_low = pump == "mains" and not allowed
            share, inflow = 0.0, 0.0
            if pump == "drive":
                if tank.wanted:
                    inflow = case["drive"][step]["flow"]
                    share = 1.0 if inflow > 0.0 else 0.0
            elif pump == "mains" and tank.wanted:
                if allowed or tank.level < tank.low:
                    share = 1.0
                elif tank.level == tank.low:
                    share = min(1.0, demand / rated["flow"])
                inflow = share * rated["flow"]
            net = inflow - demand
            if watch_low and tank.level == tank.low and share < 1.0:
                net = 0.0
            if tank.level <= 0.0 and net < 0.0:
                after_s, mark = left_s, 0.0
                net = 0.0
                delivered = inflow
            else:
                after_s, mark = tank.seconds_to_event(net, watch_low)
                delivered = demand
            lasts_s = min(left_s, after_s)
            self.water(lasts_s, inflow, demand, delivered, share, grid)
            for part, running in ((share, True), (1.0 - share, False)):
                if part > 0.0:
                    self.energy(step, part * lasts_s, running, grid, pump, array)
            if after_s <= left_s:
                tank.level = mark
            else:
                tank.level += net * lasts_s
            tank.settle()
            left_s -= lasts_s

    def water(self, lasts_s, inflow, demand, delivered, share, grid):
        self.sum["demand_m3"] += demand * lasts_s
        self.sum["pumped_m3"] += inflow * lasts_s
        self.sum["delivered_m3"] += delivered * lasts_s
        self.sum["pumping_s"] += share * lasts_s
        if not grid:
            self.sum["pumping_in_outage_s"] += share * lasts_s

    def energy(self, step, lasts_s, running, grid, pump, array):
        """Books one stretch in which the pump runs or stands."""
        case, total = self.case, self.sum
        load_w = case["load_w"][step]
        rated = case["rated"][case["civil"][step][0]]
        pump_w = rated["output_w"] if running and pump == "mains" else 0.0
        at_motor = rated["motor_w"] / rated["output_w"]
        available = case["available_w"][step] if self.has_array else 0.0
        total["available"] += available * lasts_s
        bus_w, held = 0.0, False
        if array == "drive":
            self.on_drive(step, lasts_s, running, available)
        elif array == "inverter":
            inverter = case["inverter"][step]
            held = self.plant["export"] == "none" and inverter["bus"] > pump_w + load_w
            if held:
                inverter = case["held"](inverter, pump_w + load_w)
            bus_w = inverter["bus"]
            for cause, watts in inverter["lost"].items():
                self.lost[cause] += watts * lasts_s
        elif array != "none":
            self.lost[array] += available * lasts_s
        total["load"] += load_w * lasts_s
        if not grid:
            assert pump_w == 0.0 and bus_w == 0.0
            total["load_unserved"] += load_w * lasts_s
            return
        to_pump = min(bus_w, pump_w)
        to_load = min(bus_w - to_pump, load_w)
        export = 0.0 if held else bus_w - to_pump - to_load
        imported = pump_w - to_pump + load_w - to_load
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

    def on_drive(self, step, lasts_s, running, available):
        if not self.tank.wanted:
            self.lost["water-not-wanted"] += available * lasts_s
            return
        drive = self.case["drive"][step]
        assert running == (drive["flow"] > 0.0)
        self.sum["pump_array"] += drive["motor_w"] * lasts_s
        self.sum["beyond"] += drive["beyond"] * lasts_s
        for cause, watts in drive["lost"].items():
            self.lost[cause] += watts * lasts_s
