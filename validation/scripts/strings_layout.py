"""Limits of single strings and of strings in parallel, and every way to distribute them."""

import functools
import itertools

from strings_speed import Speeds

# gPV ratings of IEC 60269-6, from memory, A
FUSES_A = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 25, 30, 32, 35, 40, 50, 63]

BY_LENGTH = [
    "cold-voltage-on-drive", "cold-voltage-on-inverter", "cold-voltage-of-module", "mppt-floor",
    "mppt-ceiling", "drive-start", "pump-speed", "useful-speed",
]  # fmt: skip
USEFUL_SPEED = 0.90
# warnings, and what each layout is judged by
FORBID_NOTHING = ("mppt-ceiling", "pump-speed", "useful-speed")
# a length that breaks one of these has no layouts
FORBID_A_LENGTH = [rule for rule in BY_LENGTH if rule not in FORBID_NOTHING]
BY_LAYOUT = [
    "pump-speed", "strings-on-input", "inputs", "short-circuit-on-input", "short-circuit-on-drive",
    "power-on-inverter", "power-on-drive", "fuse-on-inverter", "fuse-on-drive",
]  # fmt: skip


def digits(value):
    return f"{value:.9g}"


def exceeds(value, limit):
    """Whether a limit is broken; one that no datasheet gave is not checked."""
    return limit is not None and value > limit


def fuse_a(strings, short_circuit_a, most_a):
    """Rating of the string fuse: 0 where none is needed, None where no rating suits."""
    if not exceeds((strings - 1) * short_circuit_a, most_a):
        return 0
    least_a, below_a = 1.5 * short_circuit_a, 2.4 * short_circuit_a
    fitting = (a for a in FUSES_A if least_a < a < below_a and a <= most_a)
    return next(fitting, None)


def inputs(strings, per_input):
    return -(-strings // per_input)


def made_strings(field, series):
    return field["modules"] // series


class Lengths:
    """The rules that depend on the length alone, in one sub-array."""

    def __init__(self, plant, sub):
        self.plant, self.sub = plant, sub
        self.speeds = functools.cache(self._speeds)

    def most(self):
        smallest = min(field["modules"] for field in self.sub["fields"])
        return min(smallest, int(1500.0 // self.plant["module"]["v_oc_v"]))

    def fields_of(self, pump_set):
        return [field for field in self.sub["fields"] if pump_set["name"] in field["sets"]]

    def modules_of(self, pump_set):
        return sum(field["modules"] for field in self.fields_of(pump_set))

    def _speeds(self, name):
        pump_set = next(s for s in self.sub["sets"] if s["name"] == name)
        return Speeds(self.plant, pump_set, self.modules_of(pump_set))

    def hz(self, name, series, parallel):
        return self.speeds(name).hz(series, parallel)

    def least_hz(self, name):
        return self.speeds(name).pumps.start["hz"]

    def by_voltage(self, series):
        """(rule, device, value, limit, keeps) of the length."""
        plant, inverters, sets = self.plant, self.sub["inverters"], self.sub["sets"]
        cold_v, hot_v = series * plant["cold_open_v"], series * plant["hot_max_power_v"]
        cold_mp_v, start_v = series * plant["cold_max_power_v"], series * plant["hot_open_v"]
        of_module = {"name": "module", "most_v": plant["module"]["system_voltage_v"]}
        drives = [s["drive"] | s for s in sets]
        at_most = [
            ("cold-voltage-on-drive", cold_v, drives, "greatest_dc_v"),
            ("cold-voltage-on-inverter", cold_v, inverters, "greatest_dc_v"),
            ("cold-voltage-of-module", cold_v, [of_module], "most_v"),
            ("mppt-ceiling", cold_mp_v, inverters, "mppt_max_v"),
        ]
        at_least = [
            ("mppt-floor", hot_v, inverters, "mppt_min_v"),
            ("drive-start", start_v, drives, "start_dc_v"),
        ]
        found = []
        for sign, rules in ((1.0, at_most), (-1.0, at_least)):
            for rule, value, devices, key in rules:
                for device in devices:
                    limit = device.get(key)
                    if limit is not None:
                        keeps = sign * value <= sign * limit
                        found.append((rule, device["name"], value, limit, keeps))
        return found

    def by_speed(self, series):
        """The same for the frequency with all strings that may go to a drive."""
        found = []
        for pump_set in self.sub["sets"]:
            name = pump_set["name"]
            strings = sum(made_strings(field, series) for field in self.fields_of(pump_set))
            hz, least_hz = self.hz(name, series, strings), self.least_hz(name)
            useful_hz = USEFUL_SPEED * self.speeds(name).top_hz()
            found.append(("pump-speed", name, hz, least_hz, hz >= least_hz))
            found.append(("useful-speed", name, hz, useful_hz, hz >= useful_hz))
        return found

    def judged(self, series):
        rows = self.by_voltage(series) + self.by_speed(series)
        return sorted(rows, key=lambda row: BY_LENGTH.index(row[0]))

    def allowed(self, series):
        return all(keeps for rule, *_, keeps in self.by_voltage(series) if rule in FORBID_A_LENGTH)


class Layout:
    """Strings of one length, distributed: `shares` has, for each field, strings by pump set."""

    def __init__(self, lengths, series, per_input, shares):
        self.lengths, self.series, self.per_input = lengths, series, per_input
        self.plant, self.sub = lengths.plant, lengths.sub
        fields = self.sub["fields"]
        self.fields = list(zip(fields, shares, (made_strings(f, series) for f in fields)))
        self.on_drive = {
            s["name"]: sum(share.get(s["name"], 0) for share in shares) for s in self.sub["sets"]
        }
        self.fuses = {
            name: self.fuse(strings) if strings else 0 for name, strings in self.on_drive.items()
        }

    def fuse(self, strings):
        module = self.plant["module"]
        return fuse_a(strings, module["i_sc_a"], module["greatest_fuse_a"])

    def string_kw(self):
        module = self.plant["module"]
        return self.series * module["v_mp_v"] * module["i_mp_a"] / 1000.0

    def idle(self, share, made):
        return made - sum(share.values())

    def hz(self, name):
        return self.lengths.hz(name, self.series, self.on_drive[name])

    def used_inputs(self, inverter):
        """Inputs of an inverter: those of each field's strings to each drive, and to none."""
        return sum(
            inputs(strings, self.per_input)
            for field, share, made in self.fields
            if field["inverter"] == inverter
            for strings in (*share.values(), self.idle(share, made))
        )

    def poles(self):
        """2 poles for each input whose strings go to a drive."""
        return 2 * sum(
            inputs(strings, self.per_input)
            for field, share, _ in self.fields
            if field["inverter"]
            for strings in share.values()
        )

    def broken(self):
        found = set()
        for pump_set in self.sub["sets"]:
            found |= self.broken_on_drive(pump_set)
        for inverter in self.sub["inverters"]:
            found |= self.broken_on_inverter(inverter)
        return sorted(found, key=BY_LAYOUT.index)

    def broken_on_drive(self, pump_set):
        name, sheet = pump_set["name"], pump_set["drive"]
        strings, i_sc_a = self.on_drive[name], self.plant["module"]["i_sc_a"]
        if strings == 0:
            return {"pump-speed"}
        breaks = {
            "pump-speed": self.hz(name) < self.lengths.least_hz(name),
            "short-circuit-on-drive": exceeds(
                1.25 * strings * i_sc_a, sheet.get("dc_short_circuit_a")
            ),
            "power-on-drive": exceeds(
                strings * self.string_kw(), sheet.get("greatest_dc_power_kw")
            ),
            "fuse-on-drive": self.fuses[name] is None,
        }
        return {rule for rule, broken in breaks.items() if broken}

    def broken_on_inverter(self, inverter):
        i_sc_a, per_input = self.plant["module"]["i_sc_a"], self.per_input
        strings = sum(made for f, _, made in self.fields if f["inverter"] == inverter["name"])
        used = self.used_inputs(inverter["name"])
        breaks = {
            "strings-on-input": exceeds(per_input, inverter.get("strings_per_input")),
            "inputs": exceeds(used, inverter.get("mppt_inputs")),
            "short-circuit-on-input": exceeds(
                1.25 * per_input * i_sc_a, inverter.get("input_short_circuit_a")
            ),
            "power-on-inverter": exceeds(
                strings * self.string_kw(), inverter.get("greatest_dc_power_kw")
            ),
            "fuse-on-inverter": self.fuse(per_input) is None,
        }
        return {rule for rule, broken in breaks.items() if broken}

    def row(self):
        broken, names = self.broken(), list(self.on_drive)
        idle = sum(self.idle(share, made) for _, share, made in self.fields)
        hz = (f"{n}:{digits(self.hz(n)) if self.on_drive[n] else ''}" for n in names)
        fuses = ((n, "-" if self.fuses[n] is None else self.fuses[n]) for n in names)
        return [
            self.plant["name"], self.sub["name"], self.series, self.per_input,
            "|".join(self.share_text(*field) for field in self.fields),
            int(not broken), " ".join(broken), ";".join(hz), self.poles(),
            digits(idle * self.string_kw()), ";".join(f"{n}:{a}" for n, a in fuses),
        ]  # fmt: skip

    def share_text(self, field, share, made):
        parts = [*share.items(), ("idle", self.idle(share, made))]
        return f"{field['plane']}>" + ";".join(f"{name}:{strings}" for name, strings in parts)


def shares_of(field, series):
    """Every way to give numbers of a field's strings to its drives."""
    made = made_strings(field, series)
    counts = itertools.product(range(made + 1), repeat=len(field["sets"]))
    return [dict(zip(field["sets"], c)) for c in counts if sum(c) <= made]


def layouts(lengths, series):
    """Every layout of a length; strings share inputs by 1, 2, … up to what fits on one."""
    fit = max((i["strings_per_input"] for i in lengths.sub["inverters"]), default=1)
    choices = [shares_of(field, series) for field in lengths.sub["fields"]]
    for per_input in range(1, fit + 1):
        for shares in itertools.product(*choices):
            yield Layout(lengths, series, per_input, shares)
