"""What each pump set does at a moment: stand, run from the sun alone, or draw on the bus."""

from year_second_input import held_off

# DIRECT: a set with a drive that runs direct on a generator, or from the sun where it does not
NONE, DRIVE, BUS, SECOND, DIRECT = "none", "drive", "bus", "second", "direct"
NOTHING = {
    "flow": 0.0, "bus_w": 0.0, "bus_motor_w": 0.0, "drive": None, "on_bus": False, "runs": 0.0,
}  # fmt: skip


def places(moment, sets):
    """What each set runs on while water is wanted."""
    return [place(moment, pump_set) for pump_set in sets]


def place(moment, pump_set):
    row, span, source = moment.year.row, moment.span, moment.source
    if not (row.on_drives and pump_set["driven"]):
        # started by hand, it stands until somebody has pressed the button
        return NONE if source == NONE or span.latch_open else BUS
    if span.pump == "mains":
        return NONE if source == NONE else BUS
    if span.pump != "drive":
        return NONE
    if source == "generator":
        flow, wanted = pump_set["step"][moment.step]["flow"], pump_set["wanted_flow"][moment.month]
        if moment.year.generator.sun_is_enough(flow, wanted):
            return DRIVE
        if not row.second_input:
            return DIRECT
    # a second input that does nothing in this hour leaves the set to the sun
    has_second = row.second_input and source in ("grid", "generator")
    return SECOND if has_second and pump_set["second"][moment.step] else DRIVE


class Limits:
    """What bounds the sets on the bus: its power, and the surplus rule while it is not open."""

    def __init__(self, most_w, surplus, offered_w):
        self.most_w, self.surplus, self.offered_w = most_w, surplus, offered_w

    def takes(self, place_, bus_w, taken_w, open_):
        if taken_w + bus_w > self.most_w:
            return False
        if open_:
            return True
        if place_ != BUS or self.surplus is None:
            return False
        return self.surplus * (taken_w + bus_w) <= self.offered_w


def working(places_, case_sets, moment, limits, open_):
    """What each set does; those on the bus run wholly or not at all, in the order of the file."""
    found, taken_w = [], 0.0
    for pump_set, place_ in zip(case_sets, places_):
        does = NOTHING
        if place_ in (DRIVE, SECOND, DIRECT):
            does = on_drive(pump_set["step"][moment.step])
        if place_ in (BUS, SECOND, DIRECT):
            asked = on_bus(pump_set, moment.step, moment.month, place_)
            if limits.takes(place_, asked["bus_w"], taken_w, open_):
                does = asked
                taken_w += asked["bus_w"]
        found.append(does)
    return found


def on_drive(outcome):
    return NOTHING | {"flow": outcome["flow"], "drive": outcome, "runs": outcome["runs"]}


def on_bus(pump_set, step, month, place_):
    if place_ == SECOND:
        outcome = pump_set["second"][step]
        return on_drive(outcome) | {
            "bus_w": outcome["mains_w"], "bus_motor_w": outcome["mains_motor_w"],
        }  # fmt: skip
    rated = pump_set["rated"][month]
    return {
        "flow": rated["flow"],
        "bus_w": rated["output_w"],
        "bus_motor_w": rated["motor_w"],
        "drive": held_off(pump_set["free"][step], pump_set["available_w"][step])
        if place_ == DIRECT
        else None,
        "on_bus": True,
        "runs": 1.0,
    }


def share_that_holds(demand, off, on):
    """Share of the time for which sets run at the low mark so that the level stays."""
    if on <= off:
        # running gains nothing: below the mark they run at any hour
        return 0.0 if off >= demand else 1.0
    return min(max((demand - off) / (on - off), 0.0), 1.0)
