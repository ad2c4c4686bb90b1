"""Energy at maximum power of one plane per station, by month, at a step of 1 h."""

import numpy as np
import pandas as pd

import common

TILT_DEG, AZIMUTH_DEG, ALBEDO = 30.0, 180.0, 0.2
IN_SERIES, STRINGS = 19, 5
MISMATCH, LIGHT_INDUCED, SOILING = 0.01, 0.015, 0.03


def main():
    fitted = common.fit_module()
    rows = []
    for key in common.STATIONS:
        station = common.read_station(key)
        sky = common.sun(station, 3600)
        total, after = common.plane(
            sky, station["ghi"], station["dni"], station["dhi"], TILT_DEG, AZIMUTH_DEG, ALBEDO
        )
        cell_c = common.faiman_cell_c(station["air_c"], total, station["wind_m_s"])
        power_w = common.maximum_power(fitted, after * (1.0 - SOILING), cell_c)[2]
        power_w = power_w * IN_SERIES * STRINGS * (1.0 - MISMATCH) * (1.0 - LIGHT_INDUCED)
        hours = pd.date_range(f"{common.YEAR}-01-01", periods=8760, freq="h")
        for month in range(1, 13):
            of_month = hours.month == month
            sums = [np.sum(v[of_month]) / 1000.0 for v in (total, after, power_w)]
            rows.append([key, month, *sums])
        rows.append([key, "year", *(np.sum(v) / 1000.0 for v in (total, after, power_w))])
    columns = ["station", "month", "plane_kwh_m2", "plane_after_reflection_kwh_m2", "dc_kwh"]
    head = common.made_by("dc_year.py", "pvlib", "scipy", "numpy", "pandas")
    common.write_csv("dc_year.csv", head, columns, rows)


if __name__ == "__main__":
    main()
