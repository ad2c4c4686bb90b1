# Invented data. No real place, maker or product.
"""Write a made list of outages as the examples have it: start and end in local civil time."""

from datetime import datetime
from pathlib import Path

Block = tuple[datetime, datetime]


def write(file: Path, maker: str, blocks: list[Block], first: datetime, after: datetime) -> None:
    """Writes the list and prints its count, its hours and their share of the year."""
    hours_off = sum((end - start).total_seconds() for start, end in blocks) / 3600
    hours_year = (after - first).total_seconds() / 3600
    lines = [
        f"# Invented data. No real place, maker or product. Local civil time; made by {maker}.",
        "start,end",
        *(f"{start:%Y-%m-%dT%H:%M},{end:%Y-%m-%dT%H:%M}" for start, end in blocks),
    ]
    file.write_text("\n".join(lines) + "\n", newline="\n")
    print(f"{len(blocks)} outages, {hours_off:.3f} h, {100 * hours_off / hours_year:.3f} % of the year")
