# Invented data. No real place, maker or product.
"""Make outages.csv: announced morning, afternoon and night outages, line faults, and storms in the rains.

Usage: python make_outages.py   (numpy only; the same seed gives the same bytes)
"""

import sys
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "data" / "made"))

from outages import Block, write  # noqa: E402

SEED = 31873
YEAR = 2025
# A timetable of three days, one line per day: (start hour, hours) of the announced blocks.
TIMETABLE = [
    [(6, 5)],
    [(11, 5), (19, 3)],
    [(1, 3), (14, 5)],
]
SPARED = 0.06  # share of the announced blocks that the utility does not use
START_MIN = (-15, 31)  # minutes by which the switch is early or late
LENGTH_MIN = (-40, 71)  # minutes by which the block is shorter or longer
FAULTS_PER_DAY, FAULT_MEAN_MIN = 0.9, 35  # the long line trips and is patrolled
STORMS_PER_MONTH = [3, 3, 2, 0, 0, 0, 0, 0, 0, 0, 1, 2]
STORM_H = (8, 50)  # until the poles are repaired



def announced(rng: np.random.Generator, first: datetime, days: int) -> list[Block]:
    blocks = []
    for day in range(days):
        for hour, hours in TIMETABLE[day % len(TIMETABLE)]:
            spared = rng.random() < SPARED
            late, longer = int(rng.integers(*START_MIN)), int(rng.integers(*LENGTH_MIN))
            start = first + timedelta(days=day, hours=hour, minutes=late)
            if not spared:
                blocks.append((start, start + timedelta(hours=hours, minutes=longer)))
    return blocks


def line_faults(rng: np.random.Generator, first: datetime, days: int) -> list[Block]:
    blocks = []
    for day in range(days):
        for _ in range(int(rng.poisson(FAULTS_PER_DAY))):
            start = first + timedelta(days=day, minutes=int(rng.integers(0, 1440)))
            blocks.append((start, start + timedelta(minutes=1 + int(rng.exponential(FAULT_MEAN_MIN)))))
    return blocks


def storms(rng: np.random.Generator) -> list[Block]:
    blocks = []
    for month, count in enumerate(STORMS_PER_MONTH, start=1):
        for _ in range(count):
            start = datetime(YEAR, month, 1) + timedelta(minutes=int(rng.integers(0, 27 * 1440)))
            blocks.append((start, start + timedelta(minutes=int(rng.integers(60 * STORM_H[0], 60 * STORM_H[1])))))
    return blocks


def merged(blocks: list[Block], after: datetime) -> list[Block]:
    """In order; outages that overlap or are within a minute are joined; cut at the end of the year."""
    out: list[Block] = []
    for start, end in sorted(blocks):
        end = min(end, after - timedelta(minutes=1))
        if out and start <= out[-1][1] + timedelta(minutes=1):
            out[-1] = (out[-1][0], max(out[-1][1], end))
        elif start < end:
            out.append((start, end))
    return out


def main() -> None:
    rng = np.random.default_rng(SEED)
    first, after = datetime(YEAR, 1, 1), datetime(YEAR + 1, 1, 1)
    days = (after - first).days
    blocks = merged(announced(rng, first, days) + line_faults(rng, first, days) + storms(rng), after)

    write(HERE / "outages.csv", Path(__file__).name, blocks, first, after)


if __name__ == "__main__":
    main()
