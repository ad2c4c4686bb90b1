"""The tank: its level, whether water is wanted, and its marks."""


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
