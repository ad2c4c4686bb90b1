# Invented data. No real place, maker or product.
"""Make weather.csv: a plausible hourly year of sun, air temperature and wind for a watering place in a dry lowland.

Usage: python make_weather.py   (how it is made stands in data/made/weather.py)
"""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "data" / "made"))

from weather import Place, write  # noqa: E402

# Rains in April and May and a little in November; dust with the winds of the dry months.
PLACE = Place(
    name="TAMARIND POST",
    seed=39363,
    latitude_deg=3.9,
    longitude_deg=36.3,
    altitude_m=430.0,
    utc_offset_h=3,
    year=2025,
    aerosol_700nm=[0.17, 0.19, 0.19, 0.16, 0.15, 0.18, 0.20, 0.19, 0.17, 0.15, 0.14, 0.15],
    water_vapour_cm=[2.8, 2.9, 3.4, 4.2, 4.1, 3.4, 3.2, 3.1, 3.2, 3.7, 3.9, 3.2],
    clearness_mean=[0.95, 0.95, 0.90, 0.82, 0.85, 0.90, 0.88, 0.90, 0.93, 0.90, 0.86, 0.92],
    clearness_spread=[0.05, 0.05, 0.08, 0.13, 0.12, 0.08, 0.09, 0.08, 0.06, 0.09, 0.12, 0.07],
    air_mean_c=[29.3, 30.2, 30.6, 29.9, 29.6, 29.0, 28.4, 28.8, 29.6, 30.0, 29.2, 28.9],
    air_swing_c=[6.2, 6.3, 5.8, 4.8, 4.7, 5.0, 4.9, 5.2, 5.6, 5.4, 5.2, 5.8],
    wind_mean_m_s=[3.8, 4.0, 3.9, 3.3, 3.4, 3.9, 4.1, 4.2, 4.3, 3.9, 3.4, 3.6],
    air_range_c=(18.0, 41.0),
    wind_greatest_m_s=11.0,
)

if __name__ == "__main__":
    write(PLACE, HERE)
