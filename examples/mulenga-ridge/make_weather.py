# Invented data. No real place, maker or product.
"""Make weather.csv: a plausible hourly year of sun, air temperature and wind for a highland farm.

Usage: python make_weather.py   (data/made/weather.py says how it is made)
"""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "data" / "made"))

from weather import Place, write  # noqa: E402

# Rains from November to March; smoke haze from August to October.
PLACE = Place(
    name="MULENGA RIDGE",
    seed=15628,
    latitude_deg=-15.6,
    longitude_deg=28.1,
    altitude_m=1150.0,
    utc_offset_h=2,
    year=2025,
    aerosol_700nm=[0.10, 0.09, 0.08, 0.08, 0.08, 0.09, 0.11, 0.16, 0.22, 0.20, 0.13, 0.10],
    water_vapour_cm=[3.6, 3.6, 3.2, 2.4, 1.7, 1.3, 1.2, 1.3, 1.6, 2.2, 3.0, 3.5],
    clearness_mean=[0.70, 0.71, 0.79, 0.90, 0.95, 0.95, 0.96, 0.96, 0.95, 0.91, 0.80, 0.70],
    clearness_spread=[0.17, 0.17, 0.14, 0.08, 0.05, 0.05, 0.04, 0.04, 0.05, 0.08, 0.14, 0.17],
    air_mean_c=[21.8, 21.7, 21.4, 20.7, 19.3, 18.2, 18.1, 20.0, 22.8, 24.6, 23.6, 22.2],
    air_swing_c=[4.2, 4.2, 4.6, 5.0, 5.0, 4.8, 4.9, 5.6, 6.2, 6.0, 5.2, 4.3],
    wind_mean_m_s=[1.9, 1.8, 1.9, 2.1, 2.2, 2.3, 2.5, 2.8, 3.0, 2.9, 2.4, 2.0],
    air_range_c=(12.0, 32.0),
    wind_greatest_m_s=6.0,
)

if __name__ == "__main__":
    write(PLACE, HERE)
