"""A row's money against the reference, and the cost of its water."""

import numpy as np
import numpy_financial as npf

from year_row import Row

WS_PER_KWH = 3.6e6


def cost_lines(plant):
    """(capital, upkeep per year, replacements) as lists of lines that name who bears them."""
    spec = plant["money"]
    if isinstance(spec["capital"], list):
        return spec["capital"], spec["upkeep"], spec["replacement"]
    capital = [
        {"cost": cost, "arrangements": [name]}
        for name, items in spec["capital"].items()
        for _, cost in items
    ]
    upkeep = [
        {"cost": cost, "arrangements": [name]} for name, cost in spec["upkeep_per_year"].items()
    ]
    return capital, upkeep, []


def first_bill(plant, year):
    credit = year.sum["credit"] / WS_PER_KWH
    return year.sum["cost"] / WS_PER_KWH + 12.0 * plant["tariff"]["fixed_per_month"] - credit


class RowMoney:
    """What one row costs, year by year; `n` counts from 1."""

    def __init__(self, plant, row, years):
        self.plant, self.row, self.spec = plant, row, plant["money"]
        capital, upkeep, self.replacements = cost_lines(plant)
        self.year = years[row.name]
        self.capital = sum(line["cost"] for line in capital if row.bears(line))
        self.upkeep = sum(line["cost"] for line in upkeep if row.bears(line))
        self.bill = first_bill(plant, self.year)
        self.grid_only_bill = first_bill(plant, years["grid-only"])
        self.loads_bill = (
            self.year.sum["loads_cost"] / WS_PER_KWH + 12.0 * plant["tariff"]["fixed_per_month"]
        )

    def grown(self, name, n):
        return (1.0 + self.spec[name]) ** (n - 1)

    def bill_of(self, n):
        """The saving against grid-only fades with the array."""
        fade = self.plant["array"]["yearly_degradation"] if self.row.has_array else 0.0
        kept = (self.grid_only_bill - self.bill) * (1.0 - fade) ** (n - 1)
        return (self.grid_only_bill - kept) * self.grown("escalation", n)

    def upkeep_of(self, n):
        total = self.upkeep
        if self.row.generator:
            hours = self.year.sum["generator_s"] / 3600.0
            total += hours * self.plant["generator"]["upkeep_per_hour"]
        return total * self.grown("inflation", n)

    def fuel_of(self, n):
        if not self.row.generator:
            return 0.0
        spec = self.plant["generator"]
        first = self.year.sum["fuel_l"] * spec["fuel_price_per_l"]
        return first * (1.0 + spec["fuel_escalation"]) ** (n - 1)

    def running_of(self, n):
        return self.bill_of(n) + self.upkeep_of(n) + self.fuel_of(n)

    def replaced_in(self, n):
        if n >= self.spec["years"]:
            return 0.0
        due = sum(
            line["cost"]
            for line in self.replacements
            if self.row.bears(line) and n % line["every_years"] == 0
        )
        return due * self.grown("inflation", n)


def smallest_rate(flows):
    """The rate at which the present value is nil; of several the smallest not negative."""
    if not min(flows) < 0.0 < max(flows):
        return None
    # in q = 1/(1 + rate) the present value is a polynomial
    roots = np.roots(flows[::-1])
    real = [root.real for root in roots if abs(root.imag) < 1e-9 and root.real > 1e-9]
    rates = sorted(1.0 / root - 1.0 for root in real)
    if not rates:
        return None
    fair = [rate for rate in rates if rate >= 0.0]
    rate = fair[0] if fair else rates[-1]
    known = npf.irr(flows)
    if abs(rate - known) < 1e-7:
        rate = float(known)
    assert abs(npf.npv(rate, flows)) < 1e-6 * max(abs(flow) for flow in flows)
    return rate


def money(plant, row, years):
    spec = plant["money"]
    own, reference = (RowMoney(plant, r, years) for r in (row, Row(spec["reference"])))
    horizon = range(1, spec["years"] + 1)
    saved = [reference.running_of(n) - own.running_of(n) for n in horizon]
    more = own.capital - reference.capital
    flows = [-more] + [
        saved[n - 1] + reference.replaced_in(n) - own.replaced_in(n) for n in horizon
    ]
    costs = [own.capital] + [
        own.running_of(n) + own.replaced_in(n) - own.loads_bill * own.grown("escalation", n)
        for n in horizon
    ]
    delivered = [0.0] + [own.year.sum["delivered_m3"]] * spec["years"]
    rate = spec["discount"]
    return {
        "capital": own.capital,
        "first_year_bill": own.bill,
        "payback_years": max(more, 0.0) / saved[0] if saved[0] > 0.0 else None,
        "npv": float(npf.npv(rate, flows)),
        "irr": smallest_rate(flows),
        "cost_per_m3": float(npf.npv(rate, costs) / npf.npv(rate, delivered)),
    }
