"""What each pump set does at a moment: stand, run from the sun alone, or draw on the bus."""

NONE, DRIVE, BUS, SECOND = "none", "drive", "bus", "second"
NOTHING = {"flow": 0.0, "bus_w": 0.0, "bus_motor_w": 0.0, "drive": None}
ALWAYS, WHEN_LOW = "always", "when low"


def places(row, span, source, sets, step):
    """What each set runs on while water is wanted."""
    return [place(row, span, source, pump_set, step) for pump_set in sets]


def place(row, span, source, pump_set, step):
    if not (row.on_drives and pump_set["driven"]) or span.pump == "mains":
        return NONE if source == NONE else BUS
    if span.pump != "drive":
        return NONE
    if source == "generator":
        # the sun has precedence over the generator
        if pump_set["step"][step]["flow"] > 0.0:
            return DRIVE
        return SECOND if row.second_input and pump_set["second"][step] else direct(row)
    if source == "grid" and row.second_input and pump_set["second"][step]:
        return SECOND
    return DRIVE


def direct(row):
    """A second input that does nothing in this hour leaves the set to the sun."""
    return DRIVE if row.second_input else BUS


def working(places_, runs, case_sets, step, month, most_w):
    """What each set does; those on the bus run wholly or not at all, in the order of the file."""
    found, taken_w = [], 0.0
    for pump_set, place_, running in zip(case_sets, places_, runs):
        does = NOTHING
        if place_ == DRIVE or (place_ == SECOND and not running):
            does = on_drive(pump_set["step"][step])
        elif running and place_ in (BUS, SECOND):
            does = on_bus(pump_set, step, month, place_)
            if taken_w + does["bus_w"] > most_w:
                does = NOTHING if place_ == BUS else on_drive(pump_set["step"][step])
            taken_w += does["bus_w"]
        found.append(does)
    return found


def on_drive(outcome):
    return {"flow": outcome["flow"], "bus_w": 0.0, "bus_motor_w": 0.0, "drive": outcome}


def on_bus(pump_set, step, month, place_):
    if place_ == BUS:
        rated = pump_set["rated"][month]
        return {
            "flow": rated["flow"],
            "bus_w": rated["output_w"],
            "bus_motor_w": rated["motor_w"],
            "drive": None,
        }
    outcome = pump_set["second"][step]
    return on_drive(outcome) | {
        "bus_w": outcome["mains_w"], "bus_motor_w": outcome["mains_motor_w"],
    }  # fmt: skip


def share_that_holds(demand, off, on):
    """Share of the time for which sets run at the low mark so that the level stays."""
    if on <= off:
        # running gains nothing: below the mark they run at any hour
        return 0.0 if off >= demand else 1.0
    return min(max((demand - off) / (on - off), 0.0), 1.0)
