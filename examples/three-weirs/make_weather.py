# Invented data. No real place, maker or product.
"""Make weather.csv: a plausible hourly year of sun, air temperature and wind for an estate on a highland river.

Usage: python make_weather.py   (how it is made stands in data/made/weather.py)
"""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "data" / "made"))

from weather import Place, write  # noqa: E402

# Rains from November to April; smoke of burning grass from August to October.
PLACE = Place(
    name="THREE WEIRS",
    seed=18747,
    latitude_deg=-18.7,
    longitude_deg=47.3,
    altitude_m=1240.0,
    utc_offset_h=3,
    year=2025,
    aerosol_700nm=[0.09, 0.08, 0.08, 0.07, 0.07, 0.07, 0.08, 0.11, 0.17, 0.19, 0.13, 0.10],
    water_vapour_cm=[3.3, 3.4, 3.1, 2.4, 1.8, 1.4, 1.3, 1.3, 1.5, 1.9, 2.5, 3.1],
    clearness_mean=[0.66, 0.65, 0.71, 0.82, 0.88, 0.87, 0.87, 0.90, 0.93, 0.89, 0.78, 0.68],
    clearness_spread=[0.19, 0.19, 0.17, 0.12, 0.09, 0.10, 0.10, 0.08, 0.06, 0.09, 0.15, 0.18],
    air_mean_c=[20.6, 20.6, 20.2, 19.2, 17.0, 15.0, 14.4, 15.0, 17.1, 19.2, 20.3, 20.7],
    air_swing_c=[4.6, 4.6, 4.8, 5.2, 5.6, 5.7, 5.6, 6.2, 6.8, 6.8, 6.0, 5.0],
    wind_mean_m_s=[2.0, 2.0, 2.1, 2.2, 2.2, 2.4, 2.6, 2.7, 2.8, 2.7, 2.3, 2.1],
    air_range_c=(3.0, 34.0),
    wind_greatest_m_s=6.0,
)

if __name__ == "__main__":
    write(PLACE, HERE)
