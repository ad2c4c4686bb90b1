"""A row's money against the reference, and the cost of its water."""

import numpy as np
import numpy_financial as npf

from year_costs import cost_lines, cost_of, upkeep_of
from year_row import Row

WS_PER_KWH = 3.6e6


def first_year(plant, row, year):
    """Charges, credit and fuel cost of the simulated year, which is year 1."""
    fixed = 12.0 * plant["tariff"]["fixed_per_month"]
    fuel = year.sum["fuel_l"] * plant["generator"]["fuel_price_per_l"] if row.generator else 0.0
    return {
        "charges": year.sum["cost"] / WS_PER_KWH + fixed,
        "credit": year.sum["credit"] / WS_PER_KWH,
        "fuel": fuel,
        "loads_charges": year.sum["loads_cost"] / WS_PER_KWH + fixed,
    }


def kept(saving, degradation, n):
    """What is left of a saving of year 1 in year n: only a positive one shrinks with the array."""
    return saving * (1.0 - degradation) ** (n - 1) if saving > 0.0 else saving


class RowMoney:
    """What one row costs, year by year; `n` counts from 1.

    With a `reference`, the row ages against it; the reference itself is made without one.
    """

    def __init__(self, plant, row, years, reference=None):
        self.plant, self.row, self.spec = plant, row, plant["money"]
        capital, upkeep, self.replacements = cost_lines(plant)
        self.year = years[row.name]
        self.capital = sum(cost_of(plant, row, line) for line in capital if row.bears(line))
        self.upkeep = sum(upkeep_of(plant, row, line) for line in upkeep if row.bears(line))
        self.first = first_year(plant, row, self.year)
        # a row that does not age is its own base: it has no saving that could shrink
        ages = row.has_array and reference is not None
        self.base = reference.first if ages else self.first

    def grown(self, name, n):
        return (1.0 + self.spec[name]) ** (n - 1)

    def aged(self, name, n, sign):
        """Year n's amount before prices grow; `sign` is -1 for the credit, else 1."""
        degradation = self.plant["array"]["yearly_degradation"]
        saving = sign * (self.base[name] - self.first[name])
        return self.base[name] - sign * kept(saving, degradation, n)

    def charges_of(self, n):
        return self.aged("charges", n, 1) * self.grown("escalation", n)

    def credit_of(self, n):
        return self.aged("credit", n, -1) * self.grown("export_credit_escalation", n)

    def fuel_of(self, n):
        """Also of a row without a generator: the fuel that its older array no longer saves."""
        escalation = self.plant.get("generator", {}).get("fuel_escalation", 0.0)
        return self.aged("fuel", n, 1) * (1.0 + escalation) ** (n - 1)

    def upkeep_of(self, n):
        total = self.upkeep
        if self.row.generator:
            hours = self.year.sum["generator_s"] / 3600.0
            total += hours * self.plant["generator"]["upkeep_per_hour"]
        return total * self.grown("inflation", n)

    def running_of(self, n):
        return self.charges_of(n) - self.credit_of(n) + self.upkeep_of(n) + self.fuel_of(n)

    def missing_of(self, n):
        """The value of the water and the loads that the row does not serve; it does not shrink."""
        s = self.year.sum
        water = self.spec.get("value_of_lost_water_per_m3", 0.0)
        load = self.spec.get("value_of_lost_load_per_kwh", 0.0)
        missing = water * (s["demand_m3"] - s["delivered_m3"])
        return (missing + load * s["load_unserved"] / WS_PER_KWH) * self.grown("inflation", n)

    def replaced_in(self, n):
        if n >= self.spec["years"]:
            return 0.0
        due = sum(
            cost_of(self.plant, self.row, line)
            for line in self.replacements
            if self.row.bears(line) and n % line["every_years"] == 0
        )
        return due * self.grown("inflation", n)


def smallest_rate(flows):
    """The rate at which the present value is zero; of several the smallest not negative."""
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
    reference = RowMoney(plant, Row(spec["reference"]), years)
    own = reference
    if row.name != spec["reference"]:
        own = RowMoney(plant, row, years, reference)
    horizon = range(1, spec["years"] + 1)
    saved = [
        reference.running_of(n) - own.running_of(n) + reference.missing_of(n) - own.missing_of(n)
        for n in horizon
    ]
    more = own.capital - reference.capital
    flows = [-more] + [
        saved[n - 1] + reference.replaced_in(n) - own.replaced_in(n) for n in horizon
    ]
    costs = [own.capital] + [
        own.running_of(n)
        + own.replaced_in(n)
        - own.first["loads_charges"] * own.grown("escalation", n)
        for n in horizon
    ]
    delivered = [0.0] + [own.year.sum["delivered_m3"]] * spec["years"]
    rate = spec["discount"]
    return {
        "capital": own.capital,
        "first_year_bill": own.first["charges"] - own.first["credit"],
        "payback_years": max(more, 0.0) / saved[0] if saved[0] > 0.0 else None,
        "npv": float(npf.npv(rate, flows)),
        "irr": smallest_rate(flows),
        "cost_per_m3": float(npf.npv(rate, costs) / npf.npv(rate, delivered)),
    }
