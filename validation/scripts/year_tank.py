"""The tank: its level, whether water is wanted, the fill latch, and the marks."""


class Tank:
    def __init__(self, spec, rule, level_m3, wanted, stopped):
        self.full = spec["capacity_m3"]
        self.restart = spec["restart"] * self.full
        self.low = rule.low * self.full
        self.fill, self.band = rule.fill, self.full - self.restart
        self.level, self.wanted, self.stopped = level_m3, wanted, stopped

    def begin_hour(self, hour):
        """The marks of the fill latch; an hour may stop or release it as it begins."""
        self.stop = self.fill[hour] * self.full
        self.release = max(self.stop - self.band, self.low)
        self.settle()

    def settle(self):
        if self.level >= self.full:
            self.wanted = False
        elif self.level <= self.restart:
            self.wanted = True
        if self.level >= self.stop:
            self.stopped = True
        elif self.level <= self.release:
            self.stopped = False

    def seconds_to_event(self, net, watch_low):
        """Seconds to the next mark at a net inflow in m³/s, and the mark."""
        if net > 0.0:
            marks = [self.full]
            if watch_low:
                marks.append(self.low)
            if not self.stopped:
                marks.append(self.stop)
            marks = [m for m in marks if m > self.level]
        elif net < 0.0:
            marks = [0.0]
            if watch_low:
                marks.append(self.low)
            if not self.wanted:
                marks.append(self.restart)
            if self.stopped:
                marks.append(self.release)
            marks = [m for m in marks if m < self.level]
        else:
            marks = []
        if not marks:
            return float("inf"), None
        mark = min(marks) if net > 0.0 else max(marks)
        return (mark - self.level) / net, mark
