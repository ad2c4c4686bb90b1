# Invented data. No real place, maker or product.
"""Make outages.csv: a rotating timetable of midday and evening outages with irregular minutes.

Usage: python make_outages.py   (numpy only; the same seed gives the same bytes)
"""

from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

SEED = 20250
YEAR = 2025
# Four groups of a district take turns, a day each: (start hour, hours) of the day's blocks.
ROTATION = [
    [(9, 4), (17, 4)],
    [(10, 4), (18, 4)],
    [(11, 4), (19, 4)],
    [(12, 4), (20, 4)],
]
SPARED = 0.05  # share of the announced blocks that the utility does not use
START_MIN = (-20, 26)  # the switch is late or early by so many minutes
LENGTH_MIN = (-45, 66)  # and the block shorter or longer by so many


def main() -> None:
    rng = np.random.default_rng(SEED)
    first, after = datetime(YEAR, 1, 1), datetime(YEAR + 1, 1, 1)
    blocks: list[tuple[datetime, datetime]] = []
    for day in range((after - first).days):
        # The rotation slips by one day a month, so that no weekday keeps its slot.
        turn = (day + day // 30) % len(ROTATION)
        for hour, hours in ROTATION[turn]:
            spared = rng.random() < SPARED
            late, longer = int(rng.integers(*START_MIN)), int(rng.integers(*LENGTH_MIN))
            start = first + timedelta(days=day, hours=hour, minutes=late)
            end = start + timedelta(hours=hours, minutes=longer)
            if not spared:
                blocks.append((start, min(end, after - timedelta(minutes=1))))
    assert all(a[1] < b[0] for a, b in zip(blocks, blocks[1:])), "blocks must not touch"

    hours_off = sum((end - start).total_seconds() for start, end in blocks) / 3600
    hours_year = (after - first).total_seconds() / 3600
    lines = [
        "# Invented data. No real place, maker or product. Local civil time; made by make_outages.py.",
        "start,end",
        *(f"{start:%Y-%m-%dT%H:%M},{end:%Y-%m-%dT%H:%M}" for start, end in blocks),
    ]
    Path(__file__).with_name("outages.csv").write_text("\n".join(lines) + "\n", newline="\n")
    print(f"{len(blocks)} outages, {hours_off:.3f} h, {100 * hours_off / hours_year:.3f} % of the year")


if __name__ == "__main__":
    main()
