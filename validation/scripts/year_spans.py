"""Outages to spans: (begin_s, end_s, grid, pump, array) over the year, by arrangement.

`pump` is none, mains or drive; `array` is none, inverter, drive or the cause
under which all it could have made is booked. They are those of a pump with a
drive and of a group with drive and inverter; `of_set` and `of_group` say what
another set or group does meanwhile.
"""

from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

GRID_DOWN, CHANGEOVER, WAITING = "grid-down", "changeover", "waiting-to-reconnect"
IDLE = "idle-strings"


def of_set(pump, grid, driven):
    """A set without driven strings is on mains whenever the grid is there."""
    if driven:
        return pump
    return "mains" if grid else "none"


def of_group(array, grid, has_inverter, has_drive):
    if array == "drive" and not has_drive:
        return IDLE
    if array in ("inverter", WAITING) and not has_inverter:
        return IDLE
    if array == CHANGEOVER and not grid and not has_drive:
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


def simple(outages, year_s, up, down):
    """Spans of an arrangement whose two states follow the grid without waits."""
    spans, at = [], 0.0
    for begin, end in outages:
        spans += [(at, begin, True, *up), (begin, end, False, *down)]
        at = end
    return [*spans, (at, year_s, True, *up)]


def grid_tied(outages, year_s, reconnection_s):
    spans, at = [], 0.0
    fresh = False
    for begin, end in [*outages, (year_s, year_s)]:
        feeds = min(at + reconnection_s, begin) if fresh else at
        spans.append((at, feeds, True, "mains", WAITING))
        spans.append((feeds, begin, True, "mains", "inverter"))
        spans.append((begin, end, False, "none", GRID_DOWN))
        at, fresh = end, True
    return spans


def dual_mode(outages, year_s, waits, reconnection_s):
    to_drive = waits["to_drive"]
    spans, at = [], 0.0
    fresh, running = False, False
    for begin, end in [*outages, (year_s, year_s)]:
        if fresh:
            # the grid came back at `at`; each part ends early if it is lost again
            edges = [at]
            for wait in (waits["grid_stable"], waits["to_mains"], reconnection_s):
                edges.append(edges[-1] + wait)
            edges = [min(edge, begin) for edge in edges]
            stable = ("drive", "drive") if running else ("none", CHANGEOVER)
            spans.append((edges[0], edges[1], True, *stable))
            spans.append((edges[1], edges[2], True, "none", CHANGEOVER))
            spans.append((edges[2], edges[3], True, "mains", WAITING))
            spans.append((edges[3], begin, True, "mains", "inverter"))
            still = running and begin < at + waits["grid_stable"]
        else:
            spans.append((at, begin, True, "mains", "inverter"))
            still = False
        if still:
            spans.append((begin, end, False, "drive", "drive"))
        else:
            starts = min(begin + to_drive, end)
            spans.append((begin, starts, False, "none", CHANGEOVER))
            spans.append((starts, end, False, "drive", "drive"))
            running = end >= begin + to_drive
        at, fresh = end, True
    return spans


def of_arrangement(name, outages, year_s, waits, reconnection_s):
    if name == "grid-only":
        spans = simple(outages, year_s, ("mains", "none"), ("none", "none"))
    elif name == "solar-drive":
        spans = simple(outages, year_s, ("drive", "drive"), ("drive", "drive"))
    elif name == "grid-tied":
        spans = grid_tied(outages, year_s, reconnection_s)
    else:
        spans = dual_mode(outages, year_s, waits, reconnection_s)
    spans = [span for span in spans if span[1] > span[0]]
    assert spans[0][0] == 0.0 and spans[-1][1] == year_s
    assert all(a[1] == b[0] for a, b in zip(spans, spans[1:]))
    return spans
