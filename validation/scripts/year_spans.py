"""Outages to spans of the year, by arrangement: the grid, what pumps, where the array is connected."""

from datetime import datetime, timedelta, timezone
from typing import NamedTuple
from zoneinfo import ZoneInfo

GRID_DOWN, CHANGEOVER, WAITING = "grid-down", "changeover", "waiting-to-reconnect"
IDLE, ISLAND = "idle-strings", "island"


class Span(NamedTuple):
    """`pump` (none, mains, drive) is that of a driven set, `array` (none, inverter, island, drive
    or a cause of loss) that of a switched group; `of_group` says what other groups do meanwhile. `feeds`
    says which inverters have waited since the grid's return. `latch_open` says whether sets that are started
    by hand stand."""

    begin: float
    end: float
    grid: bool
    pump: str
    array: str
    feeds: tuple = ()
    generator: bool = False
    latch_open: bool = False


def of_group(span, group):
    """none, inverter, drive, or the cause under which all of the group's power is lost."""
    number, array = group["inverter"], span.array
    if array in ("none", GRID_DOWN):
        return array
    if array == ISLAND:
        return IDLE if number is None else "inverter"
    if span.feeds and (group["own_strings"] or array == "inverter"):
        if number is None or not span.grid:
            return IDLE
        return "inverter" if span.feeds[number] else WAITING
    if not group["has_drive"] and (array == "drive" or not span.grid):
        return IDLE
    return array


def outage_seconds(pairs, zone_name, offset_h, year):
    """Civil times to seconds from the start of the simulation year."""
    zone = ZoneInfo(zone_name)
    start = datetime(year, 1, 1, tzinfo=timezone(timedelta(hours=offset_h)))

    def seconds(stamp):
        local = datetime.fromisoformat(stamp).replace(tzinfo=zone)
        return (local.astimezone(timezone.utc) - start).total_seconds()

    return [(seconds(a), seconds(b)) for a, b in pairs]


def civil(count, step_s, zone_name, offset_h, year):
    """Civil (month, hour) of every step."""
    zone = ZoneInfo(zone_name)
    start = datetime(year, 1, 1, tzinfo=timezone(timedelta(hours=offset_h)))
    start = start.astimezone(timezone.utc)
    per_hour = 3600 // step_s
    found = []
    for hour in range(count // per_hour):
        local = (start + timedelta(hours=hour)).astimezone(zone)
        assert local.minute == 0
        found += [(local.month, local.hour)] * per_hour
    return found


def civil_days(count, step_s, zone_name, offset_h, year):
    """Civil day of every step, counted from 0."""
    zone = ZoneInfo(zone_name)
    start = datetime(year, 1, 1, tzinfo=timezone(timedelta(hours=offset_h)))
    start = start.astimezone(timezone.utc)
    per_hour = 3600 // step_s
    first = datetime(year, 1, 1).date()
    found = []
    for hour in range(count // per_hour):
        local = (start + timedelta(hours=hour)).astimezone(zone)
        found += [(local.date() - first).days] * per_hour
    return found


def changeover_cycles(outages, waits):
    """How often a changeover leaves the grid: with every outage that does not find the drive still running."""
    count, running, stable_at = 0, False, 0.0
    for begin, end in outages:
        if not (running and begin < stable_at):
            count += 1
            running = end >= begin + waits["to_drive"]
        stable_at = end + waits["grid_stable"]
    return count


def simple(outages, year_s, up, down):
    """Spans of an arrangement whose two states follow the grid without waits."""
    spans, at = [], 0.0
    for begin, end in outages:
        spans += [Span(at, begin, True, *up), Span(begin, end, False, *down)]
        at = end
    return [*spans, Span(at, year_s, True, *up)]


def since_return(at, begin, phases, feeds_at):
    """Spans while the grid is on: (until, pump, array) in turn, cut where inverters start to feed.

    Each part ends early if the grid is lost again.
    """
    spans, start = [], at
    for until, pump, array in phases:
        until = min(until, begin)
        edges = sorted({start, until, *(feed for feed in feeds_at if start < feed < until)})
        for a, b in zip(edges, edges[1:]):
            feeds = tuple(a >= feed for feed in feeds_at)
            spans.append(Span(a, b, True, pump, array, feeds))
        start = max(until, start)
    return spans


def grid_tied(outages, year_s, inverters, down):
    """`down` is what the array is connected to in an outage."""
    waits_s = [inverter["reconnection_s"] for inverter in inverters]
    spans, at, fresh = [], 0.0, False
    for begin, end in [*outages, (year_s, year_s)]:
        feeds_at = [at + wait_s * fresh for wait_s in waits_s]
        spans += since_return(at, begin, [(begin, "mains", "inverter")], feeds_at)
        spans.append(Span(begin, end, False, "none", down, (True,) * len(waits_s)))
        at, fresh = end, True
    return spans


def back_from_drive(at, begin, waits, inverters, running):
    """Dual-mode after the grid's return at `at`, until it is lost again."""
    stable = at + waits["grid_stable"]
    on_mains = stable + waits["to_mains"]
    feeds_at = [
        (on_mains if inverter["switched"] else at) + inverter["reconnection_s"]
        for inverter in inverters
    ]
    phases = [
        (stable, *(("drive", "drive") if running else ("none", CHANGEOVER))),
        (on_mains, "none", CHANGEOVER),
        (begin, "mains", "inverter"),
    ]
    return since_return(at, begin, phases, feeds_at)


def dual_mode(outages, year_s, waits, inverters):
    spans, at = [], 0.0
    fresh, running = False, False
    none_feeds = (False,) * len(inverters)
    for begin, end in [*outages, (year_s, year_s)]:
        if fresh:
            spans += back_from_drive(at, begin, waits, inverters, running)
        else:
            spans += since_return(at, begin, [(begin, "mains", "inverter")], [at] * len(inverters))
        if fresh and running and begin < at + waits["grid_stable"]:
            spans.append(Span(begin, end, False, "drive", "drive", none_feeds))
        else:
            starts = min(begin + waits["to_drive"], end)
            spans.append(Span(begin, starts, False, "none", CHANGEOVER, none_feeds))
            spans.append(Span(starts, end, False, "drive", "drive", none_feeds))
            running = end >= begin + waits["to_drive"]
        at, fresh = end, True
    return spans


def with_generator(spans, outages, delay_s):
    """Outages cut where a generator may start, and marked from there on."""
    begins, marked = dict((end, begin) for begin, end in outages), []
    ends = iter(sorted(begins))
    end = next(ends, None)
    for span in spans:
        while end is not None and end <= span.begin:
            end = next(ends, None)
        if span.grid:
            marked.append(span)
            continue
        ready = min(max(begins[end] + delay_s, span.begin), span.end)
        marked.append(span._replace(end=ready))
        marked.append(span._replace(begin=ready, generator=True))
    return marked


def of_arrangement(name, outages, year_s, waits, inverters, generator_delay_s=None):
    if name == "grid-only":
        spans = simple(outages, year_s, ("mains", "none"), ("none", "none"))
    elif name in ("solar-drive", "solar-drive-with-grid"):
        spans = simple(outages, year_s, ("drive", "drive"), ("drive", "drive"))
    elif name == "grid-tied":
        spans = grid_tied(outages, year_s, inverters, GRID_DOWN)
    elif name == "battery-hybrid":
        spans = grid_tied(outages, year_s, inverters, ISLAND)
    else:
        spans = dual_mode(outages, year_s, waits, inverters)
    spans = [span for span in spans if span.end > span.begin]
    if generator_delay_s is not None:
        spans = with_generator(spans, outages, generator_delay_s)
    spans = [span for span in spans if span.end > span.begin]
    assert spans[0].begin == 0.0 and spans[-1].end == year_s
    assert all(a.end == b.begin for a, b in zip(spans, spans[1:]))
    return spans
