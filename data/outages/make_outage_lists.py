# Invented data. No real place, utility or network.
"""Make outages-15.csv, -33, -50 and -70: a year of outages with those shares of the hours, heaviest in the evening.

Usage: python make_outage_lists.py   (standard library only; the same seed gives the same bytes)

Outages begin on days and at hours drawn by weight (the evening likeliest, the small hours least; more in six of the
months), last one to five hours and end at minutes that no timetable knows. At high shares they run into each other. At
the end one outage after another is shortened or lengthened by a minute until the share is met.
"""

import random
from datetime import datetime, timedelta
from pathlib import Path

SEED = 2025
SHARES = [15, 33, 50, 70]  # per cent of the hours
FIRST = datetime(2025, 1, 1)
YEAR_MIN = 365 * 24 * 60
# Weight of each civil hour, from 00:00 on, as the start of an outage.
HOUR_WEIGHT = [1, 1, 1, 1, 1, 3, 6, 6, 5, 5, 5, 5, 5, 5, 5, 6, 8, 14, 18, 18, 14, 8, 4, 2]
HEAVY_MONTHS = (6, 7, 8, 10, 11, 12)
HEAVY_WEIGHT = 1.25  # of a day in them
LENGTH_MIN = (60, 300)
LEAST_UP_MIN = 20  # the grid is back for at least this long


def draw(rng: random.Random, share_pct: int) -> list[bool]:
    """For every minute of the year, whether the grid is down."""
    down = [False] * YEAR_MIN
    wanted = YEAR_MIN * share_pct // 100
    months = [(FIRST + timedelta(days=day)).month for day in range(365)]
    day_weight = [HEAVY_WEIGHT if month in HEAVY_MONTHS else 1.0 for month in months]
    while wanted - sum(down) > LENGTH_MIN[1]:
        missing = wanted - sum(down)
        for _ in range(max(1, missing // (2 * LENGTH_MIN[1]))):
            day = rng.choices(range(365), day_weight)[0]
            begin = day * 1440 + rng.choices(range(24), HOUR_WEIGHT)[0] * 60 + rng.randrange(60)
            end = min(begin + rng.randint(*LENGTH_MIN), YEAR_MIN)
            around = down[max(0, begin - LEAST_UP_MIN) : end + LEAST_UP_MIN]
            if not any(around):
                down[begin:end] = [True] * (end - begin)
            elif share_pct >= 50 and rng.random() < 0.5:
                # There is little time left at high shares.
                down[begin:end] = [True] * (end - begin)
    return down


def intervals(down: list[bool]) -> list[list[int]]:
    """Start and end of every outage; returns of the grid shorter than LEAST_UP_MIN are left out."""
    out: list[list[int]] = []
    for minute, is_down in enumerate(down):
        if not is_down:
            continue
        if out and minute - out[-1][1] < LEAST_UP_MIN:
            out[-1][1] = minute + 1
        else:
            out.append([minute, minute + 1])
    return out


def fit(rng: random.Random, found: list[list[int]], share_pct: int) -> None:
    """Shortens or lengthens outages minute by minute until the share is met."""
    wanted = YEAR_MIN * share_pct // 100
    off = sum(end - begin for begin, end in found) - wanted
    order = list(range(len(found) - 1))
    while off:
        rng.shuffle(order)
        for i in order:
            begin, end = found[i]
            if off > 0 and end - begin > 30:
                found[i][1], off = end - 1, off - 1
            elif off < 0 and found[i + 1][0] - end > LEAST_UP_MIN:
                found[i][1], off = end + 1, off + 1
            if not off:
                return


def text(minute: int) -> str:
    return f"{FIRST + timedelta(minutes=minute):%Y-%m-%dT%H:%M}"


def main() -> None:
    for share_pct in SHARES:
        rng = random.Random(SEED + share_pct)
        found = intervals(draw(rng, share_pct))
        fit(rng, found, share_pct)
        lines = [
            "# Invented data. No real place, utility or network. Local civil time of 2025, heaviest in the evening;",
            f"# the grid is down for {share_pct}% of the hours. Made by make_outage_lists.py.",
            "start,end",
            *(f"{text(begin)},{text(end)}" for begin, end in found),
        ]
        file = Path(__file__).with_name(f"outages-{share_pct}.csv")
        file.write_text("\n".join(lines) + "\n", newline="\n")
        lengths = [end - begin for begin, end in found]
        evening = sum(1 for b, e in found for m in range(b, e) if 17 <= m // 60 % 24 < 22)
        print(
            f"{file.name}: {len(found)} outages, {100 * sum(lengths) / YEAR_MIN:.3f}% of the hours, "
            f"{min(lengths)} to {max(lengths)} min, {100 * evening / sum(lengths):.1f}% of it from 17:00 to 22:00"
        )


if __name__ == "__main__":
    main()
