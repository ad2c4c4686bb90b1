# Invented data. No real place, maker or product.
"""Make outages.csv: a rotating timetable of midday and evening outages with irregular minutes.

Usage: python make_outages.py   (numpy only; the same seed gives the same bytes)
"""

import sys
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "data" / "made"))

from outages import write  # noqa: E402

SEED = 20250
YEAR = 2025
# Four groups of a district take turns, one day each: (start hour, hours) of the day's blocks.
ROTATION = [
    [(9, 4), (17, 4)],
    [(10, 4), (18, 4)],
    [(11, 4), (19, 4)],
    [(12, 4), (20, 4)],
]
SPARED = 0.05  # share of the announced blocks that the utility does not use
START_MIN = (-20, 26)  # minutes by which the switch is early or late
LENGTH_MIN = (-45, 66)  # minutes by which the block is shorter or longer


def main() -> None:
    rng = np.random.default_rng(SEED)
    first, after = datetime(YEAR, 1, 1), datetime(YEAR + 1, 1, 1)
    blocks: list[tuple[datetime, datetime]] = []
    for day in range((after - first).days):
        # The rotation shifts by one day a month, so that no weekday keeps its slot.
        turn = (day + day // 30) % len(ROTATION)
        for hour, hours in ROTATION[turn]:
            spared = rng.random() < SPARED
            late, longer = int(rng.integers(*START_MIN)), int(rng.integers(*LENGTH_MIN))
            start = first + timedelta(days=day, hours=hour, minutes=late)
            end = start + timedelta(hours=hours, minutes=longer)
            if not spared:
                blocks.append((start, min(end, after - timedelta(minutes=1))))
    assert all(a[1] < b[0] for a, b in zip(blocks, blocks[1:])), "blocks must not touch"

    write(HERE / "outages.csv", Path(__file__).name, blocks, first, after)


if __name__ == "__main__":
    main()
