"""Makes every reference file again: `python refresh.py` in an environment with requirements.txt."""

import runpy
import sys
from pathlib import Path

SCRIPTS = [
    "sky", "sky_options", "module", "dc_year", "friction", "cash", "epanet_duty",
    "stations", "shade", "clouds", "dual_mode_plant", "tight_plant", "pair_plant", "rivals_plant",
    "rules_plant", "devices_plant", "dual_mode_year", "strings",
]  # fmt: skip


def main():
    folder = Path(__file__).resolve().parent
    sys.path.insert(0, str(folder))
    for name in SCRIPTS:
        print(name, file=sys.stderr)
        runpy.run_path(str(folder / f"{name}.py"), run_name="__main__")


if __name__ == "__main__":
    main()
