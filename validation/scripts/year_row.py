"""A row: an arrangement, alone or with a generator, a bigger tank filled at night, or both."""

GENERATOR, NIGHT_TANK = "generator", "night-tank"
WITHOUT_ARRAY = ("grid-only",)
ON_DRIVES = ("solar-drive", "solar-drive-with-grid", "dual-mode")


class Row:
    def __init__(self, name):
        self.name = name
        self.arrangement, *self.beside = name.split("+")
        self.generator = GENERATOR in self.beside
        self.night_tank = NIGHT_TANK in self.beside
        self.has_array = self.arrangement not in WITHOUT_ARRAY
        self.on_drives = self.arrangement in ON_DRIVES
        self.second_input = self.arrangement == "solar-drive-with-grid"
        self.battery = self.arrangement == "battery-hybrid"

    def with_generator(self):
        names = [self.arrangement, GENERATOR, *([NIGHT_TANK] if self.night_tank else [])]
        return Row("+".join(names))

    def tank(self, plant):
        if not self.night_tank:
            return plant["tank"]
        return plant["tank"] | {"capacity_m3": plant["night_tank"]["capacity_m3"]}

    def bears(self, line):
        """Whether a cost line applies to this row."""
        named = set(line["arrangements"])
        return bool(named & {self.arrangement, self.name, *self.beside})


def rows_of(plant):
    """The rows of a plant; an arrangement gets both additions where both name it."""
    arrangements = ["grid-only", "solar-drive", "grid-tied", "dual-mode"]
    if "grid_input" in plant:
        arrangements.append("solar-drive-with-grid")
    if "battery" in plant:
        arrangements.append("battery-hybrid")
    generator = plant.get("generator", {}).get("beside", [])
    night = plant.get("night_tank", {}).get("beside", [])
    names = list(arrangements)
    names += [f"{name}+{GENERATOR}" for name in arrangements if name in generator]
    names += [f"{name}+{NIGHT_TANK}" for name in arrangements if name in night]
    both = [name for name in arrangements if name in generator and name in night]
    names += [f"{name}+{GENERATOR}+{NIGHT_TANK}" for name in both]
    return [Row(name) for name in names]
