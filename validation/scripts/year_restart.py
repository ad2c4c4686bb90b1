"""The latch of mains starters that are restarted by hand: when it is open."""

from year_rule import clock_hours


class Clock:
    """The civil hours along the year's axis."""

    def __init__(self, case):
        self.step_s, self.civil = case["step_s"], case["civil"]
        self.year_s = len(self.civil) * self.step_s

    def first_in(self, hours, at_s):
        """The first instant from `at_s` on in one of the hours; the year's end if there is none."""
        step = int(at_s // self.step_s)
        while step < len(self.civil):
            if self.civil[step][1] in hours:
                return max(at_s, step * self.step_s)
            step += 1
        return self.year_s

    def within(self, hours, begin_s, end_s):
        """The parts of a span that lie in the hours."""
        others = set(range(24)) - hours
        at_s = self.first_in(hours, begin_s)
        while at_s < end_s:
            until_s = min(self.first_in(others, at_s), end_s)
            yield at_s, until_s
            at_s = self.first_in(hours, until_s) if until_s < end_s else end_s


def supplies(clock, outages, generator):
    """(begin, end) of every time with power: the utility, or a generator that can run."""
    at = 0.0
    for begin, end in outages:
        yield at, begin
        if generator and begin + generator.delay_s < end:
            yield from clock.within(generator.attended, begin + generator.delay_s, end)
        at = end
    yield at, clock.year_s


def closed(clock, outages, generator, pumping):
    """(begin, end) of every time at which the latch is closed; it is so when the year begins."""
    attended = clock_hours(pumping["attended_hours"])
    delay_s = pumping.get("restart_delay_s", 0.0)
    for number, (begin, end) in enumerate(supplies(clock, outages, generator)):
        if number > 0:
            begin = clock.first_in(attended, begin + delay_s)
        if begin < end:
            yield begin, end


def with_latch(spans, case, generator, pumping):
    """Spans cut where the latch closes, and marked where it is open."""
    clock, marked = Clock(case), []
    edges = sorted({t for pair in closed(clock, case["outages"], generator, pumping) for t in pair})
    begins = {begin for begin, _ in closed(clock, case["outages"], generator, pumping)}
    is_open, index = True, 0
    for span in spans:
        at = span.begin
        while at < span.end:
            while index < len(edges) and edges[index] <= at:
                is_open = edges[index] not in begins
                index += 1
            until = min(edges[index], span.end) if index < len(edges) else span.end
            marked.append(span._replace(begin=at, end=until, latch_open=is_open))
            at = until
    return marked
