"""The rule by which the pumps of a row run on the bus: hours, fill level, low mark, surplus."""


def clock_hours(windows):
    """The hours of one window [from, to], or of several; from 20 to 6 passes midnight."""
    if not isinstance(windows[0], list):
        windows = [windows]
    found = set()
    for begin, end in windows:
        hours = {hour % 24 for hour in range(begin, end if end > begin else end + 24)}
        assert hours and not hours & found, "windows overlap"
        found |= hours
    return found


class Rule:
    """`fill` is one share of the capacity for each civil hour; `surplus` is None without one."""

    def __init__(self, plant, row):
        pumping = plant["pumping"]
        places = [own for own in plant["rules"] if row.name in own["rows"]]
        for key in ("mains_hours", "mains_fill", "low_mark", "surplus"):
            assert sum(key in place for place in places) <= 1, "two rules give one part"
        if row.night_tank:
            places.append({"mains_hours": plant["night_tank"]["hours"]})
        if row.second_input:
            places.append({"mains_hours": plant["grid_input"]["hours"]})
        places += [pumping, {"low_mark": plant["tank"]["low"]}]

        def first(key, default):
            return next((place[key] for place in places if key in place), default)

        self.hours = clock_hours(first("mains_hours", [0, 24]))
        fill = first("mains_fill", 1.0)
        self.fill = fill if isinstance(fill, list) else [fill] * 24
        self.low = first("low_mark", None)
        self.surplus = first("surplus", None)
        assert len(self.fill) == 24 and self.low < min(self.fill) and max(self.fill) <= 1.0
