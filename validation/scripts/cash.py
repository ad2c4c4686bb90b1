"""Present value and internal rate of return of ten seeded cash flows."""

import numpy as np
import numpy_financial as npf

import common


def flows():
    random = np.random.default_rng(20250101)
    for case in range(8):
        years = int(random.integers(3, 26))
        outlay = -round(float(random.uniform(5_000, 60_000)), 2)
        saving = float(random.uniform(0.6, 3.0)) * -outlay / years
        growth = float(random.uniform(-0.02, 0.08))
        yearly = [round(saving * (1 + growth) ** n, 2) for n in range(years)]
        if case % 3 == 2:
            yearly[years // 2] -= round(0.3 * -outlay, 2)
        yield [outlay, *yearly], round(float(random.uniform(0.03, 0.15)), 4)
    yield [-1000.0, 1000.0, 0.0, 0.0], 0.05
    yield [-1000.0, -50.0, -50.0, -50.0], 0.05


def main():
    rows = []
    for listed, rate in flows():
        internal = npf.irr(listed)
        rows.append(
            [
                ";".join(f"{value:.2f}" for value in listed),
                rate,
                npf.npv(rate, listed),
                None if np.isnan(internal) else (0.0 if abs(internal) < 1e-12 else internal),
            ]
        )
    head = common.made_by("cash.py", "numpy-financial", "numpy") + "; empty irr: there is none"
    common.write_csv("cash.csv", head, ["flows", "rate", "npv", "irr"], rows)


if __name__ == "__main__":
    main()
